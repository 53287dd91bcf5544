// Scales, units and inks of the player's drawings.

/** @typedef {{k: number, unit: string}} Unit number of units in one SI unit */
/** @typedef {{head: Unit, length: Unit, velocity: Unit, inertia: Unit, density: Unit, time: Unit}} Units */

/** @type {Units} */
const SI = { head: { k: 1, unit: "m" }, length: { k: 1, unit: "m" }, velocity: { k: 1, unit: "m/s" }, inertia: { k: 1, unit: "kg m²" }, density: { k: 1, unit: "kg/m³" }, time: { k: 1, unit: "s" } };
const FT = 1 / 0.3048;
const LB = 1 / 0.45359237;
/** @type {Units} */
const US = {
  head: { k: FT, unit: "ft" }, length: { k: FT, unit: "ft" }, velocity: { k: FT, unit: "ft/s" }, inertia: { k: LB * FT * FT, unit: "lb ft²" },
  density: { k: LB / FT ** 3, unit: "lb/ft³" }, time: { k: 1, unit: "s" },
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
  let [low, high] = span(...reels.flatMap((r) => [r.least, r.most, r.pipe]));
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

/** The inks of the page, read once and again when the theme changes. @param {Element} e @returns {Inks} */
export function inksOf(e) {
  const style = getComputedStyle(e);
  const get = (/** @type {string} */ name, /** @type {string} */ other) => style.getPropertyValue(name).trim() || other;
  return {
    ink: get("--pl-ink", "#1b2a30"), soft: get("--pl-soft", "#51626a"), grid: get("--pl-grid", "#d9e0e2"), paper: get("--pl-paper", "#fff"), water: get("--pl-water", "#0b7285"),
    rust: get("--pl-rust", "#a3401a"), good: get("--pl-good", "#2b6a3f"), warn: get("--pl-warn", "#8a5a00"), earth: get("--pl-earth", "#e9e2d6"),
  };
}

/**
 * A canvas that keeps its size by itself: a still layer that is drawn when something
 * changes, and what moves on top of it in each frame.
 * @param {HTMLCanvasElement} canvas
 * @param {(g: CanvasRenderingContext2D, w: number, h: number) => void} still
 * @param {(g: CanvasRenderingContext2D, w: number, h: number) => void} moving
 */
export function stage(canvas, still, moving) {
  const front = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  const layer = document.createElement("canvas");
  const back = /** @type {CanvasRenderingContext2D} */ (layer.getContext("2d"));
  let w = 0;
  let h = 0;
  let stale = true;
  function frame() {
    if (!w || !h) return;
    const dpr = canvas.width / w;
    if (stale) {
      stale = false;
      layer.width = canvas.width;
      layer.height = canvas.height;
      back.setTransform(dpr, 0, 0, dpr, 0, 0);
      still(back, w, h);
    }
    front.setTransform(1, 0, 0, 1, 0, 0);
    front.clearRect(0, 0, canvas.width, canvas.height);
    front.drawImage(layer, 0, 0);
    front.setTransform(dpr, 0, 0, dpr, 0, 0);
    moving(front, w, h);
  }
  const watch = new ResizeObserver((list) => {
    const box = list[list.length - 1].contentRect;
    if (box.width === w && box.height === h) return;
    ({ width: w, height: h } = box);
    const dpr = Math.min(window.devicePixelRatio || 1, 2);
    canvas.width = Math.round(w * dpr);
    canvas.height = Math.round(h * dpr);
    stale = true;
    frame();
  });
  watch.observe(canvas);
  return { frame, spoil: () => void (stale = true), drop: () => watch.disconnect() };
}
