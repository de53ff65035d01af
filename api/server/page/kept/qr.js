// A QR code (ISO/IEC 18004) as a drawing. Its encoder is fetched when the first one is drawn.

import { h, svg } from "../dom.js";

const QUIET = 4; // modules of white around it, as the standard asks

/** A QR code of a text, black on white by any light, read by any camera. */
export async function qr(text, label) {
  const { encode } = await import("../vendored/uqr.js");
  const { data, size } = encode(text, { ecc: "M", border: QUIET });
  const dark = data.flatMap((row, y) => row.map((is, x) => (is ? `M${x} ${y}h1v1h-1z` : "")));
  return svg(
    "svg",
    {
      viewBox: `0 0 ${size} ${size}`,
      class: "qr",
      role: "img",
      "aria-label": label,
      "shape-rendering": "crispEdges",
    },
    svg("rect", { width: size, height: size, fill: "#fff" }),
    svg("path", { d: dark.join(""), fill: "#000" }),
  );
}

/** What a code says, as a link to copy. */
export function asLink(id, link) {
  const input = h("input", { id, readonly: true });
  input.value = link;
  const said = h("p", { role: "status" });
  const copy = async () => {
    input.select();
    try {
      await navigator.clipboard.writeText(link);
      said.textContent = "The link is copied.";
    } catch {
      said.textContent = "Copy the selected link.";
    }
  };
  return h(
    "div",
    { class: "field" },
    h("label", { for: id }, "The same as a link"),
    input,
    h("p", { class: "buttons" }, h("button", { type: "button", onclick: copy }, "Copy the link")),
    said,
  );
}

/** Whether a link of this page can be opened on another device at all. */
export const reachable = () =>
  !["localhost", "127.0.0.1", "[::1]", ""].includes(location.hostname) && location.protocol !== "file:";

export const UNREACHABLE =
  "This page is open at an address that only this device knows, so the code leads nowhere on another one. " +
  "Open the page by the name of the computer that it runs on.";
