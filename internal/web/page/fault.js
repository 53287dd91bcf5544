// What is wrong with a station file, wherever that is shown.
import { h } from "./dom.js";

/** One fault with its place and its mend. @param {import("./types.js").Message} m */
export function fault(m) {
  const place = m.line ? `Line ${m.line}${m.column ? `, column ${m.column}` : ""}` : "";
  return h(
    "li",
    {},
    place ? h("strong", {}, place + ": ") : null,
    m.text,
    m.found && !m.text.includes(m.found) ? `; found ${m.found}` : "",
    m.expected ? `; expected ${m.expected}` : "",
    ".",
    m.mend ? h("span", { class: "mend" }, ` To mend it: ${m.mend}.`) : null,
  );
}
