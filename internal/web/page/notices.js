// What is wrong with the file, what the station warns of, and the cautions.
import { at, h, put, say, upper } from "./dom.js";
import { on, refresh, state } from "./state.js";
import { fault } from "./fault.js";
import { fileText } from "./filetext.js";

function showFault() {
  if (!state.error) {
    put(at("fault"));
    return;
  }
  const list = state.messages;
  put(
    at("fault"),
    h(
      "div",
      { class: "fault box", role: "alert" },
      h(
        "p",
        {},
        h("span", { "aria-hidden": "true" }, "✕ "),
        h("strong", {}, list.length ? "The station file has an error. " : ""),
        list.length
          ? state.answer
            ? "Below stands the last good answer."
            : "There is no answer until it is mended."
          : upper(state.error),
      ),
      list.length ? h("ul", {}, ...list.slice(0, 6).map(fault)) : null,
      list.length > 6 ? h("p", {}, `and ${list.length - 6} more.`) : null,
      h(
        "div",
        { class: "acts" },
        list.length
          ? h("button", { type: "button", onclick: () => fileText() }, "Open the file text")
          : h("button", { type: "button", onclick: () => refresh() }, "Ask again"),
      ),
    ),
  );
  say(state.error);
}

/** A warning with the name of the fact in place of its key in the file. @param {string} text */
function named(text) {
  const m = /^([a-z_]+(?:[.[][\w.\]]*)?): */.exec(text);
  if (!m) return upper(text);
  const f = state.sheet?.fields.find((x) => x.path === m[1]);
  const rest = text.slice(m[0].length);
  return f ? `${upper(f.label.split(/[,;:]/)[0])}: ${rest}` : upper(rest);
}

function showWarnings() {
  const all = state.sheet?.warnings || [];
  put(
    at("warnings"),
    all.length === 0
      ? null
      : h(
          "details",
          { class: "warnings" },
          h(
            "summary",
            {},
            h("span", { class: "sign", "aria-hidden": "true" }, "! "),
            `${all.length} ${all.length === 1 ? "thing" : "things"} to look at`,
          ),
          h("ul", {}, ...all.map((w) => h("li", {}, named(w)))),
        ),
  );
}

/** A caution as its kind and its text. @param {{id: string, text: string}} c @returns {[string, string]} */
function parts(c) {
  const kind = /^([^:.]{3,24}): */.exec(c.text);
  return [kind ? kind[1] : upper(c.id), upper(kind ? c.text.slice(kind[0].length) : c.text)];
}

/** @param {{id: string, text: string}} c */
function folded(c) {
  const [kind, text] = parts(c);
  return h(
    "details",
    {},
    h("summary", {}, h("span", { class: "sign", "aria-hidden": "true" }, "!"), kind),
    h("p", {}, text),
  );
}

/**
 * Cautions where an act is near that they speak of: in full, not folded.
 * @param {RegExp} kinds @param {string} [before] what they come before
 */
export function near(kinds, before = "") {
  const all = (state.answer?.study.cautions || []).filter((c) => kinds.test(parts(c)[0]));
  return all.length
    ? h(
        "div",
        { class: "near-act", role: "note", "aria-label": `Cautions${before ? ` before ${before}` : ""}` },
        ...all.map((c) =>
          h(
            "p",
            {},
            h("span", { class: "sign", "aria-hidden": "true" }, "!"),
            h("strong", {}, `${parts(c)[0]}: `),
            parts(c)[1],
          ),
        ),
      )
    : null;
}

/** What the cautions shown are, so that the same are not drawn anew and those that are open stay so. */
let cautioned = "";

/** The cautions by kind: their heads are always in view, and each opens to its full text. */
function showCautions() {
  const all = state.answer?.study.cautions || [];
  const now = JSON.stringify(all);
  if (now === cautioned) return;
  cautioned = now;
  at("cautions-part").hidden = all.length === 0;
  put(at("cautions"), ...all.map(folded));
  put(at("near-film"), near(/surge/i, "the film"));
}

/** Begins to show them. */
export function begin() {
  on("sheet answer error busy", showFault);
  on("sheet", showWarnings);
  on("answer", showCautions);
  // On paper nothing is folded.
  addEventListener("beforeprint", () => {
    for (const d of document.querySelectorAll("#cautions details")) d.setAttribute("open", "");
  });
  addEventListener("afterprint", () => {
    for (const d of document.querySelectorAll("#cautions details")) d.removeAttribute("open");
  });
}
