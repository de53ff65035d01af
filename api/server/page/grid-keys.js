// What keys and pointers do in a grid, as in a spreadsheet.

import { opened } from "./grid-files.js";
import { change, redo, undo } from "./grid-past.js";
import { move as moveRows } from "./grid-rows.js";
import { copied, pasted } from "./grid-text.js";

const ARROWS = { ArrowUp: [-1, 0], ArrowDown: [1, 0], ArrowLeft: [0, -1], ArrowRight: [0, 1] };
const PAGE = 10;

let present; // the grid that has or had the focus last

const active = () =>
  present?.element.isConnected &&
  present.table.contains(document.activeElement) &&
  ownCell(present, document.activeElement)
    ? present
    : undefined;

/** The cell of a grid that an element stands in, not one of a grid within it. */
function ownCell(grid, element) {
  const cell = element.closest?.("td");
  return cell?.place && grid.lines[cell.place.r]?.cells[cell.place.c] === cell ? cell : undefined;
}

for (const kind of ["copy", "cut", "paste"]) {
  document.addEventListener(kind, (event) => {
    const grid = active();
    if (!grid || (grid.editor && kind !== "paste")) return;
    if (kind === "paste") pasted(grid, event);
    else copied(grid, event);
  });
}

/** Listens to a grid's keys and pointers. */
export function listen(grid) {
  const { table } = grid;
  table.addEventListener("focusin", (event) => {
    const cell = ownCell(grid, event.target);
    if (!cell) return;
    present = grid;
    const { r, c } = cell.place;
    if (grid.state.at.r !== r || grid.state.at.c !== c) grid.goTo(r, c);
    grid.mark();
    grid.leaving = false;
    if (grid.said.textContent === "" && event.target.matches("td:focus-visible") && !grid.pressed)
      grid.say("Escape, then Tab, leaves the table.");
  });
  table.addEventListener("keydown", (event) => {
    if (!ownCell(grid, event.target) || event.isComposing) return;
    if (grid.editor) whileEditing(grid, event);
    else key(grid, event);
  });
  takesFiles(grid, (file) => opened(grid, file));
  let dragged = false;
  let touched = false;
  table.addEventListener("pointerdown", (event) => {
    const cell = ownCell(grid, event.target);
    touched = event.pointerType !== "mouse";
    dragged = false;
    if (!cell || touched || event.button !== 0 || event.target.closest("input, select, button")) return;
    event.preventDefault();
    const { r, c } = cell.place;
    const again = grid.state.at.r === r && grid.state.at.c === c && cell.contains(document.activeElement);
    grid.editor?.commit();
    grid.goTo(r, c, event.shiftKey);
    grid.focus();
    grid.pressed = { again: again && !event.shiftKey };
  });
  table.addEventListener("pointerover", (event) => {
    const cell = ownCell(grid, event.target);
    if (!cell || !grid.pressed || event.buttons !== 1) return;
    const { r, c } = cell.place;
    if (grid.state.at.r === r && grid.state.at.c === c) return;
    dragged = true;
    grid.goTo(r, c, true);
    grid.mark();
  });
  table.addEventListener("click", (event) => {
    const cell = ownCell(grid, event.target);
    const pressed = grid.pressed;
    grid.pressed = undefined;
    if (!cell || dragged || event.target.closest("input, select, button")) return;
    if (!touched && !pressed?.again) return;
    // A finger edits at once; a mouse chooses first and edits at the second click.
    grid.editor?.commit();
    grid.goTo(cell.place.r, cell.place.c);
    grid.mark();
    grid.edit({ pick: true });
  });
}

/** Takes a file that is dropped onto a grid. */
function takesFiles({ element }, open) {
  const has = (event) => event.dataTransfer?.types.includes("Files");
  const over = (on) => (event) => {
    if (!has(event)) return;
    event.preventDefault();
    event.stopPropagation();
    element.classList.toggle("grid-over", on);
  };
  element.addEventListener("dragover", over(true));
  element.addEventListener("dragleave", over(false));
  element.addEventListener("drop", (event) => {
    over(false)(event);
    const [file] = event.dataTransfer?.files ?? [];
    if (file) open(file);
  });
}

function move(grid, dr, dc, extend) {
  const { r, c } = grid.state.at;
  grid.goTo(r + dr, c + dc, extend);
  grid.focus();
}

/** The next cell to the right or left, and on into the next row; nothing behind the last. */
function next(grid, step) {
  const width = grid.lines[0].cells.length;
  const { r, c } = grid.state.at;
  const on = r * width + c + step;
  if (on < 0 || on >= grid.rows * width) return false;
  grid.goTo(Math.floor(on / width), on % width);
  grid.focus();
  return true;
}

