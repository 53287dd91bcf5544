// A fact of the station: how it looks, and how it is edited where it stands.
import { h, put, say, toast, upper } from "./dom.js";
import { Refused, wording } from "./api.js";
import { curve } from "./curve.js";
import { edit, state } from "./state.js";
import { explain } from "./explain.js";
import { best, brief, items, joined, label, several } from "./labels.js";

/** @typedef {import("./types.js").Field} Field */

/** How each origin is marked: a word and a sign, besides the line under it. @type {Record<Field["origin"], [string, string]>} */
const marks = {
  given: ["", ""],
  assumed: ["≈", "assumed"],
  catalog: ["", "from the catalog"],
  computed: ["=", "computed"],
  simulated: ["=", "computed"],
  unknown: ["?", "unknown"],
};

/**
 * The value as a button that opens its editor.
 * @param {Field} f @param {{name?: boolean, brief?: boolean}} [how] name: with its label in front; brief: on the drawing
 */
export function value(f, how = {}) {
  const [sign, word] = marks[f.origin] || marks.given;
  const button = h(
    "button",
    {
      type: "button",
      class: `val ${f.origin}`,
      "data-path": f.path,
      "aria-label": `${how.name ? label(f) + " " : ""}${brief(f)}${word && f.origin !== "unknown" ? " " + word : ""}: ${upper(f.label)}. Edit`,
      title: f.reason || null,
      onclick: () => openEditor(f, button),
    },
    how.name ? h("span", { class: "lab" }, label(f) + " ") : null,
    sign ? h("span", { class: "sign", "aria-hidden": "true" }, sign) : null,
    h("span", { class: "v" }, brief(f)),
    word && f.origin === "assumed" ? h("span", { class: "word" }, " " + word) : null,
  );
  return button;
}

/** @type {HTMLElement|null} */ let panel = null;
/** @type {(() => void)|null} */ let leave = null;

/** Closes the editor if one is open. */
export function closeEditor() {
  leave?.();
}

/** The same fact of the newest sheet. @param {Field} f */
const newest = (f) => state.sheet?.fields.find((x) => x.path === f.path) || f;

/**
 * Opens the editor of a fact under the place where it stands.
 * @param {Field} given @param {HTMLElement} anchor
 */
export function openEditor(given, anchor) {
  closeEditor();
  const f = newest(given);
  const id = "edit-" + f.path.replace(/[^\w]/g, "-");
  const list =
    f.choices && f.choices.length
      ? h("datalist", { id: id + "-list" }, ...f.choices.map((c) => h("option", { value: c })))
      : null;
  const shape = several(f);
  const lines = shape ? items(f.value).join("\n") : "";
  const input = shape
    ? h("textarea", {
        id,
        rows: Math.min(9, Math.max(3, items(f.value).length + 1)),
        value: lines,
        spellcheck: "false",
        "aria-describedby": id + "-why",
      })
    : h("input", {
        id,
        type: "text",
        value: f.value,
        autocomplete: "off",
        spellcheck: "false",
        "aria-describedby": id + "-why",
        list: list ? id + "-list" : undefined,
        placeholder: f.value ? "" : best(f.text) || "unknown",
      });
  const fault = h("p", { class: "fault", role: "alert" });
  const choices =
    f.choices && f.choices.length <= 7
      ? h(
          "div",
          { class: "choices" },
          ...f.choices.map((c) =>
            h(
              "button",
              {
                type: "button",
                class: c === f.value ? "on" : "",
                "aria-pressed": String(c === f.value),
                onclick: () => apply(c),
              },
              c,
            ),
          ),
        )
      : null;
  const buttons = h(
    "div",
    { class: "acts" },
    h("button", { type: "submit", class: "main" }, "Apply"),
    f.origin === "assumed" && f.text
      ? h("button", { type: "button", onclick: () => apply(best(f.text)) }, "Take as given")
      : null,
    /\.curve$/.test(f.path)
      ? h("button", { type: "button", onclick: () => (stop(), curve(newest(f))) }, "Table and plot")
      : null,
    f.value ? h("button", { type: "button", onclick: () => apply(null) }, "Unknown") : null,
    f.explain ? h("button", { type: "button", onclick: () => explain(f.explain, f.label) }, "Where from") : null,
    h("button", { type: "button", onclick: () => stop() }, "Cancel"),
  );
  const form = h(
    "form",
    {
      class: "editor",
      "aria-label": upper(f.label),
      onsubmit: (/** @type {Event} */ e) => (e.preventDefault(), take()),
    },
    h("label", { for: id }, upper(f.label)),
    input,
    f.unit && !shape ? h("span", { class: "unit soft" }, `in ${f.unit}, unless you write another unit`) : null,
    list,
    choices,
    fault,
    h("p", { class: "why", id: id + "-why" }, reason(f), shape ? ` ${ways[shape]}` : ""),
    buttons,
  );
  form.addEventListener("keydown", (e) => {
    if (e.key === "Escape") (e.stopPropagation(), stop());
    if (e.key === "Enter" && e.target === input && (shape ? e.ctrlKey || e.metaKey : !e.shiftKey))
      (e.preventDefault(), form.requestSubmit());
  });

  const take = () => apply(shape ? joined(input.value, shape) : input.value.trim() || null);

  /** @param {string|null} v */
  async function apply(v) {
    if (form.hasAttribute("aria-busy")) return; // Enter may come twice
    if (v === f.value || (v === null && !f.value)) return stop();
    form.setAttribute("aria-busy", "true");
    put(fault);
    try {
      await edit([{ path: f.path, value: v }]);
      say(`${f.label} is now ${v ?? "unknown"}`);
      stop();
    } catch (e) {
      if (panel !== form) return toast(`${upper(f.label)}: ${wording(e)}`);
      put(fault, h("span", { "aria-hidden": "true" }, "✕ "), wording(e), asked(e, apply));
      input.setAttribute("aria-invalid", "true");
      input.focus();
    } finally {
      form.removeAttribute("aria-busy");
    }
  }

  function stop() {
    if (panel !== form) return; // another editor is open by now
    form.remove();
    panel = leave = null;
    const again = document.querySelector(
      `${anchor.closest("#facts") ? "#facts " : ""}[data-path="${CSS.escape(f.path)}"]`,
    );
    /** @type {HTMLElement|null} */ (again || anchor)?.focus();
  }

  form.dataset.was = input.value;
  panel = form;
  leave = () => {
    form.remove();
    panel = leave = null;
    if (input.value !== form.dataset.was) void take(); // what was typed is not lost
  };
  place(form, anchor);
  input.focus();
  if (input instanceof HTMLInputElement) input.select();
}

