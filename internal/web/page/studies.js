// Kept studies: saved with revisions, taken up again, set side by side, and what
// happens when two people saved the same one.
import { at, h, put, say, toast, upper } from "./dom.js";
import { get, post, Refused, remove as drop, save as keep, wording } from "./api.js";
import { differences } from "./diff.js";
import { show } from "./compare.js";
import { open, setBase, shownValve, state, step, unsaved } from "./state.js";

/** @typedef {import("./types.js").Kept} Kept */
/** @typedef {import("./types.js").Revision} Revision */

/** @param {unknown} e */
const trouble = (e) =>
  put(
    at("dialog-body"),
    h("p", { class: "fault", role: "alert" }, wording(e)),
    h("button", { type: "button", onclick: studies }, "Kept studies"),
  );
const close = () => /** @type {HTMLDialogElement} */ (at("dialog")).close();
/** @param {string} [t] */
const when = (t) => (t ? new Date(t).toLocaleString(undefined, { dateStyle: "medium", timeStyle: "short" }) : "");
/** @param {string} name @param {() => unknown} act @param {string} [kind] */
const act = (name, act, kind = "") => h("button", { type: "button", class: kind, onclick: act }, name);
/** @param {string} name @param {string} [note] */
const draft = (name, note = "") => ({
  name,
  note,
  text: state.text,
  valve: state.valve || (state.answer?.runs === "all" ? shownValve() : ""), // nobody chose the one that is first so far
});

/** What was saved is where the work stands now. @param {Kept} k @param {string} text */
function stands(k, text) {
  setBase({ id: k.id, name: k.name, revision: k.revision, text });
  say(`Saved as ${k.name}, revision ${k.revision}`);
  toast(`Kept as “${k.name}”, revision ${k.revision}.`);
}

/** Saves what is on the sheet; asks for a name the first time. @param {string} [note] */
export async function save(note) {
  const base = state.base;
  if (!base) return studies();
  const d = draft(base.name, note);
  try {
    stands(await keep("studies/{id}", { base: base.revision, ...d }, { at: { id: base.id } }), d.text);
    if (/** @type {HTMLDialogElement} */ (at("dialog")).open) await studies();
  } catch (e) {
    if (e instanceof Refused && e.body && "newest" in e.body) conflict(e.body.newest, d);
    else {
      show("Not saved");
      trouble(e);
    }
  }
}

/** Keeps the sheet as a study of its own. @param {string} name @param {string} [note] */
export async function saveAs(name, note) {
  const d = draft(name, note);
  stands(await post("studies", d), d.text);
}

/** The same from the dialog, which shows it or what was refused. @param {string} name @param {string} [note] */
async function saveNew(name, note) {
  try {
    await saveAs(name, note);
    await studies();
  } catch (e) {
    const box = document.getElementById("s-fault");
    if (box) put(box, wording(e));
    else trouble(e);
  }
}

/** Somebody saved meanwhile: both versions, and three ways on. @param {Revision} newest @param {{name: string, text: string, note: string}} yours */
function conflict(newest, yours) {
  show("Saved by somebody else meanwhile");
  put(
    at("dialog-body"),
    h(
      "p",
      { role: "alert" },
      `“${newest.name}” has a revision ${newest.revision}, saved ${when(newest.saved)}. Yours began from revision ${state.base?.revision}. Nothing is lost: choose how to go on.`,
    ),
    h("p", { class: "soft" }, "− stands in theirs, + stands in yours:"),
    differences(newest.text, yours.text, "Differences between theirs and yours"),
    h(
      "div",
      { class: "acts" },
      act(
        `Save mine as revision ${newest.revision + 1}`,
        () => (
          setBase({ id: newest.id, name: newest.name, revision: newest.revision, text: newest.text }),
          save(yours.note)
        ),
        "main",
      ),
      act(
        "Take theirs",
        () => (
          close(),
          step(newest.text).then(() =>
            setBase({ id: newest.id, name: newest.name, revision: newest.revision, text: newest.text }),
          ),
          toast("Theirs is on the sheet. Undo brings yours back.")
        ),
      ),
      act("Keep mine as another study", () => saveNew(`${yours.name} (mine)`.slice(0, 120), yours.note)),
    ),
    h(
      "div",
      { class: "two" },
      h("section", {}, h("h3", {}, `Theirs, revision ${newest.revision}`), h("pre", { tabindex: "0" }, newest.text)),
      h("section", {}, h("h3", {}, "Yours"), h("pre", { tabindex: "0" }, yours.text)),
    ),
  );
}

