// Hands on the page: drag, pinch, wheel, keys and the tool bar. Without this script the page is
// shown as a picture that scrolls.
import { Sheet } from "./sheet.js";

const STEP = 90; // screen pixels that an arrow key moves
const CLOSER = 1.4;
const KEPT = "look:";
const MOST_KEPT = 200;

const tools = document.querySelector(".tools");
const panes = document.querySelector(".panes");
const sheets = [];
let active = null;

for (const host of document.querySelectorAll(".sheet")) {
  const sheet = new Sheet(host);
  sheet.name = host.dataset.name;
  sheets.push(sheet);
  sheet.canvas.setAttribute("aria-label", label(sheet));
  sheet.onReady = () => restore(sheet);
  sheet.onMove = () => keepSoon(sheet);
  host.classList.add("live");
  listen(sheet);
  active ??= sheet;
}
if (sheets.length) {
  tools.hidden = false;
  document.querySelector(".moves").hidden = false;
  document.querySelector(".still-keys").hidden = true;
  showState();
}

function label(sheet) {
  const still = sheet.host.querySelector("img");
  return `${still.alt}. Keys: arrows move, plus and minus zoom, 0 whole page, w width, t turn, `
    + "i invert, c contrast, m next word, page up and page down leaf.";
}

function act(name, sheet) {
  const how = {
    closer: () => sheet.zoom(CLOSER),
    farther: () => sheet.zoom(1 / CLOSER),
    whole: () => sheet.whole(),
    width: () => sheet.acrossWidth(),
    turn: () => sheet.quarter(),
    left: () => sheet.pan(-STEP, 0),
    right: () => sheet.pan(STEP, 0),
    up: () => sheet.pan(0, -STEP),
    down: () => sheet.pan(0, STEP),
    mark: () => sheet.nextMark(),
    invert: () => flip("invert"),
    contrast: () => flip("contrast"),
    previous: () => leaf("prev"),
    following: () => leaf("next"),
  }[name];
  if (how) how();
}

function flip(name) {
  panes.classList.toggle(name);
  for (const sheet of sheets) sheet.draw();
  put("ink", ["invert", "contrast"].filter((one) => panes.classList.contains(one)).join(" "));
  showState();
}

function showState() {
  for (const name of ["invert", "contrast"]) {
    const key = tools.querySelector(`[data-do=${name}]`);
    key.setAttribute("aria-pressed", String(panes.classList.contains(name)));
  }
}

function leaf(way) {
  const link = document.querySelector(`a[rel=${way}]`);
  if (link) link.click();
}

document.querySelector(".bar")?.addEventListener("click", (event) => {
  const key = event.target.closest("[data-do]");
  if (key && active) act(key.dataset.do, active);
});

const KEYS = {
  ArrowLeft: "left", ArrowRight: "right", ArrowUp: "up", ArrowDown: "down",
  "+": "closer", "=": "closer", "-": "farther", 0: "whole", w: "width", t: "turn",
  i: "invert", c: "contrast", m: "mark", PageUp: "previous", PageDown: "following",
};

function listen(sheet) {
  const canvas = sheet.canvas;
  const fingers = new Map();
  canvas.addEventListener("focus", () => { active = sheet; });
  canvas.addEventListener("keydown", (event) => {
    const name = KEYS[event.key];
    if (!name || event.ctrlKey || event.metaKey || event.altKey) return;
    event.preventDefault();
    act(name, sheet);
  });
  canvas.addEventListener("wheel", (event) => {
    event.preventDefault();
    const box = canvas.getBoundingClientRect();
    const way = event.deltaMode ? event.deltaY * 20 : event.deltaY;
    sheet.zoom(Math.exp(-Math.max(-300, Math.min(300, way)) / 400), event.clientX - box.left, event.clientY - box.top);
  }, { passive: false });
  canvas.addEventListener("dblclick", (event) => {
    const box = canvas.getBoundingClientRect();
    sheet.zoom(2, event.clientX - box.left, event.clientY - box.top);
  });
  canvas.addEventListener("pointerdown", (event) => {
    active = sheet;
    canvas.focus({ preventScroll: true });
    canvas.setPointerCapture(event.pointerId);
    fingers.set(event.pointerId, [event.clientX, event.clientY]);
    canvas.classList.add("held");
  });
  canvas.addEventListener("pointermove", (event) => {
    const before = fingers.get(event.pointerId);
    if (!before) return;
    const now = [event.clientX, event.clientY];
    if (fingers.size === 1) sheet.pan(before[0] - now[0], before[1] - now[1]);
    if (fingers.size === 2) {
      const [other] = [...fingers].filter(([id]) => id !== event.pointerId).map(([, at]) => at);
      const box = canvas.getBoundingClientRect();
      const was = Math.hypot(before[0] - other[0], before[1] - other[1]);
      const is = Math.hypot(now[0] - other[0], now[1] - other[1]);
      const middle = [(now[0] + other[0]) / 2 - box.left, (now[1] + other[1]) / 2 - box.top];
      sheet.pan((before[0] - now[0]) / 2, (before[1] - now[1]) / 2);
      if (was > 8) sheet.zoom(is / was, ...middle);
    }
    fingers.set(event.pointerId, now);
  });
  for (const end of ["pointerup", "pointercancel"]) {
    canvas.addEventListener(end, (event) => {
      fingers.delete(event.pointerId);
      if (!fingers.size) canvas.classList.remove("held");
    });
  }
}

// -- the view is kept in this browser, so that a closed tab costs nothing

function put(name, value) {
  try {
    localStorage.setItem(KEPT + name, value);
    const old = Object.keys(localStorage).filter((key) => key.startsWith(KEPT));
    if (old.length > MOST_KEPT) localStorage.removeItem(old[0]);
  } catch { /* a browser that keeps nothing */ }
}

function kept(name) {
  try {
    return localStorage.getItem(KEPT + name) ?? "";
  } catch {
    return "";
  }
}

function keepSoon(sheet) {
  clearTimeout(sheet.timer);
  sheet.timer = setTimeout(() => {
    put(sheet.name, sheet.isWhole() ? "" : [sheet.x, sheet.y, sheet.scale, sheet.turn].join(" "));
  }, 400);
}

function restore(sheet) {
  const [x, y, scale, turn] = kept(sheet.name).split(" ").map(Number);
  if (scale > 0 && !sheet.marks.length && Number.isFinite(x + y)) {
    sheet.turn = [0, 90, 180, 270].includes(turn) ? turn : sheet.turn;
    sheet.set(x, y, scale);
  } else sheet.whole();
}

for (const name of kept("ink").split(" ").filter(Boolean)) panes?.classList.add(name);
if (sheets.length) {
  showState();
  sheets[0].canvas.focus({ preventScroll: true });
}
