// A list of objects as a table with a row each, in its place in a form; keyboard and pointer as in a spreadsheet.
//
// Cells show the document and are no fields themselves: one at a time becomes a field while it is edited
// (`grid-edit.js`). The row below the last one is written into to add an entry. What does not fit into a
// cell opens below its row as the ordinary form for it.

import { held, wrong } from "./cell.js";
import { at, Columns, name } from "./columns.js";
import { by, h } from "./dom.js";
import { DRAWN_MOST, drawMore, head, line, paint } from "./grid-draw.js";
import { Editor, write } from "./grid-edit.js";
import { listen } from "./grid-keys.js";
import { change } from "./grid-past.js";
import { drawTools } from "./grid-rows.js";
import { zone } from "./moment.js";
import { hint, pointer } from "./schema.js";

const WIDE = 9; // a list with more columns takes the whole width
const NARROW = 6; // a table with as many columns at most is no wider than a form
const FEW = 2; // with fewer columns in use, those of the example are shown too

/** What the buttons do to the present row. */
const SAID = { copy: "Duplicate", up: "Move up", down: "Move down", remove: "Remove" };

/** What of a grid outlives its being drawn anew. */
const fresh = () => ({
  shown: new Set(),
  named: new Map(),
  unfolded: new Set(),
  past: [],
  future: [],
  drawn: DRAWN_MOST,
  at: { r: 0, c: 0 },
});

export class Grid {
  constructor(form, schema, path, title, example) {
    const items = form.spec.resolve(schema.items);
    Object.assign(this, { form, spec: form.spec, schema, items, path, title, example });
    this.layout = new Columns(form.spec, items);
    this.id = pointer(path);
    if (!form.grids.has(this.id)) form.grids.set(this.id, { state: fresh() });
    form.grids.get(this.id).grid = this;
    this.state = form.grids.get(this.id).state;
    this.state.anchor = this.state.at;
    this.table = h("div", { class: "grid-window" });
    this.help = h("p", { class: "hint grid-help", id: `help${this.id}` });
    this.said = h("p", { class: "grid-said", role: "status" });
    this.ask = h("div", { class: "buttons" });
    this.tools = h("div", { class: "buttons grid-tools" });
    this.more = h("div");
    const wide = this.layout.parts.length > WIDE ? "" : null;
    this.element = h("div", { class: "grid", "data-wide": wide }, this.table, this.help, this.said, this.ask);
    this.element.append(this.tools, this.more);
    listen(this);
    this.draw();
  }

  get entries() {
    return this.form.get(this.path) ?? [];
  }

  get units() {
    return this.form.document.units;
  }

  /** Whether a row is the one that is written into to add an entry. */
  isNew(r) {
    return r >= this.entries.length;
  }

  value(r, column) {
    return at(this.entries[r], column.path);
  }

  place(r, column) {
    return [...this.path, r, ...column.path];
  }

  /** What a row is called. */
  rowName(r) {
    return this.isNew(r) ? "new row" : this.entries[r]?.name || `row ${r + 1}`;
  }

  /** The columns that are shown and those that are folded away: empty in every row, and not needed. */
  sort() {
    const all = this.layout.all(this.entries, this.state.named);
    const said = (entries) => (column) =>
      entries.some((entry) => ![undefined, null, ""].includes(at(entry, column.path)));
    for (const column of all) {
      if (column.required || said(this.entries)(column)) this.state.shown.add(column.key);
    }
    const shown = () => all.filter((column) => this.state.shown.has(column.key));
    if (shown().length <= FEW) {
      const usual = all.filter(said(this.example ?? []));
      for (const column of usual.length > 0 ? usual : all.slice(0, 4)) this.state.shown.add(column.key);
    }
    this.columns = shown();
    this.folded = all.filter((column) => !this.state.shown.has(column.key));
  }

  draw() {
    this.editor?.drop();
    this.sort();
    const room = this.entries.length < (this.schema.maxItems ?? Infinity);
    this.rows = Math.min(this.entries.length + Number(room), this.state.drawn);
    this.lines = [];
    this.element.toggleAttribute("data-narrow", this.columns.length <= NARROW);
    const hinted = `help${this.id}`;
    const body = h("tbody");
    const attributes = { role: "grid", "aria-label": this.title, "aria-multiselectable": "true" };
    const table = h("table", attributes, head(this), body);
    table.setAttribute("aria-rowcount", this.entries.length + Number(room) + this.headRows);
    table.setAttribute("aria-describedby", hinted);
    for (let r = 0; r < this.rows; r += 1) body.append(...line(this, r));
    const { scrollLeft, scrollTop } = this.table;
    this.table.replaceChildren(table);
    Object.assign(this.table, { scrollLeft, scrollTop });
    drawMore(this);
    this.clamp();
    this.mark();
  }

