// The pump trip as a player: the wave running along the main, the valve moving in it, and
// what happens when a fact is changed. Here its parts are joined: runs.js asks the server,
// playhead.js lets time pass, pictures.js draws, controls.js and whatif.js are what people use.
import { h, put, upper } from "./dom.js";
import { jump, last, newClock } from "./clock.js";
import { controls, keys } from "./controls.js";
import { closingEnd, shutAt } from "./film.js";
import { pictures } from "./pictures.js";
import { playhead } from "./playhead.js";
import { runs } from "./runs.js";
import { unitsOf } from "./scales.js";
import { inWords, nothingHappens } from "./tripwords.js";
import { whatif } from "./whatif.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./whatif.js").Wish} Wish */
/** @typedef {import("./runs.js").Job} Job */
/** @typedef {import("./runs.js").Held} Held */

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

/**
 * The frame of the player: where everything stands.
 * @param {HTMLElement} root @param {ReturnType<typeof controls>} bar @param {ReturnType<typeof pictures>} drawn @param {(change: Partial<Job>) => void} ask @param {(valve: string|null) => void} compare
 */
function frame(root, bar, drawn, ask, compare) {
  const alert = h("p", { class: "pl-alert", role: "alert" });
  const busy = h("span", { class: "pl-busy", "aria-live": "polite" });
  const far = h("progress", { max: 1, value: 0, hidden: true, "aria-label": "How far the run has come" });
  const event = h("select", { onchange: () => ask({ event: event.value, long: true, fresh: true }) });
  const other = h("select", { onchange: () => compare(other.value || null) });
  const words = h("div", { class: "pl-words" });
  const closing = h("p", { class: "pl-closing" });
  const what = h("div", {});
  const body = h(
    "div",
    { class: "pl-body", hidden: true },
    h(
      "div",
      {
        class: "pl-stage",
        tabindex: 0,
        role: "group",
        "aria-label": "The pump trip. Space plays, arrow keys step, Home and End go to the ends.",
      },
      drawn.lanes,
    ),
    bar.caption,
    bar.box,
    h("div", { class: "pl-under" }, drawn.strips, h("section", {}, h("h3", {}, "What happens"), bar.list)),
    h("details", { class: "pl-details" }, h("summary", {}, "What if"), what),
    h("details", { class: "pl-details" }, h("summary", {}, "The trip in words"), words),
  );
  put(
    root,
    h(
      "div",
      { class: "pl-head" },
      h("label", { class: "pl-choice" }, "event ", event),
      h("label", { class: "pl-choice" }, "beside it ", other),
      busy,
      far,
    ),
    alert,
    closing,
    body,
  );
  return {
    alert,
    busy,
    closing,
    words,
    what,
    body,
    /** Shows how far a run has come; 1 is the end. @param {number} share */
    far(share) {
      far.hidden = share >= 1;
      far.value = share;
    },
    /** @param {Reel} r @param {string[]} valves that are shown @param {Held} held */
    choices(r, valves, held) {
      const events = r.events.length ? r.events : [{ id: r.trip.event, title: r.moments[0]?.text || r.trip.event }];
      const worst = held.answer?.rows.find((x) => x.id === valves[0])?.slam?.event;
      put(
        event,
        events.map((e) =>
          h(
            "option",
            { value: e.id, selected: e.id === r.trip.event },
            e.title + (e.id === worst ? " (worst for slam, as in the row)" : ""),
          ),
        ),
      );
      const rows = (held.answer?.rows || []).filter((x) => x.id !== valves[0]);
      put(
        other,
        h("option", { value: "" }, "no other valve"),
        rows.map((x) => h("option", { value: x.id, selected: x.id === valves[1] }, `${x.title}, ${x.size}`)),
      );
      event.value = r.trip.event;
      other.value = valves[1] || "";
    },
  };
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

/**
 * Puts the player into the element.
 * @param {HTMLElement} root @param {import("./runs.js").Api} api @param {() => Held} getState
 * @returns {{show: (valve: string, event: string, at?: number) => void, at: () => {event: string, t: number}|null, compare: (valve: string|null) => void, halt: () => void, stop: () => void}}
 */
export function mountPlayer(root, api, getState) {
  root.classList.add("player"); // the inks depend on it
  const calm = matchMedia("(prefers-reduced-motion: reduce)").matches;
  const clock = newClock();
  /** @type {Job} */ let want = { valves: [], event: "", wish: null, long: true, fresh: true };
  /** @type {Reel[]} */ let reels = [];
  /** @type {ReturnType<typeof whatif>|null} */ let panel = null;
  let panelOf = "";
  let toldAt = 0;
  /** @type {number|null} the moment that a link asks for */ let until = null;

  const units = () => unitsOf(getState().sheet?.station.units);
  const titleOf = (/** @type {string} */ id) => {
    const row = getState().answer?.rows.find((r) => r.id === id);
    return row ? `${row.title}, ${row.size}` : id;
  };
  const head = playhead(clock, calm, {
    ready: () => reels.length > 0,
    moments: () => reels[0].moments,
    draw,
    playing: (on) => bar.playing(on),
    set: (v, loop) => bar.show(v, loop),
    span,
  });
  const bar = controls(head, calm);
  const drawn = pictures(root, units, titleOf, head.seek);
  const page = frame(root, bar, drawn, ask, compare);
  const queue = runs(api, getState, {
    got: paint,
    told: page.far,
    ended(fault) {
      page.far(1);
      page.busy.textContent = "";
      if (fault) page.alert.textContent = fault;
    },
  });
  const onKey = (/** @type {KeyboardEvent} */ e) => keys(e, head);
  root.addEventListener("keydown", onKey);
  const untheme = onTheme(() => {
    drawn.repaint();
    draw(true);
  });

  /** Whether anything is other than in the station. @param {Wish|null} wish */
  const changed = (wish) =>
    wish !== null &&
    ([wish.vary, wish.change].some((o) => Object.keys(o).length > 0) ||
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

  /** Puts the films of a job on the page. @param {Reel[]} all @param {Job} job */
  function paint(all, job) {
    reels = all;
    clock.end = Math.max(...reels.map((r) => r.end));
    clock.to = Math.max(...reels.map(closingEnd));
    page.body.hidden = false;
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
    bar.moments(reels[0].moments);
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
    if (reels.length) bar.slams(reels[0].slams, last(clock));
    drawn.span(last(clock));
  }

  /** The panel is made anew for another valve or another text, and stays while it is used. @param {Job} job */
  function panelFor(job) {
    const key = want.valves[0] + "\n" + getState().text;
    if (key === panelOf || job.wish) return;
    panelOf = key;
    panel = whatif(
      {
        valve: want.valves[0],
        position: getState().sheet?.station.position || "",
        film: reels[0],
        units: units(),
        getState,
      },
      (wish, released) => ask({ wish: structuredClone(wish), long: released }),
    );
    put(page.what, panel.box);
  }

  /** @param {boolean} tell the numbers too, however lately they were shown */
  function draw(tell) {
    const t = clock.t;
    drawn.set(t);
    bar.set(t);
    const now = performance.now();
    if (!tell && now - toldAt < TOLD_EVERY_MS) return;
    toldAt = now;
    drawn.tell(t);
    bar.tell(t);
  }

  /** @param {string|null} valve */
  function compare(valve) {
    if (!want.valves.length || (want.valves[1] || null) === valve) return;
    ask({ valves: valve ? [want.valves[0], valve] : [want.valves[0]], long: true, fresh: true });
  }

  return {
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
      drawn.drop();
      untheme();
      root.removeEventListener("keydown", onKey);
    },
  };
}
