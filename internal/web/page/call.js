// The first call: six blanks in the order in which they are asked for on the telephone, and
// beside them, as long as nothing stands there, how to go on. The first number brings an
// answer; what is left blank is assumed, and looks so.
import { at, h, put, say } from "./dom.js";
import { Refused, wording } from "./api.js";
import { best } from "./labels.js";
import { trouble } from "./trouble.js";
import { choosing, examples } from "./chooser.js";
import { edit, last, on, resume, state, units } from "./state.js";
import { openExample } from "./links.js";
import { system, withUnit } from "./units.js";

/** @typedef {import("./types.js").Field} Field */
/** @typedef {{path: string, value: string|null}} Edit */

/** @typedef {object} Blank
 * @property {string} id @property {string} name
 * @property {string[]} paths where it may stand in the file; more than one lets the reader choose
 * @property {string[]} [ways] what each of them is called
 * @property {Record<"US"|"SI", string>} unit taken for a bare number
 * @property {Record<"US"|"SI", string>} like an example of what is written
 * @property {string[]} [choices]
 */

/** @type {Record<"US"|"SI", string>} */ const none = { US: "", SI: "" };

/** @type {Blank[]} */
export const blanks = [
  {
    id: "liquid",
    name: "Liquid",
    paths: ["fluid.kind"],
    unit: none,
    like: none,
    choices: ["raw sewage", "sludge", "effluent", "raw water", "drinking water"],
  },
  { id: "pumps", name: "Pumps", paths: ["pumps[0].count"], unit: none, like: { US: "2", SI: "2" } },
  {
    id: "flow",
    name: "Flow, one pump",
    paths: ["duty.flow"],
    unit: { US: "gpm", SI: "L/s" },
    like: { US: "450 gpm", SI: "28 L/s" },
  },
  {
    id: "head",
    name: "Head or lift",
    paths: ["duty.head", "duty.static_head"],
    ways: ["Pump head", "Static lift"],
    unit: { US: "ft", SI: "m" },
    like: { US: "60 ft", SI: "18 m" },
  },
  {
    id: "size",
    name: "Pipe size",
    paths: ["valve.size"],
    unit: { US: "in", SI: "mm" },
    like: { US: "6 in", SI: "DN150" },
  },
  {
    id: "length",
    name: "Main length",
    paths: ["main.runs[0].length"],
    unit: { US: "ft", SI: "m" },
    like: { US: "3400 ft", SI: "1000 m" },
  },
  {
    id: "position",
    name: "Position",
    paths: ["valve.position"],
    unit: none,
    like: none,
    choices: ["horizontal", "flow up", "flow down"],
  },
];

/** What is written before the first number is known: no station yet. @type {Map<string, string>} */
const draft = new Map();
/** Which of its places a blank is written to. @type {Map<string, string>} */
const way = new Map();

/** @param {string} path @returns {Field|undefined} */
const field = (path) => state.sheet?.fields.find((f) => f.path === path);

/** @param {Blank} b */
const chosen = (b) => way.get(b.id) || b.paths.find((p) => field(p)?.value) || b.paths[0];

/**
 * The edits that write a blank; an empty one takes back what it wrote.
 * @param {Blank} b @param {string} path @param {string} text @returns {Edit[]}
 */
export function edits(b, path, text) {
  const others = b.paths.filter((p) => p !== path && field(p)?.value);
  /** @type {Edit[]} */ const out = others.map((p) => ({ path: p, value: null }));
  if (text) return [...out, { path, value: text }];
  // A run of pipe without its length is none, and a pump of which nothing else is said neither.
  const alone = (/** @type {string} */ list) =>
    !state.sheet?.fields.some((f) => f.path.startsWith(`${list}[`) && f.path !== path && f.value);
  if (path === "main.runs[0].length" && alone("main.runs")) return [...out, { path: "main.runs", value: null }];
  if (path === "pumps[0].count" && alone("pumps")) return [...out, { path: "pumps", value: null }];
  return [...out, { path, value: null }];
}

/** @param {Blank} b @param {string} text @param {HTMLElement} fault @param {HTMLInputElement|HTMLSelectElement} input */
async function write(b, text, fault, input) {
  const path = chosen(b);
  const value = withUnit(text, b.unit[system()]);
  put(fault);
  input.removeAttribute("aria-invalid");
  if (value === (state.sheet ? field(path)?.value || "" : draft.get(path) || "")) return;
  input.dataset.was = input.value; // sent: what comes back may stand in its place
  try {
    if (state.text) await edit(edits(b, path, value));
    else {
      if (value) draft.set(path, value);
      else draft.delete(path);
      if (draft.size) await edit([...draft].map(([p, v]) => ({ path: p, value: v })));
      draft.clear();
    }
    say(`${b.name}: ${value || "not known"}`);
  } catch (e) {
    if (e instanceof Refused && e.messages[0]?.id === "station-empty") return; // words alone: kept until a number comes
    if (!state.text) draft.delete(path);
    put(fault, h("span", { "aria-hidden": "true" }, "✕ "), wording(e));
    input.setAttribute("aria-invalid", "true");
  }
}

