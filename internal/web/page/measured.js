// A measured stop: the file of a logger is read by the server, its stops are listed and drawn, the
// station on the sheet is fitted to them, and what was measured goes into its file.
import { at, h, put, say, upper } from "./dom.js";
import { aborted, post, Refused, slowly, wording } from "./api.js";
import { fitted, said } from "./loganswer.js";
import { dropPlace, sent } from "./sentfile.js";
import { shownValve, state } from "./state.js";
import { system, withUnit } from "./units.js";

/** @typedef {import("./types.js").Log} Log */
/** @typedef {import("./types.js").Fit} Fit */
/** @typedef {import("./types.js").FitRequest} FitRequest */
/** @typedef {import("./types.js").SentFile} SentFile */

/**
 * What stands in this tab: it stays when the panel is closed.
 * @typedef {object} Held
 * @property {SentFile|null} file
 * @property {string} map how the log is to be read, where somebody has said so
 * @property {string} channel
 * @property {string} valve
 * @property {string} sensor
 * @property {boolean} header
 * @property {Set<number>} left stops that are not taken
 * @property {Set<string>} events
 * @property {Log|null} log
 * @property {string} readFor the text of the station with which it was read
 * @property {Fit|null} fit
 * @property {string} fitted the text of the station that was fitted
 */

/** @type {Held} */
const held = {
  file: null,
  map: "",
  channel: "",
  valve: "",
  sensor: "",
  header: false,
  left: new Set(),
  events: new Set(),
  log: null,
  readFor: "",
  fit: null,
  fitted: "",
};

/** As many stops are fitted at once. */
const MOST_STOPS = 6;

/** The stops that are taken: those that nobody left out, as many as are fitted at once. @param {Log} log @param {Set<number>} left */
export const taken = (log, left) =>
  log.stops
    .map((s) => s.number)
    .filter((n) => !left.has(n))
    .slice(0, MOST_STOPS);

/**
 * What is asked of the server for a fit.
 * @param {Held} w @param {Log} log @param {SentFile} file @param {string} text @param {"US"|"SI"} units @returns {FitRequest}
 */
export const fitRequest = (w, log, file, text, units) => ({
  text,
  file,
  map: w.map || undefined,
  channel: w.channel || undefined,
  valve: w.valve.trim() || undefined,
  sensor: withUnit(w.sensor, units === "US" ? "ft" : "m") || undefined,
  at_header: w.header || undefined,
  events: [...w.events],
  stops: taken(log, w.left),
});

