// A pump trip as the server sends it, made ready for drawing: heads by time and place,
// readings in time, and the envelope that the wave has left behind so far. Nothing here
// touches the page, so all of it is tested by itself.

/** Readings as they are drawn, with the least and greatest since the row before, and as they are at every step. @typedef {{name: string, t: Float64Array, now: Float64Array, least: Float64Array, most: Float64Array, exact: {t: Float64Array, v: Float64Array}}} Series */
/** @typedef {{value: number, x: number, limit: number}} Extreme */
/** @typedef {import("./types.js").Moment} Moment */
/** A moment, or many in one. @typedef {Pick<Moment, "t"|"text">} Told */
/**
 * @typedef {object} Reel
 * @property {Float64Array} t times of the frames, s
 * @property {Float64Array} x chainage of the places, m
 * @property {Float64Array} pipe elevation of the pipe's axis, m above the datum
 * @property {Float64Array|null} ground elevation of the ground, where known
 * @property {Float64Array} limit head at the pipe's rating; NaN where not known
 * @property {Float64Array} vapor head at which the water boils; NaN where not known
 * @property {Float32Array} heads by frame and place
 * @property {Float32Array} low lowest head until each frame, by frame and place
 * @property {Float32Array} high greatest head until each frame
 * @property {Float64Array} least of the whole run, by place
 * @property {Float64Array} most of the whole run, by place
 * @property {Series[]} series
 * @property {Told[]} moments
 * @property {import("./types.js").FilmSlam[]} slams closings, in order
 * @property {number} step between two steps of the run, s
 * @property {import("./types.js").FilmEvent[]} events
 * @property {import("./types.js").Cutaway} cutaway
 * @property {import("./types.js").Trial[]} vary numbers that may be tried
 * @property {import("./types.js").Said|null} said the slam in words, as a row has it; null where the valve does not close
 * @property {import("./types.js").Trip} trip
 * @property {number} end time of the last frame, s
 */

/** Names of the readings that the player shows, as the server names them. */
export const READ = {
  behind: "head behind the valve",
  before: "head before the valve",
  flow: "flow through the valve",
  opening: "opening",
  speed: "pump speed",
};

/** Numbers with NaN for what is not known. @param {(number|null)[]} list @returns {Float64Array} */
const numbers = (list) => Float64Array.from(list, (v) => v ?? NaN);

/** Little-endian float32 in base64. @param {string} text @returns {Float32Array} */
export function floats(text) {
  const raw = atob(text);
  const bytes = new Uint8Array(raw.length);
  for (let i = 0; i < raw.length; i++) bytes[i] = raw.charCodeAt(i);
  const view = new DataView(bytes.buffer);
  const out = new Float32Array(raw.length >> 2);
  for (let i = 0; i < out.length; i++) out[i] = view.getFloat32(4 * i, true);
  return out;
}

/** Little-endian float64 in base64. @param {string} text @returns {Float64Array} */
export function doubles(text) {
  const raw = Uint8Array.from(atob(text), (c) => c.charCodeAt(0));
  const view = new DataView(raw.buffer);
  return Float64Array.from({ length: raw.length >> 3 }, (_, i) => view.getFloat64(8 * i, true));
}

/**
 * Least and greatest of each place from the first frame on.
 * @param {Float32Array} heads @param {number} places @returns {{low: Float32Array, high: Float32Array}}
 */
export function soFar(heads, places) {
  const low = heads.slice();
  const high = heads.slice();
  for (let i = places; i < heads.length; i++) {
    if (!(low[i] < low[i - places])) low[i] = low[i - places];
    if (!(high[i] > high[i - places])) high[i] = high[i - places];
  }
  return { low, high };
}

