// An answer for the eye, from the schema of its record.

import { h } from "./dom.js";
import { brief, hint, label, titled, unitAfter } from "./schema.js";
import { shown } from "./units.js";

const STEPS = ["sheet", "steps"];
const SAID = ["action", "name", "stock", "sump", "text"];
const ROWS_MOST = 14; // longer tables start folded
const COLUMNS_MOST = 9; // wider ones are told entry by entry
const SENTENCE = 48; // a longer text is a sentence and no cell

export class Answers {
  /** `question` is the schema of what was asked, which the answer may point into. */
  constructor(spec, units, question) {
    Object.assign(this, { spec, units, question });
  }

  /** What is known of a value: its schema, a union's own branch already chosen. */
  shape(schema, value) {
    const s = this.spec.resolve(schema);
    return this.spec.kind(s) === "union" ? (this.spec.branchOf(s, value)?.schema ?? {}) : s;
  }

  /** A plain value with its unit. */
  plain(schema, value) {
    if (typeof value === "number") {
      const unit = brief(schema, this.units);
      return `${shown(value)}${unit ? `\u00a0${unit}` : ""}`;
    }
    if (typeof value === "boolean") return value ? "yes" : "no";
    return schema.enum ? value.replaceAll("_", " ") : String(value);
  }

  /** Any value under a heading of this level. */
  value(schema, value, level) {
    const s = this.shape(schema, value);
    if (value === null || typeof value !== "object") return h("p", null, this.plain(s, value));
    return Array.isArray(value) ? this.list(s, value, level) : this.members(s, value, level);
  }

  /** An object: its plain members first, then the rest, each under its name. */
  members(s, value, level) {
    const { flat, deep } = this.parts(s, value);
    return [this.figures(flat), this.sections(deep, level)];
  }

  parts(s, value, without = []) {
    const members = Object.entries(value)
      .filter(([name]) => !without.includes(name))
      .map(([name, member]) => {
        const own = this.spec.member(s, name);
        return { title: titled(own, name), member, schema: this.shape(own, member) };
      });
    const isFlat = ({ member }) => member === null || typeof member !== "object";
    return { flat: members.filter(isFlat), deep: members.filter((one) => !isFlat(one)) };
  }

  figures(flat) {
    return (
      flat.length > 0 &&
      h(
        "dl",
        null,
        flat.map(({ title, member, schema }) =>
          h(
            "div",
            null,
            h("dt", null, title),
            h("dd", null, this.plain(schema, member)),
            hint(schema) && h("dd", { class: "hint" }, hint(schema)),
          ),
        ),
      )
    );
  }

  sections(deep, level) {
    return deep.map(({ title, member, schema }) =>
      h(
        "section",
        null,
        h(`h${Math.min(level, 6)}`, null, title),
        hint(schema) && h("p", { class: "hint" }, hint(schema)),
        this.value(schema, member, level + 1),
      ),
    );
  }

  list(s, entries, level) {
    if (entries.length === 0) return h("p", null, "none");
    const items = s.items ?? {};
    if (entries.every((entry) => typeof entry !== "object")) {
      const item = this.spec.resolve(items);
      return h("p", null, entries.map((entry) => this.plain(item, entry)).join(", "));
    }
    const rows = entries.map((entry) => this.cells(items, entry));
    const columns = [...new Map(rows.flatMap((row) => [...(row ?? [])]))];
    if (rows.includes(null) || columns.length > COLUMNS_MOST) {
      const titles = entries.map(title);
      const told = (one, i) =>
        one !== undefined && titles.indexOf(one) === titles.lastIndexOf(one)
          ? one
          : [i + 1, one].filter(Boolean).join(": ");
      return entries.map((entry, i) =>
        h(
          "details",
          { class: "fold" },
          h("summary", null, told(titles[i], i)),
          this.value(items, entry, level),
        ),
      );
    }
    return this.fold(entries.length, this.table(columns, rows), "rows");
  }

  fold(count, body, noun) {
    return count > ROWS_MOST
      ? h("details", { class: "fold" }, h("summary", null, `${count} ${noun}`), body)
      : body;
  }

