// The address of the page: it says which study, revision, valve, stop, moment and units are
// looked at, so that it can be sent and kept; back and forward go through what was looked at.
import { get } from "./api.js";
import { choose, edit, kept, on, open, resume, state, unsaved } from "./state.js";

/** @typedef {{study?: string, rev?: number, example?: string, valve?: string, event?: string, t?: number, units?: string}} Link */

/** @typedef {{event: string, t: number}} Moment of the film */

/** What a link says. @param {string} hash @returns {Link} */
export function read(hash) {
  const q = new URLSearchParams(hash.replace(/^#/, ""));
  /** @type {Link} */ const out = {};
  for (const k of /** @type {const} */ (["study", "example", "valve", "event"])) {
    const v = q.get(k);
    if (v) out[k] = v;
  }
  for (const k of /** @type {const} */ (["rev", "t"])) {
    const v = Number(q.get(k) || NaN);
    if (Number.isFinite(v) && v >= 0) out[k] = v;
  }
  const u = q.get("units");
  if (u === "US" || u === "SI") out.units = u;
  return out;
}

/** A link as it stands in the address. @param {Link} l */
export function write(l) {
  const q = new URLSearchParams();
  for (const [k, v] of Object.entries(l))
    if (v !== undefined && v !== "") q.set(k, typeof v === "number" ? String(Number(v.toFixed(4))) : v);
  const s = q.toString();
  return s ? "#" + s : "";
}

/** @type {() => Moment|null} */ let film = () => null;
/** @type {Moment|null} the stop that a link asked for, until it is shown */ let wanted = null;

/** The stop and the moment that a link asks for, once. @returns {Moment|null} */
export function takeWanted() {
  const w = wanted;
  wanted = null;
  return w;
}

/** The link of what is looked at now. @returns {Link} */
export function here() {
  if (!state.text) return {};
  /** @type {Link} */ const out = {};
  if (state.base) Object.assign(out, { study: state.base.id, rev: state.base.revision });
  else if (state.example && state.text === pristine) out.example = state.example;
  if (state.valve) out.valve = state.valve;
  const m = film();
  if (m?.event) Object.assign(out, { event: m.event, t: m.t || undefined });
  const units = state.sheet?.station.units;
  if (units === "US" || units === "SI") out.units = units;
  return out;
}

/** Whether a link to what is looked at shows the same to somebody else: it is kept, or an example as it is. */
export const complete = () => (state.base ? !unsaved() : state.example !== "" && pristine === state.text);

/** The text of the example as it came. */ let pristine = "";
/** What has its place in the history. */ let place = "";
let queued = false;
let back = false;

/** Writes the address, once for all that changes in one go. */
export function update() {
  if (queued) return;
  queued = true;
  queueMicrotask(() => {
    queued = false;
    const now = `${state.openings}\n${state.valve}`;
    const entry = {
      text: state.text,
      valve: state.valve,
      base: state.base,
      example: state.example,
      openings: state.openings,
    };
    const url = location.pathname + location.search + write(here());
    const push = place !== "" && now !== place && !back;
    back = false;
    place = now;
    try {
      if (push) history.pushState(entry, "", url);
      else history.replaceState(entry, "", url);
    } catch {
      history.replaceState(null, "", url); // a station too large for the history of the browser
    }
  });
}

/** Goes where a link says. @param {Link} l @returns {Promise<boolean>} whether it says anything */
async function follow(l) {
  if (!l.study && !l.example) return false;
  if (l.event || l.t) wanted = { event: l.event || "", t: l.t ?? 0 };
  if (l.study) await study(l.study, l.rev, l.valve);
  else {
    const e = await example(l.example || "");
    if (!e) return false;
    pristine = e.text;
    await open(e.text, null, l.valve, { example: e.id });
  }
  if (l.units && state.sheet && state.sheet.station.units !== l.units) await edit([{ path: "units", value: l.units }]);
  return true;
}

/** @param {string} id */
const example = async (id) => (await get("examples")).find((e) => e.id === id || e.id.startsWith(id));

/** A kept study; an older revision stands on the newest, as when it is put on the sheet. @param {string} id @param {number} [rev] @param {string} [valve] */
async function study(id, rev, valve) {
  const full = await get("studies/{id}", { at: { id } });
  const base = { id: full.id, name: full.name, revision: full.revision, text: full.text };
  const old =
    rev && rev !== full.revision ? await get("studies/{id}/revisions/{number}", { at: { id, number: rev } }) : full;
  await open(old.text, base, valve ?? old.valve);
}

/** Puts an example on the sheet. @param {{id: string, text: string}} e */
export function openExample(e) {
  pristine = e.text;
  return open(e.text, null, "", { example: e.id });
}

/** What this tab has, or its address says. @returns {Promise<boolean>} false where that is nothing */
export async function first() {
  const had = history.state;
  const work = kept();
  // A reload: the entry of the history holds the station, and the work of the tab its way back.
  if (had?.text) {
    const l = read(location.hash);
    if (l.event || l.t) wanted = { event: l.event || "", t: l.t ?? 0 };
    if (had.example) pristine = (await example(had.example))?.text || "";
    await resume(work?.text === had.text ? work : { ...had, past: [] });
    return true;
  }
  if (await follow(read(location.hash))) return true;
  if (!work || location.hash) return false;
  await resume(work);
  return true;
}

/** @param {PopStateEvent} e */
async function moved(e) {
  back = true;
  if (e.state?.text) {
    const l = read(location.hash);
    if (l.event) wanted = { event: l.event, t: l.t ?? 0 };
    const s = e.state;
    if (s.text === state.text) choose(s.valve);
    else await open(s.text, s.base, s.valve, { example: s.example });
  } else if (!location.hash) await open("", null);
  else if (location.hash.includes("=")) await follow(read(location.hash));
}

/** A link to a part of the page goes there, and leaves the address to what is looked at. @param {MouseEvent} e */
function within(e) {
  const a = e.target instanceof Element ? e.target.closest('a[href^="#"]') : null;
  const to = a && document.getElementById((a.getAttribute("href") || "").slice(1));
  if (!to) return;
  e.preventDefault();
  to.focus({ preventScroll: true });
  to.scrollIntoView();
}

/** Begins to write the address. @param {() => Moment|null} moment of the film */
export function begin(moment) {
  film = moment;
  on("text base valve sheet answer", update);
  document.addEventListener("click", within);
  document.addEventListener("seatward:film", () => update());
  addEventListener("popstate", (e) => void moved(e).catch(() => {}));
  // Another stop, and a moment at which the film stands.
  for (const what of ["change", "pointerup", "keyup"])
    document.getElementById("player")?.addEventListener(what, () => setTimeout(update));
}
