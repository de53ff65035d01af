// A grid to and from files: text with commas or semicolons, and workbooks of a spreadsheet.

import { exact } from "./cell.js";
import { heading } from "./columns.js";
import { textOf, write } from "./delimited.js";
import { h } from "./dom.js";
import { enter, headed, rowsIn } from "./grid-text.js";
import { isMoment, local, readMoment } from "./moment.js";

const [ZIP, COMPOUND] = ["504b0304", "d0cf11e0"]; // what packed files and workbooks of before 2007 begin with

/** Reads a file in place of the rows there are. */
export async function opened(grid, file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  const begins = [...bytes.slice(0, 4)].map((byte) => byte.toString(16).padStart(2, "0")).join("");
  if (begins === ZIP) return workbookOpened(grid, file, bytes);
  if (begins === COMPOUND) return refused(grid, file, LOCKED);
  if (/\.(xlsx?|xlsm|ods|numbers)$/i.test(file.name)) return refused(grid, file, "It is not a workbook.");
  const rows = rowsIn(grid, await textOf(file));
  if (rows.length === 0) return grid.say(`“${file.name}” is empty.`);
  return enter(grid, rows, 0, 0, `open ${file.name}`, { replace: true });
}

const LOCKED =
  "It is a workbook of an older kind, or one that is locked by a password. Save it as .xlsx without a password, or as CSV.";

const refused = (grid, file, why) =>
  grid.say(`“${file.name}” cannot be read, and nothing is changed. ${why}`);

/** Fetches what is needed for workbooks; says so where it cannot be fetched. */
async function fetched(grid, what) {
  try {
    return await what();
  } catch {
    grid.say("What workbooks need is not loaded yet, and the service cannot be reached. Try again later.");
    return undefined;
  }
}

async function workbookOpened(grid, file, bytes) {
  const reader = await fetched(grid, () => import("./workbook/read.js"));
  if (!reader) return undefined;
  let sheets;
  try {
    sheets = reader.sheetsOf(bytes).map((sheet) => ({ ...sheet, ...table(grid, sheet.rows) }));
  } catch (error) {
    if (!(error instanceof reader.Unreadable)) throw error;
    return refused(grid, file, error.message);
  }
  const known = sheets.find((sheet) => sheet.known) ?? sheets.find((sheet) => sheet.cells.length > 0);
  if (!known) return refused(grid, file, "There is nothing in its cells.");
  const others = sheets.filter((sheet) => sheet.cells.length > 0 && sheet.known === known.known);
  const use = (sheet) => {
    const left = sheets.filter((one) => one !== sheet).map((one) => `“${one.name}”`);
    const of = left.length > 0 ? [`Read from the sheet “${sheet.name}”; left out: ${left.join(", ")}.`] : [];
    const rows = sheet.cells.map((row) => row.map(({ text, number }) => number ?? text));
    const also = (columns) => [...of, ...notes(sheet.cells.slice(sheet.known ? 1 : 0), columns)];
    enter(grid, rows, 0, 0, `open ${file.name}`, { replace: true, also });
    for (const other of others.filter((one) => one !== sheet))
      grid.ask.append(grid.form.button(`Read the sheet “${other.name}” instead`, () => use(other)));
  };
  return use(known);
}

const TITLES_MOST = 20; // lines above the headings, at most

/** The table in a sheet: from its headings on, where some line of it has known ones. */
function table(grid, rows) {
  const filled = rows.filter((row) => row.some(({ text, note }) => text.trim() !== "" || note));
  const texts = (row) => Array.from(row, ({ text }) => text);
  const start = filled.slice(0, TITLES_MOST).findIndex((row) => headed(grid, texts(row)));
  return { known: start >= 0, cells: filled.slice(Math.max(0, start)) };
}

const NAMED = 3; // cells that are named before the rest is counted

