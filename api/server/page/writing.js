// How this person writes decimals, with a comma or with a point: answers are written the same way.

import { h } from "./dom.js";

const KEPT = "decimal-comma";

let comma = remembered();

function remembered() {
  try {
    return localStorage.getItem(KEPT) === "yes";
  } catch {
    /* the browser keeps nothing */
    return false;
  }
}

/** Takes notice of a number as it was typed. */
export function notice(text) {
  const [, sign] = /^\s*[-−+]?\d*([.,])\d+\s*\D*$/.exec(text) ?? [];
  // Three digits behind the sign may stand behind thousands.
  if (!sign || /[.,]\d{3}\s*\D*$/.test(text) || comma === (sign === ",")) return;
  comma = sign === ",";
  try {
    if (comma) localStorage.setItem(KEPT, "yes");
    else localStorage.removeItem(KEPT);
  } catch {
    /* the browser keeps nothing */
  }
}

/** An amount in a sentence: a number and its unit, where it has one. */
const AMOUNT =
  /(\d+(?:[.,\u202f]\d+)*)(?:[ \u00a0](?<unit>%|m?L(?:\/h|\/day)?|US gal|fl oz|kg|lb|m?g\/L|°Brix|°[CFd]H?|µm|mm|in|days?|h|min|ppm)(?![\p{L}\d]))?/gu;

/** A sentence with its amounts in strong letters, and its days on one line. */
export function told(text) {
  const parts = [];
  let from = 0;
  text = writtenIn(text);
  for (const found of text.matchAll(DAY_OR_AMOUNT)) {
    const { day, unit } = found.groups;
    if (!day && !unit) continue;
    const whole = found[0].replaceAll(" ", "\u00a0");
    parts.push(text.slice(from, found.index), h(day ? "time" : "b", null, whole));
    from = found.index + found[0].length;
  }
  parts.push(text.slice(from));
  return parts.filter((part) => part !== "");
}

const VOLUMES = ["L", "mL", "US gal", "fl oz"];

/** What a sentence says amounts of, by their units; volumes are one, in whatever they are measured. */
export function measuredIn(sentence) {
  const units = [...sentence.matchAll(AMOUNT)].map(({ groups }) => groups.unit).filter(Boolean);
  return new Set(units.map((unit) => (VOLUMES.includes(unit) ? "volume" : unit)));
}

/** The digits of the first volume in a sentence; nothing where there is none. */
export const volumeIn = (sentence) =>
  [...sentence.matchAll(AMOUNT)].find(({ groups }) => ["L", "US gal"].includes(groups.unit))?.[1];

const DAY_OR_AMOUNT = new RegExp(`(?<day>\\d{4}-\\d{2}-\\d{2})|${AMOUNT.source}`, "gu");

/** A number with its decimals as this person writes them. */
export const written = (text) => (comma ? text.replace(/(\d)\.(?=\d)/g, "$1,") : text);

/** A sentence as it is printed: with quotation marks that open and close, and no sign apart from its number. */
const set = (sentence) => sentence.replace(/"([^"]*)"/g, "“$1”").replaceAll("± ", "±\u00a0");

/** The same of the amounts in a sentence; a number without a unit may be a part of a name. */
export const writtenIn = (sentence) =>
  set(comma ? sentence.replace(AMOUNT, (all, _, unit) => (unit ? written(all) : all)) : sentence);

/** The name of the sign, as the service calls it. */
export const decimalSign = () => (comma ? "comma" : "point");