  /** Whether something of an entry does not fit into cells. */
  get hasDetails() {
    return this.layout.rest.length > 0 || this.layout.parts.length === 0;
  }

  /** Brings in a column. */
  show(column) {
    this.state.shown.add(column.key);
    const part = this.layout.parts.find((one) => one.own && column.key.startsWith(one.key));
    if (part && !this.layout.parts.some((one) => one.key === column.key)) {
      const named = this.state.named.get(part.key) ?? new Set();
      this.state.named.set(part.key, named.add(column.path.at(-1)));
    }
    this.draw();
  }

  /** The block that is chosen: first and last row and column. */
  get block() {
    const { at: here, anchor } = this.state;
    const [r0, r1] = [here.r, anchor.r].sort((a, b) => a - b);
    const [c0, c1] = [here.c, anchor.c].sort((a, b) => a - b);
    return { r0, r1, c0, c1 };
  }

  /** Makes a cell the present one; `extend` keeps the other corner of the block. */
  goTo(r, c, extend = false) {
    this.state.at = { r, c };
    if (!extend) this.state.anchor = this.state.at;
    this.clamp();
  }

  clamp() {
    const width = this.columns.length + Number(Boolean(this.hasDetails));
    const within = ({ r, c }) => ({
      r: Math.max(0, Math.min(r, this.rows - 1)),
      c: Math.max(0, Math.min(c, width - 1)),
    });
    this.state.at = within(this.state.at);
    this.state.anchor = within(this.state.anchor ?? this.state.at);
  }

  /** The element that has the focus when a cell is the present one. */
  focusable({ r, c }) {
    const cell = this.lines[r]?.cells[c];
    return cell?.querySelector("button") ?? cell;
  }

  focus() {
    this.mark();
    this.focusable(this.state.at)?.focus();
  }

  /** Marks the present cell and the block, and says what the column is for. */
  mark() {
    const { at: here } = this.state;
    for (const cell of this.marked ?? []) cell.removeAttribute("aria-selected");
    this.entered?.setAttribute("tabindex", -1);
    this.entered = this.focusable(here);
    this.entered?.setAttribute("tabindex", 0);
    const { r0, r1, c0, c1 } = this.block;
    this.marked = this.lines.slice(r0, r1 + 1).flatMap(({ cells }) => cells.slice(c0, c1 + 1));
    for (const cell of this.marked) cell.setAttribute("aria-selected", "true");
    const column = this.columns[here.c];
    this.help.textContent = column ? this.about(here.r, column) : "What else can be said of this row.";
    const rows = Math.min(r1, this.entries.length - 1) - r0 + 1;
    const which = rows > 1 ? `rows ${r0 + 1} to ${r0 + rows}` : `row ${r0 + 1}`;
    for (const [what, tool] of Object.entries(this.rowTools)) {
      tool.disabled =
        rows < 1 || (what === "up" && r0 === 0) || (what === "down" && r0 + rows >= this.entries.length);
      tool.setAttribute("aria-label", `${SAID[what]} ${which}`);
    }
  }

  /** What a column is for, and how its present cell is meant. */
  about(r, column) {
    const clock =
      held(this.spec, column.schema) === "moment" && `Date and time ${zone(this.value(r, column))}.`;
    return [
      `${name(column)}.`,
      clock,
      hint(column.schema, column.titles.at(-1)),
      column.required && "Needed.",
    ]
      .filter(Boolean)
      .join(" ");
  }

  say(text) {
    this.ask.replaceChildren();
    this.said.textContent = text;
  }

  /** An entry to fill in. */
  blank() {
    return this.spec.blank(this.items, this.example?.[0]) ?? {};
  }

  /** Sees to it that a row is an entry that can be written into. */
  entry(r) {
    if (this.form.get(this.path) === undefined) this.form.set(this.path, []);
    const { entries } = this;
    while (entries.length <= r) entries.push(this.blank());
    entries[r] ??= this.blank();
    return entries[r];
  }

