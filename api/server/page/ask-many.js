// Many documents put to one calculation at once: in one request, a line each, or where no service answers
// one after the other to the engine on this device.

import { either, engine, json, reach } from "./ask.js";

const LINES = "application/x-ndjson";

/** A record or a problem, as whichever it is. */
const told = (said) => (said.answer ? { record: said } : { problem: said });

/** Asks all of them: for each document, in their order, what `ask` gives for one. */
export async function askMany(name, documents) {
  const take = async (response) => {
    if (!response.ok) return Array(documents.length).fill(await response.json());
    const lines = (await response.text()).trim().split("\n").map(JSON.parse);
    // Where the answers end early, the last one says why.
    return documents.map((_, i) => lines[i] ?? lines.at(-1));
  };
  const body = documents.map((document) => `${JSON.stringify(document)}\n`).join("");
  const headers = { "content-type": LINES, accept: LINES };
  const { answered, computed } = await either(
    () => reach(`v1/${name}`, take, { method: "POST", body, headers }),
    async () => {
      const { answer } = await engine();
      const all = [];
      for (const document of documents)
        all.push(json((await answer(name, JSON.stringify(document), "application/json")).body));
      return all;
    },
  );
  const onDevice = answered === undefined;
  dispatchEvent(new CustomEvent("answered", { detail: { onDevice } }));
  return (answered ?? computed).map((said, i) => ({
    request: documents[i],
    onDevice,
    ...told(said),
  }));
}
