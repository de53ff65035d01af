// Keeps the page on the device, and opens it where no service answers.
//
// Above stand FILES and ENGINE, written by the service: the page's files and the engine, with the tag of
// each. The page's own tag changes whenever any of them does, so it is the version. Only files with these
// tags are kept, all of them or none. Questions, answers and whatever needs a key are never looked at here.

const VERSION = FILES["./"];
const CACHE = `page ${VERSION}`;
const PATIENCE = 4000; // milliseconds that a service has to show its page

const at = (name) => new URL(name, self.registration.scope).href;
const kept = async (name) => (await caches.open(CACHE)).match(at(name), { ignoreVary: true });

/** Tabs whose page came from a service of another version: nothing that is kept here goes with it. */
const others = new Set();

/** Takes files into the cache, each only as this version has it. */
async function keep(files) {
  const cache = await caches.open(CACHE);
  const take = async ([name, tag]) => {
    const response = await fetch(at(name), { cache: "no-cache" });
    if (!response.ok || response.headers.get("etag") !== tag) throw new Error(`${name} is another one now`);
    await cache.put(at(name), response);
  };
  await Promise.all(Object.entries(files).map(take));
}

let keeping; // the engine, while it is fetched: a first visit asks for it twice

async function fetchEngine() {
  const [name] = Object.keys(ENGINE);
  if (name && !(await kept(name))) await keep(ENGINE);
}

function keepEngine() {
  keeping ??= fetchEngine().finally(() => {
    keeping = undefined;
  });
  return keeping;
}

async function forgetOthers() {
  const names = await caches.keys();
  await Promise.all(names.filter((name) => name !== CACHE).map((name) => caches.delete(name)));
}

/** The page: as the service has it, or where none answers as it is kept here. */
async function open(event) {
  const own = await kept("./");
  const wait = own ? { signal: AbortSignal.timeout(PATIENCE) } : {};
  const response = await fetch(event.request, wait).catch(() => undefined);
  const answers = response && response.status < 500;
  if (own && (!answers || response.headers.get("etag") === VERSION)) return own;
  others.add(event.resultingClientId);
  return response ?? Response.error();
}

/** A file that belongs to the page. */
async function file(event, name) {
  if (others.has(event.clientId)) {
    if (event.request.destination === "worker") others.add(event.resultingClientId);
    return fetch(event.request);
  }
  return (await kept(name)) ?? fetch(event.request);
}

self.addEventListener("install", (event) => {
  event.waitUntil(keep(FILES).then(() => self.skipWaiting()));
});

self.addEventListener("activate", (event) => {
  event.waitUntil(forgetOthers().then(() => self.clients.claim()));
});

self.addEventListener("message", (event) => {
  if (event.data === "keep the engine") event.waitUntil(keepEngine());
});

self.addEventListener("fetch", (event) => {
  const { request } = event;
  const { href, search } = new URL(request.url);
  if (request.method !== "GET" || !href.startsWith(self.registration.scope)) return;
  const name = href.slice(self.registration.scope.length).replace(/[?#].*$/s, "") || "./";
  if (request.mode === "navigate") {
    if (name === "./") event.respondWith(open(event));
  } else if (search === "" && (name in FILES || name in ENGINE)) event.respondWith(file(event, name));
});
