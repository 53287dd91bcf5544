// Short words for facts where they stand on the drawing, and which of them stand there.

/** @typedef {import("./types.js").Field} Field */

/** By the path without its counts. @type {Record<string, string>} */
const short = {
  "fluid.kind": "liquid",
  "fluid.solids": "solids up to",
  "fluid.temperature": "temperature",
  "fluid.rags": "rags",
  "fluid.grit": "grit",
  "fluid.oil": "oil",
  "levels.wet_well_high": "high",
  "levels.wet_well_low": "low",
  "levels.outlet": "outlet",
  "levels.valve": "elevation",
  "levels.outlet_pressure": "pressure",
  "levels.suction_pressure": "suction",
  "valve.size": "size",
  "valve.position": "flow",
  "valve.place": "stands in",
  "valve.straight_before": "straight before",
  "valve.straight_after": "straight after",
  "valve.clearance": "clearance",
  "valve.rating": "rating",
  "duty.flow": "flow",
  "duty.head": "head",
  "duty.static_head": "static head",
  "duty.shutoff_head": "shutoff head",
  "duty.pumps_in_service": "run together",
  "pumps.name": "name",
  "pumps.count": "pumps",
  "pumps.standby": "standby",
  "pumps.curve": "curve",
  "pumps.efficiency": "efficiency",
  "pumps.speed": "speed",
  "pumps.motor_power": "motor",
  "pumps.inertia": "inertia",
  "pumps.submersible": "submersible",
  "branch.runs.size": "size",
  "branch.runs.length": "length",
  "branch.runs.material": "of",
  "branch.runs.class": "class",
  "branch.runs.fittings": "fittings",
  "main.runs.size": "size",
  "main.runs.length": "length",
  "main.runs.material": "of",
  "main.runs.class": "class",
  "main.runs.fittings": "fittings",
  "main.profile": "profile",
  "main.ground": "ground",
  "main.runs.wave_speed": "wave speed",
  "surge.common_header": "common",
  "surge.normal_stop": "stop",
  "surge.air_vessel": "air vessel",
  "operation.running_time_per_year": "runs a year",
  "operation.tariff": "tariff",
};

/** What stands on the drawing, in this order; an unknown one gives way. */
const order = [
  "levels.wet_well_high",
  "levels.wet_well_low",
  "levels.suction_pressure",
  "fluid.kind",
  "fluid.solids",
  "fluid.temperature",
  "valve.size",
  "valve.position",
  "levels.valve",
  "valve.place",
  "pumps.count",
  "pumps.curve",
  "duty.flow",
  "duty.head",
  "pumps.speed",
  "pumps.motor_power",
  "pumps.submersible",
  "pumps.inertia",
  "branch.runs.size",
  "branch.runs.length",
  "branch.runs.material",
  "branch.runs.fittings",
  "surge.common_header",
  "duty.pumps_in_service",
  "main.runs.length",
  "main.runs.size",
  "main.runs.material",
  "main.runs.class",
  "main.profile",
  "levels.outlet",
  "duty.static_head",
  "levels.outlet_pressure",
  "operation.running_time_per_year",
  "operation.tariff",
];

/** @param {string} path */
const plain = (path) => path.replace(/\[\d+\]/g, "");

/** Which of a list's entries a fact belongs to, from the second on. @param {string} path */
const which = (path) => {
  const i = Number(/\[(\d+)\]/.exec(path)?.[1] || 0);
  return i > 0 ? ` ${i + 1}` : "";
};

/** The label as it stands on the drawing. @param {Field} f @returns {string} */
export function label(f) {
  const s = short[plain(f.path)];
  if (s && plain(f.path) === "pumps.count" && which(f.path)) return `group${which(f.path)}`;
  if (s) return s + which(f.path);
  const first = f.label.split(/[,;:]/)[0];
  return first.length > 26 ? first.slice(0, 25) + "…" : first;
}

/**
 * Those that say most, in the order above, unknown ones last. What a pump curve
 * already says is not said again.
 * @param {Field[]} fields @param {number} n
 */
export function foremost(fields, n) {
  const curve = fields.some((f) => f.path.endsWith(".curve") && f.value);
  const weight = (/** @type {Field} */ f) => order.indexOf(plain(f.path)) + (f.origin === "unknown" ? 1000 : 0);
  return fields
    .filter((f) => order.includes(plain(f.path)) && !(curve && f.path.startsWith("duty.") && !f.value))
    .sort((a, b) => weight(a) - weight(b))
    .slice(0, n);
}

const RANGE = /\s*\([^()]* to [^()]*\)\s*$/;

/** The best value without its range. @param {string} text */
export const best = (text) => text.replace(RANGE, "");

/** What a list holds, one item a line, as it is edited. @param {string} s @returns {string[]} */
export function items(s) {
  const inner = s
    .trim()
    .replace(/^[[{]/, "")
    .replace(/[\]}]$/, "")
    .trim();
  if (s.trim().startsWith("[[")) return [...inner.matchAll(/\[([^\]]*)\]/g)].map((m) => m[1].trim());
  return inner ? inner.split(",").map((x) => x.trim()) : [];
}

/** Which shape a fact has that holds several things; "" for one value. @param {Field} f @returns {"points"|"keys"|"words"|""} */
export function several(f) {
  const v = f.value.trim();
  if (
    v.startsWith("[[") ||
    (!v && /^points\b/i.test(f.label)) ||
    (/(curve|profile|efficiency|power)$/.test(f.path) && f.kind === "list")
  )
    return "points";
  if (v.startsWith("{") || f.kind === "keys") return "keys";
  if (v.startsWith("[") || f.kind === "list") return "words";
  return "";
}

/** The lines of an editor as the file has them. @param {string} text @param {"points"|"keys"|"words"} shape */
export function joined(text, shape) {
  const lines = text
    .split("\n")
    .map((l) => l.trim().replace(/,$/, ""))
    .filter(Boolean);
  if (lines.length === 0) return null;
  if (shape === "points") return `[${lines.map((l) => `[${l.replace(/^\[|\]$/g, "")}]`).join(", ")}]`;
  return shape === "keys" ? `{${lines.join(", ")}}` : `[${lines.join(", ")}]`;
}

const US_UNITS = /(\d|\s)(gpm|mgd|cfs|ft|in|psi|hp|°F|degF|lb ft2|lb ft²|'|")\s*(±|$)/i;
const SI_UNITS = /(\d|\s)(L\/s|m3\/h|m³\/h|m3\/s|mm|cm|km|m|bar|kPa|kW|°C|kg m2|kg m²)\s*(±|$)|^DN/i;

/** Whether a number is written in the units of the other system than those shown. @param {Field} f */
function otherUnits(f) {
  if (!f.value || !f.text || f.kind === "list" || f.kind === "keys" || f.kind === "word") return false;
  const shown = best(f.text);
  return (US_UNITS.test(f.value) && SI_UNITS.test(shown)) || (SI_UNITS.test(f.value) && US_UNITS.test(shown));
}

/** The value in few words. @param {Field} f */
export function brief(f) {
  const v = f.value || f.text;
  if (!v) return "unknown";
  const shape = several(f);
  if (shape === "points") {
    const all = items(f.text.startsWith("[[") ? f.text : v);
    return `${all.length} points to ${(all[all.length - 1] || "").split(",")[0]}`;
  }
  const s = shape
    ? items(v)
        .map((x) => x.replace(/^(.*): *(\d+)$/, "$2 × $1"))
        .join(", ")
    : otherUnits(f)
      ? best(f.text)
      : f.value || best(f.text);
  return s.length > 30 ? s.slice(0, 29) + "…" : s;
}
