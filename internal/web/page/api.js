// The one place that talks to the server.

/** @typedef {import("./types.js").At} At */
/** @typedef {import("./types.js").Refusal} Refusal */
/** @typedef {{at?: At, signal?: AbortSignal}} How at: what stands in the braces of the address */

/** What the server says is wrong, with all its messages. */
export class Refused extends Error {
  /** @param {number} status @param {Refusal|null} body */
  constructor(status, body) {
    super(body?.error.text || `the server answered ${status}`);
    this.status = status;
    this.body = body;
    this.mend = body?.error.mend || "";
    this.messages = body?.error.messages || [];
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
  if (e instanceof TypeError)
    return "The server does not answer. Is seatward serve still running? Nothing is lost: your text is kept in this browser.";
  return e instanceof Error ? e.message : String(e);
}

/** @param {unknown} e */
export const aborted = (e) => e instanceof DOMException && e.name === "AbortError";

/**
 * Asks an address. What is sent and answered is typed by those who ask.
 * @param {string} method @param {string} address after /api/ @param {How} how @param {{query?: Record<string, string|undefined>, body?: unknown}} [sent] @returns {Promise<Response>}
 */
async function ask(method, address, { at, signal }, { query, body } = {}) {
  const path = address.replace("{id}", encodeURIComponent(at?.id ?? "")).replace("{number}", String(at?.number ?? ""));
  const r = await fetch(
    `/api/${path}${query ? `?${new URLSearchParams(Object.entries(query).map(([k, v]) => [k, v ?? ""]))}` : ""}`,
    {
      method: method.toUpperCase(),
      signal,
      ...(body === undefined ? {} : { headers: { "Content-Type": "application/json" }, body: JSON.stringify(body) }),
    },
  );
  if (r.ok) return r;
  let refusal = null;
  try {
    refusal = await r.json();
  } catch {
    // a body that is no JSON: the status must do
  }
  throw new Refused(r.status, refusal);
}

/**
 * @template {import("./types.js").Asked<"get">} P
 * @param {P} address @param {How & {query?: import("./types.js").Query<"get", P>}} [how] @returns {Promise<import("./types.js").Reply<"get", P>>}
 */
export const get = async (address, how = {}) => (await ask("get", address, how, { query: how.query })).json();

/** An answer that is a file. @param {import("./types.js").PaperRequest} request */
export const paper = (request) => ask("post", "document", {}, { body: request });

/**
 * @template {import("./types.js").Asked<"post">} P
 * @param {P} address @param {import("./types.js").Sent<"post", P>} body @param {How} [how] @returns {Promise<import("./types.js").Reply<"post", P>>}
 */
export const post = async (address, body, how = {}) => (await ask("post", address, how, { body })).json();

/**
 * @template {import("./types.js").Asked<"put">} P
 * @param {P} address @param {import("./types.js").Sent<"put", P>} body @param {How} how @returns {Promise<import("./types.js").Reply<"put", P>>}
 */
export const save = async (address, body, how) => (await ask("put", address, how, { body })).json();

/** @param {import("./types.js").Asked<"delete">} address @param {How} how */
export const remove = (address, how) => ask("delete", address, how);

/** The lines of an answer as they come. @param {Response} r @returns {AsyncGenerator<string>} */
async function* lines(r) {
  if (!r.body) return;
  const reader = r.body.pipeThrough(new TextDecoderStream()).getReader();
  let rest = "";
  for (;;) {
    const { done, value } = await reader.read();
    rest += value || "";
    const all = rest.split("\n");
    rest = all.pop() || "";
    for (const l of all) if (l.trim()) yield l;
    if (done) break;
  }
  if (rest.trim()) yield rest;
}

/**
 * Asks for what takes long, and tells how far it has come.
 * @template {import("./types.js").Slow} P
 * @param {P} address @param {import("./types.js").Query<"post", P>} query that asks for lines @param {import("./types.js").Sent<"post", P>} body
 * @param {(done: number, total: number) => void} told @param {AbortSignal} signal @returns {Promise<import("./types.js").Reply<"post", P>>}
 */
export async function slowly(address, query, body, told, signal) {
  for await (const text of lines(await ask("post", address, { signal }, { query, body }))) {
    /** @type {import("./types.js").Line<P>} */
    const l = JSON.parse(text);
    if ("error" in l) throw new Refused(200, l);
    if ("answer" in l) return l.answer;
    told(l.done, l.total);
  }
  throw new Error("The server broke off. Ask again.");
}
