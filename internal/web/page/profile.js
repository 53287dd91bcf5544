// The main in time: head over the pipe, the rating and the vapor limit, and the envelope
// that the wave has left behind so far.
import { h } from "./dom.js";
import { headsAt } from "./film.js";
import { linear, roundStep, span, stage, tickText, ticks } from "./scales.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./scales.js").Inks} Inks */
/** @typedef {{low: number, high: number, limit: boolean, vapor: boolean}} Heights */
/** @typedef {{x: (v: number) => number, y: (v: number) => number, left: number, right: number, top: number, bottom: number}} Plot */

const FONT = "12px system-ui, sans-serif";

/** A line through the places. @param {CanvasRenderingContext2D} g @param {Float64Array} px @param {(i: number) => number} y */
function line(g, px, y) {
  g.beginPath();
  let on = false;
  for (let i = 0; i < px.length; i++) {
    const v = y(i);
    if (v !== v) {
      on = false;
    } else if (on) {
      g.lineTo(px[i], v);
    } else {
      g.moveTo(px[i], v);
      on = true;
    }
  }
}

/** @param {CanvasRenderingContext2D} g @param {Plot} p @param {Reel} r @param {Heights} range @param {import("./scales.js").Units} u @param {Inks} inks */
function axes(g, p, r, range, u, inks) {
  g.font = FONT;
  g.lineWidth = 1;
  g.strokeStyle = inks.grid;
  g.fillStyle = inks.soft;
  g.textBaseline = "middle";
  g.textAlign = "right";
  const k = u.head.k;
  const lines = p.bottom - p.top > 200 ? 8 : 5;
  const step = roundStep((range.high - range.low) * k, lines);
  for (const v of ticks(range.low * k, range.high * k, lines)) {
    const y = Math.round(p.y(v / k)) + 0.5;
    g.beginPath();
    g.moveTo(p.left, y);
    g.lineTo(p.right, y);
    g.stroke();
    g.fillText(tickText(v, step), p.left - 6, y);
  }
  const [x0, x1] = [r.x[0] * u.length.k, r.x[r.x.length - 1] * u.length.k];
  const wanted = p.right - p.left < 420 ? 3 : 6;
  const along = roundStep(x1 - x0, wanted);
  g.textBaseline = "top";
  g.textAlign = "center";
  for (const v of ticks(x0, x1, wanted)) {
    const x = p.x(v / u.length.k);
    g.fillText(tickText(v, along), Math.min(x, p.right - 8), p.bottom + 6);
  }
  g.textAlign = "left";
  g.fillText(`head, ${u.head.unit}`, 2, 2);
  g.textAlign = "right";
  g.fillText(`along the main, ${u.length.unit}`, p.right, p.bottom + 21);
  g.textAlign = "left";
  if (!r.ground) g.fillText("ground not given", p.left, p.bottom + 21);
}

/** A label with paper round it, so that it reads on any line. @param {CanvasRenderingContext2D} g @param {string} text @param {number} x @param {number} y @param {string} color @param {string} paper */
function label(g, text, x, y, color, paper) {
  g.lineJoin = "round";
  g.lineWidth = 4;
  g.strokeStyle = paper;
  g.strokeText(text, x, y);
  g.fillStyle = color;
  g.fillText(text, x, y);
}

/** Ground, pipe and limits. @param {CanvasRenderingContext2D} g @param {Plot} p @param {Reel} r @param {Heights} range @param {Float64Array} px @param {Inks} inks @param {import("./scales.js").Units} u */
function still(g, p, r, range, px, inks, u) {
  const ground = r.ground;
  if (ground) {
    line(g, px, (i) => p.y(ground[i]));
    g.lineTo(p.right, p.bottom);
    g.lineTo(p.left, p.bottom);
    g.closePath();
    g.fillStyle = inks.earth;
    g.fill();
  }
  axes(g, p, r, range, u, inks);
  if (ground) {
    line(g, px, (i) => p.y(ground[i]));
    g.strokeStyle = inks.warn;
    g.lineWidth = 1.5;
    g.stroke();
    g.textBaseline = "bottom";
    g.textAlign = "left";
    label(g, "ground", p.left + 8, p.y(ground[0]) - 4, inks.warn, inks.paper);
  }
  line(g, px, (i) => p.y(r.pipe[i]));
  g.strokeStyle = inks.ink;
  g.lineWidth = 3;
  g.stroke();
  g.textBaseline = "top"; // under the pipe, which rises as a rule
  g.textAlign = "left";
  label(g, "pipe axis", p.left + 8, p.y(r.pipe[0]) + 6, inks.ink, inks.paper);
  const far = limits(g, p, r, range, px, inks, u);
  g.textBaseline = "top";
  g.textAlign = "right";
  if (far) label(g, far, p.right - 2, 2, inks.soft, inks.paper);
}

