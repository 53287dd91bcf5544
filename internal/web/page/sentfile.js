// A file on its way to the server: chosen, dropped or pasted. It is read there and not kept.
import { h, put } from "./dom.js";

/** @typedef {import("./types.js").SentFile} SentFile */

/** The largest file that a request takes, with the station beside it. */
export const MOST = 1_200_000;

/** How bytes travel within JSON. @param {Uint8Array} bytes @returns {string} */
export function encoded(bytes) {
  let out = "";
  const part = 0x8000;
  for (let i = 0; i < bytes.length; i += part) out += String.fromCharCode(...bytes.subarray(i, i + part));
  return btoa(out);
}

/** A text that was pasted, as a file. @param {string} name @param {string} text @returns {SentFile} */
export const pasted = (name, text) => ({ name, data: encoded(new TextEncoder().encode(text)) });

/** Why a file is too large, in words; empty where it is not. @param {string} name @param {number} bytes @param {string} otherwise the command that reads it */
export const tooLarge = (name, bytes, otherwise) =>
  bytes <= MOST
    ? ""
    : `${name} has ${(bytes / 1e6).toFixed(1)} MB; this page takes up to ${(MOST / 1e6).toFixed(1)} MB. Cut the file to the time that matters, or read it by the command line: ${otherwise}`;

/** @param {File} file @param {string} otherwise the command that reads larger ones @returns {Promise<SentFile>} */
export async function sent(file, otherwise) {
  const wrong = tooLarge(file.name, file.size, otherwise);
  if (wrong) throw new Error(wrong);
  return { name: file.name, data: encoded(new Uint8Array(await file.arrayBuffer())) };
}

/**
 * A place to choose a file, which names the file that was taken. It may be dropped anywhere over a part of the page.
 * @param {{id: string, label: string, describedby: string, over: Element}} how @param {(file: File) => void} take
 */
export function dropPlace(how, take) {
  const input = h("input", {
    type: "file",
    id: how.id,
    class: "sr",
    accept: ".csv,.txt,.tsv,.xlsx",
    "aria-describedby": how.describedby,
    onchange: () => {
      const file = input.files?.[0];
      if (file) take(file);
      input.value = ""; // the same file may be chosen again
    },
  });
  const name = h("span", { class: "soft" });
  const box = h("div", { class: "drop-place" }, input, h("label", { for: how.id, class: "button" }, how.label), name);
  const over = (/** @type {DragEvent} */ e, /** @type {boolean} */ on) => {
    if (!e.dataTransfer?.types.includes("Files")) return;
    e.preventDefault();
    box.classList.toggle("over", on);
  };
  const part = /** @type {HTMLElement} */ (how.over);
  part.addEventListener("dragover", (e) => over(e, true));
  part.addEventListener("dragleave", (e) => over(e, false));
  part.addEventListener("drop", (e) => {
    over(e, false);
    const file = e.dataTransfer?.files[0];
    if (!file) return;
    e.stopPropagation(); // elsewhere on the page a dropped file is a station
    take(file);
  });
  return { box, taken: (/** @type {string} */ file) => put(name, file ? `Taken: ${file}` : "or drop it here") };
}