function whileEditing(grid, event) {
  const { editor } = grid;
  const done = (go) => {
    event.preventDefault();
    editor.commit();
    go();
  };
  if (event.key === "Enter") done(() => move(grid, event.shiftKey ? -1 : 1, 0));
  else if (event.key === "Tab") done(() => next(grid, event.shiftKey ? -1 : 1) || grid.focus());
  else if (event.key === "Escape") {
    event.preventDefault();
    editor.cancel();
  } else if (event.key === "F2") editor.typing = false;
  else if (ARROWS[event.key] && !event.shiftKey && !event.altKey && editor.leaves(event.key))
    done(() => move(grid, ...ARROWS[event.key]));
}

const COMMANDS = {
  d: (grid) => fillDown(grid),
  z: (grid, { shiftKey }) => (shiftKey ? redo(grid) : undo(grid)),
  y: (grid) => redo(grid),
  a: (grid) => {
    grid.state.anchor = { r: 0, c: 0 };
    grid.goTo(Math.max(0, grid.entries.length - 1), grid.columns.length - 1, true);
    grid.focus();
  },
};

function key(grid, event) {
  const { r, c } = grid.state.at;
  // With AltGr a letter is typed, although both Ctrl and Alt count as pressed on some systems.
  const graph = event.getModifierState("AltGraph");
  const control = (event.ctrlKey || event.metaKey) && !graph;
  const last = { r: grid.rows - 1, c: grid.lines[0].cells.length - 1 };
  const shift = event.shiftKey;
  const go = (to, extend = shift) => {
    event.preventDefault();
    grid.goTo(to.r ?? r, to.c ?? c, extend);
    grid.focus();
  };
  const onButton = event.target.matches("button");
  if (ARROWS[event.key]) {
    const [dr, dc] = ARROWS[event.key];
    if (event.altKey && dr !== 0) {
      event.preventDefault();
      if (onButton) return;
      if (event.ctrlKey) return moveRows(grid, dr);
      if (dr > 0 && grid.columns[c] && ["choice", "flag"].includes(grid.spec.kind(grid.columns[c].schema)))
        grid.edit({ pick: true });
      return;
    }
    const edge = { r: dr < 0 ? 0 : last.r, c: dc < 0 ? 0 : last.c };
    go(control ? { r: dr ? edge.r : r, c: dc ? edge.c : c } : { r: r + dr, c: c + dc });
  } else if (event.key === "Home") go(control ? { r: 0, c: 0 } : { c: 0 });
  else if (event.key === "End") go(control ? last : { c: last.c });
  else if (event.key === "PageUp") go({ r: r - PAGE });
  else if (event.key === "PageDown") go({ r: r + PAGE });
  else if (event.key === "Tab") {
    // After Escape, Tab leaves the table.
    if (!grid.leaving && next(grid, shift ? -1 : 1)) event.preventDefault();
    else if (grid.leaving) leave(grid);
  } else if (event.key === "Escape") {
    grid.goTo(r, c);
    grid.mark();
    grid.leaving = true;
    grid.say("Tab now leaves the table.");
  } else if (onButton) return;
  else if (event.key === "Enter") go({ r: r + (shift ? -1 : 1) }, false);
  else if (event.key === "F2") {
    event.preventDefault();
    grid.edit();
  } else if (event.key === "Delete" || event.key === "Backspace") {
    event.preventDefault();
    grid.empty();
  } else if (control) {
    const command = COMMANDS[event.key.toLowerCase()];
    if (!command) return;
    event.preventDefault();
    command(grid, event);
  } else if (event.key.length === 1 || event.key === "Dead" || event.key === "Process") {
    // The letter itself goes into the field, which has the focus by then.
    if (event.key === " ") event.preventDefault();
    if (!event.altKey || graph) grid.edit({ text: "" });
  }
}

/** Lets the focus go out of the table: the cell is no stop while Tab is on its way. */
function leave(grid) {
  const { entered } = grid;
  entered?.setAttribute("tabindex", -1);
  setTimeout(() => entered?.setAttribute("tabindex", 0));
}

/** Fills the block with its first row, or one cell with the one above it. */
function fillDown(grid) {
  const { r0, r1, c0, c1 } = grid.block;
  const from = r0 === r1 ? r0 - 1 : r0;
  if (from < 0 || grid.isNew(from)) return;
  change(grid, "fill down", () => {
    for (const column of grid.columns.slice(c0, c1 + 1)) {
      const value = grid.value(from, column);
      for (let r = from + 1; r <= r1; r += 1)
        if (grid.layout.applies(column, grid.entries[r])) grid.write(r, column, value);
    }
  });
  grid.focus();
}
