// The clock of the player: where it stands, how fast it runs, what it loops.

/** @typedef {{t: number, end: number, from: number, to: number, speed: number, loop: boolean, playing: boolean}} Clock */

/** Real time to slow motion; the label is what people read. */
export const SPEEDS = [1, 1 / 2, 1 / 5, 1 / 10, 1 / 20, 1 / 50, 1 / 100];

/** @param {number} v */
export const speedText = (v) => (v >= 1 ? "real time" : `1/${Math.round(1 / v)}`);

/** @returns {Clock} */
export const newClock = () => ({ t: 0, end: 0, from: 0, to: 0, speed: SPEEDS[0], loop: true, playing: false });

/** The end of what is played. @param {Clock} c */
export const last = (c) => (c.loop ? c.to : c.end);

/** Puts the clock somewhere within the run. @param {Clock} c @param {number} t */
export function jump(c, t) {
  c.t = Math.min(Math.max(t, 0), c.end);
}

/** Lets real time pass. At the end a loop starts again, anything else stops. @param {Clock} c @param {number} realS */
export function advance(c, realS) {
  if (!c.playing) return;
  const end = last(c);
  const t = c.t + Math.max(realS, 0) * c.speed;
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
