// The film on the station's own drawing: the head line over the main as it runs, the pressures
// along the pipe, and the valve where it stands. A second valve has a head line of its own.
import { h, inUnit } from "./dom.js";
import { headsAt, reading, READ, valueAt, velocity } from "./film.js";
import { roundStep, stage, tickText, ticks } from "./scales.js";
import { draw, plan } from "./sheet.js";
import { valve } from "./symbols.js";
import { turn } from "./anatomy.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./scales.js").Inks} Inks */
/** @typedef {import("./scales.js").Units} Units */
/** @typedef {import("./types.js").Drawing} Drawing */
/** @typedef {{low: number, high: number, limit: boolean, vapor: boolean}} Heights */

const FONT = "12px system-ui, sans-serif";
const BOLD = "600 12px system-ui, sans-serif";
const GAUGES = 4; // places whose pressure is written

/** How high the picture is, px. @param {number} w */
export const tall = (w) => Math.round(Math.min(380, Math.max(280, w * 0.4)));

/** What the film's heads lie above, on the drawing's elevations, m. @param {Drawing} d @param {Reel} r */
export const datum = (d, r) => (d.main.length ? d.main[0].elevation_m : d.wet_well.high_m) - r.pipe[0];

/**
 * What the pressure at a place means: "high" above the pipe's rating, "vapor" where the water
 * boils, "low" below the air outside, "" else.
 * @param {Reel} r @param {number} i @param {number} head
 */
export function strain(r, i, head) {
  if (head > r.limit[i]) return "high";
  if (head <= r.vapor[i] + 0.01) return "vapor";
  return head < r.pipe[i] ? "low" : "";
}

/** Places at which the pressure is written: even ones, and that of the least pressure of the run. @param {Reel} r @returns {number[]} */
export function gauges(r) {
  const n = r.x.length;
  let least = 0;
  for (let i = 1; i < n; i++) if (r.least[i] - r.pipe[i] < r.least[least] - r.pipe[least]) least = i;
  const span = r.x[n - 1] - r.x[0];
  const even = Array.from({ length: GAUGES - 1 }, (_, k) => Math.round((k * (n - 1)) / GAUGES));
  return [...even.filter((i) => Math.abs(r.x[i] - r.x[least]) > 0.12 * span), least].sort((a, b) => a - b);
}

/**
 * The picture. Other films can be put in while it stands.
 * @param {() => Drawing|null|undefined} drawingOf @param {() => Inks} inks
 */
