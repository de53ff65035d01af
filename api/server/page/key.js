// A key, where the service answers only to those who have one: asked for, taken from a link, handed over.

import { isRemembered, keyNow, unfit, useKey } from "./ask.js";
import { h } from "./dom.js";

const IN_LINK = "#key=";

/** Takes a key out of the address, where it must not stay; whether there was one, and what is wrong with it. */
export function keyFromAddress() {
  if (!location.hash.startsWith(IN_LINK)) return undefined;
  let text = "";
  try {
    text = decodeURIComponent(location.hash.slice(IN_LINK.length)).trim();
  } catch {
    /* it was cut off in the middle of a letter */
  }
  history.replaceState(history.state, "", location.pathname + location.search);
  const fault = unfit(text);
  if (!fault) useKey(text, isRemembered());
  return { fault };
}

/** What is said of a key that came with a link, to be shown above everything else. */
export function keyTaken({ fault }) {
  if (fault)
    return h(
      "div",
      { class: "told", role: "alert" },
      h("p", null, "The link has no key that can be used. ", fault),
    );
  return h(
    "div",
    { class: "told", role: "status" },
    h("p", null, "The key of the link is in use now, and no longer in the address."),
    remember(isRemembered(), (wanted) => useKey(keyNow(), wanted)),
  );
}

/** The choice of how long a key is kept. */
function remember(checked, change) {
  return h(
    "p",
    { class: "choices" },
    h(
      "label",
      null,
      h("input", {
        type: "checkbox",
        id: "key-remember",
        checked,
        "aria-describedby": "key-kept",
        onchange: (event) => change(event.target.checked),
      }),
      " Remember on this device",
    ),
  );
}

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
  const eye = h(
    "button",
    { type: "button", id: "key-eye", "aria-pressed": "false", "aria-controls": "key" },
    "Show",
  );
  eye.addEventListener("click", () => {
    const seen = input.type === "password";
    input.type = seen ? "text" : "password";
    eye.setAttribute("aria-pressed", String(seen));
  });
  const box = remember(false, () => {});
  const whole = h(
    "form",
    { class: "key", novalidate: true, "aria-labelledby": "key-title" },
    h("h2", { id: "key-title" }, "A key is needed"),
    h(
      "p",
      null,
      "This service answers only those who have a key. Whoever runs it can give you one. A device that has it can hand it over by a code to scan.",
    ),
    h(
      "div",
      { class: "field" },
      h("label", { for: "key" }, "Key"),
      h("div", { class: "seen" }, input, eye),
      h(
        "p",
        { class: "hint", id: "key-kept" },
        "It is kept in this tab only, and forgotten when you close the tab, unless this device is to remember it.",
      ),
      fault,
    ),
    box,
    h("p", { class: "buttons" }, h("button", { class: "main" }, "Use this key")),
  );
  input.addEventListener("input", () => say(""));
  whole.addEventListener("submit", (event) => {
    event.preventDefault();
    const text = input.value.trim();
    say(unfit(text));
    if (fault.textContent) input.focus();
    else use(text, box.querySelector("input").checked);
  });
  if (wrong) say("The service does not know this key. Type it again, or ask for another one.");
  return whole;
}

/** The link that hands the key over. */
const keyLink = () => new URL(`${IN_LINK}${encodeURIComponent(keyNow())}`, location.href).href;

/** What hands the key over to another device; nothing of it is drawn before it is opened. */
export function handOver() {
  const body = h("div");
  const fold = h(
    "details",
    { class: "fold hand-over" },
    h("summary", null, "Hand the key over to another device"),
    body,
  );
  fold.addEventListener("toggle", async () => {
    body.replaceChildren();
    if (!fold.open || keyNow() === undefined) return;
    const link = keyLink();
    let drawer;
    try {
      drawer = await import("./kept/qr.js");
    } catch {
      body.replaceChildren(h("p", null, "This part of the page cannot be loaded now. Try again later."));
      return;
    }
    const { asLink, qr, reachable, UNREACHABLE } = drawer;
    const code = await qr(link, "Code that hands the key over").catch(() => "");
    if (!fold.open) return;
    body.replaceChildren(
      h(
        "p",
        null,
        h("strong", null, "Whoever has this code or link can ask the service in your name. "),
        "Show it to nobody else, print it nowhere, and fold it away afterwards.",
      ),
      reachable() ? "" : h("p", { class: "told" }, UNREACHABLE),
      code,
      asLink("key-link", link),
    );
  });
  return fold;
}
