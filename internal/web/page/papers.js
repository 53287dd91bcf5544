// The papers: which, in what format, of what date; looked at here, and taken along.
import { at, h, put, toast, upper } from "./dom.js";
import { get, paper, wording } from "./api.js";
import { download, fileName } from "./filetext.js";
import { show } from "./compare.js";
import { near } from "./notices.js";
import { shownValve, state } from "./state.js";

/** @typedef {import("./types.js").Paper} Paper */

const PROFILE = "seatward.profile";

/** @param {string} key @returns {string} */
function remembered(key) {
  try {
    return localStorage.getItem(key) || "";
  } catch {
    return "";
  }
}

/** @param {string} key @param {string} v */
function remember(key, v) {
  try {
    localStorage.setItem(key, v);
  } catch {
    // without a store it is asked again next time
  }
}

/** Today as the papers write it. */
function today() {
  const d = new Date();
  return new Date(d.getTime() - d.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
}

/** @param {string} name @param {HTMLElement} control */
const labeled = (name, control) => h("div", { class: "option" }, h("label", { for: control.id }, name), control);

/** The form of the panel. @param {Paper[]} kinds @param {string} wanted the kind that is shown first */
function form(kinds, wanted) {
  const rows = state.answer?.rows || [];
  const kind = h(
    "select",
    { id: "p-kind" },
    ...kinds.map((k) => h("option", { value: k.kind, selected: k.kind === wanted }, upper(k.title))),
  );
  const format = h("select", { id: "p-format" });
  const valve = h(
    "select",
    { id: "p-valve" },
    ...rows.map((r) =>
      h(
        "option",
        { value: r.id, selected: r.id === shownValve() },
        `${r.title}, ${r.size}${r.rank ? `, rank ${r.rank}` : ", not suitable"}`,
      ),
    ),
  );
  const date = h("input", { id: "p-date", type: "date", value: today() });
  const number = h("input", { id: "p-number", type: "text", value: "", autocomplete: "off" });
  const revision = h("input", { id: "p-revision", type: "text", value: "", autocomplete: "off" });
  const profile = h("textarea", {
    id: "p-profile",
    rows: 5,
    spellcheck: "false",
    value: remembered(PROFILE),
    placeholder: "name: your firm",
  });
  const what = h("p", { class: "soft" });
  const before = h("div", {});
  const chosen = () => kinds.find((k) => k.kind === kind.value) || kinds[0];
  const formats = () => {
    const k = chosen();
    put(format, ...k.formats.map((f) => h("option", { value: f, selected: f === k.format }, f.toUpperCase())));
    put(what, upper(k.what || ""), ".", k.trip ? " It runs the pump trip, which takes a little longer." : "");
    const hands = /maintenance|installation|commission|fieldcard|test/.test(k.kind);
    put(before, hands ? near(/pressure|moving|confined|sewage|lift/i, "work on the valve") : null);
  };
  formats();
  const request = () => {
    remember(PROFILE, profile.value);
    return {
      text: state.text,
      kind: kind.value,
      format: format.value,
      valve: valve.value,
      date: date.value || undefined,
      number: number.value || undefined,
      revision: revision.value || undefined,
      profile: profile.value.trim() || undefined,
    };
  };
  const box = h(
    "div",
    { class: "options papers" },
    labeled("Paper", kind),
    labeled("Format", format),
    labeled("Valve", valve),
    labeled("Date", date),
    labeled("Number", number),
    labeled("Revision", revision),
  );
  const whose = h(
    "details",
    {},
    h("summary", {}, "Whose papers they are"),
    h(
      "p",
      { class: "soft" },
      "The text of a profile file: name, address, paper size and so on. It stays in this browser.",
    ),
    h("label", { for: "p-profile", class: "sr" }, "Profile"),
    profile,
  );
  return { kind, formats, request, all: h("div", {}, box, what, before, whose) };
}

/** Looks at a paper in a frame that may do nothing but show it. @param {import("./types.js").PaperRequest} request @param {HTMLElement} into @param {string} name */
function preview(request, into, name) {
  const frame = h("iframe", { name: "paper", class: "paper", sandbox: "", title: `Preview: ${name}` });
  const send = h(
    "form",
    { method: "post", action: "/api/document?preview=1", target: "paper", hidden: true },
    h("input", { type: "hidden", name: "request", value: JSON.stringify(request) }),
  );
  const wait = h("p", { class: "soft", role: "status" }, "Writing …");
  put(into, wait, frame, send);
  // The empty frame has loaded by now: what loads next is the paper.
  frame.addEventListener("load", () => put(wait));
  send.submit();
}

/** Opens the panel. @param {string} [kind] of paper that is shown first */
export async function papers(kind = "submittal") {
  put(at("dialog-body"), h("p", { class: "soft" }, "Looking …"));
  show("Papers");
  try {
    const f = form(await get("documents"), kind);
    const note = h("p", { class: "fault", role: "alert" });
    const view = h("div", { class: "paper-view" });
    const take = h("button", { type: "button", class: "main", onclick: () => fetchPaper() }, "Download");
    const look = h(
      "button",
      {
        type: "button",
        onclick: () => (put(note), preview(f.request(), view, f.kind.selectedOptions[0]?.text || "paper")),
      },
      "Look at it",
    );
    f.kind.addEventListener("change", f.formats);

    async function fetchPaper() {
      take.disabled = true;
      take.textContent = "Writing …";
      put(note);
      try {
        const ask = f.request();
        const r = await paper(ask);
        const name =
          /filename="?([^";]+)"?/.exec(r.headers.get("Content-Disposition") || "")?.[1] ||
          fileName(`-${ask.kind}.${ask.format}`);
        download(await r.blob(), name);
        toast(`${name} is in your downloads.`);
      } catch (e) {
        put(note, h("span", { "aria-hidden": "true" }, "✕ "), wording(e));
      } finally {
        take.disabled = false;
        take.textContent = "Download";
      }
    }

    put(at("dialog-body"), f.all, note, h("div", { class: "acts" }, look, take), view);
  } catch (e) {
    put(at("dialog-body"), h("p", { class: "fault", role: "alert" }, wording(e)));
  }
}
