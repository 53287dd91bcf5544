// The station file itself: to read, write, copy and take along.
import { at, h, put, say, toast } from "./dom.js";
import { post, Refused, wording } from "./api.js";
import { fault } from "./fault.js";
import { show } from "./compare.js";
import { open, state, step } from "./state.js";

/** A name for a file from the station's name. @param {string} [ending] */
export function fileName(ending = ".station.yaml") {
  const name = (state.sheet?.station.name || "station")
    .toLowerCase()
    .replace(/[^a-z0-9]+/g, "-")
    .replace(/^-|-$/g, "");
  return (name || "station") + ending;
}

/** Hands a file to the browser. @param {Blob} blob @param {string} name */
export function download(blob, name) {
  const a = h("a", { href: URL.createObjectURL(blob), download: name });
  document.body.append(a);
  a.click();
  a.remove();
  setTimeout(() => URL.revokeObjectURL(a.href), 1000);
}

/**
 * Opens the text of the file; another's text where one is given, with what is wrong in it.
 * @param {{name: string, text: string, messages: import("./types.js").Message[]}} [other]
 */
export function fileText(other) {
  const area = h("textarea", {
    id: "file-text",
    class: "file-text",
    spellcheck: "false",
    rows: 24,
    value: other ? other.text : state.text,
    "aria-describedby": "file-faults",
  });
  const faults = h("div", { id: "file-faults" });
  const messages = other ? other.messages : state.messages;
  if (messages.length) put(faults, told(messages));

  async function apply() {
    try {
      const sheet = await post("sheet", { text: area.value });
      /** @type {HTMLDialogElement} */ (at("dialog")).close();
      if (other) await open(area.value, null);
      else await step(area.value, sheet);
      say("The file is on the sheet");
    } catch (e) {
      const list = e instanceof Refused ? e.messages : [];
      put(faults, list.length ? told(list) : h("p", { class: "fault", role: "alert" }, wording(e)));
      if (list[0]?.line) select(area, list[0].line);
    }
  }

  async function copy() {
    try {
      await navigator.clipboard.writeText(area.value);
      toast("Copied.");
    } catch {
      area.focus();
      area.select();
      toast("The browser does not let the page copy. The text is marked: press Ctrl C.");
    }
  }

  put(
    at("dialog-body"),
    h(
      "p",
      { class: "soft" },
      other
        ? `${other.name} has an error, and nothing was changed. Mend it here, or leave it.`
        : "All that you write on the drawing stands here, with your remarks. This file is yours: the command line reads it too.",
    ),
    h("label", { for: "file-text", class: "sr" }, "Text of the station file"),
    area,
    faults,
    h(
      "div",
      { class: "acts" },
      h("button", { type: "button", class: "main", onclick: apply }, "Put on the sheet"),
      h("button", { type: "button", onclick: copy }, "Copy"),
      h(
        "button",
        { type: "button", onclick: () => download(new Blob([area.value], { type: "text/yaml" }), fileName()) },
        "Download",
      ),
    ),
  );
  show(other ? other.name : "Station file");
  if (other?.messages[0]?.line) select(area, other.messages[0].line);
}

/** @param {import("./types.js").Message[]} messages */
const told = (messages) => h("div", { class: "fault", role: "alert" }, h("ul", {}, ...messages.map(fault)));

/** Marks a line of a text area. @param {HTMLTextAreaElement} area @param {number} line */
function select(area, line) {
  const lines = area.value.split("\n");
  const from = lines.slice(0, line - 1).reduce((s, l) => s + l.length + 1, 0);
  area.focus();
  area.setSelectionRange(from, from + (lines[line - 1] || "").length);
  area.scrollTop = (area.scrollHeight * (line - 0.5)) / lines.length - area.clientHeight / 2;
}
