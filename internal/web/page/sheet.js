// The sheet: the station as an elevation, drawn to proportion. Heights and the
// distance along the main are true to scale, each on its own; the station itself is
// a symbol of its parts in their order.
import { svg } from "./dom.js";
import { turn } from "./anatomy.js";
import { pump, valve } from "./symbols.js";
import { device } from "./devices.js";

/** @typedef {import("./types.js").Drawing} Drawing */
/** @typedef {{x: number, y: number}} P */
/** @typedef {{w: number, h: number, wide: boolean, y: (m: number) => number, x: (m: number) => number, well: {x1: number, x2: number}, high: number, low: number, top: number,
 *   floor: number, pump: P, valve: P, header: P, start: P, end: P, outlet: number, riserX: number, wall: P|null, lift: number}} Plan wall: where a pipe leaves the wet well; lift: where the static head is measured */

/** From this width in px on the numbers stand on the drawing, below it under it. */
const WIDE = 640;

/**
 * Where everything stands, in px.
 * @param {Drawing} d @param {number} w @param {{low: number, high: number, h: number}} [film] what a film spans in elevation, and its height in px
 * @returns {Plan}
 */
export function plan(d, w, film) {
  const wide = w >= WIDE;
  const up = d.valve.position.includes("up");
  const h = film ? film.h : wide ? Math.min(540, Math.max(up ? 418 : 440, w * 0.44)) : 330;
  const heights = [
    d.outlet_m,
    d.wet_well.high_m,
    d.wet_well.low_m,
    d.valve.elevation_m,
    ...[...d.main, ...d.ground].map((p) => p.elevation_m),
    ...(film ? [film.low, film.high] : []),
  ];
  const top = Math.max(...heights);
  const least = Math.min(...heights);
  const range = Math.max(top - least, 0.5);
  const bottom = least - 0.2 * range;
  const y0 = film ? 20 : wide ? 86 : 56;
  const y1 = h - (wide ? 64 : 44);
  const y = (/** @type {number} */ m) => y0 + ((top - m) / (top - bottom)) * (y1 - y0);
  const long = Math.max(...d.main.map((p) => p.x_m), 1e-9);
  // The tag of the pumps stands between riser and main.
  const mx0 = film ? w * 0.44 : wide ? Math.max(w * 0.5, w * 0.25 + (w < 1000 ? 308 : 326)) : w * 0.52;
  const mx1 = w * (wide ? 0.86 : 0.83);
  const x = (/** @type {number} */ m) => mx0 + (m / long) * (mx1 - mx0);
  const well = { x1: wide ? Math.max(56, w * 0.07) : w * 0.06, x2: w * (wide ? 0.195 : 0.22) };
  const under = d.pumps.some((p) => p.submersible);
  const vy = Math.min(y(d.valve.elevation_m), h - 40);
  const floor = Math.max(Math.min(h - 30, y(bottom)), up ? Math.min(h - 26, vy + (wide ? 104 : 78)) : 0);
  const px = under ? (well.x1 + well.x2) / 2 + 4 : w * (wide ? 0.25 : 0.31);
  const py = Math.max(y(d.wet_well.low_m) + (under ? 24 : 20), floor - 20);
  const first = d.main[0] || { x_m: 0, elevation_m: d.wet_well.high_m };
  const last = d.main[d.main.length - 1] || first;
  const size = wide ? 48 : 36;
  const flat = d.valve.position.includes("horizontal");
  const down = d.valve.position.includes("down");
  const riserX = under ? w * (wide ? 0.25 : 0.31) : px + 15;
  const vx = flat ? (riserX + mx0) / 2 - 4 : down ? riserX + (wide ? 84 : 44) : riserX;
  const hy = flat ? vy : down ? vy + size : vy - size;
  const leaves = flat ? vy : down ? vy - (wide ? 52 : 38) : Math.min(vy + (wide ? 46 : 34), py - 16);
  return {
    w,
    h,
    wide,
    y,
    x,
    well,
    high: y(d.wet_well.high_m),
    low: y(d.wet_well.low_m),
    floor: Math.max(floor, py + 20),
    pump: { x: px, y: py },
    valve: { x: vx, y: vy },
    header: { x: mx0 - (wide ? 26 : 14), y: hy },
    start: { x: mx0, y: y(first.elevation_m) },
    end: { x: x(last.x_m), y: y(last.elevation_m) },
    outlet: y(d.outlet_m),
    riserX,
    top: Math.min(y(d.wet_well.high_m) - 26, vy - 10, under ? leaves - 18 : Infinity),
    wall: under ? { x: well.x2, y: leaves } : { x: well.x2, y: py },
    lift: Math.min(w - (wide ? 46 : 10), x(last.x_m) + (wide ? 68 : 46)),
  };
}

