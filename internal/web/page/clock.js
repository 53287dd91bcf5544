// The clock of the player: where it stands, how fast it runs, what it loops.

/** A part of the run that is played slowly. @typedef {{from: number, to: number, speed: number}} Slow */
/** @typedef {{t: number, end: number, from: number, to: number, speed: number, auto: boolean, slow: Slow[], loop: boolean, playing: boolean}} Clock auto: it slows itself at closings, and speed is that of the rest */

/** Real time to slow motion; the label is what people read. */
export const SPEEDS = [1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100];

/** @param {number} v */
export const speedText = (v) => (v >= 1 ? "real time" : `1/${Math.round(1 / v)}`);

/** @returns {Clock} */
export const newClock = () => ({
  t: 0,
  end: 0,
  from: 0,
  to: 0,
  speed: SPEEDS[0],
  auto: true,
  slow: [],
  loop: true,
  playing: false,
});

/** The end of what is played. @param {Clock} c */
export const last = (c) => (c.loop ? c.to : c.end);

/** Puts the clock somewhere within the run. @param {Clock} c @param {number} t */
export function jump(c, t) {
  c.t = Math.min(Math.max(t, 0), c.end);
}

const SLICE_S = 1 / 120; // in which the speed is taken as even
const SLICES = 60; // a page that slept longer goes on at the speed of then

/** The speed now. @param {Clock} c @param {number} [t] */
export const rate = (c, t = c.t) => (c.auto && c.slow.find((z) => t >= z.from && t < z.to)?.speed) || c.speed;

/** How far the run gets in so much real time. @param {Clock} c @param {number} realS */
function going(c, realS) {
  if (!c.auto) return realS * c.speed;
  let t = c.t;
  let left = realS;
  for (let i = 0; left > 0; i++) {
    const dt = i < SLICES ? Math.min(left, SLICE_S) : left;
    t += dt * rate(c, t);
    left -= dt;
  }
  return t - c.t;
}

/** Lead and tail of a closing that are played slowly: shares of the time until it, s at least and at most. */
const LEAD = { share: 0.3, least: 0.06, most: 0.6 };
const TAIL = 0.5; // of the lead

/**
 * The parts that are played slowly: the first closing and the hardest, each so that it takes `watch`
 * seconds to look at.
 * @param {{t: number, worst: boolean}[]} closings @param {number} watch @returns {Slow[]}
 */
export function slowParts(closings, watch) {
  /** @type {Slow[]} */ const out = [];
  for (const c of closings.filter((c, i) => i === 0 || c.worst)) {
    const lead = Math.min(LEAD.most, Math.max(LEAD.least, LEAD.share * c.t));
    const [from, to] = [Math.max(0, c.t - lead), c.t + TAIL * lead];
    const before = out[out.length - 1];
    if (before && from <= before.to) before.to = to;
    else out.push({ from, to, speed: 1 });
  }
  for (const z of out) z.speed = speedFor(z.to - z.from, watch);
  return out;
}

/** Lets real time pass. At the end a loop starts again, anything else stops. @param {Clock} c @param {number} realS */
export function advance(c, realS) {
  if (!c.playing) return;
  const end = last(c);
  const t = c.t + going(c, Math.max(realS, 0));
  if (t < end) {
    c.t = t;
  } else if (c.loop && end > c.from) {
    c.t = c.from + ((t - end) % (end - c.from));
  } else {
    c.t = end;
    c.playing = false;
  }
}

/** The speed at which so many seconds of the run can be followed: the fastest that takes at least `least` seconds. @param {number} spanS @param {number} least */
export const speedFor = (spanS, least) => SPEEDS.find((v) => spanS / v >= least) || SPEEDS[SPEEDS.length - 1];

/**
 * Where stepping stops: the moments, and equal parts of what is shown.
 * @param {{t: number}[]} moments @param {number} end @param {number} parts @returns {number[]}
 */
export function stops(moments, end, parts) {
  const all = new Set([0, end]);
  for (let i = 1; i < parts; i++) all.add((end * i) / parts);
  for (const m of moments) if (m.t > 0 && m.t < end) all.add(m.t);
  return [...all].sort((a, b) => a - b);
}

/** The next stop, or the one before. @param {number[]} list @param {number} t @param {1|-1} way @returns {number} */
export function nextStop(list, t, way) {
  const near = 1e-9;
  if (way > 0) return list.find((s) => s > t + near) ?? list[list.length - 1];
  return list.findLast((s) => s < t - near) ?? list[0];
}
