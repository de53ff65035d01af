// What is kept on this device, as the page sees it: its screens by their addresses, and what it notes of an answer.

import { h } from "../dom.js";
import { home } from "./home.js";
import { documentOf, filledPlace, placeFrom } from "./place.js";
import { asLink } from "./qr.js";
import { quick } from "./quick.js";
import { checkOf, firstCheck, moment, toDo } from "./record.js";
import { newId, openStore } from "./store.js";
import { listenForUndo, undoable } from "./undo.js";
import { filled, readingText } from "./words.js";

/** What is fetched when it is opened first: most who come check a tank and go. */
const later = {
  device: () => import("./device.js"),
  edit: () => import("./edit.js"),
  history: () => import("./history.js"),
  label: () => import("./label.js"),
  link: () => import("./link.js"),
  questions: () => import("./questions.js"),
};

const MOMENT = 60000; // milliseconds in which a check is asked anew because a number was wrong

export class Kept {
  /**
   * - `host`: where the screens are drawn
   * - `spec`: the published schemas; `batch`: the schema of the batch check
   * - `units()`: the units of the page
   * - `ask(name, document)`: asks a calculation
   * - `check(document, place)`: asks the batch check of a place and shows its answer
   * - `fill(name, document, missing, place)`: opens a calculation, filled in
   * - `tasks`: the address of all tasks, unless a menu shows them
   */
  static async open(given) {
    const kept = new Kept(given, await openStore());
    listenForUndo();
    return kept;
  }

  constructor(given, store) {
    Object.assign(this, given, { store });
  }

  /** Whether anything is kept. */
  any = async () => (await this.store.places()).length > 0;

  /** The address of what is opened first: the only place there is, or the list of all. */
  first = async () => {
    const places = await this.store.places();
    return places.length === 1 ? `#kept/${places[0].id}` : "#kept";
  };

  turn = Promise.resolve();

  /** Draws the screen of an address, after those before it; the focus goes to its title when `focus` says so. */
  show(hash, focus = true) {
    this.turn = this.turn.catch(() => {}).then(() => this.showNow(hash, focus));
    return this.turn;
  }

  async showNow(hash, focus) {
    try {
      await this.draw(hash);
    } catch (error) {
      if (!(error instanceof TypeError && /import|module/i.test(error.message))) throw error;
      this.tell(
        "This part of the page is not loaded yet, and the service cannot be reached. Try again later.",
      );
    }
    const first = this.host.querySelector("input:focus");
    if (focus) scrollTo({ top: 0 });
    if (focus && !first) this.host.querySelector("#kept-title")?.focus({ preventScroll: true });
  }

  async draw(hash) {
    const [, id, screen] = hash.slice(1).split("/");
    if (hash.startsWith("#place=")) return this.linked(hash);
    if (!id) return home(this.host, this.with());
    if (id === "new") return this.edit(undefined, this.draft);
    if (id === "labels") return this.labels(await this.store.places(), "#kept");
    if (id !== "device") return this.ofPlace(await this.store.place(id), screen);
    const { device } = await later.device();
    return device(this.host, this.with({ back: "#kept" }));
  }

  with = (more = {}) => ({ ...this.plain(), ...more });

  plain() {
    const { host, store, spec, batch, units, ask, fill, tasks } = this;
    return { host, store, spec, batch, units, ask, fill, tasks };
  }

  async ofPlace(place, screen) {
    if (!place) return this.tell("This tank or machine is not kept on this device any more.");
    if (screen === "history") return (await later.history()).history(this.host, this.with({ place }));
    if (screen === "edit") return this.edit(place);
    if (screen === "label") return this.labels([place], `#kept/${place.id}/history`);
    return this.quick(place);
  }

  more = (place) => [
    h("a", { class: "button small", href: `#kept/${place.id}/history` }, "History"),
    h("a", { class: "button small", href: `#kept/${place.id}/edit` }, "Change"),
    h("a", { class: "button small", href: `#kept/${place.id}/label` }, "Label, link"),
    h("button", { type: "button", class: "small", onclick: () => this.another(place) }, "One more like it"),
    h("a", { class: "button small", href: "#kept" }, "All tanks and machines"),
  ];

