// Class mode: the answer as questions, one at a time in large type, each hidden
// until it is asked. All of it is made from the answer; nothing is written in advance.
import { at, h, put, say, upper } from "./dom.js";
import { best } from "./labels.js";
import { threshold } from "./rows.js";
import { icon } from "./symbols.js";
import { inUnits } from "./units.js";
import { shownValve, state } from "./state.js";

/** @typedef {{q: string, a: (Node|string)[]}} Question */
/** @typedef {import("./types.js").Finding} Finding */

let n = 0;
let told = false;
/** @type {Question[]} */ let all = [];

/** @param {string} s */
const big = (s) => h("p", { class: "big" }, s);
/** @param {Finding|null} f */
const why = (f) => (f ? [h("p", {}, f.text), f.basis ? h("p", { class: "source" }, f.basis) : ""] : []);

/** What the answer gives to ask. @returns {Question[]} */
function questions() {
  const a = state.answer;
  const s = state.sheet;
  const r = a?.rows.find((x) => x.id === shownValve());
  const c = a?.study.candidates.find((x) => x.id === shownValve());
  if (!a || !s || !r || !c) return [];
  const slam = r.why.slam;
  const op = a.study.operating_points.find((o) => o.pumps_running === 1) || a.study.operating_points[0];
  const against = a.rows.filter((x) => x.why_not && x.family !== r.family);
  const others = against.filter((x, i) => against.findIndex((y) => y.family === x.family) === i);
  const open = [...c.findings].filter((f) => f.severity === "open" || f.severity === "confirm");
  /** @type {(Question|null)[]} */
  const list = [
    {
      q: "What has this station to do?",
      a: [
        big(
          `Lift ${s.station.fluid || "water"} from ${inUnits(s.drawing.wet_well.low_m, "head")} to ${inUnits(s.drawing.outlet_m, "head")}.`,
        ),
        h(
          "p",
          {},
          `${s.drawing.pumps.reduce((k, p) => k + p.count, 0)} pumps; the check valve stands ${s.station.position}; ${s.assumed_count} facts are assumed.`,
        ),
      ],
    },
    op
      ? {
          q: "Where do pump and main meet?",
          a: [
            big(`${inUnits(op.flow_m3_s, "flow")} at ${inUnits(op.head_m, "head")}`),
            h(
              "p",
              {},
              `with ${op.pumps_running} ${op.pumps_running === 1 ? "pump" : "pumps"} running, ${op.level}; ${inUnits(op.static_head_m, "head")} of it is lift.`,
            ),
          ],
        }
      : null,
    {
      q: "Which valve?",
      a: [icon(r.figure, c.opening ?? 0.6, 150), big(`${r.title}, ${r.size}`), h("p", {}, a.verdict.sentence)],
    },
    r.velocity?.text && r.full_open?.text
      ? {
          q: "Is it the right size? Does the flow hold it open?",
          a: [
            big(`${best(r.velocity.text)} through it; full-open velocity ${best(r.full_open.text)}`),
            ...why(r.why.velocity),
          ],
        }
      : null,
    r.loss?.text
      ? {
          q: "What does it cost to push the water through?",
          a: [
            big(
              `${best(r.loss.text)}${r.cost?.text ? `, ${best(r.cost.text).replace(/ ?\/ ?yr$/, "")} per year` : ""}`,
            ),
            ...why(r.why.loss),
          ],
        }
      : null,
    r.slam
      ? {
          q: "Will it slam when the pump stops?",
          a: [
            big(upper(r.slam.class_words)),
            h(
              "p",
              {},
              `Reverse velocity ${r.slam.median ? `${r.slam.median} median; best estimate ` : ""}${r.slam.text}${r.slam.likely ? `, likely ${r.slam.likely}` : ""}.${r.slam.stopped ? ` Its cushion makes of it a sudden stop of ${r.slam.stopped.text}.` : ""}`,
            ),
            r.slam.threshold ? threshold(r.slam.threshold) : "",
            ...why(slam),
            slam?.mend ? h("p", { class: "mend" }, upper(slam.mend)) : "",
          ],
        }
      : {
          q: "Will it slam when the pump stops?",
          a: [big(r.pending ? "Its pump stops are still to be run." : `Not run: ${r.not_run}`)],
        },
    r.column_separation
      ? { q: "Does the water column separate?", a: [big("Yes."), h("p", {}, r.column_separation)] }
      : null,
    others.length
      ? {
          q: "Why not another one?",
          a: [
            h(
              "ul",
              { class: "large" },
              ...others.slice(0, 5).map((x) => h("li", {}, h("strong", {}, x.title), ": ", x.why_not)),
            ),
          ],
        }
      : null,
    {
      q: "What do we not know?",
      a: [
        a.decisive_fact ? big(upper(a.decisive_fact)) : big("Nothing that would change the answer."),
        open.length ? h("ul", { class: "large" }, ...open.slice(0, 4).map((f) => h("li", {}, f.text))) : "",
      ],
    },
    a.cautions.length
      ? {
          q: "Before anyone opens the cover: what can hurt them?",
          a: [h("ul", { class: "large" }, ...a.cautions.map((x) => h("li", {}, x.text)))],
        }
      : null,
  ];
  return list.filter((x) => x !== null);
}

function show() {
  const d = at("lesson");
  const one = all[n];
  const shown = h("div", { class: "lesson-answer", hidden: !told, tabindex: "-1" }, ...one.a);
  const ask = h(
    "button",
    { type: "button", class: "main", "aria-expanded": String(told), onclick: () => tell() },
    told ? "Hide the answer" : "Show the answer",
  );
  put(
    d,
    h(
      "div",
      { class: "lesson-top" },
      h("span", { class: "soft" }, `${state.sheet?.station.name || "Station"} · question ${n + 1} of ${all.length}`),
      h("button", { type: "button", class: "close", "data-close": true, "aria-label": "Leave the class" }, "✕"),
    ),
    h("div", { class: "lesson-body" }, h("h2", {}, one.q), shown),
    h(
      "div",
      { class: "lesson-keys" },
      h("button", { type: "button", disabled: n === 0, onclick: () => go(-1) }, "← Before"),
      ask,
      h("button", { type: "button", disabled: n === all.length - 1, onclick: () => go(1) }, "Next →"),
    ),
  );
  ask.focus();
}

function tell() {
  told = !told;
  show();
  if (told) say(at("lesson").querySelector(".lesson-answer")?.textContent || "");
}

/** @param {number} d */
function go(d) {
  const to = n + d;
  if (to < 0 || to >= all.length) return;
  n = to;
  told = false;
  show();
  say(all[n].q);
}

/** Opens the class. */
export function lesson() {
  all = questions();
  if (all.length === 0) return;
  n = 0;
  told = false;
  /** @type {HTMLDialogElement} */ (at("lesson")).showModal();
  show();
}

/** Left and right go from question to question; up and down show and hide. */
export function begin() {
  at("lesson").addEventListener("keydown", (e) => {
    if (e.key === "ArrowRight" || e.key === "PageDown") go(1);
    else if (e.key === "ArrowLeft" || e.key === "PageUp") go(-1);
    else if (e.key === "ArrowDown" && !told) tell();
    else if (e.key === "ArrowUp" && told) tell();
    else return;
    e.preventDefault();
  });
}
