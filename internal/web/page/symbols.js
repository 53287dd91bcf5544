// The check valves, each type in its own small drawing that can move. One geometry
// serves the sheet (small) and the cut-away (large): flow runs along +x, the bore is
// 100 units wide, its axis is y = 0, and "up" is −y when the pipe lies.
import { svg } from "./dom.js";

/** @typedef {{g: SVGGElement, set: (opening: number) => void}} Moving */

const BORE = 50;
const rad = (/** @type {number} */ d) => (d * Math.PI) / 180;

/** Which drawing a family or type takes. @param {string} name */
export function typeOf(name) {
  for (const [part, type] of [["pocket", "pocket"], ["cage", "cage"], ["cushion", "cushioned"], ["weight", "weight"], ["spring-swing", "spring"],
    ["assisted-spring", "spring"], ["assisted", "weight"], ["swing", "swing"], ["flap", "flap"], ["dual", "dual"], ["tilt", "tilting"], ["axial", "axial"], ["ball", "pocket"]]) {
    if (name.includes(part)) return type;
  }
  return "swing";
}

/** @type {Record<string, string>} */
const words = {
  pocket: "ball in an inclined pocket", cage: "ball in a cage", cushioned: "swing disc with oil cushion", weight: "swing disc with lever and weight",
  spring: "swing disc with lever and spring", swing: "swing disc", flap: "rubber flap", dual: "two plates on a pin", tilting: "tilting disc", axial: "disc on an axial stem",
};
/** What the drawing shows, in words. @param {string} name */
export const pictured = (name) => words[typeOf(name)];

/**
 * Wall and water of a body: the shapes are drawn as thick lines first and filled
 * over them, so that their union gets one outline.
 * @param {SVGElement[]} shapes
 */
function body(...shapes) {
  const wall = svg("g", { class: "v-wall" });
  const water = svg("g", { class: "v-water" });
  for (const s of shapes) {
    wall.append(s.cloneNode(true));
    water.append(s);
  }
  return [wall, water];
}

const pipe = () => svg("rect", { x: -150, y: -BORE, width: 300, height: 2 * BORE });
const flanges = () => svg("g", { class: "v-flange" }, ...[-150, 142].map((x) => svg("rect", { x, y: -78, width: 8, height: 156 })));

/** @param {number} r @param {number} fill */
function ball(r, fill = 1) {
  return svg("g", { class: "v-part" }, svg("circle", { r, class: fill ? "v-ball" : "v-ball v-float" }), svg("path", { d: `M${-r * 0.55},0H${r * 0.55}M0,${-r * 0.55}V${r * 0.55}`, class: "v-mark" }));
}

/** @returns {Moving} */
function pocket() {
  const r = 62;
  const from = { x: 6, y: -6 };
  const travel = 122;
  const along = Math.SQRT1_2;
  const end = { x: from.x + travel * along, y: from.y - travel * along };
  const capsule = svg("path", { d: `M${from.x},${from.y}L${end.x},${end.y}`, class: "v-capsule" });
  const b = ball(r);
  const g = svg("g", {}, flanges(), ...body(pipe(), capsule), svg("path", { d: "M-42,-50L-18,50", class: "v-seat" }), b);
  return {
    g,
    set(o) {
      const s = o * travel;
      b.setAttribute("transform", `translate(${from.x + s * along},${from.y - s * along}) rotate(${(s / r) * -57.3})`);
    },
  };
}

/** @returns {Moving} */
function cage() {
  const b = ball(60, 0);
  const chamber = svg("rect", { x: -36, y: -86, width: 176, height: 172, rx: 40 });
  const bars = svg("path", { d: "M112,-70V-44M112,44V70M112,-20V20", class: "v-seat" });
  const g = svg("g", {}, flanges(), ...body(pipe(), chamber), svg("path", { d: "M-30,-86V-48M-30,48V86", class: "v-seat" }), bars, b);
  return { g, set: (o) => b.setAttribute("transform", `translate(${6 + o * 44},0)`) };
}

