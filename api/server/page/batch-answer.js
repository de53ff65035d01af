// The answer of a batch check: where the fluid stands, what that calls for, and the next reading.

import { cautions, findings } from "./answer.js";
import { slope } from "./batch.js";
import { h, svg } from "./dom.js";
import { symbol } from "./schema.js";
import { read, shown, unread } from "./units.js";

/** What a method reads off its instrument: what changes from one check to the next. */
const READS = {
  refractometer: "brix",
  refractive_index: "index",
  titration: "titrant_ml",
  acid_split: "split_ml",
};

/** Shapes that say the same as the words beside them. */
const SHAPES = {
  in_band: [
    ["circle", { cx: 24, cy: 24, r: 20 }],
    ["path", { d: "M14 25l7 8 14-17" }],
  ],
  add: [
    ["path", { d: "M6 22v20h36v-20" }],
    ["path", { d: "M24 4v28M14 22l10 10 10-10" }],
  ],
  drain: [
    ["path", { d: "M6 4v22h36v-22" }],
    ["path", { d: "M24 14v30M14 34l10 10 10-10" }],
  ],
};
const shape = (name) =>
  svg(
    "svg",
    { viewBox: "0 0 48 48", class: "shape", "aria-hidden": "true" },
    SHAPES[name].map(([tag, attributes]) => svg(tag, attributes)),
  );

const STANDING = { below: "Too weak", in_band: "In band", above: "Too strong" };

/** Where the fluid stands, and what that calls for. */
function verdict({ record, strength, tank }, answers) {
  const { drain, add, after, misses_by: misses } = record.answer;
  const amount = (number) =>
    answers.plain(answers.spec.member(answers.spec.schemas.TopUpAnswer, "drain"), number);
  const counts = (number) => number > 1e-6 * after.volume;
  const added = add.filter((one) => counts(one.volume));
  const premixed = record.answer.steps.some((step) => step.action === "add_premix");
  const { standing, concentration } = strength.answer;
  const parts = [
    counts(drain) && { word: "drain", text: `${amount(drain)}${added.length > 0 ? " first" : ""}` },
    added.length > 0 && {
      word: "add",
      text:
        added.map((one) => `${amount(one.volume)} of ${one.name}`).join(" and ") +
        (premixed ? ", mixed beforehand" : ""),
    },
  ].filter(Boolean);
  // Inside the band nothing must be done, unless the tank is to be filled.
  const needed = parts.length > 0 && (standing !== "in_band" || (tank.fill_to ?? tank.fill_to_level) != null);
  const words = parts.map(({ word, text }) => `${word} ${text}`).join(", then ");
  const told = (record.findings ?? []).some((one) =>
    ["off-target", "too-rich", "in-band-off-target"].includes(one.code),
  );
  return {
    title: STANDING[standing],
    concentration,
    parts,
    needed,
    words,
    misses: misses > 0.005 && !told ? misses : 0,
  };
}

function statement({ title, concentration, parts, needed, misses }) {
  const line = (name, word, text, more) =>
    h(
      "p",
      { class: "verdict" },
      name && shape(name),
      h("span", null, h("strong", null, word), " ", h("b", null, text), more),
    );
  const now = h("span", { class: "hint" }, ` It is at ${shown(concentration)}\u00a0% by volume.`);
  const inBand = title === STANDING.in_band;
  return h(
    "section",
    { class: "statement", id: "statement" },
    line(inBand && "in_band", `${title}.`, inBand && !needed ? "Nothing to correct." : "", now),
    needed && parts.map(({ word, text }) => line(word, word[0].toUpperCase() + word.slice(1), `${text}.`)),
    misses > 0 &&
      h(
        "p",
        null,
        `This leaves it ${shown(misses)} points off its target: there is no room, or no stock, for more.`,
      ),
  );
}

/** The instrument's scale: the band, where it reads, and where it is to read. */
function scale(now, marks, after) {
  const all = [now, marks.low, marks.high, after].filter(Number.isFinite);
  const [low, high] = [Math.min(...all), Math.max(...all)];
  const at = (mark) => 30 + (260 * (mark - low)) / (high - low || 1);
  const text = (x, y, words) =>
    svg("text", { x, y, "text-anchor": x > 270 ? "end" : x < 50 ? "start" : "middle" }, words);
  return svg(
    "svg",
    {
      viewBox: "0 0 320 100",
      class: "scale",
      role: "img",
      "aria-label": `On the scale: it reads ${shown(now)}, and is kept between ${shown(marks.low)} and ${shown(marks.high)}.`,
    },
    svg("path", { d: "M20 50h280" }),
    svg("rect", { x: at(marks.low), y: 42, width: at(marks.high) - at(marks.low), height: 16 }),
    text((at(marks.low) + at(marks.high)) / 2, 76, `band ${shown(marks.low)} to ${shown(marks.high)}`),
    svg("path", { class: "now", d: `M${at(now)} 40l-7-12h14z` }),
    text(at(now), 22, `now ${shown(now)}`),
    Number.isFinite(after) && [
      svg("path", { d: `M${at(after)} 60v-20` }),
      text(at(after), 94, `aim ${shown(after)}`),
    ],
  );
}

/** The checks of this batch so far, the last one first. */
const log = (checks) =>
  checks.length > 1 &&
  h(
    "section",
    null,
    h("h3", null, "This batch so far"),
    h("ol", { reversed: true }, checks.map((one) => h("li", null, one)).reverse()),
  );

