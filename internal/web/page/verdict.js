// The verdict: which valve, on what condition, what no valve cures, and the one fact that
// decides, with the value at which the answer changes.
import { at, h, put, say, svg, upper } from "./dom.js";
import { on, refresh, shownValve, state } from "./state.js";
import { papers } from "./papers.js";
import { chart } from "./take.js";

/** @typedef {import("./types.js").Answer} Answer */
/** @typedef {import("./types.js").Row} Row */

/** A sign and a class for each verdict: never color alone. @param {string} word @returns {[string, string]} */
export function sign(word) {
  if (word.includes("unsuitable") || word.startsWith("no ")) return ["✕", "bad"];
  if (word.includes("condition")) return ["◐", "cond"];
  if (word.includes("cannot")) return ["?", "open"];
  return ["●", "good"];
}

/** The class of slam against the one fact on which it depends. @param {import("./types.js").Threshold} t */
export function threshold(t) {
  const [left, width] = [6, 388];
  const low = Math.min(t.low, t.at);
  const high = Math.max(t.high, t.at);
  const x = (/** @type {number} */ v) => left + (width * (v - low)) / (high - low || 1);
  const tone = (/** @type {string} */ c) =>
    c === "harmful" ? "harm" : t.milder === (c === t.below ? "below" : "above") ? "mild" : "hard";
  const at = x(t.at);
  const text = (
    /** @type {number} */ px,
    /** @type {number} */ py,
    /** @type {string} */ anchor,
    /** @type {string} */ s,
  ) => svg("text", { x: px, y: py, "text-anchor": anchor }, s);
  const side = at < 120 ? "start" : at > 280 ? "end" : "middle";
  return h(
    "figure",
    { class: "threshold" },
    svg(
      "svg",
      {
        viewBox: "0 0 400 70",
        role: "img",
        "aria-label": `${upper(t.fact)} from ${t.texts[0]} to ${t.texts[1]}: ${t.below} below ${t.texts[2]}, ${t.above} above`,
      },
      svg("rect", { x: left, y: 18, width: Math.max(0, at - left), height: 18, class: tone(t.below) }),
      svg("rect", { x: at, y: 18, width: Math.max(0, left + width - at), height: 18, class: tone(t.above) }),
      svg("line", { x1: at, x2: at, y1: 14, y2: 56 }),
      svg("circle", { cx: x(t.best), cy: 27, r: 4 }),
      text(left, 12, "start", t.below),
      text(left + width, 12, "end", t.above),
      text(left, 52, "start", t.texts[0]),
      text(left + width, 52, "end", t.texts[1]),
      text(at, 68, side, t.texts[2]),
    ),
    h("figcaption", { class: "soft" }, `${upper(t.fact)}; the dot is the best estimate.`),
  );
}

/** The threshold as a table. @param {import("./types.js").Threshold} t @returns {string[][]} */
const thresholdTable = (t) => [
  [upper(t.fact), "Slam"],
  [`${t.texts[0]} to ${t.texts[2]}`, t.below],
  [`${t.texts[2]} to ${t.texts[1]}`, t.above],
];

/** What is said while the pump stops of the shown valve are still to be run. @param {Answer} a */
function toRun(a) {
  if (!a.to_run) {
    const waiting = state.busy && a.rows.some((r) => r.pending);
    return waiting ? h("p", { class: "soft" }, "So far: the stops of other valves are being run …") : null;
  }
  if (state.busy) return h("p", { class: "soft" }, "Its pump stops are being run …");
  return h(
    "p",
    {},
    "The server had no time for its pump stops. ",
    h("button", { type: "button", onclick: () => refresh(state.sheet || undefined) }, "Run them"),
  );
}

/** What is to be confirmed before the shown valve is ordered: apart from what decides. @param {Row|undefined} r */
const confirming = (r) =>
  r?.confirm.length
    ? h(
        "details",
        { class: "confirm" },
        h("summary", {}, `Confirm before ordering (${r.confirm.length})`),
        h("ul", {}, ...r.confirm.map((t) => h("li", {}, t))),
      )
    : null;

