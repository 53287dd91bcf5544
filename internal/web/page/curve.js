// A pump curve as a small table with its plot: pasted out of a spreadsheet, typed cell by
// cell, or its points dragged. The server reads it; what is no point is shown with its line.
import { at, h, put, say, svg } from "./dom.js";
import { post, Refused, wording } from "./api.js";
import { edit, state } from "./state.js";
import { items } from "./labels.js";
import { show } from "./compare.js";

/** @typedef {import("./types.js").Field} Field */
/** @typedef {import("./types.js").Curve} Curve */
/** @typedef {{x: string, y: string}} Row */

const W = 420;
const H = 300;
const PAD = { left: 46, right: 14, top: 14, bottom: 34 };

/** How a step of an axis is chosen: the round number next above a fifth of it. @param {number} most */
export function stepOf(most) {
  const raw = most / 5;
  const ten = 10 ** Math.floor(Math.log10(raw));
  return [1, 2, 2.5, 5, 10].map((k) => k * ten).find((k) => k >= raw) || raw;
}

/** A number of the grid; NaN where it is none. @param {string} s */
export const numberOf = (s) => (/^-?\d+(\.\d+)?$/.test(s.trim()) ? Number(s) : NaN);

/** To the digits that a pointer on a plot has. @param {number} v @param {number} most of the axis */
export function dragged(v, most) {
  const grain = 10 ** (Math.floor(Math.log10(Math.max(most, 1e-9))) - 2);
  return String(Number((Math.round(v / grain) * grain).toPrecision(6)));
}

/** The rows as a table that the server reads. @param {Row[]} rows @param {string} flow @param {string} head the units */
export const asTable = (rows, flow, head) =>
  [`Flow (${flow})\tHead (${head})`, ...rows.filter((r) => r.x.trim() || r.y.trim()).map((r) => `${r.x}\t${r.y}`)].join(
    "\n",
  );

/** The points of a station file as rows; null where they have other units than the grid. @param {string} value @param {string} flow @param {string} head */
export function rowsOf(value, flow, head) {
  const out = [];
  for (const p of items(value)) {
    const [q, y] = p.split(",").map((s) => s.trim());
    if (!q || !y || !q.endsWith(" " + flow) || !y.endsWith(" " + head)) return null;
    out.push({ x: q.slice(0, -flow.length).trim(), y: y.slice(0, -head.length).trim() });
  }
  return out;
}

