// Surge devices on the drawing of the station.
import { svg } from "./dom.js";

/** What each kind of surge device looks like above the pipe, drawn from its foot up. */
const shapes = {
  "air vessel": () => [
    svg("rect", { x: -14, y: -53, width: 28, height: 42, rx: 13, class: "vessel-case" }),
    svg("path", { d: "M-13,-29h26", class: "surface" }),
  ],
  "air valve": () => [
    svg("circle", { cx: 0, cy: -21, r: 8, class: "vessel-case" }),
    svg("path", { d: "M-4,-18L0,-25L4,-18", class: "level" }),
  ],
  "relief valve": () => [
    svg("path", { d: "M-7,-14h14L0,-22ZM0,-22h16v-7h-16Z", class: "vessel-case" }),
    svg("path", { d: "M0,-29v-8M-4,-33h8", class: "surface" }),
  ],
  "stand-pipe": () => [
    svg("rect", { x: -5, y: -60, width: 10, height: 50, class: "vessel-case" }),
    svg("path", { d: "M-5,-36h10", class: "surface" }),
  ],
};

/** A surge device at the header or on the main. @param {import("./types.js").Device} v @param {import("./sheet.js").Plan} p */
export function device(v, p) {
  const at = v.x_m > 0 ? { x: p.x(v.x_m), y: p.y(v.elevation_m) - 4 } : { x: p.header.x, y: p.header.y - 9 };
  const shape = shapes[/** @type {keyof typeof shapes} */ (v.kind)];
  return svg(
    "g",
    { class: v.assumed ? "vessel guess" : "vessel", transform: `translate(${at.x},${at.y})` },
    svg("title", {}, v.name),
    svg("path", { d: "M0,0v-14", class: "pipe-wall thin" }),
    ...shape(),
  );
}
