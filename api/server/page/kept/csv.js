// Tables as text (RFC 4180), written with commas and read with commas, semicolons or tabs.

const quoted = (cell) => (/[",\r\n]/.test(cell) ? `"${cell.replaceAll('"', '""')}"` : cell);

/** Rows of cells as a table. */
export const written = (rows) =>
  rows.map((row) => `${row.map((cell) => quoted(String(cell ?? ""))).join(",")}\r\n`).join("");

/** The sign between cells: the one that the first line has most of. */
function separator(text) {
  const first = text.split(/\r?\n/, 1)[0].replace(/"[^"]*"/g, "");
  const count = (sign) => first.split(sign).length;
  return [",", ";", "\t"].reduce((best, sign) => (count(sign) > count(best) ? sign : best));
}

/** A table as rows, each with its cells and the line that it starts on; blank lines are left out. */
export function cells(given) {
  const text = given.replace(/^\ufeff/, "");
  const sign = separator(text);
  const rows = [];
  let row = { line: 1, cells: [] };
  let cell = "";
  let line = 1;
  let inside = false;
  const endCell = () => {
    row.cells.push(cell);
    cell = "";
  };
  const endRow = () => {
    endCell();
    if (row.cells.some((one) => one.trim() !== "")) rows.push(row);
    row = { line, cells: [] };
  };
  for (let i = 0; i < text.length; i += 1) {
    const letter = text[i];
    if (letter === "\n") line += 1;
    if (inside) {
      if (letter !== '"') cell += letter;
      else if (text[i + 1] === '"') {
        cell += '"';
        i += 1;
      } else inside = false;
    } else if (letter === '"' && cell.trim() === "") {
      cell = "";
      inside = true;
    } else if (letter === sign) endCell();
    else if (letter === "\n") endRow();
    else if (letter !== "\r") cell += letter;
  }
  endRow();
  return { rows, open: inside };
}
