// A letter or mail pasted: what it says of the station is marked in it, each find with the
// field that it would fill. Nothing is taken without a click.
import { at, h, put, say, toast } from "./dom.js";
import { post, wording } from "./api.js";
import { edit, open, state } from "./state.js";
import { show } from "./compare.js";

/** @typedef {import("./types.js").InquiryFind} Find */
/** @typedef {import("./types.js").Inquiry} Inquiry */
/** What the reader said of a find: the number of a choice, -1 to leave it, null while nothing is said. @typedef {number|null} Said */
/** @typedef {{start: number, end: number, find: number, skip: boolean}} Piece find: −1 where none */

/** What was pasted last, so that the dialog comes back as it was. */ let pasted = "";

/** The choices of a find: of a sure one, its value alone. @param {Find} f */
export const choices = (f) =>
  f.choices.length ? f.choices : [{ path: f.path, field: f.field, value: f.value, says: "" }];

/**
 * The text in pieces: found, not read, and the rest. Where finds overlap the first one is
 * marked, and the others as far as they stick out.
 * @param {Inquiry} a @param {number} length of the text
 * @returns {Piece[]}
 */
export function pieces(a, length) {
  const marks = [
    ...a.finds.map((f, i) => ({ start: f.start, end: f.end, find: i, skip: false })),
    ...a.skipped.map((s) => ({ start: s.start, end: s.end, find: -1, skip: true })),
  ].sort((x, y) => x.start - y.start || x.end - y.end);
  /** @type {Piece[]} */ const out = [];
  let done = 0;
  for (const m of marks) {
    const start = Math.max(m.start, done);
    if (m.end <= start) continue;
    if (start > done) out.push({ start: done, end: start, find: -1, skip: false });
    out.push({ ...m, start });
    done = m.end;
  }
  if (done < length) out.push({ start: done, end: length, find: -1, skip: false });
  return out;
}

/**
 * The edits that the reader's clicks make. Of two values for one field the last one counts.
 * @param {Find[]} finds @param {Said[]} said @returns {{path: string, value: string}[]}
 */
export function taken(finds, said) {
  /** @type {Map<string, string>} */ const out = new Map();
  finds.forEach((f, i) => {
    const n = said[i];
    const c = n === null || n < 0 ? undefined : choices(f)[n];
    if (c) out.set(c.path, c.value);
  });
  return [...out].map(([path, value]) => ({ path, value }));
}

/** A station with nothing in it yet. @param {string} units */
const bare = (units) => `station: From an inquiry\nunits: ${units}\n`;

/** Opens the dialog: the text is pasted first. */
export function inquiry() {
  const input = h("textarea", {
    id: "inq-text",
    rows: 12,
    spellcheck: "false",
    value: pasted,
    placeholder: "2 pumps, duty/standby, 350 gpm @ 62' TDH each. 6-inch ductile iron force main, 2,400 LF …",
  });
  const wrong = h("p", { class: "fault", role: "alert" });
  const read = async (/** @type {Event} */ e) => {
    e.preventDefault();
    pasted = input.value;
    put(wrong);
    if (!pasted.trim()) return void (put(wrong, "Paste the text of the letter or mail first."), input.focus());
    try {
      finds(await post("inquiry", { text: pasted }));
    } catch (x) {
      put(wrong, wording(x));
    }
  };
  show("Paste an inquiry");
  put(
    at("dialog-body"),
    h(
      "form",
      { class: "inq-form", onsubmit: read },
      h("label", { for: "inq-text" }, "The text of a letter or mail"),
      input,
      h("p", { class: "soft" }, "It is read on this server and not kept. Nothing of it is taken without a click."),
      wrong,
      h("div", { class: "acts" }, h("button", { type: "submit", class: "main" }, "Read it")),
    ),
  );
  input.focus();
}

