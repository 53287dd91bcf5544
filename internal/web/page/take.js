// What is taken along from the page: a table of a chart, as text for a spreadsheet; a
// picture as PNG or SVG; a link.
import { wording } from "./api.js";
import { h, put, say, toast } from "./dom.js";
import { download } from "./filetext.js";
import { complete, here, write } from "./links.js";
import { save, saveAs } from "./studies.js";
import { state } from "./state.js";

/** Rows as a spreadsheet takes them from the clipboard. @param {string[][]} rows */
export const tsv = (rows) => rows.map((r) => r.map((c) => c.replace(/[\t\r\n]+/g, " ").trim()).join("\t")).join("\n");

/** @param {string} text @param {string} done what is said then */
async function copy(text, done) {
  try {
    await navigator.clipboard.writeText(text);
    say(done);
    toast(done);
  } catch {
    const area = h("textarea", { rows: 4, readonly: true, "aria-label": "To be copied", value: text });
    toast("The browser does not let the page copy. Press Ctrl C.", area);
    area.select();
  }
}

/** @param {string} name @param {string[][]} rows */
function table(name, rows) {
  const [head, ...body] = rows;
  return h(
    "div",
    { class: "wide-table", tabindex: "0", role: "region", "aria-label": `${name}, as a table` },
    h(
      "table",
      { class: "compare" },
      h("thead", {}, h("tr", {}, ...head.map((c) => h("th", { scope: "col" }, c)))),
      h(
        "tbody",
        {},
        ...body.map((r) => h("tr", {}, ...r.map((c, i) => h(i ? "td" : "th", i ? {} : { scope: "row" }, c)))),
      ),
    ),
  );
}

/** Its table, once somebody opens it. @param {string} name @param {() => string[][]} rows */
export function asTable(name, rows) {
  const body = h("div", {});
  const box = h(
    "details",
    {
      class: "as-table",
      ontoggle: () =>
        box.open &&
        put(
          body,
          table(name, rows()),
          h("button", { type: "button", onclick: () => copy(tsv(rows()), "The table is copied.") }, "Copy the table"),
        ),
    },
    h("summary", {}, "As a table", h("span", { class: "sr" }, `: ${name}`)),
    body,
  );
  return box;
}

/** A chart with its table and its picture. @param {Element} figure @param {string} name @param {() => string[][]} rows */
export function chart(figure, name, rows) {
  const picture = figure.querySelector("svg");
  return h(
    "div",
    { class: "chart" },
    figure,
    h("div", { class: "chart-acts" }, asTable(name, rows), picture ? savers(() => picture, name) : null),
  );
}

/** The styles by which a picture is drawn: outside the page it has no style sheet. */
const STYLES = [
  "fill",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linejoin",
  "stroke-linecap",
  "opacity",
  "font-family",
  "font-size",
  "font-weight",
];

/**
 * A picture that stands by itself.
 * @param {SVGSVGElement} picture @param {{text: string, x: number, y: number, size: string, weight: string, color: string}[]} [labels] what stands on it as text of the page
 */
function alone(picture, labels = []) {
  const copy = /** @type {SVGSVGElement} */ (picture.cloneNode(true));
  const from = [picture, ...picture.querySelectorAll("*")];
  const to = [copy, ...copy.querySelectorAll("*")];
  from.forEach((e, i) => {
    const s = getComputedStyle(e);
    for (const name of STYLES) {
      const v = s.getPropertyValue(name);
      if (v) to[i].setAttribute(name, v);
    }
    to[i].removeAttribute("class");
  });
  const box = picture.viewBox.baseVal;
  copy.setAttribute("width", String(box.width));
  copy.setAttribute("height", String(box.height));
  copy.setAttribute("xmlns", "http://www.w3.org/2000/svg");
  const make = (/** @type {string} */ tag, /** @type {Record<string, string>} */ at) => {
    const e = document.createElementNS("http://www.w3.org/2000/svg", tag);
    for (const [k, v] of Object.entries(at)) e.setAttribute(k, v);
    return e;
  };
  const paper = getComputedStyle(document.documentElement).getPropertyValue("--sheet").trim();
  copy.prepend(make("rect", { width: "100%", height: "100%", fill: paper }));
  for (const l of labels) {
    const e = make("text", {
      x: String(l.x),
      y: String(l.y),
      "font-size": l.size,
      "font-weight": l.weight,
      fill: l.color,
      "font-family": "sans-serif",
    });
    e.textContent = l.text;
    copy.append(e);
  }
  return { text: new XMLSerializer().serializeToString(copy), w: box.width, h: box.height };
}