/** @param {import("./types.js").Traces} traces @param {import("./types.js").Exact} exact @returns {Series[]} */
function seriesOf(traces, exact) {
  const t = numbers(traces.t);
  const steps = doubles(exact.t);
  const values = floats(exact.values);
  const n = exact.names.length;
  if (values.length !== n * steps.length)
    throw new Error(`the film has ${values.length} exact readings for ${steps.length} times and ${n} names`);
  for (const key of /** @type {const} */ (["values", "least", "most"])) {
    if (traces[key].length !== t.length)
      throw new Error(`the film has ${traces[key].length} rows of readings (${key}) for ${t.length} times`);
  }
  return traces.names.map((name, i) => {
    const column = (/** @type {(number|null)[][]} */ rows) => numbers(rows.map((r) => r[i]));
    const k = exact.names.indexOf(name);
    if (k < 0) throw new Error(`the film has no exact readings of ${name}`);
    return {
      name,
      t,
      now: column(traces.values),
      least: column(traces.least),
      most: column(traces.most),
      exact: { t: steps, v: Float64Array.from(steps, (_, j) => values[j * n + k]) },
    };
  });
}

/** More than this many of the same are shown by the first two and the last. */
const MOST_ALIKE = 6;

/**
 * A cavity that opens at a hundred places, or an element that chatters, is many moments of
 * one or two kinds in a row: they are shown in short, with their number, so that the rest is found.
 * @param {Moment[]} all @returns {Told[]}
 */
export function fold(all) {
  /** @type {Told[]} */ const out = [];
  for (let i = 0; i < all.length; ) {
    /** @type {Set<Moment["kind"]>} */ const kinds = new Set();
    let end = i;
    while (end < all.length && (kinds.size < 2 || kinds.has(all[end].kind))) kinds.add(all[end++].kind);
    const group = all.slice(i, end);
    const last = group.length - 1;
    const many = new Set([...kinds].filter((k) => group.filter((m) => m.kind === k).length > 2));
    const rest = group.filter((m, j) => j > 1 && j < last && many.has(m.kind));
    if (group.length <= MOST_ALIKE || rest.length < 2) out.push(...group);
    else
      out.push(
        ...group.flatMap((m) =>
          m === rest[0]
            ? [{ t: m.t, text: `${rest.length} more like these, until ${rest[rest.length - 1].t.toFixed(3)} s` }]
            : rest.includes(m)
              ? []
              : [m],
        ),
      );
    i = end;
  }
  return out;
}

/** The answer of /api/trip, ready to be shown. @param {import("./types.js").TripAnswer} answer @returns {Reel} */
export function decode(answer) {
  const f = answer.film;
  const heads = floats(f.heads);
  const places = f.x_m.length;
  if (!f.t.length || !places) throw new Error("the film is empty");
  if (heads.length !== f.t.length * places)
    throw new Error(`the film has ${heads.length} heads for ${f.t.length} times and ${places} places`);
  for (const [what, list] of Object.entries({ least: f.head_min, greatest: f.head_max })) {
    if (list.length !== places) throw new Error(`the film has ${list.length} ${what} heads for ${places} places`);
  }
  return {
    t: numbers(f.t),
    x: numbers(f.x_m),
    pipe: numbers(f.elevation_m),
    ground: f.ground_m.length ? numbers(f.ground_m) : null,
    limit: numbers(f.limit_m),
    vapor: numbers(f.vapor_m),
    heads,
    ...soFar(heads, places),
    least: numbers(f.head_min),
    most: numbers(f.head_max),
    series: seriesOf(f.traces, f.exact),
    step: answer.trip.grid.step_s,
    moments: fold([...f.moments].sort((a, b) => a.t - b.t)),
    slams: f.slams,
    events: f.events,
    cutaway: f.cutaway,
    vary: f.vary,
    said: f.said,
    trip: answer.trip,
    end: f.t[f.t.length - 1],
  };
}

/** Index of the last time that is not after s; 0 before the first. @param {Float64Array} t @param {number} s @returns {number} */
export function indexAt(t, s) {
  let lo = 0;
  let hi = t.length - 1;
  while (lo < hi) {
    const mid = (lo + hi + 1) >> 1;
    if (t[mid] <= s) lo = mid;
    else hi = mid - 1;
  }
  return lo;
}

