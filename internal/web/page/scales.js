// Scales, units and inks of the player's drawings.

/** @typedef {{k: number, unit: string}} Unit number of units in one SI unit */
/** @typedef {{head: Unit, length: Unit, velocity: Unit, inertia: Unit, volume: Unit, time: Unit}} Units */

/** @type {Units} */
const SI = {
  head: { k: 1, unit: "m" },
  length: { k: 1, unit: "m" },
  velocity: { k: 1, unit: "m/s" },
  inertia: { k: 1, unit: "kg m²" },
  volume: { k: 1, unit: "m³" },
  time: { k: 1, unit: "s" },
};
const FT = 1 / 0.3048;
const LB = 1 / 0.45359237;
const GAL = 1 / 0.003785411784;
/** @type {Units} */
const US = {
  head: { k: FT, unit: "ft" },
  length: { k: FT, unit: "ft" },
  velocity: { k: FT, unit: "ft/s" },
  inertia: { k: LB * FT * FT, unit: "lb ft²" },
  volume: { k: GAL, unit: "gal" },
  time: { k: 1, unit: "s" },
};

/** The units in which a station is read. @param {string|undefined} system @returns {Units} */
export const unitsOf = (system) => (system === "US" ? US : SI);

/** Round steps for about `wanted` lines over a span. @param {number} span @param {number} wanted @returns {number} */
export function roundStep(span, wanted) {
  if (!(span > 0)) return 1;
  const raw = span / Math.max(wanted, 1);
  const p = 10 ** Math.floor(Math.log10(raw));
  return [1, 2, 5, 10].map((k) => k * p).find((s) => s >= raw * 0.999) || 10 * p;
}

/** The round numbers within low and high. @param {number} low @param {number} high @param {number} wanted @returns {number[]} */
export function ticks(low, high, wanted) {
  const step = roundStep(high - low, wanted);
  const out = [];
  for (let i = Math.ceil(low / step - 1e-9); i * step <= high + step * 1e-9; i++) out.push(i * step);
  return out;
}

/** A tick as it is written: no more decimals than the step needs. @param {number} v @param {number} step */
export function tickText(v, step) {
  const s = Math.abs(v).toFixed(Math.max(0, -Math.floor(Math.log10(step) + 1e-9)));
  return (v < 0 && Number(s) !== 0 ? "−" : "") + s;
}

/**
 * A straight scale from numbers to pixels.
 * @param {number} a0 @param {number} a1 @param {number} p0 @param {number} p1
 * @returns {(v: number) => number}
 */
export function linear(a0, a1, p0, p1) {
  const k = a1 === a0 ? 0 : (p1 - p0) / (a1 - a0);
  return (v) => p0 + (v - a0) * k;
}

/** Least and greatest of the finite numbers in lists. @param {Iterable<number>[]} lists @returns {[number, number]} */
export function span(...lists) {
  let low = Infinity;
  let high = -Infinity;
  for (const list of lists) {
    for (const v of list) {
      if (v < low) low = v;
      if (v > high && v !== Infinity) high = v;
    }
  }
  return low <= high ? [low, high] : [0, 1];
}

/**
 * What the picture of the main spans in height. A limit that lies within reach is taken in;
 * one far off would flatten everything else, and is only told.
 * @param {import("./film.js").Reel[]} reels
 * @returns {{low: number, high: number, limit: boolean, vapor: boolean}}
 */
export function heights(reels) {
  let [low, high] = span(...reels.flatMap((r) => [r.least, r.most, r.pipe, r.ground || []]));
  const range = Math.max(high - low, 1);
  const [limit] = span(...reels.map((r) => r.limit));
  const [vapor, vaporHigh] = span(...reels.map((r) => r.vapor));
  const some = (/** @type {"limit"|"vapor"} */ key) => reels.some((r) => r[key].some((v) => Number.isFinite(v)));
  const showLimit = some("limit") && limit < high + 0.6 * range;
  const showVapor = some("vapor") && vaporHigh > low - 0.6 * range;
  if (showLimit) high = Math.max(high, limit);
  if (showVapor) low = Math.min(low, vapor);
  const margin = 0.06 * Math.max(high - low, 1);
  return { low: low - margin, high: high + margin, limit: showLimit, vapor: showVapor };
}

/** @typedef {{ink: string, soft: string, grid: string, paper: string, water: string, rust: string, good: string, warn: string, earth: string}} Inks */

/** The inks of the page as plain colors, read once and again when the theme changes. @param {Element} e @returns {Inks} */
export function inksOf(e) {
  const probe = document.createElement("span");
  e.append(probe);
  const style = getComputedStyle(probe);
  const get = (/** @type {string} */ name) => {
    probe.style.setProperty("color", `var(--pl-${name})`);
    return style.color;
  };
  const inks = {
    ink: get("ink"),
    soft: get("soft"),
    grid: get("grid"),
    paper: get("paper"),
    water: get("water"),
    rust: get("rust"),
    good: get("good"),
    warn: get("warn"),
    earth: get("earth"),
  };
  probe.remove();
  return inks;
}

/**
 * Two canvases, one over the other, that keep their size by themselves: below what is drawn
 * only when something changes, above what moves in each frame.
 * @param {HTMLElement} box
 * @param {(g: CanvasRenderingContext2D, w: number, h: number) => void} still
 * @param {(g: CanvasRenderingContext2D, w: number, h: number) => void} moving
 */
export function stage(box, still, moving) {
  const [below, above] = [0, 1].map(() => document.createElement("canvas"));
  box.append(below, above);
  const [back, front] = [below, above].map((c) => /** @type {CanvasRenderingContext2D} */ (c.getContext("2d")));
  let w = 0;
  let h = 0;
  let stale = true;
  function frame() {
    if (!w || !h) return;
    if (stale) {
      stale = false;
      back.clearRect(0, 0, w, h);
      still(back, w, h);
    }
    front.clearRect(0, 0, w, h);
    moving(front, w, h);
  }
  const watch = new ResizeObserver((list) => {
    const size = list[list.length - 1].contentRect;
    if (size.width === w && size.height === h) return;
    ({ width: w, height: h } = size);
    const dpr = Math.min(window.devicePixelRatio || 1, 2);
    for (const c of [below, above]) {
      c.width = Math.round(w * dpr);
      c.height = Math.round(h * dpr);
    }
    for (const g of [back, front]) g.setTransform(dpr, 0, 0, dpr, 0, 0);
    stale = true;
    frame();
  });
  watch.observe(box);
  return { frame, spoil: () => void (stale = true), drop: () => watch.disconnect() };
}
