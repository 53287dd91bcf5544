// Light room or dark room: as the system says, unless the reader chose.
import { h, say } from "./dom.js";

const KEY = "seatward.theme";
const dark = window.matchMedia("(prefers-color-scheme: dark)");

/** @returns {string} */
function chosen() {
  try {
    return localStorage.getItem(KEY) || "";
  } catch {
    return "";
  }
}

const isDark = () => (chosen() ? chosen() === "dark" : dark.matches);

/** @type {HTMLButtonElement|null} */ let button = null;

function apply() {
  document.documentElement.dataset.theme = isDark() ? "dark" : "light";
  if (button) button.textContent = isDark() ? "Light" : "Dark";
}

/** The switch for the menu. */
export function themeButton() {
  button = h("button", {
    type: "button",
    id: "m-theme",
    title: "Colors for a light or a dark room",
    onclick: () => {
      try {
        localStorage.setItem(KEY, isDark() ? "light" : "dark");
      } catch {
        // without a store the choice cannot be kept, and the system's holds
      }
      apply();
      say(isDark() ? "Dark colors" : "Light colors");
    },
  });
  apply();
  return button;
}

/** Begins to follow the system. */
export function begin() {
  apply();
  dark.addEventListener("change", apply);
}
