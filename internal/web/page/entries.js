// Lists of the station file whose entries a reader adds and removes: groups of pumps, runs
// of pipe. An added entry begins as what stands there already, so that the station holds.
import { h, put, say } from "./dom.js";
import { wording } from "./api.js";
import { edit, state } from "./state.js";

/** @typedef {import("./types.js").Field} Field */
/** @typedef {{path: string, value: string|null}} Edit */

/** By the place on the drawing: where the list stands in the file, what one of it is, and how one is added. @type {Record<string, {list: string, one: string, add: string}>} */
const lists = {
  pump: { list: "pumps", one: "Pump group", add: "Add a group of pumps like the last" },
  branch: { list: "branch.runs", one: "Run", add: "Split the last run in two" },
  main: { list: "main.runs", one: "Run", add: "Split the last run in two" },
};

/** The facts of each entry of a list, in order. @param {Field[]} fields @param {string} list @returns {Field[][]} */
export function grouped(fields, list) {
  /** @type {Field[][]} */ const out = [];
  for (const f of fields) {
    if (!f.path.startsWith(list + "[")) continue;
    const i = Number.parseInt(f.path.slice(list.length + 1), 10);
    (out[i] ||= []).push(f);
  }
  return out;
}

/** A length in the reader's unit. @param {number} m @param {boolean} us */
const length = (m, us) => (us ? `${Number((m / 0.3048).toPrecision(6))} ft` : `${Number(m.toPrecision(6))} m`);

/**
 * The edits that add an entry; none where the last one is not written.
 * @param {Field[][]} all @param {string} list @param {boolean} us @returns {Edit[]}
 */
export function adding(all, list, us) {
  const n = all.length;
  const last = all[n - 1] || [];
  const written = last.filter((f) => f.value);
  if (!written.length) return [];
  const to = (/** @type {Field} */ f) => f.path.replace(`${list}[${n - 1}]`, `${list}[${n}]`);
  if (list === "pumps") {
    const name = last.find((f) => f.path.endsWith(".name"))?.value || "pumps";
    return written
      .filter((f) => !/\.(name|count|standby)$/.test(f.path))
      .reduce(
        (out, f) => [...out, { path: to(f), value: f.value }],
        /** @type {Edit[]} */ ([
          { path: `${list}[${n}].name`, value: `${name}, more` },
          { path: `${list}[${n}].count`, value: "1" },
        ]),
      );
  }
  const long = last.find((f) => f.path.endsWith(".length"));
  if (!long?.value || !long.si) return [];
  const half = length(long.si / 2, us);
  // Fittings and losses stay where they are; what the pipe is, both halves are.
  const kept = written.filter((f) => f !== long && !/\.(fittings|loss_coefficient)$/.test(f.path));
  return [
    { path: long.path, value: half },
    { path: to(long), value: half },
    ...kept.map((f) => ({ path: to(f), value: f.value })),
  ];
}

/**
 * The facts at a place, its list apart; all in one where the place has no list.
 * @param {string} place @param {Field[]} fields @param {(some: Field[]) => Node} facts
 */
export function entries(place, fields, facts) {
  const of = lists[place];
  const all = of ? grouped(fields, of.list) : [];
  if (!of || !all.length) return [facts(fields)];
  const us = state.sheet?.station.units === "US";
  const wrong = h("p", { class: "fault", role: "alert" });
  const make = async (/** @type {Edit[]} */ edits, /** @type {string} */ done, /** @type {string} */ then) => {
    put(wrong);
    try {
      await edit(edits);
      say(done);
      /** @type {HTMLElement|null} */ (document.querySelector(then))?.focus();
    } catch (e) {
      put(wrong, wording(e));
    }
  };
  const addition = adding(all, of.list, us);
  const add = `add-${place}`;
  const name = (/** @type {Field[]} */ some, /** @type {number} */ i) =>
    some.find((f) => f.path.endsWith(".name"))?.value || `${of.one} ${i + 1}`;
  const rest = fields.filter((f) => !f.path.startsWith(of.list + "["));
  return [
    ...all.map((some, i) =>
      h(
        "div",
        { class: "entry", role: "group", "aria-label": name(some, i) },
        all.length > 1
          ? h(
              "div",
              { class: "entry-head" },
              h("h4", {}, name(some, i)),
              h(
                "button",
                {
                  type: "button",
                  onclick: () =>
                    make([{ path: `${of.list}[${i}]`, value: null }], `${name(some, i)} is removed`, `#${add}`),
                },
                "Remove",
                h("span", { class: "sr" }, ` ${name(some, i)}`),
              ),
            )
          : null,
        facts(some),
      ),
    ),
    addition.length
      ? h(
          "button",
          {
            type: "button",
            id: add,
            onclick: () => make(addition, "Added", `#facts-${place} .entry:last-of-type .entry-head button`),
          },
          of.add,
        )
      : null,
    wrong,
    rest.length ? facts(rest) : null,
  ];
}
