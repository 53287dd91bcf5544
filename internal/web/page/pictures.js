// What the player draws: the station with the film on it, each valve cut open beside it, and the
// readings in time.
import { h, put } from "./dom.js";
import { lane } from "./lane.js";
import { heights, inksOf } from "./scales.js";
import { filmStage } from "./stage.js";
import { asTable, paintSaver } from "./take.js";
import { legend, traces } from "./traces.js";

/** @typedef {import("./film.js").Reel} Reel */

/**
 * @param {Element} root whose inks are taken @param {() => import("./scales.js").Units} units
 * @param {(valve: string) => string} titleOf @param {(t: number) => void} seek
 * @param {() => import("./types.js").Drawing|null|undefined} drawingOf
 */
export function pictures(root, units, titleOf, seek, drawingOf) {
  let inks = inksOf(root);
  /** @type {Reel[]} */ let reels = [];
  /** @type {Reel|null} */ let asItIs = null; // the first valve without a what-if, to hold beside one
  /** @type {ReturnType<typeof lane>[]} */ let lanes = [];
  /** @type {ReturnType<typeof traces>|null} */ let strips = null;
  /** @type {ReturnType<typeof units>|null} */ let built = null; // the units in which they are drawn
  const laneBox = h("div", { class: "pl-lanes" });
  const station = filmStage(drawingOf, () => inks);
  const left = h("div", { class: "pl-left" }, station.box);
  const scene = h("div", { class: "pl-scene" }, left, laneBox);
  let names = { shown: "behind", before: "before", other: "" }; // of the curves, in a table
  const stripBox = h("div", { class: "pl-strips" });
  const legendBox = h("div", {});

  function build() {
    strips?.drop();
    const u = (built = units());
    lanes = reels.map(() => lane(u));
    laneBox.classList.toggle("pl-two", lanes.length > 1);
    put(
      laneBox,
      lanes.map((l) => l.box),
    );
    strips = traces(reels[0], reels[1] || null, u, () => inks, seek);
    const made = strips;
    const name = "Readings in time";
    const acts = h(
      "div",
      { class: "chart-acts" },
      asTable(name, () => made.table(names)),
      paintSaver(made.box, name),
    );
    put(stripBox, legendBox, made.box, acts);
  }

  return {
    scene,
    /** Under the station, beside the valves. */
    left,
    strips: stripBox,
    drop() {
      station.drop();
      strips?.drop();
    },
    /** Where the sliders of the first valve stand. */
    beside: () => lanes[0]?.beside,
    /** The pictures stay where only their numbers change. @param {Reel[]} all @param {boolean} tried whether a what-if is in them */
    load(all, tried) {
      reels = all;
      const range = heights(reels);
      if (lanes.length !== reels.length || built !== units()) build();
      station.load(reels, range, units());
      reels.forEach((r, i) => lanes[i].load(r, titleOf(r.trip.valve)));
      if (!tried) asItIs = reels[0];
    },
    /** The readings until a time, beside those of the other valve or of the station as it is. @param {number} to */
    span(to) {
      const what = reels.length < 2 && asItIs !== reels[0] && asItIs?.trip.event === reels[0].trip.event;
      const other = what ? asItIs : reels[1] || null;
      const [one, two] = what
        ? ["what if", "as it is"]
        : [titleOf(reels[0].trip.valve), titleOf(reels[1]?.trip.valve || "")];
      names = { shown: other ? one : "the valve", before: "before the valve", other: two };
      put(legendBox, legend(other !== null, one, two));
      strips?.load(reels[0], other, to);
    },
    /** @param {number} t */
    set(t) {
      station.set(t);
      for (const l of lanes) l.set(t);
      strips?.set(t);
    },
    /** The numbers, which change less often than the pictures. @param {number} t */
    tell(t) {
      station.tell(t);
      for (const l of lanes) l.tell(t);
    },
    /** Everything is drawn anew in the inks of now. */
    repaint() {
      inks = inksOf(root);
      station.spoil();
      strips?.spoil();
    },
  };
}
