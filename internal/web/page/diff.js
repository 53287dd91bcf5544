// Two texts line by line: what went and what came.
import { h } from "./dom.js";

/** @typedef {{sign: "−"|"+"|" ", text: string}} Line */

/**
 * The shortest way from a to b in whole lines.
 * @param {string} a @param {string} b @returns {Line[]}
 */
export function lines(a, b) {
  const x = a.replace(/\n$/, "").split("\n");
  const y = b.replace(/\n$/, "").split("\n");
  /** lcs[i][j]: the longest common run of lines from i and j on */
  const lcs = Array.from({ length: x.length + 1 }, () => new Uint16Array(y.length + 1));
  for (let i = x.length - 1; i >= 0; i--)
    for (let j = y.length - 1; j >= 0; j--)
      lcs[i][j] = x[i] === y[j] ? lcs[i + 1][j + 1] + 1 : Math.max(lcs[i + 1][j], lcs[i][j + 1]);
  /** @type {Line[]} */
  const out = [];
  let i = 0;
  let j = 0;
  while (i < x.length || j < y.length) {
    if (i < x.length && j < y.length && x[i] === y[j]) {
      out.push({ sign: " ", text: x[i] });
      i++;
      j++;
    } else if (j >= y.length || (i < x.length && lcs[i + 1][j] >= lcs[i][j + 1])) out.push({ sign: "−", text: x[i++] });
    else out.push({ sign: "+", text: y[j++] });
  }
  return out;
}

/**
 * The differences with a little of what stands around them.
 * @param {string} a @param {string} b @param {string} name
 */
export function differences(a, b, name) {
  const all = lines(a, b);
  const near = all.map((_, i) => all.slice(Math.max(0, i - 2), i + 3).some((l) => l.sign !== " "));
  const said = { "−": "taken out: ", "+": "put in: ", " ": "" };
  /** @type {Node[]} */
  const out = [];
  all.forEach((l, i) => {
    if (near[i])
      out.push(
        h(
          "div",
          { class: l.sign === "+" ? "d-in" : l.sign === "−" ? "d-out" : "" },
          h("span", { class: "sr" }, said[l.sign]),
          h("span", { "aria-hidden": "true" }, l.sign + " "),
          l.text || " ",
        ),
      );
    else if (i === 0 || near[i - 1]) out.push(h("div", { class: "soft" }, "…"));
  });
  if (!near.some(Boolean)) return h("p", { class: "soft" }, "The two texts are the same.");
  return h("div", { class: "diff", tabindex: "0", role: "region", "aria-label": name }, ...out);
}
