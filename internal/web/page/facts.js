// The numbers on the drawing, and the list of all facts under it.
import { at, css, h, put, upper } from "./dom.js";
import { draw, plan } from "./sheet.js";
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

const TALL = 152; // of the tag of the pumps, px

/** Where the tags of a wide drawing stand. @param {Plan} p @returns {Record<string, [number, number, number, string]>} */
function spots(p) {
  const mid = (p.start.x + p.end.x) / 2;
  const midY = (p.start.y + p.end.y) / 2;
  // Beside the riser there is room where the water goes up in it; else the valve stands there.
  const over = Math.min(p.valve.y - 66, p.header.y - 20) - TALL;
  const beside = p.valve.x - p.riserX < 10 || over < 150;
  return {
    service: [58, 14, 4, ""],
    valve: [p.well.x2 + 26, 14, 4, ""],
    branch: [p.well.x2 + 220, 14, 3, ""],
    header: [p.well.x2 + 372, 14, p.w < 1100 ? 1 : 2, ""],
    pump: beside ? [Math.max(p.pump.x + 60, p.riserX + 62), p.floor - 78, 4, "under"] : [p.riserX + 24, over, 4, ""],
    main: [mid + 30, midY + 46, 5, ""],
    outlet: [p.end.x + 4, Math.max(4, p.outlet - 96), 1, "right"],
  };
}

/** Of a drawing on paper, px: what stands on it must keep its place when the sheet is narrow. */
const PAPER = 680;

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
  if (!s) return;
  last = JSON.stringify(valveDrawn());
  const box = at("drawing");
  const w = width || Math.max(300, box.clientWidth);
  const p = plan(s.drawing, w);
  const pic = draw(s.drawing, p, { ...valveDrawn(), us: s.station.units === "US" });
  const tags = [];
  const high = standing(s.fields, "wet_well.high");
  const low = standing(s.fields, "wet_well.low");
  const apart = Math.max(0, 28 - (p.low - p.high)) / 2;
  if (p.wide) {
    const where = spots(p);
    for (const [place, title] of places) {
      const fields = standing(s.fields, place);
      if (!where[place] || fields.length === 0) continue;
      const [x, y, most, how] = where[place];
      tags.push(stand(tag(place, title, fields, most), x, y, how));
    }
    for (const f of high.slice(0, 1))
      tags.push(
        stand(h("div", { class: "lvl" }, value(f, { name: true })), p.well.x1 - 14, p.high - 13 - apart, "left"),
      );
    for (const f of low.slice(0, 1))
      tags.push(
        stand(h("div", { class: "lvl" }, value(f, { name: true })), p.well.x1 - 14, p.low - 13 + apart, "left"),
      );
  }
  const focus = /** @type {HTMLElement|null} */ (document.activeElement)?.dataset?.path;
  put(box, pic, ...tags, p.wide ? null : strip(s.fields), title(s));
  if (p.wide) {
    clear(box, p);
    lead(pic, p, box);
  }
  list(s.fields);
  if (focus)
    /** @type {HTMLElement|null} */ (document.querySelector(`[data-path="${CSS.escape(focus)}"]`))?.focus({
      preventScroll: true,
    });
}

/** On a narrow window the tags stand under the drawing, in the order of the water. @param {Field[]} fields */
function strip(fields) {
  const shown = [
    ["wet_well", "Wet well", 3],
    ["pump", "Pumps", 4],
    ["valve", "Check valve", 3],
    ["branch", "Branch", 2],
    ["main", "Main", 4],
    ["outlet", "Outlet", 1],
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

/** Leader lines from tags to what they speak of. @param {SVGSVGElement} pic @param {Plan} p @param {HTMLElement} box */
function lead(pic, p, box) {
  const ns = "http://www.w3.org/2000/svg";
  /** @type {[string, number, number][]} */
  const to = [
    ["Check valve", p.valve.x, p.valve.y - 24],
    ["Branch", p.riserX + (p.header.x - p.riserX) * 0.6, p.header.y - 6],
    ["Main", (p.start.x + p.end.x) / 2, (p.start.y + p.end.y) / 2],
    ["Pumps", p.pump.x + 12, p.pump.y + 11],
    ["Header", p.header.x, p.header.y - 10],
  ];
  for (const [name, x, y] of to) {
    const t = /** @type {HTMLElement|null} */ (box.querySelector(`.tag[aria-label="${name}"]`));
    if (!t) continue;
    const below = t.offsetTop > y;
    const side = name === "Pumps";
    const x1 = side ? t.offsetLeft : t.offsetLeft + 10;
    const y1 = side
      ? Math.min(t.offsetTop + t.offsetHeight - 10, Math.max(t.offsetTop + 14, y + 14))
      : below
        ? t.offsetTop
        : t.offsetTop + t.offsetHeight;
    const path = document.createElementNS(ns, "path");
    path.setAttribute("d", `M${x1},${y1}L${x},${y}`);
    path.setAttribute("class", "leader");
    const dot = document.createElementNS(ns, "circle");
    for (const [k, v] of [
      ["cx", x],
      ["cy", y],
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
    cell("Known to the depth of", t.depth),
    cell("Assumed", `${s.assumed_count} facts`),
    cell("Sheet", t.hash),
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
    `All ${fields.length} facts of the station`,
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
  on("answer", () => last !== JSON.stringify(valveDrawn()) && show());
  at("facts").addEventListener("toggle", () => state.sheet && list(state.sheet.fields));
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
