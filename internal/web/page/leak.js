// A leak test: what was read at the wet well, as people write it, and what it says of the check
// valve. The answer is that of the command line, and may be given back to the diagnosis.
import { at, h, put, say, upper } from "./dom.js";
import { aborted, post, Refused, wording } from "./api.js";
import { lineChart } from "./linechart.js";
import { dropPlace, pasted, sent } from "./sentfile.js";
import { state } from "./state.js";
import { system, withUnit } from "./units.js";

/** @typedef {import("./types.js").Leak} Leak */
/** @typedef {import("./types.js").LeakRequest} LeakRequest */
/** @typedef {import("./types.js").SentFile} SentFile */
/** @typedef {Record<string, string>} Texts */
/** @typedef {{cautions: Promise<string[]>, give: (test: string, reading: string) => void}} Place */

/** What was written in this tab: it stays when the panel is closed. @type {{texts: Texts, way: "rises"|"record", file: SentFile|null, station: boolean}} */
const written = { texts: {}, way: "rises", file: null, station: true };

/** @typedef {{id: string, label: string, unit: Record<"US"|"SI", string>, like: Record<"US"|"SI", string>, why?: string}} Blank */

const none = { US: "", SI: "" };
const rise = { US: "2.4 in in 10 min", SI: "6 cm in 10 min" };

/** @type {Blank[]} */
const well = [
  {
    id: "diameter",
    label: "Diameter, round well",
    unit: { US: "ft", SI: "m" },
    like: { US: "8 ft", SI: "2.5 m" },
  },
  { id: "area", label: "or its area", unit: { US: "ft²", SI: "m²" }, like: { US: "50 ft²", SI: "5 m²" } },
  {
    id: "step",
    label: "Step of the reading",
    unit: { US: "in", SI: "mm" },
    like: { US: "0.1 in", SI: "1 mm" },
    why: "The smallest change that the gauge, tape or display shows. A record may leave it out.",
  },
  {
    id: "head",
    label: "Head across the valve",
    unit: { US: "ft", SI: "m" },
    like: none,
    why: "With the valve closed, for the hole that would leak as much. With a station it may be left out.",
  },
];

/** @type {Blank[]} */
const rises = [
  { id: "before", label: "Rise, isolating valve shut", unit: none, like: rise },
  {
    id: "open",
    label: "Rise, isolating valve open",
    unit: none,
    like: { US: "3.5 in in 10 min", SI: "9 cm in 10 min" },
  },
  {
    id: "after",
    label: "Rise, shut again",
    unit: none,
    like: rise,
    why: "Shows whether the inflow changed meanwhile.",
  },
  {
    id: "drop",
    label: "Drop, one pump running",
    unit: none,
    like: { US: "14 in in 2 min", SI: "35 cm in 2 min" },
    why: "For the flow of that pump. May be left out.",
  },
];

/** The field in which a place of the request is written. @param {string} path @param {Texts} texts */
export function fieldOf(path, texts) {
  if (path === "shut[1]") return "after";
  if (path === "shut") return texts.before?.trim() || !texts.after?.trim() ? "before" : "after";
  return path;
}

/**
 * What is asked of the server.
 * @param {{texts: Texts, way: string, file: SentFile|null}} w @param {"US"|"SI"} units @returns {LeakRequest}
 */
export function request(w, units) {
  const text = (/** @type {Blank} */ b) => withUnit(w.texts[b.id] || "", b.unit[units]);
  /** @type {LeakRequest} */ const out = { units };
  for (const b of well) {
    const said = text(b);
    if (said) out[/** @type {"diameter"|"area"|"step"|"head"} */ (b.id)] = said;
  }
  const list = (/** @type {string[]} */ ...ids) => ids.map((id) => (w.texts[id] || "").trim()).filter((s) => s);
  if (w.way === "rises") Object.assign(out, { shut: list("before", "after"), open: list("open"), drop: list("drop") });
  else if (w.file) out.record = w.file;
  else out.record = pasted("pasted record", w.texts.record || "");
  return out;
}

