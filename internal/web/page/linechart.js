// A line chart that the server has made ready: drawn, with its legend, its table and its picture.
import { digits, h, svg, upper } from "./dom.js";
import { linear, roundStep, span, tickText, ticks } from "./scales.js";
import { chart } from "./take.js";

/** @typedef {import("./types.js").Chart} Chart */
/** @typedef {import("./types.js").Panel} Panel */
/** @typedef {{x: number, y: number, anchor: "start"|"middle"|"end", text: string}} Label */

const PAD = { left: 54, right: 14, top: 12, bottom: 38 };
const ROW = 13; // px of a row of labels
const LETTER = 6.2; // px of a letter, on average

/** A narrow window draws a narrow chart, so that its letters stay as large. */
const width = () => (globalThis.innerWidth < 700 ? 340 : 720);

/** The numbers of a list that are known. @param {(number|null)[]} list @returns {number[]} */
const known = (list) => /** @type {number[]} */ (list.filter((v) => v !== null));

/** What a panel spans. @param {Panel} p @returns {{x: [number, number], y: [number, number]}} */
export function reach(p) {
  const x = span(...p.lines.map((l) => known(l.x)));
  let [low, high] = span(...p.lines.map((l) => known(l.y)), known(p.points.map((q) => q.y)));
  if (p.from_zero) low = Math.min(0, low);
  const room = 0.06 * (high - low || Math.abs(high) || 1);
  return { x, y: [p.from_zero && low === 0 ? 0 : low - room, high + room] };
}

/** A line in pieces: a number that is not known leaves a gap. @param {(number|null)[]} xs @param {(number|null)[]} ys @param {(v: number) => number} x @param {(v: number) => number} y */
export function path(xs, ys, x, y) {
  let out = "";
  let pen = "M";
  xs.forEach((v, i) => {
    const w = ys[i];
    if (v === null || w === null || w === undefined) return void (pen = "M");
    out += `${pen}${x(v).toFixed(1)} ${y(w).toFixed(1)}`;
    pen = "L";
  });
  return out;
}

/**
 * Puts labels in as few rows as keep them off one another; one that finds no row is left out, for the
 * table and the list have it.
 * @param {{at: number, text: string}[]} wanted @param {number} left @param {number} right @param {number} rows @returns {(Label & {row: number})[]}
 */
export function spread(wanted, left, right, rows) {
  /** @type {number[]} */ const ends = new Array(rows).fill(-Infinity);
  /** @type {(Label & {row: number})[]} */ const out = [];
  for (const w of [...wanted].sort((a, b) => a.at - b.at)) {
    const wide = w.text.length * LETTER;
    const from = Math.min(Math.max(left, w.at + 3), Math.max(left, right - wide));
    const row = ends.findIndex((e) => e + 6 <= from);
    if (row < 0) continue;
    ends[row] = from + wide;
    out.push({ x: from, y: 0, anchor: "start", text: w.text, row });
  }
  return out;
}

/** A panel as a table: a row for each point of its first line, with what the others have there. @param {Panel} p @returns {string[][]} */
export function rows(p) {
  const named = p.lines.filter((l) => l.name);
  const first = named[0];
  if (!first) return [[p.x_label, p.y_label]];
  const of = named.map((l) => new Map(l.x.map((v, i) => [v, l.y[i]])));
  const body = first.x.map((v) => [digits(v), ...of.map((m) => digits(m.get(v)))]);
  const heads = named.length > 1 ? named.map((l) => `${upper(l.name)}: ${p.y_label}`) : [upper(p.y_label)];
  return [[upper(p.x_label), ...heads], ...body];
}

