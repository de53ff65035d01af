// The published schemas: what a member is, what it is called, and what may be left out.

import { convert, spellings, unread } from "./units.js";

/** A member's name as a label. */
export function label(name) {
  const words = String(name).replaceAll("_", " ").replace(/^ph$/, "pH");
  return /^.\p{Lu}/u.test(words) ? words : words.charAt(0).toUpperCase() + words.slice(1);
}

/** A title within a sentence: in small letters, but for names such as pH. */
export const within = (title) => (/^.\p{Lu}/u.test(title) ? title : title.toLowerCase());

/** What one entry of a list is called, from what the list is called. */
export const single = (title) =>
  title
    .replace(/ies$/, "y")
    .replace(/(ss|x|ch|sh)es$/, "$1")
    .replace(/([^s])s$/, "$1");

/** Names and places in a list as a JSON pointer (RFC 6901). */
export const pointer = (path) =>
  path.map((step) => `/${String(step).replaceAll("~", "~0").replaceAll("/", "~1")}`).join("");

/** What a member is called: its title, or its name in words. */
export const titled = (schema, name) => schema.title ?? label(name);

/** What carries no sense of its own: small words, and what the unit beside a number says. */
const EMPTY =
  /\b(an?|and|are|as|at|by|for|in|is|its?|of|on|one|that|the|this|to|was|amount|concentration|fluid|strength|volume)\b/g;

/** The words of a text that carry its sense, without their endings. */
const sense = (text) =>
  text
    .toLowerCase()
    .replace(EMPTY, "")
    .match(/[\p{L}\d]+/gu)
    ?.map((word) => word.replace(/(ing|ed|e?s)$/, "")) ?? [];