/** How far s is from time k to the next, 0 to 1. @param {Float64Array} t @param {number} k @param {number} s */
const shareAt = (t, k, s) => (k + 1 < t.length && s > t[k] ? Math.min((s - t[k]) / (t[k + 1] - t[k]), 1) : 0);

/**
 * How far a time is from frame k to the next. Frames of neighboring steps, and those before the
 * first closing, have a straight line between them. Elsewhere waves run that are shorter than the
 * time between two frames: a line would show heads that never were, and a frame stands until the next.
 * @param {Reel} r @param {number} k @param {number} s
 */
function between(r, k, s) {
  if (k + 1 >= r.t.length) return 0;
  const near = r.t[k + 1] - r.t[k] < 1.5 * r.step;
  return near || r.t[k + 1] < (shutAt(r) ?? Infinity) ? shareAt(r.t, k, s) : 0;
}

/** The heads at a time, put into out; gives the frame before it. @param {Reel} r @param {number} s @param {Float32Array} out @returns {number} */
export function headsAt(r, s, out) {
  const n = r.x.length;
  const k = indexAt(r.t, s);
  const u = between(r, k, s);
  const a = k * n;
  const b = u > 0 ? a + n : a;
  for (let i = 0; i < n; i++) out[i] = r.heads[a + i] + u * (r.heads[b + i] - r.heads[a + i]);
  return k;
}

/** A reading at a time, as the CSV of the trip has it; NaN where it is not known. @param {Series|undefined} s @param {number} at @returns {number} */
export function valueAt(s, at) {
  if (!s || !s.exact.t.length) return NaN;
  const { t, v } = s.exact;
  const k = indexAt(t, at);
  const u = shareAt(t, k, at);
  return u > 0 ? v[k] + u * (v[k + 1] - v[k]) : v[k];
}

/** @param {Reel} r @param {string} name */
export const reading = (r, name) => r.series.find((s) => s.name === name);

/** Velocity in the valve's bore from the flow through it. @param {Reel} r @returns {Series|undefined} */
export function velocity(r) {
  const q = reading(r, READ.flow);
  if (!q) return undefined;
  const area = (Math.PI / 4) * r.cutaway.bore_m ** 2;
  const over = (/** @type {Float64Array} */ a) => a.map((v) => v / area);
  return {
    name: "velocity in the bore",
    t: q.t,
    now: over(q.now),
    least: over(q.least),
    most: over(q.most),
    exact: { t: q.exact.t, v: over(q.exact.v) },
  };
}

/** When the valve first seated, s; null when it did not. @param {Reel} r @returns {number|null} */
export function shutAt(r) {
  const c = r.trip.closing;
  return c && c.closed && c.time_s > 0 ? c.time_s : null;
}

/** What a loop of the closing spans: from the trip to the hardest closing and a tenth more. @param {Reel} r @returns {number} */
export function closingEnd(r) {
  const s = shutAt(r);
  return s === null ? r.end : Math.min(Math.max(s, ...r.slams.map((x) => x.t)) * 1.1, r.end);
}

/**
 * The extremes of the run: pressure heads above the pipe, where they are, and the limit there.
 * @param {Reel} r @returns {{most: Extreme, least: Extreme, head: Extreme}}
 */
export function extremes(r) {
  let most = 0;
  let least = 0;
  let head = 0;
  for (let i = 1; i < r.x.length; i++) {
    if (r.most[i] - r.pipe[i] > r.most[most] - r.pipe[most]) most = i;
    if (r.least[i] - r.pipe[i] < r.least[least] - r.pipe[least]) least = i;
    if (r.most[i] > r.most[head]) head = i;
  }
  const lim = (/** @type {Float64Array} */ a, /** @type {number} */ i) => (i < a.length ? a[i] : NaN);
  return {
    most: { value: r.most[most] - r.pipe[most], x: r.x[most], limit: lim(r.limit, most) - r.pipe[most] },
    least: { value: r.least[least] - r.pipe[least], x: r.x[least], limit: lim(r.vapor, least) - r.pipe[least] },
    head: { value: r.most[head], x: r.x[head], limit: lim(r.limit, head) },
  };
}
