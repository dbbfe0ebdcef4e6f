// Pictures on any screen: where a picture would shrink until its letters cannot be read, its parts
// are shown instead, cut out of it.
//
// An <img data-parts> says of which parts it consists (parts.py): names, and boxes in shown pixels.
// Where the room is too narrow, the boxes stand below each other, as many in a row as stay legible.
// In a panel only one part is shown, with a button for each: that which the moved control changes
// most (data-by, data-moved). The <img> stays, out of sight, for its words; what is seen are
// canvases, which keep what they show until the next picture has come. A live picture has no <img>:
// its shapes (shapes.js) are painted on canvases in any case, and an element in the <img>'s place has
// its words. Printed pictures outside all frames are arranged as well: so there is one look-out for
// the whole page, which the first frame starts.

const LEAST_SCALE = 0.75;  // letters of 11 pt are 11 px high then
const WHOLE_SCALE = 0.6;   // a panel's picture may be so small before a part takes its place
const MOST_SCALE = 4 / 3;
const LOW_PX = 420;        // a page that is seen through a slit: half of 840, at 200 %
const BESIDE_SHARE = 0.56; // of its column, for a picture with its sentence beside it
const APART_PX = 10;

class Arrangement {
  constructor(place) {
    this.place = place;
    this.host = place.closest('.widget-html') || place;
    this.strip = document.createElement('div');
    this.strip.className = 'mensura-parts';
    this.rows = document.createElement('div');
    this.rows.setAttribute('aria-hidden', 'true');  // the <img> has the words
    this.buttons = document.createElement('div');
    this.buttons.className = 'mensura-part-names';
    this.buttons.setAttribute('role', 'group');
    this.buttons.setAttribute('aria-label', 'Part of the picture');
    this.strip.append(this.buttons, this.rows);
    this.canvases = [];
    this.present = '';
    this.looks = 100;
    new ResizeObserver(() => this.arrange()).observe(this.host);
  }

  /** Where it stands: ipywidgets gives boxes their classes a moment after they are on the page. */
  settle() {
    this.inPanel = Boolean(this.place.closest('.mensura-panel .mensura-picture'));
    const seen = this.inPanel && this.place.closest('.mensura-seen');
    if (seen && !this.seen) {
      this.seen = seen;
      new ResizeObserver(() => this.arrange()).observe(seen);
    }
    if (this.frame) { return; }
    this.frame = this.place.closest('.mensura-frame');
    this.onScreen = Boolean(this.frame?.closest('.mensura-screen'));
    if (this.frame) {
      const options = { attributeFilter: ['style'] };
      new MutationObserver(() => this.arrange()).observe(this.frame, options);
      requestAnimationFrame(() => this.arrange());
    } else if (this.host.matches('.jupyter-widgets') && this.looks-- > 0) {
      requestAnimationFrame(() => this.arrange());
    }
  }

  /** Takes up what is to be seen: an <img>, or the element of a picture of shapes. */
  follow(img) {
    this.img = img;
    if (img.dataset.parts !== this.told) {
      this.told = img.dataset.parts;
      this.parts = JSON.parse(this.told);
      this.chosen = this.parts[0].name;
      this.present = '';
      this.nameButtons();
    }
    this.moved();
    if (!img.shapes) {
      img.addEventListener('load', () => { if (this.img === img) { this.paint(); } });
    }
    this.arrange();
  }

  /** Looks whether another part is to be seen, and says so. */
  moved() {
    const { by, moved } = this.img.dataset;
    const before = this.chosen;
    // who has picked a part keeps it until another control is moved
    if (moved && (by !== this.by || !this.picked)) { this.chosen = moved; this.picked = false; }
    if (by) { this.by = by; }
    return this.chosen !== before;
  }

  nameButtons() {
    const names = [...this.parts.map((part) => part.name), 'all'];
    this.buttons.replaceChildren(...names.map((name) => {
      const button = document.createElement('button');
      button.type = 'button';
      button.textContent = name;
      button.addEventListener('click', () => {
        this.chosen = name;
        this.picked = true;
        this.arrange();
      });
      return button;
    }));
  }

