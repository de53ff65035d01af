// Taking back what a tap did.

import { h } from "../dom.js";

const SHOWN = 12000; // milliseconds that it can be taken back

let shown;

/** Says what was done, with a button that takes it back. */
export function undoable(text, back) {
  shown?.remove();
  const box = h(
    "div",
    { class: "snackbar", role: "status" },
    h("span", null, text),
    h(
      "button",
      {
        type: "button",
        onclick: () => {
          box.remove();
          back();
        },
      },
      "Undo",
    ),
  );
  shown = box;
  document.body.append(box);
  setTimeout(() => box.remove(), SHOWN);
}

/** What was done stays done: takes the way back out of sight. */
export const settle = () => shown?.remove();
