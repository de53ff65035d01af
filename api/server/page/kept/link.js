// A tank or machine as a link: what is constant of it, short enough for a code on a label.

import { contradictions, judge } from "./judge.js";
import { leaves, put, schemaAt } from "./leaves.js";
import { filledPlace, keptSchema, madePlace, placeSchema } from "./place.js";

const VERSION = "1";

/** What most places say, in a letter or two; anything else goes by its path. */
const SHORT = {
  i: "id",
  u: "units",
  n: "name",
  k: "kind",
  p: "product",
  m: "tank.measured_by",
  c: "tank.capacity",
  f: "tank.full_level",
  v: "tank.volume",
  l: "tank.level",
  r: "reading.method",
  x: "reading.factor",
  w: "reading.water_brix",
  b: "band.low",
  t: "band.target",
  h: "band.high",
};
const LONG = Object.fromEntries(Object.entries(SHORT).map(([letter, path]) => [path, letter]));

/** What a link says without a word. */
const UNSAID = {
  units: "metric",
  kind: "machine",
  "tank.measured_by": "volume",
  "reading.method": "refractometer",
};

/** The part of the address after its `#`, in the units in which the place was entered. */
export function fragmentOf(spec, batch, place) {
  const filled = filledPlace(spec, batch, place, place.entered);
  const parts = leaves(spec, keptSchema(spec, batch), { id: place.id, ...filled })
    .filter(({ path, leaf }) => UNSAID[path] !== leaf)
    .map(({ path, leaf }) => [LONG[path] ?? path, String(leaf)]);
  return `place=${[VERSION, seal(parts), ...parts.map((one) => one.map(encodeURIComponent).join("="))].join(";")}`;
}

/** A sum over what a link says (FNV-1a, 32 bits), by which one that was cut off is known. */
function seal(parts) {
  let sum = 0x811c9dc5;
  for (const letter of JSON.stringify(parts)) sum = Math.imul(sum ^ letter.codePointAt(0), 0x01000193);
  return (sum >>> 0).toString(36);
}

/** The whole address. */
export const linkOf = (spec, batch, place) =>
  new URL(`#${fragmentOf(spec, batch, place)}`, location.href).href;

const UNREAD = "The link cannot be read: it was cut off or changed on the way. Scan it again.";

/** The place that a fragment stands for, or why there is none. */
export function placeIn(spec, batch, fragment) {
  const [version, sum, ...parts] = fragment.replace(/^#?place=/, "").split(";");
  const document = {};
  try {
    const pairs = parts.map((part) => part.split("=").map(decodeURIComponent));
    if (version !== VERSION || sum !== seal(pairs)) return { fault: UNREAD };
    const said = new Map([
      ...Object.entries(UNSAID),
      ...pairs.map(([name, text]) => [SHORT[name] ?? name, text]),
    ]);
    for (const [path, text] of said) put(document, path.split("."), text);
    const schema = keptSchema(spec, batch);
    for (const [path, text] of said) {
      const s = schemaAt(spec, schema, document, path.split("."));
      if (spec.kind(s) === "number") put(document, path.split("."), Number(text));
      if (spec.kind(s) === "flag") put(document, path.split("."), text === "true");
    }
  } catch {
    return { fault: UNREAD };
  }
  const { id, units, ...filled } = document;
  if (!["metric", "us"].includes(units) || !/^[a-z0-9]{1,40}$/.test(id ?? "")) return { fault: UNREAD };
  if (judge(spec, placeSchema(spec, batch), filled).length > 0) return { fault: UNREAD };
  const place = madePlace(spec, batch, { ...filled, units }, { id });
  return contradictions(place).length > 0 ? { fault: UNREAD } : { place };
}

/** Whether two places say the same, whenever that was written. */
export function saysTheSame(spec, batch, one, other) {
  return fragmentOf(spec, batch, one) === fragmentOf(spec, batch, other);
}