  /** Whether the page is seen through a slit, so that one part stands beside its sentence. */
  get low() {
    return Boolean(this.seen) && this.slit;
  }

  get slit() {
    return !this.onScreen && parseFloat(this.frame?.style.getPropertyValue('--mensura-high')) < LOW_PX;
  }

  /** Rows of [box, scale] for the room there is; null for the picture as it is. */
  plan() {
    const room = this.room();
    const { width, height } = this.size();
    // on a lesson's screen there is room for one thing: a part, or all of it as large as it can be
    const whole = this.onScreen && this.chosen === 'all';
    const rows = room > 0 && width > 0 && this.parts.length > 1 && !whole
      && !(document.mensuraPrinting && this.img.shapes) ? this.inParts(room) : null;
    if (rows || !this.img.shapes) { return rows; }
    if (document.mensuraPrinting) { return [[[[0, 0, width, height], 1]]]; }
    if (!(room > 0)) { return []; }
    const scale = Math.min(this.most, room / width, (this.tall() - this.namesHigh) / height);
    return [[[[0, 0, width, height], scale]]];
  }

  /** No picture is enlarged more. */
  get most() { return this.onScreen ? 2 : MOST_SCALE; }

  /** What the names of the parts take above a whole picture that stands there by choice. */
  get namesHigh() {
    return this.onScreen && this.chosen === 'all' ? this.buttons.offsetHeight : 0;
  }

