// The papers: which, in what format, of what date; looked at here, and taken along.
import { at, h, put, toast, upper } from "./dom.js";
import { get, paper, wording } from "./api.js";
import { download, fileName } from "./filetext.js";
import { show } from "./compare.js";
import { configure, picksOf } from "./configure.js";
import { whose } from "./whose.js";
import { near } from "./notices.js";
import { complete, here, write } from "./links.js";
import { shownValve, state } from "./state.js";

/** @typedef {import("./types.js").Paper} Paper */

/** Every kind in one archive. */
const ALL = "all";

/** How long the form rests before the paper beside it is written anew, ms. */
const REST = 500;

/** Today as the papers write it. */
function today() {
  const d = new Date();
  return new Date(d.getTime() - d.getTimezoneOffset() * 60000).toISOString().slice(0, 10);
}

/**
 * The address that opens the study from elsewhere, for the square code of the card; none for a
 * study that is not kept, or on a machine that only its own browser reaches.
 */
function link() {
  if (!complete() || /^(localhost|127\.|\[::1\])/.test(location.hostname)) return undefined;
  const { study, rev, example, units } = here();
  return location.origin + location.pathname + write({ study, rev, example, valve: shownValve(), units });
}

/** @param {string} name @param {HTMLElement} control */
const labeled = (name, control) => h("div", { class: "option" }, h("label", { for: control.id }, name), control);

/**
 * The form of the panel. changed is called after each change; say tells a fault.
 * @param {Paper[]} kinds @param {string} wanted the kind that is shown first
 * @param {() => void} changed @param {(text: string) => void} say
 */
function form(kinds, wanted, changed, say) {
  const rows = state.answer?.rows || [];
  const kind = h(
    "select",
    { id: "p-kind" },
    ...kinds.map((k) => h("option", { value: k.kind, selected: k.kind === wanted }, upper(k.title))),
    h("option", { value: ALL }, "All kinds, one archive"),
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
  const papersOf = whose(changed, say);
  const what = h("p", { class: "soft" });
  const before = h("div", {});
  const options = h("p", { class: "soft" });
  const choices = () => {
    const picks = picksOf(valve.value);
    put(
      options,
      picks.length
        ? `Options: ${picks.map((p) => `${p.option.replace(/[_-]/g, " ")} ${p.choice.replace(/[_-]/g, " ")}`).join(", ")}; the rest is completed. `
        : "Options: completed for this station. ",
      h("button", { type: "button", class: "link", onclick: () => configure(valve.value) }, "Choose"),
    );
  };
  const formats = () => {
    const k = kinds.find((x) => x.kind === kind.value);
    const all = k ? k.formats : kinds[0].formats;
    put(
      format,
      k ? null : h("option", { value: "" }, "each as it is handed over"),
      ...all.map((f) => h("option", { value: f, selected: f === k?.format }, f.toUpperCase())),
    );
    put(
      what,
      k ? `${upper(k.what || "")}.` : `${kinds.length} papers of one valve, and a comparison, in one ZIP archive.`,
      !k || k.trip ? " It runs the pump trip, which takes a little longer." : "",
    );
    const hands = /maintenance|installation|commission|fieldcard|test/.test(kind.value);
    put(before, hands ? near(/pressure|moving|confined|sewage|lift/i, "work on the valve") : null);
  };
  formats();
  choices();
  kind.addEventListener("change", formats);
  valve.addEventListener("change", choices);
  const request = () => ({
    text: state.text,
    kind: kind.value,
    format: format.value || undefined,
    valve: valve.value,
    picks: picksOf(valve.value),
    date: date.value || undefined,
    number: number.value || undefined,
    revision: revision.value || undefined,
    profile: papersOf.profile(),
    logo: papersOf.logo(),
    link: link(),
  });
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
  for (const e of [kind, valve, date, number, revision]) e.addEventListener("change", changed);
  return { kind, request, all: h("div", {}, box, what, options, before, papersOf.all) };
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
    const note = h("p", { class: "fault", role: "alert" });
    const say = (/** @type {unknown} */ text) => put(note, h("span", { "aria-hidden": "true" }, "✕ "), String(text));
    const view = h("div", { class: "paper-view", "aria-label": "The paper", role: "region" });
    /** @type {ReturnType<typeof setTimeout>|undefined} */
    let resting;
    const look = () => {
      clearTimeout(resting);
      put(note);
      if (f.kind.value === ALL)
        put(view, h("p", { class: "soft" }, "An archive has no preview: choose one paper to look at it."));
      else preview(f.request(), view, f.kind.selectedOptions[0]?.text || "paper");
    };
    const changed = () => {
      clearTimeout(resting);
      resting = setTimeout(look, REST);
    };
    const f = form(await get("documents"), kind, changed, say);
    const take = h("button", { type: "button", class: "main", onclick: () => fetchPaper() }, "Download");

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
        say(wording(e));
      } finally {
        take.disabled = false;
        take.textContent = "Download";
      }
    }

    put(
      at("dialog-body"),
      h("div", { class: "paper-desk" }, h("div", {}, f.all, note, h("div", { class: "acts" }, take)), view),
    );
    look();
  } catch (e) {
    put(at("dialog-body"), h("p", { class: "fault", role: "alert" }, wording(e)));
  }
}
