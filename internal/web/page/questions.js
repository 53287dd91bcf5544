// The questions of a class, made from the answer: what is asked, what the class may vote for, what
// is right. Every number and word of an answer is one that the rows have; nothing is written in
// advance. Nothing here touches the page.
import { upper } from "./dom.js";
import { best } from "./labels.js";

/** @typedef {import("./types.js").Row} Row */
/** @typedef {import("./types.js").Cure} Cure */
/** @typedef {import("./types.js").Finding} Finding */
/**
 * @typedef {object} Question
 * @property {string} q
 * @property {string[]} choices to vote for; empty where nothing is voted
 * @property {number[]} right which of them are right
 * @property {{what: string, unit: string, value: number}|null} guess a number to be guessed
 * @property {string} big the answer in large type
 * @property {string[]} says and what stands under it
 * @property {string} tone of the large type: a class of slam, or ""
 * @property {Finding|null} finding behind it
 * @property {("icon"|"threshold"|"film"|"cures")[]} shows
 * @property {string[]} list
 * @property {string} event that its film shows
 */

/** @param {Partial<Question> & {q: string}} some @returns {Question} */
const question = (some) => ({
  choices: [],
  right: [],
  guess: null,
  big: "",
  says: [],
  tone: "",
  finding: null,
  shows: [],
  list: [],
  event: "",
  ...some,
});

export const CLASSES = ["quiet", "audible", "harmful"];
const MOST_CHOICES = 6;

/** The valves among which the class chooses: one of each family, the shown one among them, by name. @param {Row[]} rows @param {Row} r */
function named(rows, r) {
  const others = rows.filter((x, i) => x.family !== r.family && rows.findIndex((y) => y.family === x.family) === i);
  return [r, ...others.slice(0, MOST_CHOICES - 2)].map((x) => x.title).sort();
}

/** A number at the beginning of a text, with its unit: "0.91 ft/s". @param {string} text */
export function numberIn(text) {
  const m = /^(-?[\d.,]+)\s*(\S+)/.exec(text);
  return m ? { value: Number(m[1].replace(/,/g, "")), unit: m[2] } : null;
}

/** @param {Row} r @param {Cure[]} cures @returns {Question[]} */
function slam(r, cures) {
  const q = "Will it slam when the pump stops?";
  const s = r.slam;
  if (!s) return [question({ q, big: r.pending ? "Its pump stops are still to be run." : `Not run: ${r.not_run}` })];
  const n = numberIn(s.median || s.text);
  return [
    question({
      q,
      choices: CLASSES,
      right: [CLASSES.indexOf(s.verdict_class)],
      guess: n && { what: "reverse velocity", ...n },
      big: upper(s.class_words),
      tone: s.verdict_class,
      says: r.why.slam // which has all of it
        ? []
        : [
            `Worst stop: ${s.event_title}.`,
            `Reverse velocity ${s.median ? `${s.median} median; best estimate ` : ""}${s.text}${s.likely ? `, likely ${s.likely}` : ""}.`,
          ],
      finding: r.why.slam,
      event: s.event,
      shows: s.threshold ? ["film", "threshold"] : ["film"],
    }),
    question({
      q: "Does the water column separate?",
      choices: ["no", "yes"],
      right: [r.column_separation ? 1 : 0],
      big: r.column_separation ? "Yes." : "No.",
      tone: r.column_separation ? "harmful" : "",
      says: r.column_separation ? [r.column_separation] : [],
      event: cures[0]?.separation_event || s.event,
      shows: ["film"],
    }),
  ];
}

/** What makes it better, where something is amiss. @param {Row} r @param {Cure[]} cures @returns {Question[]} */
function cure(r, cures) {
  const some = cures.slice(1).filter((c) => c.class);
  if (!r.slam || !some.length || (r.slam.verdict_class === "quiet" && !r.column_separation)) return [];
  const good = some.filter((c) => c.recommended);
  const shown = [...good, ...some.filter((c) => !c.recommended)].slice(0, MOST_CHOICES);
  const choices = some.filter((c) => shown.includes(c)).map((c) => c.name); // in the order of the chips
  return [
    question({
      q: "What would make it better?",
      choices,
      right: choices.flatMap((c, i) => (good.some((g) => g.name === c) ? [i] : [])),
      big: good.length
        ? upper(good.map((c) => c.name).join(", or "))
        : "None of these: surge control is for a licensed engineer to design.",
      shows: ["cures"],
    }),
  ];
}

/**
 * @param {import("./types.js").Answer} a @param {import("./types.js").Sheet} s @param {string} id of the valve looked at
 * @param {Cure[]} cures the station as it is first @param {(si: number, kind: "flow"|"head") => string} say
 * @returns {Question[]}
 */
