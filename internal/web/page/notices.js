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
            `${all.length} ${all.length === 1 ? "thing" : "things"} to look at in the file`,
          ),
          h("ul", {}, ...all.map((w) => h("li", {}, w))),
        ),
  );
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
  put(
    at("cautions"),
    ...all.map((c) => {
      const kind = /^([^:.]{3,24}): */.exec(c.text);
      return h(
        "details",
        {},
        h("summary", {}, h("span", { class: "sign", "aria-hidden": "true" }, "!"), kind ? kind[1] : upper(c.id)),
        h("p", {}, upper(kind ? c.text.slice(kind[0].length) : c.text)),
      );
    }),
  );
}

/** Begins to show them. */
export function begin() {
  on("sheet answer error busy", showFault);
  on("sheet", showWarnings);
  on("answer", showCautions);
}