  /** Forgets what is unfolded by the numbers of rows, which are about to change. */
  restack() {
    this.state.unfolded.clear();
    for (const id of this.form.grids.keys()) if (id.startsWith(`${this.id}/`)) this.form.grids.delete(id);
    for (const id of this.form.unfolded.keys())
      if (id.startsWith(`${this.id}/`)) this.form.unfolded.delete(id);
  }

  /** Writes a value into the list alone. */
  write(r, column, value) {
    write(this, r, column, value);
  }

  /** Writes a value into a cell, and says below its row when it cannot be read; `when` says when to draw. */
  fill(r, column, value, when) {
    const added = this.isNew(r);
    const shape = added || column.union || column.within;
    change(this, name(column).toLowerCase(), () => write(this, r, column, value), false);
    const c = this.columns.indexOf(column);
    if (!shape) paint(this, r, c);
    when(() => {
      if (!this.element.isConnected) return;
      const inside = this.table.contains(document.activeElement);
      if (shape) this.redrawWithFaults();
      drawTools(this);
      this.judge(r, column);
      if (shape && inside) this.focus();
    });
  }

  /** Empties the block. */
  empty(what = "empty cells") {
    const { r0, r1, c0, c1 } = this.block;
    change(this, what, () => {
      for (let r = r0; r <= Math.min(r1, this.entries.length - 1); r += 1) {
        for (const column of this.columns.slice(c0, c1 + 1)) write(this, r, column, undefined);
      }
    });
    this.focus();
  }

  /** Takes back what was said against a cell, and says what is wrong with it now. */
  judge(r, column) {
    const place = this.place(r, column);
    this.form.clear(place);
    const fault = wrong(this.spec, column.schema, this.value(r, column), this.units);
    if (!fault) return false;
    this.slot(r, column.path, column).append(h("span", null, fault, " "));
    by(`at${pointer(place)}`)?.setAttribute("aria-invalid", "true");
    return true;
  }

  edit(options) {
    const { r, c } = this.state.at;
    const column = this.columns[c];
    if (!column) return;
    if (!this.layout.applies(column, this.entries[r]))
      return this.say(`${name(column)} does not belong to what this row is.`);
    this.editor = new Editor(this, r, c, options);
  }

  /** Where the faults of a place within a row are said, below the row. */
  slot(r, path, column) {
    const place = [...this.path, r, ...path];
    const id = `fault${pointer(place)}`;
    const found = by(id);
    if (found) return found;
    const slot = this.form.fault(place);
    if (column) slot.dataset.at = `at${pointer(this.place(r, column))}`;
    this.lines[r].said.append(
      h("div", { class: "grid-fault" }, h("b", null, column ? name(column) : this.rowName(r)), slot),
    );
    by(slot.dataset.at ?? `at${pointer(place)}`)?.setAttribute("aria-describedby", id);
    return slot;
  }

  /** Brings into view whatever hides a place in the list, and makes room for its faults. */
  reveal(path) {
    const [r, ...within] = path.slice(this.path.length).map((step, i) => (i === 0 ? Number(step) : step));
    if (!(r < this.entries.length)) return;
    let redraw = r >= this.rows;
    if (redraw) this.state.drawn = r + DRAWN_MOST;
    const starts = (column) => within.every((step, i) => column.path[i] === step);
    const column = [...this.columns, ...this.folded].find(starts);
    if (column && !this.state.shown.has(column.key)) {
      this.state.shown.add(column.key);
      redraw = true;
    }
    if (!column && this.layout.rest.includes(within[0]) && !this.state.unfolded.has(r)) {
      this.state.unfolded.add(r);
      redraw = true;
    }
    if (redraw) this.redrawWithFaults();
    if (within.length === 0) this.slot(r, [], undefined);
    else if (column) this.slot(r, within, column);
  }

  /** Draws anew and keeps what is said against the rows. */
  redrawWithFaults() {
    const said = [...this.table.querySelectorAll(".fault:not(:empty)")].map((slot) => [
      slot.id,
      [...slot.childNodes],
    ]);
    this.draw();
    for (const [id, nodes] of said) {
      const place = id
        .split("/")
        .slice(1)
        .map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
      this.form.reveal(place);
      by(id)?.append(...nodes);
      (by(by(id)?.dataset.at ?? "") ?? by(id.replace("fault", "at")))?.setAttribute("aria-invalid", "true");
    }
  }
}