  /** A new place that begins as this one is, without its name and how much it holds. */
  another(place) {
    const { name: _, losses: __, tank, ...like } = filledPlace(this.spec, this.batch, place, this.units());
    // How much it holds is its own, and is not to be taken over unseen.
    like.tank = { measured_by: tank.measured_by };
    this.draft = { place: like, first: () => undefined };
    location.hash = "#kept/new";
  }

  async quick(place, offer) {
    const last = (await this.store.checks(place.id)).at(-1);
    const before = last && [
      readingText(this.spec, last.reading, this.units()),
      filled(this.spec, last, this.units()),
    ];
    const check = (document) => this.check(document, place, before?.filter(Boolean).join(" · "));
    const settle = async (done) => {
      await this.store.keepCheck({ ...last, done });
      await this.quick(place, offer);
      undoable(done ? "Noted: done." : "Noted: not done.", async () => {
        await this.store.keepCheck(last);
        this.again(`#kept/${place.id}`);
      });
    };
    const more = !offer && h("p", { class: "buttons" }, this.more(place));
    quick(this.host, { ...this.plain(), place, last, offer, check, settle, more });
  }

  async labels(places, back) {
    const [{ labels }, { linkOf }] = await Promise.all([later.label(), later.link()]);
    const checks = await this.store.checks();
    const last = (id) => checks.findLast((check) => check.place === id && check.marks);
    await labels(this.host, this.with({ places, last, back }));
    if (places.length === 1) this.host.append(asLink("kept-link", linkOf(this.spec, this.batch, places[0])));
  }

  async edit(place, draft) {
    const { edit } = await later.edit();
    this.draft = undefined;
    const go = (address) => {
      location.hash = address;
    };
    edit(this.host, {
      ...this.plain(),
      place,
      draft: draft?.place,
      back: place ? `#kept/${place.id}` : "#kept",
      keep: async (made) => {
        await this.store.keepPlace(made);
        const first = await draft?.first(made);
        if (first) await this.store.keepCheck(first);
        go(`#kept/${made.id}`);
        undoable(`${made.name} is kept${first ? ", with its first check" : ""}.`, async () => {
          if (place) await this.store.keepPlace(place);
          else await this.store.removePlace(made.id);
          this.again(place ? `#kept/${made.id}` : "#kept");
        });
      },
      remove: async () => {
        const taken = await this.store.removePlace(place.id);
        go("#kept");
        undoable(`${place.name} is removed.`, async () => {
          await this.store.put(taken);
          this.again("#kept");
        });
      },
    });
  }

  /** Shows an address, also when it is open already. */
  again(address) {
    if (location.hash === address) this.show(address);
    else location.hash = address;
  }

  /** A place from a link or a label: checked at once, and kept when that is wanted. */
  async linked(hash) {
    const { placeIn, saysTheSame } = await later.link();
    const { place, fault } = placeIn(this.spec, this.batch, hash);
    if (fault) return this.tell(fault);
    const own = await this.store.place(place.id);
    if (own && saysTheSame(this.spec, this.batch, own, place)) {
      window.history.replaceState(null, "", `#kept/${own.id}`);
      return this.quick(own);
    }
    const take = async () => {
      await this.store.keepPlace(place);
      window.history.replaceState(null, "", `#kept/${place.id}`);
      await this.show(`#kept/${place.id}`);
      undoable(`${place.name} is kept on this device.`, async () => {
        if (own) await this.store.keepPlace(own);
        else await this.store.removePlace(place.id);
        this.again("#kept");
      });
    };
    const words = own
      ? `The label says otherwise of ${place.name} than this device.`
      : "It is not kept on this device: a check is answered, and not written down.";
    return this.quick(
      place,
      h(
        "div",
        { class: "offer" },
        h("p", null, words),
        h(
          "p",
          { class: "buttons" },
          h(
            "button",
            { type: "button", id: "kept-take", onclick: take },
            own ? "Keep what the label says" : "Keep it on this device",
          ),
          own && h("a", { class: "button", href: `#kept/${own.id}` }, "Go by this device"),
        ),
      ),
    );
  }

  tell(text) {
    this.host.replaceChildren(
      h("h2", { tabindex: -1, id: "kept-title" }, "Nothing to show"),
      h("p", { role: "alert" }, text),
      h("p", { class: "buttons" }, h("a", { class: "button main", href: "#kept" }, "Tanks and machines")),
    );
  }

