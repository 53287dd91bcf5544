// What was found of a valve, with reason, mend and source.
import { h, upper } from "./dom.js";
import { number } from "./explain.js";

/** @typedef {import("./types.js").Candidate} Candidate */
/** @typedef {import("./types.js").Finding} Finding */

/** A sign and a word for each severity. @type {Record<Finding["severity"], [string, string]>} */
const kinds = {
  rejects: ["✕", "rejects it"],
  open: ["?", "cannot say"],
  condition: ["!", "condition"],
  confirm: ["☐", "confirm"],
  note: ["i", "note"],
  pass: ["✓", "passes"],
};
/** @type {(Finding["severity"]|"beyond")[]} */
const order = ["rejects", "beyond", "open", "condition", "confirm", "note", "pass"];

/** @param {Finding["severity"]} s */
export const severity = (s) => kinds[s];

/** Column separation does not decide about the valve, but threatens the station: never a mere note. @param {Finding} f @returns {[string, string, Finding["severity"]|"beyond"]} */
const shown = (f) => (f.beyond_valve ? ["!", "beyond the valve", "beyond"] : [...severity(f.severity), f.severity]);

/** @param {Finding[]} list */
export const sorted = (list) => [...list].sort((a, b) => order.indexOf(shown(a)[2]) - order.indexOf(shown(b)[2]));

/** @param {Finding} f */
export function line(f) {
  const [sign, word, tone] = shown(f);
  return h(
    "li",
    { class: `finding ${tone}` },
    h("span", { class: "f-sign", "aria-hidden": "true" }, sign),
    h(
      "div",
      {},
      h("p", {}, h("span", { class: "f-word" }, upper(word)), ": ", f.text),
      f.missing ? h("p", { class: "soft" }, `Missing: ${f.missing}${f.settled_by ? ` (${f.settled_by})` : ""}.`) : null,
      f.mend ? h("p", { class: "mend" }, h("span", { "aria-hidden": "true" }, "→ "), upper(f.mend) + ".") : null,
      f.basis ? h("p", { class: "source" }, f.basis) : null,
    ),
  );
}

/** @type {[string, string][]} */
const numbers = [
  ["loss", "head loss"],
  ["velocity", "velocity"],
  ["opening", "opening"],
  ["full_open_velocity", "full-open velocity"],
  ["cracking_head", "cracking head"],
  ["least_back_head", "minimum back head to seal"],
  ["reverse_velocity", "reverse velocity"],
  ["head_rise", "head rise"],
  ["energy_per_year", "energy per year"],
  ["life_cycle_cost", "life-cycle cost"],
];

/** The findings of a candidate, bad news first; what passes is folded away. @param {Candidate} c @param {{id: string, title: string}} r */
export function findings(c, r) {
  const all = sorted(c.findings);
  const news = all.filter((f) => f.severity !== "pass" && f.severity !== "confirm");
  const confirm = all.filter((f) => f.severity === "confirm");
  const passed = all.filter((f) => f.severity === "pass");
  return h(
    "div",
    {},
    h("ul", { class: "findings" }, ...news.map(line)),
    confirm.length
      ? h(
          "section",
          { class: "confirm" },
          h("h3", {}, "Confirm before ordering"),
          h("ul", { class: "findings" }, ...confirm.map(line)),
        )
      : null,
    passed.length
      ? h(
          "details",
          {},
          h("summary", {}, `${passed.length} checks passed`),
          h("ul", { class: "findings" }, ...passed.map(line)),
        )
      : null,
    h(
      "p",
      { class: "sources" },
      h("span", { class: "soft" }, "Calculations: "),
      ...numbers.map(([key, name]) => number(name, `${r.id} ${key}`, `${upper(name)}, ${r.title}`)),
    ),
  );
}