  room() {
    const box = this.seen || this.host;
    const { paddingLeft, paddingRight } = getComputedStyle(box);
    return box.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight);
  }

  tall() {
    return parseFloat(getComputedStyle(this.img).maxHeight) || Infinity;
  }

  /** The part to be seen, on a screen where the whole would be too small; else null. */
  onePart(room) {
    const { width, height } = this.size();
    const least = parseFloat(getComputedStyle(this.frame).getPropertyValue('--picture-least')) || 0;
    const tall = this.tall();
    const one = this.parts.find((part) => part.name === this.chosen);
    if (!one || !this.inPanel || Math.min(room / width, tall / height) >= least - 0.001) { return null; }
    const wide = Math.max(...one.boxes.map((some) => some[2]));
    const high = one.boxes.reduce((sum, some) => sum + some[3], 0);
    const scale = Math.min(this.most, room / wide,
      (tall - this.buttons.offsetHeight - (one.boxes.length - 1) * APART_PX) / high);
    return one.boxes.map((some) => [[some, scale]]);
  }

  /** Rows of the parts, where the whole would be too small; else null. */
  inParts(room) {
    if (this.onScreen) { return this.onePart(room); }
    const { maxHeight } = getComputedStyle(this.seen || this.host);
    const { width, height } = this.size();
    const tall = this.tall();
    // beside its controls a picture is seen whole for as long as that is worth it
    const enough = this.inPanel ? WHOLE_SCALE : LEAST_SCALE;
    if (room >= enough * width && !(this.low && tall < height)) { return null; }
    if (!this.inPanel && this.slit && this.place.closest('.mensura-stage')) { return null; }
    const least = this.low ? LEAST_SCALE / density() : LEAST_SCALE;
    const one = this.inPanel && this.parts.find((part) => part.name === this.chosen);
    if (!one) {
      const each = new Map(this.parts.flatMap((part) => part.boxes).map((some) => [`${some}`, some]));
      return inRows([...each.values()], room, least);
    }
    const wide = Math.max(...one.boxes.map((some) => some[2]));
    const high = one.boxes.reduce((sum, some) => sum + some[3], 0);
    const [across, up] = this.low
      ? [room * BESIDE_SHARE, parseFloat(maxHeight) || tall]
      : [room, tall - this.buttons.offsetHeight];
    // its sentence needs its own room, and all of it is to be seen: there it may be small
    const legible = Math.max(Math.min(up / high, across / wide), this.low ? 0 : least);
    const scale = Math.min(MOST_SCALE, room / wide, legible);
    return one.boxes.map((some) => [[some, scale]]);
  }

  /** Dots of the screen for a pixel of the place, which may be enlarged. */
  density() { return density() * (this.place.currentCSSZoom || 1); }

  size() {
    return { width: Number(this.img.getAttribute('width')),
      height: Number(this.img.getAttribute('height')) };
  }

  /** Gives every piece its place; says whether all were painted anew. */
  arrange() {
    if (!this.place.isConnected || !this.img) { return false; }
    this.settle();
    // the buttons stand in the page before it is asked how high they are
    this.buttons.hidden = !this.inPanel;
    this.strip.hidden = false;
    const able = this.parts.length > 1 || this.img.shapes;
    if (able && !this.strip.isConnected) { this.host.append(this.strip); }
    const rows = this.plan();
    const whole = Boolean(rows) && rows.length === 1 && rows[0].length === 1
      && rows[0][0][0][2] === this.size().width && rows[0][0][0][3] === this.size().height;
    if (whole) { this.buttons.hidden = true; }
    this.img.classList.toggle('mensura-parted', Boolean(rows));
    this.host.classList.toggle('mensura-in-parts', Boolean(rows));
    this.strip.hidden = !rows;
    const chosen = this.parts.some((part) => part.name === this.chosen) ? this.chosen : 'all';
    for (const button of this.buttons.children) {
      button.setAttribute('aria-pressed', String(button.textContent === chosen));
    }
    this.strip.classList.toggle('mensura-all', !whole && (!this.inPanel || chosen === 'all'));
    this.stand(rows, Boolean(rows) && !whole && this.low && chosen !== 'all');
    const dense = this.density();
    const wanted = JSON.stringify([rows, dense]);
    if (wanted === this.present) { return false; }
    this.present = wanted;
    this.canvases = [];
    this.rows.replaceChildren(...(rows || []).map((row) => {
      const line = document.createElement('div');
      for (const [box, scale] of row) {
        const canvas = document.createElement('canvas');
        const [, , width, height] = box;
        canvas.width = Math.round(width * scale * dense);
        canvas.height = Math.round(height * scale * dense);
        canvas.style.width = `${width * scale}px`;
        canvas.style.height = `${height * scale}px`;
        canvas.dataset.scale = scale.toFixed(3);
        this.canvases.push([canvas, box]);
        line.append(canvas);
      }
      return line;
    }));
    this.paint();
    return true;
  }

  /** On a low page the names and the sentence stand beside the part. */
  stand(rows, beside) {
    if (!this.seen) { return; }
    this.seen.classList.toggle('mensura-beside', beside);
    if (!beside) { return; }
    const wide = Math.max(...rows.map(([[box, scale]]) => box[2] * scale));
    this.seen.style.setProperty('--cut', `${wide + APART_PX}px`);
    this.seen.style.setProperty('--names-high', `${this.buttons.offsetHeight}px`);
  }

  paint() {
    const { img } = this;
    if (!this.canvases.length || !(img.shapes || (img.complete && img.naturalWidth))) { return; }
    for (const [canvas, box] of this.canvases) {
      const ink = canvas.getContext('2d', { alpha: false });
      if (img.shapes) {
        img.shapes.paint(ink, box, canvas.width / box[2], inksOf(canvas));
        continue;
      }
      const [left, top, width, height] = box;
      const dots = img.naturalWidth / this.size().width;
      ink.imageSmoothingQuality = 'high';
      ink.drawImage(img, left * dots, top * dots, width * dots, height * dots,
        0, 0, canvas.width, canvas.height);
    }
  }
}

function density() { return Math.max(document.mensuraPrinting ? 3 : 1, window.devicePixelRatio); }

/** Boxes in rows, as many side by side as stay legible, each row as large as fits. */
function inRows(boxes, room, least) {
  const rows = [];
  let row = [];
  let wide = 0;
  for (const box of boxes) {
    if (row.length && (wide + box[2]) * least + row.length * APART_PX > room) {
      rows.push(row);
      row = [];
      wide = 0;
    }
    row.push(box);
    wide += box[2];
  }
  rows.push(row);
  return rows.map((some) => {
    const wide = some.reduce((sum, box) => sum + box[2], 0);
    const scale = Math.min(1, (room - (some.length - 1) * APART_PX) / wide);
    return some.map((box) => [box, scale]);
  });
}

