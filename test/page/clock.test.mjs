import assert from "node:assert/strict";
import { test } from "node:test";
import {
  advance,
  jump,
  last,
  newClock,
  nextStop,
  SPEEDS,
  speedFor,
  speedText,
  stops,
} from "../../internal/web/page/clock.js";
import { heights, linear, roundStep, span, ticks, tickText, unitsOf } from "../../internal/web/page/scales.js";
import { decode } from "../../internal/web/page/film.js";
import { strips } from "../../internal/web/page/traces.js";
import { latest } from "../../internal/web/page/runs.js";
import { sliders } from "../../internal/web/page/whatif.js";
import { answer } from "./films.mjs";

const clock = (over) => ({ ...newClock(), end: 10, to: 2, playing: true, ...over });

test("a loop comes back to the trip with what is left of the time", () => {
  const c = clock({ t: 1.9, loop: true });
  advance(c, 0.3);
  assert.ok(Math.abs(c.t - 0.2) < 1e-12 && c.playing);
  advance(c, 2000.5); // a page that slept
  assert.ok(c.t >= 0 && c.t < 2);
});

test("without a loop it stops at the end; standing still it does not move; never backward", () => {
  const c = clock({ t: 9.9, loop: false });
  advance(c, 1);
  assert.deepEqual([c.t, c.playing], [10, false]);
  advance(c, 1);
  assert.equal(c.t, 10);
  const d = clock({ t: 1 });
  advance(d, -5);
  assert.equal(d.t, 1);
  assert.equal(last(clock({ loop: false })), 10);
});

test("slow motion is slower by its number, and the clock stays in the run", () => {
  const c = clock({ speed: 1 / 100 });
  advance(c, 1);
  assert.ok(Math.abs(c.t - 0.01) < 1e-12);
  jump(c, -3);
  assert.equal(c.t, 0);
  jump(c, 99);
  assert.equal(c.t, 10);
  assert.deepEqual([SPEEDS[0], SPEEDS.at(-1)], [1, 1 / 100]);
  assert.deepEqual([speedText(1), speedText(1 / 50)], ["real time", "1/50"]);
  assert.equal(speedFor(0.7, 4), 1 / 10);
  assert.equal(speedFor(8, 4), 1);
  assert.equal(speedFor(0, 4), 1 / 100);
});

test("steps stop at moments and never stand still before the end", () => {
  const list = stops([{ t: 0 }, { t: 0.31 }, { t: 99 }], 1, 4);
  assert.deepEqual(list, [0, 0.25, 0.31, 0.5, 0.75, 1]);
  let t = 0;
  for (let i = 0; i < 5; i++) t = nextStop(list, t, 1);
  assert.equal(t, 1);
  assert.equal(nextStop(list, 1, 1), 1);
  assert.equal(nextStop(list, 0.3, -1), 0.25);
  assert.equal(nextStop(list, 0, -1), 0);
});

test("steps of a scale are round, and ticks lie within", () => {
  for (const [s, n] of [
    [1, 5],
    [0.037, 4],
    [1234, 6],
    [7, 7],
  ]) {
    const step = roundStep(s, n);
    const lead = step / 10 ** Math.floor(Math.log10(step) + 1e-9);
    assert.ok(
      [1, 2, 5].some((k) => Math.abs(lead - k) < 1e-9),
      `${step}`,
    );
    for (const v of ticks(-s / 3, s, n)) assert.ok(v >= -s / 3 - 1e-9 && v <= s + step * 1e-6);
  }
  assert.equal(tickText(-0.25, 0.05), "−0.25");
  assert.equal(tickText(-1e-12, 0.5), "0.0");
  assert.equal(tickText(200, 50), "200");
  assert.equal(linear(0, 10, 100, 0)(2.5), 75);
  assert.deepEqual(span([NaN, 3], [-1]), [-1, 3]);
  assert.deepEqual(span([]), [0, 1]);
});

test("the picture takes in what is near and leaves out a rating far above", () => {
  const near = heights([decode(answer({ limit_m: [40, 40, 40] }))]);
  assert.ok(near.limit && near.high > 40);
  const far = heights([decode(answer())]);
  assert.ok(!far.limit && far.high < 40 && far.high > 31);
  assert.ok(!heights([decode(answer({ limit_m: [null, null, null] }))]).limit);
  assert.ok(far.vapor && far.low < -10);
});

test("strips span what is seen, with peaks between rows", () => {
  const r = decode(answer());
  const head = strips(r, null, unitsOf("SI"), 1)[0];
  assert.ok(head.high > 33 && head.curves.length === 2);
  const early = strips(r, null, unitsOf("SI"), 0.05)[0];
  assert.ok(early.high < 33);
  assert.equal(strips(r, r, unitsOf("US"), 1)[0].curves.length, 3);
  const opening = strips(r, null, unitsOf("SI"), 1).find((s) => s.title === "opening");
  assert.deepEqual([opening.low, opening.high], [0, 100]);
});

test("what-ifs are what the server offers, and what may be added", () => {
  const u = unitsOf("SI");
  const ball = {
    path: "mechanics.ball_density",
    label: "density of the ball",
    si: 1500,
    low: 750,
    high: 3000,
    unit: "lb/ft³",
    per_si: 0.0624,
    reason: "why",
  };
  const [first, ...rest] = sliders(decode(answer({ vary: [ball] })), u);
  assert.deepEqual(first, {
    key: ball.path,
    to: "vary",
    label: ball.label,
    base: 1500,
    low: 750,
    high: 3000,
    unit: { k: 0.0624, unit: "lb/ft³" },
    reason: "why",
  });
  assert.deepEqual(
    rest.map((s) => s.key),
    ["vessel_m3", "ramp_s"],
  );
  const inertia = {
    path: "pumps[0].inertia",
    label: "inertia",
    si: 0.2,
    low: 0.1,
    high: 0.4,
    unit: "kg m²",
    per_si: 1,
    reason: "why",
  };
  const wheel = sliders(decode(answer({ vary: [inertia] })), u).find((s) => s.key === "flywheel_kg_m2");
  assert.deepEqual([wheel.to, wheel.base, wheel.high], ["change", 0, 1]);
  assert.deepEqual(
    sliders(decode(answer()), u).map((s) => s.key),
    ["vessel_m3", "ramp_s"],
  );
});

test("one request at a time: quick ones finish, the newest follows, a long one is broken off", async () => {
  let flying = 0;
  let most = 0;
  const ran = [];
  const done = [];
  const tick = (ms) => new Promise((r) => setTimeout(r, ms));
  const until = async (n) => {
    for (let i = 0; i < 1000 && done.length < n; i++) await tick(5);
  };
  const run = latest(
    async (arg, signal) => {
      most = Math.max(most, ++flying);
      ran.push(arg);
      try {
        for (let i = 0; i < (arg === "long" ? 5000 : 3); i++) {
          await tick(2);
          if (signal.aborted) throw new DOMException("gone", "AbortError");
        }
        return arg;
      } finally {
        flying--;
      }
    },
    (r) => done.push(r),
    () => assert.fail("nothing failed"),
  );
  run.ask("a", false);
  run.ask("b", false);
  run.ask("c", false);
  await until(2);
  assert.deepEqual(ran, ["a", "c"]);
  assert.deepEqual(done, ["a", "c"]);
  run.ask("long", true);
  await tick(5);
  run.ask("d", false);
  await until(3);
  assert.deepEqual(done, ["a", "c", "d"]);
  assert.equal(most, 1);
});
