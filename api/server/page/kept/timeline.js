// The strength of a place over time, with its band: drawn at the size it is shown, so that letters keep theirs.

import { svg } from "../dom.js";
import { shown } from "../units.js";
import { when } from "./words.js";

const HEIGHT = 240;
const EDGE = { left: 44, right: 14, top: 16, bottom: 30 };
const WIDTHS = [300, 900];

/** Draws the checks of a place into `host`, again whenever its width changes. */
export function timeline(host, place, checks) {
  const read = checks.filter((check) => Number.isFinite(check.concentration));
  if (read.length < 2) return;
  const draw = () => {
    const width = Math.min(Math.max(host.clientWidth, WIDTHS[0]), WIDTHS[1]);
    if (host.firstChild?.getAttribute("width") !== String(width))
      host.replaceChildren(drawing(place, read, width));
  };
  draw();
  new ResizeObserver(draw).observe(host);
}

/** The points: what was read, and what it came to when that was corrected. */
function pointsOf(checks) {
  return checks.flatMap((check) => {
    const at = Date.parse(check.at);
    const point = { at, strength: check.concentration, standing: check.standing ?? "in_band" };
    const after = check.done && check.after?.concentration;
    return Number.isFinite(after) ? [point, { at, strength: after, standing: "corrected" }] : [point];
  });
}

function drawing({ name, band }, checks, width) {
  const points = pointsOf(checks);
  const values = [...points.map((one) => one.strength), band.low, band.high];
  const steps = ticks(Math.min(...values), Math.max(...values), 5);
  const [low, high] = [steps[0], steps.at(-1)];
  const [first, last] = [points[0].at, points.at(-1).at];
  const x = (at) => EDGE.left + ((width - EDGE.left - EDGE.right) * (at - first)) / (last - first || 1);
  const y = (strength) =>
    EDGE.top + ((HEIGHT - EDGE.top - EDGE.bottom) * (high - strength)) / (high - low || 1);
  const right = width - EDGE.right;
  return svg(
    "svg",
    {
      viewBox: `0 0 ${width} ${HEIGHT}`,
      width,
      height: HEIGHT,
      class: "timeline",
      role: "img",
      "aria-label": told(name, band, checks),
    },
    svg("rect", {
      class: "band",
      x: EDGE.left,
      y: y(band.high),
      width: right - EDGE.left,
      height: y(band.low) - y(band.high),
    }),
    steps.map((step) => [
      svg("path", { class: "grid", d: `M${EDGE.left} ${y(step)}H${right}` }),
      svg("text", { x: EDGE.left - 6, y: y(step) + 4, "text-anchor": "end" }, shown(step)),
    ]),
    svg("text", { x: 4, y: 12 }, "%"),
    svg("path", { class: "target", d: `M${EDGE.left} ${y(band.target)}H${right}` }),
    days(first, last, width).map(({ at, text, anchor }) =>
      svg("text", { x: x(at), y: HEIGHT - 8, "text-anchor": anchor }, text),
    ),
    svg("path", {
      class: "line",
      d: points
        .map((one, i) => `${i ? "L" : "M"}${x(one.at).toFixed(1)} ${y(one.strength).toFixed(1)}`)
        .join(""),
    }),
    points.map((one) => dot(one.standing, x(one.at), y(one.strength))),
  );
}

/** A round spot in the band, an arrowhead down or up outside it, a ring where it was corrected to. */
function dot(standing, x, y) {
  if (standing === "in_band" || standing === "corrected")
    return svg("circle", { class: `dot ${standing}`, cx: x, cy: y, r: 4.5 });
  const turn = standing === "below" ? 1 : -1;
  return svg("path", { class: `dot ${standing}`, d: `M${x} ${y + 6 * turn}l-6 ${-11 * turn}h12z` });
}

/** Round numbers that enclose two others. */
function ticks(low, high, most) {
  const span = high - low || Math.abs(high) || 1;
  const power = 10 ** Math.floor(Math.log10(span / most));
  const step = [1, 2, 5, 10].find((one) => span / (one * power) <= most) * power;
  const from = Math.floor(low / step + 1e-9);
  const to = Math.ceil(high / step - 1e-9);
  return Array.from({ length: to - from + 1 }, (_, i) => Number(((from + i) * step).toPrecision(12)));
}

/** Dates along the bottom, as many as have room. */
function days(first, last, width) {
  const count = Math.min(Math.max(2, Math.floor(width / 150)), 6);
  const language = document.documentElement.lang || "en";
  const sameDay = new Date(first).toDateString() === new Date(last).toDateString();
  const text = (at) =>
    sameDay
      ? new Date(at).toLocaleTimeString(language, { hour: "2-digit", minute: "2-digit", hour12: false })
      : new Date(at).toLocaleDateString(language, { day: "numeric", month: "short" });
  const all = Array.from({ length: count }, (_, i) => {
    const at = first + ((last - first) * i) / (count - 1);
    return { at, text: text(at), anchor: i === 0 ? "start" : i === count - 1 ? "end" : "middle" };
  });
  return all.filter((one, i) => i === 0 || one.text !== all[i - 1].text);
}

function told(name, band, checks) {
  const last = checks.at(-1);
  const outside = checks.filter((check) => check.standing && check.standing !== "in_band").length;
  return (
    `Strength of ${name} over time, ${checks.length} checks, ${outside} of them outside the band of ` +
    `${shown(band.low)} to ${shown(band.high)} %. Last: ${shown(last.concentration, 3)} %, ${when(last.at)}. ` +
    "The numbers are in the table."
  );
}
