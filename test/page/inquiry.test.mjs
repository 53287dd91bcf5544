import assert from "node:assert/strict";
import test from "node:test";
import { choices, pieces, taken } from "../../internal/web/page/inquiry.js";
import { asTable, dragged, numberOf, rowsOf, stepOf } from "../../internal/web/page/curve.js";

const find = (start, end, path, value, more = []) => ({
  start,
  end,
  phrase: "",
  path,
  field: path,
  value,
  kind: "",
  si: null,
  doubt: more.length ? "why" : "",
  choices: more,
});

test("the pieces of a text are the whole text, in order, overlaps or not", () => {
  const text = "2 pumps, duty/standby 350 gpm pumps";
  const a = {
    finds: [find(0, 7, "a", "1"), find(5, 12, "b", "2"), find(20, 27, "c", "3"), find(21, 25, "d", "4")],
    skipped: [{ start: 10, end: 18, why: "x" }],
    missing: [],
    units: "US",
    file: "",
  };
  const all = pieces(a, text.length);
  assert.equal(all.map((p) => text.slice(p.start, p.end)).join(""), text);
  assert.deepEqual(
    all.filter((p) => p.find >= 0).map((p) => [p.find, p.start, p.end]),
    [
      [0, 0, 7],
      [1, 7, 12],
      [2, 20, 27],
    ],
  );
  assert.deepEqual(pieces({ ...a, finds: [], skipped: [] }, 3), [{ start: 0, end: 3, find: -1, skip: false }]);
});

test("only what was taken becomes an edit, one for each field", () => {
  const finds = [
    find(0, 1, "duty.flow", "350 gpm"),
    find(2, 3, "duty.head", "62 ft", [
      { path: "duty.head", field: "", value: "62 ft", says: "" },
      { path: "duty.static_head", field: "", value: "62 ft", says: "" },
    ]),
    find(4, 5, "duty.flow", "400 gpm"),
  ];
  assert.deepEqual(taken(finds, [null, null, null]), []);
  assert.deepEqual(taken(finds, [0, 1, -1]), [
    { path: "duty.flow", value: "350 gpm" },
    { path: "duty.static_head", value: "62 ft" },
  ]);
  assert.deepEqual(taken(finds, [0, -1, 0]), [{ path: "duty.flow", value: "400 gpm" }]);
  assert.equal(choices(finds[0]).length, 1);
});

test("the grid of a curve and the points of a file are the same", () => {
  const rows = rowsOf("[[0 gpm, 90 ft], [450 gpm, 62.5 ft]]", "gpm", "ft");
  assert.deepEqual(rows, [
    { x: "0", y: "90" },
    { x: "450", y: "62.5" },
  ]);
  assert.equal(rowsOf("[[0 L/s, 27 m]]", "gpm", "ft"), null);
  assert.equal(asTable([...rows, { x: "", y: " " }], "gpm", "ft"), "Flow (gpm)\tHead (ft)\n0\t90\n450\t62.5");
});

test("a dragged point has the digits of a pointer, a cell is a number or none", () => {
  assert.equal(dragged(449.87, 700), "450");
  assert.equal(dragged(12.3456, 27), "12.3");
  assert.equal(numberOf(" 12.5 "), 12.5);
  for (const s of ["", "12,5", "1e3", "12 gpm"]) assert.ok(Number.isNaN(numberOf(s)), s);
  for (const most of [0.3, 7, 99, 1250])
    assert.ok(most / stepOf(most) <= 5.0001 && most / stepOf(most) >= 1.9, String(most));
});
