// How a check valve is built inside, to the proportions that the catalog gives: where the
// seat is, what moves, and along which way. Lengths are in hundredths of the bore; flow
// runs along +x and "up" is −y when the pipe lies. Nothing here touches the page.

/** @typedef {{x: number, y: number, deg: number}} Place */
/** @typedef {{tag: "path"|"rect"|"circle"|"ellipse", class?: string, [attribute: string]: any}} Shape */
/** @typedef {{shapes: Shape[], place: (opening: number) => Place, outside?: boolean}} Part */
/** @typedef {{x1: number, y1: number, x2: (opening: number) => number, y2: (opening: number) => number, outside: boolean}} Spring */
/** @typedef {{kind: string, words: string, half: number, water: Shape[], still: Shape[], parts: Part[], spring: Spring|null, usual: string[], seat: [number, number][]}} Anatomy */
/** @typedef {import("./types.js").CutawayInfo} Info */

const R = 50; // half the bore
const PLATE = 7; // thickness of a plate
const deg = (/** @type {number} */ rad) => (rad * 180) / Math.PI;
/** Two decimals are a fiftieth of a millimeter here. @param {number} v */
const n = (v) => Math.round(v * 100) / 100;
const d = (/** @type {number[]} */ ...xy) =>
  "M" + xy.map((v, i) => (i && i % 2 === 0 ? "L" : i ? "," : "") + n(v)).join("");

/**
 * Reads the valve's own numbers, and remembers which were not there.
 * @param {Info} info
 */
function measures(info) {
  const parts = info.parts || {};
  const bore = info.bore_m || parts.bore || 1;
  /** @type {string[]} */ const usual = [];
  const take = (/** @type {string} */ key, /** @type {number} */ fallback) => {
    if (Number.isFinite(parts[key])) return parts[key];
    usual.push(key.replaceAll("_", " "));
    return fallback;
  };
  return {
    usual,
    has: (/** @type {string} */ key) => parts[key] > 0,
    length: (/** @type {string} */ key, /** @type {number} */ ofBore) => (100 * take(key, ofBore * bore)) / bore,
    angle: (/** @type {string} */ key, /** @type {number} */ degrees) => take(key, (degrees * Math.PI) / 180),
  };
}

/** @typedef {ReturnType<typeof measures>} Measures */

const pipe = (/** @type {number} */ half) =>
  /** @type {Shape} */ ({ tag: "rect", x: -half, y: -R, width: 2 * half, height: 2 * R });

/** The seat's two edges, and the wall that carries them. @param {number} radius @param {number} tilt from the plane across the pipe @param {number} reach */
function seat(radius, tilt, reach) {
  const [sx, sy] = [Math.sin(tilt), Math.cos(tilt)];
  const out = Math.max(reach / sy, radius + 7);
  /** @type {[number, number][]} */
  const edges = [
    [-radius * sx, -radius * sy],
    [radius * sx, radius * sy],
  ];
  const wall = [-1, 1].map((s) => d(s * radius * sx, s * radius * sy, s * out * sx, s * out * sy)).join("");
  return { edges, wall: /** @type {Shape} */ ({ tag: "path", d: wall, class: "cut-seat" }) };
}

/** @param {Measures} m @returns {Anatomy} */
function pocket(m) {
  const r = m.length("ball_diameter", 1.25) / 2;
  const rs = Math.min(m.length("seat_diameter", 1) / 2, r * 0.999);
  const guide = m.angle("guide_angle", 45);
  const tilt = m.angle("seat_tilt", 25);
  const travel = m.length("travel", 1.225);
  const wide = m.length("pocket_diameter", 1.35);
  const sag = Math.sqrt(r * r - rs * rs); // of the ball's middle behind the seat's plane
  const x0 = sag * Math.cos(tilt);
  const y0 = -sag * Math.sin(tilt);
  const place = (/** @type {number} */ o) => ({
    x: x0 + o * travel * Math.cos(guide),
    y: y0 - o * travel * Math.sin(guide),
    deg: deg((o * travel) / r),
  });
  const end = place(1);
  const s = seat(rs, tilt, R + 6);
  return {
    kind: "ball in an inclined pocket",
    words: "the ball rolls up its guide, out of the stream",
    half: 150,
    usual: m.usual,
    seat: s.edges,
    spring: null,
    water: [pipe(150), { tag: "path", d: d(x0, y0, end.x, end.y), class: "cut-round", "stroke-width": n(wide) }],
    still: [s.wall],
    parts: [{ shapes: ballShapes(r), place }],
  };
}

