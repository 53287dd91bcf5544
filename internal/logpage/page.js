"use strict";
// Draws the channels between two times. A stretch is drawn from its lowest to its highest reading,
// so that a peak of one reading is seen at any width.
const of = (text, type) => {
  const bytes = Uint8Array.from(atob(text || ""), (c) => c.charCodeAt(0));
  return new type(bytes.buffer);
};
const channels = log.channels.map((c) => ({
  ...c,
  times: of(c.times, Float64Array),
  values: of(c.values, Float32Array),
  low: of(c.low, Float32Array),
  high: of(c.high, Float32Array),
  near: (c.near || []).map((n) => ({ times: of(n.times, Float64Array), values: of(n.values, Float32Array) })),
}));
const whole = [0, Math.max(log.length, 1e-3)];
let view = [...whole];
let at = null; // the time under the pointer

/** The first place in a rising list that is not below x. */
function place(list, x) {
  let from = 0;
  let to = list.length;
  while (from < to) {
    const mid = (from + to) >> 1;
    if (list[mid] < x) from = mid + 1;
    else to = mid;
  }
  return from;
}

/** Every reading or stretch between two times as (from, to, low, high). */
function each(c, a, b, f) {
  if (!c.stretch) return readings(c, a, b, f);
  let from = a;
  for (const n of c.near) {
    const [first, last] = [n.times[0], n.times[n.times.length - 1]];
    if (last < a || first > b) continue;
    stretches(c, from, first, f);
    readings(n, Math.max(a, first), Math.min(b, last), f);
    from = Math.max(from, last);
  }
  stretches(c, from, b, f);
}

function readings(c, a, b, f) {
  for (let i = Math.max(0, place(c.times, a) - 1); i < c.times.length && c.times[i] <= b; i++)
    f(c.times[i], c.times[i], c.values[i], c.values[i]);
  const next = place(c.times, b);
  if (next < c.times.length) f(c.times[next], c.times[next], c.values[next], c.values[next]);
}

function stretches(c, a, b, f) {
  if (!(b > a)) return;
  const from = Math.max(0, Math.floor((a - c.from) / c.stretch));
  const to = Math.min(c.low.length, Math.ceil((b - c.from) / c.stretch) + 1);
  for (let i = from; i < to; i++)
    f(c.from + i * c.stretch, c.from + (i + 1) * c.stretch, c.low[i], c.high[i]);
}

/** Lowest and highest between two times; null where there is no reading. */
function range(c, a, b) {
  let low = Infinity;
  let high = -Infinity;
  each(c, a, b, (_, __, l, h) => {
    if (l < low) low = l;
    if (h > high) high = h;
  });
  return high >= low ? [low, high] : null;
}

const digits = (v) => String(Number(v.toPrecision(4))).replace("-", "−");
const two = (n) => String(n).padStart(2, "0");

/** A time as it is read: by the clock of the log, or from its start. */
function when(s) {
  const fine = view[1] - view[0] < 120;
  if (!log.clock) return `${fine ? s.toFixed(3) : digits(s)} s`;
  const d = new Date(log.start + s * 1000);
  const clock = `${two(d.getUTCHours())}:${two(d.getUTCMinutes())}:${two(d.getUTCSeconds())}`;
  const day = `${d.getUTCFullYear()}-${two(d.getUTCMonth() + 1)}-${two(d.getUTCDate())} `;
  return (view[1] - view[0] > 3600 ? day : "") + clock + (fine ? "." + String(d.getUTCMilliseconds()).padStart(3, "0") : "");
}

const span = (s) => (s < 120 ? `${digits(s)} s` : s < 7200 ? `${digits(s / 60)} min` : s < 172800 ? `${digits(s / 3600)} h` : `${digits(s / 86400)} days`);
const ink = (name) => getComputedStyle(document.documentElement).getPropertyValue(name).trim();

const charts = channels.map((c) => {
  const canvas = document.createElement("canvas");
  canvas.tabIndex = 0;
  canvas.setAttribute("role", "img");
  const caption = document.createElement("figcaption");
  const figure = document.createElement("figure");
  figure.append(caption, canvas);
  document.getElementById("charts").append(figure);
  return { c, canvas, caption };
});

