// Asking for a key, where the service answers only to those who have one.

import { unfit } from "./ask.js";
import { h } from "./dom.js";

/** A form for a key; `wrong` says that one was sent that the service does not know. */
export function keyForm(wrong, use) {
  const fault = h("p", { class: "fault", id: "key-fault" });
  const input = h("input", {
    id: "key",
    type: "password",
    autocomplete: "off",
    autocapitalize: "none",
    spellcheck: "false",
    "aria-required": "true",
    "aria-describedby": "key-kept key-fault",
  });
  const say = (text) => {
    fault.textContent = text;
    if (text) input.setAttribute("aria-invalid", "true");
    else input.removeAttribute("aria-invalid");
  };
  const whole = h(
    "form",
    { class: "key", novalidate: true, "aria-labelledby": "key-title" },
    h("h3", { id: "key-title" }, "A key is needed"),
    h("p", null, "This service answers only those who have a key. Whoever runs it can give you one."),
    h(
      "div",
      { class: "field" },
      h("label", { for: "key" }, "Key"),
      input,
      h(
        "p",
        { class: "hint", id: "key-kept" },
        "It is kept in this tab only, and forgotten when you close the tab.",
      ),
      fault,
    ),
    h("p", { class: "buttons" }, h("button", { class: "main" }, "Use this key")),
  );
  input.addEventListener("input", () => say(""));
  whole.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = input.value.trim();
    say(unfit(text));
    if (fault.textContent) input.focus();
    else use(text);
  });
  if (wrong) say("The service does not know this key. Type it again, or ask for another one.");
  return whole;
}
