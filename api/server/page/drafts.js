// Entries that are not finished: kept for as long as the tab is open, task by task.

const PREFIX = "entries:";

/** Keeps what was entered for a task; nothing forgets it. */
export function keepDraft(id, document) {
  try {
    if (document === undefined) sessionStorage.removeItem(PREFIX + id);
    else sessionStorage.setItem(PREFIX + id, JSON.stringify(document));
  } catch {
    /* the browser keeps nothing, or has no room for this */
  }
}

/** What was entered for a task before. */
export function draft(id) {
  try {
    return JSON.parse(sessionStorage.getItem(PREFIX + id)) ?? undefined;
  } catch {
    /* the browser keeps nothing */
  }
}
