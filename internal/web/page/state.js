// What the page holds: the station file's text, what the server made of it, and the
// way back. Everything shown follows from the text; the text is kept on every edit.
import { post, Refused, wording, aborted } from "./api.js";

/** @typedef {{id: string, name: string, revision: number, text: string}} Base */

/** @typedef {{text: string, valve: string, base: Base|null, example: string, past: string[]}} Work */

const KEY = "seatward.work"; // of this tab
const LAST = "seatward.last"; // of all tabs, newest first: what a tab that is gone can be taken up from
const MOST_LAST = 4;
const MOST_STEPS = 200;

export const state = {
  text: "",
  /** the file as it is being read; when it has an error, the last good sheet stays */
  /** @type {import("./types.js").Sheet|null} */ sheet: null,
  /** @type {import("./types.js").Answer|null} */ answer: null,
  /** the text that the answer is for */ answered: "",
  /** @type {string} the valve chosen by the reader; "" for the first-ranked */ valve: "",
  /** @type {Base|null} the kept study that this text came from */ base: null,
  /** the example that this text came from; "" for none */ example: "",
  /** how often another station was put on the sheet, so that each has its place in the history */ openings: 0,
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

/** What a key holds. @param {Storage} store @param {string} key @returns {any} */
function held(store, key) {
  try {
    return JSON.parse(store.getItem(key) || "null");
  } catch {
    return null;
  }
}

/** The name of this tab among those of the browser. */
const tab = (() => {
  try {
    const had = sessionStorage.getItem("seatward.tab");
    const id = had || crypto.randomUUID?.() || String(Math.random());
    sessionStorage.setItem("seatward.tab", id);
    return id;
  } catch {
    return "";
  }
})();

/** Keeps the work: for this tab alone, and so that another can take it up after a crash. */
export function keep() {
  const work = {
    text: state.text,
    valve: state.valve,
    base: state.base,
    example: state.example,
    past: past.slice(-20),
  };
  try {
    sessionStorage.setItem(KEY, JSON.stringify(work));
    if (!past.length || (state.base && !unsaved())) return; // an example as it is, or saved as it stands: nothing is lost
    const name = /^station: *(.+?) *$/m.exec(state.text)?.[1] || "Unnamed station";
    const others = last().filter((l) => l.tab !== tab);
    localStorage.setItem(LAST, JSON.stringify([{ tab, name, when: Date.now(), work }, ...others].slice(0, MOST_LAST)));
  } catch {
    // A full or barred store must not stop the work; the studies of the server stay.
  }
}

/** What this tab had; null when nothing. @returns {Work|null} */
export function kept() {
  const w = held(sessionStorage, KEY);
  return w && typeof w.text === "string" && w.text ? w : null;
}

/** What was worked at last in any tab. @returns {{tab: string, name: string, when: number, work: Work}[]} */
export function last() {
  const all = held(localStorage, LAST);
  return Array.isArray(all) ? all.filter((l) => typeof l?.work?.text === "string" && l.work.text) : [];
}

/** Takes up kept work where it stood. @param {Work} w */
export function resume(w) {
  past = w.past || [];
  future = [];
  state.valve = w.valve || "";
  state.base = w.base || null;
  state.example = w.example || "";
  state.text = w.text;
  state.openings++;
  keep();
  tell("base");
  tell("text");
  return refresh();
}

/**
 * Puts another station on the sheet.
 * @param {string} text @param {Base|null} base @param {string} [valve] @param {{example?: string, sheet?: import("./types.js").Sheet}} [how]
 */
export function open(text, base, valve = "", how = {}) {
  if (state.text !== text && (state.text || how.sheet)) past.push(state.text);
  future = [];
  state.openings++;
  Object.assign(state, { text, base, valve, example: how.example || "", sheet: null, answer: null });
  keep();
  tell("base");
  tell("text");
  return refresh(how.sheet);
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
  if (!text) Object.assign(state, { sheet: null, answer: null, base: null, example: "" });
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

/** Nothing stands on the sheet: there is nothing to ask. */
function nothing() {
  Object.assign(state, { sheet: null, answer: null, answered: "", error: "", messages: [], busy: false });
  for (const n of ["sheet", "answer", "error", "busy"]) tell(n);
}

/** Has the server read the text and answer it. @param {import("./types.js").Sheet} [sheet] */
export async function refresh(sheet) {
  running?.abort();
  if (!state.text) return nothing();
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
  if (id === shownValve() && id === state.valve) return;
  state.valve = id;
  keep();
  tell("valve");
  refresh(state.sheet || undefined);
}

/** The last edit that was asked for. @type {Promise<unknown>} */ let editing = Promise.resolve();

/**
 * Changes facts of the station file. What the server refuses is thrown, and the text stays. An
 * edit waits for the one before it, so that both are in the text.
 * @param {{path: string, value: string|null}[]} edits
 */
export function edit(edits) {
  const mine = editing.then(() => change(edits));
  editing = mine.catch(() => {}); // whoever asked for it hears of it
  return mine;
}

/** @param {{path: string, value: string|null}[]} edits */
async function change(edits) {
  if (!state.text) return begin(edits);
  const r = await post("edit", { text: state.text, edits });
  void step(r.text, r.sheet); // the answer takes its time, and tells its faults itself
}

/** The system of units of a station that begins here. */
export const units = { now: /^en-US$|^en$|^$/.test(globalThis.navigator?.language || "") ? "US" : "SI" };

/** Begins a station of its first facts. @param {{path: string, value: string|null}[]} edits */
async function begin(edits) {
  const r = await post("edit", { text: `station: Unnamed station\nunits: ${units.now}\n`, edits });
  void open(r.text, null, "", { sheet: r.sheet });
}

/** @param {Base|null} base */
export function setBase(base) {
  state.base = base;
  keep();
  tell("base");
}
