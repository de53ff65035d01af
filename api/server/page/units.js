// Numbers: how they are typed, shown, and taken from one system of units to the other.

/** By what the published schema says of a unit: metric = (us − zero) · scale. */
const turn = (number, { scale, zero }, to) => (to === "us" ? number / scale + zero : (number - zero) * scale);

/** A number in the units `to`, when it was in the other ones. */
export function convert(number, unit, to) {
  if (!unit || unit.metric === unit.us) return number;
  const turned = turn(number, unit, to);
  // What was round before it was turned the other way is round again.
  const round = Number(turned.toPrecision(12));
  const again = turn(round, unit, to === "us" ? "metric" : "us");
  return Math.abs(again - number) <= 4e-15 * Math.abs(number) ? round : turned;
}

/**
 * A number of `most` at most, as somebody typed it, with or without one of its `units` behind it;
 * nothing when blank; the text itself when it is no number.
 */
export function read(text, most = Infinity, units = []) {
  const plain = bare(text, units).replace(GAPS, "").replace("−", "-");
  if (plain === "") return text.trim() === "" ? undefined : text.trim();
  if (doubtful(plain) && Math.abs(grouped(plain)) <= most) return text.trim();
  const comma = plain.lastIndexOf(",");
  const point = plain.lastIndexOf(".");
  let digits = plain;
  if (comma >= 0 && point >= 0) {
    // Whichever comes last is the decimal sign, the other one groups.
    const [group, sign] = comma > point ? [".", ","] : [",", "."];
    const [whole, ...rest] = plain.split(sign);
    const inThrees = new RegExp(`^[+-]?\\d{1,3}(\\${group}\\d{3})+$`).test(whole);
    if (!inThrees || rest.length !== 1) return text.trim();
    digits = `${whole.split(group).join("")}.${rest[0]}`;
  } else if (/^[+-]?\d{1,3}([.,]\d{3}){2,}$/.test(plain)) {
    digits = plain.replace(/[.,]/g, "");
  } else {
    digits = plain.replace(",", ".");
  }
  return /^[+-]?(\d+\.?\d*|\.\d+)(e[+-]?\d+)?$/i.test(digits) ? Number(digits) : text.trim();
}

/** What stands between the digits of a long number. */
const GAPS = /[\s\u00a0\u202f'’]/g;

/** A text without the one of these units that stands behind its number. */
function bare(text, units) {
  const [, number, behind] = /^(.*?[\d.,])\s*([^\d.,]*)$/s.exec(text.trim()) ?? [];
  const alike = (unit) => unit.replace(GAPS, "").toLowerCase();
  return behind && units.some((unit) => alike(unit) === alike(behind)) ? number : text.trim();
}

/** How people write a unit that has a short and a long form, by the code of the unit. */
const WRITTEN = {
  L: ["litre", "litres", "liter", "liters"],
  "[gal_us]": ["gal", "gallon", "gallons"],
  kg: ["kilogram", "kilograms"],
  "[lb_av]": ["lbs", "pound", "pounds"],
  min: ["minute", "minutes"],
  h: ["hour", "hours"],
  d: ["day", "days"],
  wk: ["week", "weeks"],
  mo: ["month", "months"],
  a: ["year", "years"],
  "[in_i]": ["inch", "inches", '"'],
  "°Brix": ["Brix", "°Bx"],
  Cel: ["C", "°"],
  "[degF]": ["F", "°"],
};

/** The ways to write the unit of a schema in a system of units. */
export const spellings = ({ unit }, system) =>
  unit ? [unit.symbol[system], unit[system], ...(WRITTEN[unit[system]] ?? [])].filter(Boolean) : [];

/** Whether a comma or a point may stand for thousands as well as for a decimal sign. */
const doubtful = (plain) => /^[+-]?[1-9]\d{0,2}[.,]\d{3}$/.test(plain);

/** Such a number when the sign stands for thousands. */
const grouped = (plain) => Number(plain.replace(/[.,]/, ""));

/** Both numbers that a text can mean when its sign may stand for thousands as well as for a decimal sign. */
export function either(text, units = []) {
  const plain = bare(text, units).replace(GAPS, "");
  return doubtful(plain) ? [grouped(plain), Number(plain.replace(",", "."))] : undefined;
}

/** Why a text is not a number; `unit` is that of its place. */
export function unread(text, unit) {
  const [, number, behind] = /^(.*?[\d.,])\s*([^\d.,]*)$/s.exec(text) ?? [];
  if (number && doubtful(number.replace(GAPS, ""))) {
    const plain = number.replace(GAPS, "");
    const decimal = String(Number(plain.replace(",", ".")));
    return `“${text}” can be read as ${grouped(plain)} or as ${decimal}. Write ${grouped(plain)} or ${sure(decimal)}.`;
  }
  if (behind && typeof read(number) === "number") {
    return `“${text}” has a unit that does not belong here. Write the number ${unit ? `in ${unit}` : "without a unit"}.`;
  }
  return `“${text}” is not a number. Write digits only, with a comma or a point for decimals.`;
}

/** A fourth digit after the sign leaves no doubt. */
const sure = (decimal) => (doubtful(decimal) ? `${decimal}0` : decimal);

/** A number as `read` takes it back to the last digit. */
export const written = (number) => sure(String(number));

/** A number as it stands in a field: what was typed, or six digits of what was converted. */
export function typed(number) {
  if (typeof number !== "number") return String(number ?? "");
  const whole = String(number);
  return whole.length <= 9 ? whole : String(Number(number.toPrecision(6)));
}

/** A number to so many digits, and no whole unit lost. */
const toDigits = (number, digits) =>
  Math.abs(number) >= 10 ** (digits - 1) ? Math.round(number) : Number(number.toPrecision(digits));

/** How many digits somebody wrote at most; a longer number was worked out or converted. */
const WRITTEN_MOST = 7;

const digitsOf = (number) => (String(number).length <= WRITTEN_MOST ? WRITTEN_MOST : 4);

/** A number as somebody wrote it; what was worked out or converted to four digits. */
export const asWritten = (number) => toDigits(number, digitsOf(number));

/** The same, to be read. */
export const shownAsWritten = (number) => shown(number, digitsOf(number));

/** What stands in a tank when something was poured into it: three digits, as a picture of it says, and `most` at most. */
export function roughly(number, most = Infinity) {
  const places = 2 - Math.floor(Math.log10(number || 1));
  const unit = 10 ** Math.abs(places);
  const rounded = places >= 0 ? Math.round(number * unit) / unit : Math.round(number / unit) * unit;
  return Math.min(rounded, most);
}

/** A number as it is read at arm's length: four digits unless said otherwise, and no whole unit lost. */
export function shown(number, digits = 4) {
  if (number === 0) return "0";
  if (Math.abs(number) < 1e-9) return "0"; // what rounding leaves of nothing
  const rounded = toDigits(number, digits);
  const [whole, rest] = String(rounded).split(".");
  const grouped = whole.replace(/\B(?=(\d{3})+$)/g, whole.length > 4 ? "\u202f" : "");
  return rest ? `${grouped}.${rest}` : grouped;
}
