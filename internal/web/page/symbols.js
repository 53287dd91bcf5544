// The small pictures of the sheet and the rows: check valves, cut open as in the player but
// with usual proportions and bold lines, and the pump.
import { svg } from "./dom.js";
import { bounds } from "./anatomy.js";
import { section } from "./cutaway.js";

/** @typedef {import("./types.js").Figure} Figure */

/** What is drawn before any valve is chosen. @type {Figure} */
export const usual = {
  drawing: "swing",
  element: "disc",
  hinged: true,
  lever: false,
  weight: false,
  spring: false,
  cushion: false,
};

/** The moving drawing of what a valve shows, as long as a pipe of three bores. @param {Figure} figure */
export function valve(figure) {
  /** @type {Record<string, number>} */ const parts = {}; // in bores
  if (figure.weight) parts.lever_arm = 0.92;
  if (figure.cushion) parts.cushion_arm = 0.8;
  const { a, g, set } = section({ figure, bore_m: 1, parts });
  const k = 150 / a.half;
  g.setAttribute("transform", `scale(${k})`);
  const whole = svg("g", { class: `valve v-${figure.drawing || figure.element}` }, g);
  set(0);
  return { g: whole, set, box: bounds(a, 0).map((v) => v * k) };
}

/** A pump: casing, discharge, and the mark of its turning. @param {number} r */
export function pump(r) {
  return svg(
    "g",
    { class: "pump" },
    svg("circle", { r, class: "p-case" }),
    svg("path", { d: `M${-r * 0.55},${r * 0.4}L0,${-r * 0.62}L${r * 0.55},${r * 0.4}`, class: "p-mark" }),
  );
}

/** The small picture of a valve for its row. @param {Figure} figure @param {number} opening @param {number} [size] */
export function icon(figure, opening, size = 44) {
  const m = valve(figure);
  m.set(opening);
  const [x0, y0, x1, y1] = m.box;
  return svg(
    "svg",
    {
      viewBox: `${x0} ${y0} ${x1 - x0} ${y1 - y0}`,
      width: size,
      height: size * 0.95,
      class: "icon",
      "aria-hidden": "true",
      focusable: "false",
    },
    m.g,
  );
}
