// The bar of the player, its moments and its keys.
import { digits, h, put, teller } from "./dom.js";
import { SPEEDS, speedText } from "./clock.js";

/** @typedef {{play: () => void, seek: (t: number) => void, jump: (t: number) => void, step: (way: 1|-1) => void, speed: (v: number) => void, loop: (on: boolean) => void, rate: () => number, sound: (on: boolean) => void}} Acts */
/** @typedef {{t: number, text: string}} Moment */

const PARTS = 1000;

/** @param {Acts} acts @param {boolean} calm whether the reader asked for less motion */
export function controls(acts, calm) {
  const button = (/** @type {string} */ text, /** @type {string} */ what, /** @type {() => void} */ onclick) =>
    h("button", { type: "button", class: "pl-button", "aria-label": what, title: what, onclick }, text);
  const words = calm ? ["Step through", "Stop stepping"] : ["Play", "Pause"];
  const play = h("button", { type: "button", class: "pl-button pl-play", onclick: () => acts.play() }, words[0]);
  let end = 1;
  const scrub = h("input", {
    type: "range",
    class: "pl-scrub",
    min: 0,
    max: PARTS,
    step: 1,
    value: 0,
    "aria-label": "time since the trip",
    oninput: () => acts.seek((Number(scrub.value) / PARTS) * end),
  });
  const clock = h("output", { class: "pl-clock" });
  const speed = h(
    "select",
    { "aria-label": "speed", title: "How fast it plays", onchange: () => acts.speed(Number(speed.value)) },
    h("option", { value: 0 }, "slow motion at closings"),
    SPEEDS.map((v) => h("option", { value: v }, speedText(v))),
  );
  const loop = h("input", { type: "checkbox", checked: true, onchange: () => acts.loop(loop.checked) });
  const sound = h(
    "button",
    {
      type: "button",
      class: "pl-button pl-sound",
      "aria-pressed": "false",
      title: "The slam as it is heard, made of the reverse velocity and head rise of this run",
      onclick: () => {
        const on = sound.getAttribute("aria-pressed") !== "true";
        sound.setAttribute("aria-pressed", String(on));
        sound.textContent = on ? "Sound on" : "Sound off";
        acts.sound(on);
      },
    },
    "Sound off",
  );
  const pace = h("span", { class: "pl-rate" });
  const tellPace = teller(pace);
  const marks = h("div", { class: "pl-marks", "aria-hidden": "true" });
  const caption = h("p", { class: "pl-caption" });
  const tellClock = teller(clock);
  const tellCaption = teller(caption);
  let parts = -1;
  let told = "";
  const list = h("ol", { class: "pl-moments", "aria-label": "moments of the trip" });
  /** @type {{t: number, text: string, b: HTMLButtonElement}[]} */ let moments = [];
  let at = -2;
  const box = h(
    "div",
    { class: "pl-bar" },
    play,
    button("◂", "one step back", () => acts.step(-1)),
    button("▸", "one step on", () => acts.step(1)),
    h("div", { class: "pl-time" }, scrub, marks),
    clock,
    pace,
    h("label", { class: "pl-choice" }, "speed ", speed),
    h("label", { class: "pl-choice" }, loop, " loop the closing"),
    sound,
  );
  return {
    box,
    caption,
    list,
    /** @param {Moment[]} all */
    moments(all) {
      moments = all.map((m) => ({
        ...m,
        b: h(
          "button",
          { type: "button", class: "pl-moment", onclick: () => acts.jump(m.t) },
          h("span", { class: "pl-when" }, `${digits(m.t)} s`),
          " ",
          m.text,
        ),
      }));
      put(
        list,
        moments.map((m) => h("li", {}, m.b)),
      );
      at = -2;
    },
    /** Marks where the valve closes, the first time and later; a click goes there. @param {{t: number, text: string, worst: boolean}[]} all @param {number} to */
    slams(all, to) {
      put(
        marks,
        all
          .filter((s) => s.t <= to)
          .map((s, i) => {
            const e = h("span", {
              class: `pl-mark${i ? " later" : ""}${s.worst ? " worst" : ""}`,
              title: `${digits(s.t)} s: ${s.text}`,
              onclick: () => acts.jump(s.t),
            });
            e.style.setProperty("left", `${(100 * s.t) / (to || 1)}%`);
            return e;
          }),
      );
    },
    /** @param {number} to */
    span(to) {
      end = to > 0 ? to : 1;
    },
    /** @param {number} t */
    set(t) {
      const at = Math.round((Math.min(t, end) / end) * PARTS);
      if (at !== parts || Number(scrub.value) !== at) scrub.value = String((parts = at));
    },
    /** The words, which change less often than the pictures. @param {number} t */
    tell(t) {
      const text = `${t.toFixed(3)} s`;
      if (text !== told) {
        told = text;
        tellClock(text);
        scrub.setAttribute("aria-valuetext", text);
      }
      tellPace(speedText(acts.rate()));
      const i = moments.findLastIndex((m) => m.t <= t + 1e-9);
      if (i === at) return;
      moments[at]?.b.removeAttribute("aria-current");
      moments[i]?.b.setAttribute("aria-current", "step");
      tellCaption(i < 0 ? "" : moments[i].text);
      at = i;
    },
    /** @param {boolean} on */
    playing(on) {
      play.textContent = words[on ? 1 : 0];
    },
    /** @param {number} v @param {boolean} looping */
    show(v, looping) {
      speed.value = String(v);
      loop.checked = looping;
    },
  };
}

/**
 * Space plays, arrows step, Home and End go to the ends: but a control keeps the keys that are its own.
 * @param {KeyboardEvent} e @param {Acts & {home: () => void, end: () => void}} acts
 */
export function keys(e, acts) {
  if (e.ctrlKey || e.altKey || e.metaKey || !(e.target instanceof HTMLElement)) return;
  const own = e.target.closest("select, input, button, summary, textarea, a");
  const scrub = own?.classList.contains("pl-scrub");
  if (own && !(scrub && e.key === " ")) return;
  /** @type {Record<string, () => void>} */
  const does = {
    " ": acts.play,
    ArrowLeft: () => acts.step(-1),
    ArrowRight: () => acts.step(1),
    Home: acts.home,
    End: acts.end,
  };
  if (!does[e.key]) return;
  e.preventDefault();
  does[e.key]();
}
