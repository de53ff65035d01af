// What a grid looks like: its headings, its rows, and what opens below them.

import { textOf } from "./cell.js";
import { group, name } from "./columns.js";
import { h } from "./dom.js";
import { drawTools } from "./grid-rows.js";
import { brief, pointer, unitAfter } from "./schema.js";

export const DRAWN_MOST = 200; // rows that are drawn at once

/** The headings: a line for the groups of columns, where there are any, and one for the columns. */
export function head(grid) {
  const groups = grid.columns.map(group);
  grid.headRows = groups.some(Boolean) ? 2 : 1;
  const top = h("tr", { "aria-rowindex": 1 });
  const below = h("tr", { "aria-rowindex": 2 });
  const single = grid.headRows === 1 ? null : 2;
  top.append(
    h("th", { class: "grid-number", scope: "col", rowspan: single }, h("span", { class: "unseen" }, "Row")),
  );
  for (let c = 0; c < grid.columns.length; c += 1) {
    const column = grid.columns[c];
    const unit =
      unitAfter(column.titles.at(-1), column.schema, grid.units) && brief(column.schema, grid.units);
    const number = grid.spec.kind(column.schema) === "number" ? "number" : null;
    const text = [column.titles.at(-1), unit && h("span", { class: "unit" }, `, ${unit}`)];
    if (groups[c] === "") top.append(h("th", { class: number, scope: "col", rowspan: single }, text));
    else {
      if (groups[c] !== groups[c - 1]) {
        let span = 1;
        while (groups[c + span] === groups[c]) span += 1;
        top.append(h("th", { scope: "colgroup", colspan: span, class: "grid-group" }, groups[c]));
      }
      below.append(h("th", { class: number, scope: "col" }, text));
    }
  }
  if (grid.hasDetails)
    top.append(h("th", { scope: "col", rowspan: single }, h("span", { class: "unseen" }, "Details")));
  return h("thead", null, top, grid.headRows > 1 && below);
}

/** A row, the faults that are said against it, and what is unfolded below it. */
export function line(grid, r) {
  const cells = grid.columns.map((column, c) => {
    const cell = h("td", { role: "gridcell", tabindex: -1, id: `at${pointer(grid.place(r, column))}` });
    if (column.required && !grid.isNew(r)) cell.setAttribute("aria-required", "true");
    cell.place = { r, c };
    return cell;
  });
  grid.lines[r] = { cells };
  for (let c = 0; c < cells.length; c += 1) paint(grid, r, c);
  const number = h(
    "th",
    { class: "grid-number", scope: "row", id: `at${pointer([...grid.path, r])}`, tabindex: -1 },
    grid.isNew(r)
      ? [h("span", { "aria-hidden": "true" }, "+"), h("span", { class: "unseen" }, "new")]
      : String(r + 1),
  );
  const row = h("tr", { "aria-rowindex": r + 1 + grid.headRows }, number, cells);
  if (!grid.hasDetails) return [row, faultRow(grid, r)];
  const last = h("td", { class: "grid-open", role: "gridcell", tabindex: -1 });
  last.place = { r, c: cells.length };
  cells.push(last);
  row.append(last);
  if (!grid.isNew(r)) last.append(detailsButton(grid, r));
  const below = grid.state.unfolded.has(r) && !grid.isNew(r) ? [details(grid, r)] : [];
  return [row, faultRow(grid, r), ...below];
}

function detailsButton(grid, r) {
  const given = grid.layout.rest.filter(
    (name) => !grid.spec.empty(grid.spec.member(grid.items, name), grid.entries[r]?.[name]),
  ).length;
  const open = grid.state.unfolded.has(r);
  const toggle = () => {
    if (open) grid.state.unfolded.delete(r);
    else grid.state.unfolded.add(r);
    grid.goTo(r, grid.columns.length);
    grid.draw();
    grid.focus();
  };
  return h(
    "button",
    { type: "button", class: "small", "aria-expanded": String(open), tabindex: -1, onclick: toggle },
    open ? "Close" : `Details${given ? ` (${given})` : ""}`,
    h("span", { class: "unseen" }, ` of ${grid.rowName(r)}`),
  );
}

