// A small film with numbers that can be checked by hand: 3 places, 4 frames, vapor known at
// two of them, the valve shut at 0.2 s.

/** @param {number[]} list */
export const base64 = (list) => btoa(String.fromCharCode(...new Uint8Array(new Float32Array(list).buffer)));

/** Float64 as the server packs it. @param {number[]} list */
export const base64of64 = (list) => btoa(String.fromCharCode(...new Uint8Array(new Float64Array(list).buffer)));

/**
 * @param {Partial<import("../../internal/web/page/types.js").Film>} [film] @param {Partial<import("../../internal/web/page/types.js").Trip>} [trip]
 * @returns {import("../../internal/web/page/types.js").TripAnswer}
 */
export function answer(film = {}, trip = {}) {
  const names = ["head behind the valve", "head before the valve", "flow through the valve", "opening", "pump speed"];
  const values = [
    [20, 20, 0.1, 1, 1],
    [12, 11, 0.02, 0.5, 0.9],
    [30, 8, 0, 0, 0.8],
    [18, 6, 0, 0, 0.5],
  ];
  return {
    trip: {
      schema: "seatward.trip/2",
      program: { name: "seatward", version: "devel" },
      station: { name: "Small", depth: "study", fluid: "water", size: "6 in", position: "horizontal", hash: "0" },
      valve: "swing/6in",
      what_if: [],
      datum: "level",
      event: "one-trips-high",
      closing: closing(),
      events: [],
      timeline: [],
      envelope: [],
      cavities: [],
      findings: [],
      remedies: [],
      assumed: [],
      cautions: [],
      notes: [],
      grid: { step_s: 0.001, steps: 1000, duration_s: 1, greatest_wave_speed_adjustment: 0 },
      ...trip,
    },
    film: {
      t: [0, 0.1, 0.2, 1],
      x_m: [0, 500, 1000],
      elevation_m: [0, 5, 12],
      ground_m: [],
      limit_m: [100, 95, null],
      vapor_m: [-10, -5, 2],
      heads: base64([20, 18, 15, 12, 18, 15, 30, 4, 15, 18, 9, 14]),
      head_min: [12, 3.5, 14],
      head_max: [31, 18, 15],
      traces: {
        names,
        units: ["m", "m", "m3/s", "", ""],
        t: [0, 0.1, 0.2, 1],
        values,
        least: values,
        most: values.map((r, i) => (i === 2 ? [33, ...r.slice(1)] : r)),
      },
      exact: { names, t: base64of64([0, 0.1, 0.2, 1]), values: base64(values.flat()) },
      opening: [1, 0.5, 0, 0],
      velocity: [1, 0.2, 0, 0],
      pump_speed: [1, 0.9, 0.8, 0.5],
      cutaway: {
        type: "swing",
        title: "Swing",
        figure: {
          drawing: "swing",
          element: "disc",
          hinged: true,
          lever: false,
          weight: false,
          spring: false,
          cushion: false,
        },
        bore_m: 0.15,
        position: "horizontal",
        stroke: 1,
        rotary: true,
        parts: {},
        opening: [1, 0.5, 0, 0],
      },
      moments: [
        { t: 0, kind: "event", text: "the pump trips" },
        { t: 0.2, kind: "valve closes", text: "the valve closes" },
      ],
      slams: [],
      events: [],
      vary: [],
      thinned: "",
      said: {
        reverse_velocity: "0.40 m/s, likely 0.30 to 0.60 m/s",
        head_rise: "18.0 m",
        verdict_class: "audible",
        class_words: "audible 60%",
        chances_text: "quiet 40%, audible 60%, harmful 0%",
      },
      ...film,
    },
  };
}

/**
 * How the valve of the small film closes.
 * @param {Partial<NonNullable<import("../../internal/web/page/types.js").Trip["closing"]>>} [other] @returns {NonNullable<import("../../internal/web/page/types.js").Trip["closing"]>}
 */
export const closing = (other = {}) => ({
  class: "audible",
  method: "run",
  event: "one-trips-high",
  event_title: "one pump trips",
  closed: true,
  time_s: 0.2,
  reversal_s: 0.15,
  reverse_velocity_m_s: { low: 0.3, best: 0.4, high: 0.6 },
  head_rise_m: { low: 18, best: 18, high: 18 },
  head_fall_before_m: 0,
  resolved: true,
  comes_to_rest: true,
  runs: 100,
  shares: [],
  ...other,
});
