// The playhead: lets the clock of the player run, frame by frame, and puts it elsewhere.
import { advance, jump, last, nextStop, rate, slowParts, speedFor, stops } from "./clock.js";

/** @typedef {{ready: () => boolean, moments: () => {t: number}[], draw: (tell: boolean) => void, playing: (on: boolean) => void, closings: () => {t: number, worst: boolean}[], passed: (from: number, to: number) => void, set: (speed: number, loop: boolean) => void, span: () => void}} Hooks span: another span of time is shown; passed: it has played on; set takes speed 0 where it slows itself */

const STEP_MS = 1000; // between steps for those who asked for less motion
const STEPS = 24;
const WATCHED_S = 3; // a closing should take at least this long to watch
const REST_S = 3; // and what is around it

/** @param {import("./clock.js").Clock} clock @param {boolean} calm whether the reader asked for less motion @param {Hooks} on */
export function playhead(clock, calm, on) {
  let raf = 0;
  let timer = 0;
  let before = 0;

  /** @param {number} now */
  function frame(now) {
    const from = clock.t;
    advance(clock, (now - before) / 1000);
    before = now;
    on.passed(from, clock.t);
    on.draw(!clock.playing);
    if (clock.playing) raf = requestAnimationFrame(frame);
    else pause();
  }

  function play() {
    if (!on.ready() || clock.playing) return;
    if (clock.t >= last(clock)) clock.t = 0;
    clock.playing = true;
    on.playing(true);
    if (calm) {
      timer = window.setInterval(() => {
        step(1);
        if (clock.t >= last(clock)) pause();
      }, STEP_MS);
      return;
    }
    before = performance.now();
    raf = requestAnimationFrame(frame);
  }

  function pause() {
    clock.playing = false;
    cancelAnimationFrame(raf);
    clearInterval(timer);
    on.playing(false);
  }

  /** @param {number} t */
  function seek(t) {
    if (t > last(clock)) loop(false); // a moment after the closing lies outside its loop
    jump(clock, t);
    on.draw(true);
  }

  /** @param {1|-1} way */
  function step(way) {
    if (!on.ready()) return;
    if (!calm) pause();
    seek(nextStop(stops(on.moments(), last(clock), STEPS), clock.t, way));
  }

  /** @param {boolean} looping */
  function loop(looping) {
    clock.loop = looping;
    on.set(clock.auto ? 0 : clock.speed, looping);
    if (!on.ready()) return;
    if (clock.t > last(clock)) clock.t = 0;
    on.span();
    on.draw(true);
  }

  /** 0 slows itself at closings. @param {number} v */
  function speed(v) {
    clock.auto = v === 0;
    clock.slow = slowParts(on.closings(), WATCHED_S);
    clock.speed = v || speedFor(clock.to, REST_S);
  }

  return {
    pause,
    seek,
    step,
    loop,
    play: () => (clock.playing ? pause() : play()),
    speed,
    rate: () => rate(clock),
    home: () => seek(0),
    end: () => seek(last(clock)),
    /** Stands still at a moment. @param {number} t */
    jump(t) {
      pause();
      seek(t);
      on.passed(t - 1e-6, t);
    },
    /** A film is seen from its beginning, once by itself unless the reader asked for less motion. */
    start() {
      clock.t = 0;
      clock.loop = true;
      speed(0);
      on.set(0, clock.loop);
      if (!calm) play();
    },
  };
}