/** Fills the panel. @param {Element} box @param {{cautions: Promise<string[]>}} place */
export function measuredStop(box, place) {
  const cautions = h("ul", { class: "field-cautions" });
  place.cautions.then(
    (all) => put(cautions, ...all.map((c) => h("li", {}, c))),
    (e) => put(cautions, h("li", {}, wording(e))),
  );
  const wrong = h("p", { class: "fault", id: "log-fault", role: "alert" });
  const reading = h("div", { class: "log-answer", "aria-live": "polite" });
  const fitting = h("div", { class: "log-answer" });
  const drop = dropPlace(
    { id: "log-file", label: "Choose the logger's file (CSV or Excel)", describedby: "log-fault", over: box },
    (file) => void take(file),
  );
  drop.taken(held.file?.name || "");
  /** @type {AbortController|null} */ let running = null;

  /** @param {unknown} e @param {Element} where */
  function refuse(e, where) {
    if (aborted(e)) return;
    const m = e instanceof Refused ? e.messages[0] : undefined;
    const field = m?.path ? document.getElementById(`log-${m.path}-fault`) : null;
    const row = m?.line ? `Row ${m.line}${m.column ? `, column ${m.column}` : ""}: ` : "";
    put(field || where, h("span", { "aria-hidden": "true" }, "✕ "), row + upper(wording(e)));
    if (field) document.getElementById(`log-${m?.path}`)?.focus();
  }

  async function read() {
    if (!held.file) return;
    running?.abort();
    const now = (running = new AbortController());
    put(wrong);
    put(reading, h("p", { class: "soft" }, `${held.file.name} is being read …`));
    put(fitting);
    try {
      const station = state.text ? { text: state.text } : { units: system() };
      held.readFor = state.text;
      held.log = await post(
        "log",
        { ...station, file: held.file, map: held.map || undefined, channel: held.channel || undefined },
        { signal: now.signal },
      );
      held.fit = null;
      draw();
      say(`${held.log.stops.length} stops found`);
    } catch (e) {
      if (aborted(e)) return;
      put(reading);
      refuse(e, wrong);
      if (held.map) put(reading, mapForm(held.map)); // what was written is mended where it stands
    }
  }

  /** @param {File} chosen */
  async function take(chosen) {
    put(wrong);
    try {
      const file = await sent(chosen, `seatward log ${chosen.name}, seatward calibrate`);
      Object.assign(held, { file, map: "", channel: "", log: null, fit: null });
      held.left.clear();
      drop.taken(file.name);
      await read();
    } catch (e) {
      refuse(e, wrong);
    }
  }

  /** How the log is read, to be mended. @param {string} text */
  function mapForm(text) {
    const area = h("textarea", { id: "log-map", rows: 12, spellcheck: "false", class: "file-text", value: text });
    return h(
      "details",
      { open: held.map !== "" },
      h("summary", {}, "How the log was read, to be corrected"),
      h("label", { for: "log-map", class: "sr" }, "How the log is read"),
      area,
      h(
        "button",
        { type: "button", onclick: () => ((held.map = area.value), void read()) },
        "Read the log again this way",
      ),
    );
  }

  function draw() {
    const log = held.log;
    if (!log) return;
    put(reading, ...said(log), mapForm(held.map || log.map), h("p", { class: "soft" }, log.cautions));
    stops(log);
  }

  /** The stops, and what is asked before the station is fitted to them. @param {Log} log */
  function stops(log) {
    const far = h("div", { class: "acts", "aria-live": "polite" });
    const fault = h("p", { class: "fault", role: "alert" });
    const answer = h("div", { class: "log-answer" });
    const channel =
      log.head_channels.length > 1
        ? h(
            "p",
            { class: "line-form" },
            h("label", { for: "log-channel" }, "Pressure or head at the valve"),
            h(
              "select",
              {
                id: "log-channel",
                onchange: (/** @type {Event} */ e) => {
                  held.channel = /** @type {HTMLSelectElement} */ (e.target).value;
                  held.left.clear();
                  void read();
                },
              },
              h("option", { value: "" }, "choose"),
              ...log.head_channels.map((c) => h("option", { value: c, selected: c === held.channel }, c)),
            ),
          )
        : null;
    const list = h(
      "ul",
      { class: "log-stops" },
      ...log.stops.map((s) =>
        h(
          "li",
          {},
          h(
            "label",
            {},
            h("input", {
              type: "checkbox",
              value: s.number,
              checked: !held.left.has(s.number),
              onchange: (/** @type {Event} */ e) =>
                /** @type {HTMLInputElement} */ (e.target).checked
                  ? held.left.delete(s.number)
                  : held.left.add(s.number),
            }),
            h("span", {}, `${s.when}: ${s.closing || "no closing seen"}`),
          ),
        ),
      ),
    );
    const head = h("h3", {}, log.stops.length === 1 ? "One stop found" : `${log.stops.length} stops found`);
    if (!log.stops.length) return put(fitting, head, channel, h("p", {}, log.no_stops));
    if (!state.text)
      return put(
        fitting,
        head,
        channel,
        list,
        h("p", {}, "With a station on the sheet it can be fitted to these stops: its inertia, wave speed and slam."),
      );
    put(
      fitting,
      head,
      channel,
      h(
        "form",
        { class: "log-form", onsubmit: (/** @type {Event} */ e) => (e.preventDefault(), void fit()), novalidate: true },
        h(
          "fieldset",
          {},
          h("legend", {}, "Stops to fit"),
          list,
          log.stops.length > MOST_STOPS
            ? h("p", { class: "soft" }, `The first ${MOST_STOPS} that are ticked are fitted at once.`)
            : null,
        ),
        h("fieldset", {}, h("legend", {}, "What was logged"), ...logged(log)),
        fault,
        h(
          "div",
          { class: "acts" },
          h("button", { type: "submit", class: "main" }, "Fit the station to these stops"),
          far,
        ),
      ),
      answer,
    );
    if (held.fit) put(answer, ...fitted(held.fit, held.fitted));

    async function fit() {
      const file = held.file;
      running?.abort();
      if (!file) return;
      for (const p of fitting.querySelectorAll(".fault")) put(p);
      if (!taken(log, held.left).length) return put(fault, "Tick at least one stop.");
      const now = (running = new AbortController());
      const text = state.text;
      put(answer);
      const runs = h("span", {}, "beginning …");
      put(
        far,
        h("progress", { "aria-label": "The station is being fitted" }),
        runs,
        h("button", { type: "button", onclick: () => now.abort() }, "Stop"),
      );
      try {
        const r = await slowly(
          "fit",
          { progress: "1" },
          fitRequest(held, log, file, text, system()),
          (done) => put(runs, `${done} runs of the station`),
          now.signal,
        );
        Object.assign(held, { fit: r, fitted: text });
        put(answer, ...fitted(r, text));
        say(r.about);
        answer.scrollIntoView({ block: "nearest" });
      } catch (e) {
        if (aborted(e)) say("The fit was stopped");
        refuse(e, fault);
      } finally {
        put(far);
      }
    }
  }

  put(
    box,
    h(
      "p",
      { class: "soft" },
      "A pressure logger close behind the check valve, 100 readings per second or more, and one stop of a pump tell inertia, wave speed and slam of the station as it is. The file is read on this server and not kept.",
    ),
    h("div", { class: "safety" }, h("strong", {}, "Before anybody goes near"), cautions),
    drop.box,
    wrong,
    reading,
    fitting,
  );
  if (held.log && held.readFor !== state.text) void read();
  else draw();
  at("dialog").addEventListener("close", () => running?.abort(), { once: true });
}

