// What a remedy or a what-if writes into the station file, and how that is done: an edit like any
// other, which undo takes back.
import { choose, edit, state } from "./state.js";

/** @typedef {{path: string, value: string}} Edit */
/** @typedef {import("./whatif.js").Wish} Wish */
/** @typedef {import("./whatif.js").Slider} Slider */
/** @typedef {{path: string, value: string, text: string}} Written */

/** Where the file has what a film tries, if not under the same path. @type {Record<string, string>} */
const FILE = { outlet: "levels.outlet" };
/** Numbers that follow from others, which the file does not have. */
const NOWHERE = /^(mechanics\.|static_)/;

/** A number as it goes into the file: four digits in the unit shown. @param {number} si @param {import("./scales.js").Unit} u */
const written = (si, u) => `${Number((si * u.k).toPrecision(4))} ${u.unit}`;

/** How many devices the file lists; an air vessel of no size may be in the station and not in the list. @param {Written[]} fields */
const devices = (fields) =>
  Math.max(0, ...fields.map((f) => (f.value ? Number(/^surge\.devices\[(\d+)\]/.exec(f.path)?.[1] ?? -1) + 1 : 0)));

/** Whether an air vessel is in the station. @param {Written[]} fields */
const vessel = (fields) => fields.some((f) => /^surge\.devices\[\d+\]\.air_volume$/.test(f.path) && f.text);

/**
 * What a what-if writes, and what of it no station file holds: the valve's own numbers are the maker's.
 * @param {Wish} wish @param {Slider[]} list @param {Written[]} fields @param {string} position that the file has
 * @returns {{edits: Edit[], left: string[]}}
 */
export function writes(wish, list, fields, position) {
  /** @type {Edit[]} */ const edits = [...(wish.edits || [])];
  /** @type {string[]} */ const left = [];
  const wheel = wish.change.flywheel_kg_m2 || 0;
  for (const s of list.filter((x) => x.to === "vary")) {
    const inertia = /^pumps\[\d+\]\.inertia$/.test(s.key) ? wheel : 0;
    if (wish.vary[s.key] === undefined && !inertia) continue;
    if (NOWHERE.test(s.key)) left.push(s.label);
    else edits.push({ path: FILE[s.key] || s.key, value: written((wish.vary[s.key] ?? s.base) + inertia, s.unit) });
  }
  const unit = (/** @type {string} */ key) => list.find((s) => s.key === key)?.unit;
  const [time, air] = [unit("ramp_s"), unit("vessel_m3")];
  if (wish.change.ramp_s && time)
    edits.push(
      { path: "surge.normal_stop", value: "speed ramp" },
      { path: "surge.ramp_time", value: written(wish.change.ramp_s, time) },
    );
  if (wish.change.vessel_m3 && vessel(fields)) left.push("more air in the vessel that is there");
  else if (wish.change.vessel_m3 && air) {
    const at = `surge.devices[${devices(fields)}]`;
    edits.push(
      { path: `${at}.kind`, value: "air vessel" },
      { path: `${at}.at`, value: "0 m" },
      { path: `${at}.air_volume`, value: written(wish.change.vessel_m3, air) },
    );
  }
  if (wish.position && wish.position !== position) edits.push({ path: "valve.position", value: wish.position });
  return { edits, left };
}

/** Writes it into the station file, and looks at the valve. @param {Edit[]} edits @param {string} [valve] */
export async function take(edits, valve) {
  if (edits.length) await edit(edits);
  if (valve && valve !== state.valve) choose(valve);
}