/** What a description says beyond its title, without the marks that a document has around names. */
export function hint(schema, title = schema.title ?? "") {
  const plain = (_, name) => (/^[a-z]+(_[a-z]+)+$/.test(name) ? name.replaceAll("_", " ") : name);
  const said = (schema.description ?? "").replace(/\s+/g, " ").replace(/`([^`]*)`/g, plain);
  const known = sense(title);
  return sense(said).every((word) => known.includes(word)) ? "" : said;
}

/** The unit of a number, as people write it. */
export const symbol = (schema, units) => schema.unit?.symbol[units] ?? "";

/** Units that are shown otherwise behind a number, by their codes. */
const BRIEFLY = { "%": "%", "scale of the reading": "" };

/** An amount of money is in whichever currency the prices are; a price says what it is for. */
const ownMoney = (unit) => unit.replace(/^(in|of) the caller's currency ?/, "");

/** The unit behind a number of an answer. */
export const brief = (schema, units) => BRIEFLY[schema.unit?.[units]] ?? ownMoney(symbol(schema, units));

/** The unit behind a title, unless the title says it. */
export function unitAfter(title, schema, units) {
  const unit = ownMoney(symbol(schema, units)) || (symbol(schema, units) && "in your currency");
  const words = title.toLowerCase().match(/\w+/g) ?? [];
  // Short ones are words of their own: "a" is a year, and "in" an inch.
  const told = (one) => one.length > 2 && words.includes(one.replace("°", "").toLowerCase());
  return [unit, ...spellings(schema, units)].some(told) ? "" : unit;
}

export class Spec {
  /** The schemas of the first task; `others` fetches those of all the others. */
  constructor(document, others) {
    this.schemas = {};
    this.others = others;
    this.take(document);
    this.quantities = document["x-quantities"];
    this.calculations = Object.entries(document.paths)
      .filter(([path, { post }]) => post && path.startsWith("/v1/"))
      .map(([path, { post }]) => ({
        name: path.slice("/v1/".length),
        summary: post.summary,
        question: post.requestBody.content["application/json"].schema,
        record: post.responses["200"].content["application/json"].schema,
        sheet: "text/html" in post.responses["200"].content,
        chart: "image/svg+xml" in post.responses["200"].content,
        events: "text/calendar" in post.responses["200"].content,
      }));
  }

  take(document) {
    const { schemas } = document.components;
    // A title that is the name in words is not sent.
    for (const { properties } of Object.values(schemas))
      for (const [name, member] of Object.entries(properties ?? {})) member.title ??= label(name);
    Object.assign(this.schemas, schemas);
  }

  /** Fetches the schemas of all tasks, once. */
  complete() {
    this.completed ??= this.others().then(
      (document) => this.take(document),
      (error) => {
        this.completed = undefined;
        throw error;
      },
    );
    return this.completed;
  }

  /** A schema with its references followed, and its unit; the outermost description and title hold. */
  resolve(schema) {
    let found = schema ?? {};
    let { description, title } = found;
    for (;;) {
      if (found.$ref) found = this.schemas[found.$ref.split("/").pop()];
      else if ((found.oneOf ?? found.anyOf)?.some((one) => one.type === "null")) {
        found = (found.oneOf ?? found.anyOf).find((one) => one.type !== "null");
      } else break;
      description ??= found.description;
      title ??= found.title;
    }
    const type = [found.type].flat().find((one) => one !== "null");
    return { ...found, type, description, title, unit: this.quantities[found["x-quantity"]] };
  }

  /** What a resolved schema asks for. */
  kind(schema) {
    if (schema.oneOf) return "union";
    if (schema.enum) return "choice";
    return (
      { object: "object", array: "list", boolean: "flag", number: "number", integer: "number" }[
        schema.type
      ] ?? "text"
    );
  }

  /** The members of a resolved object; its type tag is not one. */
  members(schema) {
    return Object.entries(schema.properties ?? {})
      .map(([name, member]) => ({
        name,
        schema: this.resolve(member),
        required: Boolean(schema.required?.includes(name)),
      }))
      .filter((member) => member.schema.enum?.length !== 1);
  }

  /** The schema of one member, resolved. */
  member(schema, name) {
    const found = schema.properties?.[name] ?? schema.additionalProperties;
    return this.resolve(found || {});
  }

  /** The titles on the way to a place, from a JSON pointer; entries of lists count from 1. */
  titles(schema, at) {
    const titles = [];
    let s = this.resolve(schema);
    for (const step of at.split("/").slice(1)) {
      const inner = s.items ? this.resolve(s.items) : this.reachable(s, step);
      titles.push(s.items ? String(Number(step) + 1) : titled(inner, step));
      s = inner;
    }
    return titles;
  }

  /** The member of an object, or of any branch of a union, resolved. */
  reachable(schema, name) {
    if (this.kind(schema) !== "union") return this.member(schema, name);
    const branch = this.branches(schema).find((one) => one.schema.properties?.[name]);
    return this.member(branch?.schema ?? {}, name);
  }

  /** What a union can be: a name and a schema each, and the member that tells. */
  branches(schema) {
    const tag = schema.discriminator?.propertyName;
    if (tag) {
      return Object.entries(schema.discriminator.mapping).map(([name, $ref]) => {
        const branch = this.resolve({ $ref });
        // A branch requires its type tag beside its own members (`allOf`).
        return { name, tag, schema: { ...branch, required: [...(branch.required ?? []), tag] } };
      });
    }
    return schema.oneOf.map((one) => {
      const branch = this.resolve(one);
      return { name: branch.enum?.[0] ?? branch.required?.[0] ?? branch.type, schema: branch };
    });
  }

  /** Which of them a value is. */
  branchOf(schema, value) {
    const branches = this.branches(schema);
    return branches.find(({ name, tag, schema: branch }) => {
      if (tag) return value?.[tag] === name;
      if (branch.enum) return branch.enum.includes(value);
      if (branch.type !== "object") return typeof value === branch.type;
      return (
        value && typeof value === "object" && Object.keys(value).every((key) => branch.properties?.[key])
      );
    });
  }

  /** A value with `leaf` applied to each leaf; what comes back undefined is left out. */
  map(schema, value, leaf, path = []) {
    const s = this.resolve(schema);
    if (Array.isArray(value)) {
      return value.map((entry, i) => this.map(s.items ?? {}, entry, leaf, [...path, i]) ?? null);
    }
    if (value === null || typeof value !== "object") return leaf(s, value, path);
    const whole = this.kind(s) === "union" ? (this.branchOf(s, value)?.schema ?? {}) : s;
    const members = Object.entries(value).map(([name, member]) => [
      name,
      this.map(this.member(whole, name), member, leaf, [...path, name]),
    ]);
    return Object.fromEntries(members.filter(([, member]) => member !== undefined));
  }

  /** A document in a system of units, from whichever it names. */
  convert(schema, value, to) {
    if (value.units === to) return value;
    const turned = this.map(schema, value, (s, leaf) =>
      typeof leaf === "number" ? convert(leaf, s.unit, to) : leaf,
    );
    return { ...turned, units: to };
  }

  /** Whether a document, from wherever it comes, has the shape of a schema; its values are not judged. */
  fits(schema, value) {
    if (value === undefined || value === null) return true;
    const s = this.resolve(schema);
    const kind = this.kind(s);
    if (kind === "list" || Array.isArray(value)) {
      return (
        kind === "list" && Array.isArray(value) && value.every((entry) => this.fits(s.items ?? {}, entry))
      );
    }
    const whole = kind === "union" ? this.branchOf(s, value)?.schema : s;
    if (typeof value !== "object") return Boolean(whole) && whole.type !== "object";
    return (
      whole?.type === "object" &&
      Object.entries(value).every(
        ([name, member]) =>
          (Object.hasOwn(whole.properties ?? {}, name) || whole.additionalProperties) &&
          this.fits(this.member(whole, name), member),
      )
    );
  }

  /** Whether everything that is required is said in a value. */
  whole(schema, value) {
    if (value === undefined || value === null || value === "") return false;
    const s = this.resolve(schema);
    if (Array.isArray(value)) return value.every((entry) => this.whole(s.items ?? {}, entry));
    if (typeof value !== "object") return true;
    const own = this.kind(s) === "union" ? (this.branchOf(s, value)?.schema ?? {}) : s;
    return this.members(own).every(
      ({ name, required }) =>
        (!required && value[name] === undefined) || this.whole(this.member(own, name), value[name]),
    );
  }

  /** What in a document is text where a number belongs. */
  unread(schema, value, units = value?.units) {
    const faults = [];
    this.map(schema, value, (s, leaf, path) => {
      if (this.kind(s) === "number" && typeof leaf === "string") {
        faults.push({ pointer: pointer(path), code: "wrong_type", detail: unread(leaf, symbol(s, units)) });
      }
      return leaf;
    });
    return faults;
  }

  /** A document to fill in: what is required, and what the example has. */
  blank(schema, example, required = true) {
    const s = this.resolve(schema);
    const kind = this.kind(s);
    if (kind === "object") {
      const made = {};
      for (const member of this.members(s)) {
        const like = example?.[member.name];
        if (!member.required && like === undefined) continue;
        const blank = this.blank(member.schema, like, member.required);
        if (blank !== undefined) made[member.name] = blank;
      }
      return made;
    }
    if (kind === "union") {
      const branch = this.branchOf(s, example) ?? this.branches(s)[0];
      const whole = this.blank(branch.schema, example);
      return branch.tag ? { [branch.tag]: branch.name, ...whole } : whole;
    }
    if (kind === "list" && required) return [this.blank(s.items, example?.[0]) ?? null];
    return undefined;
  }

  /** A document without what may be left out and is blank. */
  pruned(schema, value) {
    const s = this.resolve(schema);
    const kind = this.kind(s);
    if (Array.isArray(value)) return value.map((entry) => this.pruned(s.items ?? {}, entry));
    if (value === null || typeof value !== "object") return value;
    const branch = kind === "union" ? this.branchOf(s, value) : undefined;
    const whole = branch?.schema ?? s;
    const kept = Object.entries(value)
      .map(([name, member]) => [name, this.pruned(this.member(whole, name), member)])
      .filter(
        ([name, member]) => whole.required?.includes(name) || !this.empty(this.member(whole, name), member),
      );
    return Object.fromEntries(kept);
  }

  /** Whether nothing was said in a value. */
  empty(schema, value) {
    if (value === undefined || value === null || value === "") return true;
    const s = this.resolve(schema);
    if (Array.isArray(value)) return value.every((entry) => this.empty(s.items ?? {}, entry));
    if (typeof value !== "object") return s.enum?.length === 1;
    const whole = this.kind(s) === "union" ? (this.branchOf(s, value)?.schema ?? {}) : s;
    return Object.entries(value).every(([name, member]) => this.empty(this.member(whole, name), member));
  }
}
