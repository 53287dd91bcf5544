// The pump stops of every valve: the quick answer runs those of one valve. As soon as nothing
// has been changed for a moment, this has the server run them all, so that the page says what
// the command line says; it shows how far it is, and can be stopped. From then on everything
// shown is read from that answer.
import { at, h, put, say, toast } from "./dom.js";
import { aborted, slowly, wording } from "./api.js";
import { on, state, take, tell } from "./state.js";

const IDLE_MS = 400;

/** @type {AbortController|null} */ let running = null;
let timer = 0;
/** The text for which it was stopped, or failed: for that it does not begin by itself again. */ let declined = "";

/** Whether some valve of the answer is still to be run. */
const partly = () => state.answer !== null && state.answer.runs !== "all" && state.answered === state.text;

/** Whether the answer is about to be another. */
export const coming = () => running !== null || (partly() && state.text !== declined);

/** @param {boolean} asked whether somebody has asked for it, and gets the reason why it cannot be */
async function run(asked) {
  const mine = (running = new AbortController());
  const text = state.text;
  const valve = state.valve;
  draw(0, 0);
  try {
    const answer = await slowly("answer", { full: "1" }, { text, valve: valve || undefined }, draw, mine.signal);
    if (mine.signal.aborted || text !== state.text) return;
    end();
    if (valve !== state.valve) return later(); // another valve is looked at meanwhile: the server has its answer ready
    take(answer, text);
    say(`The pump stops of every valve have been run. ${answer.verdict.sentence}`);
  } catch (e) {
    if (!aborted(e)) declined = text;
    if (asked && !aborted(e)) toast(wording(e));
  } finally {
    if (running === mine) end();
  }
}

/** Stops it for this text. */
function stop() {
  declined = state.text;
  end();
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
  if (running || state.busy || !partly() || state.text === declined) return;
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
    put(
      at("all-runs"),
      h("progress", { max: total || 1, value: done || 0, "aria-label": "Valves whose stops have been run" }),
      h("span", {}, total ? ` ${done} of ${total} valves ` : " beginning … "),
      h("button", { type: "button", onclick: stop }, "Stop"),
    );
    return;
  }
  put(
    at("all-runs"),
    a && a.runs !== "all"
      ? h(
          "button",
          {
            type: "button",
            onclick: () => run(true),
            title: "The pump stops of the shown valve have been run; this runs those of all, which takes some seconds",
          },
          "Run the pump stops of every valve",
        )
      : null,
  );
}

/** Begins to offer it. */
export function begin() {
  on("answer", () => draw());
  on("answer busy", later);
  on("text", end);
}
