// How this person writes decimals, with a comma or with a point: answers are written the same way.

const KEPT = "decimal-comma";

let comma = remembered();

function remembered() {
  try {
    return localStorage.getItem(KEPT) === "yes";
  } catch {
    /* the browser keeps nothing */
    return false;
  }
}

/** Takes notice of a number as it was typed. */
export function notice(text) {
  const [, sign] = /^\s*[-−+]?\d*([.,])\d+\s*\D*$/.exec(text) ?? [];
  // Three digits behind the sign may stand behind thousands.
  if (!sign || /[.,]\d{3}\s*\D*$/.test(text) || comma === (sign === ",")) return;
  comma = sign === ",";
  try {
    if (comma) localStorage.setItem(KEPT, "yes");
    else localStorage.removeItem(KEPT);
  } catch {
    /* the browser keeps nothing */
  }
}

/** A number or a sentence with its decimals as this person writes them. */
export const written = (text) => (comma ? text.replace(/(\d)\.(?=\d)/g, "$1,") : text);

/** The name of the sign, as the service calls it. */
export const decimalSign = () => (comma ? "comma" : "point");
