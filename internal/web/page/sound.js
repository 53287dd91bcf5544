// The slam as it is heard: made of the run's own numbers, never a recording. The reverse velocity
// gives how loud, the head rise how hard; the class is that of the rows.

/** @typedef {{m_s: number, rise_m: number, class: string}} Slam */
/** @typedef {{quiet: number|null, harmful: number|null}} Limits */
/** @typedef {{gain: number, cutoffHz: number, thumpHz: number, decayS: number}} Blow */

/** How loud each class is at its mildest and hardest: the classes never overlap. @type {Record<string, [number, number]>} */
const LOUD = { quiet: [0.01, 0.06], audible: [0.14, 0.4], harmful: [0.6, 1] };
const FULL_RISE_M = 100; // of the brightest blow

const within = (/** @type {number} */ x) => (Number.isFinite(x) ? Math.min(1, Math.max(0, x)) : 0.5);

/** How far into its class a blow is, 0 to 1. @param {Slam} s @param {Limits} l */
function depth(s, l) {
  if (!l.quiet || !l.harmful) return 0.5;
  if (s.class === "quiet") return within(s.m_s / l.quiet);
  if (s.class === "harmful") return within(1 - l.harmful / s.m_s);
  return within((s.m_s - l.quiet) / (l.harmful - l.quiet));
}

/** What is played for a closing. @param {Slam} s @param {Limits} l @returns {Blow} */
export function blow(s, l) {
  const [mild, hard] = LOUD[s.class] || LOUD.quiet;
  const bright = within(Math.max(0, s.rise_m) / FULL_RISE_M);
  const gain = mild + (hard - mild) * depth(s, l);
  return { gain, cutoffHz: 250 + 3000 * bright, thumpHz: 120 - 60 * bright, decayS: 0.06 + 0.5 * gain };
}

/** The closings that the time passed between two frames; in a loop it may have passed the end. @template {{t: number}} T @param {T[]} all @param {number} from @param {number} to @returns {T[]} */
export const passed = (all, from, to) =>
  to >= from ? all.filter((s) => s.t > from && s.t <= to) : all.filter((s) => s.t > from || s.t <= to);

/** Plays blows, once somebody has asked for it. */
export function speaker() {
  /** @type {AudioContext|null} */ let ctx = null;
  let on = false;
  /** @type {AudioBuffer|null} */ let hiss = null;

  /** Noise that is the same each time. @param {AudioContext} c */
  function noise(c) {
    const b = c.createBuffer(1, c.sampleRate, c.sampleRate);
    const data = b.getChannelData(0);
    let x = 1;
    for (let i = 0; i < data.length; i++) {
      x = (x * 48271) % 2147483647;
      data[i] = (2 * x) / 2147483647 - 1;
    }
    return b;
  }

  /** @param {AudioContext} c @param {number} gain @param {number} decay */
  function fading(c, gain, decay) {
    const g = c.createGain();
    g.gain.setValueAtTime(gain, c.currentTime);
    g.gain.exponentialRampToValueAtTime(1e-4, c.currentTime + decay);
    g.connect(c.destination);
    return g;
  }

  return {
    get on() {
      return on;
    },
    /** @param {boolean} wanted */
    turn(wanted) {
      on = wanted;
      if (on) ctx ||= new AudioContext();
      if (on) void ctx?.resume();
    },
    /** @param {Blow} b */
    play(b) {
      if (!on || !ctx) return;
      hiss ||= noise(ctx);
      const end = ctx.currentTime + b.decayS;
      const thump = ctx.createOscillator();
      thump.frequency.setValueAtTime(b.thumpHz, ctx.currentTime);
      thump.frequency.exponentialRampToValueAtTime(b.thumpHz / 2, end);
      thump.connect(fading(ctx, b.gain * 0.8, b.decayS));
      const crack = ctx.createBufferSource();
      crack.buffer = hiss;
      const low = ctx.createBiquadFilter();
      low.type = "lowpass";
      low.frequency.value = b.cutoffHz;
      crack.connect(low).connect(fading(ctx, b.gain * 0.6, b.decayS * 0.6));
      for (const part of [thump, crack]) {
        part.start();
        part.stop(end);
      }
    },
  };
}