/**
 * The drawing.
 * @param {Drawing} d @param {Plan} p @param {{figure: import("./types.js").Figure, opening: number, us: boolean, place?: string}} shown place: where the valve stands
 */
export function draw(d, p, shown) {
  const g = svg("svg", {
    viewBox: `0 0 ${p.w} ${p.h}`,
    width: p.w,
    height: p.h,
    class: "elevation",
    role: "img",
    "aria-label": inWords(d, shown.us),
  });
  g.append(
    patterns(),
    scale(p, d, shown.us),
    wetWell(d, p),
    pit(p, shown.place || ""),
    profile(d, p, shown.us),
    lift(p),
    pipes(d, p),
    outlet(p),
  );
  const m = valve(shown.figure);
  m.set(shown.opening);
  const k = p.wide ? 0.26 : 0.2;
  const spot = svg(
    "g",
    { transform: `translate(${p.valve.x},${p.valve.y}) rotate(${turn(d.valve.position)}) scale(${k})`, class: "spot" },
    m.g,
  );
  g.append(spot, arrow(d, p));
  for (const v of d.devices) g.append(device(v, p));
  return g;
}

/** The drawing for those who do not see it. @param {Drawing} d @param {boolean} us */
function inWords(d, us) {
  const u = (/** @type {number} */ m) => (us ? `${(m / 0.3048).toFixed(1)} ft` : `${m.toFixed(2)} m`);
  const n = d.pumps.reduce((s, p) => s + p.count, 0);
  return (
    `Elevation of the station. Wet well between ${u(d.wet_well.low_m)} and ${u(d.wet_well.high_m)}; ${n} ${n === 1 ? "pump" : "pumps"}${d.pumps.some((p) => p.submersible) ? " in the wet well" : " beside it"}; ` +
    `check valve at ${u(d.valve.elevation_m)}, ${d.valve.position}; main of ${u(Math.max(...d.main.map((p) => p.x_m)))}${d.profile_given ? ", profile as given" : ", taken straight"}${d.ground.length ? "" : ", ground not given"}; outlet at ${u(d.outlet_m)}${d.devices.map((v) => `; ${v.name} ${v.x_m > 0 ? `${u(v.x_m)} along the main` : "at the header"}`).join("")}.`
  );
}

function patterns() {
  return svg(
    "defs",
    {},
    svg(
      "pattern",
      { id: "hatch", width: 7, height: 7, patternUnits: "userSpaceOnUse", patternTransform: "rotate(45)" },
      svg("path", { d: "M0,0V7", class: "hatch" }),
    ),
  );
}

/** Round steps of a scale. @param {number} range @param {number} most */
function stepOf(range, most) {
  const raw = range / most;
  const p = 10 ** Math.floor(Math.log10(raw));
  return [1, 2, 5, 10].map((k) => k * p).find((s) => s >= raw) || raw;
}

