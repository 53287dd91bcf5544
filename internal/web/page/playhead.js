// The playhead: lets the clock of the player run, frame by frame, and puts it elsewhere.
import { advance, jump, last, nextStop, speedFor, stops } from "./clock.js";

/** @typedef {{ready: () => boolean, moments: () => {t: number}[], draw: (tell: boolean) => void, playing: (on: boolean) => void, set: (speed: number, loop: boolean) => void, span: () => void}} Hooks span: another span of time is shown */

const STEP_MS = 1000; // between steps for those who asked for less motion
const STEPS = 24;
const WATCHED_S = 4; // a closing should take at least this long to watch

/** @param {import("./clock.js").Clock} clock @param {boolean} calm whether the reader asked for less motion @param {Hooks} on */
export function playhead(clock, calm, on) {
  let raf = 0;
  let timer = 0;
  let before = 0;

  /** @param {number} now */
  function frame(now) {
    advance(clock, (now - before) / 1000);
    before = now;
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
    on.set(clock.speed, looping);
    if (!on.ready()) return;
    if (clock.t > last(clock)) clock.t = 0;
    on.span();
    on.draw(true);
  }

  return {
    pause,
    seek,
    step,
    loop,
    play: () => (clock.playing ? pause() : play()),
    speed: (/** @type {number} */ v) => void (clock.speed = v),
    home: () => seek(0),
    end: () => seek(last(clock)),
    /** Stands still at a moment. @param {number} t */
    jump(t) {
      pause();
      seek(t);
    },
    /** A film is seen from its beginning, once by itself unless the reader asked for less motion. */
    start() {
      clock.t = 0;
      clock.loop = true;
      clock.speed = speedFor(clock.to, WATCHED_S);
      on.set(clock.speed, clock.loop);
      if (!calm) play();
    },
  };
}
