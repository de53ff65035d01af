// The page on this device: kept by the browser, and said where an answer was calculated here.

import { alone } from "./dom.js";

const HERE = "Calculated on this device, without the service.";
const BY_ITSELF = "This is the page by itself: it calculates on this device, without a service.";

const place = document.getElementById("away");

/** Says where the last answer comes from; nothing where it comes from the service, as usual. */
addEventListener("answered", ({ detail: { onDevice } }) => {
  const text = onDevice ? HERE : "";
  if (place.textContent !== text) place.textContent = text;
});

/** In a quiet moment the device takes the engine of the page's version too, unless it is to spare the network. */
async function keepEngine() {
  const { active } = await navigator.serviceWorker.ready;
  const quiet = window.requestIdleCallback ?? ((act) => setTimeout(act, 3000));
  if (!navigator.connection?.saveData) quiet(() => active.postMessage("keep the engine"));
}

async function keep() {
  await navigator.serviceWorker.register("service-worker.js", { updateViaCache: "none" });
  navigator.serviceWorker.addEventListener("controllerchange", keepEngine);
  await keepEngine();
}

if (alone()) {
  place.textContent = BY_ITSELF;
  // What only a service has leads nowhere here.
  for (const link of document.querySelectorAll('a[href^="docs/"]')) link.replaceWith(link.textContent);
} else if ("serviceWorker" in navigator) {
  addEventListener("load", () => {
    // Where a browser keeps nothing, the page is as good while the service answers.
    keep().catch(() => {});
  });
}
