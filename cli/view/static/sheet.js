// One page on a canvas: tiles at the resolution that the zoom needs, held in a bounded number.
const TILE = 512;
const HELD = 64; // tiles of a megabyte each, over all sheets on the screen
const AT_ONCE = 4;
const MOST = 8; // screen pixels for a pixel of the page
let sheets = 0;

export class Sheet {
  constructor(host) {
    const data = host.dataset;
    this.base = data.base;
    this.width = Number(data.width);
    this.height = Number(data.height);
    this.turn = Number(data.turn);
    this.marks = JSON.parse(data.marks);
    this.at = -1;
    this.host = host;
    this.levels = Math.max(0, Math.ceil(Math.log2(Math.max(this.width, this.height) / TILE)));
    this.tiles = new Map();
    this.loading = new Map();
    this.wanted = [];
    this.canvas = document.createElement("canvas");
    this.canvas.tabIndex = 0;
    this.canvas.setAttribute("role", "img");
    host.append(this.canvas);
    this.pen = this.canvas.getContext("2d", { alpha: false });
    sheets += 1;
    new ResizeObserver(() => this.resize()).observe(host);
  }

  resize() {
    const box = this.host.getBoundingClientRect();
    const dense = Math.min(window.devicePixelRatio || 1, 2);
    const first = !this.canvasWidth;
    const whole = first || this.isWhole();
    this.canvasWidth = Math.max(1, Math.round(box.width));
    this.canvasHeight = Math.max(1, Math.round(box.height));
    this.dense = dense;
    this.canvas.width = Math.round(this.canvasWidth * dense);
    this.canvas.height = Math.round(this.canvasHeight * dense);
    if (first && this.onReady) this.onReady();
    else if (whole) this.whole();
    this.draw();
  }

  // -- where we are: x, y of the page in the middle of the canvas, and screen pixels for a page's

  turned() {
    return this.turn % 180 ? [this.height, this.width] : [this.width, this.height];
  }

  fit() {
    const [width, height] = this.turned();
    return Math.min(this.canvasWidth / width, this.canvasHeight / height);
  }

  isWhole() {
    return this.scale === undefined || Math.abs(this.scale / this.lastFit - 1) < 0.001;
  }

  whole() {
    this.lastFit = this.fit();
    this.set(this.width / 2, this.height / 2, this.lastFit);
  }

  acrossWidth() {
    const [width, height] = this.turned();
    const scale = this.canvasWidth / width;
    this.set(this.width / 2, this.height / 2, scale);
    this.pan(0, -(height * scale - this.canvasHeight) / 2);
  }

  set(x, y, scale) {
    this.lastFit = this.fit();
    this.scale = Math.min(MOST, Math.max(Math.min(this.lastFit, 1) * 0.5, scale));
    this.x = Math.min(this.width, Math.max(0, x));
    this.y = Math.min(this.height, Math.max(0, y));
    this.draw();
    if (this.onMove) this.onMove();
  }

  // a way on the screen as a way on the page
  unturned(dx, dy) {
    const angle = (-this.turn * Math.PI) / 180;
    const cos = Math.cos(angle);
    const sin = Math.sin(angle);
    return [(dx * cos - dy * sin) / this.scale, (dx * sin + dy * cos) / this.scale];
  }

  pan(dx, dy) {
    const [x, y] = this.unturned(dx, dy);
    this.set(this.x + x, this.y + y, this.scale);
  }

  zoom(times, screenX = this.canvasWidth / 2, screenY = this.canvasHeight / 2) {
    const before = this.unturned(screenX - this.canvasWidth / 2, screenY - this.canvasHeight / 2);
    const from = this.scale;
    const to = Math.min(MOST, Math.max(Math.min(this.fit(), 1) * 0.5, from * times));
    const share = 1 - from / to;
    this.set(this.x + before[0] * share, this.y + before[1] * share, to);
  }

  quarter() {
    this.turn = (this.turn + 90) % 360;
    this.whole();
  }

  nextMark() {
    if (!this.marks.length) return null;
    this.at = (this.at + 1) % this.marks.length;
    const mark = this.marks[this.at];
    const scale = Math.min(1.5, Math.max(this.scale, 0.35 * this.canvasHeight / Math.max(mark.h * 12, 1)));
    this.set(mark.x + mark.w / 2, mark.y + mark.h / 2, scale);
    return mark;
  }

  // -- drawing

  draw() {
    if (this.due || this.scale === undefined) return;
    this.canvas.dataset.missing = "unknown";
    this.due = requestAnimationFrame(() => {
      this.due = 0;
      this.paint();
    });
  }

