// The one place that talks to the server.

/** What the server says is wrong, with all its messages. */
export class Refused extends Error {
  /** @param {number} status @param {any} body */
  constructor(status, body) {
    const e = (body && body.error) || {};
    super(e.text || `the server answered ${status}`);
    this.status = status;
    this.body = body;
    /** @type {string} */
    this.mend = e.mend || "";
    /** @type {import("./types.js").Message[]} */
    this.messages = e.messages || [];
  }

  /** The message in one line, with its mend. @returns {string} */
  get line() {
    const m = this.messages[0];
    if (!m) return this.mend ? `${this.message}: ${this.mend}` : this.message;
    const parts = [m.text || this.message];
    if (m.found && !parts[0].includes(m.found)) parts.push(`found ${m.found}`);
    if (m.expected) parts.push(`expected ${m.expected}`);
    return parts.join("; ") + (m.mend ? `. To mend it: ${m.mend}` : "");
  }
}

/** @param {unknown} e @returns {string} */
export function wording(e) {
  if (e instanceof Refused) return e.line;
  if (e instanceof TypeError) return "The server does not answer. Is seatward serve still running? Nothing is lost: your text is kept in this browser.";
  return e instanceof Error ? e.message : String(e);
}

/** @param {unknown} e */
export const aborted = (e) => e instanceof DOMException && e.name === "AbortError";

/** @param {string} path @param {RequestInit} [init] @returns {Promise<Response>} */
async function ask(path, init) {
  const r = await fetch("/api/" + path, init);
  if (r.ok) return r;
  let body = null;
  try {
    body = await r.json();
  } catch {
    // a body that is no JSON: the status must do
  }
  throw new Refused(r.status, body);
}

/** @param {string} path @returns {Promise<any>} */
export const get = async (path) => (await ask(path)).json();

/** @param {string} path @param {any} body @param {{signal?: AbortSignal, method?: string}} [how] @returns {Promise<Response>} */
export const raw = (path, body, how = {}) =>
  ask(path, { method: how.method || "POST", headers: { "Content-Type": "application/json" }, body: JSON.stringify(body), signal: how.signal });

/** @param {string} path @param {any} body @param {{signal?: AbortSignal, method?: string}} [how] @returns {Promise<any>} */
export async function post(path, body, how) {
  const r = await raw(path, body, how);
  const text = await r.text();
  return text ? JSON.parse(text) : null;
}

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

/**
 * Asks for what takes long, and tells how far it has come.
 * @param {string} path @param {any} body @param {(done: number, total: number) => void} told @param {AbortSignal} signal @returns {Promise<any>}
 */
export async function slowly(path, body, told, signal) {
  for await (const l of lines(await raw(path, body, { signal }))) {
    if (l.error) throw new Refused(200, l);
    if (l.total) told(l.done, l.total);
    if (l.answer) return l.answer;
  }
  throw new Error("The server broke off. Ask again.");
}

/**
 * Runs one request at a time; of those asked for meanwhile only the newest follows.
 * @template A, R
 * @param {(arg: A) => Promise<R>} run @param {(result: R, arg: A) => void} done @param {(e: unknown) => void} failed
 * @returns {(arg: A) => void}
 */
export function newestWins(run, done, failed) {
  let busy = false;
  /** @type {{arg: A}|null} */
  let next = null;
  /** @param {A} arg */
  async function go(arg) {
    if (busy) {
      next = { arg };
      return;
    }
    busy = true;
    try {
      const r = await run(arg);
      if (!next) done(r, arg);
    } catch (e) {
      if (!next) failed(e);
    } finally {
      busy = false;
      if (next) {
        const { arg: a } = next;
        next = null;
        go(a);
      }
    }
  }
  return go;
}
