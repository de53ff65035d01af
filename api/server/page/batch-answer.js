// The answer of a batch check: where the fluid stands, what that calls for, and the next reading.

import { behind, cautions, doubts, findings, statement, verdict } from "./answer.js";
import { slope } from "./batch.js";
import { h } from "./dom.js";
import { measuredOut } from "./measured.js";
import { followUp, found } from "./next-reading.js";
import { symbol } from "./schema.js";
import { stepsOf } from "./steps.js";
import { roughly, shown, shownAsWritten } from "./units.js";
import { told, written, writtenIn } from "./writing.js";

/** What a method reads off its instrument: what changes from one check to the next. */
const READS = {
  refractometer: "brix",
  refractive_index: "index",
  titration: "titrant_ml",
  acid_split: "split_ml",
};

const STANDING = {
  below: ["watch", "Too weak"],
  in_band: ["good", "In band"],
  above: ["watch", "Too strong"],
};

/** What disturbs an instrument that is looked through: oil, which a shop finds in a tank and no scale shows. */
const oilIn = ({ assumptions }, { method }, reads) =>
  ["refractometer", "refractive_index"].includes(method)
    ? assumptions.filter(({ pointer }) => pointer === `/sump/reading/${reads}`)
    : [];

/** Whether something has to be poured or drained: out of the band, or to fill the tank. */
function needed({ record, strength, tank }) {
  const { drain, add, after } = record.answer;
  const counts = (number) => number > 1e-6 * after.volume;
  const moved = counts(drain) || add.some((one) => counts(one.volume));
  const filled = (tank.fill_to ?? tank.fill_to_level) != null;
  return { moved, now: moved && (strength.answer.standing !== "in_band" || filled) };
}

/** Which of the two answers is drawn: what is poured, or where the reading lies. */
export const pictured = (outcome) => outcome.asked[needed(outcome).now ? 1 : 0];

/** The checks of this batch so far, the last one first. */
const log = (checks) =>
  checks.length > 1 &&
  h(
    "section",
    null,
    h("h3", null, "This batch so far"),
    h("ol", { reversed: true }, checks.map((one) => h("li", null, one)).reverse()),
  );

/** What the answer goes by, where a slip is seen, and the way to put it right; `last` tells of a kept tank's check before. */
const goesBy = (parts, last, change) =>
  h(
    "p",
    { class: "goes-by" },
    h(
      "span",
      null,
      `Goes by ${parts.slice(0, -1).join(", ")} and ${parts.at(-1)}${last ? ` (last time ${last})` : ""}. `,
    ),
    h("button", { type: "button", class: "small", id: "goes-by", onclick: change }, "Change"),
  );

/**
 * The whole answer; `again` takes the next reading and the volume or level it was taken at, `change` goes back to the
 * entries, `document` is what was asked and `typed` what was typed for it.
 */
export function show(
  outcome,
  { figures, recordSchema, checks, again, change, last, document, typed, picture },
) {
  const { record, strength, tank } = outcome;
  const { volume } = measuredOut(record.answer);
  const { standing, concentration } = strength.answer;
  const { spec, units } = figures;
  const { schema: instrument } = spec.branchOf(spec.schemas.StrengthReading, document.reading);
  const reads =
    READS[document.reading.method] ??
    spec.members(instrument).find((one) => spec.kind(one.schema) === "number").name;
  const now = document.reading[reads];
  const does = needed(outcome);
  const doubted = (record.findings ?? []).some(doubts);
  const [kind, word] = doubted ? ["act", "Check the reading"] : STANDING[standing];
  // Out of the band the record says what to do, or why nothing can be done.
  const inBand = standing === "in_band" && !does.now;
  const text = inBand ? `Nothing to correct. ${strength.statement}` : record.statement;
  const check = writtenIn(
    `Read ${shownAsWritten(now)}, which is ${shown(concentration, 3)}\u00a0%. ${word}${inBand ? "." : `. ${text}`}`,
  );
  if (checks.at(-1) !== check) checks.push(check);
  const isLevel = tank.measured_by === "level";
  const holds = roughly(volume, tank.capacity);
  const level = isLevel ? roughly(volume / slope(tank), tank.full_level) : undefined;
  const strong = (number, { symbol: names }) =>
    h("b", null, `${written(shown(number))}\u00a0${names[units]}`);
  const then = () =>
    h(
      "p",
      null,
      "The tank then holds ",
      strong(holds, spec.quantities.Volume),
      isLevel && [", at a level of ", strong(level, spec.quantities.Length)],
      ".",
    );
  // Where oil may read as concentrate, it comes before water that is poured for it.
  const oil = oilIn(record, document.reading, reads);
  const thins = does.now && standing === "above";
  const first = thins
    ? [...(record.findings ?? []), ...oil.map((one) => ({ ...one, severity: "note" }))]
    : record.findings;
  const careOf = (list) => cautions(thins ? list : [...oil, ...list]);
  const { steps } = stepsOf(figures, recordSchema, record);
  const straight = {
    pointer: "",
    text: "The tank’s walls were assumed to be straight, so that volume is proportional to level.",
  };
  const assumptions = !isLevel ? record.assumptions : [...record.assumptions, straight];
  const head = statement(text, record, verdict(kind, `${word}: ${written(shown(concentration, 3))}\u00a0%`));
  const amount = (number, unit) => `${written(shownAsWritten(number))}${unit ? `\u00a0${unit}` : ""}`;
  const held = found(tank, spec, units);
  const inIt = amount(held.number, held.unit);
  const entered = goesBy(
    [
      amount(now, symbol(spec.member(instrument, reads), units)),
      held.isLevel ? `a level of ${inIt}` : `${inIt} in it`,
      ...(typed.band?.target == null
        ? [`the middle of the band, ${written(shown(document.band.target, 3))}\u00a0%`]
        : []),
    ],
    last,
    change,
  );
  const next = (expected) =>
    followUp(outcome, { ...document, band: typed.band }, reads, expected, {
      spec,
      units,
      again,
      doubted: doubted && now,
      mark: record.answer.after.mark,
      poured: does.now,
    });
  const unfolded = h(
    "section",
    { class: "behind" },
    h("h3", null, "Figures"),
    behind(figures, recordSchema, { ...record, assumptions }),
  );
  if (doubted) {
    // What follows from a reading that is in doubt is no advice.
    return [
      head,
      entered,
      next(),
      h(
        "details",
        { class: "fold" },
        h("summary", null, "Only if it is read twice and right"),
        picture,
        findings(record.findings),
        does.now && [then(), steps],
        cautions(record.cautions),
      ),
      log(checks),
      unfolded,
    ];
  }
  return [
    head,
    entered,
    picture,
    findings(first),
    does.now && [then(), steps],
    !does.now &&
      does.moved &&
      h(
        "details",
        { class: "fold" },
        h("summary", null, "To bring it exactly to its target, or fuller"),
        h("p", null, told(record.statement)),
        then(),
        h(
          "p",
          { class: "hint" },
          "To fill it up, say in the entries, under “More options”, to what level: “Fill it to”.",
        ),
        steps,
        cautions(record.cautions),
      ),
    careOf(does.now ? record.cautions : strength.cautions),
    next(does.now ? (level ?? holds) : undefined),
    log(checks),
    unfolded,
  ];
}
