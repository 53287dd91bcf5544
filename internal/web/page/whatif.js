// What if: facts of the station and of the valve are changed, and the trip runs again
// while the slider is dragged. The station file stays as it is until it is taken.
import { h, put, toast } from "./dom.js";
import { take, writes } from "./wishes.js";
import { told } from "./tripwords.js";

/** @typedef {import("./scales.js").Units} Units */
/** @typedef {{vary: Record<string, number>, change: Record<string, number>, position: string, valve: string, edits?: import("./wishes.js").Edit[]}} Wish edits: of a remedy */
/** @typedef {{key: string, to: "vary"|"change", label: string, base: number, low: number, high: number, unit: import("./scales.js").Unit, reason: string}} Slider */

/**
 * The sliders that make sense: what the server says may be varied, and what may be added.
 * @param {import("./film.js").Reel} reel @param {Units} u @returns {Slider[]}
 */
export function sliders(reel, u) {
  /** @type {Slider[]} */
  const out = reel.vary.map((v) => ({
    key: v.path,
    to: "vary",
    label: v.label,
    base: v.si,
    low: v.low,
    high: v.high,
    unit: { k: v.per_si, unit: v.unit },
    reason: v.reason,
  }));
  const inertia = reel.vary.find((v) => v.path === "pumps[0].inertia")?.si;
  if (inertia)
    out.push({
      key: "flywheel_kg_m2",
      to: "change",
      label: "flywheel added",
      base: 0,
      low: 0,
      high: 5 * inertia,
      unit: u.inertia,
      reason: "up to five times the inertia that is there",
    });
  const main = (reel.x[reel.x.length - 1] - reel.x[0]) * (Math.PI / 4) * reel.cutaway.bore_m ** 2;
  out.push({
    key: "vessel_m3",
    to: "change",
    label: "air of a vessel added at the header",
    base: 0,
    low: 0,
    high: MOST_AIR * main,
    unit: u.volume,
    reason: "up to a tenth of a main with the valve's bore",
  });
  out.push({
    key: "ramp_s",
    to: "change",
    label: "stop by a ramp (0: switched off)",
    base: 0,
    low: 0,
    high: 60,
    unit: u.time,
    reason: "normal stops alone follow a ramp",
  });
  return out;
}

const MOST_AIR = 0.1; // of the main; common practice, no source

/** The same family in its other sizes and variants. @param {import("./types.js").Answer|null} answer @param {string} valve */
export function sizes(answer, valve) {
  const row = answer?.rows.find((r) => r.id === valve);
  return row ? (answer?.rows || []).filter((r) => r.family === row.family) : [];
}

const POSITIONS = ["horizontal", "flow up", "flow down"];

/**
 * The panel.
 * @param {{valve: string, position: string, film: import("./film.js").Reel, units: Units, getState: () => import("./runs.js").Held}} base
 * @param {(wish: Wish, released: boolean) => void} run
 */
export function whatif(base, run) {
  /** @type {Wish} */
  const wish = { vary: {}, change: {}, position: base.position, valve: base.valve };
  const st = base.getState();
  const list = sliders(base.film, base.units);
  const taking = h(
    "button",
    { type: "button", class: "pl-button pl-take", hidden: true, onclick: () => void taken() },
    "Take it into the station",
  );
  const left = h("span", { class: "pl-note" });
  const result = h("p", { class: "pl-result", role: "status" });
  /** @type {(() => void)[]} */ const resets = [];

  /** What is tried, and what of it can be written. */
  function offer() {
    const w = writes(wish, list, base.getState().sheet?.fields || [], base.position);
    taking.hidden = w.edits.length === 0 && wish.valve === base.valve;
    put(left, w.left.length ? `Not written into the station file: ${w.left.join(", ")}.` : "");
    return w;
  }

  async function taken() {
    try {
      await take(offer().edits, wish.valve);
      toast("Taken into the station. Undo takes it out again.");
    } catch (e) {
      toast(e instanceof Error ? e.message : String(e));
    }
  }

  /** @param {Slider} s @param {number} i */
  function row(s, i) {
    const id = `pl-what-${i}`;
    const steps = 200;
    const value = () => s.low + ((s.high - s.low) * Number(input.value)) / steps;
    const at = Math.round(((s.base - s.low) / (s.high - s.low)) * steps);
    const shown = h("output", { for: id }, told(s.base, s.unit));
    const input = h("input", {
      type: "range",
      id,
      min: 0,
      max: steps,
      step: 1,
      value: at,
      "aria-describedby": id + "-why",
      oninput: () => move(false),
      onchange: () => move(true),
    });
    const set = () => {
      const v = Number(input.value) === at ? s.base : value();
      const text = told(v, s.unit) + (v === s.base ? " (as it is)" : "");
      shown.textContent = text;
      input.setAttribute("aria-valuetext", text);
      if (v === s.base) delete wish[s.to][s.key];
      else wish[s.to][s.key] = v;
    };
    const move = (/** @type {boolean} */ released) => {
      set();
      offer();
      run(wish, released);
    };
    resets.push(() => {
      input.value = String(at);
      set();
    });
    set();
    return h(
      "div",
      { class: "pl-slider" },
      h("label", { for: id }, s.label),
      input,
      shown,
      h("small", { id: id + "-why" }, s.reason),
    );
  }

  /** @param {string} label @param {[string, string][]} choices @param {"position"|"valve"} key */
  function choice(label, choices, key) {
    if (choices.length < 2) return null;
    const first = wish[key];
    const pick = h(
      "select",
      {
        onchange: () => {
          wish[key] = pick.value;
          offer();
          run(wish, true);
        },
      },
      choices.map(([v, t]) => h("option", { value: v, selected: v === first }, t)),
    );
    resets.push(() => {
      pick.value = first;
      wish[key] = first;
    });
    return h("label", { class: "pl-choice" }, label, " ", pick);
  }

  function reset() {
    for (const f of resets) f();
    offer();
  }

  const rows = list.map(row);
  const ofValve = (/** @type {number} */ i) => list[i].key.startsWith("mechanics.");
  const alike = sizes(st.answer, base.valve);
  const box = h(
    "div",
    { class: "pl-whatif" },
    h(
      "div",
      { class: "pl-choices" },
      choice(
        "size",
        alike.map((r) => [r.id, r.variant ? `${r.size}, ${r.variant}` : r.size]),
        "valve",
      ),
      choice(
        "position",
        POSITIONS.map((p) => [p, p]),
        "position",
      ),
      h(
        "button",
        {
          type: "button",
          class: "pl-button",
          onclick: () => {
            reset();
            run(wish, true);
          },
        },
        "Back to the station as it is",
      ),
    ),
    h(
      "div",
      { class: "pl-sliders" },
      rows.filter((_, i) => !ofValve(i)),
    ),
    result,
    h("p", { class: "pl-acts" }, taking, left),
  );
  const valve = h(
    "div",
    { class: "pl-sliders" },
    rows.filter((_, i) => ofValve(i)),
  );
  return { box, valve, wish, reset, tell: (/** @type {string} */ text) => put(result, text) };
}
