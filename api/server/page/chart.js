// The pictures of an answer.

import { ask, Lost, NoKey } from "./ask.js";
import { h } from "./dom.js";

const LEAST = 280; // the widths that the service draws, in CSS pixels
const MOST = 2000;
const USUAL = 720;
const TURNED = 40; // so many pixels wider or narrower, and it is laid out anew
const SETTLED = 300; // milliseconds that a width has to last
const NOTHING_TO_DRAW = 406; // the status where an answer has no picture
const FACE = "system-ui, sans-serif";

/**
 * Fetches the pictures of an answer into their place, laid out for its width, as long as `wanted` says
 * that the answer is still the one shown. `decimal` is "comma" for who writes numbers so.
 */
export async function drawChart(place, task, request, wanted, decimal = "point") {
  let drawn = 0;
  let latest = 0;
  const draw = async () => {
    latest += 1;
    const own = latest;
    const width = widthOf(place);
    const options = new URLSearchParams({ width: String(width), decimal });
    try {
      const { file, problem } = await ask(`${task.name}?${options}`, request, "image/svg+xml");
      if (!wanted() || own !== latest) return;
      if (problem?.status === NOTHING_TO_DRAW) return;
      if (problem) throw new Lost(problem.detail);
      const pictures = read(await file.text());
      if (!wanted() || own !== latest) return;
      place.replaceChildren(...pictures);
      drawn = width;
    } catch (error) {
      if (!(error instanceof Lost || error instanceof NoKey)) throw error;
      if (wanted() && own === latest && drawn === 0) {
        place.replaceChildren(h("p", null, `There is no picture. ${error.message}`));
      }
    }
  };
  await draw();
  let timer;
  const watch = new ResizeObserver(() => {
    clearTimeout(timer);
    if (!wanted() || !place.isConnected) return watch.disconnect();
    if (drawn === 0 || Math.abs(widthOf(place) - drawn) < TURNED) return;
    timer = setTimeout(draw, SETTLED);
  });
  watch.observe(place);
}

/** The width that a picture has in its place, which shows nothing as long as it is empty. */
function widthOf(place) {
  const width = Math.floor(place.clientWidth || place.parentElement?.clientWidth) || USUAL;
  return Math.min(Math.max(width, LEAST), MOST);
}

/** Each picture of a drawing as an element of this page, so that the page's colours apply to it. */
function read(text) {
  const drawing = new DOMParser().parseFromString(text, "image/svg+xml").documentElement;
  return [...drawing.querySelectorAll(":scope > .p-picture")].map((own) => {
    const picture = document.importNode(own, true);
    picture.removeAttribute("y");
    if (own.matches(".p-true-size")) return apart(picture);
    // The label says it; a title would follow the pointer all over the picture.
    picture.querySelector(":scope > title")?.remove();
    return h("figure", { class: "picture" }, picture);
  });
}

/** What has to be printed in its true size opens by itself: on a page it would be scaled. */
function apart(picture) {
  picture.setAttribute("font-family", FACE);
  const file = new Blob([new XMLSerializer().serializeToString(picture)], { type: "image/svg+xml" });
  return h(
    "p",
    { class: "buttons" },
    h(
      "a",
      { class: "button", target: "_blank", rel: "noopener", href: URL.createObjectURL(file) },
      `${picture.getAttribute("aria-label")} (new tab)`,
    ),
  );
}
