import assert from "node:assert/strict";
import { test } from "node:test";
import { blanks, edits } from "../../internal/web/page/call.js";
import { withUnit } from "../../internal/web/page/units.js";
import { plain } from "../../internal/web/page/configure.js";
import { read, write } from "../../internal/web/page/links.js";
import { state } from "../../internal/web/page/state.js";
import { tsv } from "../../internal/web/page/take.js";

const blank = (id) => blanks.find((b) => b.id === id);
const sheet = (...fields) => ({ station: { units: "US" }, fields });
const f = (path, value = "") => ({ path, value, text: value });

test("a bare number takes the unit that is shown, and all else stays as it is written", () => {
  assert.equal(withUnit(" 450 ", "gpm"), "450 gpm");
  assert.equal(withUnit("1,046", "ft"), "1,046 ft");
  assert.equal(withUnit("28 L/s", "gpm"), "28 L/s");
  assert.equal(withUnit("DN150", "mm"), "DN150");
  assert.equal(withUnit("2", ""), "2");
  assert.equal(withUnit("", "gpm"), "");
});

test("the lift in place of the head takes the head back", () => {
  state.sheet = sheet(f("duty.head", "60 ft"), f("duty.static_head"));
  assert.deepEqual(edits(blank("head"), "duty.static_head", "40 ft"), [
    { path: "duty.head", value: null },
    { path: "duty.static_head", value: "40 ft" },
  ]);
});

test("a run of pipe of which only the length was known goes with it; another stays", () => {
  state.sheet = sheet(f("main.runs[0].length", "3400 ft"), f("main.runs[0].size"));
  assert.deepEqual(edits(blank("length"), "main.runs[0].length", ""), [{ path: "main.runs", value: null }]);
  state.sheet = sheet(f("main.runs[0].length", "3400 ft"), f("main.runs[0].size", "8 in"));
  assert.deepEqual(edits(blank("length"), "main.runs[0].length", ""), [{ path: "main.runs[0].length", value: null }]);
});

test("a link reads as it was written, and what is no link says nothing", () => {
  const link = { study: "a/b", rev: 3, valve: "flap/6in", event: "one-trips-high", t: 1.25, units: "SI" };
  assert.deepEqual(read(write(link)), link);
  assert.deepEqual(read("#valve=flap%2F6in&t=-3&rev=x&units=furlong&else=1"), { valve: "flap/6in" });
  assert.equal(write({ valve: "", t: undefined }), "");
});

test("a table is copied a row a line; no cell breaks it", () => {
  assert.equal(
    tsv([
      ["a", "b\tc"],
      ["d\ne", "f "],
    ]),
    "a\tb c\nd e\tf",
  );
});

test("standards and elastomers stand in capitals among the choices", () => {
  assert.equal(plain("asme_b16.1 class-125"), "ASME B16.1 class 125");
  assert.equal(plain("open_end"), "Open end");
});