/** @param {number} r @returns {Shape[]} */
const ballShapes = (r) => [
  { tag: "circle", r: n(r), class: "cut-rubber" },
  { tag: "circle", r: n(r * 0.82), class: "cut-element" },
  { tag: "path", d: d(-r * 0.5, 0, r * 0.5, 0) + d(0, -r * 0.5, 0, r * 0.5), class: "cut-mark" },
];

/** @param {Measures} m @returns {Anatomy} */
function cage(m) {
  const r = m.length("ball_diameter", 1.267) / 2;
  const rs = Math.min(m.length("seat_diameter", 1) / 2, r * 0.999);
  const chamber = m.length("chamber_diameter", 1.613) / 2;
  const stroke = m.length("stroke", 0.8);
  const x0 = Math.sqrt(r * r - rs * rs);
  const stop = x0 + stroke + r;
  const half = Math.max(150, stop + 60);
  const s = seat(rs, 0, chamber + 6);
  const rib = (/** @type {number} */ y) => d(stop - r * 0.12, y, stop + 22, y);
  return {
    kind: "ball in a cage",
    words: "the ball lifts along the axis into a wide chamber",
    half,
    usual: m.usual,
    seat: s.edges,
    spring: null,
    water: [pipe(half), { tag: "rect", x: 0, y: n(-chamber), width: n(stop + 12), height: n(2 * chamber), rx: 24 }],
    still: [
      s.wall,
      {
        tag: "path",
        d:
          rib(-R * 0.55) +
          rib(R * 0.55) +
          d(stop + 22, -chamber, stop + 22, -R * 0.5) +
          d(stop + 22, R * 0.5, stop + 22, chamber),
        class: "cut-rib",
      },
    ],
    parts: [{ shapes: ballShapes(r), place: (o) => ({ x: x0 + o * stroke, y: 0, deg: 0 }) }],
  };
}

/** What a part sweeps as it turns: the body must leave it room. @param {number} px @param {number} py @param {number} reach @param {number} a0 @param {number} a1 @returns {Shape} */
function sweep(px, py, reach, a0, a1) {
  const points = [px, py];
  for (let i = 0; i <= 12; i++) {
    const a = a0 + ((a1 - a0) * i) / 12;
    points.push(px + reach * Math.sin(a), py + reach * Math.cos(a));
  }
  return { tag: "path", d: d(...points) + "Z", class: "cut-room" };
}

/**
 * A disc on a hinge outside it, or about a pivot inside its rim.
 * @param {Measures} m @param {"swing"|"tilting"|"flap"} kind
 */
