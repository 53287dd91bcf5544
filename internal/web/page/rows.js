// The valves as rows with bars.
import { at, css, h, put, toast, upper } from "./dom.js";
import { choose, on, shownValve, state } from "./state.js";
import { icon } from "./symbols.js";
import { number } from "./explain.js";
import { compare } from "./compare.js";
import { configure } from "./configure.js";
import { findings } from "./findings.js";
import { best } from "./labels.js";
import { sign, threshold } from "./verdict.js";
import { asTable } from "./take.js";

/** @typedef {import("./types.js").Row} Row */
/** @typedef {import("./types.js").Answer} Answer */

export { threshold };

/** The limits of slam by reverse velocity, from what the server judged by. @param {Answer} a @returns {{quiet: number|null, harmful: number|null}} */
export function slamLimits(a) {
  const s = a.rows.find((r) => r.slam?.quiet_m_s)?.slam;
  if (s) return { quiet: s.quiet_m_s, harmful: s.harmful_m_s };
  return { quiet: null, harmful: null };
}

/** @type {Set<string>} */ const opened = new Set();
/** @type {Set<string>} */ const picked = new Set();
let whole = false;

/** @param {number} share @param {string} kind */
function bar(share, kind = "") {
  const fill = h("span", { class: "fill " + kind });
  css(fill, "width", `${Math.max(0, Math.min(1, share)) * 100}%`);
  return h("span", { class: "bar", "aria-hidden": "true" }, fill);
}

/** @param {Row} r @param {number} most */
function velocity(r, most) {
  const v = r.velocity?.m_s ?? 0;
  const b = bar(v / most, r.full_open?.m_s && v < r.full_open.m_s ? "short" : "");
  if (r.full_open?.m_s) {
    const tick = h("span", { class: "tick" });
    css(tick, "left", `${Math.min(100, (r.full_open.m_s / most) * 100)}%`);
    b.append(tick);
  }
  return b;
}

/** Where the logarithmic scale begins, m/s: slower than this nobody hears. */
const LEAST = 0.01;

/** The band of reverse velocity on a logarithmic scale, so that quiet ones can be seen apart. @param {Row} r @param {{quiet: number|null, harmful: number|null}} lim @param {number} most */
function band(r, lim, most) {
  const x = (/** @type {number} */ v) =>
    `${Math.min(1, Math.max(0, Math.log(Math.max(v, LEAST) / LEAST) / Math.log(most / LEAST))) * 100}%`;
  const b = h("span", { class: "bar band", "aria-hidden": "true" });
  const piece = (/** @type {string} */ c, /** @type {string} */ left, /** @type {string} */ right) => {
    const e = h("span", { class: c });
    css(e, "left", left);
    css(e, "width", `calc(${right} - ${left})`);
    b.append(e);
  };
  if (lim.quiet) piece("zone quiet", "0%", x(lim.quiet));
  if (lim.quiet && lim.harmful) piece("zone audible", x(lim.quiet), x(lim.harmful));
  if (lim.harmful) piece("zone harmful", x(lim.harmful), "100%");
  if (r.slam) {
    // Behind a cushion the limits hold for the sudden stop that it leaves, not for the water's speed.
    if (!r.slam.stopped) piece("reach", x(r.slam.low), x(r.slam.high));
    const dot = h("span", { class: "best" });
    css(dot, "left", x(r.slam.stopped?.m_s ?? r.slam.best));
    b.append(dot);
  }
  return b;
}

/** @param {string} name @param {HTMLElement|null} pic @param {(Node|string|null)[]} rest */
const cell = (name, pic, ...rest) =>
  h(
    "div",
    { class: "cell cell-" + name.split(" ")[0].toLowerCase() },
    h("span", { class: "cell-name" }, name),
    pic,
    h("span", { class: "cell-text" }, ...rest.filter((x) => x !== null)),
  );

/** The best value in a cell; its range is in the bar and in the calculation. @param {{text: string}|null} q @param {string} path @param {string} name */
const quantity = (q, path, name) => number(q?.text || "", path, name, best(q?.text || ""));