/** Elevations at the left edge. @param {Plan} p @param {Drawing} d @param {boolean} us */
function scale(p, d, us) {
  const k = us ? 0.3048 : 1;
  const all = [
    d.outlet_m,
    d.wet_well.low_m,
    d.wet_well.high_m,
    d.valve.elevation_m,
    ...[...d.main, ...d.ground].map((q) => q.elevation_m),
  ];
  const lo = Math.min(...all) / k;
  const hi = Math.max(...all) / k;
  const step = stepOf(Math.max(hi - lo, 1), p.wide ? 6 : 4);
  const g = svg("g", { class: "scale", "aria-hidden": "true" });
  const from = Math.ceil((lo - step * 0.3) / step) * step;
  const x = p.wide ? 44 : 4;
  for (let v = from; v <= hi + step * 0.5; v += step) {
    const y = p.y(v * k);
    if (y < 30 || y > p.h - 12) continue;
    g.append(svg("path", { d: `M${x},${y}H${p.w - 8}`, class: "grid" }));
    if (p.wide) g.append(svg("text", { x: 38, y: y + 4, "text-anchor": "end" }, String(Math.round(v * 100) / 100)));
  }
  if (p.wide) g.append(svg("text", { x: 38, y: 34, "text-anchor": "end", class: "unit" }, us ? "ft" : "m"));
  return g;
}

const WALL = 8; // of concrete, px

/** Where a pipe passes through a wall: an opening with its seal. @param {P} at */
const sleeve = (at) => svg("rect", { x: at.x - 2, y: at.y - 10, width: WALL + 4, height: 20, class: "sleeve" });

/** What the valve stands in: a dry pit, a vault, a house; nothing where it is not known. @param {Plan} p @param {string} place */
function pit(p, place) {
  const g = svg("g", { "data-place": place });
  const right = p.header.x - 20;
  const floor = p.floor + 4;
  if (place === "dry pit")
    g.append(
      svg("path", { d: `M${p.well.x2 + WALL},${floor}H${right}V${p.top}`, class: "pit" }),
      sleeve({ x: right - 6, y: p.header.y }),
    );
  if (place === "pump house")
    g.append(
      svg("path", {
        d: `M${p.well.x2 + WALL},${floor}H${right}V${p.top - 14}H${p.well.x2 + 14}V${floor}`,
        class: "pit",
      }),
      svg("path", {
        d: `M${p.well.x2 + 6},${p.top - 14}L${(p.well.x2 + right) / 2},${p.top - 40}L${right + 8},${p.top - 14}`,
        class: "axis",
      }),
    );
  if (place === "valve vault") {
    const [x, y] = [p.wide ? 62 : 34, p.wide ? 58 : 42];
    g.append(
      svg("path", {
        d: `M${p.valve.x - x},${p.valve.y - y}V${p.valve.y + y}H${p.valve.x + x}V${p.valve.y - y}`,
        class: "pit",
      }),
    );
  }
  return g;
}

/** The static head as a dimension, from the high level to the outlet. @param {Plan} p */
function lift(p) {
  const x = p.lift;
  const [a, b] = [p.high, p.outlet];
  if (Math.abs(a - b) < 12) return svg("g");
  const way = Math.sign(b - a);
  const tip = (/** @type {number} */ y, /** @type {number} */ s) =>
    `M${x - 4},${y - 8 * s}L${x},${y}L${x + 4},${y - 8 * s}`;
  return svg(
    "g",
    { class: "lift" },
    svg("path", { d: `M${p.well.x2 + WALL},${a}H${x + 6}M${p.end.x},${b}H${x + 6}`, class: "dimension thin" }),
    svg("path", { d: `M${x},${a}V${b}${tip(a, -way)}${tip(b, way)}`, class: "dimension" }),
  );
}

