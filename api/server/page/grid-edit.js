// A cell of a grid while it is edited, and writing what was typed into the list.

import { exact, held, valueFrom } from "./cell.js";
import { at, name } from "./columns.js";
import { h } from "./dom.js";
import { paint } from "./grid-draw.js";
import { isMoment, local } from "./moment.js";
import { label } from "./schema.js";

let pressing = false; // whether a pointer is down somewhere
addEventListener(
  "pointerdown",
  () => {
    pressing = true;
  },
  true,
);
for (const end of ["pointerup", "pointercancel"])
  addEventListener(
    end,
    () => {
      pressing = false;
    },
    true,
  );

/** Does something that moves what is on the page only after the pointer is up, lest a tap misses what it is meant for. */
function still(act) {
  if (pressing) addEventListener("pointerup", () => setTimeout(act), { once: true });
  else act();
}

/** Writes a value into a cell of a list, with whatever of the entry it needs. */
export function write(grid, r, column, value) {
  const entry = grid.entry(r);
  if (column.union) return become(grid, r, column, value);
  if (column.within && value !== undefined) {
    const { path, schema, names } = column.within;
    if (!grid.spec.branchOf(schema, at(entry, path))) {
      const union = grid.layout.parts.find((one) => one.union === schema);
      become(grid, r, union, names[0]);
    }
  }
  return put(grid, [...grid.path, r, ...column.path], value);
}

/** Puts a value in its place in the document; the form is told once, by the grid. */
function put({ form }, path, value) {
  const last = path.at(-1);
  let within = form.document;
  for (const [i, step] of path.slice(0, -1).entries()) {
    if (within[step] === undefined || within[step] === null) {
      if (value === undefined) return;
      within[step] = typeof path[i + 1] === "number" ? [] : {};
    }
    within = within[step];
  }
  if (value === undefined && !Array.isArray(within)) delete within[last];
  else within[last] = value ?? null;
}

/** Makes a union of an entry another of its branches, and keeps what both have. */
function become(grid, r, { union, path }, which) {
  const whole = [...grid.path, r, ...path.slice(0, -1)];
  const before = at(grid.entries[r], path.slice(0, -1));
  if (which === undefined && path.length > 1) return put(grid, whole, undefined);
  const tag = path.at(-1);
  const branch = grid.spec.branches(union).find((one) => one.name === which);
  const made = branch
    ? Object.fromEntries(
        Object.entries(before ?? {}).filter(
          ([one]) => Object.hasOwn(branch.schema.properties, one) && one !== tag,
        ),
      )
    : { ...before };
  return put(grid, whole, { [tag]: which ?? "", ...made });
}

export class Editor {
  /** Turns a cell into a field; `text` takes the place of what stands there, `pick` opens a list. */
  constructor(grid, r, c, { text, pick } = {}) {
    Object.assign(this, { grid, r, c });
    this.column = grid.columns[c];
    this.kind = held(grid.spec, this.column.schema);
    this.cell = grid.lines[r].cells[c];
    const value = grid.value(r, this.column);
    this.typing = text !== undefined;
    this.box = this.make(value);
    this.was = this.box.value;
    if (this.typing && this.box.matches("input:not([type=datetime-local])")) this.box.value = text;
    this.cell.classList.add("grid-edited");
    // What stood there stays below the field and keeps the column as wide as it is.
    this.cell.append(this.box);
    this.box.addEventListener("blur", () => this.commit(still));
    this.box.focus();
    if (this.box.matches("input") && this.kind !== "moment" && !this.typing) this.box.select();
    if (pick && this.box.matches("select")) {
      try {
        this.box.showPicker();
      } catch {
        /* the browser opens it by a second tap */
      }
    }
  }

  make(value) {
    const { schema } = this.column;
    const known = {
      class: "grid-field",
      "aria-label": `${name(this.column)}, ${this.grid.rowName(this.r)}`,
      "aria-describedby": `help${this.grid.id} ${this.cell.getAttribute("aria-describedby") ?? ""}`.trim(),
    };
    if (this.kind === "choice" || this.kind === "flag") {
      const words = this.kind === "flag" ? ["yes", "no"] : schema.enum;
      const now = this.kind === "flag" ? ["no", "yes"][Number(value)] : value;
      const select = h(
        "select",
        known,
        (!this.column.required || !words.includes(now)) && h("option", { value: "" }, ""),
        words.map((word) => h("option", { value: word }, label(word))),
      );
      select.value = words.includes(now) ? now : "";
      return select;
    }
    const moment = this.kind === "moment" && (value === undefined || isMoment(value));
    const input = h("input", {
      ...known,
      type: moment ? "datetime-local" : null,
      step: moment ? 1 : null,
      autocomplete: "off",
      enterkeyhint: "next",
      inputmode: this.kind === "number" ? "decimal" : null,
      maxlength: schema.maxLength,
    });
    input.value = moment ? (value ? local(value) : "") : exact(this.grid.spec, schema, value);
    return input;
  }

  /** Gives the cell back without writing. */
  drop() {
    if (this.grid.editor !== this) return false;
    this.grid.editor = undefined;
    this.cell.classList.remove("grid-edited");
    return true;
  }

  commit(when = (act) => act()) {
    if (!this.drop()) return;
    const { grid, r, c, box } = this;
    if (box.value === this.was) return paint(grid, r, c);
    const value = valueFrom(grid.spec, this.column.schema, box.value, grid.units);
    grid.fill(r, this.column, value, when);
  }

  cancel() {
    this.drop();
    paint(this.grid, this.r, this.c);
    this.grid.focus();
  }

  /** Whether an arrow leaves the field: at its edge, and always where typing began it. */
  leaves(key) {
    if (this.box.matches("select, [type=datetime-local]")) return false;
    if (key === "ArrowUp" || key === "ArrowDown" || this.typing) return true;
    const { selectionStart: from, selectionEnd: to, value } = this.box;
    return key === "ArrowLeft" ? to === 0 : from === value.length;
  }
}
