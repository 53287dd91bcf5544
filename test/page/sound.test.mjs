import assert from "node:assert/strict";
import { test } from "node:test";
import { blow, passed } from "../../internal/web/page/sound.js";

const limits = { quiet: 0.15, harmful: 0.45 };
const at = (m_s, kind, rise_m = 20) => blow({ m_s, rise_m, class: kind }, limits);

test("every audible slam is louder than every quiet one, every harmful one louder than both", () => {
  const quiet = [0, 0.01, 0.149].map((v) => at(v, "quiet").gain);
  const audible = [0.15, 0.3, 0.45].map((v) => at(v, "audible").gain);
  const harmful = [0.46, 1, 50].map((v) => at(v, "harmful").gain);
  for (const [mild, hard] of [
    [quiet, audible],
    [audible, harmful],
  ])
    assert.ok(Math.max(...mild) < Math.min(...hard), `${mild} and ${hard}`);
  for (const list of [quiet, audible, harmful])
    for (let i = 1; i < list.length; i++) assert.ok(list[i] > list[i - 1], "within a class the faster is the louder");
  assert.ok(Math.max(...harmful) <= 1);
});

test("a greater head rise is brighter, and no number makes one that is none", () => {
  assert.ok(at(0.3, "audible", 60).cutoffHz > at(0.3, "audible", 10).cutoffHz);
  for (const b of [at(NaN, "audible", NaN), at(0, "harmful", 0), blow({ m_s: 1, rise_m: 1e9, class: "" }, limits)])
    for (const v of Object.values(b)) assert.ok(Number.isFinite(v) && v > 0, JSON.stringify(b));
  assert.equal(blow({ m_s: 0.3, rise_m: 1, class: "audible" }, { quiet: null, harmful: null }).gain, 0.27);
});

test("a closing sounds once as the time passes it, also where a loop begins anew", () => {
  const all = [{ t: 0.2 }, { t: 0.9 }];
  assert.deepEqual(passed(all, 0.1, 0.2), [{ t: 0.2 }]);
  assert.deepEqual(passed(all, 0.2, 0.3), []);
  assert.deepEqual(passed(all, 0.8, 0.1), [{ t: 0.9 }]);
  assert.deepEqual(passed(all, 0.95, 0.25), [{ t: 0.2 }]);
});