/** What is asked of the logging. @param {Log} log */
function logged(log) {
  const unit = system() === "US" ? "ft" : "m";
  const text = (
    /** @type {"valve"|"sensor"} */ key,
    /** @type {string} */ label,
    /** @type {string} */ why,
    /** @type {Record<string, string>} */ more,
  ) => {
    const input = h("input", {
      type: "text",
      id: `log-${key}`,
      value: held[key],
      autocomplete: "off",
      spellcheck: "false",
      "aria-describedby": `log-${key}-why log-${key}-fault`,
      oninput: () => (held[key] = input.value),
      ...more,
    });
    return h(
      "div",
      { class: "leak-blank" },
      h("label", { for: `log-${key}` }, label),
      input,
      h("p", { class: "soft", id: `log-${key}-why` }, why),
      h("p", { class: "fault", id: `log-${key}-fault`, role: "alert" }),
    );
  };
  const header = h("input", {
    type: "checkbox",
    id: "log-header",
    checked: held.header,
    onchange: () => (held.header = header.checked),
  });
  return [
    h(
      "div",
      { class: "leak-blanks" },
      text("valve", "Valve that was logged", "The one that the station file says is there, where this is left empty.", {
        list: "log-valves",
      }),
      text("sensor", `Elevation of the sensor, ${unit}`, "That of the valve, where this is left empty.", {}),
    ),
    h("datalist", { id: "log-valves" }, ...(state.answer?.rows || []).map((r) => h("option", { value: r.id }))),
    h(
      "div",
      { class: "acts" },
      h(
        "button",
        {
          type: "button",
          onclick: () => {
            held.valve = shownValve();
            /** @type {HTMLInputElement} */ (at("log-valve")).value = held.valve;
          },
        },
        "The valve on the drawing",
      ),
      h("span", { class: "leak-way" }, header, h("label", { for: "log-header" }, "The sensor is at the header")),
    ),
    log.events.length > 1
      ? h(
          "details",
          { open: held.events.size > 0 },
          h("summary", {}, "Which stops they were: the nearest is taken where none is named"),
          h(
            "ul",
            { class: "log-stops" },
            ...log.events.map((v) =>
              h(
                "li",
                {},
                h(
                  "label",
                  {},
                  h("input", {
                    type: "checkbox",
                    value: v.id,
                    checked: held.events.has(v.id),
                    onchange: (/** @type {Event} */ e) =>
                      /** @type {HTMLInputElement} */ (e.target).checked
                        ? held.events.add(v.id)
                        : held.events.delete(v.id),
                  }),
                  h("span", {}, v.title),
                ),
              ),
            ),
          ),
        )
      : null,
  ];
}
