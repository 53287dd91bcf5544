// The trip in words: for those who listen instead of look, and for everyone who wants the numbers.
import { digits, h } from "./dom.js";
import { extremes, shutAt } from "./film.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./scales.js").Units} Units */

/** A number in a unit of the reader. @param {number|null|undefined} si @param {import("./scales.js").Unit} u */
export const told = (si, u) => (si === null || si === undefined || !Number.isFinite(si) ? "not known" : `${digits(si * u.k)} ${u.unit}`);

/** @param {any} band @param {import("./scales.js").Unit} u */
function banded(band, u) {
  if (!band) return "not known";
  const best = told(band.best, u);
  return band.low === band.high ? best : `${best} (${digits(band.low * u.k)} to ${digits(band.high * u.k)})`;
}

/** The findings of a run as rows of name and number. @param {Reel} r @param {Units} u @returns {[string, string][]} */
export function facts(r, u) {
  const c = r.trip.closing;
  const x = extremes(r);
  const at = (/** @type {number} */ m) => `, at ${told(m, u.length)} of the main`;
  const limit = (/** @type {number} */ v, /** @type {string} */ name) => (Number.isFinite(v) ? `; ${name} ${told(v, u.head)}` : "");
  const shut = shutAt(r);
  /** @type {[string, string][]} */
  const rows = [["the valve shuts", shut === null ? "it does not shut in this run" : `${digits(shut)} s after the trip`]];
  if (c) {
    if (c.reversal_s > 0) rows.push(["the water turns back", `after ${digits(c.reversal_s)} s`]);
    rows.push(["reverse velocity as it shuts", banded(c.reverse_velocity_m_s, u.velocity) + (c.class ? `: ${c.class}` : "")], ["head rise as it shuts", banded(c.head_rise_m, u.head)]);
  }
  rows.push(["greatest pressure head", told(x.most.value, u.head) + at(x.most.x) + limit(x.most.limit, "the pipe's rating there is")]);
  rows.push(["least pressure head", told(x.least.value, u.head) + at(x.least.x) + limit(x.least.limit, "water boils there at")]);
  return rows;
}

/** @param {Reel} r @param {Units} u @param {string} name */
export function inWords(r, u, name) {
  return h("div", { class: "pl-words-one" },
    h("h3", {}, name),
    r.trip.what_if?.length ? h("p", { class: "pl-tried" }, `What if: ${r.trip.what_if.map((/** @type {{text: string}} */ w) => w.text).join("; ")}.`) : null,
    h("table", {}, h("tbody", {}, facts(r, u).map(([k, v]) => h("tr", {}, h("th", { scope: "row" }, k), h("td", {}, v))))),
    h("ol", { class: "pl-told" }, r.moments.map((m) => h("li", {}, `${digits(m.t)} s: ${m.text}`))));
}