  /** A row: each plain value by its path; nothing when a list of entries is inside. */
  cells(schema, entry, path = [], above = []) {
    const s = this.shape(schema, entry);
    const cells = new Map();
    for (const [name, member] of Object.entries(entry ?? {})) {
      const own = this.spec.member(s, name);
      const inner = this.shape(own, member);
      const at = [...path, name];
      const titles = [...above, titled(own, name)];
      if (Array.isArray(member)) {
        if (member.some((one) => typeof one === "object")) return null;
        const item = this.spec.resolve(inner.items);
        cells.set(at.join("."), { titles, text: member.map((one) => this.plain(item, one)).join(", ") });
      } else if (member && typeof member === "object") {
        const within = this.cells(inner, member, at, titles);
        if (!within) return null;
        within.forEach((cell, key) => cells.set(key, cell));
      } else if (typeof member === "number") {
        const unit = unitAfter(titles.at(-1), inner, this.units);
        cells.set(at.join("."), { titles, number: true, unit, text: shown(member) });
      } else {
        cells.set(at.join("."), { titles, text: this.plain(inner, member) });
      }
    }
    return cells;
  }

  /** Rows and columns; what is a sentence stands on a line of its own under its row. */
  table(columns, rows) {
    const isSentence = ([path]) =>
      rows.some((row) => !row.get(path)?.number && (row.get(path)?.text ?? "").length > SENTENCE);
    const sentences = columns.filter(isSentence);
    const cells = columns.filter((one) => !sentences.includes(one));
    const said = (row) =>
      sentences.map(
        ([path, { titles }]) =>
          row.get(path)?.text &&
          h(
            "tr",
            { class: "said" },
            h(
              "td",
              { colspan: Math.max(cells.length, 1) },
              h("p", null, h("span", { class: "hint" }, `${heading(titles, columns)}: `), row.get(path).text),
            ),
          ),
      );
    return h(
      "div",
      { class: "wide", tabindex: 0, role: "group", "aria-label": "Table" },
      h(
        "table",
        null,
        h(
          "thead",
          null,
          h(
            "tr",
            null,
            cells.map(([, { titles, unit, number }]) =>
              h(
                "th",
                { scope: "col", class: number && "number" },
                heading(titles, columns),
                unit && h("span", { class: "unit" }, ` ${unit}`),
              ),
            ),
          ),
        ),
        h(
          "tbody",
          null,
          rows.map((row) => [
            h(
              "tr",
              null,
              cells.map(([path]) =>
                h("td", { class: row.get(path)?.number && "number" }, row.get(path)?.text ?? ""),
              ),
            ),
            said(row),
          ]),
        ),
      ),
    );
  }

  /** What to do, in order: each step with its amounts; what a kind of step means is said once. */
  steps(schema, steps) {
    const item = this.spec.resolve(schema.items);
    const meant = new Set();
    const list = h(
      "ol",
      { class: "steps" },
      steps.map((step) => {
        const stock = step.stock ?? step.name;
        const rest = Object.entries(step)
          .filter(
            ([name, value]) =>
              !SAID.includes(name) && typeof value !== "object" && !(stock && name === "concentration"),
          )
          .map(([name, value]) => ({ name, value, schema: this.spec.member(item, name) }));
        const amount = ({ value, schema: s }) => typeof value === "number" && brief(s, this.units);
        const where = rest
          .filter((one) => !amount(one))
          .map(({ name, value, schema: s }) =>
            typeof value === "string"
              ? this.plain(s, value)
              : `${name.replaceAll("_", " ")} ${this.plain(s, value)}`,
          );
        const amounts = rest.filter(amount).map(({ value, schema: s }) => h("b", null, this.plain(s, value)));
        const known = meant.size === meant.add(step.action + step.text).size;
        return h(
          "li",
          null,
          h("strong", null, label(step.action ?? ""), step.sump ? ` ${step.sump}` : ""),
          stock && ` ${stock}`,
          " ",
          amounts.map((one, i) => [i > 0 && ", ", one]),
          where.length > 0 && h("span", { class: "hint" }, where.join(", ")),
          !known && h("span", null, step.text),
        );
      }),
    );
    return this.fold(steps.length, list, "steps");
  }