/** A live picture: takes what the kernel sends, paints the newest of it once a frame. */
function paintLive(el, model, leaving) {
  const told = document.createElement('div');
  told.className = 'mensura-shapes';
  told.setAttribute('role', 'img');
  el.append(told);
  let arrangement = null;
  let waiting = false;

  function paint() {
    if (waiting || leaving.aborted) { return; }
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      if (!(arrangement.moved() && arrangement.arrange())) { arrangement.paint(); }
    });
  }
  /** What stands beside the picture: of the kernel's own making, as the picture is. */
  function write(texts) {
    for (const [place, text] of Object.entries(texts || {})) {
      const box = el.closest('.mensura-frame')?.querySelector(`.${place} .widget-html-content`);
      box?.replaceChildren(document.createRange().createContextualFragment(text));
    }
  }
  /** All of another picture. */
  function anew({ size, parts, alt, texts, pointed }, bytes) {
    if (!size) { return; }
    write(texts);
    told.shapes = new Shapes();
    told.shapes.apply(bytes)?.then(paint);
    Object.assign(told.dataset, { parts, by: '', moved: '' });
    told.setAttribute('width', size[0]);
    told.setAttribute('height', size[1]);
    told.setAttribute('aria-label', alt);
    if (!arrangement) {
      arrangement = new Arrangement(el);
      if (pointed) { answerPointer(arrangement, (told) => model.send(told), leaving); }
    }
    arrangement.follow(told);
  }
  const state = () => anew(model.get('about'), model.get('shapes'));
  state();
  model.on('change:shapes', state);
  const hear = (message, buffers) => {
    if (message.kind === 'letters') { loadLetters(...buffers); return; }
    if (message.kind === 'anew') { anew(message, buffers[0]); return; }
    if (message.kind !== 'moved' || !told.shapes) { return; }
    told.shapes.apply(buffers[0]);
    told.setAttribute('aria-label', message.alt);
    write(message.texts);
    if (message.by) { Object.assign(told.dataset, { by: message.by, moved: message.part }); }
    paint();
  };
  model.on('msg:custom', hear);
  leaving.addEventListener('abort', () => {
    model.off('msg:custom', hear);
    model.off('change:shapes', state);
  });
  model.send({ kind: 'here' });
  const again = () => { if (arrangement) { arrangement.present = ''; arrangement.arrange(); } };
  whenInksChange(again, leaving);
  lettersReady().then(again);
  // one of all asks for the page's letters; another, if no answer came to that one
  const asked = document.mensuraLettersAsked || -Infinity;
  if (!document.mensuraLetters.asked && performance.now() - asked > 5000) {
    document.mensuraLettersAsked = performance.now();
    model.send({ kind: 'letters' });
  }
}

/** Every picture of the page that says of which parts it consists, now and whenever one comes. */
function watchPictures() {
  if (document.mensuraPictures) { return; }
  const arranged = new WeakMap();  // by the place in which a picture stands
  document.mensuraPictures = arranged;
  document.mensuraPaint = {
    render({ model, el }) {
      const gone = new AbortController();
      paintLive(el, model, gone.signal);
      return () => gone.abort();
    },
  };
  function take(img) {
    const place = img.parentElement;
    if (!arranged.has(place)) { arranged.set(place, new Arrangement(place)); }
    arranged.get(place).follow(img);
  }
  function look(node) {
    if (node.nodeType !== Node.ELEMENT_NODE) { return; }
    if (node.matches('img[data-parts]')) { take(node); }
    node.querySelectorAll('img[data-parts]').forEach(take);
  }
  new MutationObserver((changes) => {
    for (const change of changes) { change.addedNodes.forEach(look); }
  }).observe(document.body, { childList: true, subtree: true });
  look(document.body);
}

parts.push(watchPictures);
