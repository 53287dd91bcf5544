import assert from "node:assert/strict";
import { test } from "node:test";
import { CLASSES, numberIn, outcome, poll, questions, vote } from "../../internal/web/page/questions.js";

const finding = { id: "x", severity: "pass", text: "It holds.", basis: "from memory" };
const row = (id, over = {}) => ({
  id: `${id}/6in`,
  family: id,
  title: `Check ${id}`,
  size: "6 in",
  variant: "",
  verdict: "suitable",
  rank: 1,
  why_not: "",
  pending: false,
  not_run: "",
  column_separation: "",
  velocity: { m_s: 1.4, text: "4.59 ft/s (4 to 5)" },
  full_open: { m_s: 1.2, text: "3.94 ft/s" },
  loss: { m: 0.2, text: "0.66 ft" },
  cost: { text: "92", value: 92 },
  slam: {
    event: "one-trips-low",
    event_title: "one of two pumps trips",
    verdict_class: "harmful",
    class_words: "harmful 52%",
    text: "0.91 ft/s",
    likely: "0.18 to 1.81 ft/s",
    median: "",
    stopped: null,
    threshold: null,
  },
  why: { velocity: finding, loss: finding, slam: { ...finding, mend: "a valve that closes faster" } },
  ...over,
});
const answer = (rows) => ({
  rows,
  study: {
    operating_points: [{ pumps_running: 1, flow_m3_s: 0.03, head_m: 20, level: "wet well low", static_head_m: 13 }],
    candidates: rows.map((r) => ({ id: r.id, findings: [finding, { ...finding, severity: "open", text: "Grit." }] })),
  },
  verdict: { sentence: "Check a, 6 in." },
  decisive_fact: "inertia",
  cautions: [{ id: "c", text: "Lock it out." }],
});
const sheet = {
  station: { fluid: "raw sewage", position: "flow up", name: "Small" },
  drawing: { wet_well: { low_m: 1 }, outlet_m: 14, pumps: [{ count: 2 }] },
  assumed_count: 27,
};
const say = (v, kind) => `${v} ${kind === "flow" ? "m³/s" : "m"}`;
const cure = (name, over = {}) => ({ name, what: name, class: "quiet", recommended: false, ...over });
const cures = [
  cure("as it is", { separation_event: "power-failure-low" }),
  cure("flywheel", { recommended: true }),
  cure("air vessel"),
  cure("gone", { class: "" }),
];

test("what is right is what the row says, for every class and either column", () => {
  for (const kind of CLASSES)
    for (const gone of ["", "Column separation (power failure)."]) {
      const r = row("a", { column_separation: gone });
      r.slam.verdict_class = kind;
      r.slam.class_words = `${kind} 60%`;
      const all = questions(answer([r, row("b"), row("c")]), sheet, r.id, cures, say);
      const slam = all.find((q) => q.q.startsWith("Will it slam"));
      assert.deepEqual(
        slam.right.map((i) => slam.choices[i]),
        [kind],
      );
      assert.ok(slam.big.toLowerCase().startsWith(kind), "the large type says the class of the verdict");
      assert.equal(slam.tone, kind);
      assert.deepEqual(slam.guess, { what: "reverse velocity", value: 0.91, unit: "ft/s" });
      const column = all.find((q) => q.q.includes("column"));
      assert.equal(column.choices[column.right[0]], gone ? "yes" : "no");
      assert.deepEqual([slam.event, column.event], ["one-trips-low", "power-failure-low"]);
      assert.equal(column.big, gone ? "Yes." : "No.");
      const better = all.find((q) => q.q.startsWith("What would"));
      assert.equal(!!better, kind !== "quiet" || gone !== "", "nothing is cured that is in order");
      if (better)
        assert.deepEqual(
          better.right.map((i) => better.choices[i]),
          ["flywheel"],
        );
      assert.ok(!better?.choices.includes("gone"), "what was not run is not voted on");
    }
});

test("the valve is asked for only where it ranks first, and the size by the row's own numbers", () => {
  const rows = [row("b", { rank: 2, velocity: { m_s: 1, text: "3.28 ft/s" } }), row("a"), row("c"), row("d")];
  const of = (id) => questions(answer(rows), sheet, id, [], say);
  const first = of("a/6in").find((q) => q.q === "Which valve?");
  assert.equal(first.choices[first.right[0]], "Check a");
  assert.deepEqual(first.choices, first.choices.toSorted());
  assert.ok(of("b/6in").some((q) => q.q === "Which valve do we look at?" && !q.choices.length));
  const open = (id) => of(id).find((q) => q.q.startsWith("Does the flow"));
  assert.deepEqual([open("a/6in").right, open("b/6in").right], [[1], [0]]);
  assert.match(open("b/6in").big, /^No: 3\.28 ft\/s through it; full-open velocity 3\.94 ft\/s$/);
});

test("a valve whose stops are not run has no class to vote for", () => {
  const r = row("a", { slam: null, pending: true });
  const q = questions(answer([r]), sheet, r.id, cures, say).find((x) => x.q.startsWith("Will it slam"));
  assert.deepEqual([q.choices, q.guess, q.big], [[], null, "Its pump stops are still to be run."]);
  assert.deepEqual(questions(answer([r]), sheet, "none", [], say), []);
});

test("hands are counted, taken back, and held against what is right", () => {
  const r = row("a");
  const q = questions(answer([r, row("b"), row("c")]), sheet, r.id, [], say).find((x) =>
    x.q.startsWith("Will it slam"),
  );
  const p = poll(q);
  assert.equal(outcome(q, p), "");
  vote(p, 2, 1);
  vote(p, 2, 1);
  vote(p, 0, 1);
  vote(p, 1, -1);
  vote(p, 9, 1);
  assert.deepEqual(p.votes, [1, 0, 2]);
  p.guesses.push(3, 0.8);
  assert.equal(
    outcome(q, p),
    "2 of 3 hands were right. The nearest of 2 guesses of the reverse velocity: 0.8 ft/s; it is 0.91 ft/s.",
  );
  assert.equal(numberIn("not known"), null);
  assert.deepEqual(numberIn("1,046 ft"), { value: 1046, unit: "ft" });
});
