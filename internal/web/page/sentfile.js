// A file on its way to the server: chosen, dropped or pasted. It is read there and not kept.
import { h } from "./dom.js";

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
 * A place to choose a file or drop it.
 * @param {{id: string, label: string, many?: boolean, describedby: string}} how @param {(files: File[]) => void} take
 */
export function dropPlace(how, take) {
  const input = h("input", {
    type: "file",
    id: how.id,
    accept: ".csv,.txt,.tsv,.xlsx",
    multiple: how.many || false,
    "aria-describedby": how.describedby,
    onchange: () => {
      const all = [...(input.files || [])];
      input.value = ""; // the same file may be chosen again
      if (all.length) take(all);
    },
  });
  const box = h("div", { class: "drop-place" }, h("label", { for: how.id }, how.label), input);
  const over = (/** @type {DragEvent} */ e, /** @type {boolean} */ on) => {
    if (!e.dataTransfer?.types.includes("Files")) return;
    e.preventDefault();
    box.classList.toggle("over", on);
  };
  box.addEventListener("dragover", (e) => over(e, true));
  box.addEventListener("dragleave", (e) => over(e, false));
  box.addEventListener("drop", (e) => {
    over(e, false);
    const all = [...(e.dataTransfer?.files || [])];
    if (!all.length) return;
    e.stopPropagation(); // elsewhere on the page a dropped file is a station
    take(all);
  });
  return box;
}
