// One valve in the player: the main, the valve cut open, and what it does now in numbers.
import { digits, h, put, teller } from "./dom.js";
import { cutaway } from "./cutaway.js";
import { READ, heldFrom, reading, valueAt, velocity } from "./film.js";
import { profile } from "./profile.js";
import { told } from "./tripwords.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./film.js").Series} Series */

const share = (/** @type {number} */ v) => (Number.isFinite(v) ? `${digits(v * 100)} %` : "not known");

/** What is happening in the valve, in a word. @param {number} opening @param {number} speed of the water */
export function doing(opening, speed) {
  if (opening <= 0) return "closed";
  if (speed < 0) return "reverse flow";
  return opening >= 0.999 ? "full open" : "open";
}

/**
 * @param {Reel} r @param {Parameters<typeof profile>[1]} range @param {import("./scales.js").Units} u @param {() => import("./scales.js").Inks} inks @param {string} name
 */
export function lane(r, range, u, inks, name) {
  const main = profile(r, range, u, inks);
  const holder = h("div", { class: "pl-cut" });
  const title = h("h3", { class: "pl-name" }, name);
  const cells = ["now", "opening", "velocity", "head behind", "pump speed"].map((k) => {
    const v = h("dd", {});
    return { k, v, tell: teller(v) };
  });
  const box = h(
    "section",
    { class: "pl-lane" },
    title,
    h("div", { class: "pl-pictures" }, main.box, holder),
    h(
      "dl",
      { class: "pl-now" },
      cells.map(({ k, v }) => h("div", {}, h("dt", {}, k), v)),
    ),
  );
  /** @type {ReturnType<typeof cutaway>} */ let cut;
  let cutOf = "";
  let most = 1;
  /** @type {Record<string, Series|undefined>} */ let s = {};

  /** @param {Reel} reel @param {Parameters<typeof profile>[1]} heights @param {string} called */
  function load(reel, heights, called) {
    r = reel;
    title.textContent = called;
    main.load(reel, heights);
    const key = JSON.stringify(reel.cutaway);
    if (key !== cutOf) {
      cutOf = key;
      cut = cutaway(reel.cutaway);
      put(holder, cut.box);
    }
    s = {
      opening: reading(reel, READ.opening),
      velocity: velocity(reel),
      head: reading(reel, READ.behind),
      speed: reading(reel, READ.speed),
    };
    most = s.velocity ? s.velocity.now.reduce((m, v) => Math.max(m, Math.abs(v)), 1e-6) : 1;
  }
  load(r, range, name);
  return {
    box,
    load,
    spoil: main.spoil,
    drop: main.drop,
    /** @param {number} t */
    set(t) {
      main.set(t);
      cut.set(valueAt(s.opening, t, heldFrom(r)), valueAt(s.velocity, t, heldFrom(r)) / most);
    },
    /** The numbers, which change less often than the pictures. @param {number} t */
    tell(t) {
      const held = heldFrom(r);
      const [o, v] = [valueAt(s.opening, t, held), valueAt(s.velocity, t, held)];
      const texts = [
        doing(o, v),
        share(o),
        told(v, u.velocity),
        told(valueAt(s.head, t, held), u.head),
        share(valueAt(s.speed, t)),
      ];
      cells.forEach((c, i) => c.tell(texts[i]));
    },
  };
}
