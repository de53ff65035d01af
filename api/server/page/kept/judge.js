// Whether a document from outside (a file, a link, a form) is what a schema asks for.

import { pointer } from "../schema.js";
import { shown, unread } from "../units.js";

/** The faults of a value, each with its place, a code and a sentence. */
export function judge(spec, schema, value, path = []) {
  const s = spec.resolve(schema);
  const fault = (code, detail) => [{ pointer: pointer(path), code, detail }];
  if (value === undefined || value === null || value === "") return fault("missing", "It is missing.");
  switch (spec.kind(s)) {
    case "object":
      return ofMembers(spec, s, value, path) ?? fault("wrong_type", "It does not have the right shape.");
    case "union": {
      const branch = spec.branchOf(s, value);
      if (!branch) return fault("wrong_type", `“${text(value)}” is not one of those that can be chosen.`);
      return typeof value === "object" ? judge(spec, branch.schema, value, path) : [];
    }
    case "list":
      if (!Array.isArray(value)) return fault("wrong_type", "It is not a list.");
      return value.flatMap((entry, i) => judge(spec, s.items ?? {}, entry, [...path, i]));
    case "choice":
      return s.enum.includes(value)
        ? []
        : fault(
            "wrong_type",
            `“${text(value)}” is not one of ${s.enum.map((one) => `“${one}”`).join(", ")}.`,
          );
    case "flag":
      return typeof value === "boolean" ? [] : fault("wrong_type", `“${text(value)}” is not yes or no.`);
    case "number":
      return ofNumber(s, value, fault);
    default:
      if (typeof value !== "string") return fault("wrong_type", `“${text(value)}” is not a text.`);
      return value.length > (s.maxLength ?? 1000)
        ? fault("out_of_range", `It has ${value.length} letters; ${s.maxLength ?? 1000} are the most.`)
        : [];
  }
}

const text = (value) =>
  (typeof value === "object" ? (Object.values(value)[0] ?? "") : String(value)).toString();

function ofMembers(spec, s, value, path) {
  if (typeof value !== "object" || Array.isArray(value)) return undefined;
  const missing = (s.required ?? []).filter((name) => value[name] == null);
  const faults = missing.map((name) => ({
    pointer: pointer([...path, name]),
    code: "missing",
    detail: "It is missing.",
  }));
  for (const [name, member] of Object.entries(value)) {
    if (member == null) continue;
    const known = Object.hasOwn(s.properties ?? {}, name) || s.additionalProperties;
    faults.push(
      ...(known
        ? judge(spec, spec.member(s, name), member, [...path, name])
        : [{ pointer: pointer([...path, name]), code: "unknown", detail: "Nothing of this name is known." }]),
    );
  }
  return faults;
}

function ofNumber(s, value, fault) {
  if (typeof value === "string") return fault("wrong_type", unread(value));
  if (!Number.isFinite(value)) return fault("wrong_type", "It is not a number.");
  const { minimum, exclusiveMinimum, maximum } = s;
  if (value < (minimum ?? -Infinity)) return fault("out_of_range", `It is less than ${shown(minimum)}.`);
  if (value <= (exclusiveMinimum ?? -Infinity))
    return fault("out_of_range", `It must be more than ${shown(exclusiveMinimum)}.`);
  return value > (maximum ?? Infinity) ? fault("out_of_range", `It is more than ${shown(maximum)}.`) : [];
}

/** What contradicts itself in a place. */
export function contradictions({ tank, band }) {
  const faults = [];
  const say = (at, detail) => faults.push({ pointer: at, code: "inconsistent", detail });
  if (band && !(band.low <= band.target && band.target <= band.high))
    say("/band", "The weakest must not be above the strength to aim for, nor that above the strongest.");
  const most = tank?.measured_by === "level" ? tank.full_level : tank?.capacity;
  const amount = tank?.measured_by === "level" ? "level" : "volume";
  if (tank?.[amount] > most) say(`/tank/${amount}`, "This is more than it holds.");
  return faults;
}