/** @param {Row} r @param {Answer} a @param {{loss: number, v: number, slam: number, cost: number}} most @param {{quiet: number|null, harmful: number|null}} lim */
function item(r, a, most, lim) {
  const waits = r.pending && !r.verdict.includes("unsuitable"); // its stops may still be against it
  const [s, kind] = waits ? ["…", "open"] : sign(r.verdict);
  const c = a.study.candidates.find((x) => x.id === r.id);
  const on = shownValve() === r.id;
  const body = h("div", { class: "row-body", id: "body-" + r.id.replace(/\W/g, "-"), hidden: !opened.has(r.id) });
  if (opened.has(r.id)) put(body, inside(r, a));
  const head = h(
    "button",
    {
      type: "button",
      class: "row-head",
      "data-roving": "",
      "aria-expanded": String(opened.has(r.id)),
      "aria-controls": body.id,
      onclick: () => {
        if (opened.has(r.id)) opened.delete(r.id);
        else opened.add(r.id);
        body.hidden = !opened.has(r.id);
        head.setAttribute("aria-expanded", String(!body.hidden));
        if (!body.hidden) put(body, inside(r, a));
      },
    },
    h("span", { class: "rank" }, r.rank ? String(r.rank) : "–"),
    icon(r.figure, c?.opening ?? 0.6),
    h(
      "span",
      { class: "row-title" },
      h("strong", {}, r.title),
      " ",
      h("span", { class: "soft" }, `${r.size}${r.variant && !r.title.includes(r.variant) ? ", " + r.variant : ""}`),
      h(
        "span",
        { class: `mark ${kind}` },
        h("span", { "aria-hidden": "true" }, s + " "),
        waits ? "so far in order" : r.verdict,
      ),
      r.why_not ? h("span", { class: "whynot" }, upper(r.why_not)) : null,
    ),
  );
  const box = h("input", {
    type: "checkbox",
    "aria-label": `Compare ${r.title}, ${r.size}`,
    checked: picked.has(r.id),
    onchange: () => pick(r.id, box),
  });
  return h(
    "li",
    { class: `row ${kind}${on ? " on" : ""}`, "data-valve": r.id },
    head,
    h(
      "div",
      { class: "cells" },
      cell("Head loss", bar((r.loss?.m ?? 0) / most.loss), quantity(r.loss, r.id + " loss", `Head loss in ${r.title}`)),
      cell(
        "Velocity",
        velocity(r, most.v),
        quantity(r.velocity, r.id + " velocity", `Velocity in ${r.title}`),
        r.full_open?.text
          ? h(
              "span",
              { class: "soft full-open" },
              "full open ",
              number(
                r.full_open.text,
                r.id + " full_open_velocity",
                `Full-open velocity of ${r.title}`,
                best(r.full_open.text).split(" ")[0],
              ),
            )
          : null,
      ),
      slamCell(r, band(r, lim, most.slam)),
      cell(
        "Energy per year",
        bar((r.cost?.value ?? 0) / most.cost, "cost"),
        quantity(r.cost, r.id + " cost_per_year", `Annual energy cost of ${r.title}`),
      ),
    ),
    h(
      "div",
      { class: "row-acts" },
      h("label", { class: "pick" }, box, "compare"),
      h("button", { type: "button", onclick: () => watch(r.id) }, h("span", { class: "sr" }, "Pump stop "), "film"),
      h(
        "button",
        { type: "button", class: on ? "draws on" : "draws", "aria-pressed": String(on), onclick: () => choose(r.id) },
        on ? "On the drawing" : "Draw it",
      ),
    ),
    body,
  );
}

/** Slam of a row: from its run, or why there is none. @param {Row} r @param {HTMLElement} pic */
function slamCell(r, pic) {
  const s = r.slam;
  if (!s)
    return cell(
      "Reverse velocity",
      null,
      h("span", { class: "soft" }, r.pending ? "stops still to be run" : `not run: ${r.not_run}`),
    );
  return cell(
    "Reverse velocity",
    pic,
    quantity(s, r.id + " reverse_velocity", `Reverse velocity of ${r.title}`),
    " ",
    h("span", { class: "slam " + s.verdict_class }, s.class_words),
    s.median ? h("span", { class: "soft full-open" }, `median ${s.median}`) : null,
  );
}

/** What an open row says of its slam beyond the number. @param {Row} r */
function slamInFull(r) {
  const s = r.slam;
  if (!s) return null;
  return h(
    "div",
    { class: "slam-full" },
    h(
      "p",
      {},
      `${upper(s.event_title)}: reverse velocity ${s.text}${s.median ? ` at best estimates, ${s.median} median` : ""}${s.likely ? `, likely ${s.likely}` : ""}.`,
      s.stopped ? ` Its cushion makes of it a sudden stop of ${s.stopped.text}.` : null,
    ),
    chances(s),
  );
}

/** The chances of the classes as a bar and in words. @param {import("./types.js").Slam} s */
function chances(s) {
  const parts = /** @type {const} */ (["quiet", "audible", "harmful"])
    .map((k) => ({ k, x: s.chances[k] }))
    .filter((p) => p.x > 0);
  return h(
    "span",
    {},
    h(
      "span",
      { class: "chances", "aria-hidden": "true" },
      ...parts.map(({ k, x }) => {
        const e = h("span", { class: k });
        css(e, "width", `${100 * x}%`);
        return e;
      }),
    ),
    h("span", { class: "soft" }, s.chances_text),
  );
}

