// A word on what was just done, with a button that takes it back.

import { by, h } from "../dom.js";

const STAYS = 12000; // milliseconds; longer while the pointer or the focus is on it

let bar, timer, taken, lasts;

/** The place where it is said, which a screen reader has to know before anything is said in it. */
function place() {
  if (bar?.isConnected) return bar;
  bar = h("div", { class: "undo", role: "status" });
  by("main").prepend(bar);
  addEventListener("hashchange", () => !taken && leaveRoom(0));
  for (const name of ["pointerenter", "focusin"]) bar.addEventListener(name, () => clearTimeout(timer));
  for (const name of ["pointerleave", "focusout"]) bar.addEventListener(name, wait);
  document.addEventListener("keydown", (event) => {
    const types = event.target.closest(
      "input:not([type=radio], [type=checkbox]), textarea, select, [role=grid]",
    );
    if ((event.ctrlKey || event.metaKey) && event.key === "z" && !event.shiftKey && taken && !types) {
      event.preventDefault();
      takeBack();
    }
  });
  return bar;
}

function wait() {
  clearTimeout(timer);
  if (!lasts) timer = setTimeout(close, STAYS);
}

/** How high its place stays, so that what is below it stays where it is. */
const leaveRoom = (height) => {
  bar.style.minHeight = height ? `${height}px` : "";
};

/** From now on it cannot be taken back. */
export function settle() {
  clearTimeout(timer);
  taken = undefined;
  bar?.replaceChildren();
  if (bar) leaveRoom(0);
}

/** The same on a screen that stays. */
function close() {
  const { height } = bar.getBoundingClientRect();
  settle();
  leaveRoom(height);
}

async function takeBack() {
  const back = taken;
  close();
  await back?.();
}

/** What was typed goes on from what was done: it can be taken back for a moment more. */
export function goneOn() {
  lasts = false;
  if (taken) wait();
}

/**
 * Says what was done; `back` takes it back, for a moment or as long as nobody goes on (`stays`). The focus comes here
 * where it would be lost otherwise.
 */
export function undoable(text, back, { stays = false } = {}) {
  const host = place();
  taken = back;
  const button = h("button", { type: "button", onclick: takeBack }, "Undo");
  const away = h("button", { type: "button", class: "close", "aria-label": "Close", onclick: close }, "×");
  leaveRoom(0);
  host.replaceChildren(h("p", null, text), button, away);
  lasts = stays;
  wait();
  requestAnimationFrame(() => {
    if (document.activeElement === document.body && button.isConnected) button.focus({ preventScroll: true });
  });
}

/** The place is made when the page starts, so that the first word in it is heard. */
export const listenForUndo = place;
