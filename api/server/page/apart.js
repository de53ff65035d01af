// The job sheet and the chart alone, in a tab of their own.

import { ask, flat, hasKey, Lost, NoKey } from "./ask.js";
import { h } from "./dom.js";

export const ADDRESS_MOST = 30000; // longer documents do not go into an address

const KINDS = [
  { has: "sheet", text: "Job sheet to print", type: "text/html", options: [] },
  { has: "chart", text: "Picture to print", type: "image/svg+xml", options: [["format", "svg"]] },
  { has: "events", text: "Events for a calendar", type: "text/calendar", options: [["format", "ics"]] },
];

/** What opens the sheet and the chart of an answer, where a calculation has them. */
export function apart(task, request, record, onDevice) {
  const nothingToDo = ["sheet", "steps"].some((name) => record?.answer[name]?.length === 0);
  const offered = KINDS.filter(({ has }) => task[has] && !(has === "sheet" && nothingToDo));
  return (
    offered.length > 0 &&
    h(
      "div",
      null,
      h(
        "p",
        { class: "buttons" },
        offered.map((kind) => opener(task, request, kind, onDevice)),
      ),
      h("p", { role: "alert" }),
    )
  );
}

/** A plain address that says it all; where that cannot be, this page fetches or makes and opens it. */
function opener(task, request, { text, type, options }, onDevice) {
  const query = new URLSearchParams([...flat(request), ...options]).toString();
  const words = `${text} (new tab)`;
  if (!onDevice && !hasKey() && query.length <= ADDRESS_MOST) {
    return h(
      "a",
      { class: "button", target: "_blank", rel: "noopener", href: `v1/${task.name}?${query}` },
      words,
    );
  }
  const button = h("button", { type: "button", onclick: () => fetched(button, task, request, type) }, words);
  return button;
}

async function fetched(button, task, request, type) {
  const said = button.closest("div").querySelector("[role=alert]");
  said.replaceChildren();
  // Opened before anything is waited for: afterwards a browser takes it for an advertisement.
  const tab = open("", "_blank");
  try {
    const { file, problem } = await ask(task.name, request, type);
    if (problem) throw new Lost(problem.detail);
    // The address holds for as long as this page is open, so that the tab can be loaded again.
    const address = URL.createObjectURL(type === "text/html" ? await styled(file) : file);
    if (tab) tab.location.replace(address);
    else
      said.append(h("a", { class: "button", target: "_blank", href: address }, "Ready: open it (new tab)"));
  } catch (error) {
    tab?.close();
    if (!(error instanceof Lost || error instanceof NoKey)) throw error;
    said.append(error.message);
  }
}

/** A page as a file of this page's own, whose policy lets no style stand in the page itself. */
async function styled(file) {
  const page = new DOMParser().parseFromString(await file.text(), "text/html");
  for (const style of page.querySelectorAll("style")) {
    const href = URL.createObjectURL(new Blob([style.textContent], { type: "text/css" }));
    style.replaceWith(h("link", { rel: "stylesheet", href }));
  }
  return new Blob(["<!doctype html>", page.documentElement.outerHTML], { type: "text/html; charset=utf-8" });
}
