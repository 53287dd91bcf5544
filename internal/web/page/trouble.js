// A trouble at a station that stands: what was seen or heard, the causes in order, and the next
// safe test. What a test showed is given back by a click, and narrows the answer.
import { at, h, put, say, svg, upper } from "./dom.js";
import { aborted, post, wording } from "./api.js";
import { show } from "./compare.js";
import { download, fileName } from "./filetext.js";
import { leakTest } from "./leak.js";
import { measuredStop } from "./measured.js";
import { shownValve, state } from "./state.js";

/** @typedef {import("./types.js").Diagnosis} Diagnosis */

/** What was noticed in this tab: it stays when the panel is closed. @type {{signs: Set<string>, found: Record<string, string>}} */
const noticed = { signs: new Set(), found: {} };

/** The groups of signs, as they are asked. @type {[string, string][]} */
const groups = [
  ["seen", "What was seen or heard?"],
  ["when", "When in the cycle?"],
  ["since", "Since when?"],
];

const BURST = "M12 3v5M12 16v5M3 12h5M16 12h5M6 6l3 3M15 15l3 3M18 6l-3 3M9 15l-3 3";
const GAUGE = "M4 16a8 8 0 1 1 16 0M12 16";
/** What each sign looks like, in lines. @type {Record<string, string>} */
const pictures = {
  "bang-once": BURST,
  "bangs-twice": "M8 4v4M8 14v4M2 11h4M10 11h3M17 6v3M17 15v3M13 12h2M19 12h3",
  "bang-late": "M2 18h14M18 8v3M18 15v3M14 13h2M20 13h3M4 18l3-6",
  "bang-at-start": `${BURST}M10 10l4 2-4 2Z`,
  "bang-running": `${BURST}M9 12a3 3 0 1 1 1 2`,
  "spins-backward": "M19 12a7 7 0 1 1-3-6M16 2v4h-4",
  "level-jumps": "M3 4v17h18V4M6 16h12M12 13V6M9 9l3-3 3 3",
  "rise-ends": "M3 4v17h18V4M6 10h12M12 18v-6M8 8h8",
  "starts-up": "M3 20h18M5 20V9M9 20V12M13 20V6M17 20V10M19 5l2-2 2 2",
  "hours-up": "M12 3a9 9 0 1 0 .1 0M12 7v5l4 3",
  "low-flow": "M3 9h18M3 15h18M8 12h4M10 10l2 2-2 2",
  "level-stays": "M3 4v17h18V4M6 11h12M7 15h10",
  "low-with-one": "M7 12a3 3 0 1 0 .1 0M17 12a3 3 0 1 0 .1 0M7 9v-5M4 7l3-3",
  "current-low": "M13 3 7 13h5l-1 8 6-11h-5Z",
  "pressure-high": `${GAUGE}l5-5`,
  "pressure-low": `${GAUGE}l-5-3`,
  "start-trips": "M13 3 7 13h5l-1 8M16 6l5 5M21 6l-5 5",
  rattles: "M3 12l3-5 3 10 3-10 3 10 3-10 3 5",
  "lever-hunts": "M6 19 17 6M6 19a2 2 0 1 0 .1 0M19 11a9 9 0 0 1-2 5M13 3a9 9 0 0 1 4-1",
  "slow-swings": "M3 12c4-10 6-10 9 0s5 10 9 0",
  "air-spits": "M6 18a2 2 0 1 0 .1 0M13 12a2.5 2.5 0 1 0 .1 0M18 5a2 2 0 1 0 .1 0",
};

/** @param {string} sign */
const picture = (sign) =>
  svg(
    "svg",
    { class: "sign-picture", viewBox: "0 0 24 24", width: 22, height: 22, "aria-hidden": "true", focusable: "false" },
    svg("path", { d: pictures[sign] || "" }),
  );

/** How many causes are shown in full before the rest is folded. */
const FULL = 4;

/** The parts of the panel, each with its title. */
const parts = {
  causes: ["Find the cause", "Trouble at a station: from what was noticed to the cause"],
  leak: ["Leak test", "Leak test: what the level of the wet well says"],
  stop: ["Measured stop", "A measured stop: the station fitted to a logger's file"],
};

/** What to mind before anybody goes near: the same words as in the terminal. @type {Promise<Diagnosis>|null} */
let minded = null;