/** @param {Kept} k */
async function take(k) {
  try {
    const full = await get("studies/{id}", { at: { id: k.id } });
    close();
    await open(full.text, { id: full.id, name: full.name, revision: full.revision, text: full.text }, full.valve);
  } catch (e) {
    trouble(e);
  }
}

/** Renames by saving a revision under the other name. @param {Kept} k */
async function rename(k) {
  const input = h("input", { id: "s-rename", type: "text", value: k.name, maxlength: 120, autocomplete: "off" });
  const note = h("p", { class: "fault", role: "alert" });
  put(
    at("dialog-body"),
    h(
      "form",
      {
        class: "line-form",
        onsubmit: async (/** @type {Event} */ e) => {
          e.preventDefault();
          try {
            const full = await get("studies/{id}", { at: { id: k.id } });
            const now = await keep(
              "studies/{id}",
              { base: full.revision, name: input.value.trim(), note: full.note, text: full.text, valve: full.valve },
              { at: { id: k.id } },
            );
            if (state.base?.id === k.id)
              setBase({ id: now.id, name: now.name, revision: now.revision, text: full.text });
            await studies();
          } catch (x) {
            put(note, wording(x));
          }
        },
      },
      h("label", { for: "s-rename" }, "Name"),
      input,
      h("button", { type: "submit", class: "main" }, "Rename"),
      act("Back", studies),
    ),
    note,
  );
  input.select();
}

/** @param {Kept} k */
async function remove(k) {
  try {
    await drop("studies/{id}", { at: { id: k.id } });
    if (state.base?.id === k.id) setBase(null);
    await studies();
    toast(
      `“${k.name}” is removed.`,
      act(
        "Bring it back",
        async () => (await post("studies/{id}/restore", undefined, { at: { id: k.id } }), studies()),
      ),
    );
  } catch (e) {
    trouble(e);
  }
}

/** The revisions of a study. @param {Kept} k */
async function revisions(k) {
  try {
    const all = await get("studies/{id}/revisions", { at: { id: k.id } });
    const moved = h("div", { id: "s-moves" });
    const pick = (/** @type {string} */ id, /** @type {number} */ n) =>
      h(
        "select",
        { id },
        ...all.map((r) => h("option", { value: r.revision, selected: r.revision === n }, `revision ${r.revision}`)),
      );
    const newest = all[0].revision;
    const a = pick("s-a", Math.max(1, newest - 1));
    const b = pick("s-b", newest);
    show(`Revisions of ${k.name}`);
    put(
      at("dialog-body"),
      all.length > 1
        ? h(
            "div",
            { class: "line-form" },
            h("label", { for: "s-a" }, "Compare"),
            a,
            h("label", { for: "s-b" }, "with"),
            b,
            act("Compare", () => compareTwo(k, Number(a.value), Number(b.value), moved), "main"),
          )
        : null,
      moved,
      h(
        "ul",
        { class: "kept" },
        ...all.map((r) =>
          h(
            "li",
            {},
            h(
              "div",
              {},
              h("strong", {}, `Revision ${r.revision}`),
              h("span", { class: "soft" }, ` ${when(r.saved)}`),
              r.note ? h("p", {}, r.note) : null,
            ),
            h(
              "div",
              { class: "acts" },
              act("Put on the sheet", () => putBack(k, r.revision, newest)),
            ),
          ),
        ),
      ),
      h("div", { class: "acts" }, act("All studies", studies)),
    );
  } catch (e) {
    trouble(e);
  }
}

/** One revision with its text. @param {Kept} k @param {number} number */
const revision = (k, number) => get("studies/{id}/revisions/{number}", { at: { id: k.id, number } });

/** An earlier revision on the sheet; saving makes it the newest. @param {Kept} k @param {number} n @param {number} newest */
async function putBack(k, n, newest) {
  try {
    const [old, now] = await Promise.all([revision(k, n), revision(k, newest)]);
    close();
    await open(old.text, { id: now.id, name: now.name, revision: now.revision, text: now.text }, old.valve);
    toast(
      n === newest
        ? `Revision ${n} is on the sheet.`
        : `Revision ${n} is on the sheet. Save to make it revision ${newest + 1}.`,
    );
  } catch (e) {
    trouble(e);
  }
}

