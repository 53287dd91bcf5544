// Every valve run through: the quick answer runs one valve and judges the others by closed
// formulas. As soon as nothing has been changed for a moment, this has the server run them
// all, so that the page says what the command line says; it tells how far it is, and can be
// stopped.
import { at, h, put, say, toast } from "./dom.js";
import { aborted, slowly, wording } from "./api.js";
import { on, state, tell } from "./state.js";

const IDLE_MS = 400;

/** @type {AbortController|null} */ let running = null;
let timer = 0;
/** The text for which it was stopped, or failed: for that it does not begin by itself again. */ let declined = "";

/** Whether the answer is about to be another. */
export const coming = () => running !== null || (state.answer?.runs === "shown" && state.text !== declined);

/** @param {boolean} asked whether somebody has asked for it, and is told why it cannot be */
async function run(asked) {
  const mine = (running = new AbortController());
  const text = state.text;
  declined = text;
  draw(0, 0);
  try {
    const answer = await slowly("answer?full=1", { text, valve: state.valve || undefined }, draw, mine.signal);
    if (mine.signal.aborted || text !== state.text) return;
    state.answer = answer;
    end();
    tell("answer");
    say(`Every valve has been run through. ${answer.verdict.sentence}`);
  } catch (e) {
    if (asked && !aborted(e)) toast(wording(e));
  } finally {
    if (running === mine) end();
  }
}

/** Ends what runs, or is about to. */
function end() {
  clearTimeout(timer);
  timer = 0;
  running?.abort();
  running = null;
  draw();
  tell("runs");
}

/** Begins by itself when the answer has stood for a moment. */
function later() {
  clearTimeout(timer);
  timer = 0;
  if (running || state.busy || state.answer?.runs !== "shown" || state.text === declined) return;
  timer = window.setTimeout(() => {
    timer = 0;
    run(false);
  }, IDLE_MS);
}

/** @param {number} [done] @param {number} [total] */
function draw(done, total) {
  at("all-runs").toggleAttribute("data-coming", coming());
  const a = state.answer;
  if (running) {
    put(at("all-runs"), h("progress", { max: total || 1, value: done || 0, "aria-label": "Valves run through" }), h("span", {}, total ? ` ${done} of ${total} valves ` : " beginning … "), h("button", { type: "button", onclick: end }, "Stop"));
    return;
  }
  put(at("all-runs"), a && a.runs !== "all" ? h("button", { type: "button", onclick: () => run(true), title: "The answer above runs the pump stop for the valve shown; this does it for all, which takes some seconds" }, "Run the pump stop with every valve") : null);
}

/** Begins to offer it. */
export function begin() {
  on("answer", () => draw());
  on("answer busy", later);
  on("text", end);
}
