// The small pictures of the sheet and the rows: check valves, cut open as in the player but
// with usual proportions and bold lines, and the pump.
import { svg } from "./dom.js";
import { bounds } from "./anatomy.js";
import { section } from "./cutaway.js";

/**
 * The type that a family's name tells of, and what of it shows outside. The page knows
 * families by their names alone.
 * @type {[string, string, Record<string, number>?][]}
 */
const kinds = [
  ["pocket", "ball-pocket"], ["cage", "ball-cage"], ["cushion", "swing-cushioned", { lever_arm: 0.92, cushion_arm: 0.8 }], ["weight", "swing-assisted", { lever_arm: 0.92 }],
  ["spring-swing", "swing-assisted"], ["assisted-spring", "swing-assisted"], ["assisted", "swing-assisted", { lever_arm: 0.92 }], ["swing", "swing"], ["flap", "flap"], ["dual", "dual-plate"], ["tilt", "tilting-disc"],
  ["axial", "axial"], ["ball", "ball-pocket"],
];

/** The moving drawing of a family or type, as long as a pipe of three bores. @param {string} name */
export function valve(name) {
  const [, type, parts] = kinds.find(([part]) => name.includes(part)) || ["", "swing"];
  const { a, g, set } = section({ type, bore_m: 1, parts });
  const k = 150 / a.half;
  g.setAttribute("transform", `scale(${k})`);
  const whole = svg("g", { class: `valve v-${type}` }, g);
  set(0);
  return { g: whole, set, box: bounds(a, 0).map((v) => v * k) };
}

/** A pump: casing, discharge, and the mark of its turning. @param {number} r */
export function pump(r) {
  return svg("g", { class: "pump" }, svg("circle", { r, class: "p-case" }), svg("path", { d: `M${-r * 0.55},${r * 0.4}L0,${-r * 0.62}L${r * 0.55},${r * 0.4}`, class: "p-mark" }));
}

/** The small picture of a family for its row. @param {string} family @param {number} opening @param {number} [size] */
export function icon(family, opening, size = 44) {
  const m = valve(family);
  m.set(opening);
  const [x0, y0, x1, y1] = m.box;
  return svg("svg", { viewBox: `${x0} ${y0} ${x1 - x0} ${y1 - y0}`, width: size, height: size * 0.95, class: "icon", "aria-hidden": "true", focusable: "false" }, m.g);
}