function hinged(m, kind) {
  const usual = { swing: [1.1, 0.625, 5, 65], tilting: [1.05, 0.16, 25, 45], flap: [1.075, 0.575, 45, 35] }[kind];
  const disc = m.length("disc_diameter", usual[0]) / 2;
  const arm = m.length("hinge_to_center", usual[1]);
  const tilt = m.angle("seat_angle", usual[2]);
  const stroke = m.angle("stroke_angle", usual[3]);
  const rs = Math.min(kind === "tilting" ? R * 0.98 : m.length("seat_diameter", 1) / 2, disc);
  const hx = -arm * Math.sin(tilt);
  const hy = -arm * Math.cos(tilt);
  const place = (/** @type {number} */ o) => ({ x: hx, y: hy, deg: -deg(tilt + o * stroke) });
  const s = seat(rs, tilt, R + 8);
  const thick = kind === "flap" ? 15 : 11;
  /** @type {Shape[]} */
  const shapes = [
    {
      tag: "rect",
      x: 0,
      y: n(arm - disc),
      width: thick,
      height: n(2 * disc),
      rx: kind === "flap" ? 6 : 3,
      class: kind === "flap" ? "cut-rubber" : "cut-element",
    },
  ];
  if (kind !== "tilting")
    shapes.unshift({
      tag: "path",
      d: d(0, 0, thick * 0.7, Math.max(arm - disc * 0.4, 4)),
      class: kind === "flap" ? "cut-strip" : "cut-arm",
    });
  shapes.push({ tag: "circle", r: 6, class: "cut-pin" });
  /** @type {Shape[]} */
  const water = [
    pipe(150),
    { tag: "circle", cx: n(hx), cy: n(hy), r: kind === "tilting" ? 8 : 15 },
    sweep(hx, hy, arm + disc + 8, tilt - 0.06, tilt + stroke + 0.12),
  ];
  if (kind === "tilting")
    water.push(sweep(hx, hy, disc - arm + 8, tilt + Math.PI - 0.06, tilt + Math.PI + stroke + 0.06));
  return {
    hx,
    hy,
    stroke,
    arm,
    disc,
    tilt,
    anatomy: /** @type {Anatomy} */ ({
      kind: "",
      words: "",
      half: 150,
      usual: m.usual,
      seat: s.edges,
      spring: null,
      water,
      still: [s.wall],
      parts: [{ shapes, place }],
    }),
  };
}

/** @param {Measures} m @returns {Anatomy} */
function swing(m) {
  return { ...hinged(m, "swing").anatomy, kind: "swing disc", words: "the disc swings on a hinge above the bore" };
}

/**
 * A swing disc with what stands outside on its shaft. A lever's angle is given above the
 * true horizontal, so it depends on how the valve stands.
 * @param {Measures} m @param {Info} info @returns {Anatomy}
 */
function assisted(m, info) {
  const h = hinged(m, "swing");
  const weight = m.has("lever_arm");
  const cushion = m.has("cushion_arm");
  const level = weight ? m.angle("lever_angle", -30) : -Math.PI / 6;
  const turned = (-turn(info.position) * Math.PI) / 180; // of the body against the level
  const length = weight ? m.length("lever_arm", 1) : 85;
  const angle = (/** @type {number} */ o) => level + o * h.stroke - turned;
  const lever = /** @type {Part} */ ({
    outside: true,
    place: (o) => ({ x: h.hx, y: h.hy, deg: -deg(angle(o)) }),
    shapes: [{ tag: "path", d: d(0, 0, length, 0), class: "cut-arm" }],
  });
  if (weight)
    lever.shapes.push({ tag: "rect", x: n(length - 16), y: -15, width: 32, height: 30, rx: 3, class: "cut-element" });
  const out = {
    ...h.anatomy,
    kind: weight ? "swing disc with lever and weight" : "swing disc with lever and spring",
    words: "a lever outside on the shaft helps the disc shut",
    parts: [...h.anatomy.parts, lever],
  };
  const tip = (/** @type {number} */ reach) =>
    /** @type {const} */ ([
      (/** @type {number} */ o) => h.hx + reach * Math.cos(angle(o)),
      (/** @type {number} */ o) => h.hy - reach * Math.sin(angle(o)),
    ]);
  if (!weight) {
    const [x2, y2] = tip(length);
    const back = angle(0) - Math.PI / 2;
    out.spring = { x1: x2(0) + 42 * Math.cos(back), y1: y2(0) - 42 * Math.sin(back), x2, y2, outside: true };
  }
  if (cushion) {
    const reach = m.length("cushion_arm", 0.8);
    const [x, y] = tip(reach);
    const a = angle(0) - Math.PI / 2; // the piston is met from the side on which the lever falls
    const wide = m.length("piston_diameter", 0.3);
    const at = (/** @type {number} */ s) => [x(0.12) + s * Math.cos(a), y(0.12) - s * Math.sin(a)];
    out.kind = "swing disc with oil cushion";
    out.words = "an oil cylinder takes the last part of the disc's way";
    out.still = [
      ...out.still,
      { tag: "path", d: d(...at(24), ...at(70)), class: "cut-cylinder", "stroke-width": n(wide) },
      { tag: "path", d: d(...at(4), ...at(24)), class: "cut-rod" },
    ];
  }
  return out;
}

