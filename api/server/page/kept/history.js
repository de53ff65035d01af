// What was read of a place and done to it: as a drawing, as a table, and as questions to go on with.

import { h } from "../dom.js";
import { shown } from "../units.js";
import { correct } from "./correct.js";
import { forecastQuestion, lossesQuestion, stateQuestion } from "./questions.js";
import { toDo } from "./record.js";
import { timeline } from "./timeline.js";
import { undoable } from "./undo.js";
import { badge, filled, readingText, when } from "./words.js";

/** Draws it. */
export async function history(host, context) {
  const { store, spec, place, units, fill } = context;
  const checks = await store.checks(place.id);
  const again = () => history(host, context);
  const drawing = h("div", { class: "drawing" });
  const goOn = (name, made) => {
    const { document, missing } = made(spec, place, checks, units());
    fill(name, document, missing, place);
  };
  const next = (id, words, isPossible, name, made) =>
    h("button", { type: "button", id, disabled: !isPossible, onclick: () => goOn(name, made) }, words);
  host.replaceChildren(
    h("h2", { tabindex: -1, id: "kept-title" }, place.name),
    h(
      "p",
      { class: "buttons" },
      h("a", { class: "button main", href: `#kept/${place.id}` }, "Check it"),
      h("a", { class: "button", href: `#kept/${place.id}/edit` }, "Change"),
      h("a", { class: "button", href: `#kept/${place.id}/label` }, "Label, link"),
    ),
    h("h3", null, "Checks"),
    ...(checks.length === 0
      ? [h("p", null, "It has not been read yet.")]
      : [drawing, table(checks, context, again), legend(checks)]),
    h("h3", null, "What is in it now, what it loses, and what comes next"),
    h(
      "p",
      { class: "hint" },
      checks.length === 0
        ? "Check it first: what is in it now and what it loses come from its checks."
        : place.losses
          ? "Its losses are known. Work them out again when there are more checks."
          : "From the checks its losses can be worked out, and from them how it will go on.",
    ),
    h(
      "p",
      { class: "buttons" },
      next("kept-state", "What is in it now", checks.length > 0, "sump-state", stateQuestion),
      next("kept-losses", "Work out its losses", checks.length > 0, "losses", lossesQuestion),
      next("kept-forecast", "Look ahead", true, "forecast", forecastQuestion),
    ),
  );
  if (checks.length > 1) timeline(drawing, place, checks);
}

function table(checks, context, again) {
  const { spec, units } = context;
  return h(
    "table",
    { class: "checks" },
    h(
      "thead",
      null,
      h(
        "tr",
        null,
        ["When", "Read", "What was told"].map((text) => h("th", { scope: "col" }, text)),
      ),
    ),
    h(
      "tbody",
      null,
      checks.toReversed().map((check) => row(check, spec, units(), context, again)),
    ),
  );
}

function row(check, spec, units, context, again) {
  const standing = check.standing && badge(check.standing);
  return h(
    "tr",
    null,
    h("th", { scope: "row" }, when(check.at)),
    h(
      "td",
      null,
      h("b", null, readingText(spec, check.reading, units)),
      check.concentration !== undefined && ` = ${shown(check.concentration, 3)}\u00a0%`,
      filled(spec, check, units) && [h("br"), filled(spec, check, units)],
      standing && [h("br"), standing],
    ),
    h(
      "td",
      null,
      check.told ??
        (check.standing === "in_band" ? "Nothing to do." : "What to do was not worked out again."),
      toDo(check) && said(check, context, again),
      h(
        "p",
        null,
        h(
          "button",
          {
            type: "button",
            class: "small",
            "aria-label": `Correct the check of ${when(check.at)}`,
            onclick: () => correct(check, context, again),
          },
          "Correct",
        ),
      ),
    ),
  );
}

/** Whether what was told was done; where nobody said so it is asked. */
function said(check, { store }, again) {
  const strong = (text) => h("p", null, h("strong", null, text));
  if (check.done !== undefined) return strong(check.done ? "Done." : "Not done.");
  const say = async (done) => {
    await store.keepCheck({ ...check, done });
    await again();
    undoable(done ? "Noted: done." : "Noted: not done.", async () => {
      await store.keepCheck(check);
      await again();
    });
  };
  const button = (done, text) =>
    h(
      "button",
      {
        type: "button",
        class: "small",
        "aria-label": `${text}, at the check of ${when(check.at)}`,
        onclick: () => say(done),
      },
      text,
    );
  return [
    strong("Not said whether it was done."),
    h("p", { class: "buttons" }, button(true, "Done as told"), button(false, "Not done")),
  ];
}

const legend = (checks) =>
  checks.length > 1
    ? h(
        "p",
        { class: "hint" },
        "The drawing shows the strength in % by volume: spots in the band, arrowheads outside it, rings after a correction.",
      )
    : "";
