// The frame of the player: where everything stands.
import { h, put } from "./dom.js";

/** @typedef {import("./film.js").Reel} Reel */
/** @typedef {import("./runs.js").Held} Held */
/** @typedef {typeof import("./controls.js").controls} controls */
/** @typedef {typeof import("./pictures.js").pictures} pictures */

/**
 * The frame of the player: where everything stands.
 * @param {HTMLElement} root @param {ReturnType<controls>} bar @param {ReturnType<pictures>} drawn @param {HTMLElement|null} chips the remedies, and with them all that is asked; null for the film alone
 * @param {{event: (id: string) => void, compare: (valve: string|null) => void, place: () => void}} acts
 */
export function frame(root, bar, drawn, chips, acts) {
  const alert = h("p", { class: "pl-alert", role: "alert" });
  const busy = h("span", { class: "pl-busy", "aria-live": "polite" });
  const far = h("progress", { max: 1, value: 0, hidden: true, "aria-label": "How far the run has come" });
  const event = h("select", { onchange: () => acts.event(event.value) });
  const other = h("select", { onchange: () => acts.compare(other.value || null) });
  const words = h("div", { class: "pl-words" });
  const closing = h("p", { class: "pl-closing" });
  const what = h("div", {});
  const trying = h("details", { class: "pl-details pl-if" }, h("summary", {}, "What if"), what);
  trying.addEventListener("toggle", () => beside());
  const beside = () => drawn.beside()?.toggleAttribute("hidden", !trying.open);
  const place = h("button", { type: "button", class: "pl-button pl-place", onclick: acts.place }, "On the drawing");
  drawn.left.append(bar.caption, bar.box, ...(chips ? [chips] : []));
  const body = h(
    "div",
    { class: "pl-body", hidden: true },
    h(
      "div",
      {
        class: "pl-stage",
        tabindex: 0,
        role: "group",
        "aria-label": "The pump trip. Space plays, arrow keys step, Home and End go to the ends.",
      },
      drawn.scene,
    ),
    chips && trying,
  );
  const more = h(
    "div",
    { class: "pl-more", hidden: true },
    h("div", { class: "pl-under" }, drawn.strips, h("section", {}, h("h3", {}, "What happens"), bar.list)),
    h("details", { class: "pl-details" }, h("summary", {}, "The trip in words"), words),
  );
  const film = h(
    "div",
    { class: "pl-film player" },
    h(
      "div",
      { class: "pl-head" },
      h("label", { class: "pl-choice" }, "event ", event),
      chips && h("label", { class: "pl-choice" }, "beside it ", other),
      chips && place,
      busy,
      far,
    ),
    alert,
    closing,
    body,
  );
  put(root, film, chips && more);
  return {
    alert,
    busy,
    closing,
    words,
    what,
    film,
    place,
    /** The sliders of the valve stand beside it while others are open. @param {HTMLElement} sliders */
    beside(sliders) {
      const at = drawn.beside();
      if (at) put(at, h("h4", {}, "What if it had"), sliders);
      beside();
    },
    /** There is something to see. */
    shown() {
      body.hidden = more.hidden = false;
    },
    /** Shows how far a run has come; 1 is the end. @param {number} share */
    far(share) {
      far.hidden = share >= 1;
      far.value = share;
    },
    /** @param {Reel} r @param {string[]} valves that are shown @param {Held} held */
    choices(r, valves, held) {
      const events = r.events.length ? r.events : [{ id: r.trip.event, title: r.moments[0]?.text || r.trip.event }];
      const worst = held.answer?.rows.find((x) => x.id === valves[0])?.slam?.event;
      put(
        event,
        events.map((e) =>
          h(
            "option",
            { value: e.id, selected: e.id === r.trip.event },
            e.title + (e.id === worst ? " (worst for slam, as in the row)" : ""),
          ),
        ),
      );
      const rows = (held.answer?.rows || []).filter((x) => x.id !== valves[0]);
      put(
        other,
        h("option", { value: "" }, "no other valve"),
        rows.map((x) => h("option", { value: x.id, selected: x.id === valves[1] }, `${x.title}, ${x.size}`)),
      );
      event.value = r.trip.event;
      other.value = valves[1] || "";
    },
  };
}
