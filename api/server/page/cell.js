// What stands in a cell or a field: a value as text, and a text as a value, by its schema.

import { isMoment, local, noMoment, readMoment } from "./moment.js";
import { label, symbol } from "./schema.js";
import { read, spellings, typed, unread, written } from "./units.js";

/** A text without what is neither letter nor digit, to compare it with others. */
export const normal = (text) =>
  String(text)
    .toLowerCase()
    .replace(/[^\p{L}\p{N}]+/gu, " ")
    .trim();

const FLAGS = new Map([
  ...["yes", "true", "1", "x", "y"].map((word) => [word, true]),
  ...["no", "false", "0", "n"].map((word) => [word, false]),
]);

/** What a place holds: a number, a text, one of several words, yes or no, or a moment. */
export function held(spec, schema) {
  const kind = spec.kind(schema);
  return kind === "text" && schema.format === "moment" ? "moment" : kind;
}

/** What somebody wrote, as the value of a place; the text itself when it cannot be that. */
export function valueFrom(spec, schema, text, units) {
  // The apostrophe keeps a spreadsheet from running the text.
  const plain = text.trim().replace(/^'(?=[=+@-])/, "");
  if (plain === "") return undefined;
  switch (held(spec, schema)) {
    case "number":
      return read(plain, schema.maximum, spellings(schema, units));
    case "choice":
      return (
        schema.enum.find((one) => [one, label(one)].some((word) => normal(word) === normal(plain))) ?? plain
      );
    case "flag":
      return FLAGS.get(normal(plain)) ?? plain;
    case "moment":
      return readMoment(plain);
    default:
      return plain;
  }
}

/** A value as it is read in a cell. */
export function textOf(spec, schema, value) {
  if (value === undefined || value === null) return "";
  switch (held(spec, schema)) {
    case "number":
      return typed(value);
    case "choice":
      return schema.enum.includes(value) ? label(value) : String(value);
    case "flag":
      return typeof value === "boolean" ? ["No", "Yes"][Number(value)] : String(value);
    case "moment":
      return isMoment(value) ? local(value).replace("T", " ") : String(value);
    default:
      return String(value);
  }
}

/** A value as `valueFrom` takes it back unchanged. */
export function exact(spec, schema, value) {
  if (typeof value === "number") return written(value);
  if (held(spec, schema) === "moment") return String(value ?? "");
  return textOf(spec, schema, value);
}

/** Why a value cannot stand where it stands, or nothing. */
export function wrong(spec, schema, value, units) {
  if (value === undefined || value === null) return undefined;
  switch (held(spec, schema)) {
    case "number":
      return typeof value === "string" ? unread(value, symbol(schema, units)) : undefined;
    case "choice":
      return schema.enum.includes(value)
        ? undefined
        : `“${value}” is none of these: ${schema.enum.map(label).join(", ")}.`;
    case "flag":
      return typeof value === "boolean" ? undefined : `“${value}” is neither yes nor no.`;
    case "moment":
      return isMoment(value) ? undefined : noMoment(value);
    default:
      return undefined;
  }
}