/** @param {Measures} m @returns {Anatomy} */
function flap(m) {
  return { ...hinged(m, "flap").anatomy, kind: "rubber flap", words: "the flap bends at its root on an inclined seat" };
}

/** @param {Measures} m @returns {Anatomy} */
function tilting(m) {
  return { ...hinged(m, "tilting").anatomy, kind: "tilting disc", words: "the disc turns about a pin inside its rim" };
}

/** @param {Measures} m @returns {Anatomy} */
function dual(m) {
  const half = m.length("disc_diameter", 0.975) / 2;
  const stroke = m.angle("stroke_angle", 80);
  const rs = Math.min(half, R * 0.96);
  const s = seat(rs, 0, R + 8);
  const plate = (/** @type {1|-1} */ side) =>
    /** @type {Part} */ ({
      shapes: [
        {
          tag: "rect",
          x: -PLATE,
          y: side > 0 ? 2 : n(-half),
          width: PLATE,
          height: n(half - 2),
          rx: 2,
          class: "cut-element",
        },
      ],
      place: (o) => ({ x: PLATE, y: 0, deg: -side * deg(o * stroke) }),
    });
  return {
    kind: "two plates on a pin, seen along the pin",
    words: "two half discs fold together downstream",
    half: 130,
    usual: m.usual,
    seat: s.edges,
    spring: null,
    water: [
      pipe(130),
      {
        tag: "rect",
        x: -18,
        y: n(-Math.max(half + 4, R)),
        width: n(half + 30),
        height: n(2 * Math.max(half + 4, R)),
        rx: 4,
      },
    ],
    still: [s.wall, { tag: "circle", r: 6, cx: PLATE, class: "cut-pin" }],
    parts: [plate(1), plate(-1)],
  };
}

/** @param {Measures} m @returns {Anatomy} */
function axial(m) {
  const disc = m.length("disc_diameter", 1) / 2;
  const stroke = m.length("stroke", 0.18);
  const rs = Math.min(m.length("seat_diameter", 0.9) / 2, disc);
  const hub = 12 + stroke + 40;
  const around = Math.hypot(disc, R) + 8; // leaves about the bore's area round the disc
  const [cx, rx] = [34, 96];
  const s = seat(rs, 0, around * Math.sqrt(1 - (cx / rx) ** 2)); // to the wall beside it
  return {
    kind: "disc on an axial stem with a spring",
    words: "the disc moves along the axis against its spring; the way is very short",
    half: 150,
    usual: m.usual,
    seat: s.edges,
    water: [pipe(150), { tag: "ellipse", cx, cy: 0, rx, ry: n(around) }],
    still: [
      s.wall,
      {
        tag: "path",
        d: `M${n(hub)},-20Q${n(hub + 56)},-14 ${n(hub + 64)},0Q${n(hub + 56)},14 ${n(hub)},20Z`,
        class: "cut-body",
      },
      {
        tag: "path",
        d: d(hub + 14, -20, hub + 14, -around + 6) + d(hub + 14, 20, hub + 14, around - 6),
        class: "cut-rib",
      },
    ],
    parts: [
      {
        shapes: [
          { tag: "path", d: `M0,${n(-disc)}Q-12,0 0,${n(disc)}H8V${n(-disc)}Z`, class: "cut-element" },
          { tag: "path", d: d(8, 0, hub + 8 - stroke, 0), class: "cut-arm" },
        ],
        place: (o) => ({ x: o * stroke, y: 0, deg: 0 }),
      },
    ],
    spring: { x1: hub, y1: 0, x2: (o) => 8 + o * stroke, y2: () => 0, outside: false },
  };
}

/** By the names that types give. @type {Record<string, (m: Measures, info: Info) => Anatomy>} */
const drawings = {
  "ball-pocket": pocket,
  "ball-cage": cage,
  swing,
  "swing-lever": assisted,
  flap,
  "tilting-disc": tilting,
  "dual-plate": dual,
  axial,
};

