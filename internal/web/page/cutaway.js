// The cut-away of a valve: its body, its seat and its moving element where the run puts it.
import { h, svg } from "./dom.js";
import { anatomy, bounds, coil, turn } from "./anatomy.js";

/** @param {import("./anatomy.js").Shape} s */
const draw = ({ tag, ...attributes }) => svg(tag, attributes);

/** The body: all that is water, drawn twice so that the union has one wall. @param {import("./anatomy.js").Anatomy} a */
function body(a) {
  const wall = svg("g", { class: "cut-wall" }, a.water.map(draw));
  // A round way has its width as a stroke: its wall is a wider stroke.
  for (const e of wall.querySelectorAll(".cut-round"))
    e.setAttribute("stroke-width", String(Number(e.getAttribute("stroke-width")) + 12));
  const flanges = [-a.half, a.half - 9].map((x) => svg("rect", { x, y: -78, width: 9, height: 156 }));
  return [svg("g", { class: "cut-flange" }, flanges), wall, svg("g", { class: "cut-water" }, a.water.map(draw))];
}

/**
 * A valve cut open along its axis, in the units of its anatomy. What happens to it is set by
 * its opening.
 * @param {import("./types.js").CutawayInfo} info
 * @returns {{a: import("./anatomy.js").Anatomy, g: SVGGElement, set: (opening: number) => void}}
 */
export function section(info) {
  const a = anatomy(info);
  const moving = a.parts.map((p) => ({
    p,
    g: svg("g", { class: p.outside ? "cut-part cut-outside" : "cut-part" }, p.shapes.map(draw)),
  }));
  const spring = a.spring ? svg("path", { class: "cut-spring" }) : null;
  const of = (/** @type {boolean} */ outside) => moving.filter((m) => !!m.p.outside === outside).map((m) => m.g);
  const g = svg("g", {}, body(a), a.still.map(draw), of(false), spring, of(true));
  let shown = NaN;
  return {
    a,
    g,
    set(opening) {
      if (!Number.isFinite(opening) || opening === shown) return;
      shown = opening;
      for (const { p, g: e } of moving) {
        const at = p.place(opening);
        e.setAttribute("transform", `translate(${at.x},${at.y}) rotate(${at.deg})`);
      }
      if (spring && a.spring)
        spring.setAttribute("d", coil(a.spring.x1, a.spring.y1, a.spring.x2(opening), a.spring.y2(opening)));
    },
  };
}

/**
 * The picture of one valve in the player, with the water that runs through it.
 * @param {import("./types.js").CutawayInfo} info
 * @returns {{box: HTMLElement, set: (opening: number, flowShare: number) => void, words: string}}
 */
export function cutaway(info) {
  const { a, g, set } = section(info);
  const shaft = svg("path", { d: "M-0.5,0H0.5", class: "cut-shaft" });
  const head = svg("path", { d: "M0,-9L15,0L0,9Z", class: "cut-head" });
  const arrow = svg("g", { class: "cut-flow" }, shaft, head);
  const angle = turn(info.position);
  g.append(arrow);
  g.setAttribute("transform", `rotate(${angle})`);
  const [x0, y0, x1, y1] = bounds(a, angle);
  const position = info.position || "horizontal";
  const words = `Cut-away of the valve: ${a.kind}, ${position}; ${a.words}.`;
  const picture = svg(
    "svg",
    {
      viewBox: `${x0} ${y0} ${x1 - x0} ${y1 - y0}`,
      class: "cut",
      role: "img",
      "aria-label": words,
      focusable: "false",
    },
    g,
  );
  const note = a.usual.length
    ? `Drawn with usual proportions for: ${a.usual.join(", ")}.`
    : "To the proportions of its size.";
  const box = h("figure", { class: "cut-box" }, picture, h("figcaption", {}, `${a.kind}, ${position}. ${note}`));

  let long = NaN; // of the arrow, to a tenth of a unit: less cannot be seen
  return {
    box,
    words,
    set(opening, flowShare) {
      set(opening);
      const l = Number.isFinite(flowShare) ? Math.round(600 * Math.max(-1, Math.min(1, flowShare))) / 10 : 0;
      if (l === long) return;
      long = l;
      arrow.setAttribute("transform", `translate(${-a.half + 62},0) scale(${l < 0 ? -1 : 1},1)`);
      shaft.setAttribute("transform", `scale(${Math.abs(l)},1)`);
      head.setAttribute("transform", `translate(${Math.abs(l) / 2},0) scale(${Math.abs(l) < 0.6 ? 0 : 1})`);
    },
  };
}
