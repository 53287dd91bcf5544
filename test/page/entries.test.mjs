import assert from "node:assert/strict";
import { test } from "node:test";
import { adding, grouped } from "../../internal/web/page/entries.js";
import { label } from "../../internal/web/page/labels.js";

const f = (path, value = "", si = null) => ({ path, value, si, label: path, text: value });

test("a fact of the second entry of a list says so on the drawing", () => {
  assert.equal(label(f("main.runs[0].length")), "length");
  assert.equal(label(f("main.runs[1].length")), "length 2");
});

test("a run is parted in two halves of the same pipe; its fittings stay where they are", () => {
  const fields = [
    f("main.runs[0].size", "8 in"),
    f("main.runs[0].length", "3400 ft", 3400 * 0.3048),
    f("main.runs[0].fittings", "{45 elbow: 6}"),
    f("main.runs[0].wall", ""),
    f("main.profile", ""),
  ];
  assert.deepEqual(adding(grouped(fields, "main.runs"), "main.runs", true), [
    { path: "main.runs[0].length", value: "1700 ft" },
    { path: "main.runs[1].length", value: "1700 ft" },
    { path: "main.runs[1].size", value: "8 in" },
  ]);
  assert.equal(adding(grouped(fields, "main.runs"), "main.runs", false)[0].value, "518.16 m");
});

test("a group of pumps begins as one pump like the last", () => {
  const fields = [
    f("pumps[0].name", "A"),
    f("pumps[1].name", "B"),
    f("pumps[1].count", "3"),
    f("pumps[1].standby", "1"),
    f("pumps[1].curve", "[[0 gpm, 95 ft], [800 gpm, 38 ft]]"),
    f("pumps[1].speed", ""),
  ];
  assert.deepEqual(adding(grouped(fields, "pumps"), "pumps", true), [
    { path: "pumps[2].name", value: "B, more" },
    { path: "pumps[2].count", value: "1" },
    { path: "pumps[2].curve", value: "[[0 gpm, 95 ft], [800 gpm, 38 ft]]" },
  ]);
});

test("what is not written in the file cannot be added to", () => {
  assert.deepEqual(adding(grouped([f("pumps[0].name", "")], "pumps"), "pumps", true), []);
  assert.deepEqual(
    adding(
      grouped([f("main.runs[0].size", "8 in"), f("main.runs[0].length", "", 1000)], "main.runs"),
      "main.runs",
      true,
    ),
    [],
  );
  assert.deepEqual(adding([], "pumps", true), []);
});
