// Small helpers to make elements. No markup is ever parsed from text, so nothing a
// station file holds can become script.

/** @typedef {Node|string|number|null|undefined|false} Child */
/** @typedef {Record<string, any>} Props */

/**
 * Sets attributes, listeners (on…) and properties.
 * @param {Element} e @param {Props} props
 */
function dress(e, props) {
  for (const [k, v] of Object.entries(props)) {
    if (v === null || v === undefined || v === false) continue;
    if (k.startsWith("on")) e.addEventListener(k.slice(2), v);
    else if (k === "value" || k === "checked" || k === "selected") /** @type {any} */ (e)[k] = v;
    else e.setAttribute(k === "className" ? "class" : k, v === true ? "" : String(v));
  }
}

/** @param {Element} e @param {(Child|Child[])[]} kids */
function fill(e, kids) {
  for (const kid of kids.flat()) {
    if (kid === null || kid === undefined || kid === false) continue;
    e.append(kid instanceof Node ? kid : String(kid));
  }
}

/**
 * An HTML element.
 * @template {keyof HTMLElementTagNameMap} T
 * @param {T} tag @param {Props} [props] @param {(Child|Child[])[]} kids
 * @returns {HTMLElementTagNameMap[T]}
 */
export function h(tag, props = {}, ...kids) {
  const e = document.createElement(tag);
  fill(e, kids);
  dress(e, props);
  return e;
}

/**
 * An SVG element.
 * @template {keyof SVGElementTagNameMap} T
 * @param {T} tag @param {Props} [props] @param {(Child|Child[])[]} kids
 * @returns {SVGElementTagNameMap[T]}
 */
export function svg(tag, props = {}, ...kids) {
  const e = document.createElementNS("http://www.w3.org/2000/svg", tag);
  fill(e, kids);
  dress(e, props);
  return e;
}

/** The element of the page with this id, which must be there. @param {string} id @returns {HTMLElement} */
export function at(id) {
  const e = document.getElementById(id);
  if (!e) throw new Error(`the page has no element ${id}`);
  return e;
}

/** Puts new children in the place of the old. @param {Element} e @param {(Child|Child[])[]} kids */
export function put(e, ...kids) {
  e.replaceChildren();
  fill(e, kids);
}

/** A text that changes often: its node stays, and is left alone while it says the same. @param {Element} e @returns {(text: string) => void} */
export function teller(e) {
  const node = document.createTextNode("");
  e.append(node);
  return (text) => {
    if (node.data !== text) node.data = text;
  };
}

/** Says something to those who listen instead of look. @param {string} text */
export function say(text) {
  const live = at("live");
  if (live.textContent !== text) live.textContent = text;
}

/** A short note at the foot of the window that goes by itself. @param {string} text @param {Child} [more] */
export function toast(text, more) {
  const box = h("div", { class: "toast" }, text, more ? " " : null, more);
  at("toasts").append(box);
  setTimeout(() => box.remove(), more ? 12000 : 6000);
}

/** A number to three significant digits, with a real minus. @param {number|null|undefined} v @returns {string} */
export function digits(v) {
  if (v === null || v === undefined || !Number.isFinite(v)) return "–";
  const a = Math.abs(v);
  const s =
    a >= 1000
      ? Number(a.toPrecision(3)).toFixed(0)
      : a >= 100
        ? a.toFixed(0)
        : a >= 10
          ? a.toFixed(1)
          : a >= 1
            ? a.toFixed(2)
            : a === 0
              ? "0"
              : a.toPrecision(3);
  return (v < 0 && Number(s) !== 0 ? "−" : "") + s;
}

/** A number in a unit, as the server prints it: velocities to hundredths, others to three digits. @param {number} v @param {string} unit */
export function inUnit(v, unit) {
  const velocity = /^(m|ft)\/s$/.test(unit) && Math.abs(v) < 9.995;
  if (Math.abs(v) < 1e-6) v = 0; // round-off
  return `${velocity ? (v < -0.005 ? "−" : "") + Math.abs(v).toFixed(2) : digits(v)} ${unit}`;
}

/** "ball check" → "Ball check". @param {string} s */
export const upper = (s) => (s ? s[0].toUpperCase() + s.slice(1) : "");

/** A style property through CSSOM, which a strict policy allows. @param {ElementCSSInlineStyle} e @param {string} name @param {string} v */
export const css = (e, name, v) => e.style.setProperty(name, v);
