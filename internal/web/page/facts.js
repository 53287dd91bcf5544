// The numbers on the drawing, and the list of all facts under it.
import { at, css, h, put, upper } from "./dom.js";
import { draw, onMain, plan } from "./sheet.js";
import { asTable, savers } from "./take.js";
import { state, on, shownValve } from "./state.js";
import { value } from "./field.js";
import { foremost, label } from "./labels.js";
import { entries } from "./entries.js";
import { usual } from "./symbols.js";

/** @typedef {import("./types.js").Field} Field */
/** @typedef {import("./sheet.js").Plan} Plan */

/** The places of the drawing, in the order of the water. @type {[string, string][]} */
const places = [
  ["service", "Liquid"],
  ["wet_well", "Wet well"],
  ["pump", "Pumps"],
  ["valve", "Check valve"],
  ["branch", "Branch"],
  ["header", "Header"],
  ["main", "Main"],
  ["outlet", "Outlet"],
  ["operation", "Operation"],
];

/** @param {Field[]} fields @param {string} place */
export const standing = (fields, place) => fields.filter((f) => f.at === place || f.at.startsWith(place + "."));

/** A tag on the drawing. @param {string} place @param {string} title @param {Field[]} fields @param {number} most */
function tag(place, title, fields, most) {
  const few = foremost(fields, most);
  const rest = fields.length - few.length;
  return h(
    "div",
    { class: "tag", role: "group", "aria-label": title },
    h("span", { class: "tag-title" }, title),
    h(
      "ul",
      {},
      ...few.map((f) =>
        h("li", {}, h("span", { class: "lab", "aria-hidden": "true" }, label(f)), value(f, { brief: true })),
      ),
    ),
    rest > 0
      ? h(
          "button",
          {
            type: "button",
            class: "more",
            "aria-label": `${rest} more facts of ${title}`,
            onclick: () => openFacts(place),
          },
          `+ ${rest}`,
        )
      : null,
  );
}

/** Opens the list of facts at a place. @param {string} place */
export function openFacts(place) {
  const all = /** @type {HTMLDetailsElement} */ (at("facts"));
  all.open = true;
  if (state.sheet) list(state.sheet.fields); // the list that is just opened is drawn by an event that comes later
  const group = document.getElementById("facts-" + place);
  group?.scrollIntoView({ block: "center" });
  /** @type {HTMLElement|null} */ (group?.querySelector("button"))?.focus();
}

/** Positions a child of the drawing, in px. @param {HTMLElement} e @param {number} x @param {number} y @param {string} [how] */
function stand(e, x, y, how = "") {
  css(e, "left", `${x}px`);
  css(e, "top", `${y}px`);
  if (how) e.classList.add(how);
  return e;
}

/** Where the tags of a wide drawing stand. @param {Plan} p @returns {Record<string, [number, number, number, string]>} */
function spots(p) {
  const narrow = p.w < 1000;
  const mid = (p.start.x + p.end.x) / 2;
  const midY = (p.start.y + p.end.y) / 2;
  // Beside a riser there is room for the pumps; else the valve stands there, and they go up.
  const rises = p.header.y < p.valve.y - 10;
  const down = p.header.y > p.valve.y + 10;
  /** @type {Record<string, [number, number, number, string]>} */
  const top = rises
    ? {
        valve: [p.well.x2 + 20, 8, narrow ? 3 : 4, ""],
        branch: [p.well.x2 + 190, 8, narrow ? 2 : 3, ""],
        header: [p.well.x2 + 330, 8, 1, ""],
        pump: [Math.max(p.pump.x + 60, p.riserX + 58), p.floor - 110, narrow ? 3 : 4, ""],
      }
    : {
        pump: [narrow ? 50 : 58, 136, 3, ""],
        valve: [p.valve.x - 40, 8, narrow ? 3 : 4, ""],
        branch: [p.valve.x + 110, 8, narrow ? 2 : 3, ""],
        header: [p.header.x - (down ? 70 : 50), p.header.y + (down ? -86 : 26), 1, ""],
      };
  if (p.w < 760) delete top.header; // no room before the outlet: it stands among all facts
  return {
    service: [narrow ? 50 : 58, 8, narrow ? 3 : 4, ""],
    ...top,
    main: [mid + 26, Math.max(midY + 34, 150), narrow ? 4 : 5, ""],
    outlet: [p.end.x - 20, Math.max(4, p.outlet - 84), 1, "right"],
  };
}