const LEFT = 62;
const RIGHT = 8;
const TOP = 8;
const FOOT = 20;

function draw({ c, canvas, caption }) {
  const dpr = window.devicePixelRatio || 1;
  const [w, h] = [canvas.clientWidth, canvas.clientHeight];
  canvas.width = w * dpr;
  canvas.height = h * dpr;
  const g = canvas.getContext("2d");
  g.scale(dpr, dpr);
  const r = range(c, ...view);
  const name = `${c.name}${c.unit ? ", " + c.unit : ""}`;
  const here = at === null ? null : range(c, at - width() / 2, at + width() / 2);
  caption.textContent =
    name + (here ? `: ${here[0] === here[1] ? digits(here[0]) : `${digits(here[0])} to ${digits(here[1])}`} at ${when(at)}` : "");
  canvas.setAttribute(
    "aria-label",
    r ? `${name} from ${when(view[0])} to ${when(view[1])}: lowest ${digits(r[0])}, highest ${digits(r[1])}` : `${name}: no reading here`,
  );
  g.font = "12px system-ui, sans-serif";
  if (!r) {
    g.fillStyle = ink("--soft");
    return g.fillText("no reading here", LEFT, h / 2);
  }
  const room = Math.max((r[1] - r[0]) * 0.06, Math.abs(r[1]) * 1e-6, 1e-9);
  const [low, high] = [r[0] - room, r[1] + room];
  const x = (s) => LEFT + ((s - view[0]) / (view[1] - view[0])) * (w - LEFT - RIGHT);
  const y = (v) => TOP + ((high - v) / (high - low)) * (h - TOP - FOOT);
  axes(g, r, x, y, w, h);
  marks(g, x, h);
  line(g, c, x, y, w);
  if (at !== null) {
    g.strokeStyle = ink("--soft");
    g.strokeRect(x(at), TOP, 0.01, h - TOP - FOOT);
  }
}

function axes(g, r, x, y, w, h) {
  g.strokeStyle = ink("--line");
  g.fillStyle = ink("--soft");
  g.lineWidth = 1;
  g.textAlign = "right";
  for (const v of r[0] === r[1] ? [r[0]] : [r[0], (r[0] + r[1]) / 2, r[1]]) {
    g.strokeRect(LEFT, y(v), w - LEFT - RIGHT, 0.01);
    g.fillText(digits(v), LEFT - 6, y(v) + 4);
  }
  g.textAlign = "left";
  g.fillText(when(view[0]), LEFT, h - 5);
  g.textAlign = "right";
  g.fillText(when(view[1]), w - RIGHT, h - 5);
}

function marks(g, x, h) {
  for (const e of log.events) {
    if (e.to < view[0] || e.from > view[1]) continue;
    g.fillStyle = g.strokeStyle = ink(e.kind === "slam" || e.kind === "separation" ? "--rust" : e.kind === "flutter" ? "--amber" : "--water");
    g.globalAlpha = 0.16;
    g.fillRect(x(e.from), TOP, Math.max(0, x(e.to) - x(e.from)), h - TOP - FOOT);
    g.globalAlpha = 1;
    g.fillRect(x(e.from), TOP, 1.5, h - TOP - FOOT);
  }
}

/** One column of the picture at a time: from its lowest to its highest, joined to the last. */
function line(g, c, x, y, w) {
  g.strokeStyle = ink("--water");
  g.lineWidth = 1.4;
  g.save();
  g.beginPath();
  g.rect(LEFT, 0, w - LEFT - RIGHT, 4096);
  g.clip();
  g.beginPath();
  let last = null; // x and y where the line stands
  let column = null; // [x, first, low, high, last] of the column under way
  const close = () => {
    if (!column) return;
    const [cx, , lo, hi, end] = column;
    if (last && c.held) g.lineTo(cx, last);
    if (last === null) g.moveTo(cx, y(column[1]));
    else g.lineTo(cx, y(column[1]));
    if (hi > lo) {
      g.lineTo(cx, y(lo));
      g.lineTo(cx, y(hi));
      g.lineTo(cx, y(end));
    }
    last = y(end);
    column = null;
  };
  each(c, ...view, (from, to, lo, hi) => {
    if (Number.isNaN(lo)) {
      close();
      last = null;
      return;
    }
    const cx = Math.round((x(from) + x(to)) / 2);
    if (column && column[0] === cx) {
      column[2] = Math.min(column[2], lo);
      column[3] = Math.max(column[3], hi);
      column[4] = hi;
    } else {
      close();
      column = [cx, lo, lo, hi, hi];
    }
  });
  close();
  g.stroke();
  g.restore();
}

