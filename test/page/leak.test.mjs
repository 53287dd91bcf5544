import assert from "node:assert/strict";
import test from "node:test";
import { fieldOf, request } from "../../internal/web/page/leak.js";
import { path, reach, rows, spread } from "../../internal/web/page/linechart.js";
import { encoded, MOST, pasted, tooLarge } from "../../internal/web/page/sentfile.js";

const texts = { diameter: "8", step: " 0.1 ", before: "2.4 in in 10 min", after: " ", open: "3.5 in in 10 min" };

test("a bare number takes the unit shown, what is left blank is not sent, and rises go as written", () => {
  const w = { texts, way: "rises", file: null };
  assert.deepEqual(request(w, "US"), {
    units: "US",
    diameter: "8 ft",
    step: "0.1 in",
    shut: ["2.4 in in 10 min"],
    open: ["3.5 in in 10 min"],
    drop: [],
  });
  assert.equal(request(w, "SI").step, "0.1 mm");
});

test("a record stands in place of rises: the file, or else what was pasted", () => {
  const file = { name: "levels.xlsx", data: "UEs=" };
  assert.deepEqual(request({ texts, way: "record", file }, "US").record, file);
  const typed = request({ texts: { record: "time,level\n0,ü" }, way: "record", file: null }, "US");
  assert.equal(Buffer.from(typed.record.data, "base64").toString(), "time,level\n0,ü");
  assert.equal(typed.shut, undefined);
});

test("a fault is shown at the field that was written", () => {
  assert.equal(fieldOf("shut", { before: "x" }), "before");
  assert.equal(fieldOf("shut", { after: "x" }), "after");
  assert.equal(fieldOf("shut", {}), "before");
  assert.equal(fieldOf("shut[1]", { before: "x", after: "y" }), "after");
  assert.equal(fieldOf("area", {}), "area");
});

test("a file travels byte for byte, and one that is too large names the command line", () => {
  const bytes = Uint8Array.from({ length: 100_000 }, (_, i) => (i * 7) % 256);
  assert.deepEqual(new Uint8Array(Buffer.from(encoded(bytes), "base64")), bytes);
  assert.equal(pasted("x", "").data, "");
  assert.equal(tooLarge("x.csv", MOST, "seatward log x.csv"), "");
  assert.match(tooLarge("x.csv", MOST + 1, "seatward log x.csv"), /x\.csv has 1\.2 MB.*seatward log x\.csv$/);
});

const line = (name, x, y) => ({ name, ink: "water", dash: false, x, y });
const panel = (lines, more = {}) => ({
  title: "",
  x_label: "time, s",
  y_label: "head, m",
  from_zero: false,
  lines,
  marks: [],
  points: [],
  shades: [],
  levels: [],
  ...more,
});

test("a gap stays a gap, and the span leaves it out", () => {
  const p = panel([line("head", [0, 1, 2, 3], [1, null, 5, 3])]);
  const same = (v) => v;
  assert.equal(path(p.lines[0].x, p.lines[0].y, same, same), "M0.0 1.0M2.0 5.0L3.0 3.0");
  const r = reach(p);
  assert.deepEqual(r.x, [0, 3]);
  assert.ok(r.y[0] < 1 && r.y[0] > 0 && r.y[1] > 5 && r.y[1] < 6);
  assert.equal(reach(panel([line("v", [1], [2])], { from_zero: true })).y[0], 0);
});

test("the table has what each line has at a time, and nothing where one has none", () => {
  const p = panel([line("measured", [0, 1], [10, 20]), line("computed", [1], [21]), line("", [0, 0], [1, 2])]);
  assert.deepEqual(rows(p), [
    ["Time, s", "Measured: head, m", "Computed: head, m"],
    ["0", "10.0", "–"],
    ["1.00", "20.0", "21.0"],
  ]);
});

test("labels keep off one another and inside, and one without room is left out", () => {
  const all = spread(
    [
      { at: 10, text: "start of pump 1" },
      { at: 12, text: "stop of pump 1" },
      { at: 14, text: "slam" },
      { at: 290, text: "a long label at the end" },
    ],
    0,
    300,
    2,
  );
  assert.deepEqual(
    all.map((l) => [l.text, l.row]),
    [
      ["start of pump 1", 0],
      ["stop of pump 1", 1],
      ["a long label at the end", 0],
    ],
  );
  for (const l of all) assert.ok(l.x >= 0 && l.x + l.text.length * 6.2 <= 301, l.text);
});