/** The whole answer; `again` takes the next reading and the volume or level it was taken at. */
export function show(outcome, { answers, recordSchema, checks, again, document }) {
  const { record, strength, tank } = outcome;
  const { after } = record.answer;
  const { marks } = strength.answer;
  const { spec, units } = answers;
  const { schema: instrument } = spec.branchOf(spec.schemas.Reading, document.reading);
  const reads =
    READS[document.reading.method] ??
    spec.members(instrument).find((one) => spec.kind(one.schema) === "number").name;
  const now = document.reading[reads];
  const said = verdict(outcome, answers);
  const check = `Read ${shown(now)}, which is ${shown(said.concentration)}\u00a0%. ${said.title}${said.needed ? `: ${said.words}` : ""}.`;
  if (checks.at(-1) !== check) checks.push(check);
  const level = tank.measured_by === "level" ? after.volume / slope(tank) : undefined;
  const then = () =>
    h(
      "p",
      null,
      marks &&
        after.mark !== undefined && [
          "Afterwards the scale must read ",
          h("b", null, shown(after.mark)),
          ". ",
        ],
      "The tank then holds ",
      h("b", null, answers.plain(spec.member(spec.schemas.SumpAfter, "volume"), after.volume)),
      level !== undefined && [
        ", at a level of ",
        h("b", null, `${shown(level)}\u00a0${spec.quantities.Length.symbol[units]}`),
      ],
      ".",
    );
  const { list } = answers.stepsOf(recordSchema, record);
  const straight = {
    pointer: "",
    text: "The tank’s walls were assumed to be straight, so that volume is proportional to level.",
  };
  return [
    record.reference && h("p", { class: "reference" }, record.reference),
    statement(said),
    findings(record.findings),
    marks && scale(now, marks, said.needed ? after.mark : marks.target),
    marks &&
      h(
        "p",
        null,
        "Keep it between ",
        h("b", null, shown(marks.low)),
        " and ",
        h("b", null, shown(marks.high)),
        " on the scale.",
      ),
    said.needed && then(),
    cautions(record.cautions),
    said.needed && h("section", null, h("h3", null, "What to do"), list),
    !said.needed &&
      said.parts.length > 0 &&
      h(
        "details",
        { class: "fold" },
        h("summary", null, `To bring it exactly to its target anyway: ${said.words}`),
        then(),
        list,
      ),
    followUp(outcome, document, reads, said.needed ? (level ?? after.volume) : undefined, {
      spec,
      units,
      again,
    }),
    log(checks),
    answers.behind(
      recordSchema,
      level === undefined ? record : { ...record, assumptions: [...record.assumptions, straight] },
    ),
  ];
}

/** The next reading of the same batch. */
function followUp({ tank }, document, member, expected, { spec, units, again }) {
  const reading = spec.branchOf(spec.schemas.Reading, document.reading).schema;
  const most = {
    "next-reading": spec.member(reading, member).maximum,
    "next-volume": spec.member(spec.schemas.SumpAfter, "volume").maximum,
  };
  const field = (id, title, value, unit) =>
    h(
      "div",
      { class: "field number" },
      h("label", { for: id }, title, unit && h("span", { class: "unit" }, `, ${unit}`)),
      h("input", { id, inputmode: "decimal", autocomplete: "off", value, "aria-describedby": `${id}-fault` }),
      h("p", { class: "fault", id: `${id}-fault` }),
    );
  const filled = tank.measured_by === "level" ? tank.level : tank.volume;
  const where = tank.measured_by === "level" ? "Level then" : "In the tank then";
  const unit =
    tank.measured_by === "level"
      ? spec.quantities.Length.symbol[units]
      : symbol(spec.member(spec.schemas.SumpAfter, "volume"), units);
  const rounded = Number((expected ?? filled).toPrecision(6));
  const whole = h(
    "form",
    { class: "again", novalidate: true, "aria-labelledby": "again" },
    h("h3", { id: "again" }, "Mixed and read again?"),
    h(
      "div",
      { class: "members" },
      field("next-reading", "New reading", null, symbol(spec.member(reading, member), units)),
      field("next-volume", where, rounded, unit),
    ),
    h("p", { class: "buttons" }, h("button", { class: "main" }, "Check again")),
  );
  whole.addEventListener("submit", (event) => {
    event.preventDefault();
    const next = ["next-reading", "next-volume"].map((id) => {
      const input = whole.querySelector(`#${id}`);
      // What was left in the field is no typing of anybody's.
      const number =
        id === "next-volume" && input.value === String(rounded) ? rounded : read(input.value, most[id]);
      const fault =
        number === undefined ? "A number is missing here." : typeof number === "string" ? unread(number) : "";
      input.toggleAttribute("aria-invalid", false);
      if (fault) input.setAttribute("aria-invalid", "true");
      whole.querySelector(`#${id}-fault`).textContent = fault;
      return { input, number, fault };
    });
    const wrong = next.find((one) => one.fault);
    if (wrong) return wrong.input.focus();
    // It is meant exactly.
    const volume = next[1].number === rounded ? (expected ?? filled) : next[1].number;
    again({
      ...document,
      reading: { ...document.reading, [member]: next[0].number },
      tank: { ...tank, [tank.measured_by === "level" ? "level" : "volume"]: Number(volume.toPrecision(13)) },
    });
  });
  return whole;
}
