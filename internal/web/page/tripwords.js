// The trip in words: for those who listen instead of look, and for everyone who wants the numbers.
import { digits, h, inUnit } from "./dom.js";
import { line, sorted } from "./findings.js";
import { extremes, shutAt } from "./film.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./scales.js").Units} Units */

/** A number in a unit of the reader. @param {number|null|undefined} si @param {import("./scales.js").Unit} u */
export const told = (si, u) =>
  si === null || si === undefined || !Number.isFinite(si) ? "not known" : inUnit(si * u.k, u.unit);

/** What is said where the valve does not close: no number, and why. @param {Reel} r */
export function nothingHappens(r) {
  const e = r.trip.events.find((x) => x.id === r.trip.event);
  return e?.not_run ? `not run: ${e.not_run}` : "the valve does not close in this event";
}

/** The findings of a run as rows of name and number. @param {Reel} r @param {Units} u @returns {[string, string][]} */
export function facts(r, u) {
  const c = r.trip.closing;
  const x = extremes(r);
  const at = (/** @type {number} */ m) => `, at ${told(m, u.length)} of the main`;
  const limit = (/** @type {number} */ v, /** @type {string} */ name) =>
    Number.isFinite(v) ? `; ${name} ${told(v, u.head)}` : "";
  const shut = shutAt(r);
  /** @type {[string, string][]} */
  const rows = [];
  if (r.said && shut !== null) {
    rows.push(
      ["reverse velocity", r.said.reverse_velocity],
      ["slam", r.said.class_words],
      ["head rise", r.said.head_rise],
    );
    if (r.said.chances_text) rows.push(["chances", r.said.chances_text]);
  }
  const told1 = r.trip.events.find((e) => e.id === r.trip.event);
  if (told1 && shut !== null) rows.push(["max. head behind the valve", told(told1.greatest_head_at_valve_m, u.head)]);
  rows.push(["the valve closes at", shut === null ? nothingHappens(r) : `${digits(shut)} s`]);
  if (c && c.reversal_s > 0) rows.push(["flow reverses at", `${digits(c.reversal_s)} s`]);
  if (told1?.vapor) rows.push(["column separation", "predicted; the run includes it"]);
  rows.push([
    "max. pressure head",
    told(x.most.value, u.head) + at(x.most.x) + limit(x.most.limit, "the pipe's rating there is"),
  ]);
  rows.push([
    "min. pressure head",
    told(x.least.value, u.head) + at(x.least.x) + limit(x.least.limit, "water boils there at"),
  ]);
  return rows;
}

/** @param {Reel} r @param {Units} u @param {string} name */
export function inWords(r, u, name) {
  return h(
    "div",
    { class: "pl-words-one" },
    h("h3", {}, name),
    r.trip.what_if.length
      ? h("p", { class: "pl-tried" }, `What if: ${r.trip.what_if.map((w) => w.text).join("; ")}.`)
      : null,
    h(
      "table",
      {},
      h(
        "tbody",
        {},
        facts(r, u).map(([k, v]) => h("tr", {}, h("th", { scope: "row" }, k), h("td", {}, v))),
      ),
    ),
    r.trip.findings.length
      ? h(
          "ul",
          { class: "findings" },
          sorted(r.trip.findings)
            .filter((f) => f.severity !== "pass")
            .map(line),
        )
      : null,
    h(
      "div",
      { class: "pl-told", tabindex: "0", role: "group", "aria-label": "What happens, in order" },
      h(
        "ol",
        {},
        r.moments.map((m) => h("li", {}, `${digits(m.t)} s: ${m.text}`)),
      ),
    ),
  );
}
