// Two or three valves side by side.
import { at, h, put, upper } from "./dom.js";
import { severity, sorted } from "./findings.js";
import { icon } from "./symbols.js";
import { number } from "./explain.js";

/** @typedef {import("./types.js").Answer} Answer */
/** @typedef {import("./types.js").Row} Row */

/** @param {string[]} ids @param {Answer} a */
export function compare(ids, a) {
  const rows = a.rows.filter((r) => ids.includes(r.id));
  const cs = rows.map((r) => a.study.candidates.find((c) => c.id === r.id));
  /** @type {[string, (r: Row) => Node|string][]} */
  const lines = [
    ["Verdict", (r) => r.verdict],
    ["Rank", (r) => (r.rank ? String(r.rank) : "none")],
    ["Why", (r) => upper(r.why_not) || "–"],
    ["Head loss", (r) => number(r.loss?.text || "", r.id + " loss", "Head loss")],
    ["Velocity", (r) => number(r.velocity?.text || "", r.id + " velocity", "Velocity")],
    ["Full-open velocity", (r) => number(r.full_open?.text || "", r.id + " full_open_velocity", "Full-open velocity")],
    [
      "Reverse velocity",
      (r) =>
        r.slam
          ? number(
              (r.slam.median ? `${r.slam.median} median, best estimate ` : "") +
                r.slam.text +
                (r.slam.likely ? `, likely ${r.slam.likely}` : ""),
              r.id + " reverse_velocity",
              "Reverse velocity",
            )
          : r.pending
            ? "stops still to be run"
            : `not run: ${r.not_run}`,
    ],
    [
      "Slam",
      (r) =>
        (r.slam?.class_words || "–") +
        (r.slam?.stopped ? `; its cushion makes of it a sudden stop of ${r.slam.stopped.text}` : ""),
    ],
    ["Annual energy cost", (r) => number(r.cost?.text || "", r.id + " cost_per_year", "Annual energy cost")],
  ];
  /** @type {Map<string, string>} */
  const heads = new Map();
  for (const c of cs) for (const f of sorted(c?.findings || [])) if (!heads.has(f.id)) heads.set(f.id, f.head);
  const told = (/** @type {string} */ id, /** @type {number} */ i) => {
    const f = cs[i]?.findings.find((x) => x.id === id);
    if (!f) return h("td", { class: "soft" }, "–");
    const [s, w] = severity(f.severity);
    return h(
      "td",
      { class: f.severity },
      h("span", { class: "f-sign", title: w }, s),
      " ",
      h("span", { class: "sr" }, w + ": "),
      f.text,
    );
  };
  put(
    at("dialog-body"),
    h(
      "div",
      { class: "wide-table", tabindex: "0", role: "region", "aria-label": "Valves side by side" },
      h(
        "table",
        { class: "compare" },
        h(
          "thead",
          {},
          h(
            "tr",
            {},
            h("th", { scope: "col" }, h("span", { class: "sr" }, "what")),
            ...rows.map((r, i) =>
              h(
                "th",
                { scope: "col" },
                icon(r.figure, cs[i]?.opening ?? 0.6, 60),
                h("div", {}, r.title),
                h("div", { class: "soft" }, r.size),
              ),
            ),
          ),
        ),
        h(
          "tbody",
          {},
          ...lines.map(([name, f]) =>
            h("tr", {}, h("th", { scope: "row" }, name), ...rows.map((r) => h("td", {}, f(r)))),
          ),
          ...[...heads].map(([id, head]) =>
            h("tr", {}, h("th", { scope: "row" }, head), ...rows.map((_, i) => told(id, i))),
          ),
        ),
      ),
    ),
  );
  show("Side by side");
}

/** Opens the general dialog. @param {string} title */
export function show(title) {
  put(at("dialog-title"), title);
  const d = /** @type {HTMLDialogElement} */ (at("dialog"));
  if (!d.open) d.showModal();
}