/** A type without a drawing of its own, drawn by what it says of itself. @param {Measures} m @param {Info} info @returns {Anatomy} */
function byTraits(m, info) {
  const f = info.figure;
  const build =
    f.element === "ball" ? cage : f.element === "plates" ? dual : f.lever ? assisted : f.hinged ? swing : axial;
  const out = build(m, info);
  if (build === axial && !f.spring) out.spring = null;
  const does = f.hinged ? "turns about its hinge" : "slides along its guide";
  return {
    ...out,
    kind: `${f.element} that ${does}${info.title ? ` (${info.title})` : ""}`,
    words: "drawn in general outline, not as this type is built",
  };
}

/** The inside of a valve. @param {Info} info @returns {Anatomy} */
export function anatomy(info) {
  return (drawings[info.figure.drawing] || byTraits)(measures(info), info);
}

/** Corners of a shape, with half the width of a thick line round its points. @param {Shape} s @returns {[number, number][]} */
function corners(s) {
  /** @type {[number, number][]} */ const out = [];
  const box = (
    /** @type {number} */ x0,
    /** @type {number} */ y0,
    /** @type {number} */ x1,
    /** @type {number} */ y1,
  ) => out.push([x0, y0], [x1, y0], [x0, y1], [x1, y1]);
  if (s.tag === "rect") box(s.x, s.y, s.x + s.width, s.y + s.height);
  else if (s.tag === "circle") box((s.cx || 0) - s.r, (s.cy || 0) - s.r, (s.cx || 0) + s.r, (s.cy || 0) + s.r);
  else if (s.tag === "ellipse") box(s.cx - s.rx, s.cy - s.ry, s.cx + s.rx, s.cy + s.ry);
  else {
    const half = (s["stroke-width"] || 0) / 2;
    for (const [, x, y] of s.d.matchAll(/(-?[\d.]+),(-?[\d.]+)/g))
      box(Number(x) - half, Number(y) - half, Number(x) + half, Number(y) + half);
  }
  return out;
}

/** The room that the valve takes with whatever moves in it, turned as it stands: left, top, right, bottom. @param {Anatomy} a @param {number} turned degrees, a quarter turn or none @returns {[number, number, number, number]} */
export function bounds(a, turned) {
  const points = [...a.water, ...a.still].flatMap(corners);
  points.push([-a.half, -78], [a.half, 78]);
  for (const part of a.parts) {
    for (const o of [0, 0.25, 0.5, 0.75, 1]) {
      const at = part.place(o);
      const [sin, cos] = [Math.sin((at.deg * Math.PI) / 180), Math.cos((at.deg * Math.PI) / 180)];
      for (const [x, y] of part.shapes.flatMap(corners))
        points.push([at.x + x * cos - y * sin, at.y + x * sin + y * cos]);
    }
  }
  if (a.spring) points.push([a.spring.x1, a.spring.y1]);
  const [sin, cos] = [Math.sin((turned * Math.PI) / 180), Math.cos((turned * Math.PI) / 180)];
  const xs = points.map(([x, y]) => x * cos - y * sin);
  const ys = points.map(([x, y]) => x * sin + y * cos);
  const wall = 9;
  return [Math.min(...xs) - wall, Math.min(...ys) - wall, Math.max(...xs) + wall, Math.max(...ys) + wall];
}

/** How far the drawing turns for where the water goes, degrees. @param {string|undefined} position */
export const turn = (position) => (position?.includes("up") ? -90 : position?.includes("down") ? 90 : 0);

/** A coil between two points. @param {number} x1 @param {number} y1 @param {number} x2 @param {number} y2 */
export function coil(x1, y1, x2, y2) {
  const turns = 8;
  const length = Math.hypot(x2 - x1, y2 - y1) || 1;
  const [ux, uy] = [(x2 - x1) / length, (y2 - y1) / length];
  const points = [x1, y1];
  for (let i = 1; i < turns; i++) {
    const side = i % 2 ? 9 : -9;
    const s = (length * i) / turns;
    points.push(x1 + ux * s - uy * side, y1 + uy * s + ux * side);
  }
  return d(...points, x2, y2);
}
