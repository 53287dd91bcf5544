import assert from "node:assert/strict";
import test from "node:test";
import { fitRequest, taken } from "../../internal/web/page/measured.js";

const log = (n) => ({ stops: Array.from({ length: n }, (_, i) => ({ number: i + 1 })) });
const file = { name: "stops.csv", data: "" };
const held = (more = {}) => ({
  file,
  map: "",
  channel: "",
  valve: "",
  sensor: "",
  header: false,
  left: new Set(),
  events: new Set(),
  log: null,
  readFor: "",
  fit: null,
  fitted: "",
  ...more,
});

test("as many stops as are fitted at once are taken, and none that was left out", () => {
  assert.deepEqual(taken(log(3), new Set([2])), [1, 3]);
  assert.deepEqual(taken(log(9), new Set([1, 2])), [3, 4, 5, 6, 7, 8]);
  assert.deepEqual(taken(log(1), new Set([1])), []);
});

test("what is left blank is not sent, and a bare elevation takes the unit shown", () => {
  const bare = JSON.parse(JSON.stringify(fitRequest(held(), log(1), file, "station: x", "US")));
  assert.deepEqual(bare, { text: "station: x", file, events: [], stops: [1] });
  const all = fitRequest(
    held({ valve: " swing/6in ", sensor: "12.5", header: true, events: new Set(["stop-high"]), channel: "p" }),
    log(2),
    file,
    "station: x",
    "SI",
  );
  assert.equal(all.valve, "swing/6in");
  assert.equal(all.sensor, "12.5 m");
  assert.equal(all.at_header, true);
  assert.deepEqual(all.events, ["stop-high"]);
  assert.equal(all.channel, "p");
});
