// A form for any published schema. It edits a plain document and is drawn from it.

import { by, h } from "./dom.js";
import { choices, entry, field } from "./field.js";
import { plainList } from "./lists.js";
import { hint, label, pointer, titled, within } from "./schema.js";

let Grid; // the table of a list, fetched for the first form that has one

/** Fetches what draws a list as a table. */
export async function tables() {
  Grid ??= (await import("./grid.js")).Grid;
}

const scalar = (kind) => !["object", "list", "union"].includes(kind);

export class Form {
  /** A form in `host`; `changed` is called after each edit. */
  constructor(spec, schema, host, changed) {
    Object.assign(this, { spec, schema, host, changed });
  }

  /** Shows a document; what the example holds counts among what is usually said. */
  open(document, example) {
    this.document = document;
    this.example = example;
    this.unfolded = new Map();
    this.grids = new Map();
    this.draw();
  }

  /** Shows another document in the same state, as after a change of units. */
  show(document) {
    this.document = document;
    // What can be taken back in a list was said in the units of before.
    for (const { state } of this.grids.values()) Object.assign(state, { past: [], future: [] });
    this.draw();
  }

  /** Draws all of it anew, and brings the focus to the place that a path names. */
  draw(focus) {
    const s = this.spec.resolve(this.schema);
    this.host.replaceChildren(this.members(s, [], this.example, ["units"]));
    if (focus) this.focus(focus);
  }

  /** Brings the focus to a place: where it is filled in, what adds it, or what it is folded into. */
  focus(path) {
    const fold = (at) => this.host.querySelector(`details[data-at="${CSS.escape(at)}"] > summary`);
    for (let length = path.length; length > 0; length -= 1) {
      const at = pointer(path.slice(0, length));
      const place =
        entry(by(`at${at}`)) ?? by(`add${at}`) ?? fold(at) ?? fold(`${pointer(path.slice(0, length - 1))}/+`);
      if (place) return place.focus();
    }
    return undefined;
  }

  get(path) {
    return path.reduce((value, step) => value?.[step], this.document);
  }

  set(path, value) {
    const last = path.at(-1);
    const holder = path.slice(0, -1).reduce((within, step) => (within[step] ??= {}), this.document);
    if (Array.isArray(holder)) holder[last] = value ?? null;
    else if (value === undefined) delete holder[last];
    else holder[last] = value;
    this.changed();
  }

  /** The members of an object: what is usually said, and the rest to unfold. */
  members(s, path, example, without = []) {
    const members = this.spec.members(s).filter(({ name }) => !without.includes(name));
    // The caller's own text comes last: what is measured goes first.
    members.sort((a, b) => (a.name === "reference") - (b.name === "reference"));
    const usual = ({ name, required }) =>
      required || this.get([...path, name]) != null || example?.[name] !== undefined;
    const draw = (member) => this.member(member, [...path, member.name], example?.[member.name]);
    const rest = members.filter((member) => !usual(member));
    const more =
      rest.length > 0 &&
      this.fold([...path, "+"], false, `More options (${rest.length})`, () =>
        h("div", { class: "members" }, rest.map(draw)),
      );
    return h("div", { class: "members" }, members.filter(usual).map(draw), this.extras(s, path), more);
  }

  member({ name, schema, required }, path, example) {
    const title = titled(schema, name);
    if (scalar(this.spec.kind(schema))) return field(this, schema, path, title, required);
    if (this.get(path) == null) return this.add(schema, path, title, example);
    const remove =
      !required &&
      this.button(`Remove ${within(title)}`, () => {
        this.set(path, undefined);
        this.draw(path);
      });
    return this.group(schema, path, title, example, remove);
  }

