// The chart of an answer.

import { ask, Lost, NoKey } from "./ask.js";
import { h } from "./dom.js";

/** Fetches the chart of an answer into its place, as long as `wanted` says that it is still the one shown. */
export async function drawChart(place, task, request, wanted) {
  try {
    const { file, problem } = await ask(task.name, request, "image/svg+xml");
    if (!wanted()) return;
    if (problem) throw new Lost(problem.detail);
    const address = URL.createObjectURL(file);
    const done = () => URL.revokeObjectURL(address);
    place.append(
      h(
        "div",
        { class: "wide", tabindex: 0, role: "group", "aria-label": "Chart" },
        h("img", {
          class: "chart",
          src: address,
          alt: `Chart: ${task.title}. Its numbers are in the answer below.`,
          onload: done,
          onerror: done,
        }),
      ),
    );
  } catch (error) {
    if (!(error instanceof Lost || error instanceof NoKey)) throw error;
    if (wanted()) place.append(h("p", null, `There is no chart. ${error.message}`));
  }
}
