import assert from "node:assert/strict";
import { test } from "node:test";
import { advance, newClock, rate, slowParts } from "../../internal/web/page/clock.js";
import { decode, valueAt, READ, reading } from "../../internal/web/page/film.js";
import { chipText, beside } from "../../internal/web/page/cures.js";
import { happenings } from "../../internal/web/page/player.js";
import { datum, gauges, strain } from "../../internal/web/page/stage.js";
import { unitsOf } from "../../internal/web/page/scales.js";
import { writes } from "../../internal/web/page/wishes.js";
import { sliders } from "../../internal/web/page/whatif.js";
import { answer, base64, base64of64 } from "./films.mjs";

test("readings at 200 random times are those of the line through the steps", () => {
  const names = ["head behind the valve", "head before the valve", "flow through the valve", "opening", "pump speed"];
  const t = Array.from({ length: 400 }, (_, i) => i * 0.004 + (i % 3) * 0.0005);
  const rows = t.map((x) => names.map((_, k) => Math.sin(40 * x + k)));
  const r = decode(answer({ exact: { names, t: base64of64(t), values: base64(rows.flat()) } }));
  let seed = 7;
  for (let i = 0; i < 200; i++) {
    seed = (seed * 48271) % 2147483647;
    const at = (seed / 2147483647) * t[t.length - 1];
    const k = t.findLastIndex((x) => x <= at);
    const u = k + 1 < t.length ? (at - t[k]) / (t[k + 1] - t[k]) : 0;
    names.forEach((name, j) => {
      const want = rows[k][j] + u * ((rows[k + 1] || rows[k])[j] - rows[k][j]);
      assert.ok(Math.abs(valueAt(reading(r, name), at) - want) < 1e-6, `${name} at ${at} s`);
    });
  }
  assert.ok(Number.isNaN(valueAt(undefined, 0.1)));
  assert.throws(
    () => decode(answer({ exact: { names, t: base64of64(t), values: base64([1]) } })),
    /1 exact readings for 400 times and 5 names/,
  );
  assert.equal(valueAt(reading(r, READ.opening), 99), Math.fround(rows[399][3]));
});

test("it slows itself at the first closing and the hardest, and nowhere else", () => {
  const parts = slowParts(
    [
      { t: 1, worst: false },
      { t: 3, worst: false },
      { t: 8, worst: true },
    ],
    3,
  );
  assert.equal(parts.length, 2);
  assert.ok(parts[0].from < 1 && parts[0].to > 1 && parts[0].to < 3 && parts[1].from > 3 && parts[1].from < 8);
  for (const z of parts) assert.ok((z.to - z.from) / z.speed >= 3, "long enough to look at");
  assert.equal(
    slowParts(
      [
        { t: 1, worst: true },
        { t: 1.01, worst: false },
      ],
      3,
    ).length,
    1,
  );
  assert.deepEqual(slowParts([], 3), []);
  const c = { ...newClock(), end: 10, to: 10, playing: true, slow: parts, t: parts[0].from - 0.1, loop: false };
  assert.equal(rate(c), 1);
  advance(c, 0.2);
  assert.ok(c.t > parts[0].from && c.t < parts[0].from + 0.1, "it slows within a frame, not after it");
  assert.equal(rate(c), parts[0].speed);
  assert.equal(rate({ ...c, auto: false, speed: 0.5 }), 0.5);
});

test("the drawing's elevations and the film's heads are one scale, and strained pipe stands out", () => {
  const r = decode(answer());
  const d = { main: [{ x_m: 0, elevation_m: r.pipe[0] + 7 }], wet_well: { high_m: 3 } };
  assert.equal(datum(d, r), 7);
  assert.equal(datum({ ...d, main: [] }, r), 3 - r.pipe[0]);
  assert.equal(strain(r, 0, r.pipe[0] + 5), "");
  assert.equal(strain(r, 0, r.pipe[0] - 1), "low");
  assert.equal(strain(r, 0, r.limit[0] + 1), "high");
  assert.equal(strain(r, 0, r.vapor[0]), "vapor");
  const list = gauges(r);
  assert.ok(list.length > 0 && list.every((i, k) => i >= 0 && i < r.x.length && (k === 0 || i > list[k - 1])));
});