/** Opens the curve of a group of pumps. @param {Field} f */
export async function curve(f) {
  const us = state.sheet?.station.units === "US";
  let flow = us ? "gpm" : "L/s";
  let head = us ? "ft" : "m";
  /** @type {Row[]} */ let rows = [];
  /** @type {"decimal"|"thousands"|undefined} */ let comma;
  let last = "";
  /** efficiency that was pasted beside the head, as the file has it */ let eta = "";
  const grid = h("tbody", {});
  const plot = svg("svg", {
    viewBox: `0 0 ${W} ${H}`,
    class: "cv-plot",
    role: "group",
    "aria-label": "The curve; its points can be dragged",
  });
  const told = h("div", { class: "cv-told", "aria-live": "polite" });
  const wrong = h("p", { class: "fault", role: "alert" });
  const heads = h("tr", {});

  /** Reads a table and puts it into the grid. @param {string} text */
  async function read(text) {
    last = text;
    put(wrong);
    try {
      const c = await post("curve", { text, units: us ? "US" : "SI", comma });
      const y = c.columns.findIndex((k) => k.kind === "head");
      if (y < 1) throw new Error("The table has no column of head. Paste flow and head.");
      flow = c.columns[0].unit;
      head = c.columns[y].unit;
      eta = c.efficiency;
      rows = c.rows.map((r) => ({ x: plain(r.values[0]), y: plain(r.values[y]) }));
      tell(c);
      paint();
      say(`${rows.length} points read${c.bad.length ? `, ${c.bad.length} rows not` : ""}`);
    } catch (e) {
      put(wrong, wording(e));
    }
  }
  /** @param {Curve} c */
  function tell(c) {
    const asks = c.bad.some((b) => b.choices.length);
    put(
      told,
      ...c.notes.map((n) => h("p", { class: "soft" }, n[0].toUpperCase() + n.slice(1) + ".")),
      c.bad.length
        ? h(
            "ul",
            { class: "cv-bad" },
            ...c.bad.map((b) =>
              h("li", {}, h("strong", {}, `Line ${b.line}: `), `${b.text} `, h("span", { class: "soft" }, b.why)),
            ),
          )
        : null,
      asks
        ? h(
            "div",
            { class: "acts", role: "group", "aria-label": "What a comma means" },
            h("button", { type: "button", onclick: () => ((comma = "decimal"), read(last)) }, "Commas part decimals"),
            h(
              "button",
              { type: "button", onclick: () => ((comma = "thousands"), read(last)) },
              "Commas group thousands",
            ),
          )
        : null,
    );
  }
  function paint() {
    put(
      heads,
      h("th", { scope: "col" }, `Flow, ${flow}`),
      h("th", { scope: "col" }, `Head, ${head}`),
      h("th", {}, h("span", { class: "sr" }, "Remove")),
    );
    put(
      grid,
      ...rows.map((r, i) =>
        h(
          "tr",
          {},
          h("td", {}, cell(i, "x", r.x)),
          h("td", {}, cell(i, "y", r.y)),
          h(
            "td",
            {},
            h(
              "button",
              {
                type: "button",
                class: "cv-out",
                "aria-label": `Remove point ${i + 1}`,
                onclick: () => (rows.splice(i, 1), paint()),
              },
              "✕",
            ),
          ),
        ),
      ),
    );
    draw();
  }
  /** @param {number} i @param {"x"|"y"} k @param {string} value */
  function cell(i, k, value) {
    const input = h("input", {
      type: "text",
      value,
      inputmode: "decimal",
      "aria-label": `${k === "x" ? "Flow" : "Head"} of point ${i + 1}`,
      oninput: () => ((rows[i][k] = input.value), draw()),
      onpaste: (/** @type {ClipboardEvent} */ e) => {
        const text = e.clipboardData?.getData("text") || "";
        if (!/[\t\n;]/.test(text.trim())) return;
        e.preventDefault();
        read(text);
      },
    });
    return input;
  }
  function draw() {
    const pts = rows
      .map((r, i) => ({ i, x: numberOf(r.x), y: numberOf(r.y) }))
      .filter((p) => Number.isFinite(p.x) && Number.isFinite(p.y));
    const mx = Math.max(1e-6, ...pts.map((p) => p.x)) * 1.1;
    const my = Math.max(1e-6, ...pts.map((p) => p.y)) * 1.15;
    const px = (/** @type {number} */ v) => PAD.left + (v / mx) * (W - PAD.left - PAD.right);
    const py = (/** @type {number} */ v) => H - PAD.bottom - (v / my) * (H - PAD.top - PAD.bottom);
    /** @type {Node[]} */ const out = [];
    const sx = stepOf(mx);
    const sy = stepOf(my);
    for (let v = 0; v <= mx; v += sx)
      out.push(
        svg("path", { class: "cv-grid", d: `M${px(v)},${PAD.top}V${H - PAD.bottom}` }),
        svg("text", { x: px(v), y: H - PAD.bottom + 14, class: "cv-tick mid" }, plain(v)),
      );
    for (let v = 0; v <= my; v += sy)
      out.push(
        svg("path", { class: "cv-grid", d: `M${PAD.left},${py(v)}H${W - PAD.right}` }),
        svg("text", { x: PAD.left - 5, y: py(v) + 4, class: "cv-tick end" }, plain(v)),
      );
    out.push(
      svg("text", { x: W - PAD.right, y: H - 4, class: "cv-tick end" }, `Flow, ${flow}`),
      svg("text", { x: 4, y: 11, class: "cv-tick" }, `Head, ${head}`),
    );
    const sorted = [...pts].sort((a, b) => a.x - b.x);
    out.push(
      svg("path", { class: "cv-line", d: sorted.map((p, n) => `${n ? "L" : "M"}${px(p.x)},${py(p.y)}`).join("") }),
    );
    for (const p of pts) out.push(point(p.i, px(p.x), py(p.y), mx, my));
    put(plot, ...out);
  }
  /** @param {number} i @param {number} x @param {number} y @param {number} mx @param {number} my */
  function point(i, x, y, mx, my) {
    const dot = svg("circle", {
      cx: x,
      cy: y,
      r: 8,
      class: "cv-dot",
      tabindex: "0",
      role: "slider",
      "aria-label": `Point ${i + 1}`,
      "aria-valuenow": rows[i].y,
      "aria-valuetext": `${rows[i].x} ${flow}, ${rows[i].y} ${head}`,
    });
    /** @param {number} q @param {number} v */
    const move = (q, v) => {
      rows[i] = { x: dragged(Math.max(0, q), mx), y: dragged(Math.max(0, v), my) };
    };
    dot.addEventListener("pointerdown", (e) => {
      e.preventDefault();
      const box = plot.getBoundingClientRect();
      // The scale stays while a point is held, or it would run away from the hand.
      const follow = (/** @type {PointerEvent} */ m) => {
        const u = ((m.clientX - box.left) / box.width) * W;
        const v = ((m.clientY - box.top) / box.height) * H;
        move(
          ((u - PAD.left) / (W - PAD.left - PAD.right)) * mx,
          ((H - PAD.bottom - v) / (H - PAD.top - PAD.bottom)) * my,
        );
        dot.setAttribute("cx", String(Math.min(W, Math.max(PAD.left, u))));
        dot.setAttribute("cy", String(Math.max(0, Math.min(H - PAD.bottom, v))));
        const inputs = grid.children[i].querySelectorAll("input");
        inputs[0].value = rows[i].x;
        inputs[1].value = rows[i].y;
      };
      const drop = () => {
        removeEventListener("pointermove", follow);
        removeEventListener("pointerup", drop);
        removeEventListener("pointercancel", drop);
        draw();
      };
      addEventListener("pointermove", follow);
      addEventListener("pointerup", drop);
      addEventListener("pointercancel", drop);
    });
    dot.addEventListener("keydown", (e) => {
      const k = /** @type {Record<string, [number, number]>} */ ({
        ArrowUp: [0, 0.01],
        ArrowDown: [0, -0.01],
        ArrowRight: [0.01, 0],
        ArrowLeft: [-0.01, 0],
      })[e.key];
      if (!k) return;
      e.preventDefault();
      move(numberOf(rows[i].x) + k[0] * mx, numberOf(rows[i].y) + k[1] * my);
      paint();
      /** @type {SVGElement|null} */ (plot.querySelector(`[aria-label="Point ${i + 1}"]`))?.focus();
    });
    return dot;
  }
  async function apply() {
    put(wrong);
    try {
      const c = await post("curve", { text: asTable(rows, flow, head), units: us ? "US" : "SI", comma });
      tell(c);
      if (c.bad.length) return void put(wrong, "Mend or remove the rows that are no points first.");
      if (!c.curve) return void put(wrong, "A curve has two points or more.");
      const edits = [{ path: f.path, value: c.curve }];
      const entry = f.path.replace(/\.curve$/, "");
      if (eta) edits.push({ path: `${entry}.efficiency`, value: eta });
      await edit(edits);
      /** @type {HTMLDialogElement} */ (at("dialog")).close();
      say("The curve is on the sheet");
    } catch (e) {
      put(wrong, h("span", { "aria-hidden": "true" }, "✕ "), e instanceof Refused ? e.line : wording(e));
    }
  }

  const paste = h("textarea", {
    id: "cv-paste",
    rows: 3,
    spellcheck: "false",
    placeholder: "Flow\tHead\n0\t90\n450\t62",
    onpaste: () => setTimeout(() => (read(paste.value), (paste.value = ""))),
  });
  show("Pump curve");
  put(
    at("dialog-body"),
    h(
      "div",
      { class: "cv" },
      h(
        "div",
        {},
        h("label", { for: "cv-paste" }, "Paste columns from a spreadsheet, with or without headings and units"),
        paste,
        h("button", { type: "button", onclick: () => paste.value.trim() && read(paste.value) }, "Read"),
        h(
          "table",
          { class: "cv-table" },
          h("caption", { class: "sr" }, "Points of the curve"),
          h("thead", {}, heads),
          grid,
        ),
        h(
          "button",
          {
            type: "button",
            onclick: () => (
              rows.push({ x: "", y: "" }),
              paint(),
              grid.querySelectorAll("input")[2 * rows.length - 2]?.focus()
            ),
          },
          "Add a point",
        ),
      ),
      h("div", {}, plot, h("p", { class: "soft" }, "Drag a point, or move it with the arrow keys."), told),
    ),
    wrong,
    h(
      "div",
      { class: "acts inq-acts" },
      h("button", { type: "button", class: "main", onclick: apply }, "Put the curve into the station"),
    ),
  );
  const held = rowsOf(f.value, flow, head);
  if (held) {
    rows = held;
    paint();
  } else if (f.value) {
    await read(items(f.value).join("\n"));
  } else {
    rows = [
      { x: "", y: "" },
      { x: "", y: "" },
      { x: "", y: "" },
    ];
    paint();
  }
  paste.focus();
}

/** A number without zeros at its end. @param {number} v */
const plain = (v) => String(Number(v.toPrecision(6)));
