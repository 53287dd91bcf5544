import assert from "node:assert/strict";
import { test } from "node:test";
import * as film from "../../internal/web/page/film.js";
import { readings } from "../../internal/web/page/traces.js";
import { facts, told } from "../../internal/web/page/tripwords.js";
import { unitsOf } from "../../internal/web/page/scales.js";
import { answer, base64, closing } from "./films.mjs";

const near = (a, b, tol = 1e-6) => assert.ok(Math.abs(a - b) <= tol, `${a} is not ${b}`);

test("heads come out of base64 as they went in", () => {
  assert.deepEqual([...film.floats(base64([0, -1.5, 3.25e6]))], [0, -1.5, 3.25e6]);
  assert.equal(film.floats("").length, 0);
});

test("a film that does not fit itself is refused, with what was found", () => {
  assert.throws(() => film.decode(answer({ heads: base64([1, 2]) })), /2 heads for 4 times and 3 places/);
  assert.throws(() => film.decode(answer({ t: [], heads: "" })), /empty/);
  const a = answer();
  a.film.traces.values = a.film.traces.values.slice(1);
  assert.throws(() => film.decode(a), /3 rows of readings \(values\) for 4 times/);
});

test("the envelope so far only grows, and holds every frame", () => {
  const r = film.decode(answer());
  const n = r.x.length;
  for (let i = 0; i < r.heads.length; i++) {
    assert.ok(r.low[i] <= r.heads[i] && r.high[i] >= r.heads[i]);
    if (i >= n) assert.ok(r.low[i] <= r.low[i - n] && r.high[i] >= r.high[i - n]);
  }
  assert.deepEqual([...r.low.slice(-3)], [12, 4, 14]);
  assert.deepEqual([...r.high.slice(-3)], [30, 18, 15]);
});

test("before the closing heads lie on the line between frames; from then on a frame stands until the next", () => {
  const r = film.decode(answer());
  const out = new Float32Array(3);
  assert.equal(film.headsAt(r, 0.05, out), 0);
  near(out[0], 16, 1e-4);
  for (const [t, want] of [
    [0.15, [12, 18, 15]],
    [0.2, [30, 4, 15]],
    [0.6, [30, 4, 15]],
    [0.99, [30, 4, 15]],
    [1, [18, 9, 14]],
  ]) {
    film.headsAt(r, t, out);
    assert.deepEqual([...out], want, `at ${t} s`);
  }
  film.headsAt(r, -1, out);
  assert.deepEqual([...out], [20, 18, 15]);
  film.headsAt(r, 99, out);
  assert.deepEqual([...out], [18, 9, 14]);
  const o = film.reading(r, film.READ.opening);
  near(film.valueAt(o, 0.05), 0.75);
  const head = film.reading(r, film.READ.behind);
  near(film.valueAt(head, 0.6), 24, 1e-4); // the steps between lie on the line: it is that of the CSV
  near(film.valueAt(o, 5), 0);
  assert.ok(Number.isNaN(film.valueAt(undefined, 0)));
});

test("times are found by halves as by looking through", () => {
  const t = Float64Array.from({ length: 57 }, (_, i) => i * i * 0.01);
  for (let s = -0.5; s < 40; s += 0.037) {
    const want = Math.max(
      t.findLastIndex((v) => v <= s),
      0,
    );
    assert.equal(film.indexAt(t, s), want);
  }
});

test("the velocity is the flow over the bore's area", () => {
  const v = film.velocity(film.decode(answer()));
  near(v.now[0], 0.1 / ((Math.PI / 4) * 0.15 * 0.15));
  assert.equal(
    film.velocity(
      film.decode(
        answer({
          traces: { ...answer().film.traces, names: ["other"] },
          exact: { ...answer().film.exact, names: ["other", "b", "c", "d", "e"] },
        }),
      ),
    ),
    undefined,
  );
});

test("a closing loops to a tenth after it shut; one that never shuts, to the end", () => {
  const r = film.decode(answer());
  near(film.closingEnd(r), 0.22);
  near(
    film.closingEnd(
      film.decode(
        answer({
          slams: [
            { t: 0.2, m_s: 0.1, text: "" },
            { t: 0.5, m_s: 0.4, text: "" },
          ],
        }),
      ),
    ),
    0.55,
  );
  const open = film.decode(answer({}, { closing: closing({ closed: false, time_s: 0 }) }));
  assert.equal(film.shutAt(open), null);
  assert.equal(film.closingEnd(open), 1);
});

test("extremes are of the whole run, not only of the frames, with the limits where they are", () => {
  const x = film.extremes(film.decode(answer()));
  assert.deepEqual([x.most.value, x.most.x, x.most.limit], [31, 0, 100]);
  near(x.least.value, -1.5);
  assert.deepEqual([x.least.x, x.least.limit], [500, -10]);
  assert.equal(x.head.value, 31);
  assert.throws(() => film.decode(answer({ head_max: [31, 18] })), /2 greatest heads for 3 places/);
});

