// What the page says of itself: how it goes, why there is no answer, and how to get on.

import { hasKey, Lost, NoKey, useKey } from "./ask.js";
import { by, h } from "./dom.js";
import { handOver, keyForm } from "./key.js";

/** A word on how it goes; for the ear alone where the eye sees it anyway. */
export function say(text, unseen = false) {
  by("status").textContent = text;
  by("status").className = unseen ? "unseen" : "";
}

/** Takes back what was said at the top. */
export const unsay = () => by("notice").replaceChildren();

/** Says something at the top of the page, where it is seen whatever is below. */
export function tell(role, text, ...more) {
  const box = h("div", { class: "told", role, tabindex: -1 }, h("p", { class: "headline" }, text), more);
  by("status").textContent = "";
  by("notice").replaceChildren(box);
  return box;
}

/** Says why there is no answer, and goes on with `retry` when that is corrected. */
export function unanswered(error, retry, kept = "") {
  if (error instanceof NoKey) {
    setKey(undefined);
    by("status").textContent = "";
    by("notice").replaceChildren(
      keyForm(error.sent !== undefined, (key, remember) => {
        setKey(key, remember);
        unsay();
        retry();
      }),
    );
    by("notice").scrollIntoView();
    by("key").focus();
  } else if (error instanceof Lost) {
    const again = h("button", { type: "button", class: "main", onclick: retry }, "Try again");
    const box = tell("alert", error.message, kept && h("p", null, kept), h("p", null, again));
    box.scrollIntoView();
    box.focus();
  } else throw error;
}

/** Uses a key from now on; none forgets it. */
export function setKey(key, remember) {
  useKey(key, remember);
  showKey();
}

/** Says whether a key is in use: how to forget it, and how to hand it over. */
export function showKey() {
  by("forget").hidden = !hasKey();
  by("hand-over").replaceChildren(...(hasKey() ? [handOver()] : []));
}
