// What an answer tells somebody to measure out, as its sentences have it, and what the tank then comes to: the
// numbers that are read, beside which the exact ones would be others for the same pour.

import { volumeIn } from "./writing.js";

/** A step's amount as its sentence says it; the exact one where that has none. */
function toldIn(step) {
  if (!step) return 0; // nobody is told to pour it
  const told = Number(volumeIn(step.text)); // the engine writes a point, and nothing between thousands
  return Number.isFinite(told) ? told : step.volume;
}

const DRAINS = ["drain", "draw_off"];

/** Of a top-up: what is drained, what is added of each stock in the order of the answer, and what the tank then holds. */
export function measuredOut({ drain, add, after, steps }) {
  const drained = toldIn(steps.find(({ action }) => DRAINS.includes(action)));
  const added = add.map(({ name }) => toldIn(steps.find((step) => step.name === name)));
  const sum = (volumes) => volumes.reduce((whole, one) => whole + one, 0);
  const before = after.volume + drain - sum(add.map((one) => one.volume));
  return { drained, added, volume: Number((before - drained + sum(added)).toPrecision(12)) };
}

/** What stands in a tank after something was drained and added: its volume and strength. */
export function mixed({ volume, concentration, drained = 0, added = [] }) {
  if (concentration === undefined || !(volume >= drained)) return undefined;
  const parts = [{ volume: volume - drained, concentration }, ...added];
  const whole = parts.reduce((sum, one) => sum + one.volume, 0);
  const concentrate = parts.reduce((sum, one) => sum + one.volume * one.concentration, 0);
  return whole > 0 ? { volume: whole, concentration: concentrate / whole } : undefined;
}
