// Numbers that the page itself prints, in the units of the station.
import { inUnit } from "./dom.js";
import { state, units } from "./state.js";

/** @type {Record<string, {SI: [number, string], US: [number, string]}>} */
const kinds = {
  flow: { SI: [1000, "L/s"], US: [15850.323, "gpm"] },
  head: { SI: [1, "m"], US: [1 / 0.3048, "ft"] },
  velocity: { SI: [1, "m/s"], US: [1 / 0.3048, "ft/s"] },
};

/** Whether the station is in US units. */
export const us = () => state.sheet?.station.units === "US";

/** @param {number} si @param {"flow"|"head"|"velocity"} kind */
export function inUnits(si, kind) {
  const [k, unit] = kinds[kind][us() ? "US" : "SI"];
  return inUnit(si * k, unit);
}

/** The units of the station on the sheet, or of one that begins here. @returns {"US"|"SI"} */
export const system = () =>
  state.sheet ? (state.sheet.station.units === "SI" ? "SI" : "US") : /** @type {"US"|"SI"} */ (units.now);

/** A bare number takes the unit that is shown. @param {string} text @param {string} unit */
export const withUnit = (text, unit) =>
  unit && /^[\d.,\s]*\d$/.test(text.trim()) ? `${text.trim()} ${unit}` : text.trim();
