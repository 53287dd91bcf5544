// The pump trip as a player: the wave running along the main, the valve moving in it, and
// what happens when a fact is changed. Here its parts are joined: runs.js asks the server,
// playhead.js lets time pass, pictures.js draws, controls.js and whatif.js are what people use.
import { h, put, upper } from "./dom.js";
import { jump, last, newClock } from "./clock.js";
import { controls, keys } from "./controls.js";
import { cures } from "./cures.js";
import { closingEnd, shutAt } from "./film.js";
import { frame } from "./frame.js";
import { pictures } from "./pictures.js";
import { playhead } from "./playhead.js";
import { runs } from "./runs.js";
import { unitsOf } from "./scales.js";
import { blow, passed, speaker } from "./sound.js";
import { inWords, nothingHappens } from "./tripwords.js";
import { whatif } from "./whatif.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./whatif.js").Wish} Wish */
/** @typedef {import("./runs.js").Job} Job */
/** @typedef {import("./runs.js").Held} Held */

/** The limits of slam by which the rows are judged. @param {import("./types.js").Answer|null} a @returns {import("./sound.js").Limits} */
function slamLimits(a) {
  const s = a?.rows.find((r) => r.slam)?.slam;
  return { quiet: s?.quiet_m_s ?? null, harmful: s?.harmful_m_s ?? null };
}

const TOLD_EVERY_MS = 100; // numbers that change faster cannot be read

/** What the films come to, in a sentence for each. @param {Reel[]} reels @param {(id: string) => string} titleOf */
function summary(reels, titleOf) {
  return reels
    .map((r) => {
      const shut = shutAt(r);
      const name = reels.length > 1 ? titleOf(r.trip.valve) + ": " : "";
      if (!r.said || shut === null) return name + (name ? nothingHappens(r) : upper(nothingHappens(r)));
      return `${name}${name ? "reverse" : "Reverse"} velocity ${r.said.reverse_velocity} (${r.said.class_words}); head rise ${r.said.head_rise}; closes at ${shut.toFixed(2)} s.`;
    })
    .join(" ");
}

/** Calls back when the page takes other colors; gives the way to end that. @param {() => void} changed */
function onTheme(changed) {
  const theme = matchMedia("(prefers-color-scheme: dark)");
  theme.addEventListener("change", changed);
  const themed = new MutationObserver(changed);
  themed.observe(document.documentElement, { attributes: true, attributeFilter: ["class", "data-theme"] });
  return () => {
    themed.disconnect();
    theme.removeEventListener("change", changed);
  };
}

/** What happens with each valve, in one list; its name before it where there are two. @param {Reel[]} reels @param {(id: string) => string} titleOf */
export function happenings(reels, titleOf) {
  if (reels.length < 2) return reels.flatMap((r) => r.moments);
  return reels
    .flatMap((r, k) => {
      const name = titleOf(r.trip.valve);
      const own = r.moments.filter((m) => m.t > 0 || k === 0); // the event is one for both
      return own.map((m) => (m.t > 0 ? { ...m, text: `${name}: ${m.text}` } : m));
    })
    .sort((x, y) => x.t - y.t);
}

/**
 * Puts the player into the element. Brief, it is the film alone.
 * @param {HTMLElement} root @param {import("./runs.js").Api} api @param {() => Held} getState
 * @param {{brief?: boolean, drawing?: () => HTMLElement|null}} [how]
 */