/** Findings of what stands beyond the valve, besides those that say so themselves. */
const PIPE_RATINGS = ["surge-branch-rating", "surge-main-rating"];

/** What no check valve cures, one line each. @param {Answer} a @returns {string[]} */
function beyond(a) {
  const found = a.shown.findings.filter(
    (f) =>
      f.severity !== "pass" &&
      (f.id === "column-separation" ? !a.column_separation : f.beyond_valve || PIPE_RATINGS.includes(f.id)),
  );
  return [a.column_separation, ...found.map((f) => f.text)].filter((t, i, all) => t && all.indexOf(t) === i);
}

/** The one fact that decides, with its threshold where it has one. @param {Answer} a @param {Row|undefined} shown */
function deciding(a, shown) {
  const t = shown?.slam?.threshold;
  return [
    h("h3", {}, "What decides"),
    a.verdict.deciding && a.verdict.deciding !== a.verdict.condition && !a.verdict.sentence.includes(a.verdict.deciding)
      ? h("p", {}, a.verdict.deciding)
      : null,
    t ? chart(threshold(t), upper(t.fact), () => thresholdTable(t)) : null,
    !t && a.decisive_fact ? h("p", { class: "soft" }, `Largest source of uncertainty: ${a.decisive_fact}.`) : null,
  ];
}

/** Where the verdict stands in a line of the head of the page once it is out of sight. @param {Answer} a */
function brief(a) {
  const [s, kind] = sign(a.verdict.word);
  const shown = a.rows.find((r) => r.id === shownValve());
  put(
    at("brief"),
    h(
      "a",
      { href: "#verdict-part", class: `mark ${kind}` },
      h("span", { "aria-hidden": "true" }, s + " "),
      shown ? `${shown.title}, ${shown.size}: ${shown.verdict}` : a.verdict.word,
    ),
    beyond(a).length
      ? h("span", { class: "risk" }, h("span", { "aria-hidden": "true" }, "✕ "), "risk beyond the valve")
      : null,
  );
}

/** The sentence of the verdict; a long reason in it is set in common type. @param {string} text */
function sentence(text) {
  const cut = text.indexOf(": ") + 1;
  const long = cut > 0 && text.length - cut > 70;
  return h(
    "p",
    { class: "sentence" },
    long ? [h("span", {}, text.slice(0, cut)), h("span", { class: "reason" }, text.slice(cut))] : text,
  );
}

function show() {
  const a = state.answer;
  if (!a) {
    for (const id of ["verdict", "separation", "deciding", "verdict-acts", "brief"]) put(at(id));
    return;
  }
  const [s, kind] = sign(a.verdict.word);
  const shown = a.rows.find((r) => r.id === a.shown.candidate.id);
  const c = a.verdict.condition;
  put(
    at("verdict"),
    h("span", { class: `stamp ${kind}`, "aria-hidden": "true" }, s),
    h(
      "div",
      {},
      sentence(a.verdict.sentence),
      c && !a.verdict.sentence.includes(c) && !beyond(a).includes(c) ? h("p", { class: "condition" }, c) : null,
      toRun(a),
    ),
  );
  const risks = beyond(a);
  put(
    at("separation"),
    risks.length ? [h("span", { "aria-hidden": "true" }, "✕"), h("div", {}, ...risks.map((t) => h("p", {}, t)))] : null,
  );
  put(at("deciding"), ...deciding(a, shown), confirming(shown));
  put(
    at("verdict-acts"),
    h(
      "button",
      { type: "button", onclick: () => document.dispatchEvent(new CustomEvent("seatward:watch")) },
      "Watch its pump stop",
    ),
    h("button", { type: "button", onclick: () => papers("fieldcard") }, "Field card"),
  );
  brief(a);
  if (!state.busy) say(a.verdict.sentence);
}

/** Begins to show the verdict. */
export function begin() {
  on("answer valve", show);
  on("busy", () => state.answer && show());
  new IntersectionObserver(([e]) => document.body.toggleAttribute("data-past", !e.isIntersecting)).observe(
    at("verdict-part"),
  );
}
