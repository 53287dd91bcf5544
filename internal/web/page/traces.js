// Readings in time, one strip each, with one cursor through all.
import { h } from "./dom.js";
import { reading, READ, valueAt, velocity } from "./film.js";
import { linear, roundStep, span, stage, tickText, ticks } from "./scales.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./film.js").Series} Series */
/** @typedef {{series: Series, kind: "shown"|"before"|"other", k: number}} Curve */
/** @typedef {{title: string, unit: string, low: number, high: number, curves: Curve[], zero: boolean}} Strip */

const FONT = "12px system-ui, sans-serif";
const DASH = { shown: [], before: [5, 4], other: [3, 3] };

/** What a strip spans while it shows 0 to `end`. @param {Curve[]} curves @param {number} end @returns {[number, number]} */
function reach(curves, end) {
  const lists = curves.flatMap(({ series: s, k }) => {
    const last = s.t.findIndex((t) => t > end);
    const part = (/** @type {Float64Array} */ a) => a.subarray(0, last < 0 ? a.length : last + 1).map((v) => v * k);
    return [part(s.least), part(s.most)];
  });
  return span(...lists);
}

/**
 * The strips of one valve, with those of another beside them.
 * @param {Reel} a @param {Reel|null} b @param {import("./scales.js").Units} u @param {number} end @returns {Strip[]}
 */
export function strips(a, b, u, end) {
  const of = (/** @type {Reel} */ r, /** @type {string} */ what) =>
    what === "velocity" ? velocity(r) : reading(r, what);
  const strip = (
    /** @type {string} */ title,
    /** @type {string} */ unit,
    /** @type {number} */ k,
    /** @type {string[]} */ names,
  ) => {
    /** @type {Curve[]} */
    const curves = [];
    for (const [i, name] of names.entries()) {
      const s = of(a, name);
      if (s) curves.push({ series: s, k, kind: i ? "before" : "shown" });
    }
    const other = b && of(b, names[0]);
    if (other) curves.push({ series: other, k, kind: "other" });
    let [low, high] = reach(curves, end);
    const whole = unit === "%"; // opening and speed are shares of a whole: shown from 0 to it
    if (whole) [low, high] = [Math.min(0, low), Math.max(100, high)];
    else [low, high] = [low - 0.08 * (high - low || 1), high + 0.08 * (high - low || 1)];
    return { title, unit, low, high, curves, zero: low < 0 && high > 0 };
  };
  return [
    strip("head at the valve", u.head.unit, u.head.k, [READ.behind, READ.before]),
    strip("velocity in the bore", u.velocity.unit, u.velocity.k, ["velocity"]),
    strip("opening", "%", 100, [READ.opening]),
    strip("pump speed", "%", 100, [READ.speed]),
  ].filter((s) => s.curves.length > 0);
}

/** @param {CanvasRenderingContext2D} g @param {Curve} c @param {(t: number) => number} x @param {(v: number) => number} y @param {number} end */
function curve(g, c, x, y, end) {
  const { t, now, least, most } = c.series;
  g.beginPath();
  for (let i = 0; i < t.length; i++) {
    const px = x(t[i]);
    if (i === 0) g.moveTo(px, y(now[i] * c.k));
    // A peak that passed between two rows is drawn too, so that none is lost.
    const [lo, hi] = i > 0 ? [Math.min(now[i], now[i - 1]), Math.max(now[i], now[i - 1])] : [now[i], now[i]];
    if (least[i] < lo) g.lineTo(px, y(least[i] * c.k));
    if (most[i] > hi) g.lineTo(px, y(most[i] * c.k));
    g.lineTo(px, y(now[i] * c.k));
    if (t[i] > end) break;
  }
  g.stroke();
}

const HEIGHT = 112;

/** As many rows as a table of readings has at the most. */
const ROWS = 200;

/**
 * The strips as a table: every reading at the times of the film's rows, as many as fit.
 * @param {Strip[]} list @param {number} end @param {{shown: string, before: string, other: string}} names @returns {string[][]}
 */
export function readings(list, end, names) {
  const all = list.flatMap((s) => s.curves.map((c) => ({ head: `${s.title}, ${names[c.kind]}, ${s.unit}`, c })));
  const times = all.length ? [...all[0].c.series.t].filter((t) => t <= end) : [];
  const every = Math.max(1, Math.ceil(times.length / ROWS));
  return [
    ["time, s", ...all.map((x) => x.head)],
    ...times
      .filter((_, i) => i % every === 0 || i === times.length - 1)
      .map((t) => [t.toFixed(3), ...all.map(({ c }) => String(Number((valueAt(c.series, t) * c.k).toPrecision(4))))]),
  ];
}

/**
 * The strips as one box. Pressing or dragging on it moves the time.
 * @param {Reel} a @param {Reel|null} b @param {import("./scales.js").Units} u @param {() => import("./scales.js").Inks} inks @param {(t: number) => void} seek
 */