/** Shows what was found. @param {Inquiry} a */
function finds(a) {
  /** @type {Said[]} */ const said = a.finds.map(() => null);
  const wrong = h("p", { class: "fault", role: "alert" });
  const into = h("button", { type: "button", onclick: () => take(false) });
  const fresh = h("button", { type: "button", class: "main", onclick: () => take(true) });
  const rows = a.finds.map((f, i) => row(f, i, (n) => set(i, n)));
  const marks = new Map();
  const text = h(
    "div",
    { class: "inq-text", tabindex: "0", role: "region", "aria-label": "The text, with what was found marked" },
    ...pieces(a, pasted.length).map((p) => {
      const part = pasted.slice(p.start, p.end);
      if (p.find < 0) return p.skip ? h("span", { class: "inq-skip" }, part) : part;
      const f = a.finds[p.find];
      const m = h(
        "mark",
        { class: f.doubt ? "doubt" : "", title: `${f.field}: ${f.value}${f.doubt ? "?" : ""}` },
        part,
      );
      m.addEventListener("click", () => rows[p.find].scrollIntoView({ block: "center" }));
      marks.set(p.find, m);
      return m;
    }),
  );

  /** @param {number} i @param {Said} n */
  function set(i, n) {
    said[i] = n;
    // One field takes one value: what said another before is left.
    if (n !== null && n >= 0) {
      const path = choices(a.finds[i])[n].path;
      a.finds.forEach((f, k) => {
        const m = said[k];
        if (k !== i && m !== null && m >= 0 && choices(f)[m].path === path) said[k] = -1;
      });
    }
    paint();
  }
  function paint() {
    rows.forEach((r, i) => {
      const n = said[i];
      r.dataset.said = n === null ? "" : n < 0 ? "left" : "taken";
      marks.get(i)?.setAttribute("data-said", r.dataset.said);
      r.querySelectorAll("button[data-n]").forEach((b) =>
        b.setAttribute("aria-pressed", String(/** @type {HTMLElement} */ (b).dataset.n === String(n))),
      );
    });
    const n = taken(a.finds, said).length;
    const values = `${n} ${n === 1 ? "value" : "values"}`;
    put(fresh, `Start a station with ${values}`);
    put(into, `Put ${values} into the station on the sheet`);
    fresh.disabled = n === 0;
    into.disabled = n === 0 || !state.text;
  }
  /** @param {boolean} anew */
  async function take(anew) {
    put(wrong);
    const edits = taken(a.finds, said);
    try {
      if (anew) {
        const r = await post("edit", { text: bare(a.units), edits });
        /** @type {HTMLDialogElement} */ (at("dialog")).close();
        await open(r.text, null);
      } else {
        await edit(edits);
        /** @type {HTMLDialogElement} */ (at("dialog")).close();
      }
      toast(
        `${edits.length} ${edits.length === 1 ? "value" : "values"} of the inquiry ${edits.length === 1 ? "is" : "are"} on the sheet as given. Undo takes them back.`,
      );
    } catch (e) {
      put(wrong, h("span", { "aria-hidden": "true" }, "✕ "), wording(e));
      wrong.scrollIntoView({ block: "nearest" });
    }
  }

  const sure = a.finds.filter((f) => !f.doubt).length;
  put(
    at("dialog-body"),
    h(
      "div",
      { class: "inq" },
      h(
        "div",
        {},
        text,
        a.skipped.length
          ? h("p", { class: "soft" }, `Not read: ${[...new Set(a.skipped.map((s) => s.why))].join(", ")}.`)
          : null,
      ),
      h(
        "div",
        {},
        a.finds.length
          ? h(
              "div",
              { class: "acts" },
              sure
                ? h(
                    "button",
                    {
                      type: "button",
                      onclick: () => {
                        a.finds.forEach((f, i) => !f.doubt && said[i] === null && (said[i] = 0));
                        paint();
                      },
                    },
                    `Take the ${sure} that ${sure === 1 ? "is" : "are"} sure`,
                  )
                : null,
            )
          : h(
              "p",
              {},
              "Nothing was found that a station has a field for. Quantities need their units: 350 gpm, 62 ft TDH, 6 inch.",
            ),
        h("ul", { class: "inq-finds" }, ...rows),
        a.missing.length
          ? h(
              "p",
              { class: "inq-missing" },
              h("strong", {}, "Not in the text: "),
              a.missing.join(", "),
              ". Ask for it, or leave it to be assumed.",
            )
          : null,
      ),
    ),
    wrong,
    h(
      "div",
      { class: "acts inq-acts" },
      fresh,
      into,
      h("button", { type: "button", onclick: inquiry }, "Back to the text"),
    ),
  );
  paint();
  say(`${a.finds.length} finds, ${a.finds.length - sure} of them in doubt`);
}

/** One find with its buttons. @param {Find} f @param {number} i @param {(n: Said) => void} told */
function row(f, i, told) {
  const all = choices(f);
  const name = `inq-${i}`;
  return h(
    "li",
    { class: f.doubt ? "doubt" : "" },
    h(
      "div",
      { id: name },
      h("q", {}, short(f.phrase)),
      " → ",
      h("strong", {}, f.doubt && !same(f) ? "one of these" : f.field),
      f.doubt ? null : `: ${f.value}`,
    ),
    f.doubt ? h("p", { class: "why" }, f.doubt[0].toUpperCase() + f.doubt.slice(1) + ".") : null,
    h(
      "div",
      { class: "acts", role: "group", "aria-labelledby": name },
      ...all.map((c, n) =>
        h(
          "button",
          { type: "button", "data-n": n, "aria-pressed": "false", onclick: () => told(n) },
          f.doubt ? `${same(f) ? "" : c.field + ": "}${c.value}` : "Take",
          c.says && same(f) && c.says !== c.field ? h("span", { class: "soft" }, ` ${c.says}`) : null,
        ),
      ),
      h("button", { type: "button", "data-n": -1, "aria-pressed": "false", onclick: () => told(-1) }, "Leave"),
    ),
  );
}

/** True where all choices are of one field. @param {Find} f */
const same = (f) => f.choices.every((c) => c.path === f.path);

/** @param {string} s */
const short = (s) => {
  const one = s.replace(/\s+/g, " ");
  return one.length > 60 ? one.slice(0, 59) + "…" : one;
};

/** Any button with data-door="inquiry" opens it, wherever it stands. */
export function begin() {
  document.addEventListener("click", (e) => {
    if (e.target instanceof Element && e.target.closest('[data-door="inquiry"]')) inquiry();
  });
}