/** Opens the panel at one of its parts. @param {keyof typeof parts} [part] */
export function trouble(part = "causes") {
  show(parts[part][1]);
  const box = h("div", { class: "field-part" });
  put(
    at("dialog-body"),
    h(
      "div",
      { class: "acts", role: "group", "aria-label": "Parts of trouble" },
      .../** @type {(keyof typeof parts)[]} */ (Object.keys(parts)).map((p) =>
        h(
          "button",
          {
            type: "button",
            "aria-pressed": String(p === part),
            class: p === part ? "on" : "",
            onclick: () => trouble(p),
          },
          parts[p][0],
        ),
      ),
    ),
    box,
  );
  if (part === "causes") return causesOf(box);
  minded ||= post("diagnose", { signs: [], found: {} });
  minded.catch(() => (minded = null)); // asked again when the part is opened again
  if (part === "leak") leakTest(box, { cautions: minded.then((r) => r.cautions), give });
  else measuredStop(box, { cautions: minded.then((r) => r.stop_cautions) });
}

/** Gives a reading back to the diagnosis. @param {string} test @param {string} reading */
function give(test, reading) {
  noticed.found[test] = reading;
  trouble();
}

/** From what was noticed to the cause. @param {Element} box */
function causesOf(box) {
  const asked = h("div", { class: "asked-signs" });
  const answer = h("div", { class: "causes", "aria-live": "polite" });
  const station = state.text !== "";
  const mine = h("input", { type: "checkbox", id: "t-station", checked: station });
  const present = h("input", {
    type: "text",
    id: "t-valve",
    autocomplete: "off",
    placeholder: "by the station file's words",
    list: "t-valves",
  });
  put(
    box,
    h(
      "p",
      { class: "soft" },
      "Tick what was noticed. The causes stand in order of the evidence, and the next test is the safest that tells most. Nobody opens a valve before the safer tests.",
    ),
    station
      ? h(
          "p",
          { class: "line-form" },
          mine,
          h("label", { for: "t-station" }, "with the numbers of the station on the sheet;"),
          h("label", { for: "t-valve" }, "valve that is there now:"),
          present,
          h("datalist", { id: "t-valves" }, ...(state.answer?.rows || []).map((r) => h("option", { value: r.id }))),
          h(
            "button",
            { type: "button", onclick: () => ((present.value = shownValve()), void ask()) },
            "The one on the drawing",
          ),
        )
      : null,
    h("div", { class: "trouble" }, asked, answer),
  );
  mine.addEventListener("change", () => void ask());
  present.addEventListener("change", () => void ask());

  /** @type {AbortController|null} */ let asking = null;
  let drawn = false;

  async function ask() {
    asking?.abort();
    const now = (asking = new AbortController());
    if (drawn) put(answer, h("p", { class: "soft" }, "The causes are being weighed …"));
    try {
      const text = station && mine.checked ? { text: state.text, valve: present.value.trim() || undefined } : {};
      const r = await post(
        "diagnose",
        { ...text, signs: [...noticed.signs], found: noticed.found },
        { signal: now.signal },
      );
      if (!drawn) signs(r);
      drawn = true;
      causes(r);
    } catch (e) {
      if (!aborted(e)) put(answer, h("p", { class: "fault", role: "alert" }, wording(e)));
    }
  }

  /** @param {Diagnosis} r */
  function signs(r) {
    put(
      asked,
      ...groups.map(([group, question]) =>
        h(
          "fieldset",
          {},
          h("legend", {}, question),
          ...r.signs
            .filter((s) => s.group === group)
            .map((s) =>
              h(
                "label",
                { class: "sign-line" },
                h("input", {
                  type: "checkbox",
                  value: s.id,
                  checked: noticed.signs.has(s.id),
                  onchange: (/** @type {Event} */ e) => {
                    const box = /** @type {HTMLInputElement} */ (e.target);
                    if (box.checked) noticed.signs.add(s.id);
                    else noticed.signs.delete(s.id);
                    void ask();
                  },
                }),
                picture(s.id),
                h("span", {}, s.text),
              ),
            ),
        ),
      ),
    );
  }

  /** @param {string} test @param {string|null} reading */
  function found(test, reading) {
    if (reading === null) delete noticed.found[test];
    else noticed.found[test] = reading;
    void ask();
  }

  /** @param {Diagnosis} r */
  function causes(r) {
    const nothing = noticed.signs.size + r.done.length === 0;
    if (nothing) {
      put(answer, r.about ? h("p", { class: "soft" }, r.about) : null, h("p", {}, "Tick what was noticed."));
      return;
    }
    const all = r.answer.causes;
    const full = all.filter((c) => c.for.length > 0 && c.standing !== "ruled out by a test").slice(0, FULL);
    const rest = all.filter((c) => !full.includes(c));
    say(`${full[0]?.title || "No cause"} ${full[0]?.standing || ""}`);
    put(
      answer,
      r.about ? h("p", { class: "soft" }, r.about) : null,
      ...done(r, found),
      ...next(r, found),
      h("h3", {}, "Causes, the most likely first"),
      h("ol", { class: "cause-list" }, ...full.map(cause)),
      h(
        "details",
        {},
        h("summary", {}, `Also possible, or spoken against (${rest.length})`),
        h("ul", {}, ...rest.map(brief)),
      ),
      h("p", { class: "soft" }, r.answer.order),
      h(
        "div",
        { class: "acts" },
        h(
          "button",
          {
            type: "button",
            class: "main",
            onclick: () => download(new Blob([r.sheet], { type: "text/html" }), fileName(".field-sheet.html")),
          },
          "Field sheet for the crew",
        ),
        h(
          "button",
          { type: "button", onclick: () => (noticed.signs.clear(), (noticed.found = {}), trouble()) },
          "Begin anew",
        ),
      ),
      h(
        "p",
        { class: "soft" },
        "Before anybody opens, enters or lifts: lock out, vent, drain and prove zero, test the air, and keep to the maker's instructions and the local rules.",
      ),
    );
  }

  void ask();
}

