// Class mode as a lesson: each question is predicted, voted on, played where there is a film, and
// explained, in large type, by keys. questions.js makes them from the answer.
import * as api from "./api.js";
import { at, css, h, put, say, upper } from "./dom.js";
import { beside, table } from "./cures.js";
import { mountPlayer } from "./player.js";
import { outcome, poll, questions, vote } from "./questions.js";
import { threshold } from "./rows.js";
import { unitsOf } from "./scales.js";
import { icon } from "./symbols.js";
import { inUnits } from "./units.js";
import { shownValve, state } from "./state.js";

/** @typedef {import("./questions.js").Question} Question */
/** @typedef {import("./types.js").Cure} Cure */
/** What is seen of a question: it alone, its film, its answer. @typedef {"ask"|"play"|"told"} Phase */

let n = 0;
/** @type {Phase} */ let phase = "ask";
/** @type {Question[]} */ let all = [];
/** @type {ReturnType<typeof poll>[]} */ let polls = [];
/** @type {Cure[]} */ let cures = [];
/** @type {ReturnType<typeof mountPlayer>|null} */ let film = null;
const stage = h("div", { class: "lesson-film" });

const KEYS =
  "← → question · ↓ ↑ on, back · 1 to 9 one more vote for that choice (Shift: one less) · Space plays · Esc ends";

const plays = (/** @type {Question} */ q) => q.shows.includes("film");
/** @param {Question} q @returns {Phase[]} */
const phases = (q) => (plays(q) ? ["ask", "play", "told"] : ["ask", "told"]);
const row = () => state.answer?.rows.find((x) => x.id === shownValve());

/** The choices, with the hands for each. @param {Question} q */
function ballot(q) {
  if (!q.choices.length && !q.guess) return null;
  const p = polls[n];
  const most = Math.max(1, ...p.votes);
  const told = phase === "told";
  const choices = q.choices.map((text, i) => {
    const bar = h("span", { class: "lesson-bar", "aria-hidden": "true" });
    css(bar, "width", `${(100 * p.votes[i]) / most}%`);
    const right = told && q.right.includes(i);
    return h(
      "button",
      {
        type: "button",
        class: right ? "lesson-choice right" : "lesson-choice",
        onclick: (/** @type {MouseEvent} */ e) => hand(i, e.shiftKey ? -1 : 1),
      },
      bar,
      h("span", { class: "lesson-key" }, String(i + 1)),
      h("span", {}, `${right ? "✓ " : ""}${upper(text)}`),
      h(
        "span",
        { class: "lesson-votes" },
        p.votes[i] ? [String(p.votes[i]), h("span", { class: "sr" }, p.votes[i] === 1 ? " hand" : " hands")] : "",
      ),
    );
  });
  return h("div", { class: "lesson-ballot", role: "group", "aria-label": "Hands" }, choices, q.guess ? guess(q) : null);
}

/** @param {Question} q */
function guess(q) {
  const p = polls[n];
  const field = h("input", { id: "lesson-guess", inputmode: "decimal", size: 6, autocomplete: "off" });
  return h(
    "form",
    {
      class: "lesson-guess",
      onsubmit: (/** @type {Event} */ e) => {
        e.preventDefault();
        const v = Number(field.value.replace(",", "."));
        if (field.value.trim() && Number.isFinite(v)) p.guesses.push(v);
        show();
        document.getElementById("lesson-guess")?.focus();
      },
    },
    h("label", { for: "lesson-guess" }, `or a number: ${q.guess?.what}, ${q.guess?.unit}`),
    field,
    h("button", { type: "submit" }, "Add"),
    h("span", { class: "soft" }, p.guesses.join(" · ")),
  );
}

/** @param {number} i @param {1|-1} by */
function hand(i, by) {
  vote(polls[n], i, by);
  show();
}

/** @param {Question} q */
function answer(q) {
  const r = row();
  const c = state.answer?.study.candidates.find((x) => x.id === r?.id);
  const did = outcome(q, polls[n]);
  return h(
    "div",
    { class: "lesson-answer", hidden: phase !== "told", tabindex: "-1" },
    did ? h("p", { class: "lesson-did" }, did) : null,
    q.shows.includes("icon") && r ? icon(r.figure, c?.opening ?? 0.6, 120) : null,
    q.big ? h("p", { class: `big ${q.tone}` }, q.big) : null,
    q.says.map((t) => h("p", {}, t)),
    q.shows.includes("threshold") && r?.slam?.threshold ? threshold(r.slam.threshold) : null,
    q.finding
      ? [h("p", {}, q.finding.text), q.finding.basis ? h("p", { class: "source" }, q.finding.basis) : null]
      : null,
    q.list.length
      ? h(
          "ul",
          { class: "large" },
          q.list.map((t) => h("li", {}, t)),
        )
      : null,
    q.shows.includes("cures") ? cured() : null,
  );
}

/** The cure shown: before and after, and in the film. */
function cured() {
  const c = cures.find((x, i) => i > 0 && x.recommended);
  if (!c) return null;
  return h(
    "div",
    { class: "lesson-cure" },
    h("p", {}, `${upper(c.valve ? `${c.name}, ${c.valve}` : c.what)}.`),
    table(beside(cures[0], c, unitsOf(state.sheet?.station.units))),
    h("button", { type: "button", onclick: () => showFilm(c) }, "Play it with this"),
    h("div", { class: "lesson-here" }),
  );
}