export function mountPlayer(root, api, getState, how = {}) {
  root.classList.add("player"); // the inks depend on it
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const clock = newClock();
  /** @type {Job} */ let want = { valves: [], event: "", wish: null, long: true, fresh: true };
  /** @type {Reel[]} */ let reels = [];
  /** @type {ReturnType<typeof happenings>} */ let moments = [];
  /** @type {ReturnType<typeof whatif>|null} */ let panel = null;
  let panelOf = "";
  let toldAt = 0;
  /** @type {number|null} the moment that a link asks for */ let until = null;

  const units = () => unitsOf(getState().sheet?.station.units);
  const titleOf = (/** @type {string} */ id) => {
    const row = getState().answer?.rows.find((r) => r.id === id);
    return row ? `${row.title}, ${row.size}` : id;
  };
  const sound = speaker();
  const closings = () => reels.flatMap((r) => r.slams).sort((x, y) => x.t - y.t);
  const head = playhead(clock, calm, {
    ready: () => reels.length > 0,
    moments: () => moments,
    closings,
    passed(from, to) {
      const limits = slamLimits(getState().answer);
      for (const s of passed(closings(), from, to)) sound.play(blow(s, limits));
    },
    draw,
    playing(on) {
      bar.playing(on);
      if (!on) tellWhere();
    },
    set: (v, loop) => bar.show(v, loop),
    span,
  });
  const acts = { ...head, sound: sound.turn };
  const bar = controls(acts, calm);
  const drawn = pictures(root, units, titleOf, head.seek, () => getState().sheet?.drawing);
  const chips = how.brief ? null : cures(api, getState, units, cure);
  const page = frame(root, bar, drawn, chips?.box || null, {
    event: (id) => ask({ event: id, long: true, fresh: true }),
    compare,
    place: () => onDrawing(!page.film.classList.contains("on-drawing")),
  });
  const queue = runs(api, getState, {
    got: paint,
    told: page.far,
    ended(fault) {
      page.far(1);
      page.busy.textContent = "";
      if (fault) page.alert.textContent = fault;
      else if (want.valves.length && !want.wish) chips?.show(want.valves[0]);
    },
  });
  const onKey = (/** @type {KeyboardEvent} */ e) => keys(e, acts);
  page.film.addEventListener("keydown", onKey);
  const untheme = onTheme(() => {
    drawn.repaint();
    draw(true);
  });
  const back = () => onDrawing(false);
  addEventListener("beforeprint", back);

  /** Whether anything is other than in the station. @param {Wish|null} wish */
  const changed = (wish) =>
    wish !== null &&
    ([wish.vary, wish.change, wish.edits || []].some((o) => Object.keys(o).length > 0) ||
      wish.valve !== want.valves[0] ||
      wish.position !== (getState().sheet?.station.position || ""));

  /** @param {Partial<Job>} change */
  function ask(change) {
    want = { ...want, fresh: false, ...change };
    const wished = want.wish?.valve;
    const valves = wished ? [wished, ...want.valves.slice(1)] : want.valves;
    if (!valves.length) return;
    page.alert.textContent = "";
    if (want.long) page.busy.textContent = "running…";
    queue.ask({ ...want, valves });
  }

  /** A remedy in the film, or the station as it is. @param {import("./types.js").Cure|null} c */
  function cure(c) {
    panel?.reset();
    const position = getState().sheet?.station.position || "";
    const wish = c && { vary: {}, change: {}, position, valve: c.valve || want.valves[0], edits: c.edits || [] };
    ask({ wish, long: true, fresh: true });
  }

  /** Puts the films of a job on the page. @param {Reel[]} all @param {Job} job */
  function paint(all, job) {
    reels = all;
    moments = happenings(reels, titleOf);
    clock.end = Math.max(...reels.map((r) => r.end));
    clock.to = Math.max(...reels.map(closingEnd));
    page.shown();
    drawn.load(reels, changed(job.wish));
    if (job.fresh) head.start();
    if (until !== null) {
      head.jump(until);
      if (until <= clock.end) until = null; // else it is in the whole run, which comes after the closing
    }
    want.fresh = false;
    job.fresh = false;
    jump(clock, clock.t);
    span();
    bar.moments(moments);
    page.closing.textContent = summary(reels, titleOf);
    if (job.long) {
      page.choices(reels[0], want.valves, getState());
      put(
        page.words,
        reels.map((r) => inWords(r, units(), titleOf(r.trip.valve))),
      );
      panelFor(job);
    }
    panel?.tell(summary(reels, titleOf));
    draw(true);
  }

  function span() {
    bar.span(last(clock));
    bar.slams(closings(), last(clock));
    drawn.span(last(clock));
  }

  /** The panel is made anew for another valve or another text, and stays while it is used. @param {Job} job */
  function panelFor(job) {
    const key = want.valves[0] + "\n" + getState().text;
    if (how.brief || key === panelOf || job.wish) return;
    panelOf = key;
    panel = whatif(
      {
        valve: want.valves[0],
        position: getState().sheet?.station.position || "",
        film: reels[0],
        units: units(),
        getState,
      },
      (wish, released) => {
        chips?.release();
        ask({ wish: structuredClone(wish), long: released });
      },
    );
    put(page.what, panel.box);
    page.beside(panel.valve);
  }

  /** @param {boolean} tell the numbers too, however lately they were shown */
  function draw(tell) {
    const t = clock.t;
    const now = performance.now();
    const due = tell || now - toldAt >= TOLD_EVERY_MS;
    if (due) drawn.tell(t);
    drawn.set(t);
    bar.set(t);
    if (!due) return;
    toldAt = now;
    bar.tell(t);
    if (!clock.playing) tellWhere();
  }

  /** @param {string|null} valve */
  function compare(valve) {
    if (!want.valves.length || (want.valves[1] || null) === valve) return;
    ask({ valves: valve ? [want.valves[0], valve] : [want.valves[0]], long: true, fresh: true });
  }

  /** Says that it stands elsewhere, for a link. */
  function tellWhere() {
    if (!how.brief && reels.length) document.dispatchEvent(new Event("seatward:film"));
  }

  /** The film in the place of the drawing, or back in its own. @param {boolean} on */
  function onDrawing(on) {
    const drawing = how.drawing?.();
    if (!drawing || page.film.classList.contains("on-drawing") === on) return;
    page.film.classList.toggle("on-drawing", on);
    drawing.hidden = on;
    if (on) drawing.before(page.film);
    else root.prepend(page.film);
    page.place.textContent = on ? "Back to the numbers" : "On the drawing";
    page.place.setAttribute("aria-pressed", String(on));
  }

  return {
    /** @param {string} valve @param {string} event @param {number} [at] the moment that a link asks for */
    show(valve, event, at) {
      head.pause();
      until = at ?? null;
      ask({
        valves: want.valves[1] && want.valves[1] !== valve ? [valve, want.valves[1]] : [valve],
        event,
        wish: null,
        long: true,
        fresh: true,
      });
    },
    compare,
    onDrawing,
    play: head.play,
    /** A remedy in the film, or with null the station as it is. */
    cure,
    /** Which stop is shown, and where in it the film stands; null while it plays, or before there is one. */
    at: () => (reels.length ? { event: want.event || reels[0].trip.event, t: clock.playing ? 0 : clock.t } : null),
    /** Breaks off what is being run: another answer is on its way. */
    halt() {
      queue.stop();
      page.busy.textContent = "";
      page.far(1);
    },
    stop() {
      head.pause();
      queue.stop();
      chips?.stop();
      drawn.drop();
      untheme();
      removeEventListener("beforeprint", back);
      onDrawing(false);
      root.replaceChildren();
    },
  };
}