export function filmStage(drawingOf, inks) {
  const box = h("div", { class: "pl-canvas pl-station" });
  const still = h("div", { class: "pl-sheet" });
  box.append(still);
  /** @type {Reel[]} */ let reels = [];
  /** @type {Heights} */ let range = { low: 0, high: 1, limit: false, vapor: false };
  /** @type {Units|null} */ let u = null;
  let now = 0;
  /** @type {import("./sheet.js").Plan|null} */ let p = null;
  let off = 0;
  /** @type {ReturnType<typeof valve>|null} */ let moving = null;
  /** @type {Element|null} */ let arrow = null;
  let arrowAt = "";
  let arrowWay = "";
  /** @type {Float32Array[]} */ let heads = [];
  /** @type {Float64Array[]} */ let px = [];
  /** @type {number[]} */ let at = [];
  /** @type {string[]} */ let texts = [];
  let behind = "";
  /** @type {{head: import("./film.js").Series|undefined, opening: import("./film.js").Series|undefined, velocity: import("./film.js").Series|undefined}} */
  let s = { head: undefined, opening: undefined, velocity: undefined };

  const y = (/** @type {number} */ head) => /** @type {import("./sheet.js").Plan} */ (p).y(head + off);

  /** The drawing itself. @param {Drawing} d @param {number} w */
  function sheet(d, w) {
    off = datum(d, reels[0]);
    p = plan(d, w, { low: range.low + off, high: range.high + off, h: tall(w) });
    const pic = draw(d, p, { figure: reels[0].cutaway.figure, opening: 0, us: u?.head.unit === "ft" });
    pic.querySelector("defs")?.remove();
    pic.querySelector(".scale")?.remove();
    const spot = pic.querySelector(".spot");
    moving = valve(reels[0].cutaway.figure);
    spot?.replaceChildren(moving.g);
    spot?.setAttribute(
      "transform",
      `translate(${p.valve.x},${p.valve.y}) rotate(${turn(reels[0].cutaway.position || d.valve.position)}) scale(${p.wide ? 0.34 : 0.26})`,
    );
    arrow = pic.querySelector(".flow-arrow");
    arrowAt = arrow?.getAttribute("transform") || "";
    arrowWay = "";
    still.replaceChildren(pic);
  }

  /** @param {CanvasRenderingContext2D} g @param {Float64Array} xs @param {(i: number) => number} yOf */
  function line(g, xs, yOf) {
    g.beginPath();
    let on = false;
    for (let i = 0; i < xs.length; i++) {
      const v = yOf(i);
      if (v !== v) on = false;
      else if (on) g.lineTo(xs[i], v);
      else {
        g.moveTo(xs[i], v);
        on = true;
      }
    }
  }

  /** @param {CanvasRenderingContext2D} g @param {string} text @param {number} x @param {number} yy @param {string} color */
  function label(g, text, x, yy, color) {
    g.lineJoin = "round";
    g.lineWidth = 4;
    g.strokeStyle = inks().paper;
    g.strokeText(text, x, yy);
    g.fillStyle = color;
    g.fillText(text, x, yy);
  }

  /** The scale of elevations, and the limits. @param {CanvasRenderingContext2D} g @param {number} w */
  function frame(g, w) {
    const ink = inks();
    const k = u?.head.k || 1;
    const [low, high] = [(range.low + off) * k, (range.high + off) * k];
    const step = roundStep(high - low, 5);
    g.font = FONT;
    g.textBaseline = "middle";
    g.textAlign = "left";
    g.strokeStyle = ink.grid;
    g.lineWidth = 1;
    for (const v of ticks(low, high, 5)) {
      const yy = Math.round(/** @type {import("./sheet.js").Plan} */ (p).y(v / k)) + 0.5;
      g.beginPath();
      g.moveTo(0, yy);
      g.lineTo(w, yy);
      g.stroke();
      label(g, `${tickText(v, step)}${v + step > high ? ` ${u?.head.unit}` : ""}`, 4, yy - 8, ink.soft);
    }
    const r = reels[0];
    const limit = (/** @type {Float64Array} */ list, /** @type {number[]} */ dash, /** @type {string} */ text) => {
      line(g, px[0], (i) => y(list[i]));
      g.setLineDash(dash);
      g.strokeStyle = ink.rust;
      g.lineWidth = 1.5;
      g.stroke();
      g.setLineDash([]);
      const i = list.findLastIndex((v) => Number.isFinite(v));
      g.textAlign = "right";
      if (i >= 0) label(g, text, px[0][i] - 4, y(list[i]) - 9, ink.rust);
    };
    if (range.limit) limit(r.limit, [10, 4], "pipe rating");
    if (range.vapor) limit(r.vapor, [2, 3], "water boils");
    line(g, px[0], (i) => y(r.heads[i]));
    g.setLineDash([4, 4]);
    g.lineWidth = 1.5;
    g.strokeStyle = ink.soft;
    g.stroke();
    g.setLineDash([]);
  }

  /** The pipe where its pressure is out of order. @param {CanvasRenderingContext2D} g */
  function strained(g) {
    const r = reels[0];
    const ink = inks();
    g.lineWidth = 6;
    for (let i = 1; i < px[0].length; i++) {
      const what = strain(r, i, heads[0][i]);
      if (!what) continue;
      g.strokeStyle = what === "low" ? ink.warn : ink.rust;
      g.beginPath();
      g.moveTo(px[0][i - 1], y(r.pipe[i - 1]));
      g.lineTo(px[0][i], y(r.pipe[i]));
      g.stroke();
    }
  }

  /** @param {CanvasRenderingContext2D} g @param {number} k frame of the first film */
  function envelope(g, k) {
    const [r, now0] = [reels[0], heads[0]];
    const n = r.x.length;
    const ink = inks();
    line(g, px[0], (i) => y(Math.max(r.high[k * n + i], now0[i])));
    for (let i = n - 1; i >= 0; i--) g.lineTo(px[0][i], y(Math.min(r.low[k * n + i], now0[i])));
    g.closePath();
    g.globalAlpha = 0.14;
    g.fillStyle = ink.water;
    g.fill();
    g.globalAlpha = 1;
  }

  /** The head behind the valve, as in a pipe that stands open over it: at the edge where it is higher. @param {CanvasRenderingContext2D} g */
  function overValve(g) {
    const head = valueAt(s.head, now);
    if (!p || head !== head) return;
    const ink = inks();
    const [x, yy] = [p.valve.x + (p.header.x - p.valve.x) * 0.45, Math.max(16, y(head))];
    g.strokeStyle = ink.water;
    g.lineWidth = 2;
    g.setLineDash([2, 3]);
    g.beginPath();
    g.moveTo(x, p.header.y);
    g.lineTo(x, yy);
    g.lineTo(px[0][0], Math.max(16, y(heads[0][0])));
    g.stroke();
    g.setLineDash([]);
    g.beginPath();
    g.arc(x, yy, 4, 0, 7);
    g.fillStyle = ink.water;
    g.fill();
    g.textAlign = "right";
    label(g, behind, x - 8, yy + 6, ink.ink);
    g.textAlign = "center";
  }

  const canvas = stage(
    box,
    (g, w, hh) => {
      const d = drawingOf();
      if (!d || !reels.length || !u) return;
      if (hh !== tall(w)) {
        box.style.setProperty("height", `${tall(w)}px`); // comes back here with it
        return;
      }
      sheet(d, w);
      px = reels.map((r) => Float64Array.from(r.x, (v) => /** @type {import("./sheet.js").Plan} */ (p).x(v)));
      frame(g, w);
    },
    (g) => {
      if (!p || !reels.length || px.length !== reels.length) return;
      const ink = inks();
      const frames = reels.map((r, i) => headsAt(r, now, heads[i]));
      envelope(g, frames[0]);
      strained(g);
      for (let i = reels.length - 1; i >= 0; i--) {
        line(g, px[i], (j) => y(heads[i][j]));
        g.strokeStyle = i ? ink.rust : ink.water;
        g.setLineDash(i ? [7, 4] : []);
        g.lineWidth = 3;
        g.lineJoin = "round";
        g.stroke();
      }
      g.setLineDash([]);
      g.font = BOLD;
      g.textAlign = "center";
      g.textBaseline = "bottom";
      overValve(g);
      at.forEach((i, k) => {
        const [x, yy] = [px[0][i], y(heads[0][i])];
        g.strokeStyle = ink.soft;
        g.lineWidth = 1;
        g.beginPath();
        g.moveTo(x, y(reels[0].pipe[i]));
        g.lineTo(x, yy);
        g.stroke();
        const what = strain(reels[0], i, heads[0][i]);
        const color = what === "low" ? ink.warn : what ? ink.rust : ink.ink;
        label(g, texts[k] || "", Math.max(x, 24), Math.max(14, yy - 5), color);
      });
      const v = valueAt(s.velocity, now);
      moving?.set(valueAt(s.opening, now));
      const way = v < -0.005 ? " scale(-1,1)" : v > 0.005 ? "" : " scale(0)";
      if (way !== arrowWay) {
        arrowWay = way;
        arrow?.setAttribute("transform", arrowAt + way);
      }
    },
  );

  return {
    box,
    set(/** @type {number} */ t) {
      now = t;
      canvas.frame();
    },
    /** The numbers, which change less often than the picture. */
    tell(/** @type {number} */ t) {
      const r = reels[0];
      headsAt(r, t, heads[0]);
      behind = inUnit(valueAt(s.head, t) * (u?.head.k || 1), u?.head.unit || "m");
      texts = at.map((i) =>
        strain(r, i, heads[0][i]) === "vapor"
          ? "vapor"
          : inUnit((heads[0][i] - r.pipe[i]) * (u?.head.k || 1), u?.head.unit || "m"),
      );
    },
    /** @param {Reel[]} all @param {Heights} heights @param {Units} units */
    load(all, heights, units) {
      [reels, range, u] = [all, heights, units];
      heads = reels.map((r) => new Float32Array(r.x.length));
      at = gauges(reels[0]);
      texts = [];
      s = {
        head: reading(reels[0], READ.behind),
        opening: reading(reels[0], READ.opening),
        velocity: velocity(reels[0]),
      };
      reels.forEach((r, i) => headsAt(r, now, heads[i]));
      box.setAttribute("role", "group");
      box.setAttribute("aria-label", "The station as the pump stops: head along the main, and the valve as it moves.");
      p = null;
      canvas.spoil();
    },
    spoil: canvas.spoil,
    drop: canvas.drop,
  };
}