  /**
   * Notes the answer to a check of a place; gives back what asks whether it was done, to be shown with it.
   *
   * Read `again` means that what was told before has been done. Otherwise a check of a moment ago that
   * nothing was said about gives way: a number in it was wrong. That is said.
   */
  async note(place, document, outcome, again = false) {
    if (!place || !(await this.store.place(place.id))) return undefined;
    const check = checkOf(this.spec, place, document, outcome);
    const before = (await this.store.checks(place.id)).at(-1);
    let replaced;
    if (before && before.done === undefined) {
      if (again) await this.store.keepCheck({ ...before, done: true });
      else if (Date.parse(check.at) - Date.parse(before.at) < MOMENT) replaced = before;
    }
    if (replaced) check.id = replaced.id;
    await this.store.keepCheck(check);
    return this.noted(place, check, replaced);
  }

  /**
   * What says that a check is written down, and asks whether it was done; and what says that it took the place of
   * one, which belongs where it is seen.
   */
  noted(place, check, replaced) {
    const said = h("p", { role: "status" });
    const say = async (done) => {
      check.done = done;
      await this.store.keepCheck(check);
      said.textContent = done ? "Noted: done." : "Noted: not done.";
      for (const button of host.querySelectorAll("[aria-pressed]"))
        button.setAttribute("aria-pressed", String(button.value === String(done)));
    };
    const button = (done, text) =>
      h(
        "button",
        { type: "button", value: String(done), "aria-pressed": "false", onclick: () => say(done) },
        text,
      );
    const both = async () => {
      // The one before gets its place back, and this one a place of its own.
      await this.store.keepCheck(replaced);
      check.id = newId();
      await this.store.keepCheck(check);
      gaveWay.replaceChildren("Both are kept.");
    };
    const what = (one) =>
      [readingText(this.spec, one.reading, this.units()), filled(this.spec, one, this.units())]
        .filter(Boolean)
        .join(" · ");
    const host = h(
      "section",
      { class: "noted", "aria-label": "Written down" },
      h(
        "p",
        null,
        `Written down for ${place.name}: ${what(check)}. `,
        h("a", { href: `#kept/${place.id}/history` }, "History"),
      ),
      toDo(check) && h("p", { class: "buttons" }, button(true, "Done as told"), button(false, "Not done")),
      said,
    );
    const gaveWay =
      replaced &&
      h(
        "p",
        { class: "gave-way", role: "status" },
        h("span", null, `Written in place of the check of a moment ago (${what(replaced)}). `),
        h("button", { type: "button", class: "small", onclick: both }, "Keep both"),
      );
    return { noted: host, gaveWay };
  }

  /**
   * What keeps the entries of a batch check or a top-up, to be shown with their answer. The reading they were
   * answered for is the first check of what is kept.
   */
  offer(name, document, outcome) {
    const answered = moment();
    const keep = () => {
      const first = (place) => firstCheck(this, name, place, document, outcome, answered);
      this.draft = { place: placeFrom(this.spec, this.batch, name, document), first };
      location.hash = "#kept/new";
    };
    return h("button", { type: "button", id: "kept-offer", onclick: keep }, "Keep this tank or machine");
  }

  /** What keeps the losses of a place, to be shown with the answer of `losses`. */
  offerLosses(place, record) {
    const said = h("p", { role: "status" });
    const keep = async () => {
      const { lossesOf } = await later.questions();
      const before = await this.store.place(place.id);
      const losses = lossesOf(this.spec, record);
      await this.store.keepPlace({ ...before, losses, changed: new Date().toISOString() });
      said.textContent = `Kept: ${place.name} looks ahead with these.`;
      undoable(`The losses of ${place.name} are kept.`, async () => {
        await this.store.keepPlace(before);
        said.textContent = "";
      });
    };
    return h(
      "div",
      null,
      h(
        "p",
        { class: "buttons" },
        h(
          "button",
          { type: "button", id: "kept-losses-keep", onclick: keep },
          `Keep these losses for ${place.name}`,
        ),
      ),
      said,
    );
  }

  /** The batch check of a place, to be filled in by hand. */
  document = (place) => documentOf(this.spec, this.batch, place, this.units());
}