/** @param {Panel} p @param {string} title */
function drawn(p, title) {
  const W = width();
  const H = W < 400 ? 220 : 250;
  const r = reach(p);
  const [right, foot] = [W - PAD.right, H - PAD.bottom];
  const x = linear(r.x[0], r.x[1] || 1, PAD.left, right);
  const words = spread(
    [
      ...p.shades.map((s) => ({ at: x(Math.max(s.from ?? r.x[0], r.x[0])), text: s.text })),
      ...p.marks.map((m) => ({ at: x(m.x ?? 0), text: m.text })),
      ...p.points.map((q) => ({ at: x(q.x ?? 0), text: q.text })),
    ],
    PAD.left,
    right,
    3,
  );
  const head = PAD.top + ROW * Math.max(0, ...words.map((w) => w.row + 1));
  const y = linear(r.y[0], r.y[1], foot, head);
  const text = (
    /** @type {number} */ px,
    /** @type {number} */ py,
    /** @type {string} */ anchor,
    /** @type {string} */ s,
    /** @type {string} */ kind = "",
  ) => svg("text", { x: px.toFixed(1), y: py.toFixed(1), "text-anchor": anchor, class: kind }, s);
  const line = (
    /** @type {number} */ x1,
    /** @type {number} */ y1,
    /** @type {number} */ x2,
    /** @type {number} */ y2,
    /** @type {string} */ kind,
  ) => svg("line", { x1: x1.toFixed(1), y1: y1.toFixed(1), x2: x2.toFixed(1), y2: y2.toFixed(1), class: kind });
  const across = ticks(r.x[0], r.x[1], W < 400 ? 4 : 8);
  const up = ticks(r.y[0], r.y[1], 4);
  const inside = (/** @type {number} */ v) => Math.min(right, Math.max(PAD.left, v));
  return svg(
    "svg",
    { viewBox: `0 0 ${W} ${H}`, role: "img", "aria-label": `${title}: ${p.y_label} against ${p.x_label}` },
    ...p.shades.map((s) => {
      const from = inside(x(s.from ?? r.x[0]));
      return svg("rect", {
        x: from.toFixed(1),
        y: head,
        width: Math.max(0, inside(x(s.to ?? r.x[1])) - from).toFixed(1),
        height: foot - head,
        class: `lc-shade lc-${s.ink}`,
      });
    }),
    ...up.map((v) => line(PAD.left, y(v), right, y(v), "lc-grid")),
    ...up.map((v) => text(PAD.left - 5, y(v) + 4, "end", tickText(v, roundStep(r.y[1] - r.y[0], 4)), "lc-tick")),
    ...across.map((v) => line(x(v), foot, x(v), foot + 4, "lc-axis")),
    ...across.map((v) =>
      text(x(v), foot + 16, "middle", tickText(v, roundStep(r.x[1] - r.x[0], W < 400 ? 4 : 8)), "lc-tick"),
    ),
    line(PAD.left, foot, right, foot, "lc-axis"),
    text((PAD.left + right) / 2, H - 5, "middle", p.x_label, "lc-tick"),
    ...p.levels.map((l) => line(PAD.left, y(l.y ?? 0), right, y(l.y ?? 0), "lc-level")),
    ...p.levels.map((l) => text(right, y(l.y ?? 0) - 4, "end", l.text)),
    ...p.marks.map((m) => line(x(m.x ?? 0), head - 2, x(m.x ?? 0), foot, "lc-mark")),
    ...p.lines.map((l) =>
      svg("path", { d: path(l.x, l.y, x, y), class: `lc-line lc-${l.ink}${l.dash ? " dash" : ""}` }),
    ),
    ...p.points.map((q) =>
      svg("circle", { cx: x(q.x ?? 0).toFixed(1), cy: y(q.y ?? 0).toFixed(1), r: 4, class: `lc-point lc-${q.ink}` }),
    ),
    ...words.map((w) => text(w.x, PAD.top + ROW * w.row, w.anchor, w.text)),
  );
}

/** All panels of a chart. @param {Chart} c */
export const lineChart = (c) =>
  h(
    "div",
    { class: "line-charts" },
    ...c.panels.map((p) => {
      const title = upper(p.title || c.title);
      const named = p.lines.filter((l) => l.name);
      return chart(
        h(
          "figure",
          { class: "line-chart" },
          h(
            "figcaption",
            {},
            h("strong", {}, title),
            h("span", { class: "soft" }, ` ${p.y_label}`),
            named.length > 1
              ? h(
                  "ul",
                  { class: "lc-legend" },
                  ...named.map((l) => h("li", { class: `lc-key lc-key-${l.ink}${l.dash ? " dash" : ""}` }, l.name)),
                )
              : null,
          ),
          drawn(p, title),
        ),
        title,
        () => rows(p),
      );
    }),
    h("p", { class: "soft" }, c.note),
  );
