// Reads lists of { ID, Value, EngineeringUnits } into the members of a question, and keeps
// where each member came from.

const { systemOf, unitFault } = require("./units");

/** A part of a JSON pointer (RFC 6901). */
const escaped = (name) => String(name).replaceAll("~", "~0").replaceAll("/", "~1");

class Reader {
  constructor() {
    this.faults = [];
    // From a pointer into the question to the pointer into the order that it was read from.
    this.origins = {};
    // From a pointer into the question to the names that the order has for its members.
    this.names = {};
    this.system = undefined;
  }

  fault(pointer, detail) {
    this.faults.push({ pointer, detail });
  }

  /**
   * The object built from a list by a table of names. A row of the table is
   * `name in the order: [member of the question, kind of quantity or table]`.
   */
  object(list, table, from, to) {
    this.origins[to] ??= from;
    const names = Object.entries(table).map(([id, [member]]) => [member, id]);
    this.names[to] = { ...this.names[to], ...Object.fromEntries(names) };
    const object = {};
    this.each(list, from, (entry, at) => {
      const row = Object.hasOwn(table, entry.ID) ? table[entry.ID] : undefined;
      if (!row) {
        const known = Object.keys(table).join(", ");
        return this.fault(
          `${at}/ID`,
          `Nothing here is called ${JSON.stringify(entry.ID)}. Known are: ${known}.`,
        );
      }
      const [member, kind] = row;
      if (Object.hasOwn(object, member)) {
        return this.fault(`${at}/ID`, `${JSON.stringify(entry.ID)} is given twice.`);
      }
      const pointer = `${to}/${member}`;
      if (typeof kind !== "string") {
        object[member] = this.object(inner(entry), kind, `${at}/${innerName(entry)}`, pointer);
      } else if (kind === "contents") {
        object[member] = this.contents(inner(entry), `${at}/${innerName(entry)}`, pointer);
      } else {
        this.origins[pointer] = `${at}/Value`;
        object[member] = this.value(entry, kind, at);
      }
    });
    return object;
  }

  /** The properties of a fluid: tramp oil takes up volume, everything else is dissolved in it. */
  contents(list, from, to) {
    this.origins[to] = from;
    const contents = Object.create(null);
    this.each(list, from, (entry, at) => {
      this.origins[`${to}/${escaped(entry.ID)}`] = `${at}/Value`;
      contents[entry.ID] = this.value(entry, entry.ID === "tramp_oil" ? "share" : "dissolved", at);
    });
    return contents;
  }

  value(entry, kind, at) {
    if (kind === "text") {
      if (typeof entry.Value !== "string") this.fault(`${at}/Value`, "A text is expected here.");
      return entry.Value;
    }
    if (kind === "yes or no") {
      if (typeof entry.Value !== "boolean") this.fault(`${at}/Value`, "true or false is expected here.");
      return entry.Value;
    }
    if (typeof entry.Value !== "number") this.fault(`${at}/Value`, "A number is expected here.");
    this.unit(kind, entry.EngineeringUnits, at);
    return entry.Value;
  }

  unit(kind, given, at) {
    const wrong = unitFault(kind, given);
    if (wrong) return this.fault(`${at}/EngineeringUnits`, wrong);
    const system = systemOf(kind, given);
    this.system ??= system;
    if (system && system !== this.system) {
      const detail = `${given} is in a different system of units from the values before it. Use one system.`;
      this.fault(`${at}/EngineeringUnits`, detail);
    }
  }

  each(list, from, visit) {
    if (!Array.isArray(list)) return this.fault(from, "A list is expected here.");
    list.forEach((entry, place) => {
      if (entry === null || typeof entry !== "object" || typeof entry.ID !== "string") {
        return this.fault(`${from}/${place}`, "An object with an ID is expected here.");
      }
      visit(entry, `${from}/${place}`);
    });
  }
}

const innerName = (entry) => ("Subparameters" in entry ? "Subparameters" : "Subproperties");
const inner = (entry) => entry[innerName(entry)];

module.exports = { Reader, escaped };