/** Of a drawing on paper, px: what stands on it must keep its place when the sheet is narrow. */
const PAPER = 620;

/** The valve that is drawn, and how it stands: all that an answer brings to the sheet. */
function valveDrawn() {
  const row = state.answer?.rows.find((r) => r.id === shownValve());
  const c = state.answer?.study.candidates.find((x) => x.id === shownValve());
  return { figure: row?.figure || usual, opening: c?.opening ?? 0.5 };
}

/** What was drawn last, so that an answer with the same valve draws nothing. */ let last = "";

/** Draws sheet and tags anew. @param {number} [width] that of the window where left out */
function show(width) {
  const s = state.sheet;
  if (!s) return state.text ? undefined : blank(width);
  last = JSON.stringify(valveDrawn());
  const box = at("drawing");
  const w = width || Math.max(300, box.clientWidth);
  const p = plan(s.drawing, w);
  const pic = draw(s.drawing, p, { ...valveDrawn(), us: s.station.units === "US", place: place(s.fields) });
  const tags = [];
  const high = standing(s.fields, "wet_well.high");
  const low = standing(s.fields, "wet_well.low");
  if (p.wide) {
    const where = spots(p);
    for (const [place, title] of places) {
      // The static head stands at its own measure.
      const fields = standing(s.fields, place).filter((f) => f.path !== "duty.static_head");
      if (!where[place] || fields.length === 0) continue;
      const [x, y, most, how] = where[place];
      tags.push(stand(tag(place, title, fields, most), x, y, how));
    }
    for (const [f, y] of /** @type {[Field|undefined, number][]} */ ([
      [high[0], p.high - 27],
      [low[0], Math.max(p.low + 1, p.high + 4)],
    ]))
      if (f) tags.push(stand(h("div", { class: "lvl" }, value(f, { name: true })), p.well.x1 + 22, y));
  }
  const head = s.fields.find((f) => f.path === "duty.static_head");
  if (p.wide && head && Math.abs(p.high - p.outlet) > 70)
    tags.push(
      stand(
        h(
          "div",
          { class: "static" },
          h("span", { class: "lab", "aria-hidden": "true" }, "static head"),
          value(head, { brief: true }),
        ),
        p.lift,
        Math.min(p.high, p.outlet) + Math.abs(p.high - p.outlet) * 0.3,
      ),
    );
  const focus = /** @type {HTMLElement|null} */ (document.activeElement)?.dataset?.path;
  put(box, pic, ...tags, p.wide ? null : strip(s.fields), title(s));
  if (p.wide) {
    clear(box, p);
    lead(pic, p, box, s.drawing);
  }
  list(s.fields);
  acts(s);
  if (focus)
    /** @type {HTMLElement|null} */ (document.querySelector(`[data-path="${CSS.escape(focus)}"]`))?.focus({
      preventScroll: true,
    });
}

/** Where the valve stands, as far as it is known. @param {Field[]} fields */
const place = (fields) => {
  const f = fields.find((x) => x.path === "valve.place");
  return f?.value || f?.text || "";
};

/** A usual station, pale, as long as nothing is known of one. @type {import("./types.js").Drawing} */
const USUAL = {
  wet_well: { high_m: 0, low_m: -1, assumed: true },
  valve: { elevation_m: -1, position: "flow up", assumed: true },
  outlet_m: 12,
  outlet_assumed: true,
  pumps: [{ name: "", count: 2, standby: 0, submersible: false, assumed: true }],
  branch: { length_m: 6, diameter_m: 0.15, assumed: true },
  header: true,
  main: [
    { x_m: 0, elevation_m: -1 },
    { x_m: 1000, elevation_m: 12 },
  ],
  profile_given: false,
  ground: [],
  main_diameter_m: 0.2,
  main_assumed: true,
  devices: [],
};