test("the trip in words has the numbers in the reader's units, and says what is not known", () => {
  const r = film.decode(answer());
  const rows = Object.fromEntries(facts(r, unitsOf("US")));
  assert.equal(rows["reverse velocity"], "0.40 m/s, likely 0.30 to 0.60 m/s", "as the server says it");
  assert.equal(rows.slam, "audible 60%");
  assert.equal(told(0.4, unitsOf("US").velocity), "1.31 ft/s");
  assert.equal(told(0.0312, unitsOf("SI").velocity), "0.03 m/s");
  assert.equal(told(-0.4, unitsOf("SI").velocity), "−0.40 m/s");
  assert.equal(facts(r, unitsOf("US"))[0][0], "reverse velocity", "the closing comes first");
  assert.match(rows["max. pressure head"], /^102 ft, at 0 ft of the main; the pipe's rating there is 328 ft$/);
  assert.match(
    Object.fromEntries(facts(r, unitsOf("SI")))["min. pressure head"],
    /^−1\.50 m, at 500 m of the main; water boils there at −10\.0 m$/,
  );
  const none = film.decode(answer({ limit_m: [null, null, null], said: null }, { closing: undefined }));
  const bare = Object.fromEntries(facts(none, unitsOf("SI")));
  assert.equal(bare["the valve closes at"], "the valve does not close in this event");
  assert.equal(bare["reverse velocity"], undefined, "no number where nothing closes");
  assert.doesNotMatch(bare["max. pressure head"], /rating/);
  const failed = film.decode(
    answer({}, { closing: undefined, events: [{ id: "one-trips-high", not_run: "nothing flows" }] }),
  );
  assert.equal(Object.fromEntries(facts(failed, unitsOf("SI")))["the valve closes at"], "not run: nothing flows");
  assert.equal(told(null, unitsOf("SI").head), "not known");
});

test("moments that come out of order are put in order before they are shortened", () => {
  const late = Array.from({ length: 40 }, (_, i) => ({
    t: 9 - i / 10,
    kind: "vapor forms",
    text: `vapor forms in main, ${i} ft along it`,
  }));
  const r = film.decode(answer({ moments: late }));
  for (let i = 1; i < r.moments.length; i++) assert.ok(r.moments[i].t >= r.moments[i - 1].t);
  for (const m of r.moments) {
    const until = /until ([\d.]+) s/.exec(m.text);
    if (until) assert.ok(Number(until[1]) >= m.t, m.text);
  }
});

test("many moments alike are shortened, and every other one is kept", () => {
  const m = (t, kind, text = kind) => ({ t, kind, text });
  const few = [m(0, "event"), m(1, "flow reverses"), m(2, "valve closes", "the valve closes, reverse velocity 1 m/s")];
  assert.deepEqual(film.fold(few), few);
  const vapor = Array.from({ length: 100 }, (_, i) => m(1 + i / 100, "vapor forms", `vapor at main, ${i} m along it`));
  const out = film.fold([
    few[0],
    m(0.5, "valve moves"),
    m(0.6, "valve sticks"),
    m(0.7, "flow reverses"),
    ...vapor,
    m(3, "valve closes", "the valve closes, reverse velocity 1 m/s"),
    m(4, "valve is open"),
  ]);
  assert.ok(out.length < 12);
  assert.ok(
    out.some((o) => /9\d more like these, until 1\.9\d0 s/.test(o.text)),
    JSON.stringify(out),
  );
  for (const text of ["event", "valve sticks", "the valve closes, reverse velocity 1 m/s", "valve is open"])
    assert.ok(
      out.some((o) => o.text === text),
      text,
    );
  for (let i = 1; i < out.length; i++) assert.ok(out[i].t >= out[i - 1].t);
  assert.deepEqual(film.fold([]), []);
  const seat = m(1.505, "valve closes");
  assert.ok(
    film.fold([...vapor.slice(0, 51), seat, ...vapor.slice(51)]).includes(seat),
    "what happens once between many alike is kept",
  );
});

test("the readings have a table, with a column for each curve and its unit", () => {
  const t = Float64Array.from([0, 1, 2, 3]);
  const v = Float64Array.from([0, 10, 20, 30]);
  const series = { name: "x", t, now: v, least: v, most: v, exact: { t, v } };
  const rows = readings(
    [
      {
        title: "head at the valve",
        unit: "ft",
        low: 0,
        high: 1,
        zero: false,
        curves: [{ series, kind: "shown", k: 2 }],
      },
    ],
    2,
    { shown: "behind", before: "before", other: "" },
  );
  assert.deepEqual(rows, [
    ["time, s", "head at the valve, behind, ft"],
    ["0.000", "0"],
    ["1.000", "20"],
    ["2.000", "40"],
  ]);
});
