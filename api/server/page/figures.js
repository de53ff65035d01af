// The figures of an answer: any value, list or table, drawn from its schema.

import { h } from "./dom.js";
import { brief, hint, label, single, titled, unitAfter, within } from "./schema.js";
import { shown } from "./units.js";
import { written } from "./writing.js";

const ROWS_MOST = 14; // longer tables start folded
const COLUMNS_MOST = 9; // wider ones are told entry by entry
const SENTENCE = 48; // a longer text is a sentence and no cell

export class Figures {
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
      return `${written(shown(value))}${unit ? `\u00a0${unit}` : ""}`;
    }
    if (typeof value === "boolean") return value ? "yes" : "no";
    if (/^\/\w/.test(value) && /^JSON pointer/.test(schema.description)) return this.place(value);
    return schema.enum || schema.title === "Property" ? value.replaceAll("_", " ") : String(value);
  }

  /** A place in what was asked, in words. */
  place = (pointer) => this.spec.titles(this.question, pointer).join(", ");

  /** What the entries of a list are; what is said of the list holds for each. */
  items = (list) => this.spec.resolve({ description: list.description, ...list.items });

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
        const title = /^\/\w/.test(name) ? this.place(name) : titled(own, name);
        return { title, member, schema: this.shape(own, member) };
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
            hint(schema, title) && h("dd", { class: "hint" }, hint(schema, title)),
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
        hint(schema, title) && h("p", { class: "hint" }, hint(schema, title)),
        this.value(schema, member, level + 1),
      ),
    );
  }

  /** The same, each folded: what stands behind an answer, for whoever wants to see it. Nothing of an empty list. */
  folds(deep, level) {
    return deep
      .filter(({ member }) => !Array.isArray(member) || member.length > 0)
      .map(({ title, member, schema }) =>
        h(
          "details",
          { class: "fold" },
          h(
            "summary",
            null,
            title,
            Array.isArray(member) && h("span", { class: "hint" }, ` ${member.length}`),
          ),
          hint(schema, title) && h("p", { class: "hint" }, hint(schema, title)),
          this.value(schema, member, level),
        ),
      );
  }

  list(s, entries, level) {
    const noun = label(single(within(s.title ?? "entries")));
    if (entries.length === 0) return h("p", null, "none");
    const items = s.items ?? {};
    if (entries.every((entry) => typeof entry !== "object")) {
      const item = this.items(s);
      return h("p", null, entries.map((entry) => this.plain(item, entry)).join(", "));
    }
    const rows = entries.map((entry) => this.cells(items, entry));
    const columns = [...new Map(rows.flatMap((row) => [...(row ?? [])]))];
    if (rows.includes(null) || columns.length > COLUMNS_MOST) {
      const titles = entries.map(title);
      const told = (one, i) =>
        one !== undefined && titles.indexOf(one) === titles.lastIndexOf(one)
          ? one
          : [`${noun} ${i + 1}`, one ?? gist(entries[i])].filter(Boolean).join(": ");
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
        const item = this.items(inner);
        cells.set(at.join("."), { titles, text: member.map((one) => this.plain(item, one)).join(", ") });
      } else if (member && typeof member === "object") {
        const within = this.cells(inner, member, at, titles);
        if (!within) return null;
        within.forEach((cell, key) => cells.set(key, cell));
      } else if (typeof member === "number") {
        const unit = unitAfter(titles.at(-1), inner, this.units);
        cells.set(at.join("."), { titles, number: true, unit, text: written(shown(member)) });
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
}

/** What a column is called: by its own title, or by all on the way to it where another has the same. */
const heading = (titles, columns) => {
  const same = columns.filter(([, other]) => other.titles.at(-1) === titles.at(-1));
  return same.length > 1 ? titles.join(", ") : titles.at(-1);
};

/** What an entry is called: what it is about, or its name. */
const title = (entry) => entry?.what ?? entry?.name;

/** The first words in an entry that tell it from the others. */
const gist = (entry) =>
  Object.values(entry ?? {})
    .find((one) => typeof one === "string" && !one.startsWith("/") && one.length <= SENTENCE)
    ?.replaceAll("_", " ");
