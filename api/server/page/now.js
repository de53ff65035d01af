// What is open: the task, its form and its entries, and the units of the page.

import { ADDRESS_MOST } from "./apart.js";
import { draft, keepDraft } from "./drafts.js";

/** `kept` opens what the device keeps; `place` is the kept tank or machine that the task is about, and `last` what its check before says; `asked` counts the questions, so that a late
 *  answer to an earlier one is not shown; `here` is the fragment of the address that is open. */
export const now = {
  spec: undefined,
  tasks: [],
  task: undefined,
  form: undefined,
  units: "metric",
  place: undefined,
  last: undefined,
  asked: 0,
  here: "",
  kept: undefined,
};

let saving; // the timer that keeps the address in step

/** The document as it goes out: in the units of the page, nothing blank in it. */
export const sent = () => now.spec.pruned(now.task.schema, now.form.document);

/** The document as it is asked: with what the task itself fills in where it was left blank. */
export const whole = () => {
  const document = sent();
  now.task.complete?.(document);
  return document;
};

/** The fragment of the address that opens a task with a document. */
export const fragment = (id, document) => `#${id}=${encodeURIComponent(JSON.stringify(document))}`;

/** Stops keeping the address in step: something else is about to open. */
export const leave = () => clearTimeout(saving);

/** Keeps the entries for as long as the tab is open, and the address in step, so that it can be handed over. */
export function keep() {
  leave();
  // The entries of a kept tank are its own: another one is not to be checked with them.
  if (!now.place) keepDraft(now.task.id, now.form.document);
  saving = setTimeout(() => {
    if (location.hash !== now.here) return; // another task is about to open
    const address = fragment(now.task.id, sent());
    history.replaceState(null, "", address.length <= ADDRESS_MOST ? address : `#${now.task.id}`);
    now.here = location.hash;
  }, 250);
}

/** Whether these can be the entries of a task. */
export const carries = (task, document) =>
  document !== null &&
  typeof document === "object" &&
  ["metric", "us"].includes(document.units) &&
  now.spec.fits(task.schema, document);

/** What was entered for a task before another was opened. */
export function before(task) {
  const document = draft(task.id);
  return document && carries(task, document) ? document : undefined;
}

/** A document of the open task to fill in. */
export const blank = () => ({
  ...now.spec.blank(now.task.schema, now.task.shape),
  units: now.units,
  reference: undefined,
});