/**
 * A disc on an arm that hangs from a hinge over the bore.
 * @param {"swing"|"weight"|"spring"|"cushioned"} kind
 * @returns {Moving}
 */
function swing(kind) {
  const hx = -34;
  const hy = -62;
  const disc = svg("g", { class: "v-part" },
    svg("path", { d: "M0,0V62", class: "v-arm" }), svg("rect", { x: -7, y: 6, width: 12, height: 110, rx: 3, class: "v-disc" }), svg("circle", { r: 7, class: "v-pin" }));
  const outside = svg("g", { class: "v-lever" });
  if (kind !== "swing") outside.append(svg("path", { d: "M0,0H92", class: "v-arm" }));
  if (kind === "weight" || kind === "cushioned") outside.append(svg("rect", { x: 66, y: -15, width: 34, height: 30, rx: 3, class: "v-disc" }));
  const spring = svg("path", { class: "v-spring" });
  const rod = svg("path", { class: "v-arm" });
  const bonnet = svg("path", { d: "M-60,-50L-60,-96Q-60,-118 -38,-118H62Q100,-118 106,-50Z" });
  const g = svg("g", {}, flanges(), ...body(pipe(), bonnet), svg("path", { d: "M-38,-60L-29,-50M-29,50L-29,58", class: "v-seat" }), disc);
  if (kind === "spring") g.append(spring);
  if (kind === "cushioned") g.append(svg("rect", { x: 38, y: -196, width: 30, height: 46, rx: 3, class: "v-wallonly" }), rod);
  if (kind !== "swing") g.append(outside);
  return {
    g,
    set(o) {
      const a = 5 + o * 60;
      disc.setAttribute("transform", `translate(${hx},${hy}) rotate(${-a})`);
      const l = -30 + o * 60;
      outside.setAttribute("transform", `translate(${hx},${hy}) rotate(${-l})`);
      const tip = { x: hx + 88 * Math.cos(rad(l)), y: hy - 88 * Math.sin(rad(l)) };
      if (kind === "spring") spring.setAttribute("d", coil(tip.x, tip.y, 96, 40));
      if (kind === "cushioned") rod.setAttribute("d", `M53,-160L${tip.x},${tip.y}`);
    },
  };
}

/** A coil spring from a to b. @param {number} x1 @param {number} y1 @param {number} x2 @param {number} y2 */
function coil(x1, y1, x2, y2) {
  const n = 10;
  const dx = (x2 - x1) / n;
  const dy = (y2 - y1) / n;
  const l = Math.hypot(dx, dy) || 1;
  let d = `M${x1},${y1}`;
  for (let i = 1; i < n; i++) {
    const side = i % 2 ? 9 : -9;
    d += `L${x1 + dx * i - (dy / l) * side},${y1 + dy * i + (dx / l) * side}`;
  }
  return d + `L${x2},${y2}`;
}

/** @returns {Moving} */
function flap() {
  const f = svg("g", { class: "v-part" });
  const leaf = svg("path", { class: "v-rubber" });
  const hinge = svg("path", { class: "v-hinge" });
  f.append(hinge, leaf);
  const bonnet = svg("path", { d: "M-76,-50V-78Q-76,-92 -60,-92H60Q112,-92 124,-50Z" });
  const g = svg("g", {}, flanges(), ...body(pipe(), bonnet), svg("path", { d: "M-64,-56L-46,-46M42,50L52,58", class: "v-seat" }), f);
  return {
    g,
    set(o) {
      const a = rad(43 + o * 35); // from the vertical
      const x = -58;
      const y = -60;
      const at = (/** @type {number} */ s) => `${x + 14 + s * Math.sin(a)},${y + 6 + s * Math.cos(a)}`;
      hinge.setAttribute("d", `M${x - 14},${y - 4}Q${x + 4},${y - 2} ${at(14)}`);
      leaf.setAttribute("d", `M${at(14)}L${at(146)}`);
    },
  };
}

