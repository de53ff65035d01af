// A workbook of a spreadsheet (Office Open XML, ISO/IEC 29500): its sheets, each cell with what it says as text.

import { unzipSync } from "../vendored/fflate.js";
import { clockText, dateText, letters, shownAs } from "./formats.js";

const MOST = 50e6; // bytes of one part when it is unpacked

/** Why a file cannot be read, in a sentence. */
export class Unreadable extends Error {}

const DAMAGED = "It is damaged, or was cut off.";
const OTHER =
  "It is not a workbook of the kind that ends in .xlsx. Save it as that or as CSV, or copy the cells and paste them here.";

/**
 * The sheets of a workbook that are not hidden: the name of each, and its rows of cells. A cell has a text, the
 * `number` that it is, and where that is not all there is to it, a note: “formula” and “error” for those that
 * say nothing, “percent” for a percentage, which is a text with its sign.
 */
export function sheetsOf(bytes) {
  const parts = partsOf(bytes);
  const root = relations(parts, "").find((one) => one.type === "officeDocument");
  if (!root || !parts[root.target]) throw new Unreadable(OTHER);
  const book = xml(parts, root.target);
  const related = relations(parts, root.target);
  const part = (type) => related.find((one) => one.type === type && parts[one.target]);
  const [strings, styles] = [part("sharedStrings"), part("styles")];
  const known = {
    since: ["1", "true"].includes(all(book, "workbookPr")[0]?.getAttribute("date1904")) ? 1904 : 1900,
    strings: strings ? all(xml(parts, strings.target), "si").map(textIn) : [],
    formats: styles ? formatsOf(xml(parts, styles.target)) : [],
  };
  const sheets = all(book, "sheet").flatMap((sheet) => {
    const id = [...sheet.attributes].find((one) => one.localName === "id" && one.prefix)?.value;
    const found = related.find((one) => one.id === id && one.type === "worksheet" && parts[one.target]);
    const hidden = (sheet.getAttribute("state") ?? "visible") !== "visible";
    return found ? [{ name: sheet.getAttribute("name"), hidden, target: found.target }] : [];
  });
  const seen = sheets.some((one) => !one.hidden) ? sheets.filter((one) => !one.hidden) : sheets;
  if (seen.length === 0) throw new Unreadable("There is no sheet in it.");
  return seen.map(({ name, target }) => ({ name, rows: rowsOf(xml(parts, target), known) }));
}

/** The parts of a workbook by their names; pictures and the like are left packed. */
function partsOf(bytes) {
  let large = false;
  const filter = ({ name, originalSize }) => {
    large ||= originalSize > MOST;
    return /\.(xml|rels)$/i.test(name) && !large;
  };
  let parts;
  try {
    parts = unzipSync(bytes, { filter });
  } catch {
    throw new Unreadable(DAMAGED);
  }
  if (large) throw new Unreadable("It is too large for a page. Save the sheet by itself, or as CSV.");
  return parts;
}

function xml(parts, path) {
  const bytes = parts[path];
  const text = new TextDecoder(bytes[0] === 0xff ? "utf-16le" : "utf-8").decode(bytes);
  const parsed = new DOMParser().parseFromString(text, "application/xml");
  if (parsed.getElementsByTagName("parsererror").length > 0) throw new Unreadable(DAMAGED);
  return parsed;
}

/** Elements by their name: the two editions of the standard have them in different namespaces. */
const all = (node, name) => [...node.getElementsByTagNameNS("*", name)];

const child = (node, name) => [...node.children].find((one) => one.localName === name);

/** What a part names, by the last word of the kind that it gives it. */
function relations(parts, path) {
  const [, folder = "", file] = /^(.*\/)?([^/]*)$/.exec(path);
  const list = `${folder}_rels/${file}.rels`;
  if (!parts[list]) return [];
  return all(xml(parts, list), "Relationship").map((one) => ({
    id: one.getAttribute("Id"),
    type: one.getAttribute("Type")?.split("/").pop(),
    target: decodeURIComponent(
      new URL(one.getAttribute("Target"), `file:///${folder}`).pathname.replace(/^\/+/, ""),
    ),
  }));
}

/** What each style shows numbers as. */
function formatsOf(styles) {
  const codes = new Map(
    all(styles, "numFmt").map((one) => [
      Number(one.getAttribute("numFmtId")),
      one.getAttribute("formatCode"),
    ]),
  );
  const [list] = all(styles, "cellXfs");
  return (list ? [...list.children] : []).map((one) => {
    const id = Number(one.getAttribute("numFmtId"));
    return shownAs(id, codes.get(id));
  });
}

/** The text of a string with its runs of letters, without the aids to pronounce it. */
const textIn = (node) =>
  all(node, "t")
    .filter((one) => one.parentNode.localName !== "rPh")
    .map((one) => one.textContent)
    .join("")
    .replace(/_x([\dA-F]{4})_/gi, (_, code) => String.fromCharCode(Number.parseInt(code, 16)));

/** The rows of a sheet down to the last one with a cell; what is not there is blank. */
function rowsOf(sheet, known) {
  const rows = [];
  let r = 0;
  for (const row of all(sheet, "row")) {
    r = Number(row.getAttribute("r") ?? r + 1);
    const cells = [];
    for (const one of row.children) {
      const column = /^[A-Z]+/.exec(one.getAttribute("r") ?? "")?.[0];
      const c = column ? columnOf(column) : cells.length;
      while (cells.length < c) cells.push({ text: "" });
      cells[c] = { ...cellOf(one, known), at: `${letters(c)}${r}` };
    }
    rows.push(cells);
  }
  return rows;
}

const columnOf = (name) => [...name].reduce((sum, one) => sum * 26 + one.charCodeAt(0) - 64, 0) - 1;

function cellOf(cell, { strings, formats, since }) {
  const type = cell.getAttribute("t") ?? "n";
  if (type === "inlineStr") return { text: textIn(cell) };
  const said = child(cell, "v")?.textContent ?? "";
  if (said === "") return { text: "", note: child(cell, "f") && type !== "str" ? "formula" : undefined };
  if (type === "s") return { text: strings[Number(said)] ?? "" };
  if (type === "b") return { text: said === "1" ? "yes" : "no" };
  if (type === "e") return { text: "", note: "error", said };
  if (type === "d") return { text: said };
  const number = Number(said);
  if (type !== "n" || !Number.isFinite(number)) return { text: said };
  return numberAs(formats[Number(cell.getAttribute("s") ?? 0)] ?? "number", number, since);
}

/** A number as its format shows it. */
function numberAs(shown, number, since) {
  if (shown === "percent") return { text: `${Number((number * 100).toPrecision(15))} %`, note: "percent" };
  // A time of day with its date before it, of which only the time is shown.
  if (shown === "date" || (shown === "time" && number >= 1)) return { text: dateText(number, since) };
  return shown === "number" ? { text: String(number), number } : { text: clockText(number) };
}