/** @param {Drawing} d @param {Plan} p */
function wetWell(d, p) {
  const { x1, x2 } = p.well;
  const top = p.top;
  const t = WALL;
  const side = `M${x1},${top}V${p.floor}H${x2}V${top}h${t}V${p.floor + t}H${x1 - t}V${top}Z`;
  const wave = (/** @type {number} */ y) => `M${x1},${y}H${x2}`;
  const mark = (/** @type {number} */ y) =>
    svg("path", { d: `M${x1 + 10},${y - 9}h10l-5,8ZM${x1 + 11},${y + 3}h8M${x1 + 13},${y + 6}h4`, class: "level" });
  return svg(
    "g",
    { class: "well" },
    svg("rect", { x: x1, y: p.high, width: x2 - x1, height: Math.max(0, p.low - p.high), class: "water-band" }),
    svg("rect", { x: x1, y: p.low, width: x2 - x1, height: Math.max(0, p.floor - p.low), class: "water" }),
    svg("path", { d: side, class: "concrete" }),
    svg("path", { d: wave(p.high), class: d.wet_well.assumed ? "surface guess" : "surface" }),
    svg("path", { d: wave(p.low), class: "surface low" }),
    mark(p.high),
    mark(p.low),
  );
}

/** The main over its distance. @param {Drawing} d @param {Plan} p @param {boolean} us */
function profile(d, p, us) {
  const pts = d.main.map((q) => `${p.x(q.x_m)},${p.y(q.elevation_m)}`).join("L");
  const long = Math.max(...d.main.map((q) => q.x_m));
  const k = us ? 0.3048 : 1;
  const g = svg("g", { class: "main" });
  const base = p.h - 22;
  const ground = d.ground.map((q) => `${p.x(q.x_m)},${p.y(q.elevation_m)}`).join("L");
  if (ground)
    g.append(
      svg("path", { d: `M${ground}V${base}H${p.x(d.ground[0].x_m)}Z`, class: "earth" }),
      svg("path", { d: `M${ground}`, class: "ground" }),
    );
  else if (pts)
    g.append(
      svg(
        "text",
        {
          x: Math.min(p.w - 10, p.end.x + 100),
          y: base - 7,
          class: "key",
          "text-anchor": "end",
          "aria-hidden": "true",
        },
        p.w >= 800 ? `pipe axis${d.profile_given ? "" : ", taken straight"}; ground not given` : "ground not given",
      ),
    );
  if (pts) {
    g.append(
      svg("path", { d: `M${pts}`, class: "pipe-wall" }),
      svg("path", { d: `M${pts}`, class: d.profile_given ? "pipe-bore" : "pipe-bore guess" }),
    );
    if (d.profile_given)
      for (const q of d.main) g.append(svg("circle", { cx: p.x(q.x_m), cy: p.y(q.elevation_m), r: 3, class: "knot" }));
  }
  const step = stepOf(long / k, p.wide ? 5 : 3);
  const axis = svg(
    "g",
    { class: "scale", "aria-hidden": "true" },
    svg("path", { d: `M${p.start.x},${base}H${p.end.x}`, class: "axis" }),
  );
  for (let v = 0; v <= long / k + 1e-9; v += step) {
    const x = p.x(v * k);
    axis.append(
      svg("path", { d: `M${x},${base}v5`, class: "axis" }),
      svg(
        "text",
        { x, y: base + 17, "text-anchor": "middle" },
        v === 0 ? "0" : `${Math.round(v)}${v + step > long / k ? (us ? " ft" : " m") : ""}`,
      ),
    );
  }
  g.append(axis);
  return g;
}