  /** The steps that a record's answer holds, when it holds any. */
  stepsOf(recordSchema, record) {
    const answer = this.spec.member(this.spec.resolve(recordSchema), "answer");
    const name = STEPS.find((one) => Array.isArray(record.answer[one]));
    const does = name && record.answer[name].length > 0;
    return { answer, name, list: does && this.steps(this.spec.member(answer, name), record.answer[name]) };
  }

  /** A whole record, after whatever the task says first. */
  record(recordSchema, record, ...first) {
    const { answer, name, list } = this.stepsOf(recordSchema, record);
    const { flat, deep } = this.parts(answer, record.answer, [name]);
    return [
      record.reference && h("p", { class: "reference" }, record.reference),
      statement(record.statement),
      findings(record.findings),
      first,
      this.figures(flat),
      cautions(record.cautions),
      list && h("section", null, h("h3", null, "What to do"), list),
      this.sections(deep, 3),
      this.behind(recordSchema, record),
    ];
  }

  /** What stands behind an answer: what was taken for granted, and the balance. */
  behind(recordSchema, record) {
    const s = this.spec.resolve(recordSchema);
    const about = (one) =>
      one.pointer &&
      h("span", { class: "hint" }, ` (${this.spec.titles(this.question, one.pointer).join(", ")})`);
    return [
      record.assumptions.length > 0 &&
        h(
          "section",
          null,
          h("h3", null, "Assumptions"),
          h(
            "ul",
            null,
            record.assumptions.map((one) => h("li", null, one.text, about(one))),
          ),
        ),
      record.balance &&
        h(
          "details",
          { class: "fold" },
          h("summary", null, "Material balance"),
          this.members(this.spec.member(s, "balance"), record.balance, 4),
        ),
    ];
  }
}

/** What a column is called: by its own title, or by all on the way to it where another has the same. */
const heading = (titles, columns) => {
  const same = columns.filter(([, other]) => other.titles.at(-1) === titles.at(-1));
  return same.length > 1 ? titles.join(", ") : titles.at(-1);
};

/** What an entry is called: what it is about, its name, or the first words in it. */
const title = (entry) =>
  entry?.what ??
  entry?.name ??
  Object.values(entry ?? {})
    .find((one) => typeof one === "string" && !one.startsWith("/"))
    ?.replaceAll("_", " ");

/** What the answer comes to, in a sentence or two. */
const statement = (text) =>
  text && h("section", { class: "statement", id: "statement" }, h("p", { class: "verdict" }, text));

const SEVERITY = { act: "Act first", watch: "Watch", note: "Note" };

/** What to look at before the answer is followed, the worst first. */
export const findings = (list = []) =>
  list.length > 0 &&
  h(
    "ul",
    { class: "findings" },
    list.map((one) => h("li", null, h("strong", null, SEVERITY[one.severity]), h("p", null, one.text))),
  );

/** What can hurt, always in sight. */
export const cautions = (list) =>
  list.length > 0 &&
  h(
    "section",
    { class: "care" },
    h("h3", null, "Take care"),
    h(
      "ul",
      null,
      list.map((one) => h("li", null, one.text)),
    ),
  );

/** A document as whoever scripts it would send or get it. */
export const json = (title, document) =>
  h(
    "details",
    { class: "fold json" },
    h("summary", null, title),
    h("pre", { tabindex: 0, role: "group", "aria-label": title }, JSON.stringify(document, null, 2)),
  );

/** What was sent and what came back, for each calculation that was asked. */
export const exchanges = (asked) =>
  asked.map(({ name, request, record, problem }) => {
    const [to, of] = asked.length > 1 ? [` to ${name}`, ` of ${name}`] : ["", ""];
    return [
      h("p", { class: "hint json" }, `For a script: POST v1/${name}`),
      json(`Request${to} as JSON`, request),
      json(`${problem ? "Problem" : "Answer"}${of} as JSON`, problem ?? record),
    ];
  });
