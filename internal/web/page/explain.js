// Where a number comes from: its calculation as a tree, down to inputs and sources.
import { at, h, put, upper } from "./dom.js";
import { post, wording } from "./api.js";
import { state } from "./state.js";

/** @typedef {{depth: number, text: string, kids: Line[]}} Line */

/** Folds the flat lines to a tree by their depth. @param {{depth: number, text: string}[]} lines */
function tree(lines) {
  /** @type {Line} */
  const root = { depth: -1, text: "", kids: [] };
  const way = [root];
  for (const l of lines) {
    while (way.length > 1 && way[way.length - 1].depth >= l.depth) way.pop();
    const line = { depth: l.depth, text: l.text, kids: [] };
    way[way.length - 1].kids.push(line);
    way.push(line);
  }
  return root.kids;
}

const origins = /\[(given|assumed|catalog|computed|simulated)\]\s*$/;

/** @param {Line} l */
function words(l) {
  const m = l.text.match(origins);
  if (!m) return [h("span", { class: l.text.includes(" = ") && !l.kids.length ? "eq" : "" }, upper(l.text))];
  return [
    h("span", { class: "ex-value" }, upper(l.text.replace(origins, "").trim())),
    " ",
    h("span", { class: `origin ${m[1]}` }, m[1]),
  ];
}

/** @param {Line} l @param {number} depth @returns {HTMLElement} */
function branch(l, depth) {
  const deep = l.kids.some((k) => origins.test(k.text));
  if (!deep)
    return h(
      "div",
      { class: "leaf" },
      ...words(l),
      ...l.kids.map((k) => h("div", { class: "note" }, k.text, ...k.kids.map((q) => " " + q.text))),
    );
  return h("details", { open: depth < 2 }, h("summary", {}, ...words(l)), ...l.kids.map((k) => branch(k, depth + 1)));
}

/**
 * Gives the focus back to the number that was asked about, or to the one that stands in its
 * place by now: a new answer draws the rows anew.
 * @param {HTMLDialogElement} d
 */
function comeBack(d) {
  const from = document.activeElement;
  const number = from instanceof HTMLElement ? from.dataset.number : "";
  d.addEventListener(
    "close",
    () => {
      const again = from?.isConnected
        ? from
        : [...document.querySelectorAll(".num")].find(
            (e) => e instanceof HTMLElement && number && e.dataset.number === number,
          );
      if (again instanceof HTMLElement) again.focus({ preventScroll: true }); // nothing moves under the hand that clicks next
    },
    { once: true },
  );
}

/** Counts the questions, so that a late answer does not stand over a newer one. */
let asked = 0;

/**
 * Opens the calculation of a number.
 * @param {string} path as `seatward explain` takes it @param {string} [title]
 */
export async function explain(path, title) {
  const d = /** @type {HTMLDialogElement} */ (at("explain"));
  put(at("explain-title"), upper(title || path));
  put(at("explain-body"), h("p", { class: "soft" }, "Working it out …"));
  if (!d.open) {
    comeBack(d);
    d.showModal();
  }
  const mine = ++asked;
  try {
    const r = await post("explain", {
      text: state.text,
      path,
      valve: state.valve || undefined,
      runs: state.answer?.runs,
    });
    if (mine !== asked) return;
    const kids = tree(r.lines).filter((l) => l.text !== path);
    put(
      at("explain-body"),
      ...kids.map((l) => branch(l, 0)),
      r.references.length
        ? h("section", {}, h("h3", {}, "Sources"), h("ol", {}, ...r.references.map((x) => h("li", {}, x))))
        : null,
    );
  } catch (e) {
    if (mine === asked) put(at("explain-body"), h("p", { class: "fault", role: "alert" }, wording(e)));
  }
}

/**
 * A number that opens its calculation.
 * @param {string} text @param {string} path @param {string} name what it is, for those who listen
 * @param {string} [shown] what stands there, when that is less than the text
 */
export function number(text, path, name, shown = text) {
  if (!text || text === "–") return h("span", { class: "num none" }, "–");
  return h(
    "button",
    {
      type: "button",
      class: "num",
      "data-number": path,
      "aria-label": `${name}: ${text}. Where it comes from`,
      onclick: (/** @type {Event} */ e) => (e.stopPropagation(), explain(path, name)),
    },
    shown,
  );
}
