// Tables as text: what a spreadsheet copies (tabs) and what it saves (commas or semicolons), by RFC 4180.

/** The rows of a text whose cells stand apart by `mark`; a cell in quotes may hold anything. */
export const parse = (text, mark) => parsed(text, mark).rows.map(({ cells }) => cells);

/** The same, each row with the line that it begins on, and whether a quote was never closed. */
export function parsed(text, mark) {
  const rows = [];
  let row = { line: 1, cells: [] };
  let cell = "";
  let quoted = false;
  let line = 1;
  const plain = text.replace(/^\ufeff/, "").replace(/\r\n?/g, "\n");
  for (let i = 0; i < plain.length; i += 1) {
    const letter = plain[i];
    if (letter === "\n") line += 1;
    if (quoted) {
      if (letter !== '"') cell += letter;
      else if (plain[i + 1] === '"') {
        cell += '"';
        i += 1;
      } else quoted = false;
    } else if (letter === '"' && cell === "") quoted = true;
    else if (letter === mark || letter === "\n") {
      row.cells.push(cell);
      cell = "";
      if (letter === "\n") {
        rows.push(row);
        row = { line, cells: [] };
      }
    } else cell += letter;
  }
  if (cell !== "" || row.cells.length > 0) rows.push({ ...row, cells: [...row.cells, cell] });
  return { rows, open: quoted };
}

/** What stood in a cell before `write` kept it from running as a formula. */
export const unguarded = (cell) => cell.replace(/^'(?=[=+@-])/, "");

/** Rows as text. What would run in a spreadsheet as a formula gets an apostrophe. */
export function write(rows, mark, end = "\n") {
  const cell = (text) => {
    const safe = /^[=+@-]/.test(text) && Number.isNaN(Number(text)) ? `'${text}` : text;
    return safe.includes(mark) || /["\n\r]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
  };
  return rows.map((row) => row.map(cell).join(mark) + end).join("");
}

/** What the cells of a text stand apart by: of the marks the one by which `knows` most of the first line. */
export function markOf(text, knows) {
  if (text.includes("\t")) return "\t";
  const known = (mark) => knows(parse(text, mark)[0] ?? []);
  const [first, second] = [";", ","].sort((a, b) => known(b) - known(a));
  if (known(first) > known(second)) return first;
  // Without headings: a semicolon that is in every line; a comma is a decimal sign as often.
  const lines = parse(text, ";");
  return lines[0]?.length > 1 && lines.every((line) => line.length === lines[0].length) ? ";" : "\t";
}

/** The text of a file, in whichever way a spreadsheet wrote its letters. */
export async function textOf(file) {
  const bytes = new Uint8Array(await file.arrayBuffer());
  if (bytes[0] === 0xff && bytes[1] === 0xfe) return new TextDecoder("utf-16le").decode(bytes);
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    return new TextDecoder("windows-1252").decode(bytes);
  }
}