/** @returns {Moving} */
function dual() {
  const plates = [1, -1].map((side) => svg("g", { class: "v-part" }, svg("rect", { x: -4, y: side > 0 ? 3 : -57, width: 9, height: 54, rx: 2, class: "v-disc" })));
  const spring = svg("path", { d: "M8,-12A14,14 0 1 1 8,12", class: "v-spring", transform: "translate(-18,0)" });
  const g = svg("g", {}, flanges(), ...body(pipe(), svg("rect", { x: -34, y: -62, width: 110, height: 124, rx: 6 })),
    svg("path", { d: "M-26,-60V-48M-26,48V60", class: "v-seat" }), ...plates, svg("circle", { cx: -16, r: 7, class: "v-pin" }), spring);
  return { g, set: (o) => plates.forEach((p, i) => p.setAttribute("transform", `translate(-16,0) rotate(${(i ? 1 : -1) * o * 78})`)) };
}

/** @returns {Moving} */
function tilting() {
  const disc = svg("g", { class: "v-part" }, svg("path", { d: "M0,-48Q14,0 0,62Q-10,0 0,-48Z", class: "v-disc" }), svg("circle", { r: 6, class: "v-pin" }));
  const g = svg("g", {}, flanges(), ...body(pipe(), svg("ellipse", { rx: 96, ry: 74 })), svg("path", { d: "M-34,-56L-24,-44M30,48L42,60", class: "v-seat" }), disc);
  return { g, set: (o) => disc.setAttribute("transform", `translate(-4,-8) rotate(${-28 - o * 50})`) };
}

/** @returns {Moving} */
function axial() {
  const part = svg("g", { class: "v-part" }, svg("path", { d: "M-8,-46Q-26,0 -8,46L4,46V-46Z", class: "v-disc" }), svg("path", { d: "M4,0H76", class: "v-arm" }));
  const spring = svg("path", { class: "v-spring" });
  const hub = svg("path", { d: "M66,-22Q112,-14 124,0Q112,14 66,22Z", class: "v-disc" });
  const ribs = svg("path", { d: "M82,-22V-74M82,22V74", class: "v-seat" });
  const g = svg("g", {}, flanges(), ...body(pipe(), svg("ellipse", { cx: 20, rx: 104, ry: 78 })), svg("path", { d: "M-34,-60L-26,-42M-34,60L-26,42", class: "v-seat" }), ribs, hub, spring, part);
  return {
    g,
    set(o) {
      const x = -22 + o * 40;
      part.setAttribute("transform", `translate(${x},0)`);
      spring.setAttribute("d", coil(x + 6, 0, 66, 0));
    },
  };
}

/** The moving drawing of a family or type. @param {string} name @returns {Moving} */
export function valve(name) {
  const t = typeOf(name);
  const m = t === "pocket" ? pocket() : t === "cage" ? cage() : t === "flap" ? flap() : t === "dual" ? dual() : t === "tilting" ? tilting()
    : t === "axial" ? axial() : swing(/** @type {any} */ (t));
  m.g.setAttribute("class", `valve v-${t}`);
  m.set(0);
  return m;
}

/** How far the drawing turns for where the water goes. @param {string} position */
export const turn = (position) => (position.includes("up") ? -90 : position.includes("down") ? 90 : 0);

/** A pump: casing, discharge, and the mark of its turning. @param {number} r */
export function pump(r) {
  return svg("g", { class: "pump" }, svg("circle", { r, class: "p-case" }), svg("path", { d: `M${-r * 0.55},${r * 0.4}L0,${-r * 0.62}L${r * 0.55},${r * 0.4}`, class: "p-mark" }));
}

/** The small picture of a family for its row. @param {string} family @param {number} opening @param {number} [size] */
export function icon(family, opening, size = 44) {
  const m = valve(family);
  m.set(opening);
  return svg("svg", { viewBox: "-158 -205 316 300", width: size, height: size * 0.95, class: "icon", "aria-hidden": "true", focusable: "false" }, m.g);
}