  /** Something that folds, stays as it was when drawn again, and is drawn when first opened. */
  fold(path, open, summary, draw) {
    const at = pointer(path);
    const body = h("div");
    const unfold = () => body.hasChildNodes() || body.append(...[draw()].flat(Infinity).filter(Boolean));
    const whole = h("details", { class: "fold", "data-at": at }, h("summary", null, summary), body);
    whole.open = this.unfolded.get(at) ?? open;
    if (whole.open) unfold();
    whole.unfold = unfold;
    whole.addEventListener("toggle", () => {
      this.unfolded.set(at, whole.open);
      if (whole.open) unfold();
    });
    return whole;
  }

  button(text, onclick, id) {
    return h("button", { type: "button", class: "small", onclick, id }, text);
  }

  add(schema, path, title, example) {
    return h(
      "p",
      null,
      this.button(
        `Add: ${within(title)}`,
        () => {
          this.set(path, this.spec.blank(schema, example) ?? {});
          this.draw(path);
        },
        `add${pointer(path)}`,
      ),
      h("span", { class: "hint" }, hint(schema, title)),
    );
  }

  /** Where the faults of a place are said. */
  fault(path) {
    return h("p", { class: "fault", id: `fault${pointer(path)}` });
  }

  /** What a place is for. */
  about(path, said) {
    return said && h("p", { class: "hint", id: `hint${pointer(path)}` }, said);
  }

  /** The ids of the hint and of the faults of a place, for a screen reader. */
  described(path, said) {
    return `${said ? `hint${pointer(path)} ` : ""}fault${pointer(path)}`;
  }

  group(schema, path, title, example, remove) {
    const kind = this.spec.kind(schema);
    const said = hint(schema, title);
    const body =
      kind === "union"
        ? this.union(schema, path, example)
        : kind === "list"
          ? this.list(schema, path, title, example)
          : this.members(schema, path, example);
    return h(
      "fieldset",
      { id: `at${pointer(path)}`, tabindex: -1, "aria-describedby": this.described(path, said) },
      h("legend", null, title),
      this.about(path, said),
      this.fault(path),
      body,
      remove,
    );
  }

  union(schema, path, example) {
    const branches = this.spec.branches(schema);
    const tag = branches[0].tag ?? "which";
    const now = this.spec.branchOf(schema, this.get(path));
    const choose = (name) => {
      const branch = branches.find((one) => one.name === name);
      const before = this.get(path);
      const bare = branch.schema.enum ? branch.name : this.spec.blank(branch.schema, example);
      // What both have in common is kept.
      for (const member of branch.schema.enum ? [] : this.spec.members(branch.schema)) {
        if (before?.[member.name] !== undefined) bare[member.name] = before[member.name];
      }
      this.set(path, branch.tag ? { [branch.tag]: name, ...bare } : bare);
      this.unfolded.set(pointer([...path, tag]), true);
      this.draw([...path, tag]);
    };
    const which = () =>
      choices(
        this,
        [...path, tag],
        label(tag),
        branches.map((one) => one.name),
        now?.name,
        choose,
        { required: true },
      );
    // Where it is as usual a word says so, and the others are a tap away.
    const usual = now && now.name === this.spec.branchOf(schema, example)?.name;
    const said = now && (branches[0].tag ? `${label(tag)}: ${within(label(now.name))}` : label(now.name));
    return [
      usual ? this.fold([...path, tag], false, said, which) : which(),
      now && this.spec.kind(now.schema) === "object" && this.members(now.schema, path, example),
    ];
  }

  list(schema, path, title, example) {
    const items = this.spec.resolve(schema.items);
    if (scalar(this.spec.kind(items))) return plainList(this, items, path, title);
    const table = () => new Grid(this, schema, path, title, example).element;
    if (Grid) return table();
    const place = h("div");
    tables().then(() => place.isConnected && place.replaceWith(table()));
    return place;
  }