/** The film in the lesson: of the row's worst stop, or with a remedy in it. @param {Cure|null} c */
function showFilm(c) {
  const r = row();
  if (!r?.slam) return;
  (at("lesson").querySelector(".lesson-here") || at("lesson").querySelector(".lesson-body"))?.append(stage);
  if (!film)
    film = mountPlayer(stage, api, () => ({ text: state.text, sheet: state.sheet, answer: state.answer }), {
      brief: true,
    });
  film.show(r.id, (!c && all[n].event) || r.slam.event);
  if (c) film.cure(c);
}

function show() {
  const d = at("lesson");
  const q = all[n];
  const steps = phases(q);
  const next = steps[steps.indexOf(phase) + 1];
  const go1 = h(
    "button",
    { type: "button", class: "main", onclick: () => (next ? turn(next) : turn("ask")) },
    next === "play" ? "Play" : next === "told" ? "Show the answer" : "Hide the answer",
  );
  const filming = phase !== "ask" && plays(q);
  put(
    d,
    h(
      "div",
      { class: "lesson-top" },
      h("span", { class: "soft" }, `${state.sheet?.station.name || "Station"} · question ${n + 1} of ${all.length}`),
      h("span", { class: "soft lesson-help" }, KEYS),
      h("button", { type: "button", class: "close", "data-close": true, "aria-label": "Leave the class" }, "✕"),
    ),
    h(
      "div",
      { class: "lesson-body", tabindex: "0", role: "group", "aria-label": "Question" },
      h("h2", { class: phase === "ask" ? "" : "small" }, q.q),
      ballot(q),
      filming ? h("div", { class: "lesson-here" }, film ? stage : null) : null,
      answer(q),
    ),
    h(
      "div",
      { class: "lesson-keys" },
      h("button", { type: "button", disabled: n === 0, onclick: () => go(-1) }, "← Before"),
      go1,
      h("button", { type: "button", disabled: n === all.length - 1, onclick: () => go(1) }, "Next →"),
    ),
  );
  go1.focus({ preventScroll: true });
}

/** @param {Phase} to */
function turn(to) {
  const before = phase;
  phase = to;
  show();
  if (plays(all[n]) && before === "ask" && to !== "ask") showFilm(null);
  if (to === "told") {
    const a = at("lesson").querySelector(".lesson-answer");
    a?.scrollIntoView({ block: "nearest" });
    say(a?.textContent || "");
  }
}

/** @param {1|-1} way */
function along(way) {
  const steps = phases(all[n]);
  const to = steps[steps.indexOf(phase) + way];
  if (to) turn(to);
}

/** @param {number} d */
function go(d) {
  const to = n + d;
  if (to < 0 || to >= all.length) return;
  n = to;
  phase = "ask";
  show();
  say(all[n].q);
}

/** Makes the questions; the remedies come a moment later, and with them the question for them. */
function make() {
  const [a, s] = [state.answer, state.sheet];
  all = a && s ? questions(a, s, shownValve(), cures, inUnits) : [];
}

/** Opens the class. */
export async function lesson() {
  const [text, valve] = [state.text, shownValve()];
  cures = [];
  make();
  if (all.length === 0) return;
  polls = all.map(poll);
  n = 0;
  phase = "ask";
  const d = /** @type {HTMLDialogElement} */ (at("lesson"));
  d.showModal();
  show();
  try {
    const r = await api.post("remedies", { text, valve });
    if (text !== state.text || valve !== shownValve() || !d.open) return;
    cures = r.remedies;
    const [had, was] = [all, polls];
    make();
    polls = all.map((q) => was[had.findIndex((x) => x.q === q.q)] || poll(q));
    n = Math.max(
      0,
      all.findIndex((q) => q.q === had[n].q),
    );
    d.querySelector(".lesson-top .soft")?.replaceChildren(
      `${state.sheet?.station.name || "Station"} · question ${n + 1} of ${all.length}`,
    );
  } catch {
    // Without the remedies the lesson has one question less.
  }
}

/** The keys of who presents. */
export function begin() {
  const d = at("lesson");
  d.addEventListener("close", () => {
    film?.stop();
    film = null;
  });
  d.addEventListener(
    "keydown",
    (e) => {
      if (e.target instanceof Element && e.target.closest("input, select")) return;
      const digit = /^Digit([1-9])$/.exec(e.code);
      if (digit && !e.ctrlKey && !e.metaKey && !e.altKey) hand(Number(digit[1]) - 1, e.shiftKey ? -1 : 1);
      else if (e.key === "ArrowRight" || e.key === "PageDown") go(1);
      else if (e.key === "ArrowLeft" || e.key === "PageUp") go(-1);
      else if (e.key === "ArrowDown") along(1);
      else if (e.key === "ArrowUp") along(-1);
      else if (e.key === " " && film && phase !== "ask") film.play();
      else return;
      e.preventDefault();
      e.stopPropagation();
    },
    true,
  );
}