/** What there is to say of cells that are not just a text or a number, in columns that are entered. */
function notes(rows, columns) {
  const found = (note) =>
    rows.flatMap((row) => row.filter((cell, i) => cell.note === note && columns.has(i)));
  const named = (cells, said) => {
    const first = cells.slice(0, NAMED).map(said);
    return cells.length > NAMED ? `${first.join(", ")} and ${cells.length - NAMED} more` : first.join(", ");
  };
  const [formulas, errors, shares] = ["formula", "error", "percent"].map(found);
  return [
    formulas.length > 0 &&
      `Left empty, as the file has a formula there without its result: ${named(formulas, ({ at }) => at)}. Open and save it in a spreadsheet once, and open it here again.`,
    errors.length > 0 &&
      `Left empty, as the file has an error there: ${named(errors, ({ at, said }) => `${at} (${said})`)}.`,
    shares.length > 0 &&
      `Taken as the percentage that is shown: ${named(shares, ({ at, text }) => `${at} as ${text}`)}.`,
  ].filter(Boolean);
}

/** Leaves of what stands below a row, by their paths with points. */
const leaves = (value, path) =>
  value === null || typeof value !== "object"
    ? [[path, value]]
    : Object.entries(value).flatMap(([step, inner]) => leaves(inner, `${path}.${step}`));

/** The list as a table: its headings, and for each entry the values with their schemas. */
function listed(grid) {
  const all = grid.layout.all(grid.entries, grid.state.named);
  const used = all.filter((column) => grid.state.shown.has(column.key));
  const below = grid.entries.map(
    (entry) =>
      new Map(
        grid.layout.rest.flatMap((member) =>
          leaves(entry?.[member] ?? undefined, member).filter(
            ([, value]) => ![undefined, null, ""].includes(value),
          ),
        ),
      ),
  );
  const paths = [...new Set(below.flatMap((leaf) => [...leaf.keys()]))];
  const bare = (value) => ({ type: typeof value === "boolean" ? "boolean" : "string" });
  return {
    headings: [...used.map((column) => heading(column, grid.units)), ...paths],
    rows: grid.entries.map((_, r) => [
      ...used.map((column) => ({ schema: column.schema, value: grid.value(r, column) })),
      ...paths.map((path) => ({ schema: bare(below[r].get(path)), value: below[r].get(path) })),
    ]),
  };
}

/** Saves the list as text with commas. */
export function saved(grid) {
  const { headings, rows } = listed(grid);
  const texts = rows.map((row) => row.map(({ schema, value }) => exact(grid.spec, schema, value)));
  handed(grid, ["\ufeff", write([headings, ...texts], ",", "\r\n")], "text/csv;charset=utf-8", "csv");
}

/** Saves the list as a workbook. */
export async function savedAsWorkbook(grid) {
  const writer = await fetched(grid, () => import("./workbook/write.js"));
  if (!writer) return;
  const { headings, rows } = listed(grid);
  const values = rows.map((row) => row.map(({ schema, value }) => valueIn(grid, schema, value)));
  const bytes = writer.workbookOf(grid.title, headings, values);
  handed(grid, [bytes], writer.WORKBOOK, "xlsx");
}

/** A value as a workbook has it: a date without its offset, unless this device's clock shows two moments so. */
function valueIn(grid, schema, value) {
  if (typeof value === "number") return value;
  const moment = schema.format === "moment" && isMoment(value ?? "") && local(value);
  const same = moment && Date.parse(readMoment(moment)) === Date.parse(value);
  return same ? { date: moment } : exact(grid.spec, schema, value);
}

function handed(grid, parts, type, ending) {
  const address = URL.createObjectURL(new Blob(parts, { type }));
  const file = `${grid.title.toLowerCase().replace(/[^a-z0-9]+/g, "-")}.${ending}`;
  h("a", { href: address, download: file }).click();
  setTimeout(() => URL.revokeObjectURL(address), 1000);
  grid.say(`Saved as ${file}.`);
}