export function traces(a, b, u, inks, seek) {
  let end = a.end;
  let list = strips(a, b, u, end);
  let now = 0;
  let left = 50;
  let right = 1;
  /** @type {((v: number) => number)[]} */ let ys = [];
  /** @type {(t: number) => number} */ let x = () => 0;
  const box = h("div", {
    class: "pl-canvas pl-traces",
    role: "img",
    "aria-label": "Readings in time: head before and behind the valve, velocity, opening, pump speed.",
  });
  box.style.setProperty("height", `${list.length * HEIGHT + 24}px`);

  /** @param {CanvasRenderingContext2D} g @param {Strip} s @param {number} top @param {(v: number) => number} y */
  function frameOf(g, s, top, y) {
    const ink = inks();
    g.strokeStyle = ink.grid;
    g.lineWidth = 1;
    g.fillStyle = ink.soft;
    g.textAlign = "right";
    g.textBaseline = "middle";
    const step = roundStep(s.high - s.low, 3);
    for (const v of ticks(s.low, s.high, 3)) {
      const py = Math.round(y(v)) + 0.5;
      g.strokeStyle = v === 0 && s.zero ? ink.soft : ink.grid;
      g.beginPath();
      g.moveTo(left, py);
      g.lineTo(right, py);
      g.stroke();
      g.fillText(tickText(v, step), left - 6, py);
    }
    g.textAlign = "left";
    g.textBaseline = "top";
    g.fillStyle = ink.ink;
    g.fillText(`${s.title}, ${s.unit}`, left, top);
  }

  const s = stage(
    box,
    (g, w, hh) => {
      const ink = inks();
      right = w - 10;
      x = linear(0, end, left, right);
      g.font = FONT;
      ys = list.map((st, i) => linear(st.low, st.high, (i + 1) * HEIGHT - 8, i * HEIGHT + 20));
      g.textAlign = "center";
      g.textBaseline = "top";
      g.fillStyle = ink.soft;
      const step = roundStep(end, 6);
      for (const t of ticks(0, end, 6))
        g.fillText(tickText(t, step) + (t === 0 ? " s" : ""), Math.min(x(t), right - 6), list.length * HEIGHT + 4);
      list.forEach((st, i) => {
        frameOf(g, st, i * HEIGHT + 2, ys[i]);
        g.save();
        g.beginPath();
        g.rect(left, i * HEIGHT, right - left, HEIGHT);
        g.clip();
        for (const c of st.curves) {
          g.strokeStyle = c.kind === "shown" ? ink.water : c.kind === "other" ? ink.rust : ink.soft;
          g.lineWidth = c.kind === "before" ? 1.5 : 2;
          g.setLineDash(DASH[c.kind]);
          curve(g, c, x, ys[i], end);
        }
        g.restore();
      });
    },
    (g, w, hh) => {
      const ink = inks();
      const px = x(Math.min(now, end));
      g.strokeStyle = ink.ink;
      g.lineWidth = 1.5;
      g.beginPath();
      g.moveTo(px, 0);
      g.lineTo(px, hh - 22);
      g.stroke();
      for (let i = 0; i < list.length; i++) {
        for (const c of list[i].curves) {
          const y = ys[i](valueAt(c.series, now) * c.k);
          if (y !== y) continue;
          g.fillStyle = c.kind === "shown" ? ink.water : c.kind === "other" ? ink.rust : ink.soft;
          g.beginPath();
          g.arc(px, y, 4, 0, 7);
          g.fill();
        }
      }
    },
  );
  const point = (/** @type {PointerEvent} */ e) => {
    if (e.buttons & 1) seek(Math.max(0, Math.min(end, ((e.offsetX - left) / (right - left)) * end)));
  };
  box.addEventListener("pointerdown", (e) => {
    box.setPointerCapture(e.pointerId);
    point(e);
  });
  box.addEventListener("pointermove", point);
  return {
    box,
    set(/** @type {number} */ t) {
      now = t;
      s.frame();
    },
    /** Shows these films from 0 to so many seconds. @param {Reel} one @param {Reel|null} other @param {number} to */
    load(one, other, to) {
      end = to;
      list = strips(one, other, u, end);
      s.spoil();
    },
    /** @param {{shown: string, before: string, other: string}} names */
    table: (names) => readings(list, end, names),
    spoil: s.spoil,
    drop: s.drop,
  };
}

/** The legend, in words beside samples of the lines. @param {boolean} other @param {string} nameA @param {string} nameB */
export function legend(other, nameA, nameB) {
  const item = (/** @type {string} */ kind, /** @type {string} */ text) =>
    h("li", { class: "pl-key pl-key-" + kind }, text);
  return h(
    "ul",
    { class: "pl-legend" },
    item("shown", other ? nameA : "behind the valve"),
    item("before", other ? `head before ${nameA}` : "before the valve"),
    other ? item("other", nameB) : null,
  );
}