export function questions(a, s, id, cures, say) {
  const r = a.rows.find((x) => x.id === id);
  const c = a.study.candidates.find((x) => x.id === id);
  if (!r || !c) return [];
  const op = a.study.operating_points.find((o) => o.pumps_running === 1) || a.study.operating_points[0];
  const against = a.rows.filter((x) => x.why_not && x.family !== r.family);
  const others = against.filter((x, i) => against.findIndex((y) => y.family === x.family) === i);
  const open = c.findings.filter((f) => f.severity === "open" || f.severity === "confirm");
  const pumps = s.drawing.pumps.reduce((k, p) => k + p.count, 0);
  const valves = named(a.rows, r);
  const first = r.rank === 1 && valves.length > 2;
  /** @type {(Question|null)[]} */
  const list = [
    question({
      q: "What has this station to do?",
      big: `Lift ${s.station.fluid || "water"} from ${say(s.drawing.wet_well.low_m, "head")} to ${say(s.drawing.outlet_m, "head")}.`,
      says: [
        `${pumps} ${pumps === 1 ? "pump" : "pumps"}; check valve: ${s.station.position}; ${s.assumed_count} facts are assumed.`,
      ],
    }),
    op
      ? question({
          q: "Where do pump and main meet?",
          guess: (() => {
            const n = numberIn(say(op.flow_m3_s, "flow"));
            return n && { what: "flow", ...n };
          })(),
          big: `${say(op.flow_m3_s, "flow")} at ${say(op.head_m, "head")}`,
          says: [
            `with ${op.pumps_running} ${op.pumps_running === 1 ? "pump" : "pumps"} running, ${op.level}; ${say(op.static_head_m, "head")} of it is static head.`,
          ],
        })
      : null,
    question({
      q: first ? "Which valve?" : "Which valve do we look at?",
      choices: first ? valves : [],
      right: first ? [valves.indexOf(r.title)] : [],
      big: `${r.title}, ${r.size}`,
      says: [
        first ? a.verdict.sentence : `${upper(r.verdict)}${r.why_not ? `: ${r.why_not}` : ""}.`.replace("..", "."),
      ],
      shows: ["icon"],
    }),
    r.velocity?.text && r.full_open?.text
      ? question({
          q: "Does the flow hold it full open?",
          choices: ["no", "yes"],
          right: [r.velocity.m_s < r.full_open.m_s ? 0 : 1],
          big: `${r.velocity.m_s < r.full_open.m_s ? "No" : "Yes"}: ${best(r.velocity.text)} through it; full-open velocity ${best(r.full_open.text)}`,
          finding: r.why.velocity,
        })
      : null,
    r.loss?.text
      ? question({
          q: "What does it cost to push the water through?",
          big: `${best(r.loss.text)}${r.cost?.text ? `, ${best(r.cost.text).replace(/ ?\/ ?yr$/, "")} per year` : ""}`,
          finding: r.why.loss,
        })
      : null,
    ...slam(r, cures),
    ...cure(r, cures),
    others.length
      ? question({ q: "Why not another one?", list: others.slice(0, 5).map((x) => `${x.title}: ${x.why_not}`) })
      : null,
    question({
      q: "What do we not know?",
      big: a.decisive_fact ? upper(a.decisive_fact) : "Nothing that would change the answer.",
      list: open.slice(0, 4).map((f) => f.text),
    }),
    a.cautions.length
      ? question({
          q: "Before anyone opens the cover: what can hurt them?",
          list: a.cautions.map((x) => x.text),
        })
      : null,
  ];
  return list.filter((x) => x !== null);
}

/** A vote of the class. @typedef {{votes: number[], guesses: number[]}} Poll */
/** @param {Question} q @returns {Poll} */
export const poll = (q) => ({ votes: q.choices.map(() => 0), guesses: [] });

/** One more hand for a choice, or one less; never below none. @param {Poll} p @param {number} i @param {1|-1} by */
export function vote(p, i, by) {
  if (i < p.votes.length) p.votes[i] = Math.max(0, p.votes[i] + by);
}

/** How the class did, in a sentence; "" where nobody voted. @param {Question} q @param {Poll} p */
export function outcome(q, p) {
  const all = p.votes.reduce((s, v) => s + v, 0);
  const right = q.right.reduce((s, i) => s + p.votes[i], 0);
  const g = q.guess;
  const near =
    g && p.guesses.length ? p.guesses.toSorted((x, y) => Math.abs(x - g.value) - Math.abs(y - g.value))[0] : null;
  return [
    all ? `${right} of ${all} ${all === 1 ? "hand was" : "hands were"} right.` : "",
    near !== null && g
      ? `The nearest of ${p.guesses.length} guesses of the ${g.what}: ${near} ${g.unit}; it is ${g.value} ${g.unit}.`
      : "",
  ]
    .filter(Boolean)
    .join(" ");
}