/** Draws the limits that lie within the picture, and words those that do not. @param {CanvasRenderingContext2D} g @param {Plot} p @param {Reel} r @param {Heights} range @param {Float64Array} px @param {Inks} inks @param {import("./scales.js").Units} u @returns {string} */
function limits(g, p, r, range, px, inks, u) {
  /** @type {string[]} */ const far = [];
  const one = (
    /** @type {Float64Array} */ list,
    /** @type {boolean} */ shown,
    /** @type {number[]} */ dash,
    /** @type {string} */ color,
    /** @type {string} */ name,
    /** @type {string} */ where,
  ) => {
    if (!list.some((v) => Number.isFinite(v))) return;
    if (!shown) {
      const [least] = span(list);
      far.push(`${name} ${where} this picture, from ${(least * u.head.k).toFixed(0)} ${u.head.unit}`);
      return;
    }
    line(g, px, (i) => p.y(list[i]));
    g.strokeStyle = color;
    g.lineWidth = 2;
    g.setLineDash(dash);
    g.stroke();
    g.setLineDash([]);
    const i = list.findLastIndex((v) => Number.isFinite(v));
    g.textAlign = "right";
    g.textBaseline = "bottom";
    label(g, name, Math.min(px[i], p.right - 4), p.y(list[i]) - 5, color, inks.paper);
  };
  one(r.limit, range.limit, [10, 4], inks.rust, "pipe rating", "is above");
  one(r.vapor, range.vapor, [2, 3], inks.warn, "vapor limit: water boils", "is below");
  return far.join("; ");
}

/**
 * The picture of the main. Another film can be put in while it stands.
 * @param {Reel} r @param {Heights} range @param {import("./scales.js").Units} u @param {() => Inks} inks
 */
export function profile(r, range, u, inks) {
  const box = h("div", {
    class: "pl-canvas pl-main",
    role: "img",
    "aria-label": "Head along the main, moving in time. The numbers are under: the trip in words.",
  });
  let n = r.x.length;
  let heads = new Float32Array(n);
  let px = new Float64Array(n);
  /** @type {Plot} */ let p;
  let now = 0;
  const s = stage(
    box,
    (g, w, hh) => {
      const [left, right, top, bottom] = [46, w - 10, 20, hh - 38];
      p = {
        left,
        right,
        top,
        bottom,
        x: linear(r.x[0], r.x[n - 1], left, right),
        y: linear(range.low, range.high, bottom, top),
      };
      for (let i = 0; i < n; i++) px[i] = p.x(r.x[i]);
      still(g, p, r, range, px, inks(), u);
      line(g, px, (i) => p.y(r.heads[i]));
      g.setLineDash([4, 4]);
      g.lineWidth = 1.5;
      g.strokeStyle = inks().soft;
      g.stroke();
      g.setLineDash([]);
    },
    (g) => {
      const ink = inks();
      const k = headsAt(r, now, heads) * n;
      line(g, px, (i) => p.y(r.high[k + i] > heads[i] ? r.high[k + i] : heads[i]));
      for (let i = n - 1; i >= 0; i--) g.lineTo(px[i], p.y(r.low[k + i] < heads[i] ? r.low[k + i] : heads[i]));
      g.closePath();
      g.globalAlpha = 0.16;
      g.fillStyle = ink.water;
      g.fill();
      g.globalAlpha = 0.55;
      g.lineWidth = 1;
      g.strokeStyle = ink.water;
      g.stroke();
      g.globalAlpha = 1;
      line(g, px, (i) => p.y(heads[i]));
      g.lineWidth = 3;
      g.lineJoin = "round";
      g.stroke();
      g.beginPath();
      g.arc(px[0], p.y(heads[0]), 5, 0, 7);
      g.fill();
    },
  );
  return {
    box,
    set(/** @type {number} */ t) {
      now = t;
      s.frame();
    },
    /** @param {Reel} reel @param {Heights} heights */
    load(reel, heights) {
      [r, range, n] = [reel, heights, reel.x.length];
      heads = new Float32Array(n);
      px = new Float64Array(n);
      s.spoil();
    },
    spoil: s.spoil,
    drop: s.drop,
  };
}