/** What moved between two revisions. @param {Kept} k @param {number} a @param {number} b @param {HTMLElement} into */
async function compareTwo(k, a, b, into) {
  put(into, h("p", { class: "soft" }, "Working both out …"));
  try {
    const [{ moves }, x, y] = await Promise.all([
      post("studies/{id}/compare", { a, b }, { at: { id: k.id } }),
      revision(k, a),
      revision(k, b),
    ]);
    put(
      into,
      h("h3", {}, "In the file"),
      differences(x.text, y.text, `Revision ${a} to ${b}`),
      h("h3", {}, "In the answer"),
      moves.length === 0
        ? h("p", { class: "soft" }, "Nothing moved.")
        : h(
            "div",
            { class: "wide-table", tabindex: "0", role: "region", "aria-label": "What moved" },
            h(
              "table",
              { class: "compare" },
              h(
                "thead",
                {},
                h(
                  "tr",
                  {},
                  ...["Valve", "About", `Revision ${a}`, `Revision ${b}`].map((t) => h("th", { scope: "col" }, t)),
                ),
              ),
              h(
                "tbody",
                {},
                ...moves.map((v) =>
                  h(
                    "tr",
                    {},
                    h("th", { scope: "row" }, v.valve || "station"),
                    h("td", {}, v.about),
                    h("td", {}, v.before || "–"),
                    h("td", {}, v.after || "–"),
                  ),
                ),
              ),
            ),
          ),
    );
    say(`${moves.length} things moved in the answer`);
  } catch (e) {
    put(into, h("p", { class: "fault", role: "alert" }, wording(e)));
  }
}

/** The part that saves what is on the sheet. */
function saving() {
  const base = state.base;
  const name = h("input", {
    id: "s-name",
    type: "text",
    maxlength: 120,
    required: true,
    autocomplete: "off",
    value: base ? `${base.name} (another)` : state.sheet?.station.name || "",
  });
  const note = h("input", { id: "s-note", type: "text", maxlength: 3000, autocomplete: "off" });
  return h(
    "section",
    {},
    h("h3", {}, "What is on the sheet"),
    base
      ? h(
          "p",
          {},
          `“${base.name}”, revision ${base.revision}`,
          h("span", { class: "soft" }, unsaved() ? ", changed since" : ", saved as it stands"),
        )
      : h("p", { class: "soft" }, "Not kept on the server yet. This browser keeps it against a crash."),
    h(
      "div",
      { class: "line-form" },
      h("label", { for: "s-note" }, "Remark"),
      note,
      base ? act("Save", () => save(note.value), "main") : null,
    ),
    h(
      "form",
      {
        class: "line-form",
        onsubmit: (/** @type {Event} */ e) => (e.preventDefault(), saveNew(name.value.trim(), note.value)),
      },
      h("label", { for: "s-name" }, base ? "Or as another study" : "Name"),
      name,
      h("button", { type: "submit", class: base ? "" : "main" }, base ? "Save as another" : "Save"),
    ),
    h("p", { id: "s-fault", class: "fault", role: "alert" }),
  );
}

/** @param {Kept} k */
const line = (k) =>
  h(
    "li",
    {},
    h(
      "div",
      {},
      h("strong", {}, k.name),
      h("span", { class: "soft" }, ` revision ${k.revision}, ${when(k.saved)}`),
      k.valve ? h("span", { class: "soft" }, `, ${k.valve}`) : null,
      k.note ? h("p", { class: "soft" }, k.note) : null,
    ),
    h(
      "div",
      { class: "acts" },
      act("Open", () => take(k), "main"),
      act("Revisions", () => revisions(k)),
      act("Rename", () => rename(k)),
      h(
        "a",
        { class: "button", href: `/api/studies/${encodeURIComponent(k.id)}/station.yaml`, download: true },
        "Station file",
      ),
      act("Remove", () => remove(k)),
    ),
  );

/** Opens the panel of kept studies. */
export async function studies() {
  if (!(/** @type {HTMLDialogElement} */ (at("dialog")).open))
    put(at("dialog-body"), h("p", { class: "soft" }, "Looking …"));
  show("Studies");
  try {
    const [all, gone] = await Promise.all([get("studies"), get("studies", { query: { removed: "1" } })]);
    put(
      at("dialog-body"),
      saving(),
      h(
        "section",
        {},
        h("h3", {}, upper(`${all.length} kept`)),
        all.length ? h("ul", { class: "kept" }, ...all.map(line)) : h("p", { class: "soft" }, "None yet."),
      ),
      gone.length
        ? h(
            "details",
            {},
            h("summary", {}, `${gone.length} removed`),
            h(
              "ul",
              { class: "kept" },
              ...gone.map((k) =>
                h(
                  "li",
                  {},
                  h("div", {}, k.name),
                  h(
                    "div",
                    { class: "acts" },
                    act(
                      "Bring it back",
                      async () => (await post("studies/{id}/restore", undefined, { at: { id: k.id } }), studies()),
                    ),
                  ),
                ),
              ),
            ),
          )
        : null,
    );
  } catch (e) {
    trouble(e);
  }
}
