// The options of a valve: what goes together, what is barred and why, what it makes.
import { at, h, put, upper } from "./dom.js";
import { post, wording } from "./api.js";
import { state } from "./state.js";
import { show } from "./compare.js";
import { near } from "./notices.js";

/** @typedef {import("./types.js").Option} Option */

/** Standards and elastomers, which are written in capitals. */
const CAPITALS = /\b(asme|ansi|awwa|iso|din|en|bs|jis|npt|epdm|nbr|fkm|ptfe|pvc|fbe|b16\.\d+|c\d{3}|pn ?\d+)\b/gi;

/** A choice as people write it. @param {string} s */
export const plain = (s) => upper(s.replace(/[_-]/g, " ").replace(CAPITALS, (w) => w.toUpperCase()));

/** What was chosen, by valve: papers are written for it. @type {Map<string, Map<string, string>>} */
const chosen = new Map();

/** The choices for a valve, as requests take them. @param {string} valve */
export const picksOf = (valve) => [...(chosen.get(valve) || [])].map(([option, choice]) => ({ option, choice }));

/** @param {string} valve */
export async function configure(valve) {
  put(at("dialog-body"), h("p", { class: "soft" }, "Looking …"));
  const row = state.answer?.rows.find((r) => r.id === valve);
  show(row ? `Options of ${row.title}, ${row.size}` : "Options");
  const picks = chosen.get(valve) || new Map();
  chosen.set(valve, picks);
  const note = h("p", { class: "fault", role: "alert" });
  const box = h("div", { class: "options" });
  put(at("dialog-body"), note, box);

  async function again() {
    try {
      const c = await post("configure", {
        text: state.text,
        valve,
        picks: picksOf(valve),
      });
      put(note);
      const focus = document.activeElement instanceof HTMLElement ? document.activeElement.id : "";
      put(
        box,
        ...c.options.filter((o) => o.left.length > 0 || o.choice).map(option),
        parts(c),
        near(/pressure|lift/i, "lifting"),
      );
      if (focus) document.getElementById(focus)?.focus();
      return true;
    } catch (e) {
      put(note, wording(e));
      return false;
    }
  }

  /** @param {Option} o */
  function option(o) {
    const all = [...new Set([o.choice, ...o.left])].filter(Boolean);
    const id = "opt-" + o.id;
    const select = h(
      "select",
      {
        id,
        onchange: async () => {
          const before = picks.get(o.id);
          picks.set(o.id, select.value);
          if (await again()) return;
          if (before === undefined) picks.delete(o.id);
          else picks.set(o.id, before);
          select.value = o.choice;
        },
      },
      ...all.map((c) => h("option", { value: c, selected: c === o.choice }, plain(c))),
    );
    return h(
      "div",
      { class: "option" },
      h("label", { for: id }, upper(o.title || plain(o.id))),
      select,
      h("span", { class: "soft" }, o.how),
      o.barred.length
        ? h(
            "details",
            {},
            h("summary", {}, `${o.barred.length} barred`),
            h(
              "ul",
              {},
              ...o.barred.map((b) =>
                h(
                  "li",
                  {},
                  h("strong", {}, plain(b.choice)),
                  ": ",
                  b.because
                    .map((x) => x.message + (x.reason ? ` (${x.reason})` : "") + (x.source ? `, ${x.source}` : ""))
                    .join("; ") || "does not go with the other choices",
                ),
              ),
            ),
          )
        : null,
    );
  }
  await again();
}

/** What the choices make: code and bill of materials. @param {import("./types.js").Configuration} c */
function parts(c) {
  return h(
    "div",
    { class: "bill" },
    c.code ? h("p", {}, h("span", { class: "soft" }, "Code "), h("code", {}, c.code)) : null,
    c.bill.length
      ? h(
          "details",
          { open: true },
          h("summary", {}, `Bill of materials, ${c.bill.length} parts`),
          h("ul", {}, ...c.bill.map((b) => h("li", {}, [b.part, b.material].filter(Boolean).join(" ")))),
        )
      : null,
  );
}
