// What a log holds, and what a fit to its stops tells, in words, tables and charts.
import { h, put, toast, upper } from "./dom.js";
import { lineChart } from "./linechart.js";
import { state, step } from "./state.js";

/** @typedef {import("./types.js").Log} Log */
/** @typedef {import("./types.js").Fit} Fit */

/** What the log holds. @param {Log} log */
export function said(log) {
  return [
    h("h3", {}, "What the log holds"),
    h("p", {}, log.about),
    table("Channels of the log", log.channel_heads, log.channels),
    ...list(log.notes, ""),
    ...(log.questions.length ? [h("h4", {}, "Not clear: answer below, in how the log was read")] : []),
    ...list(
      log.questions.map((q) => `${q.text} Taken: ${q.taken}. Set ${q.key} to one of: ${q.choices.join("; ")}.`),
      "warns",
    ),
    ...(log.traps.length ? [h("h4", {}, "What would mislead")] : []),
    ...list(log.traps, "warns"),
    log.switches ? h("p", {}, log.switches) : null,
    ...log.traces.flatMap((t) => [
      h("h4", {}, `Events in ${t.channel}`),
      ...t.about.map((x) => h("p", { class: "soft" }, x)),
      h("ul", { class: "field-notes" }, ...t.events.map((e) => h("li", { class: e.harm ? "warns" : "" }, e.text))),
      ...t.unseen.map((x, i) => h("p", {}, i ? x : h("strong", {}, x))),
    ]),
    log.chart ? lineChart(log.chart) : null,
  ];
}

/** What the stops tell, and the way into the station. @param {Fit} r @param {string} text of the station that was fitted */
export function fitted(r, text) {
  const told = h("p", { role: "status" });
  const take = h("button", { type: "button", class: "main" }, "Take it into the station");
  take.addEventListener("click", () => {
    if (state.text !== text) return put(told, "The station on the sheet has changed since this fit. Fit it again.");
    take.disabled = true;
    void step(r.saved);
    put(told, "What was measured is in the station file, with day and log. Undo takes it out again.");
    toast("What was measured is in the station.");
  });
  return [
    h("h3", {}, "The station fitted to the stops"),
    h("p", {}, r.about),
    r.poor ? h("p", { class: "fault", role: "alert" }, r.poor) : null,
    ...r.stops.map((s) => h("p", {}, h("strong", {}, `${s.when}: `), s.text)),
    table("Numbers after the fit", r.number_heads, r.numbers),
    r.rest ? h("p", { class: "soft" }, r.rest) : null,
    ...(r.alike.length ? [h("h4", {}, "Held together")] : []),
    ...list(r.alike, "warns"),
    lineChart(r.chart),
    h("h4", {}, "Closing curve"),
    r.no_curve ? h("p", { class: "soft" }, `${upper(r.no_curve)}.`) : null,
    ...list(r.curve, ""),
    ...list(r.notes, ""),
    h("h4", {}, "Into the station file"),
    ...list(
      r.writes.map((w) => `${w.name}: ${w.value}`),
      "",
    ),
    r.no_writes ? h("p", {}, r.no_writes) : h("div", { class: "acts" }, take),
    told,
    h("p", { class: "soft" }, r.cautions),
  ];
}

/** @param {string[]} texts @param {string} kind */
const list = (texts, kind) =>
  texts.length ? [h("ul", { class: "field-notes" }, ...texts.map((t) => h("li", { class: kind }, upper(t))))] : [];

/** @param {string} name @param {string[]} heads @param {string[][]} rows */
const table = (name, heads, rows) =>
  h(
    "div",
    { class: "wide-table", tabindex: "0", role: "region", "aria-label": name },
    h(
      "table",
      { class: "compare leak-numbers" },
      h(
        "thead",
        {},
        h(
          "tr",
          {},
          ...heads.map((t) => h("th", { scope: "col" }, t ? upper(t) : h("span", { class: "sr" }, "number"))),
        ),
      ),
      h(
        "tbody",
        {},
        ...rows.map((r) => h("tr", {}, ...r.map((c, i) => h(i ? "td" : "th", i ? {} : { scope: "row" }, c)))),
      ),
    ),
  );
