// A table as a workbook (Office Open XML, ISO/IEC 29500) of one sheet: texts as texts, numbers as numbers, dates as dates.

import { zipSync } from "../vendored/fflate.js";
import { daysOf, letters } from "./formats.js";

const HEAD = '<?xml version="1.0" encoding="UTF-8" standalone="yes"?>\n';
const MAIN = "http://schemas.openxmlformats.org/spreadsheetml/2006/main";
const RELATED = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
const PACKAGE = "http://schemas.openxmlformats.org/package/2006";
const TYPE = "application/vnd.openxmlformats-officedocument.spreadsheetml";

/** The styles by their places in the list of `STYLES`. */
const [HEADING, DATE, TEXT, GUARDED] = [1, 2, 3, 4];

// A text stays a text when somebody goes over it with a cursor: 49 is the format of texts, and a quote says
// that what begins like a formula is none.
const STYLES = `${HEAD}<styleSheet xmlns="${MAIN}">
<numFmts count="1"><numFmt numFmtId="164" formatCode="yyyy\\-mm\\-dd\\ hh:mm"/></numFmts>
<fonts count="2"><font><sz val="11"/><name val="Calibri"/></font><font><b/><sz val="11"/><name val="Calibri"/></font></fonts>
<fills count="2"><fill><patternFill patternType="none"/></fill><fill><patternFill patternType="gray125"/></fill></fills>
<borders count="1"><border><left/><right/><top/><bottom/><diagonal/></border></borders>
<cellStyleXfs count="1"><xf numFmtId="0" fontId="0" fillId="0" borderId="0"/></cellStyleXfs>
<cellXfs count="5">
<xf numFmtId="0" fontId="0" fillId="0" borderId="0" xfId="0"/>
<xf numFmtId="49" fontId="1" fillId="0" borderId="0" xfId="0" applyNumberFormat="1" applyFont="1"/>
<xf numFmtId="164" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>
<xf numFmtId="49" fontId="0" fillId="0" borderId="0" xfId="0" applyNumberFormat="1"/>
<xf numFmtId="49" fontId="0" fillId="0" borderId="0" xfId="0" quotePrefix="1" applyNumberFormat="1"/>
</cellXfs>
<cellStyles count="1"><cellStyle name="Normal" xfId="0" builtinId="0"/></cellStyles>
</styleSheet>`;

const NAMED = { "&": "&amp;", "<": "&lt;", ">": "&gt;", '"': "&quot;" };

/** A text as XML may have it. */
const escaped = (text) =>
  text
    .replace(/_(?=x[\dA-F]{4}_)/gi, "_x005F_")
    // biome-ignore lint/suspicious/noControlCharactersInRegex: these are what XML cannot have
    .replace(/[\u0000-\u0008\u000b\u000c\u000e-\u001f\ufffe\uffff]/g, "")
    .replace(/[&<>"]/g, (one) => NAMED[one]);

function cell(value, at, style) {
  if (value === undefined || value === null || value === "") return "";
  if (typeof value === "number") return `<c r="${at}"><v>${value}</v></c>`;
  if (value.date) return `<c r="${at}" s="${DATE}"><v>${daysOf(value.date)}</v></c>`;
  const text = String(value);
  const guarded = style === TEXT && /^[=+@-]/.test(text) ? GUARDED : style;
  return `<c r="${at}" s="${guarded}" t="inlineStr"><is><t xml:space="preserve">${escaped(text)}</t></is></c>`;
}

const WIDTHS = [9, 40]; // of a column, in letters
const OF_A_DATE = 16;

function widths(rows, count) {
  const length = (value) => (value?.date ? OF_A_DATE : String(value ?? "").length);
  return Array.from({ length: count }, (_, c) => {
    const widest = rows.reduce((most, row) => Math.max(most, length(row[c])), WIDTHS[0]);
    const width = Math.min(widest + 2, WIDTHS[1]);
    return `<col min="${c + 1}" max="${c + 1}" width="${width}" customWidth="1"/>`;
  }).join("");
}

/** A line of headings, which stays in view, and the rows below it. */
function sheet(headings, rows) {
  const line = (values, r, style) =>
    `<row r="${r}">${values.map((value, c) => cell(value, `${letters(c)}${r}`, style)).join("")}</row>`;
  return `${HEAD}<worksheet xmlns="${MAIN}">
<sheetViews><sheetView workbookViewId="0"><pane ySplit="1" topLeftCell="A2" activePane="bottomLeft" state="frozen"/></sheetView></sheetViews>
<cols>${widths([headings, ...rows], headings.length)}</cols>
<sheetData>${line(headings, 1, HEADING)}${rows.map((row, i) => line(row, i + 2, TEXT)).join("")}</sheetData>
</worksheet>`;
}

/** What a sheet may be called. */
const called = (title) => escaped(title.replace(/[[\]:*?/\\]/g, " ").slice(0, 31)) || "Sheet";

/**
 * The bytes of a workbook with one sheet. A value is a text, a number, `{ date }` by this device's clock such as
 * 2026-03-02T06:30, or nothing.
 */
export function workbookOf(title, headings, rows) {
  const relation = (id, type, target) =>
    `<Relationship Id="${id}" Type="${RELATED}/${type}" Target="${target}"/>`;
  const relations = (...list) =>
    `${HEAD}<Relationships xmlns="${PACKAGE}/relationships">${list.join("")}</Relationships>`;
  const parts = {
    "[Content_Types].xml": `${HEAD}<Types xmlns="${PACKAGE}/content-types">
<Default Extension="rels" ContentType="application/vnd.openxmlformats-package.relationships+xml"/>
<Default Extension="xml" ContentType="application/xml"/>
<Override PartName="/xl/workbook.xml" ContentType="${TYPE}.sheet.main+xml"/>
<Override PartName="/xl/worksheets/sheet1.xml" ContentType="${TYPE}.worksheet+xml"/>
<Override PartName="/xl/styles.xml" ContentType="${TYPE}.styles+xml"/>
</Types>`,
    "_rels/.rels": relations(relation("rId1", "officeDocument", "xl/workbook.xml")),
    "xl/workbook.xml": `${HEAD}<workbook xmlns="${MAIN}" xmlns:r="${RELATED}"><sheets><sheet name="${called(title)}" sheetId="1" r:id="rId1"/></sheets></workbook>`,
    "xl/_rels/workbook.xml.rels": relations(
      relation("rId1", "worksheet", "worksheets/sheet1.xml"),
      relation("rId2", "styles", "styles.xml"),
    ),
    "xl/worksheets/sheet1.xml": sheet(headings, rows),
    "xl/styles.xml": STYLES,
  };
  const letterful = new TextEncoder();
  return zipSync(
    Object.fromEntries(Object.entries(parts).map(([name, text]) => [name, letterful.encode(text)])),
  );
}

/** The type of such a file. */
export const WORKBOOK = `${TYPE}.sheet`;