/** What a value in doubt may mean, as buttons. @param {unknown} e @param {(v: string) => void} apply */
function asked(e, apply) {
  const all = (e instanceof Refused && e.messages[0]?.choices) || [];
  return all.length
    ? h("span", { class: "asked" }, ...all.map((c) => h("button", { type: "button", onclick: () => apply(c) }, c)))
    : null;
}

/** Puts the editor by its anchor and inside the window. @param {HTMLElement} form @param {HTMLElement} anchor */
function place(form, anchor) {
  const layer = document.getElementById("layer") || document.body;
  layer.append(form);
  const a = anchor.getBoundingClientRect();
  const w = form.offsetWidth;
  const left = Math.max(8, Math.min(a.left + window.scrollX - 10, document.documentElement.clientWidth - w - 8));
  form.style.setProperty("left", `${left}px`);
  form.style.setProperty("top", `${a.top + window.scrollY - 8}px`);
}

/** How several things are written. */
const ways = {
  points: "One point a line, such as 400 gpm, 74 ft. Ctrl and Enter apply.",
  keys: "One a line with its number, such as 90 elbow: 2. Ctrl and Enter apply.",
  words: "One a line. Ctrl and Enter apply.",
};

/** Why the value is what it is, in a sentence. @param {Field} f */
function reason(f) {
  const parts = [];
  if (f.origin === "assumed")
    parts.push(`Assumed${f.text ? ": " + f.text : ""}. ${upper(f.reason)}${f.reason ? "." : ""}`);
  else if (f.origin === "unknown") parts.push("Unknown: leave it so, or write what is known.");
  else if (f.origin === "given") parts.push(f.text && f.text !== f.value ? `Read as ${f.text}.` : "As given.");
  else parts.push(`${upper((marks[f.origin] || ["", f.origin])[1])}${f.text ? ": " + f.text : ""}. ${upper(f.reason)}`);
  if (f.si !== null && f.si !== undefined) parts.push("A range is written 12 to 15 or 14 ± 1.");
  return parts.join(" ");
}

document.addEventListener("pointerdown", (e) => {
  if (
    panel &&
    e.target instanceof Node &&
    !panel.contains(e.target) &&
    !(e.target instanceof Element && e.target.closest("dialog"))
  ) {
    const input = panel.querySelector("input,textarea");
    if (input && /** @type {HTMLInputElement} */ (input).value === panel.dataset.was) closeEditor();
  }
});
