// What is done to whole rows of a grid, and the buttons for it.

import { h } from "./dom.js";
import { opened, saved, savedAsWorkbook } from "./grid-files.js";
import { change, undo } from "./grid-past.js";

/** The buttons below a grid. */
export function drawTools(grid) {
  const [last] = grid.state.past.slice(-1);
  const file = h("input", { type: "file", accept: ".xlsx,.csv,.tsv,.txt,text/csv", hidden: true });
  file.addEventListener("change", () => file.files[0] && opened(grid, file.files[0]));
  const button = (text, act) => grid.form.button(text, act);
  grid.rowTools = {
    copy: button("Duplicate", () => duplicate(grid)),
    up: button("↑", () => move(grid, -1)),
    down: button("↓", () => move(grid, 1)),
    remove: button("Remove", () => remove(grid)),
  };
  const save = (text, as, act) => {
    const made = grid.form.button(text, act);
    made.setAttribute("aria-label", `Save as ${as}`);
    return made;
  };
  // Where nothing is entered there is nothing to move or to save.
  const filled = grid.entries.length > 1 || !grid.spec.empty(grid.schema, grid.entries);
  for (const tool of Object.values(grid.rowTools)) tool.hidden = !filled;
  const saves = h(
    "span",
    { class: "grid-save" },
    h("span", { class: "hint", "aria-hidden": "true" }, "Save as"),
    save("CSV", "CSV", () => saved(grid)),
    save("Workbook", "a workbook", () => savedAsWorkbook(grid)),
  );
  grid.tools.replaceChildren(
    button("Add row", () => add(grid)),
    ...Object.values(grid.rowTools),
    button("Open a file", () => file.click()),
    filled ? saves : "",
    button(grid.whole ? "Back to the page" : "Whole screen", () => whole(grid)),
    last ? button(`Undo: ${last.what}`, () => undo(grid)) : "",
    file,
  );
}

/** Shows a grid over the whole screen, or in its place again. */
function whole(grid) {
  if (grid.whole) return grid.whole();
  const dialog = h("dialog", { class: "grid-whole", "aria-label": grid.title });
  grid.element.before(dialog);
  dialog.append(grid.element);
  grid.whole = () => {
    grid.whole = undefined;
    dialog.replaceWith(grid.element);
    drawTools(grid);
    grid.focus();
  };
  dialog.addEventListener("close", () => grid.whole?.());
  dialog.showModal();
  drawTools(grid);
  return grid.focus();
}

function add(grid) {
  const r = grid.entries.length;
  change(grid, "add a row", () => grid.entry(r), false);
  grid.state.drawn = Math.max(grid.state.drawn, r + 2);
  grid.draw();
  grid.goTo(r, 0);
  grid.focus();
}

function duplicate(grid) {
  const { r0, r1 } = rowsChosen(grid);
  grid.restack();
  change(grid, "duplicate", () => {
    const copies = structuredClone(grid.entries.slice(r0, r1 + 1));
    grid.entries.splice(r1 + 1, 0, ...copies);
  });
  grid.goTo(r1 + 1, grid.state.at.c);
  grid.focus();
}

function remove(grid) {
  const { r0, r1 } = rowsChosen(grid);
  const what = r0 === r1 ? `remove ${grid.rowName(r0)}` : `remove ${r1 - r0 + 1} rows`;
  grid.restack();
  change(grid, what, () => grid.entries.splice(r0, r1 - r0 + 1));
  grid.goTo(Math.min(r0, Math.max(0, grid.entries.length - 1)), grid.state.at.c);
  grid.focus();
  grid.say(`Done: ${what}.`);
}

/** Moves the chosen rows up or down by one. */
export function move(grid, by) {
  const { r0, r1 } = rowsChosen(grid);
  if (r0 + by < 0 || r1 + by >= grid.entries.length) return;
  grid.restack();
  change(grid, "move", () => {
    const moved = grid.entries.splice(r0, r1 - r0 + 1);
    grid.entries.splice(r0 + by, 0, ...moved);
  });
  grid.state.anchor = { r: r0 + by, c: grid.state.anchor.c };
  grid.goTo(r1 + by, grid.state.at.c, true);
  grid.mark();
  const again = by < 0 ? grid.rowTools.up : grid.rowTools.down;
  if (again.disabled) grid.focus();
  else again.focus();
}

function rowsChosen(grid) {
  const { r0, r1 } = grid.block;
  return { r0, r1: Math.min(r1, grid.entries.length - 1) };
}
