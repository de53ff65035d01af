// A grid to and from a spreadsheet: copying and pasting, and rows that are entered at once.

import { exact, valueFrom, wrong } from "./cell.js";
import { at, systemOf } from "./columns.js";
import { markOf, parse, write } from "./delimited.js";
import { change } from "./grid-past.js";
import { convert, either, spellings } from "./units.js";

/** Copies the block as rows with tabs; a cut empties it too. */
export function copied(grid, event) {
  const { r0, r1, c0, c1 } = grid.block;
  const rows = [];
  for (let r = r0; r <= Math.min(r1, grid.entries.length - 1); r += 1) {
    rows.push(
      grid.columns.slice(c0, c1 + 1).map((column) => exact(grid.spec, column.schema, grid.value(r, column))),
    );
  }
  if (rows.length === 0) return;
  event.clipboardData.setData("text/plain", write(rows, "\t").replace(/\n$/, ""));
  event.preventDefault();
  grid.say(`Copied ${rows.length} × ${rows[0].length} cells.`);
  if (event.type === "cut") grid.empty("cut");
}

/** Pastes what a spreadsheet copied; into a field that is being edited only where it is more than one cell. */
export function pasted(grid, event) {
  const rows = rowsIn(grid, event.clipboardData.getData("text/plain"));
  if (rows.length === 0 || (grid.editor && rows.length === 1 && rows[0].length === 1)) return;
  event.preventDefault();
  if (grid.editor) grid.editor.cancel();
  const { r0, r1, c0, c1 } = grid.block;
  // A single cell goes into each of a block.
  const single = rows.length === 1 && rows[0].length === 1;
  const body = single ? Array.from({ length: r1 - r0 + 1 }, () => Array(c1 - c0 + 1).fill(rows[0][0])) : rows;
  enter(grid, body, r0, c0, "paste");
}

/** A text as rows of cells, by whichever mark they stand apart. */
export const rowsIn = (grid, text) =>
  parse(
    text,
    markOf(text, (line) => headings(grid, line).length),
  );

/** The cells of a line that are headings, each with its place. */
const headings = (grid, line) => {
  const all = [...grid.columns, ...grid.folded];
  return line
    .map((text, i) => ({ i, text, ...(grid.layout.named(text, all) ?? under(grid, text)) }))
    .filter(({ column }) => column);
};

const under = (grid, text) => {
  const column = grid.layout.below(text);
  return column && { column };
};

/** What a line of headings says each of its columns is, or nothing when it is no such line. */
export function headed(grid, line) {
  const said = line.filter((text) => text.trim() !== "");
  const found = headings(grid, line);
  return found.length > 0 && found.length * 2 >= said.length && found.length >= Math.min(2, said.length)
    ? found
    : undefined;
}

/** What a cell says: a text, or a number of a workbook. */
const said = (cell) => String(cell ?? "").trim();

/**
 * Enters rows from a row and a column on, or by their headings; gives back how many cells cannot be read. With
 * `replace` they come in place of all rows; `also` says more of the columns that are entered, by their numbers.
 */