const width = () => ((view[1] - view[0]) / Math.max(1, charts[0]?.canvas.clientWidth - LEFT - RIGHT)) * 3;

let waiting = false;
function show() {
  if (waiting) return;
  waiting = true;
  requestAnimationFrame(() => {
    waiting = false;
    charts.forEach(draw);
    document.getElementById("shown").textContent = `${when(view[0])} to ${when(view[1])}, ${span(view[1] - view[0])}`;
    const coarse = channels.filter((c) => c.stretch > (view[1] - view[0]) / 800 && !c.near.some((n) => n.times[0] <= view[0] && n.times[n.times.length - 1] >= view[1]));
    document.getElementById("how").textContent = coarse.length
      ? `Between events this page keeps the lowest and the highest reading of each ${span(coarse[0].stretch)}; the file holds all.`
      : "";
  });
}

/** Shows the time between two, inside the log and not narrower than a millisecond. */
function look(a, b) {
  const length = Math.min(Math.max(b - a, 1e-3), whole[1] - whole[0]);
  const middle = (a + b) / 2;
  const from = Math.min(Math.max(middle - length / 2, whole[0]), whole[1] - length);
  view = [from, from + length];
  show();
}
const zoom = (by, about = (view[0] + view[1]) / 2) => look(about - (about - view[0]) * by, about + (view[1] - about) * by);
const move = (share) => look(view[0] + share * (view[1] - view[0]), view[1] + share * (view[1] - view[0]));

const acts = { whole: () => look(...whole), nearer: () => zoom(0.5), farther: () => zoom(2), earlier: () => move(-0.5), later: () => move(0.5) };
for (const [id, act] of Object.entries(acts)) document.getElementById(id).addEventListener("click", act);

for (const { canvas } of charts) {
  const time = (e) => {
    const r = canvas.getBoundingClientRect();
    return view[0] + ((e.clientX - r.left - LEFT) / (r.width - LEFT - RIGHT)) * (view[1] - view[0]);
  };
  let held = null;
  canvas.addEventListener("wheel", (e) => (e.preventDefault(), zoom(Math.exp(e.deltaY / 400), time(e))), { passive: false });
  canvas.addEventListener("pointerdown", (e) => ((held = [e.clientX, view[0], view[1]]), canvas.setPointerCapture(e.pointerId)));
  canvas.addEventListener("pointermove", (e) => {
    at = time(e);
    if (!held) return show();
    const by = ((held[0] - e.clientX) / (canvas.clientWidth - LEFT - RIGHT)) * (held[2] - held[1]);
    look(held[1] + by, held[2] + by);
  });
  canvas.addEventListener("pointerup", () => (held = null));
  canvas.addEventListener("pointerleave", () => ((at = null), show()));
  canvas.addEventListener("keydown", (e) => {
    const act = { "+": acts.nearer, "=": acts.nearer, "-": acts.farther, 0: acts.whole, ArrowLeft: () => move(-0.1), ArrowRight: () => move(0.1) }[e.key];
    if (act) (e.preventDefault(), act());
  });
}

document.getElementById("events")?.addEventListener("click", (e) => {
  const b = e.target.closest("[data-event]");
  if (!b) return;
  const v = log.events[Number(b.dataset.event)];
  const room = Math.max(2, (v.to - v.from) * 0.3);
  look(v.from - room, v.to + 4 * room);
});
addEventListener("resize", show);
matchMedia("(prefers-color-scheme: dark)").addEventListener("change", show);
show();
