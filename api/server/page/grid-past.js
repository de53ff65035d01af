// Changing a list, and taking it back.

const UNDONE_MOST = 30; // changes that can be taken back

/** Changes the list; `what` names the change for Undo. */
export function change(grid, what, make, redraw = true) {
  const before = structuredClone(grid.form.get(grid.path) ?? []);
  make();
  const { past } = grid.state;
  past.push({ what, before, after: JSON.stringify(grid.entries) });
  if (past.length > UNDONE_MOST) past.shift();
  grid.state.future = [];
  grid.form.changed();
  if (redraw) grid.draw();
}

/** Takes the last change back. */
export function undo(grid) {
  const last = grid.state.past.pop();
  if (!last) return grid.say("There is nothing to undo.");
  const now = structuredClone(grid.entries);
  // What was filled in below a row since then is taken back first.
  if (JSON.stringify(now) !== last.after) {
    grid.state.past.push(last);
    return restore(grid, JSON.parse(last.after), now, "what was filled in below");
  }
  return restore(grid, last.before, now, last.what);
}

/** Does again what was undone last. */
export function redo(grid) {
  const next = grid.state.future.pop();
  if (!next) return;
  const before = structuredClone(grid.entries);
  grid.form.set(grid.path, next.list);
  grid.state.past.push({ what: next.what, before, after: JSON.stringify(next.list) });
  grid.draw();
  grid.focus();
  grid.say(`Done again: ${next.what}.`);
}

function restore(grid, list, now, what) {
  grid.state.future.push({ list: now, what });
  grid.form.set(grid.path, structuredClone(list));
  grid.draw();
  grid.focus();
  grid.say(`Undone: ${what}.`);
}
