// Remedies as chips under the film: pressed, one shows before and after and is in the film; "take
// it into the station" writes it into the file. Each was run through every stop, as the row was.
import { h, put, say, toast, upper } from "./dom.js";
import { take } from "./wishes.js";
import { told } from "./tripwords.js";

/** @typedef {import("./types.js").Cure} Cure */
/** @typedef {import("./scales.js").Units} Units */
/** @typedef {Pick<typeof import("./api.js"), "post"|"wording">} Api */

/** The least pressure head in words. @param {Cure} c @param {Units} u */
const least = (c, u) => (c.column_separation ? "vapor: column separation" : told(c.least_pressure_head_m, u.head));

/** @param {Cure} c @param {Units} u */
const slam = (c, u) => told(c.reverse_velocity_m_s, u.velocity) + (c.class ? `, ${c.class}` : "");

/** What stands on a chip: its name, and what it comes to. @param {Cure} c @param {Units} u */
export const chipText = (c, u) =>
  c.fault && !c.class
    ? `${upper(c.name)}: not run`
    : `${upper(c.name)}: ${told(c.reverse_velocity_m_s, u.velocity)}${c.recommended ? " ✓" : ""}`;

/** Before and after, row by row. @param {Cure} now @param {Cure} then @param {Units} u @returns {[string, string, string][]} */
export const beside = (now, then, u) => [
  ["reverse velocity", slam(now, u), slam(then, u)],
  ["head rise", told(now.head_rise_m, u.head), told(then.head_rise_m, u.head)],
  ["min. pressure head in the main", least(now, u), least(then, u)],
];

/** @param {[string, string, string][]} rows */
export const table = (rows) =>
  h(
    "table",
    {},
    h(
      "thead",
      {},
      h(
        "tr",
        {},
        ...["worst of all stops, best estimates", "as it is", "with it"].map((t) => h("th", { scope: "col" }, t)),
      ),
    ),
    h(
      "tbody",
      {},
      rows.map(([k, a, b]) => h("tr", {}, h("th", { scope: "row" }, k), h("td", {}, a), h("td", {}, b))),
    ),
  );

/**
 * The chips. `wish` puts a remedy into the film; null takes it out.
 * @param {Api} api @param {() => import("./runs.js").Held} getState @param {() => Units} units @param {(cure: Cure|null) => void} wish
 */
export function cures(api, getState, units, wish) {
  const chips = h("div", { class: "pl-chips", role: "group", "aria-label": "Remedies" });
  const detail = h("div", { class: "pl-cure", role: "status" });
  const box = h("section", { class: "pl-cures" }, h("h3", {}, "Remedies"), chips, detail);
  let key = "";
  let wanted = ""; // the valve for which they are still to be run
  let visible = false;
  /** @type {AbortController|null} */ let asking = null;
  /** @type {Cure[]} */ let all = [];
  let on = 0;

  function draw() {
    put(
      chips,
      all.slice(1).map((c, i) =>
        h(
          "button",
          {
            type: "button",
            class: "pl-chip",
            "aria-pressed": String(on === i + 1),
            disabled: !c.class,
            title: c.fault || upper(c.what),
            onclick: () => press(i + 1),
          },
          chipText(c, units()),
        ),
      ),
    );
    const [now, c] = [all[0], all[on]];
    if (!on) {
      const good = all.slice(1).filter((x) => x.recommended);
      put(
        detail,
        all.length
          ? h(
              "p",
              { class: "pl-note" },
              good.length
                ? "Press one for before and after. ✓: better by its own run, in the worst of all stops."
                : "None of these is better in all its stops; press one for before and after. Surge control is for a licensed engineer to design.",
            )
          : null,
      );
      return;
    }
    put(
      detail,
      h(
        "p",
        {},
        h("strong", {}, c.valve ? `${upper(c.name)}, ${c.valve}` : upper(c.what)),
        c.recommended ? " ✓ recommended" : "",
      ),
      table(beside(now, c, units())),
      h(
        "p",
        { class: "pl-acts" },
        h(
          "button",
          { type: "button", class: "pl-button pl-take", onclick: () => void taken(c) },
          c.valve ? "Look at this valve instead" : "Take it into the station",
        ),
        h("button", { type: "button", class: "pl-button", onclick: () => press(on) }, "Back to the station as it is"),
      ),
    );
    say(
      beside(now, c, units())
        .map(([k, a, b]) => `${k}: ${a} as it is, ${b} with it`)
        .join("; "),
    );
  }

  /** @param {number} i */
  function press(i) {
    on = on === i ? 0 : i;
    draw();
    wish(on ? all[on] : null);
    const pressed = /** @type {HTMLElement|undefined} */ (chips.children[i - 1]);
    pressed?.focus({ preventScroll: true });
  }

  /** @param {Cure} c */
  async function taken(c) {
    try {
      await take(c.edits || [], c.valve);
      toast(c.valve ? "This valve is looked at now." : `Taken into the station: ${c.what}. Undo takes it out again.`);
    } catch (e) {
      toast(api.wording(e));
    }
  }

  /** Has the server run them. */
  async function run() {
    const valve = wanted;
    if (!valve) return;
    wanted = "";
    const mine = (asking = new AbortController());
    try {
      const r = await api.post("remedies", { text: getState().text, valve }, { signal: mine.signal });
      if (mine.signal.aborted) return;
      all = r.remedies;
      draw();
    } catch (e) {
      if (!mine.signal.aborted) put(detail, h("p", { class: "pl-alert" }, api.wording(e)));
    }
  }

  const watch = new IntersectionObserver((list) => {
    visible = list[list.length - 1].isIntersecting;
    if (visible) void run();
  });
  watch.observe(box);

  return {
    box,
    /** The remedies for a valve in the station as it is: run once they are looked at. @param {string} valve */
    show(valve) {
      const next = valve + "\n" + getState().text;
      if (next === key) return;
      key = next;
      wanted = valve;
      asking?.abort();
      all = [];
      on = 0;
      put(chips);
      put(detail, h("p", { class: "pl-note" }, "Remedies are being run …"));
      if (visible) void run();
    },
    /** What is pressed is let go, without a run: something else is in the film. */
    release() {
      if (!on) return;
      on = 0;
      draw();
    },
    stop() {
      asking?.abort();
      watch.disconnect();
    },
  };
}
