// One valve of the film: cut open, and what it does now in numbers.
import { digits, h, put, teller } from "./dom.js";
import { cutaway } from "./cutaway.js";
import { READ, reading, valueAt, velocity } from "./film.js";
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

/** One valve beside the station. @param {import("./scales.js").Units} u */
export function lane(u) {
  const holder = h("div", { class: "pl-cut" });
  const title = h("h3", { class: "pl-name" });
  const beside = h("div", { class: "pl-beside" });
  const cells = ["now", "opening", "velocity", "head behind", "pump speed"].map((k) => {
    const v = h("dd", {});
    return { k, v, tell: teller(v) };
  });
  const box = h(
    "section",
    { class: "pl-lane" },
    title,
    holder,
    h(
      "dl",
      { class: "pl-now" },
      cells.map(({ k, v }) => h("div", {}, h("dt", {}, k), v)),
    ),
    beside,
  );
  /** @type {ReturnType<typeof cutaway>} */ let cut;
  let cutOf = "";
  let most = 1;
  /** @type {Record<string, Series|undefined>} */ let s = {};

  return {
    box,
    beside,
    /** @param {Reel} reel @param {string} called */
    load(reel, called) {
      title.textContent = called;
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
    },
    /** @param {number} t */
    set(t) {
      cut.set(valueAt(s.opening, t), valueAt(s.velocity, t) / most);
    },
    /** The numbers, which change less often than the pictures. @param {number} t */
    tell(t) {
      const [o, v] = [valueAt(s.opening, t), valueAt(s.velocity, t)];
      const texts = [
        doing(o, v),
        share(o),
        told(v, u.velocity),
        told(valueAt(s.head, t), u.head),
        share(valueAt(s.speed, t)),
      ];
      cells.forEach((c, i) => c.tell(texts[i]));
    },
  };
}
