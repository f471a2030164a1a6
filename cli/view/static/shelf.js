// The counts go on by themselves while pages are being read; nothing is asked for in a hidden tab.

const EVERY_MS = 2000;
const number = new Intl.NumberFormat("en");

setInterval(async () => {
  if (document.hidden) return;
  let now;
  try {
    const answer = await fetch("/shelf.json");
    if (!answer.ok) return;
    now = await answer.json();
  } catch { return; } // the view was stopped
  for (const piece of now.pieces) {
    const bar = document.querySelector(`[data-state="${piece.state}"]`);
    bar.setAttribute("x", piece.from);
    bar.setAttribute("width", piece.share);
    write(`[data-count="${piece.state}"]`, piece.count);
  }
  write("#total", now.total);
  write("#entries", now.entries);
}, EVERY_MS);

function write(selector, count) {
  const place = document.querySelector(selector);
  const text = number.format(count);
  if (place.textContent !== text) place.textContent = text;
}