/** What stands on the drawing as text of the page, with its place. @param {SVGSVGElement} picture @param {Element|null} [over] */
function labelsOver(picture, over) {
  if (!over) return [];
  const p = picture.getBoundingClientRect();
  const k = picture.viewBox.baseVal.width / (p.width || 1);
  const out = [];
  for (const e of over.querySelectorAll(
    ".tag-title, .tag .lab, .tag .v, .lvl .lab, .lvl .v, .static .lab, .static .v",
  )) {
    const r = e.getBoundingClientRect();
    const s = getComputedStyle(e);
    if (r.width === 0 || r.top > p.bottom) continue;
    out.push({
      text: e.textContent || "",
      x: (r.left - p.left) * k,
      y: (r.bottom - p.top - r.height * 0.24) * k,
      size: s.fontSize,
      weight: s.fontWeight,
      color: s.color,
    });
  }
  return out;
}

/** @param {string} name */
const fileOf = (name) =>
  name
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "") || "picture";

/** Twice as fine as the screen, so that it can be printed. */
const FINE = 2;

/** Buttons that save a picture. @param {() => SVGSVGElement|null} picture @param {string} name @param {() => Element|null} [over] */
export function savers(picture, name, over) {
  const made = () => {
    const p = picture();
    return p && alone(p, labelsOver(p, over?.()));
  };
  const save = (/** @type {"SVG"|"PNG"} */ kind) =>
    h(
      "button",
      {
        type: "button",
        class: "small",
        "aria-label": `Save the picture as ${kind}: ${name}`,
        onclick: async () => {
          const m = made();
          if (!m) return;
          if (kind === "SVG") return download(new Blob([m.text], { type: "image/svg+xml" }), `${fileOf(name)}.svg`);
          const img = new Image();
          img.src = `data:image/svg+xml;charset=utf-8,${encodeURIComponent(m.text)}`;
          await img.decode();
          const c = h("canvas", { width: Math.round(m.w * FINE), height: Math.round(m.h * FINE) });
          c.getContext("2d")?.drawImage(img, 0, 0, c.width, c.height);
          c.toBlob((b) => b && download(b, `${fileOf(name)}.png`), "image/png");
        },
      },
      kind,
    );
  return h("span", { class: "savers" }, save("PNG"), save("SVG"));
}

/** A button that saves what is painted in a box. @param {Element} box @param {string} name */
export function paintSaver(box, name) {
  const save = () => {
    const all = [...box.querySelectorAll("canvas")];
    const c = h("canvas", { width: all[0]?.width || 1, height: all[0]?.height || 1 });
    const g = c.getContext("2d");
    if (!g) return;
    g.fillStyle = getComputedStyle(document.documentElement).getPropertyValue("--sheet").trim() || "#fff";
    g.fillRect(0, 0, c.width, c.height);
    for (const x of all) g.drawImage(x, 0, 0);
    c.toBlob((b) => b && download(b, `${fileOf(name)}.png`), "image/png");
  };
  return h(
    "button",
    { type: "button", class: "small", "aria-label": `Save the picture as PNG: ${name}`, onclick: save },
    "PNG",
  );
}

/** Copies a link to what is shown; what is not kept is kept first. */
export async function copyLink() {
  const link = location.origin + location.pathname + write(here());
  if (complete()) return copy(link, "The link is copied.");
  toast("A link opens what is kept.", h("button", { type: "button", onclick: keepAndCopy }, "Save and copy the link"));
}

/** Keeps what is shown, as a study of its own where it is none, and copies the link to it. */
async function keepAndCopy() {
  try {
    if (state.base) await save();
    else await saveAs(state.sheet?.station.name || "Unnamed station");
    if (complete()) await copyLink();
  } catch (e) {
    toast(wording(e));
  }
}
