// The columns of a list: what of an entry stands in a cell, and what opens below its row.

import { normal } from "./cell.js";
import { label, symbol, titled } from "./schema.js";
import { spellings } from "./units.js";

const NESTED_MOST = 8; // an object within an entry that has more members opens below its row

/** The value at a path within an entry. */
export const at = (entry, path) => path.reduce((value, step) => value?.[step], entry);

export class Columns {
  constructor(spec, items) {
    this.spec = spec;
    this.items = items;
    this.parts = []; // columns, and the places where an entry may have names of the caller's own
    this.rest = []; // the members that open below the row
    const members = spec.kind(items) === "union" ? [] : spec.members(items);
    if (members.length === 0) this.parts = this.cells(items, [], [], true) ?? [];
    for (const { name, schema, required } of members) {
      const found = this.cells(schema, [name], [titled(schema, name)], required);
      if (found) this.parts.push(...found);
      else this.rest.push(name);
    }
  }

  /** What of a member stands in cells, or nothing where it does not fit into them. */
  cells(schema, path, titles, required, within) {
    const kind = this.spec.kind(schema);
    if (kind === "list" || (kind === "union" && within)) return undefined;
    if (kind === "union") return this.union(schema, path, titles, required);
    if (kind !== "object") return [{ key: path.join("."), path, titles, schema, required, within }];
    const found = [];
    for (const member of this.spec.members(schema)) {
      const inner = this.cells(
        member.schema,
        [...path, member.name],
        [...titles, titled(member.schema, member.name)],
        required && member.required,
        within,
      );
      if (!inner) return undefined;
      found.push(...inner);
    }
    const other = schema.additionalProperties;
    if (other && other !== true) {
      const own = this.spec.resolve(other);
      if (within || ["object", "list", "union"].includes(this.spec.kind(own))) return undefined;
      found.push({ key: `${path.join(".")}.`, path, titles, own });
    }
    return found.length > NESTED_MOST ? undefined : found;
  }

  /** A union: a column for which it is, and one for each member that a branch has. */
  union(schema, path, titles, required) {
    const branches = this.spec.branches(schema);
    const [{ tag }] = branches;
    if (!tag) return undefined;
    const names = branches.map((one) => one.name);
    const which = { enum: names, type: "string", description: schema.description };
    const found = [
      {
        key: [...path, tag].join("."),
        path: [...path, tag],
        titles: [...titles, label(tag)],
        schema: which,
        required,
        union: schema,
      },
    ];
    for (const branch of branches) {
      for (const member of this.spec.members(branch.schema)) {
        const within = { path, schema, names: [branch.name] };
        const title = titled(member.schema, member.name);
        const inner = this.cells(member.schema, [...path, member.name], [...titles, title], false, within);
        if (!inner) return undefined;
        for (const column of inner) {
          const alike = found.find((one) => one.key === column.key);
          if (alike) alike.within.names.push(branch.name);
          else found.push(column);
        }
      }
    }
    return found;
  }

  /** All columns for some entries, with those that they name themselves, and those named in `named`. */
  all(entries, named) {
    const fixed = new Set(this.parts.map((part) => part.key));
    return this.parts.flatMap((part) => {
      if (!part.own) return [part];
      const names = new Set(named.get(part.key));
      for (const entry of entries) {
        for (const name of Object.keys(at(entry, part.path) ?? {}))
          if (!fixed.has(`${part.key}${name}`)) names.add(name);
      }
      return [...names].map((name) => this.ownColumn(part, name));
    });
  }

  ownColumn({ key, path, titles, own }, name) {
    return { key: key + name, path: [...path, name], titles: [...titles, label(name)], schema: own };
  }

  /** Whether a column means anything in an entry: it does not when the entry is another kind of thing. */
  applies({ within }, entry) {
    if (!within) return true;
    const branch = this.spec.branchOf(within.schema, at(entry, within.path));
    return !branch || within.names.includes(branch.name);
  }

  /** The column that a heading names, with its unit as it stands there; columns of the caller's own too. */
  named(heading, all) {
    const [, words, bracketed, round] = /^(.*?)\s*(?:\[([^\]]*)\]|\(([^()]*)\))?\s*$/s.exec(heading);
    for (const [text, unit] of [
      [words, bracketed ?? round],
      [heading, undefined],
      [words.replace(/,[^,]*$/, ""), /,\s*([^,]*)$/.exec(words)?.[1]],
    ]) {
      const column = this.called(normal(text), all);
      if (column) return { column, unit };
    }
    return undefined;
  }

  called(words, all) {
    if (words === "") return undefined;
    const whole = all.find((one) => [one.titles.join(" "), one.key].some((name) => normal(name) === words));
    if (whole) return whole;
    // A short name means the column that lies the least deep, if only one does.
    const short = all
      .filter((one) => [one.titles.at(-1), one.path.at(-1)].some((name) => normal(name) === words))
      .sort((a, b) => a.path.length - b.path.length);
    if (short.length > 0) return short[0].path.length === short[1]?.path.length ? undefined : short[0];
    for (const part of this.parts.filter((one) => one.own)) {
      for (const lead of [normal(part.titles.join(" ")), normal(part.key)]) {
        if (words.startsWith(`${lead} `))
          return this.ownColumn(part, words.slice(lead.length + 1).replaceAll(" ", "_"));
      }
    }
    return undefined;
  }

  /** A place below the rows, by its path with points, as a saved file has it. */
  below(heading) {
    const steps = heading.trim().split(".");
    if (steps.length < 2 || !this.rest.includes(steps[0])) return undefined;
    const path = [];
    let schema = this.items;
    for (const step of steps) {
      path.push(schema.items ? Number(step) : step);
      schema = this.spec.resolve(schema.items ?? this.spec.reachable(schema, step));
      if (!schema.type && !schema.oneOf) return undefined;
    }
    return { path, schema, key: heading.trim(), titles: [heading.trim()] };
  }
}

/** The group that a column stands in, in words. */
export const group = ({ titles }) =>
  titles
    .slice(0, -1)
    .map((title, i) => (i === 0 ? title : title.toLowerCase()))
    .join(", ");

/** A column as one name, such as “Fluid now: strength”. */
export const name = ({ titles }) =>
  titles.map((title, i) => (i === 0 ? title : title.charAt(0).toLowerCase() + title.slice(1))).join(": ");

/** A column as the heading of a file. */
export function heading(column, units) {
  const unit = symbol(column.schema, units);
  return column.titles.join(": ") + (unit ? ` [${unit}]` : "");
}

/** The system of units that a heading's unit belongs to; nothing when it is unknown. */
export function systemOf({ schema }, unit, units) {
  if (!unit?.trim()) return units;
  const bare = (text) => text.replace(/\s/g, "").toLowerCase();
  const has = (system) => spellings(schema, system).some((one) => bare(one) === bare(unit));
  return [units, "metric", "us"].find(has);
}
