// Tables as text (RFC 4180), written with commas and read with commas, semicolons or tabs.

import { parsed, unguarded, write } from "../delimited.js";

/** Rows of cells as a table. */
export const written = (rows) =>
  write(
    rows.map((row) => row.map((cell) => String(cell ?? ""))),
    ",",
    "\r\n",
  );

/** The sign between cells: the one that the first line has most of. */
function separator(text) {
  const first = text.split(/\r?\n/, 1)[0].replace(/"[^"]*"/g, "");
  const count = (sign) => first.split(sign).length;
  return [",", ";", "\t"].reduce((best, sign) => (count(sign) > count(best) ? sign : best));
}

/** A table as rows, each with its cells and the line that it starts on; blank lines are left out. */
export function cells(text) {
  const { rows, open } = parsed(text, separator(text.replace(/^\ufeff/, "")));
  const filled = rows.filter(({ cells }) => cells.some((one) => one.trim() !== ""));
  return { rows: filled.map((row) => ({ ...row, cells: row.cells.map(unguarded) })), open };
}
