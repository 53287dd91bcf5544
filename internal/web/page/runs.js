// The runs behind the player: one job at a time is asked of the server and becomes films.
// A job whose slider is still held needs a quick run alone; one that is meant to stand gets
// the whole run after it.
import { decode } from "./film.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./whatif.js").Wish} Wish */
/** @typedef {Pick<typeof import("./api.js"), "post"|"slowly"|"wording">} Api */
/** @typedef {{text: string, sheet: import("./types.js").Sheet|null, answer: import("./types.js").Answer|null}} Held */
/** @typedef {{valves: string[], event: string, wish: Wish|null, long: boolean, fresh: boolean}} Job fresh: another film, seen from its beginning */

const FRAMES = 600; // of a film
const DRAGGED = 100; // while a slider is dragged

/**
 * Runs at most one request at a time; of those asked for meanwhile only the newest follows.
 * A quick one is left to finish, so that the picture follows the hand; a long one is broken
 * off as soon as something newer is asked for.
 * @template A, R
 * @param {(arg: A, signal: AbortSignal) => Promise<R>} run @param {(result: R, arg: A) => void} done @param {(e: unknown, arg: A) => void} failed
 */
export function latest(run, done, failed) {
  /** @type {{ctl: AbortController, long: boolean}|null} */ let flying = null;
  /** @type {{arg: A, long: boolean}|null} */ let next = null;
  /** @param {A} arg @param {boolean} long */
  async function ask(arg, long) {
    if (flying) {
      next = { arg, long };
      if (flying.long) flying.ctl.abort();
      return;
    }
    const mine = (flying = { ctl: new AbortController(), long });
    try {
      const r = await run(arg, mine.ctl.signal);
      if (!mine.ctl.signal.aborted) done(r, arg);
    } catch (e) {
      if (!mine.ctl.signal.aborted && !next) failed(e, arg);
    } finally {
      flying = null;
      const then = next;
      next = null;
      if (then) ask(then.arg, then.long);
    }
  }
  return {
    ask,
    stop() {
      next = null;
      flying?.ctl.abort();
    },
  };
}

/** @template T @param {Record<string, T>|undefined} o */
const some = (o) => (o && Object.keys(o).length ? o : undefined);

/**
 * The queue of jobs. `got` is called with the films of a job, and twice for a long one: as
 * soon as there is something to see, and when it is whole.
 * @param {Api} api @param {() => Held} getState
 * @param {{got: (reels: Reel[], job: Job) => void, told: (share: number) => void, ended: (fault: string) => void}} to
 */
export function runs(api, getState, to) {
  let placed = { text: "", edits: "", made: "" };

  /** The text with what is tried in it; the station's own text stays. @param {Wish|null} wish @param {AbortSignal} signal */
  async function textFor(wish, signal) {
    const { text, sheet } = getState();
    const tried = [...(wish?.edits || [])];
    if (wish?.position && wish.position !== sheet?.station.position)
      tried.push({ path: "valve.position", value: wish.position });
    if (!tried.length) return text;
    const edits = JSON.stringify(tried);
    if (placed.text !== text || placed.edits !== edits)
      placed = { text, edits, made: (await api.post("edit", { text, edits: tried }, { signal })).text };
    return placed.made;
  }

  /** @param {Job} job @param {AbortSignal} signal @returns {Promise<Reel[]>} */
  async function run(job, signal) {
    const text = await textFor(job.wish, signal);
    const one = async (
      /** @type {string} */ valve,
      /** @type {string} */ event,
      /** @type {boolean} */ quick,
      told = to.told,
    ) => {
      const ask = {
        text,
        valve,
        event: event || undefined,
        vary: some(job.wish?.vary),
        change: some(job.wish?.change),
        frames: quick && !job.long ? DRAGGED : FRAMES,
        quick: quick || undefined,
        no_remedies: true,
      };
      return decode(
        await (quick
          ? api.post("trip", ask, { signal })
          : api.slowly("trip", { progress: "1" }, ask, (done, total) => told(done / total), signal)),
      );
    };
    /** @type {Reel[]} */ const fine = [];
    for (const v of job.valves) fine.push(await one(v, job.event || fine[0]?.trip.event || "", true));
    if (!job.long) return fine;
    if (!signal.aborted) to.got(fine, job); // seen while the whole run is on its way
    /** @type {Reel[]} */ const whole = [];
    for (const [i, f] of fine.entries())
      whole.push(await one(f.trip.valve, f.trip.event, false, (share) => to.told((i + share) / fine.length)));
    return whole;
  }

  const queue = latest(
    run,
    (reels, job) => {
      to.got(reels, job);
      to.ended("");
    },
    (e) => to.ended(api.wording(e)),
  );
  return { ask: (/** @type {Job} */ job) => void queue.ask(job, job.long), stop: queue.stop };
}
