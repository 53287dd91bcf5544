// Shapes of what the server sends. Types only: nothing here runs.

/**
 * @typedef {{path: string, label: string, value: string, text: string, kind: string, unit: string, si: number|null,
 *   low: number|null, high: number|null, origin: string, reason: string, choices?: string[]|null, at: string, explain: string}} Field
 * @typedef {{x_m: number, elevation_m: number}} Point
 * @typedef {{kind: string, name: string, x_m: number, elevation_m: number, assumed: boolean}} Device
 * @typedef {{wet_well: {high_m: number, low_m: number, assumed?: boolean}, valve: {elevation_m: number, position: string, assumed?: boolean},
 *   outlet_m: number, pumps: {name: string, count: number, standby: number, submersible: boolean}[],
 *   branch: {length_m: number, diameter_m: number}|null, header: boolean, main: Point[], profile_given: boolean, ground: Point[],
 *   main_diameter_m: number, devices: Device[]}} Drawing
 * @typedef {{name: string, place: string, units: string, depth: string, hash: string, fluid: string, position: string, size: string}} Station
 * @typedef {{station: Station, fields: Field[], drawing: Drawing, warnings: string[]|null, assumed_count: number}} Sheet
 *
 * @typedef {{fact: string, low: number, high: number, best: number, at: number, texts: string[], milder: "above"|"below", below: string, above: string}} Threshold
 * @typedef {{event: string, event_title: string, low: number, best: number, high: number, class: string, verdict_class: string, class_words: string, chances_text: string, text: string, likely: string, median: string,
 *   chances: {quiet: number, audible: number, harmful: number}, head_rise: {m: number, text: string}|null, max_head: {m: number, text: string}|null,
 *   threshold: Threshold|null, quiet_m_s: number, harmful_m_s: number, stopped?: {m_s: number, text: string}|null}} Slam
 * @typedef {{id: string, family: string, figure: Figure, title: string, size: string, variant: string, verdict: string, rank: number, why_not: string,
 *   loss: {m: number|null, text: string}|null, velocity: {m_s: number|null, text: string}|null, full_open: {m_s: number|null, text: string}|null,
 *   slam: Slam|null, pending: boolean, not_run: string, column_separation: string, cost: {text: string, value: number|null}|null,
 *   why: {velocity: Finding|null, loss: Finding|null, slam: Finding|null}, conditions: string[], open: string[], confirm: string[]}} Row
 * @typedef {{id: string, severity: string, head: string, section: string, text: string, value?: number, limit?: number, unit?: string, basis?: string, mend?: string, missing?: string, settled_by?: string, beyond_valve?: boolean}} Finding
 * @typedef {{id: string, family: string, verdict: string, rank?: number, rank_reason?: string, findings: Finding[], [key: string]: any}} Candidate
 * @typedef {{pumps_running: number, level: string, flow_m3_s: number, head_m: number, static_head_m: number, [key: string]: any}} OperatingPoint
 * @typedef {{candidates: Candidate[], operating_points: OperatingPoint[], assumed: {path: string, name: string, reason: string, [key: string]: any}[],
 *   cautions: Caution[], references: string[], [key: string]: any}} Study
 * @typedef {{id: string, text: string}} Caution
 * @typedef {{study: Study, shown: {candidate: Candidate, findings?: Finding[]}, verdict: {word: string, sentence: string, condition: string, deciding: string}, column_separation: string,
 *   rows: Row[], decisive_fact: string, cautions: Caution[]|string[]|null, runs: "none"|"shown"|"all", to_run: boolean}} Answer
 *
 * @typedef {{drawing: string, element: string, hinged: boolean, lever: boolean, weight: boolean, spring: boolean, cushion: boolean}} Figure
 * @typedef {{type: string, title?: string, figure: Figure, bore_m?: number, position?: string, [key: string]: any}} CutawayInfo
 * @typedef {{path: string, label: string, si: number, low: number, high: number, unit: string, per_si: number, reason: string}} Trial
 * @typedef {{reverse_velocity: string, head_rise: string, verdict_class: string, class_words: string, chances_text: string}} Said
 * @typedef {{t: number[], x_m: number[], elevation_m: number[], ground_m: number[], limit_m: (number|null)[], vapor_m: number[], heads: string,
 *   head_min: number, head_max: number, traces: {names: string[], units: string[], t: number[], values: number[][], least?: number[][], most?: number[][]},
 *   opening: number[], velocity: number[], pump_speed: number[], cutaway: CutawayInfo, moments: {t: number, text: string}[]|null,
 *   events: {id: string, title: string}[]|null, slams: {t: number, m_s: number, text: string}[]|null, vary: Trial[]|null, said: Said|null}} Film
 * @typedef {{name: string, what: string, reverse_velocity_m_s?: number, head_rise_m?: number, greatest_head_at_valve_m?: number, least_pressure_head_m?: number,
 *   column_separation: boolean, recommended: boolean, fault?: string}} Remedy
 * @typedef {{valve: string, event: string, closing: any, events: any[], findings: Finding[]|null, remedies?: Remedy[]|null, what_if?: {path: string, text: string}[]|null, [key: string]: any}} Trip
 * @typedef {{trip: Trip, film: Film}} TripAnswer
 *
 * @typedef {{line: number, column: number, path: string, text: string, found: string, expected: string, mend: string}} Message
 * @typedef {{id: string|number, name: string, revision: number, text?: string, valve?: string, note?: string, saved?: string, removed?: boolean}} Kept
 * @typedef {{kind: string, title: string, what?: string, format?: string, formats: string[], compares?: boolean, trip?: boolean}} Paper
 * @typedef {{id: string, title: string, text: string}} Example
 */

export {};
