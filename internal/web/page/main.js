// The workbench: joins the parts of the page and brings up the first station.
import * as api from "./api.js";
import { at, h, put, toast } from "./dom.js";
import { begin as beginAllRuns, coming } from "./allruns.js";
import { begin as beginFacts } from "./facts.js";
import { begin as beginRows } from "./rows.js";
import { begin as beginVerdict } from "./verdict.js";
import { begin as beginNotices } from "./notices.js";
import { begin as beginLesson, lesson } from "./lesson.js";
import { begin as beginInquiry } from "./inquiry.js";
import { begin as beginTheme, themeButton } from "./theme.js";
import { begin as beginCall, setUnits } from "./call.js";
import { choosing, takeDropped } from "./chooser.js";
import { fileText } from "./filetext.js";
import { papers } from "./papers.js";
import { trouble } from "./trouble.js";
import { save, studies } from "./studies.js";
import { system } from "./units.js";
import { begin as beginLinks, first, takeWanted } from "./links.js";
import { copyLink } from "./take.js";
import { canRedo, canUndo, on, redo, shownValve, state, undo, unsaved } from "./state.js";

/** @typedef {ReturnType<typeof import("./player.js").mountPlayer>} Player */

/** @type {Player|null} */ let player = null;

/** A button of the menu. @param {string} name @param {string} hint @param {() => void} act @param {string} [id] */
const item = (name, hint, act, id) => h("button", { type: "button", id, title: hint, onclick: act }, name);

function menu() {
  put(
    at("menu"),
    item("Station", "Start, open a file, or take an example", choosing, "m-station"),
    item("Undo", "Take the last change back (Ctrl Z)", undo, "m-undo"),
    item("Redo", "Do it again (Ctrl Shift Z)", redo, "m-redo"),
    item("File", "The station file behind the drawing", () => fileText(), "m-file"),
    item("Studies", "Keep this work, or take up kept work", studies, "m-studies"),
    item("Papers", "Submittal, specification, calculation and the rest", () => papers(), "m-papers"),
    item(
      "Trouble",
      "It bangs, leaks or spins backward: find the cause by the next safe test",
      () => trouble(),
      "m-trouble",
    ),
    item("Link", "Copy a link to what is shown", copyLink, "m-link"),
    item("Class", "Large type, one question at a time", lesson, "m-class"),
    themeButton(),
  );
}

function showMenu() {
  /** @type {HTMLButtonElement} */ (at("m-undo")).disabled = !canUndo();
  /** @type {HTMLButtonElement} */ (at("m-redo")).disabled = !canRedo();
  for (const id of ["m-file", "m-link"]) /** @type {HTMLButtonElement} */ (at(id)).disabled = !state.text;
  /** @type {HTMLButtonElement} */ (at("m-papers")).disabled = !state.answer;
  /** @type {HTMLButtonElement} */ (at("m-class")).disabled = !state.answer;
  const s = state.sheet?.station;
  const where = state.base
    ? `${state.base.name}, revision ${state.base.revision}${unsaved() ? ", changed since" : ""}`
    : "not kept on the server";
  put(
    at("station-name"),
    s ? h("strong", {}, s.name || "Unnamed station") : "",
    s ? h("span", { class: "soft" }, ` ${where}`) : null,
  );
  showUnits();
  document.title = s?.name ? `${s.name} · Seatward` : "Seatward";
}

/** The switch of units; its buttons stay, so that the focus does. */
const unitButtons = /** @type {const} */ (["US", "SI"]).map((u) =>
  h(
    "button",
    {
      type: "button",
      title: `Show everything in ${u} units`,
      onclick: () => setUnits(u).catch((e) => toast(api.wording(e))),
    },
    u,
  ),
);

function showUnits() {
  if (!unitButtons[0].isConnected) put(at("units"), h("span", { class: "sr" }, "Units: "), ...unitButtons);
  for (const b of unitButtons) {
    const on = b.textContent === system();
    b.classList.toggle("on", on);
    b.setAttribute("aria-pressed", String(on));
  }
}

/** Every dialog closes by its button, by Escape, and by a click beside it. */
function dialogs() {
  for (const d of document.querySelectorAll("dialog")) {
    d.addEventListener("click", (e) => {
      if (e.target === d || (e.target instanceof Element && e.target.closest("[data-close]"))) d.close();
    });
  }
}

/** @param {KeyboardEvent} e */
function keys(e) {
  const typing = e.target instanceof Element && e.target.closest("input, textarea, select");
  const key = e.key.toLowerCase();
  if ((e.ctrlKey || e.metaKey) && key === "s") {
    e.preventDefault();
    save();
  } else if ((e.ctrlKey || e.metaKey) && !typing && (key === "z" || key === "y")) {
    e.preventDefault();
    if (key === "y" || e.shiftKey) redo();
    else undo();
  } else if (
    (key === "arrowdown" || key === "arrowup") &&
    e.target instanceof Element &&
    e.target.matches("[data-roving]")
  ) {
    const all = [...document.querySelectorAll("[data-roving]")];
    const next = all[all.indexOf(e.target) + (key === "arrowdown" ? 1 : -1)];
    if (next instanceof HTMLElement) {
      e.preventDefault();
      next.focus();
    }
  }
}

/** The player is a part of its own: the page works without it. */
async function bringPlayer() {
  try {
    const m = await import(new URL("player.js", import.meta.url).href);
    player = m.mountPlayer(
      at("player"),
      api,
      () => ({
        text: state.text,
        valve: shownValve(),
        sheet: state.sheet,
        answer: state.answer,
      }),
      { drawing: () => at("drawing") },
    );
    watch();
  } catch (e) {
    at("player-part").hidden = true;
    console.warn("no player", e);
  }
}

/** What the player shows, so that an answer with no news does not begin it anew. */
let watched = "";

function watch() {
  const now = shownValve() + "\n" + state.text;
  if (!player || !state.answer || state.answered !== state.text || state.busy || !shownValve() || now === watched)
    return;
  if (!state.valve && coming()) return; // another valve may come first in a moment
  const row = state.answer.rows.find((r) => r.id === shownValve());
  if (!row || row.pending) return; // the film is that of the row: its event is not known yet
  watched = now;
  const linked = takeWanted();
  player.show(shownValve(), linked?.event || row.slam?.event || "", linked?.t);
}

async function begin() {
  beginTheme();
  menu();
  dialogs();
  beginCall();
  beginFacts();
  beginVerdict();
  beginRows();
  beginAllRuns();
  beginNotices();
  beginLesson();
  beginInquiry();
  on("text sheet answer base error busy", showMenu);
  on("busy", () => document.body.toggleAttribute("data-busy", state.busy));
  on("answer busy runs", watch);
  on("text", () => {
    player?.halt();
    watched = ""; // the same station put on the sheet again has its film run anew
  });
  document.addEventListener("keydown", keys);
  document.addEventListener("seatward:watch", () => {
    watched = ""; // another event may be in the player: the film asked for is that of the row
    watch();
    player?.onDrawing(true);
    at("sheet-part").scrollIntoView();
  });
  takeDropped();
  beginLinks(() => player?.at() || null);
  showMenu();
  try {
    await first();
  } catch (e) {
    toast(api.wording(e));
  }
  await bringPlayer();
}

begin();
