// The next reading of the batch that was just answered, or the right one in place of that which is in doubt.

import { h } from "./dom.js";
import { askBack, isFar, onceAtATime } from "./far.js";
import { symbol } from "./schema.js";
import { asWritten, read, shownAsWritten, typed, unread } from "./units.js";
import { written } from "./writing.js";

/** How full a tank was found: a number with its unit, of a level or of a volume. */
export const found = ({ measured_by: by, level, volume }, { quantities }, units) =>
  by === "level"
    ? { isLevel: true, number: level, unit: quantities.Length.symbol[units] }
    : { isLevel: false, number: volume, unit: quantities.Volume.symbol[units] };

/** A number with its unit behind it. */
const behind = (number, unit) => `${number}${unit ? `\u00a0${unit}` : ""}`;

/** A number to be typed: its field, and what is said of it. */
function numberField({ id, title, unit, value }) {
  const input = h("input", {
    id,
    inputmode: "decimal",
    autocomplete: "off",
    value,
    "aria-describedby": `${id}-fault`,
  });
  input.addEventListener("focus", () => input.select());
  const fault = h("p", { class: "fault", id: `${id}-fault` });
  const label = h("label", { for: id }, title, unit && h("span", { class: "unit" }, `, ${unit}`));
  return { input, fault, element: h("div", { class: "field number" }, label, input, fault) };
}

/**
 * Both numbers of the next check. The reading has to be near the one before, or near `mark` where something is poured
 * until then; one in doubt tells nothing of the right one. The tank has to be about as full as it is `expected` to be,
 * or was found.
 */
function fieldsOf({ tank }, document, member, expected, { spec, units, doubted, done, mark }) {
  const schema = spec.member(spec.branchOf(spec.schemas.StrengthReading, document.reading).schema, member);
  const { isLevel, number: filled, unit } = found(tank, spec, units);
  const before = (number, of) => behind(written(shownAsWritten(number)), of);
  const scale = symbol(schema, units);
  const at = done ? "then" : "now";
  // What was left in the field is no typing of anybody's, and is meant as it stood there.
  const meant = expected ?? filled;
  const near = doubted ? undefined : done ? mark : document.reading[member];
  return [
    {
      kind: "reading",
      ...numberField({
        id: "next-reading",
        title: doubted ? "Right reading" : "New reading",
        unit: scale,
        value: null,
      }),
      unit: scale,
      most: schema.maximum,
      usual: near,
      // An answer need not have a mark.
      was: near === undefined ? "" : `${done ? "It should read" : "It read"} ${before(near, scale)}.`,
    },
    {
      kind: "tank",
      ...numberField({
        id: "next-volume",
        title: isLevel ? `Level ${at}` : `In the tank ${at}`,
        unit,
        value: typed(asWritten(meant)),
      }),
      unit,
      most: spec.member(spec.schemas.SumpAfter, "volume").maximum,
      holds: isLevel ? tank.full_level : tank.capacity,
      usual: meant,
      was: `${done ? "It should hold" : "It held"} ${before(meant, unit)}.`,
    },
  ];
}

/** Reads a field, and says what is wrong with it; whether all is well. */
function take(field) {
  const { input, fault, kind, usual, most, holds, unit } = field;
  const untouched = kind === "tank" && input.value === typed(asWritten(usual));
  field.number = untouched ? usual : read(input.value, most);
  fault.classList.remove("asks");
  fault.textContent =
    field.number === undefined
      ? "Nothing is filled in here."
      : typeof field.number === "string"
        ? unread(field.number, unit)
        : field.number > (holds ?? Infinity)
          ? `It holds ${behind(typed(holds), unit)} at most.`
          : "";
  if (fault.textContent) input.setAttribute("aria-invalid", "true");
  else input.removeAttribute("aria-invalid");
  return !fault.textContent;
}

/**
 * Asks for it. `again` takes the document of the next check, and whether what was told is done before it; `doubted` is
 * the reading in doubt, `poured` whether something is to be poured or drained, `mark` what it must read then, and
 * `expected` how full the tank then is.
 */
export function followUp(outcome, document, member, expected, { spec, units, again, doubted, poured, mark }) {
  const isDoubted = doubted !== false;
  const done = !isDoubted && poured;
  const fields = fieldsOf(outcome, document, member, expected, {
    spec,
    units,
    doubted: isDoubted,
    done,
    mark,
  });
  const sure = new Map(); // the numbers far from the usual ones that were asked back, by their fields
  const whole = h(
    "form",
    { class: "again", novalidate: true, "aria-labelledby": "again" },
    h(
      "h3",
      { id: "again" },
      isDoubted
        ? `You typed ${written(shownAsWritten(doubted))}. What does it read?`
        : done
          ? "Poured as told, mixed, and read again?"
          : "Read again?",
    ),
    isDoubted &&
      h("p", { class: "hint" }, "Nothing is written down yet. Pour nothing before it is read again."),
    h(
      "div",
      { class: "members" },
      fields.map((one) => one.element),
    ),
    h("p", { class: "buttons" }, h("button", { class: "main" }, "Check again")),
  );
  onceAtATime(whole);
  whole.addEventListener("submit", (event) => {
    event.preventDefault();
    const wrong = fields.filter((one) => !take(one));
    if (wrong.length > 0) return wrong[0].input.focus();
    // Somebody who means it taps once more.
    const far = fields.find((one) => isFar(one.kind, one.number, one.usual) && sure.get(one) !== one.number);
    if (far) {
      const { input, fault, unit, was, number } = far;
      sure.set(far, number);
      askBack(input, fault, { was, is: behind(input.value, unit), button: "Check again" });
      return input.focus();
    }
    const { tank } = outcome;
    const [reading, amount] = fields.map((one) => one.number);
    again(
      {
        ...document,
        reading: { ...document.reading, [member]: reading },
        tank: { ...tank, [found(tank, spec, units).isLevel ? "level" : "volume"]: amount },
      },
      done,
    );
  });
  return whole;
}