test("a chip has what the remedy comes to, and the table sets it beside the station as it is", () => {
  const u = unitsOf("SI");
  const now = {
    name: "as it is",
    class: "audible",
    reverse_velocity_m_s: 0.28,
    head_rise_m: 38,
    column_separation: true,
  };
  const then = {
    name: "flywheel",
    class: "quiet",
    reverse_velocity_m_s: 0.04,
    head_rise_m: 6,
    least_pressure_head_m: -8,
    column_separation: false,
    recommended: true,
  };
  assert.equal(chipText(then, u), "Flywheel: 0.04 m/s ✓");
  assert.equal(chipText({ name: "air valve", class: "", fault: "no room" }, u), "Air valve: not run");
  assert.deepEqual(beside(now, then, u), [
    ["reverse velocity", "0.28 m/s, audible", "0.04 m/s, quiet"],
    ["head rise", "38.0 m", "6.00 m"],
    ["min. pressure head in the main", "vapor: column separation", "−8.00 m"],
  ]);
});

test("a what-if writes what a station file holds, and says what it does not", () => {
  const number = (path, label, si, unit = "kg m²") => ({
    path,
    label,
    si,
    low: si / 2,
    high: 2 * si,
    unit,
    per_si: 1,
    reason: "",
  });
  const film = decode(
    answer({
      vary: [
        number("mechanics.disc_mass", "mass of the disc", 4),
        number("outlet", "outlet", 14, "m"),
        number("pumps[0].inertia", "inertia", 0.2),
      ],
    }),
  );
  const list = sliders(film, unitsOf("SI"));
  const wish = { vary: {}, change: {}, position: "flow up", valve: "v" };
  const fields = [
    { path: "surge.devices[0].kind", value: "air valve", text: "air valve" },
    { path: "surge.devices[1].kind", value: "", text: "" },
    { path: "levels.outlet", value: "14 m", text: "14.0 m" },
  ];
  assert.deepEqual(writes(wish, list, fields, "flow up"), { edits: [], left: [] });
  const all = writes(
    {
      ...wish,
      vary: { "mechanics.disc_mass": 5, outlet: 15.12345 },
      change: { flywheel_kg_m2: 0.4, ramp_s: 20, vessel_m3: 0.5 },
      position: "horizontal",
    },
    list,
    fields,
    "flow up",
  );
  assert.deepEqual(all.left, ["mass of the disc"]);
  assert.deepEqual(
    all.edits.map((e) => [e.path, e.value]),
    [
      ["levels.outlet", "15.12 m"],
      ["pumps[0].inertia", "0.6 kg m²"],
      ["surge.normal_stop", "speed ramp"],
      ["surge.ramp_time", "20 s"],
      ["surge.devices[1].kind", "air vessel"],
      ["surge.devices[1].at", "0 m"],
      ["surge.devices[1].air_volume", "0.5 m³"],
      ["valve.position", "horizontal"],
    ],
  );
});

test("more air in a vessel that stands there is not written as another vessel", () => {
  const list = sliders(decode(answer()), unitsOf("SI"));
  const wish = { vary: {}, change: { vessel_m3: 1 }, position: "", valve: "v" };
  const fields = [{ path: "surge.devices[0].air_volume", value: "", text: "0.5 m³" }];
  assert.deepEqual(writes(wish, list, fields, ""), { edits: [], left: ["more air in the vessel that is there"] });
});

test("with two valves what happens to both is listed, in one order", () => {
  const a = decode(answer());
  const b = decode(answer({}, { valve: "flap/6in" }));
  const two = happenings([a, b], (id) => id);
  assert.equal(two.filter((m) => m.t === 0).length, 1, "the event stands there once");
  assert.ok(two.some((m) => m.text.startsWith("flap/6in: ")) && two.some((m) => m.text.startsWith("swing/6in: ")));
  for (let i = 1; i < two.length; i++) assert.ok(two[i].t >= two[i - 1].t);
  assert.deepEqual(
    happenings([a], (id) => id),
    a.moments,
  );
});