/** Fills the panel. @param {Element} box @param {Place} place */
export function leakTest(box, place) {
  const units = system();
  const answer = h("div", { class: "leak-answer", "aria-live": "polite" });
  const cautions = h("ul", { class: "field-cautions" });
  place.cautions.then(
    (all) => put(cautions, ...all.map((c) => h("li", {}, c))),
    (e) => put(cautions, h("li", {}, wording(e))),
  );

  /** @param {Blank} b */
  const blank = (b) => {
    const id = "leak-" + b.id;
    const input = h("input", {
      type: "text",
      id,
      value: written.texts[b.id] || "",
      autocomplete: "off",
      spellcheck: "false",
      placeholder: b.like[units] ? `such as ${b.like[units]}` : "",
      "aria-describedby": `${id}-why ${id}-fault`,
      oninput: () => (written.texts[b.id] = input.value),
    });
    return h(
      "div",
      { class: "leak-blank" },
      h("label", { for: id }, b.label, b.unit[units] ? h("span", { class: "soft" }, `, ${b.unit[units]}`) : null),
      input,
      h("p", { class: "soft", id: id + "-why" }, b.why || ""),
      h("p", { class: "fault", id: id + "-fault", role: "alert" }),
    );
  };

  const record = h("textarea", {
    id: "leak-record",
    rows: 6,
    spellcheck: "false",
    value: written.texts.record || "",
    placeholder: "time (min)\tlevel (in)\tpump\tvalve\n0\t30.0\toff\tshut\n0.5\t30.1\toff\tshut",
    "aria-describedby": "leak-record-why leak-record-fault",
    oninput: () => {
      written.texts.record = record.value;
      written.file = null;
      named();
    },
  });
  const drop = dropPlace(
    { id: "leak-file", label: "or choose a CSV or Excel file", describedby: "leak-record-why", over: box },
    (f) => void take(f),
  );
  const out = h(
    "button",
    { type: "button", class: "small", onclick: () => ((written.file = null), named()) },
    "Take the file out",
  );
  const named = () => {
    drop.taken(written.file?.name || "");
    out.hidden = written.file === null;
  };
  named();
  const ways = {
    rises: h("div", { class: "leak-blanks" }, ...rises.map(blank)),
    record: h(
      "div",
      { class: "leak-record" },
      h("label", { for: "leak-record" }, "Paste the table"),
      record,
      drop.box,
      out,
      h(
        "p",
        { class: "soft", id: "leak-record-why" },
        "A first row with the names of the columns: time (min), level (in) or another unit, pump (on, off), valve (open, shut). It is read on this server and not kept.",
      ),
      h("p", { class: "fault", id: "leak-record-fault", role: "alert" }),
    ),
  };
  const radio = (/** @type {"rises"|"record"} */ way) =>
    h("input", { type: "radio", name: "leak-way", value: way, onchange: () => ((written.way = way), show()) });
  const choices = { rises: radio("rises"), record: radio("record") };
  const show = () => {
    choices[written.way].checked = true;
    ways.rises.hidden = written.way !== "rises";
    ways.record.hidden = written.way !== "record";
  };
  show();
  const mine = h("input", {
    type: "checkbox",
    id: "leak-station",
    checked: written.station,
    onchange: () => (written.station = mine.checked),
  });

  /** @param {File} f */
  async function take(f) {
    fault("record", "");
    written.way = "record";
    show();
    try {
      written.file = await sent(f, `seatward leak --record ${f.name}`);
      named();
      say(`${f.name} is taken`);
    } catch (e) {
      fault("record", wording(e));
    }
  }

  /** Says what is wrong at its field. @param {string} id @param {string} text */
  function fault(id, text) {
    const p = document.getElementById(`leak-${id}-fault`);
    if (!p) return false;
    put(p, text ? h("span", { "aria-hidden": "true" }, "✕ ") : null, text ? upper(text) : null);
    document.getElementById(`leak-${id}`)?.setAttribute("aria-invalid", String(text !== ""));
    return true;
  }

  /** @type {AbortController|null} */ let asking = null;

  /** @param {Event} e */
  async function read(e) {
    e.preventDefault();
    asking?.abort();
    const now = (asking = new AbortController());
    for (const b of [...well, ...rises, { id: "record" }]) fault(b.id, "");
    put(answer);
    try {
      const text = written.station && state.text ? { text: state.text } : {};
      shown(await post("leak", { ...text, ...request(written, units) }, { signal: now.signal }));
    } catch (x) {
      if (aborted(x)) return;
      const m = x instanceof Refused ? x.messages[0] : undefined;
      const id = m?.path ? fieldOf(m.path, written.texts) : m?.line && written.way === "record" ? "record" : "";
      const where = m?.line ? `Row ${m.line}${m.column ? `, column ${m.column}` : ""}: ` : "";
      if (id && fault(id, where + wording(x))) document.getElementById(`leak-${id}`)?.focus();
      else put(answer, h("p", { class: "fault", role: "alert" }, wording(x)));
    }
  }

  /** @param {Leak} r */
  function shown(r) {
    const found = r.found;
    put(
      answer,
      h("h3", { tabindex: "-1" }, `Leak-back: ${r.cause}`),
      h("p", {}, r.meaning),
      numbers(r),
      r.doubts.length ? h("ul", { class: "warnings" }, ...r.doubts.map((t) => h("li", {}, t))) : null,
      notes(r.notes),
      found
        ? h(
            "div",
            { class: "acts" },
            h(
              "button",
              { type: "button", class: "main", onclick: () => place.give(found.test, found.reading) },
              "Give this reading to the diagnosis",
            ),
          )
        : null,
      ...(r.pump.length ? [h("h4", {}, "Pump flow from the drawdown"), ...r.pump.map((t) => h("p", {}, t))] : []),
      ...(r.stuck.length ? [h("h4", {}, "If the valve sticks open"), notes(r.stuck)] : []),
      r.chart ? lineChart(r.chart) : null,
      h(
        "details",
        {},
        h("summary", {}, "Where it comes from"),
        h("ul", { class: "plain-list" }, ...r.assumed.map((t) => h("li", {}, upper(t)))),
        h("ol", { class: "plain-list" }, ...r.references.map((t) => h("li", {}, t))),
      ),
    );
    say(`Leak-back: ${r.cause}`);
    answer.querySelector("h3")?.focus({ preventScroll: true });
    answer.scrollIntoView({ block: "nearest" });
  }

  put(
    box,
    h(
      "p",
      { class: "soft" },
      "Pumps locked out, choose a quiet hour. Read the level for 10 minutes with the isolating valve behind the check valve shut, for 10 to 15 minutes with it open, and for 10 minutes with it shut again. What comes back through the check valve makes the level rise faster.",
    ),
    h("div", { class: "safety" }, h("strong", {}, "Before anybody goes near"), cautions),
    h(
      "form",
      { class: "leak-form", onsubmit: read, novalidate: true },
      h("fieldset", {}, h("legend", {}, "The wet well"), h("div", { class: "leak-blanks" }, ...well.map(blank))),
      h(
        "fieldset",
        {},
        h("legend", {}, "What was read"),
        h(
          "div",
          { class: "acts" },
          h("label", { class: "leak-way" }, choices.rises, " Rises of the level"),
          h("label", { class: "leak-way" }, choices.record, " A record of levels"),
        ),
        ways.rises,
        ways.record,
      ),
      h(
        "div",
        { class: "acts" },
        h("button", { type: "submit", class: "main" }, "Work out the leak"),
        state.text
          ? h(
              "span",
              {},
              mine,
              " ",
              h("label", { for: "leak-station" }, "with the numbers of the station on the sheet"),
            )
          : h("span", { class: "soft" }, "With a station on the sheet it also gives the hole, extra starts and cost."),
      ),
    ),
    answer,
  );
  at("dialog-body").scrollTop = 0;
}

/** @param {Leak} r */
const numbers = (r) =>
  r.lines.length
    ? h(
        "div",
        { class: "wide-table", tabindex: "0", role: "region", "aria-label": "Numbers of the leak test" },
        h(
          "table",
          { class: "compare leak-numbers" },
          h("thead", {}, h("tr", {}, ...["What", "Best", "Range"].map((t) => h("th", { scope: "col" }, t)))),
          h(
            "tbody",
            {},
            ...r.lines.map((l) =>
              h("tr", {}, h("th", { scope: "row" }, l.name), h("td", {}, l.best), h("td", {}, l.range)),
            ),
          ),
        ),
      )
    : null;

/** @param {Leak["notes"]} list */
const notes = (list) =>
  h("ul", { class: "field-notes" }, ...list.map((n) => h("li", { class: n.warns ? "warns" : "" }, n.text)));