/** Tests that were done, each of which can be taken back. @param {Diagnosis} r @param {(test: string, reading: string|null) => void} found */
const done = (r, found) =>
  r.done.length === 0
    ? []
    : [
        h("h3", {}, "Tests done"),
        h(
          "ul",
          {},
          ...r.done.map((d) =>
            h(
              "li",
              {},
              `${d.title}: ${d.reading} `,
              h("button", { type: "button", class: "small", onclick: () => found(d.test, null) }, "Take back"),
            ),
          ),
        ),
      ];

/** The next test, with what each reading would mean as buttons. @param {Diagnosis} r @param {(test: string, reading: string|null) => void} found */
function next(r, found) {
  const [first, ...others] = r.answer.next_tests;
  /** @param {{id: string}} t */
  const worked = (t) =>
    r.by_levels.includes(t.id)
      ? h("button", { type: "button", onclick: () => trouble("leak") }, "Work it out from the levels")
      : r.by_logger.includes(t.id)
        ? h("button", { type: "button", onclick: () => trouble("stop") }, "Read the logger's file")
        : null;
  if (!first) return [h("h3", {}, "No test is left"), h("p", {}, r.last_test)];
  return [
    h("h3", {}, `Next test: ${first.title}`),
    h("p", { class: "safety" }, h("strong", {}, `What it takes: ${first.safety}. `), first.steps),
    worked(first),
    h("p", { class: "soft" }, "What did it show?"),
    h("div", { class: "readings" }, ...first.expects.map((x) => reading(x, () => found(first.id, x.reading)))),
    others.length
      ? h(
          "details",
          {},
          h("summary", {}, `Other tests, the safest first (${others.length})`),
          ...others.map((t) =>
            h(
              "details",
              { class: "other-test" },
              h("summary", {}, `${t.title}: ${t.safety}`),
              h("p", {}, t.steps),
              worked(t),
              h("div", { class: "readings" }, ...t.expects.map((x) => reading(x, () => found(t.id, x.reading)))),
            ),
          ),
        )
      : null,
  ];
}

/** @param {Diagnosis["answer"]["next_tests"][number]["expects"][number]} x @param {() => void} act */
const reading = (x, act) =>
  h(
    "div",
    { class: "reading" },
    h("button", { type: "button", onclick: act }, upper(x.text)),
    h("span", { class: "soft" }, x.causes.length ? x.causes.join("; ") : "speaks for none of the causes"),
  );

/** @param {Diagnosis["answer"]["causes"][number]} c */
const cause = (c) =>
  h(
    "li",
    {},
    h("strong", {}, c.title),
    ` (${c.standing})`,
    h(
      "ul",
      { class: "evidence" },
      ...c.for.map((t) => h("li", {}, "+ ", t)),
      ...c.against.map((t) => h("li", {}, "− ", t)),
      ...c.would_show.map((t) => h("li", { class: "soft" }, "would show: ", t)),
    ),
    h("p", { class: "soft" }, `Basis: ${c.source} (${c.status})`),
  );

/** @param {Diagnosis["answer"]["causes"][number]} c */
const brief = (c) => h("li", {}, `${c.title} (${c.standing})`, c.against.length ? `: ${c.against.at(-1)}` : "");
