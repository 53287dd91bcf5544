// Where a station comes from: a new one, an example, a file, a kept study.
import { at, h, put, toast } from "./dom.js";
import { get, post, Refused, wording } from "./api.js";
import { fileText } from "./filetext.js";
import { show } from "./compare.js";
import { title } from "./call.js";
import { openExample } from "./links.js";
import { open, state, unsaved } from "./state.js";
import { studies } from "./studies.js";

const MOST_BYTES = 1 << 20;

/** @returns {Promise<import("./types.js").Example[]>} */
export const examples = () => get("examples");

/** Puts another station on the sheet; what was there can be had back by Undo. @param {string} text @param {string} what */
async function take(text, what) {
  const had = state.text !== "" && unsaved();
  /** @type {HTMLDialogElement} */ (at("dialog")).close();
  await open(text, null);
  toast(`${what} is on the sheet.${had ? " Undo brings back the one before." : ""}`);
}

/** Reads a file that the user picked or dropped. @param {File|undefined|null} f */
async function read(f) {
  if (!f) return;
  if (f.size > MOST_BYTES)
    return toast(
      `${f.name} has ${Math.round(f.size / 1024)} kB; a station file has at most 1024 kB. Nothing was changed.`,
    );
  try {
    const text = await f.text();
    await post("sheet", { text });
    await take(text, f.name);
  } catch (e) {
    if (e instanceof Refused && e.messages.length)
      return fileText({ name: f.name, text: await f.text(), messages: e.messages });
    toast(e instanceof DOMException ? `${f.name} cannot be read as a file. Nothing was changed.` : wording(e));
  }
}

/** @param {import("./types.js").Example} e */
const card = (e) =>
  h(
    "button",
    {
      type: "button",
      class: "card",
      onclick: () => {
        /** @type {HTMLDialogElement} */ (at("dialog")).close();
        void openExample(e);
      },
    },
    h("strong", {}, title(e)),
    h("span", { class: "soft" }, about(e.text)),
  );

/** Nothing on the sheet: the six blanks of a first call. */
async function empty() {
  const had = state.text !== "";
  /** @type {HTMLDialogElement} */ (at("dialog")).close();
  await open("", null);
  document.getElementById("call-liquid")?.focus();
  if (had) toast("The sheet is empty. Undo brings back the station before.");
}

/** The first remark of a file, which says what it is. @param {string} text */
function about(text) {
  /** @type {string[]} */
  const lines = [];
  for (const l of text.split("\n")) {
    if (!l.startsWith("#")) break;
    lines.push(l.replace(/^#\s?/, ""));
  }
  return lines.join(" ").split(/(?<=\.)\s/)[0];
}

/** Opens the choice of a station. */
export async function choosing() {
  put(at("dialog-body"), h("p", { class: "soft" }, "Looking …"));
  show("Which station?");
  try {
    const all = await examples();
    const shown = all.filter((e) => !e.id.includes("starter"));
    const input = h("input", {
      type: "file",
      id: "file-in",
      accept: ".yaml,.yml,text/yaml",
      onchange: () => read(input.files?.[0]),
    });
    put(
      at("dialog-body"),
      h(
        "section",
        {},
        h("h3", {}, "Start your own"),
        h(
          "p",
          { class: "soft" },
          "Write what you know; the first number brings an answer. What you leave is assumed and says so.",
        ),
        h("button", { type: "button", class: "main", onclick: empty }, "Empty sheet"),
        h(
          "p",
          {},
          h("button", { type: "button", "data-door": "inquiry" }, "Paste an inquiry"),
          h("span", { class: "soft" }, " The text of a letter or mail is read for what it says of the station."),
        ),
      ),
      h("section", {}, h("h3", {}, "Look at an example"), h("div", { class: "cards" }, ...shown.map(card))),
      h(
        "section",
        {},
        h("h3", {}, "Open a station file"),
        h("p", {}, h("label", { for: "file-in" }, "A .station.yaml from this computer: "), input),
        h("p", { class: "soft" }, "Or drop it anywhere on the page."),
      ),
      h(
        "section",
        {},
        h("h3", {}, "Take up a kept study"),
        h("button", { type: "button", onclick: studies }, "Kept studies"),
      ),
    );
  } catch (e) {
    put(at("dialog-body"), h("p", { class: "fault", role: "alert" }, wording(e)));
  }
}

/** Lets a file be dropped on the page. */
export function takeDropped() {
  document.addEventListener("dragover", (e) => {
    if (e.dataTransfer?.types.includes("Files")) e.preventDefault();
  });
  document.addEventListener("drop", (e) => {
    if (!e.dataTransfer?.files.length) return;
    e.preventDefault();
    read(e.dataTransfer.files[0]);
  });
}
