// What the player draws: a lane for each valve, and the readings in time under them.
import { h, put } from "./dom.js";
import { lane } from "./lane.js";
import { heights, inksOf } from "./scales.js";
import { legend, traces } from "./traces.js";

/** @typedef {import("./film.js").Reel} Reel */

/**
 * @param {Element} root whose inks are taken @param {() => import("./scales.js").Units} units
 * @param {(valve: string) => string} titleOf @param {(t: number) => void} seek
 */
export function pictures(root, units, titleOf, seek) {
  let inks = inksOf(root);
  /** @type {Reel[]} */ let reels = [];
  /** @type {Reel|null} */ let asItIs = null; // the first valve without a what-if, to hold beside one
  /** @type {ReturnType<typeof lane>[]} */ let lanes = [];
  /** @type {ReturnType<typeof traces>|null} */ let strips = null;
  /** @type {ReturnType<typeof units>|null} */ let built = null; // the units in which they are drawn
  const laneBox = h("div", { class: "pl-lanes" });
  const stripBox = h("div", { class: "pl-strips" });
  const legendBox = h("div", {});

  /** @param {ReturnType<typeof heights>} range */
  function build(range) {
    drop();
    const u = (built = units());
    lanes = reels.map((r) => lane(r, range, u, () => inks, titleOf(r.trip.valve)));
    laneBox.classList.toggle("pl-two", lanes.length > 1);
    put(
      laneBox,
      lanes.map((l) => l.box),
    );
    strips = traces(reels[0], reels[1] || null, u, () => inks, seek);
    put(stripBox, legendBox, strips.box);
  }

  function drop() {
    for (const l of lanes) l.drop();
    strips?.drop();
  }

  return {
    lanes: laneBox,
    strips: stripBox,
    drop,
    /** The pictures stay where only their numbers change. @param {Reel[]} all @param {boolean} tried whether a what-if is in them */
    load(all, tried) {
      reels = all;
      const range = heights(reels);
      if (lanes.length !== reels.length || built !== units()) build(range);
      reels.forEach((r, i) => lanes[i].load(r, range, titleOf(r.trip.valve)));
      if (!tried) asItIs = reels[0];
    },
    /** The readings until a time, beside those of the other valve or of the station as it is. @param {number} to */
    span(to) {
      const what = reels.length < 2 && asItIs !== reels[0] && asItIs?.trip.event === reels[0].trip.event;
      const other = what ? asItIs : reels[1] || null;
      put(
        legendBox,
        legend(
          other !== null,
          what ? "what if" : titleOf(reels[0].trip.valve),
          what ? "as it is" : titleOf(reels[1]?.trip.valve || ""),
        ),
      );
      strips?.load(reels[0], other, to);
    },
    /** @param {number} t */
    set(t) {
      for (const l of lanes) l.set(t);
      strips?.set(t);
    },
    /** The numbers, which change less often than the pictures. @param {number} t */
    tell(t) {
      for (const l of lanes) l.tell(t);
    },
    /** Everything is drawn anew in the inks of now. */
    repaint() {
      inks = inksOf(root);
      for (const l of lanes) l.spoil();
      strips?.spoil();
    },
  };
}