/** Suction, riser, valve, header. @param {Drawing} d @param {Plan} p */
function pipes(d, p) {
  const under = d.pumps.some((q) => q.submersible);
  const n = d.pumps.reduce((s, q) => s + q.count, 0);
  const g = svg("g", { class: "pipes" });
  const pipe = (/** @type {string} */ path, thin = false) =>
    g.append(
      svg("path", { d: path, class: "pipe-wall" + (thin ? " thin" : "") }),
      svg("path", { d: path, class: "pipe-bore" + (thin ? " thin" : "") }),
    );
  const up = `M${p.pump.x + 15},${p.pump.y}`;
  const down = d.valve.position.includes("down");
  const flat = d.valve.position.includes("horizontal");
  const turnY = down ? p.valve.y - (p.wide ? 52 : 38) : p.header.y;
  // A submersible pump's pipe rises in the well, and leaves it through the wall above.
  let line = under ? `${up}H${p.well.x2 - 14}V${p.wall?.y ?? turnY}H${p.riserX}` : `${up}V${turnY}`;
  if (under && !flat && !down) line += `V${turnY}`;
  if (p.wall) g.append(sleeve(p.wall));
  line += down ? `H${p.valve.x}V${p.header.y}` : "";
  const floor = p.floor + 8;
  if (!under) {
    g.append(
      svg("path", {
        d: `M${p.well.x2 + WALL},${floor - 8}H${p.header.x - 16}v8H${p.well.x2 + WALL}Z`,
        class: "concrete",
      }),
    );
    pipe(`M${p.well.x2 - 2},${p.pump.y}H${p.pump.x - 14}`);
  }
  // Every pump is drawn, one behind the other.
  const [dx, dy] = [
    Math.min(9, (under ? 38 : 30) / Math.max(n - 1, 1)),
    under ? 1.5 : Math.min(7, 34 / Math.max(n - 1, 1)),
  ];
  for (let i = n - 1; i >= 1; i--)
    g.append(svg("g", { class: "ghost", transform: `translate(${p.pump.x - i * dx},${p.pump.y - i * dy})` }, pump(16)));
  pipe(`${line}H${p.header.x}`);
  pipe(
    `M${p.header.x},${p.header.y}H${p.start.x - 8}Q${p.start.x},${p.header.y} ${p.start.x},${p.header.y + Math.sign(p.start.y - p.header.y || 1) * Math.min(8, Math.abs(p.start.y - p.header.y))}V${p.start.y}`,
  );
  if (d.header)
    g.append(
      svg("circle", { cx: p.header.x, cy: p.header.y, r: 9, class: "header" }),
      svg("circle", { cx: p.header.x, cy: p.header.y, r: 4, class: "header-bore" }),
    );
  g.append(svg("g", { transform: `translate(${p.pump.x},${p.pump.y})` }, pump(16)));
  return g;
}

/** A point of the main, by its share of the length. @param {Drawing} d @param {Plan} p @param {number} share @returns {P} */
export function onMain(d, p, share) {
  const long = d.main[d.main.length - 1]?.x_m ?? 0;
  const at = share * long;
  const i = Math.max(
    1,
    d.main.findIndex((q) => q.x_m >= at),
  );
  const [a, b] = [d.main[i - 1], d.main[i]];
  if (!a || !b) return p.start;
  const k = b.x_m > a.x_m ? (at - a.x_m) / (b.x_m - a.x_m) : 0;
  return { x: p.x(at), y: p.y(a.elevation_m + k * (b.elevation_m - a.elevation_m)) };
}

/** Which way the water goes through the valve. @param {Drawing} d @param {Plan} p */
function arrow(d, p) {
  const t = turn(d.valve.position);
  const off = p.wide ? 40 : 30;
  const at =
    t === 0
      ? `translate(${p.valve.x},${p.valve.y + off * 0.8})`
      : `translate(${p.valve.x + off},${p.valve.y}) rotate(${t})`;
  return svg("path", { d: "M-16,0H12M6,-5L14,0L6,5", class: "flow-arrow", transform: at });
}

/** @param {Plan} p */
function outlet(p) {
  const x = p.end.x;
  const w = p.wide ? 52 : 32;
  const bottom = Math.max(p.end.y, p.outlet) + 26;
  const top = p.outlet - 18;
  return svg(
    "g",
    { class: "outlet" },
    svg("rect", { x, y: p.outlet, width: w, height: bottom - p.outlet, class: "water" }),
    svg("path", { d: `M${x},${top}V${p.end.y - 7}M${x},${p.end.y + 7}V${bottom}H${x + w}V${top}`, class: "tank" }),
    svg("path", { d: `M${x},${p.outlet}H${x + w}`, class: "surface" }),
    svg("path", { d: `M${x + w - 24},${p.outlet - 9}h10l-5,8Z`, class: "level" }),
  );
}