export function enter(grid, rows, r0, c0, what, { replace = false, also = () => [] } = {}) {
  const titled = headed(grid, rows[0].map(said));
  const body = (titled ? rows.slice(1) : rows).filter((row) => row.some((cell) => said(cell) !== ""));
  const notes = [];
  const places = (titled ?? grid.columns.slice(c0).map((column, i) => ({ i, column }))).map((place) => {
    const from = systemOf(place.column, place.unit, grid.units);
    if (!from)
      notes.push(
        `The unit “${place.unit}” of “${place.text}” is not known here: its numbers are left as they are.`,
      );
    return { ...place, from: from ?? grid.units };
  });
  const left = titled
    ? rows[0].map(said).filter((text, i) => text !== "" && !places.some((place) => place.i === i))
    : [];
  if (left.length > 0)
    notes.push(`Left out, as not known here: ${left.map((text) => `“${text}”`).join(", ")}.`);
  const over = titled ? 0 : Math.max(...body.map((row) => row.length)) - places.length;
  if (over > 0)
    notes.push(
      `${over} columns on the right had no place. Put the headings into the first line, or bring in more columns first.`,
    );
  const room = (grid.schema.maxItems ?? Infinity) - (replace ? 0 : r0);
  if (body.length > room) notes.push(`Only ${room} rows have room.`);
  const entered = body.slice(0, Math.max(0, room));
  grid.restack();
  for (const { column } of places.filter(({ column: { key } }) => titled && key)) bring(grid, column);
  change(grid, what, () => {
    if (replace) grid.form.set(grid.path, []);
    for (const [i, row] of entered.entries()) {
      const r = (replace ? 0 : r0) + i;
      // A row of another kind is told first: its cells depend on it.
      for (const place of [...places].sort((a, b) => Boolean(b.column.union) - Boolean(a.column.union)))
        cell(grid, r, place, row[place.i]);
    }
  });
  const unread = mark(grid, replace ? 0 : r0, entered.length);
  grid.goTo(replace ? 0 : r0, titled ? 0 : c0);
  grid.focus();
  notes.unshift(`${entered.length} ${entered.length === 1 ? "row" : "rows"} entered.`);
  const doubt = doubts(grid)[0];
  if (unread > 0)
    notes.push(`${unread} ${unread === 1 ? "cell" : "cells"} cannot be read: see below the rows.`);
  notes.push(...also(new Set(places.map((place) => place.i))));
  grid.say(notes.join(" "));
  if (doubt) {
    const [thousands, decimal] = doubt.numbers;
    grid.ask.replaceChildren(
      grid.form.button(`Read “${doubt.text}” as ${thousands}, and all like it`, () => settle(grid, 0)),
      grid.form.button(`Read it as ${decimal}`, () => settle(grid, 1)),
    );
  }
  return unread;
}

/** The cells whose number can be read in two ways. */
function doubts(grid) {
  const numbers = grid.columns.filter((column) => grid.spec.kind(column.schema) === "number");
  return [...grid.entries.keys()].flatMap((r) =>
    numbers.flatMap((column) => {
      const text = grid.value(r, column);
      const both = typeof text === "string" && either(text, spellings(column.schema, grid.units));
      return both ? [{ r, column, text, numbers: both }] : [];
    }),
  );
}

/** Reads all of them in one of the ways. */
function settle(grid, which) {
  const all = doubts(grid);
  change(grid, "reading of numbers", () => {
    for (const { r, column, numbers } of all) grid.write(r, column, numbers[which]);
  });
  const unread = mark(grid, 0, grid.entries.length);
  grid.focus();
  grid.say(
    `${all.length} ${all.length === 1 ? "number" : "numbers"} read.${unread ? ` ${unread} cannot be.` : ""}`,
  );
}

const bring = (grid, column) => {
  if (grid.layout.rest.includes(column.path[0])) return;
  grid.state.shown.add(column.key);
  const part = grid.layout.parts.find((one) => one.own && column.key.startsWith(one.key));
  if (part && column.path.length === part.path.length + 1)
    grid.state.named.set(part.key, (grid.state.named.get(part.key) ?? new Set()).add(column.path.at(-1)));
};

/** Writes one cell; a number in the other system of units is converted. */
function cell(grid, r, { column, from }, given) {
  if (given === undefined) return;
  const number = typeof given === "number" && grid.spec.kind(column.schema) === "number";
  let value = number ? given : valueFrom(grid.spec, column.schema, said(given), from);
  if (typeof value === "number" && from !== grid.units)
    value = convert(value, column.schema.unit, grid.units);
  if (value === undefined && at(grid.entries[r], column.path) === undefined) return;
  if (value === undefined && !grid.layout.applies(column, grid.entries[r])) return;
  grid.write(r, column, value);
}

/** Says below each of some rows what in it cannot be read; gives back how many cells that are. */
function mark(grid, r0, count) {
  let unread = 0;
  for (let r = r0; r < Math.min(r0 + count, grid.rows); r += 1) {
    for (const column of grid.columns) {
      if (wrong(grid.spec, column.schema, grid.value(r, column))) unread += Number(grid.judge(r, column));
    }
  }
  return unread;
}