/** @param {Blank} b */
function blank(b) {
  const path = chosen(b);
  const f = field(path);
  const id = "call-" + b.id;
  const text = f ? f.value : draft.get(path) || "";
  const assumed = f && !f.value && f.text ? best(f.text) : "";
  const fault = h("p", { class: "fault", role: "alert" });
  /** @type {HTMLInputElement|HTMLSelectElement} */
  const input = b.choices
    ? h(
        "select",
        { id, class: text ? "" : "assumed", onchange: () => write(b, input.value, fault, input) },
        h("option", { value: "", selected: !text }, assumed ? `≈ ${assumed}` : "not said"),
        ...b.choices.map((c) => h("option", { value: c, selected: c === text }, c)),
      )
    : h("input", {
        id,
        type: "text",
        class: text ? "" : assumed ? "assumed" : "",
        autocomplete: "off",
        spellcheck: "false",
        value: text,
        placeholder: assumed ? `≈ ${assumed}` : b.like[system()] ? `such as ${b.like[system()]}` : "",
        onchange: () => write(b, input.value, fault, input),
      });
  input.dataset.was = text;
  const ways = b.ways || [];
  const pick =
    ways.length > 0
      ? h(
          "select",
          {
            id: id + "-way",
            class: "way",
            "aria-label": "What the head is",
            onchange: () => {
              way.set(b.id, pick?.value || b.paths[0]);
              show();
              document.getElementById(id)?.focus();
            },
          },
          ...b.paths.map((p, i) => h("option", { value: p, selected: p === path }, ways[i])),
        )
      : null;
  return h(
    "div",
    { class: "blank" },
    pick,
    h("label", { for: id, class: pick ? "sr" : "" }, b.name, assumed ? h("span", { class: "sr" }, ", assumed") : null),
    input,
    fault,
  );
}

/** What is shown of the blanks, so that the same are not made anew under the hands of who types. */
let shown = "";

function show() {
  document.body.toggleAttribute("data-blank", !state.text);
  const call = !state.text || state.sheet?.station.depth === "first call";
  at("call").hidden = !call;
  if (!call) {
    shown = "";
    return;
  }
  const now = JSON.stringify([
    state.text === "",
    system(),
    [...way],
    [...draft],
    blanks.map((b) => b.paths.map((p) => [field(p)?.value, field(p)?.text])),
  ]);
  if (now === shown) return;
  shown = now;
  drawn();
  if (!state.text) void guide();
}

/** Draws the blanks anew, but not the one in which is typed: no key is lost to an answer that comes. */
function drawn() {
  const box = at("call");
  const input = document.activeElement;
  const within = input?.closest("#call .blank");
  const typing = within && input instanceof HTMLInputElement && input.value !== input.dataset.was;
  blanks.forEach((b, i) => {
    const old = box.children[i];
    if (!old) box.append(blank(b));
    else if (!typing || old !== within) old.replaceWith(blank(b));
  });
  if (!within || !input || typing) return;
  const again = document.getElementById(input.id);
  again?.focus();
  if (
    again instanceof HTMLInputElement &&
    input instanceof HTMLInputElement &&
    input.selectionStart === 0 &&
    input.selectionEnd === input.value.length
  )
    again.select();
}

/** How long ago, in words. @param {number} when */
function ago(when) {
  const min = Math.round((Date.now() - when) / 60000);
  if (min < 2) return "a moment ago";
  if (min < 90) return `${min} minutes ago`;
  return new Date(when).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" });
}

/** What stands beside an empty sheet: three steps, and where else a station may come from. */
async function guide() {
  const box = at("guide");
  const step = (/** @type {string} */ b, /** @type {string} */ t) => h("li", {}, h("strong", {}, b), " ", t);
  const others = last();
  const list = h("div", { class: "acts" });
  put(
    box,
    h("h2", {}, "No station yet"),
    h(
      "ol",
      { class: "steps" },
      step(
        "Write what the caller says.",
        "The first number brings an answer. What you leave is assumed, and marked so.",
      ),
      step("Read the verdict here.", "It names the valve, its condition and the fact that decides."),
      step("Watch the pump stop,", "try a remedy, and print the papers."),
    ),
    others.length
      ? h(
          "section",
          {},
          h("h3", {}, "Take up your work"),
          h(
            "div",
            { class: "acts" },
            ...others.map((l) =>
              h("button", { type: "button", onclick: () => resume(l.work) }, `${l.name}, ${ago(l.when)}`),
            ),
          ),
        )
      : null,
    h(
      "section",
      {},
      h("h3", {}, "Or bring a station"),
      h(
        "div",
        { class: "acts" },
        h("button", { type: "button", "data-door": "inquiry" }, "Paste an inquiry"),
        h("button", { type: "button", onclick: choosing }, "File, kept study"),
        h("button", { type: "button", onclick: () => trouble() }, "It bangs or leaks: find the cause"),
      ),
    ),
    // last, since it comes from the server: nothing moves under the hand of who is about to click
    h("section", {}, h("h3", {}, "Or look at an example"), list),
  );
  try {
    const all = (await examples()).filter((e) => !e.id.includes("starter"));
    put(list, ...all.map((e) => h("button", { type: "button", onclick: () => openExample(e) }, title(e))));
  } catch (e) {
    put(list, h("p", { class: "fault" }, wording(e)));
  }
}

/** What an example is called: its name and how much is known of it. @param {import("./types.js").Example} e */
export const title = (e) => `${e.title}: ${e.id.replaceAll("-", " ")}`;

/** The units of a station that begins here, or of the one on the sheet. @param {"US"|"SI"} to */
export async function setUnits(to) {
  units.now = to;
  if (!state.text) return show();
  if (system() !== to) await edit([{ path: "units", value: to }]);
}

/** Begins to show the blanks. */
export function begin() {
  on("text sheet", show);
  show();
}
