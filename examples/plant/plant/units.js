// Units by their common codes (UN/CEFACT Recommendation 20), in the service's two systems.

// °Brix, millilitres, shares and dissolved matter have the same unit in both.
const CODES = {
  volume: { metric: "LTR", us: "GLL" },
  mass: { metric: "KGM", us: "LBR" },
  rate: { metric: "L2", us: "G2" },
  density: { metric: "B35", us: "GE" },
  share: { metric: "P1", us: "P1" },
  dissolved: { metric: "M1", us: "M1" },
  minutes: { metric: "MIN", us: "MIN" },
  hours: { metric: "HUR", us: "HUR" },
  brix: { metric: "J18", us: "J18" },
  titrant: { metric: "MLT", us: "MLT" },
};

/** The code of a kind of quantity in a system of units; none for dimensionless numbers. */
const code = (kind, system) => CODES[kind]?.[system];

/** The fault of a unit, in a sentence, if it is wrong. */
function unitFault(kind, given) {
  const codes = [...new Set(Object.values(CODES[kind] ?? {}))];
  if (codes.length === 0) {
    return given === undefined ? undefined : `This is a bare number, and ${given} stands beside it.`;
  }
  if (codes.includes(given)) return undefined;
  const wanted = codes.join(" or ");
  return given === undefined
    ? `The unit is missing: ${wanted}.`
    : `The unit must be ${wanted}, not ${given}.`;
}

/** The system that a unit belongs to, unless it belongs to both. */
function systemOf(kind, given) {
  const { metric, us } = CODES[kind] ?? {};
  if (metric === us) return undefined;
  return given === metric ? "metric" : "us";
}

module.exports = { code, systemOf, unitFault };