/** Shows the pump stop with this valve. @param {string} id */
function watch(id) {
  choose(id);
  document.dispatchEvent(new CustomEvent("seatward:watch"));
}

/** @param {string} id @param {HTMLInputElement} box */
function pick(id, box) {
  if (!box.checked) picked.delete(id);
  else if (picked.size >= 3) {
    box.checked = false;
    toast("Three valves stand side by side at most: take one off first.");
  } else picked.add(id);
  compareBar();
}

function compareBar() {
  const n = picked.size;
  put(
    at("compare-bar"),
    n === 0
      ? h("span", { class: "soft" }, "Tick two or three valves to compare them.")
      : h(
          "button",
          {
            type: "button",
            class: "main",
            disabled: n < 2,
            onclick: () => state.answer && compare([...picked], state.answer),
          },
          n < 2 ? "Tick one more to compare" : `Compare ${n} side by side`,
        ),
  );
}

/** The open part of a row. @param {Row} r @param {Answer} a */
function inside(r, a) {
  const c = a.study.candidates.find((x) => x.id === r.id);
  return h(
    "div",
    { class: "row-inside" },
    slamInFull(r),
    c ? findings(c, r) : null,
    h("div", { class: "acts" }, h("button", { type: "button", onclick: () => configure(r.id) }, "Choose its options")),
  );
}

/** Those of each family in its best size, unless all are asked for. @param {Row[]} rows */
function fewer(rows) {
  /** @type {Map<string, Row>} */
  const best = new Map();
  const pipe = (state.answer?.study.station?.size || "").split(" (")[0];
  for (const r of rows) {
    const key = r.family + r.variant;
    const had = best.get(key);
    if (!had || (!had.rank && !r.rank && pipe && r.size.startsWith(pipe) && !had.size.startsWith(pipe)))
      best.set(key, r);
  }
  const few = new Set(best.values());
  return rows.filter((r) => few.has(r));
}

/** The rows as a spreadsheet takes them. @param {Row[]} rows @returns {string[][]} */
const table = (rows) => [
  [
    "Rank",
    "Valve",
    "Size",
    "Verdict",
    "Why not",
    "Head loss",
    "Velocity",
    "Full-open velocity",
    "Reverse velocity",
    "Slam",
    "Annual energy cost",
  ],
  ...rows.map((r) => [
    r.rank ? String(r.rank) : "–",
    r.title,
    r.size,
    r.verdict,
    r.why_not,
    best(r.loss?.text || "–"),
    best(r.velocity?.text || "–"),
    best(r.full_open?.text || "–"),
    r.slam?.text || "–",
    r.slam?.class_words || "–",
    best(r.cost?.text || "–"),
  ]),
];

/** Which control of which row has the focus, so that it has it again when the rows are drawn anew. */
function focused() {
  const row = document.activeElement?.closest("[data-valve]");
  return row
    ? {
        valve: row.getAttribute("data-valve") || "",
        i: [...row.querySelectorAll("button, input, summary")].indexOf(/** @type {Element} */ (document.activeElement)),
      }
    : null;
}

function show() {
  const a = state.answer;
  if (!a) return put(at("rows"));
  const rows = whole ? a.rows : fewer(a.rows);
  const max = (/** @type {(r: Row) => number|null|undefined} */ f) => Math.max(1e-9, ...rows.map((r) => f(r) ?? 0));
  const lim = slamLimits(a);
  const most = {
    loss: max((r) => r.loss?.m),
    v: max((r) => Math.max(r.velocity?.m_s ?? 0, r.full_open?.m_s ?? 0)) * 1.03,
    slam: Math.max(
      1,
      max((r) => r.slam?.high),
    ),
    cost: max((r) => r.cost?.value),
  };
  const had = focused();
  put(at("rows"), ...rows.map((r) => item(r, a, most, lim)));
  put(
    at("rows-more"),
    rows.length < a.rows.length || whole
      ? h(
          "button",
          { type: "button", onclick: () => ((whole = !whole), show()) },
          whole ? "Each family in its best size only" : `All ${a.rows.length} sizes and variants`,
        )
      : null,
    asTable("valves", () => table(rows)),
  );
  compareBar();
  if (had)
    [...document.querySelectorAll(`[data-valve="${CSS.escape(had.valve)}"] :is(button, input, summary)`)].forEach(
      (e, i) => i === had.i && e instanceof HTMLElement && e.focus({ preventScroll: true }),
    );
}

/** Begins to show verdict and rows. */
export function begin() {
  on("answer valve", show);
}