/** @param {number} [width] */
function blank(width) {
  last = "";
  const box = at("drawing");
  const pic = draw(USUAL, plan(USUAL, width || Math.max(300, box.clientWidth)), {
    figure: usual,
    opening: 0.5,
    us: true,
  });
  for (const e of pic.querySelectorAll(".scale, .key")) e.remove(); // nothing of it is a number
  pic.setAttribute("aria-label", "A usual station, as a picture: nothing of it is known yet.");
  put(box, pic);
  put(at("sheet-acts"));
}

/** The facts as a spreadsheet takes them. @param {Field[]} fields @returns {string[][]} */
const table = (fields) => [
  ["Place", "Fact", "Value", "Origin"],
  ...places.flatMap(([at, name]) =>
    standing(fields, at)
      .filter((f) => f.text || f.value)
      .map((f) => [name, upper(f.label), f.value || f.text, f.origin]),
  ),
];

/** What can be done with the drawing. @param {import("./types.js").Sheet} s */
function acts(s) {
  put(
    at("sheet-acts"),
    h(
      "p",
      { class: "hint" },
      "Click a number to change it. ",
      h("span", { class: "assumed-sample" }, "Dashed"),
      " ones are assumed.",
    ),
    savers(
      () => at("drawing").querySelector("svg"),
      `drawing of ${s.station.name || "the station"}`,
      () => at("drawing"),
    ),
    asTable("facts of the station", () => table(state.sheet?.fields || [])),
  );
}

/** On a narrow window the tags stand under the drawing, in the order of the water. @param {Field[]} fields */
function strip(fields) {
  const shown = [
    ["wet_well", "Wet well", 3],
    ["pump", "Pumps", 4],
    ["valve", "Check valve", 3],
    ["branch", "Branch", 2],
    ["main", "Main", 4],
    ["outlet", "Outlet", 2],
    ["service", "Liquid", 2],
    ["operation", "Operation", 2],
  ];
  return h(
    "div",
    { class: "strip" },
    ...shown.map(([place, name, most]) => {
      const mine = standing(fields, String(place));
      return mine.length ? tag(String(place), String(name), mine, Number(most)) : null;
    }),
  );
}

/** Keeps the tags of the upper edge beside each other, and all inside the drawing. @param {HTMLElement} box @param {Plan} p */
function clear(box, p) {
  let free = 0;
  for (const t of /** @type {NodeListOf<HTMLElement>} */ (box.querySelectorAll(".tag"))) {
    if (t.offsetTop < 20 && t.getAttribute("aria-label") !== "Outlet") {
      if (t.offsetLeft < free) css(t, "left", `${free}px`);
      free = t.offsetLeft + t.offsetWidth + 14;
    }
    const over = t.offsetLeft + t.offsetWidth - (p.w - 6);
    if (over > 0) css(t, "left", `${t.offsetLeft - over}px`);
    const low = t.offsetTop + t.offsetHeight - (p.h - 8);
    if (low > 0) css(t, "top", `${t.offsetTop - low}px`);
  }
}

/** Where the branch is drawn, beside the valve. @param {Plan} p */
function onBranch(p) {
  const flat = Math.abs(p.valve.y - p.header.y) < 2;
  if (flat || p.valve.x - p.riserX > 10) return { x: p.valve.x + 66, y: p.header.y - 6 };
  return { x: p.riserX + (p.header.x - p.riserX) * 0.6, y: p.header.y - 6 };
}

