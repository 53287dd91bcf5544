// The pump trip as a player: the wave running along the main, the valve moving in it, and
// what happens when a fact is changed.
import { h, put } from "./dom.js";
import { advance, jump, last, newClock, nextStop, speedFor, stops } from "./clock.js";
import { controls, keys } from "./controls.js";
import { closingEnd, decode, shutAt, splice } from "./film.js";
import { lane } from "./lane.js";
import { heights, inksOf, unitsOf } from "./scales.js";
import { legend, traces } from "./traces.js";
import { inWords, told } from "./tripwords.js";
import { latest, whatif } from "./whatif.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./whatif.js").Wish} Wish */
/** @typedef {{post: (path: string, body: any, how?: {signal?: AbortSignal}) => Promise<any>, wording: (e: unknown) => string}} Api */
/** @typedef {{text: string, sheet: import("./types.js").Sheet|null, answer: import("./types.js").Answer|null}} Held */
/** @typedef {{valves: string[], event: string, wish: Wish|null, long: boolean, fresh: boolean}} Job */

const FRAMES = 300; // of a film: the most that its fine part needs
const DRAGGED = 100; // while a slider is dragged
const TOLD_EVERY_MS = 100; // numbers that change faster cannot be read
const STEP_MS = 1000; // between steps for those who asked for less motion
const STEPS = 24;
const WATCHED_S = 4; // a closing should take at least this long to watch

/**
 * Puts the player into the element.
 * @param {HTMLElement} root @param {Api} api @param {() => Held} getState
 * @returns {{show: (valve: string) => void, compare: (valve: string|null) => void, stop: () => void}}
 */
