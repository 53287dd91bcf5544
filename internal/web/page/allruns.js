// Every valve run through: the quick answer runs one valve and judges the others by closed
// formulas; this has the server run them all, tells how far it is, and can be stopped.
import { at, h, put, say, toast } from "./dom.js";
import { aborted, raw, wording } from "./api.js";
import { on, state, tell } from "./state.js";

/** @type {AbortController|null} */ let running = null;

/** The lines of an answer as they come. @param {Response} r */
async function* lines(r) {
  if (!r.body) return;
  const reader = r.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    rest += value || "";
    const all = rest.split("\n");
    rest = all.pop() || "";
    for (const l of all) if (l.trim()) yield JSON.parse(l);
    if (done) break;
  }
  if (rest.trim()) yield JSON.parse(rest);
}

async function run() {
  const mine = (running = new AbortController());
  const text = state.text;
  draw(0, 0);
  try {
    for await (const l of lines(await raw("answer?full=1", { text, valve: state.valve || undefined }, { signal: mine.signal }))) {
      if (mine.signal.aborted) return;
      if (l.error) throw new Error(l.error.text);
      if (l.total) draw(l.done, l.total);
      if (l.answer && text === state.text) {
        state.answer = l.answer;
        stop();
        tell("answer");
        say(`Every valve has been run through. ${l.answer.verdict.sentence}`);
      }
    }
  } catch (e) {
    if (!aborted(e)) toast(wording(e));
  } finally {
    if (running === mine) stop();
  }
}

function stop() {
  running?.abort();
  running = null;
  draw();
}

/** @param {number} [done] @param {number} [total] */
function draw(done, total) {
  const a = state.answer;
  if (running) {
    put(at("all-runs"), h("progress", { max: total || 1, value: done || 0, "aria-label": "Valves run through" }), h("span", {}, total ? ` ${done} of ${total} valves ` : " beginning … "), h("button", { type: "button", onclick: stop }, "Stop"));
    return;
  }
  put(at("all-runs"), a && a.runs !== "all" ? h("button", { type: "button", onclick: run, title: "The answer above runs the pump stop for the valve shown; this does it for all, which takes some seconds" }, "Run the pump stop with every valve") : null);
}

/** Begins to offer it. */
export function begin() {
  on("answer", () => draw());
  on("text", () => (running ? stop() : draw()));
}