/** Leader lines from tags to what they speak of. @param {SVGSVGElement} pic @param {Plan} p @param {HTMLElement} box @param {import("./types.js").Drawing} d */
function lead(pic, p, box, d) {
  const ns = "http://www.w3.org/2000/svg";
  /** @type {[string, number, number][]} */
  const to = [
    ["Check valve", p.valve.x, p.valve.y - 24],
    ["Branch", onBranch(p).x, onBranch(p).y],
    ["Main", onMain(d, p, 0.5).x, onMain(d, p, 0.5).y],
    ["Pumps", p.pump.x + 12, p.pump.y + 11],
    ["Header", p.header.x, p.header.y],
  ];
  for (const [name, x, y] of to) {
    const t = /** @type {HTMLElement|null} */ (box.querySelector(`.tag[aria-label="${name}"]`));
    if (!t) continue;
    const below = t.offsetTop > y;
    const end = name === "Header" ? y + (below ? 10 : -10) : y;
    const side = name === "Pumps" && t.offsetLeft > x;
    const x1 = side ? t.offsetLeft : t.offsetLeft + 10;
    const y1 = side
      ? Math.min(t.offsetTop + t.offsetHeight - 10, Math.max(t.offsetTop + 14, y + 14))
      : below
        ? t.offsetTop
        : t.offsetTop + t.offsetHeight;
    const path = document.createElementNS(ns, "path");
    path.setAttribute("d", `M${x1},${y1}L${x},${end}`);
    path.setAttribute("class", "leader");
    const dot = document.createElementNS(ns, "circle");
    for (const [k, v] of [
      ["cx", x],
      ["cy", end],
      ["r", 2.4],
    ])
      dot.setAttribute(String(k), String(v));
    dot.setAttribute("class", "leader-dot");
    pic.append(path, dot);
  }
}

/** The title block of the drawing. @param {import("./types.js").Sheet} s */
function title(s) {
  const t = s.station;
  const cell = (/** @type {string} */ k, /** @type {string} */ v) =>
    h("div", {}, h("dt", {}, k), h("dd", {}, v || "–"));
  return h(
    "dl",
    { class: "title-block" },
    cell("Station", t.name),
    cell("Place", t.place),
    cell("Depth", t.depth),
    cell("Assumed", `${s.assumed_count} facts`),
  );
}

/** All facts by place, once somebody looks at them. @param {Field[]} fields */
function list(fields) {
  const n = {
    a: fields.filter((f) => f.origin === "assumed").length,
    u: fields.filter((f) => f.origin === "unknown").length,
  };
  put(
    at("facts-summary"),
    `All ${fields.length} facts`,
    h("span", { class: "soft" }, ` ${n.a} assumed here, ${n.u} unknown`),
  );
  if (!(/** @type {HTMLDetailsElement} */ (at("facts")).open)) {
    put(at("facts-body"));
    return;
  }
  put(
    at("facts-body"),
    ...places.map(([place, name]) => {
      const mine = standing(fields, place);
      return mine.length === 0
        ? null
        : h(
            "section",
            { class: "facts-group", id: "facts-" + place, "aria-label": name },
            h("h3", {}, name),
            ...entries(place, mine, (some) =>
              h("dl", {}, ...some.map((f) => h("div", {}, h("dt", {}, upper(f.label)), h("dd", {}, value(f))))),
            ),
          );
    }),
  );
}

/** Begins to show the sheet. */
export function begin() {
  on("sheet", () => show());
  on("text", () => state.text || show());
  on("answer", () => last !== JSON.stringify(valveDrawn()) && show());
  at("facts").addEventListener("toggle", () => {
    const open = /** @type {HTMLDetailsElement} */ (at("facts")).open;
    const drawn = at("facts-body").childElementCount > 0; // by who opened it, and has put the focus into it
    if (state.sheet && open !== drawn) list(state.sheet.fields);
  });
  addEventListener("beforeprint", () => show(PAPER));
  addEventListener("afterprint", () => show());
  let wide = 0;
  new ResizeObserver(() => {
    const w = at("drawing").clientWidth;
    if (w && w !== wide) {
      wide = w;
      show();
    }
  }).observe(at("drawing"));
}