export function mountPlayer(root, api, getState) {
  root.classList.add("player"); // the inks hang on it
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const clock = newClock();
  /** @type {Job} */ let want = { valves: [], event: "", wish: null, long: true, fresh: true };
  /** @type {Reel[]} */ let reels = [];
  /** @type {Reel|null} */ let asItIs = null; // the first valve without a what-if, to hold beside one
  /** @type {ReturnType<typeof lane>[]} */ let lanes = [];
  /** @type {ReturnType<typeof traces>|null} */ let strips = null;
  /** @type {ReturnType<typeof whatif>|null} */ let panel = null;
  let panelOf = "";
  let raf = 0;
  let timer = 0;
  let before = 0;
  let toldAt = 0;
  let inks = inksOf(root);
  let edited = { text: "", value: "", made: "" };

  const acts = { play: () => (clock.playing ? pause() : play()), seek, jump: look, step, speed, loop, home: () => seek(0), end: () => seek(last(clock)) };
  const bar = controls(acts, calm);
  const alert = h("p", { class: "pl-alert", role: "alert" });
  const busy = h("span", { class: "pl-busy", "aria-live": "polite" });
  const eventPick = h("select", { onchange: () => ask({ event: eventPick.value, long: true, fresh: true }) });
  const otherPick = h("select", { onchange: () => compare(otherPick.value || null) });
  const pictures = h("div", { class: "pl-lanes" });
  const stripBox = h("div", { class: "pl-strips" });
  const legendBox = h("div", {});
  const words = h("div", { class: "pl-words" });
  const what = h("div", {});
  const body = h("div", { class: "pl-body", hidden: true },
    h("div", { class: "pl-stage", tabindex: 0, role: "group", "aria-label": "The pump trip. Space plays, arrow keys step, Home and End go to the ends." }, pictures),
    bar.caption, bar.box, h("div", { class: "pl-under" }, stripBox, h("section", {}, h("h3", {}, "What happens"), bar.list)),
    h("details", { class: "pl-details" }, h("summary", {}, "What if"), what), h("details", { class: "pl-details" }, h("summary", {}, "The trip in words"), words));
  put(root, h("div", { class: "pl-head" }, h("label", { class: "pl-choice" }, "event ", eventPick), h("label", { class: "pl-choice" }, "beside it ", otherPick), busy), alert, body);
  root.addEventListener("keydown", onKey);
  const theme = matchMedia("(prefers-color-scheme: dark)");
  theme.addEventListener("change", repaint);
  const themed = new MutationObserver(repaint);
  themed.observe(document.documentElement, { attributes: true, attributeFilter: ["class", "data-theme"] });

  const units = () => unitsOf(getState().sheet?.station.units);
  const titleOf = (/** @type {string} */ id) => {
    const row = getState().answer?.rows.find((r) => r.id === id);
    return row ? `${row.title}, ${row.size}` : id;
  };

  const runner = latest(run, (all, job) => {
    reels = all;
    paint(job);
    busy.textContent = "";
  }, (e) => {
    busy.textContent = "";
    alert.textContent = api.wording(e);
  });

  /** Whether anything is other than in the station. @param {Wish|null} wish */
  const changed = (wish) => wish !== null && ([wish.vary, wish.change].some((o) => Object.keys(o).length > 0) || wish.valve !== want.valves[0] || wish.position !== (getState().sheet?.station.position || ""));

  /** The text with the valve's position that is tried; the station's own text stays. @param {Wish|null} wish @param {AbortSignal} signal */
  async function textFor(wish, signal) {
    const { text, sheet } = getState();
    const value = wish?.position;
    if (!value || value === sheet?.station.position) return text;
    if (edited.text !== text || edited.value !== value) edited = { text, value, made: (await api.post("edit", { text, edits: [{ path: "valve.position", value }] }, { signal })).text };
    return edited.made;
  }

  /** @param {Job} job @param {AbortSignal} signal @returns {Promise<Reel[]>} */
  async function run(job, signal) {
    const text = await textFor(job.wish, signal);
    const some = (/** @type {Record<string, number>|undefined} */ o) => (o && Object.keys(o).length ? o : undefined);
    const one = async (/** @type {string} */ valve, /** @type {string} */ event, /** @type {boolean} */ quick) =>
      decode(await api.post("trip", { text, valve, event: event || undefined, vary: some(job.wish?.vary), change: some(job.wish?.change), frames: quick && !job.long ? DRAGGED : FRAMES, quick: quick || undefined }, { signal }));
    /** @type {Reel[]} */ const fine = [];
    for (const v of job.valves) fine.push(await one(v, job.event || fine[0]?.trip.event || "", true));
    if (!job.long) return fine;
    if (!signal.aborted) {
      reels = fine; // what is there is shown while the whole run is on its way
      paint(job);
    }
    /** @type {Reel[]} */ const whole = [];
    for (const f of fine) whole.push(splice(f, await one(f.trip.valve, f.trip.event, false)));
    return whole;
  }

  /** @param {Partial<Job>} change */
  function ask(change) {
    want = { ...want, fresh: false, ...change };
    const wished = want.wish?.valve;
    const valves = wished ? [wished, ...want.valves.slice(1)] : want.valves;
    if (!valves.length) return;
    alert.textContent = "";
    if (want.long) busy.textContent = "running…";
    runner.ask({ ...want, valves }, want.long);
  }

  /** Puts the films on the page; the pictures stay where only their numbers change. @param {Job} job */
  function paint(job) {
    const u = units();
    const range = heights(reels);
    const ends = reels.map((r) => r.end);
    clock.end = Math.max(...ends);
    clock.to = Math.max(...reels.map(closingEnd));
    body.hidden = false;
    if (lanes.length !== reels.length || job.fresh && !strips) build(range);
    reels.forEach((r, i) => lanes[i].load(r, range, titleOf(r.trip.valve)));
    if (!changed(job.wish)) asItIs = reels[0];
    compareStrips();
    if (job.fresh) start();
    want.fresh = false;
    job.fresh = false;
    jump(clock, clock.t);
    bar.span(last(clock));
    bar.moments(reels[0].moments);
    if (job.long) {
      choices();
      put(words, reels.map((r) => inWords(r, u, titleOf(r.trip.valve))));
      panelFor(job);
    }
    panel?.tell(summary());
    draw(true);
  }

  /** @param {ReturnType<typeof heights>} range */
  function build(range) {
    for (const l of lanes) l.drop();
    strips?.drop();
    const u = units();
    lanes = reels.map((r) => lane(r, range, u, () => inks, titleOf(r.trip.valve)));
    pictures.classList.toggle("pl-two", lanes.length > 1);
    put(pictures, lanes.map((l) => l.box));
    strips = traces(reels[0], reels[1] || null, u, () => inks, seek);
    put(stripBox, legendBox, strips.box);
  }

  /** The readings of what is shown, beside those of the other valve or of the station as it is. */
  function compareStrips() {
    const what = reels.length < 2 && asItIs !== reels[0] && asItIs?.trip.event === reels[0].trip.event;
    const other = what ? asItIs : reels[1] || null;
    put(legendBox, legend(other !== null, what ? "what if" : titleOf(reels[0].trip.valve), what ? "as it is" : titleOf(reels[1]?.trip.valve || "")));
    strips?.load(reels[0], other, last(clock));
  }

  /** A film is seen from its beginning, once by itself unless the reader asked for less motion. */
  function start() {
    clock.t = 0;
    clock.loop = true;
    clock.speed = speedFor(clock.to, WATCHED_S);
    bar.show(clock.speed, clock.loop);
    if (!calm) play();
  }

  function choices() {
    const events = reels[0].events.length ? reels[0].events : [{ id: reels[0].trip.event, title: reels[0].moments[0]?.text || reels[0].trip.event }];
    put(eventPick, events.map((e) => h("option", { value: e.id, selected: e.id === reels[0].trip.event }, e.title)));
    const rows = (getState().answer?.rows || []).filter((r) => r.id !== want.valves[0]);
    put(otherPick, h("option", { value: "" }, "no other valve"), rows.map((r) => h("option", { value: r.id, selected: r.id === want.valves[1] }, `${r.title}, ${r.size}`)));
    eventPick.value = reels[0].trip.event;
    otherPick.value = want.valves[1] || "";
  }

  /** The panel is made anew for another valve or another text, and stays while it is used. @param {Job} job */
  function panelFor(job) {
    const key = want.valves[0] + "\n" + getState().text;
    if (key === panelOf || job.wish) return;
    panelOf = key;
    panel = whatif({ valve: want.valves[0], position: getState().sheet?.station.position || "", film: reels[0], units: units(), getState }, (wish, released) => ask({ wish: structuredClone(wish), long: released }));
    put(what, panel.box);
  }

  function summary() {
    const u = units();
    return reels.map((r) => {
      const c = r.trip.closing;
      const shut = shutAt(r);
      const name = reels.length > 1 ? titleOf(r.trip.valve) + ": " : "";
      if (!c || shut === null) return name + "the valve does not shut in this run.";
      return `${name}shut after ${shut.toFixed(2)} s, reverse velocity ${told(c.reverse_velocity_m_s.best, u.velocity)}${c.class ? ` (${c.class})` : ""}, head rise ${told(c.head_rise_m.best, u.head)}.`;
    }).join(" ");
  }

  /** @param {boolean} [tell] */
  function draw(tell) {
    const t = clock.t;
    for (const l of lanes) l.set(t);
    strips?.set(t);
    bar.set(t);
    const now = performance.now();
    if (!tell && now - toldAt < TOLD_EVERY_MS) return;
    toldAt = now;
    for (const l of lanes) l.tell(t);
    bar.tell(t);
  }

  /** @param {number} now */
  function frame(now) {
    advance(clock, (now - before) / 1000);
    before = now;
    draw(!clock.playing);
    if (clock.playing) raf = requestAnimationFrame(frame);
    else pause();
  }

  function play() {
    if (!reels.length || clock.playing) return;
    if (clock.t >= last(clock)) clock.t = 0;
    clock.playing = true;
    bar.playing(true);
    if (calm) {
      timer = window.setInterval(() => {
        step(1);
        if (clock.t >= last(clock)) pause();
      }, STEP_MS);
      return;
    }
    before = performance.now();
    raf = requestAnimationFrame(frame);
  }

  function pause() {
    clock.playing = false;
    cancelAnimationFrame(raf);
    clearInterval(timer);
    bar.playing(false);
  }

  /** @param {number} t */
  function seek(t) {
    if (t > last(clock)) loop(false); // a moment after the closing lies outside its loop
    jump(clock, t);
    draw(true);
  }

  /** Stands still at a moment. @param {number} t */
  function look(t) {
    pause();
    seek(t);
  }

  /** @param {1|-1} way */
  function step(way) {
    if (!reels.length) return;
    if (!calm) pause();
    seek(nextStop(stops(reels[0].moments, last(clock), STEPS), clock.t, way));
  }

  /** @param {number} v */
  function speed(v) {
    clock.speed = v;
  }

  /** @param {boolean} on */
  function loop(on) {
    clock.loop = on;
    bar.show(clock.speed, on);
    if (!reels.length) return;
    if (clock.t > last(clock)) clock.t = 0;
    bar.span(last(clock));
    compareStrips();
    draw(true);
  }

  function repaint() {
    inks = inksOf(root);
    for (const l of lanes) l.spoil();
    strips?.spoil();
    draw(true);
  }

  /** @param {KeyboardEvent} e */
  function onKey(e) {
    keys(e, acts);
  }

  /** @param {string|null} valve */
  function compare(valve) {
    if (!want.valves.length || (want.valves[1] || null) === valve) return;
    ask({ valves: valve ? [want.valves[0], valve] : [want.valves[0]], long: true, fresh: true });
  }

  return {
    show(valve) {
      pause();
      ask({ valves: want.valves[1] && want.valves[1] !== valve ? [valve, want.valves[1]] : [valve], wish: null, long: true, fresh: true });
    },
    compare,
    stop() {
      pause();
      runner.stop();
      for (const l of lanes) l.drop();
      strips?.drop();
      themed.disconnect();
      theme.removeEventListener("change", repaint);
      root.removeEventListener("keydown", onKey);
    },
  };
}
