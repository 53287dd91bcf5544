// What the page holds: the station file's text, what the server made of it, and the
// way back. Everything shown follows from the text; the text is kept on every edit.
import { post, Refused, wording, aborted } from "./api.js";

/** @typedef {{id: string, name: string, revision: number, text: string}} Base */

const KEY = "seatward.work";
const MOST_STEPS = 200;

export const state = {
  text: "",
  /** the file as it is being read; when it has an error, the last good sheet stays */
  /** @type {import("./types.js").Sheet|null} */ sheet: null,
  /** @type {import("./types.js").Answer|null} */ answer: null,
  /** the text that the answer is for */ answered: "",
  /** @type {string} the valve chosen by the reader; "" for the first-ranked */ valve: "",
  /** @type {Base|null} the kept study that this text came from */ base: null,
  /** @type {string} */ error: "",
  /** @type {import("./types.js").Message[]} */ messages: [],
  busy: false,
};

/** @type {string[]} */ let past = [];
/** @type {string[]} */ let future = [];

/** @type {Map<string, Set<() => void>>} */
const listeners = new Map();

/** Calls f whenever one of these changes: "text", "sheet", "answer", "valve", "base", "busy". @param {string} names @param {() => void} f */
export function on(names, f) {
  for (const n of names.split(" ")) {
    if (!listeners.has(n)) listeners.set(n, new Set());
    listeners.get(n)?.add(f);
  }
}

/** @param {string} name */
export function tell(name) {
  for (const f of listeners.get(name) || []) f();
}

export const canUndo = () => past.length > 0;
export const canRedo = () => future.length > 0;
export const unsaved = () => state.text !== "" && (!state.base || state.base.text !== state.text);

/** Keeps the work in this browser, so that a crash or reload loses nothing. */
export function keep() {
  try {
    localStorage.setItem(
      KEY,
      JSON.stringify({ text: state.text, valve: state.valve, base: state.base, past: past.slice(-20) }),
    );
  } catch {
    // A full or barred store must not stop the work; the studies of the server stay.
  }
}

/** What was kept; null when nothing was. @returns {{text: string, valve: string, base: Base|null, past: string[]}|null} */
export function kept() {
  try {
    const w = JSON.parse(localStorage.getItem(KEY) || "null");
    return w && typeof w.text === "string" && w.text ? w : null;
  } catch {
    return null;
  }
}

/** Takes up kept work where it stood. @param {{text: string, valve: string, base: Base|null, past: string[]}} w */
export function resume(w) {
  past = w.past || [];
  future = [];
  state.valve = w.valve || "";
  state.base = w.base || null;
  state.text = w.text;
  tell("base");
  tell("text");
  return refresh();
}

/** Puts another station on the sheet. @param {string} text @param {Base|null} base @param {string} [valve] */
export function open(text, base, valve = "") {
  if (state.text && state.text !== text) past.push(state.text);
  future = [];
  Object.assign(state, { text, base, valve, sheet: null, answer: null });
  keep();
  tell("base");
  tell("text");
  return refresh();
}

/**
 * A step of the work, which undo takes back.
 * @param {string} text @param {import("./types.js").Sheet} [sheet] when the server has just read the text
 */
export function step(text, sheet) {
  if (text === state.text) return Promise.resolve();
  past.push(state.text);
  if (past.length > MOST_STEPS) past.shift();
  future = [];
  state.text = text;
  keep();
  tell("text");
  return refresh(sheet);
}

/** @param {string[]} from @param {string[]} to */
function move(from, to) {
  const text = from.pop();
  if (text === undefined) return;
  to.push(state.text);
  state.text = text;
  keep();
  tell("text");
  refresh();
}
export const undo = () => move(past, future);
export const redo = () => move(future, past);

/** @type {AbortController|null} */ let running = null;

/** How long the page waits for the pump stops of the shown valve before it asks for the rows without slam, ms. */
const PATIENCE = 350;

/**
 * As a rule the pump stops of the shown valve are run so soon that one answer is enough.
 * From a server that is busy the rows without slam are asked for meanwhile, and shown: it
 * has them ready, for they are the beginning of the answer.
 * @param {{text: string, valve: string|undefined}} ask @param {AbortSignal} signal
 */
async function answer(ask, signal) {
  let waiting = true;
  const meanwhile = () =>
    post("rows", ask, { signal }).then(
      (r) => waiting && !signal.aborted && take(r, ask.text),
      () => {},
    ); // what is wrong, the answer tells too
  const timer = setTimeout(meanwhile, PATIENCE);
  try {
    const whole = await post("answer", ask, { signal });
    waiting = false;
    take(whole, ask.text);
  } catch (e) {
    clearTimeout(timer);
    if (!aborted(e)) await meanwhile();
    throw e;
  } finally {
    waiting = false;
    clearTimeout(timer);
  }
}

/**
 * An answer is shown: but not one that knows less of the same than the one that is.
 * @param {import("./types.js").Answer} a @param {string} text that it is for
 */
export function take(a, text) {
  if (
    state.answered === text &&
    state.answer?.runs === "all" &&
    a.runs !== "all" &&
    state.answer.shown.candidate.id === a.shown.candidate.id
  )
    return;
  state.answer = a;
  state.answered = text;
  if (state.valve && !a.rows.some((r) => r.id === state.valve)) state.valve = "";
  tell("answer");
}

/** Has the server read the text and answer it. @param {import("./types.js").Sheet} [sheet] */
export async function refresh(sheet) {
  running?.abort();
  const mine = (running = new AbortController());
  state.busy = true;
  tell("busy");
  try {
    const ask = { text: state.text, valve: state.valve || undefined };
    state.sheet = sheet || (await post("sheet", { text: ask.text }, { signal: mine.signal }));
    state.error = "";
    state.messages = [];
    const coming = answer(ask, mine.signal); // asked for before the sheet is drawn, which takes its time
    coming.catch(() => {}); // awaited below
    tell("sheet");
    await coming;
  } catch (e) {
    if (aborted(e)) return;
    state.error = wording(e);
    state.messages = e instanceof Refused ? e.messages : [];
    tell("error");
  } finally {
    if (running === mine) {
      state.busy = false;
      tell("busy");
    }
  }
}

/** The valve that is looked at: the chosen one, or the first-ranked. @returns {string} */
export const shownValve = () => state.valve || state.answer?.shown.candidate.id || state.answer?.rows[0]?.id || "";

/** @param {string} id */
export function choose(id) {
  if (id === shownValve()) return;
  state.valve = id;
  keep();
  tell("valve");
  refresh(state.sheet || undefined);
}

/**
 * Changes facts of the station file. What the server refuses is thrown, and the text stays.
 * @param {{path: string, value: string|null}[]} edits
 */
export async function edit(edits) {
  const r = await post("edit", { text: state.text, edits });
  void step(r.text, r.sheet); // the answer takes its time, and tells its faults itself
}

/** @param {Base|null} base */
export function setBase(base) {
  state.base = base;
  keep();
  tell("base");
}
