// Where tanks, machines and their checks are kept: a database of this browser, on this device.

import { openDB } from "../vendored/idb.js";

const NAME = "sumpwright";

/** What each version of the database adds to the one before. A step is never changed, only followed. */
const STEPS = [
  (database) => {
    database.createObjectStore("places", { keyPath: "id" });
    database.createObjectStore("checks", { keyPath: "id" }).createIndex("place", "place");
  },
];

/** Opens what is kept. Where the browser keeps nothing, it is held for as long as the tab is open. */
export async function openStore() {
  try {
    const database = await openDB(NAME, STEPS.length, {
      upgrade(opened, from) {
        for (const step of STEPS.slice(from)) step(opened);
      },
      // A newer page in another tab must not wait for this one.
      blocking: (_from, _to, event) => event.target.close(),
    });
    return new Store(database, true);
  } catch {
    return new Store(new Held(), false);
  }
}

/** A name for a thing that no other has. */
export const newId = () =>
  [...crypto.getRandomValues(new Uint8Array(8))].map((byte) => (byte % 36).toString(36)).join("");

class Store {
  /** `lasts` says whether what is kept is there when the page is opened again. */
  constructor(database, lasts) {
    Object.assign(this, { database, lasts });
  }

  places = () => this.database.getAll("places");
  place = (id) => this.database.get("places", id);

  /** The checks of a place, the oldest first; without a place, all of them. */
  async checks(place) {
    const found = place
      ? await this.database.getAllFromIndex("checks", "place", place)
      : await this.database.getAll("checks");
    return found.sort((a, b) => Date.parse(a.at) - Date.parse(b.at));
  }

  /** Keeps a place, and gives back what it was before. */
  async keepPlace(place) {
    const [before, others] = [await this.place(place.id), await this.places()];
    await this.database.put("places", place);
    // Without waiting: some browsers ask the person first.
    if (others.length === 0) askToLast();
    return before;
  }

  keepCheck = (check) => this.database.put("checks", check);
  removeCheck = (id) => this.database.delete("checks", id);

  /** Removes a place with its checks; what is given back can be put. */
  async removePlace(id) {
    const taken = { places: [await this.place(id)], checks: await this.checks(id) };
    await this.take(taken);
    return taken;
  }

  /** Everything. */
  all = async () => ({ places: await this.places(), checks: await this.checks() });

  /** Puts places and checks beside those that are there, all of them or none. */
  put = (given) => this.within((of, name) => given[name].map((one) => of.put(one)));

  /** Takes places and checks away, all of them or none. */
  take = (given) => this.within((of, name) => given[name].map((one) => of.delete(one.id)));

  /** Makes this everything that is kept. */
  replace = (given) => this.within((of, name) => [of.clear(), ...given[name].map((one) => of.put(one))]);

  async within(act) {
    const transaction = this.database.transaction(["places", "checks"], "readwrite");
    const done = ["places", "checks"].flatMap((name) => act(transaction.objectStore(name), name));
    await Promise.all([...done, transaction.done]);
  }
}

/** Asks the browser not to clear this away when space is short. */
async function askToLast() {
  try {
    await navigator.storage.persist();
  } catch {
    /* it cannot be asked: `lasting` says that it has not agreed */
  }
}

/** Whether the browser has agreed, and how many bytes lie here. */
export async function lasting() {
  try {
    const { usage } = await navigator.storage.estimate();
    return { agreed: await navigator.storage.persisted(), usage };
  } catch {
    return { agreed: false };
  }
}

/** The same calls as of the database, for a browser that has none. */
class Held {
  held = { places: new Map(), checks: new Map() };
  copy = (value) => structuredClone(value);
  getAll = async (name) => [...this.held[name].values()].map(this.copy);
  getAllFromIndex = async (name, key, value) => (await this.getAll(name)).filter((one) => one[key] === value);
  get = async (name, id) => this.copy(this.held[name].get(id));
  put = async (name, one) => this.held[name].set(one.id, this.copy(one));
  delete = async (name, id) => this.held[name].delete(id);
  transaction = () => ({
    objectStore: (name) => ({
      put: (one) => this.put(name, one),
      delete: (id) => this.delete(name, id),
      clear: async () => this.held[name].clear(),
    }),
  });
}