/** The form for what of an entry does not stand in cells. */
function details(grid, r) {
  const place = [...grid.path, r];
  const [like] = grid.example ?? [];
  const inCells = grid.spec
    .members(grid.items)
    .map((member) => member.name)
    .filter((one) => !grid.layout.rest.includes(one));
  const form =
    grid.spec.kind(grid.items) === "union"
      ? grid.form.union(grid.items, place, like)
      : grid.form.members(grid.items, place, like, inCells);
  return h(
    "tr",
    { class: "grid-below" },
    h(
      "td",
      { role: "gridcell", colspan: grid.columns.length + 2 },
      h("div", { class: "grid-panel", role: "group", "aria-label": grid.rowName(r) }, form),
    ),
  );
}

function faultRow(grid, r) {
  const said = h("div", { class: "grid-panel" });
  grid.lines[r].said = said;
  return h(
    "tr",
    { class: "grid-faults" },
    h("td", { role: "gridcell", colspan: grid.columns.length + 2 }, said),
  );
}

/** Shows the value of a cell. */
export function paint(grid, r, c) {
  const cell = grid.lines[r].cells[c];
  const column = grid.columns[c];
  const value = grid.value(r, column);
  const applies = grid.layout.applies(column, grid.entries[r]);
  cell.className = grid.spec.kind(column.schema) === "number" ? "number" : "";
  cell.classList.toggle("grid-none", !applies);
  if (applies) cell.removeAttribute("aria-readonly");
  else cell.setAttribute("aria-readonly", "true");
  cell.replaceChildren(applies ? textOf(grid.spec, column.schema, value) : "–");
}

/** The columns that are folded away, each to be brought in, and what else follows the table. */
export function drawMore(grid) {
  const open = grid.more.querySelector("details")?.open ?? false;
  const bring = (column) =>
    grid.form.button(name(column), () => {
      grid.show(column);
      grid.goTo(
        grid.state.at.r,
        grid.columns.findIndex((one) => one.key === column.key),
      );
      grid.focus();
    });
  const own = grid.layout.parts.filter((part) => part.own).map((part) => ownName(grid, part));
  const rest = grid.entries.length - grid.rows;
  grid.more.replaceChildren(
    ...[
      grid.entries.length <= 1 &&
        h(
          "p",
          { class: "hint" },
          "Rows that were copied in a spreadsheet can be pasted here, best with their headings. A workbook or a CSV file can be dropped here.",
        ),
      rest > 0 &&
        h(
          "p",
          null,
          grid.form.button(`Show ${Math.min(rest, DRAWN_MOST)} more of ${rest} rows`, () => {
            grid.state.drawn += DRAWN_MOST;
            grid.draw();
          }),
        ),
      grid.folded.length + own.length > 0 &&
        h(
          "details",
          { class: "fold", open },
          h("summary", null, `More columns${grid.folded.length ? ` (${grid.folded.length})` : ""}`),
          h("div", { class: "buttons" }, grid.folded.map(bring)),
          own,
        ),
    ].filter(Boolean),
  );
  drawTools(grid);
}

/** A field for the name of a column that the caller adds. */
function ownName(grid, part) {
  const id = `name${grid.id}/${part.key}`;
  const input = h("input", { id, autocomplete: "off", autocapitalize: "none" });
  const add = () => {
    const named = input.value
      .trim()
      .toLowerCase()
      .replace(/[^a-z0-9_]+/g, "_");
    if (!named) return input.focus();
    const column = grid.layout.ownColumn(part, named);
    grid.show(column);
    grid.goTo(
      0,
      grid.columns.findIndex((one) => one.key === column.key),
    );
    return grid.focus();
  };
  return h(
    "div",
    { class: "row" },
    h(
      "div",
      { class: "grid-own" },
      h("label", { for: id }, `${part.titles.join(": ")}: another one, by its name`),
      input,
    ),
    grid.form.button("Add column", add),
  );
}