  /** Members whose names are the caller's own. */
  extras(s, path) {
    if (!s.additionalProperties || s.additionalProperties === true) return null;
    const own = Object.keys(this.get(path) ?? {}).filter((name) => !s.properties?.[name]);
    const input = h("input", { id: `name${pointer(path)}`, autocomplete: "off", autocapitalize: "none" });
    const add = () => {
      const name = input.value
        .trim()
        .toLowerCase()
        .replace(/[^a-z0-9_]+/g, "_");
      if (!name) return input.focus();
      const schema = this.spec.member(s, name);
      this.set([...path, name], this.spec.blank(schema) ?? "");
      this.draw([...path, name]);
    };
    return [
      own.map((name) =>
        h(
          "div",
          { class: "row" },
          this.member({ name, schema: this.spec.member(s, name), required: true }, [...path, name]),
          this.button(`Remove ${within(label(name))}`, () => {
            this.set([...path, name], undefined);
            this.draw();
            by(input.id).focus();
          }),
        ),
      ),
      h(
        "div",
        { class: "row" },
        h("div", { class: "field" }, h("label", { for: input.id }, "Another one: its name"), input),
        this.button("Add", add),
      ),
    ];
  }

  /** Takes back what was said against a place; its room stays, so that no button moves under a thumb. */
  clear(path) {
    const slot = by(`fault${pointer(path)}`);
    if (slot?.hasChildNodes()) {
      const below = slot.nextElementSibling ?? slot.parentElement;
      slot.style.minHeight = "";
      const { bottom } = below.getBoundingClientRect();
      slot.replaceChildren();
      const gone = bottom - below.getBoundingClientRect().bottom;
      if (gone > 0) slot.style.minHeight = `${slot.offsetHeight + gone}px`;
    }
    by(`at${pointer(path)}`)?.removeAttribute("aria-invalid");
  }

  /** Says each fault beside its place; gives back those that have none, how many places, and the first. */
  faults(faults) {
    this.host.querySelectorAll(".fault").forEach((one) => {
      one.replaceChildren();
      one.style.minHeight = "";
    });
    this.host.querySelectorAll("[aria-invalid]").forEach((one) => one.removeAttribute("aria-invalid"));
    const steps = (fault) =>
      fault.pointer
        .split("/")
        .slice(1)
        .map((step) => step.replaceAll("~1", "/").replaceAll("~0", "~"));
    // All of them first: a table that brings in a column is drawn anew.
    for (const fault of faults) this.reveal(steps(fault));
    const found = [];
    const homeless = faults.filter((fault) => {
      for (const path = steps(fault); path.length > 0; path.pop()) {
        this.reveal(path);
        const slot = by(`fault${pointer(path)}`);
        if (!slot) continue;
        const detail = fault.code === "missing" ? "Nothing is filled in here." : fault.detail;
        if (!slot.textContent.includes(detail)) slot.append(h("span", null, detail, " "));
        const place = () =>
          by(slot.dataset.at ?? `at${pointer(path)}`) ?? slot.closest("details").querySelector("summary");
        if (place().matches("input, select, [role=radiogroup], [role=gridcell]"))
          place().setAttribute("aria-invalid", "true");
        else if (place().matches("summary")) place().setAttribute("aria-describedby", slot.id);
        const { id } = place();
        found.push(id ? () => by(id) : place);
        return false;
      }
      return true;
    });
    const placed = found.map((place) => place());
    placed.sort((a, b) => (a.compareDocumentPosition(b) & Node.DOCUMENT_POSITION_FOLLOWING ? -1 : 1));
    return { homeless, count: new Set(placed).size, first: entry(placed[0]) };
  }

  /** Unfolds whatever hides a place. */
  reveal(path) {
    const folds = (at) => this.host.querySelectorAll(`details[data-at="${CSS.escape(at)}"]`);
    for (let length = 0; length <= path.length; length += 1) {
      const at = pointer(path.slice(0, length));
      if (length < path.length) this.grids.get(at)?.grid.reveal(path);
      for (const fold of [...folds(at)]) this.unfold(fold);
      if (length < path.length && !by(`at${pointer(path.slice(0, length + 1))}`)) {
        for (const fold of [...folds(`${at}/+`)]) this.unfold(fold);
      }
    }
  }

  unfold(fold) {
    fold.unfold();
    fold.open = true;
  }
}