  paint() {
    const pen = this.pen;
    pen.setTransform(1, 0, 0, 1, 0, 0);
    // an inverted sheet is for tired eyes: what lies around it stays dark
    pen.fillStyle = this.host.closest(".invert") ? "#eee" : getComputedStyle(this.host).backgroundColor;
    pen.fillRect(0, 0, this.canvas.width, this.canvas.height);
    pen.setTransform(this.dense, 0, 0, this.dense, 0, 0);
    pen.translate(this.canvasWidth / 2, this.canvasHeight / 2);
    pen.rotate((this.turn * Math.PI) / 180);
    pen.scale(this.scale, this.scale);
    pen.translate(-this.x, -this.y);
    pen.fillStyle = "#fff";
    pen.fillRect(0, 0, this.width, this.height);
    const level = this.levelNow();
    const asked = [];
    for (let at = this.levels; at >= level; at -= 1) {
      for (const tile of at === this.levels ? this.tilesAt(at, true) : this.tilesAt(at)) {
        const held = this.tiles.get(tile.key);
        if (held) {
          held.used = performance.now();
          pen.drawImage(held.picture, tile.x, tile.y, tile.w, tile.h);
        } else if (at === level || at === this.levels) asked.push(tile);
      }
    }
    this.wanted = asked;
    this.load();
    this.paintMarks(pen);
    this.canvas.dataset.level = level;
    this.canvas.dataset.missing = asked.length;
    this.canvas.dataset.held = this.tiles.size;
  }

  paintMarks(pen) {
    pen.lineWidth = 2.5 / this.scale;
    const away = 5 / this.scale;
    this.marks.forEach((mark, n) => {
      pen.strokeStyle = "#b3261e";
      pen.fillStyle = n === this.at ? "rgb(200 40 20 / .28)" : "rgb(200 40 20 / .12)";
      const box = [mark.x - away, mark.y - away, mark.w + 2 * away, mark.h + 2 * away];
      pen.fillRect(...box);
      pen.strokeRect(...box);
    });
  }

  levelNow() {
    const shrink = 1 / (this.scale * this.dense);
    return Math.min(this.levels, Math.max(0, Math.floor(Math.log2(shrink) + 0.15)));
  }

  seen() {
    const half = [this.canvasWidth / 2, this.canvasHeight / 2];
    const a = this.unturned(-half[0], -half[1]);
    const b = this.unturned(half[0], half[1]);
    return [
      this.x + Math.min(a[0], b[0]), this.y + Math.min(a[1], b[1]),
      this.x + Math.max(a[0], b[0]), this.y + Math.max(a[1], b[1]),
    ];
  }

  tilesAt(level, all = false) {
    const factor = 2 ** level;
    const side = TILE * factor;
    const [left, top, right, bottom] = all ? [0, 0, this.width, this.height] : this.seen();
    const out = [];
    const lastColumn = Math.min(Math.ceil(this.width / side) - 1, Math.floor(right / side));
    const lastRow = Math.min(Math.ceil(this.height / side) - 1, Math.floor(bottom / side));
    for (let row = Math.max(0, Math.floor(top / side)); row <= lastRow; row += 1) {
      for (let column = Math.max(0, Math.floor(left / side)); column <= lastColumn; column += 1) {
        const x = column * side;
        const y = row * side;
        const w = Math.min(side, this.width - x);
        const h = Math.min(side, this.height - y);
        const size = `${Math.ceil(w / factor)},${Math.ceil(h / factor)}`;
        const middle = Math.hypot(x + w / 2 - this.x, y + h / 2 - this.y);
        out.push({ key: `${x},${y},${w},${h}/${size}`, x, y, w, h, level, middle });
      }
    }
    return out;
  }

  // -- fetching: what is seen, nearest to the middle first; what is not seen any more is dropped

  load() {
    const keys = new Set(this.wanted.map((tile) => tile.key));
    for (const [key, stop] of this.loading) if (!keys.has(key)) stop.abort();
    this.wanted.sort((a, b) => b.level - a.level || a.middle - b.middle);
    for (const tile of this.wanted) {
      if (this.loading.size >= AT_ONCE) break;
      if (!this.loading.has(tile.key)) this.fetch(tile);
    }
  }

  async fetch(tile) {
    const stop = new AbortController();
    this.loading.set(tile.key, stop);
    try {
      const answer = await fetch(`${this.base}/${tile.key}/0/default.jpg`, { signal: stop.signal });
      if (!answer.ok) throw new Error(await answer.text());
      const picture = await createImageBitmap(await answer.blob());
      this.tiles.set(tile.key, { picture, used: performance.now(), base: tile.level === this.levels });
      this.drop();
    } catch (error) {
      if (error.name !== "AbortError") await new Promise((done) => setTimeout(done, 1500));
    }
    this.loading.delete(tile.key);
    this.draw();
  }

  drop() {
    const most = Math.floor(HELD / sheets);
    if (this.tiles.size <= most) return;
    const old = [...this.tiles].filter(([, held]) => !held.base).sort((a, b) => a[1].used - b[1].used);
    for (const [key, held] of old.slice(0, this.tiles.size - most)) {
      held.picture.close();
      this.tiles.delete(key);
    }
  }
}
