// A QR code (ISO/IEC 18004) as a drawing. Its encoder is fetched when the first one is drawn.

import { svg } from "../dom.js";

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

/** Whether a link of this page can be opened on another device at all. */
export const reachable = () =>
  !["localhost", "127.0.0.1", "[::1]", ""].includes(location.hostname) && location.protocol !== "file:";

export const UNREACHABLE =
  "This page is open at an address that only this device knows, so the code leads nowhere on another one. " +
  "Open the page by the name of the computer that it runs on.";
