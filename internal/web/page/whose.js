// Whose papers they are and for which project: a form that this browser remembers.
import { h } from "./dom.js";

const KEY = "seatward.whose";
const LOGO_MOST = 1 << 20;

/** What a form asks: the key of a profile, its label, the group. @type {[string, string, "firm"|"project"][]} */
export const asked = [
  ["company", "Firm", "firm"],
  ["address", "Address", "firm"],
  ["contact", "Telephone or mail", "firm"],
  ["prepared_by", "Prepared by", "firm"],
  ["project", "Project", "project"],
  ["project_number", "Project number", "project"],
  ["owner", "Owner", "project"],
  ["engineer", "Engineer", "project"],
  ["contractor", "Contractor", "project"],
  ["specification_section", "Specification section", "project"],
  ["paragraph", "Paragraph", "project"],
  ["drawing", "Drawing and detail", "project"],
  ["tag", "Tag of the valve", "project"],
  ["isolating_pump_side", "Isolating valve, pump side", "project"],
  ["isolating_header_side", "Isolating valve, header side", "project"],
  ["emergency_contact", "Emergency contact", "project"],
  ["quantity", "How many valves", "project"],
  ["delivery_place", "Delivery to", "project"],
  ["delivery_date", "Wanted on", "project"],
  ["reply_date", "Quotes due", "project"],
];

/** The languages that come with the program. @type {[string, string][]} */
const languages = [
  ["en", "English"],
  ["es", "Español"],
];

/** The profile that is sent: what was filled in, nothing else. @param {Record<string, string>} filled */
export function profileOf(filled) {
  /** @type {Record<string, string>} */
  const out = {};
  for (const [key] of [...asked, ["paper"], ["language"]]) {
    const text = (filled[key] || "").trim();
    if (text) out[key] = text;
  }
  return Object.keys(out).length > 0 ? out : undefined;
}

/** What this browser remembers. @returns {Record<string, string>} */
function remembered() {
  try {
    const kept = JSON.parse(localStorage.getItem(KEY) || "{}");
    return kept && typeof kept === "object" ? kept : {};
  } catch {
    return {};
  }
}

/** @param {Record<string, string>} filled */
function remember(filled) {
  try {
    localStorage.setItem(KEY, JSON.stringify(filled));
  } catch {
    // without room, or without a store, it is asked again next time
  }
}

/** The bytes of a file as the interface takes them. @param {File} file @returns {Promise<string>} */
const base64 = (file) =>
  new Promise((done, fail) => {
    const r = new FileReader();
    r.onload = () => done(String(r.result).replace(/^[^,]*,/, ""));
    r.onerror = () => fail(new Error(`${file.name} cannot be read`));
    r.readAsDataURL(file);
  });

/**
 * The form. changed is called after each change; say tells a fault.
 * @param {() => void} changed @param {(text: string) => void} say
 */
export function whose(changed, say) {
  const filled = remembered();
  const set = (/** @type {string} */ key, /** @type {string} */ value) => {
    filled[key] = value;
    remember(filled);
    changed();
  };
  const field = (/** @type {[string, string, string]} */ [key, label]) => {
    const id = "p-" + key.replaceAll("_", "-");
    const input = h("input", { id, type: "text", autocomplete: "off", value: filled[key] || "" });
    input.addEventListener("change", () => set(key, input.value));
    return h("div", { class: "option" }, h("label", { for: id }, label), input);
  };
  const sheet = h(
    "select",
    { id: "p-paper", onchange: () => set("paper", sheet.value) },
    ...["letter", "A4"].map((p) => h("option", { value: p, selected: p === (filled.paper || "letter") }, p)),
  );
  const language = h(
    "select",
    { id: "p-language", onchange: () => set("language", language.value) },
    ...languages.map(([tag, name]) =>
      h("option", { value: tag, selected: tag === (filled.language || languages[0][0]) }, name),
    ),
  );
  const logo = h("input", { id: "p-logo", type: "file", accept: "image/png,image/jpeg" });
  const shown = h(
    "span",
    { class: "soft" },
    filled.logo ? "A logo is kept in this browser." : "PNG or JPEG, up to 1 MB.",
  );
  const drop = h("button", { type: "button", hidden: !filled.logo, onclick: () => take("") }, "No logo");
  const take = (/** @type {string} */ data) => {
    drop.hidden = !data;
    shown.textContent = data ? "This logo stands at the head of every page." : "PNG or JPEG, up to 1 MB.";
    if (!data) logo.value = "";
    set("logo", data);
  };
  logo.addEventListener("change", async () => {
    const file = logo.files?.[0];
    if (!file) return;
    if (file.size > LOGO_MOST) {
      say(`${file.name} has ${Math.ceil(file.size / 1024)} kB: a logo may have 1 MB.`);
      logo.value = "";
      return;
    }
    try {
      take(await base64(file));
    } catch (e) {
      say(e instanceof Error ? e.message : String(e));
    }
  });
  const group = (/** @type {string} */ title, /** @type {string} */ which, /** @type {HTMLElement[]} */ ...more) =>
    h(
      "details",
      { class: "whose", open: asked.some(([key, , g]) => g === which && filled[key]) },
      h("summary", {}, title),
      h("div", { class: "options papers" }, ...asked.filter(([, , g]) => g === which).map(field), ...more),
    );
  return {
    profile: () => profileOf(filled),
    logo: () => filled.logo || undefined,
    all: h(
      "div",
      {},
      group(
        "Your firm",
        "firm",
        h("div", { class: "option" }, h("label", { for: "p-logo" }, "Logo"), logo, shown, drop),
        h("div", { class: "option" }, h("label", { for: "p-paper" }, "Paper size"), sheet),
        h("div", { class: "option" }, h("label", { for: "p-language" }, "Language"), language),
      ),
      group("The project", "project"),
      h("p", { class: "soft" }, "What you fill in here stays in this browser. What is left out stands as a blank."),
    ),
  };
}
