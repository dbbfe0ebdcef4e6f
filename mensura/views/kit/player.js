// Recorded panels, played in a page without a kernel and without a network.
//
// A <figure class="mensura-recorded"> holds a still and a block (recording.py, block.py). Here the
// block is opened, and controls, a canvas, the sentence and the readout take the still's place on
// the screen; on paper, and where this cannot run, the still is what is seen. The painter is
// shapes.js, as in a live panel. One control moves at a time, from the start or from a button's
// setting: that is what was recorded, and the page says so each time. Everything is made of elements and texts, nothing of markup.

const RECORDED = 'Recorded: one thing moves at a time, from the start or from what a button sets.';
const LEGIBLE = 0.75;        // of its size: letters of 11 pt are 11 px high then
const LARGEST = 4 / 3;
const SHARE_OF_PAGE = 0.45;  // of what is seen at once, for a part that stays in sight

/** Tells when a dot of the screen is of another size: another zoom, another screen. */
function whenDotsChange(tell) {
  const query = matchMedia(`(resolution: ${window.devicePixelRatio}dppx)`);
  query.addEventListener('change', () => { tell(); whenDotsChange(tell); }, { once: true });
}

function made(name, attributes = {}, ...children) {
  const element = document.createElement(name);
  for (const [key, value] of Object.entries(attributes)) { element.setAttribute(key, value); }
  element.append(...children);
  return element;
}

// ---- the block ------------------------------------------------------------------------------------

/** Numbers as they were before they were made small: see `small` in block.py. */
function asWas(bytes, many) {
  const numbers = new Int16Array(many);
  const half = many / 2;
  for (let way = 0; way < 2; way += 1) {
    let value = 0;
    let step = 0;
    for (let k = 0; k < half; k += 1) {
      const at = way * half + k;
      const folded = bytes[at] | (bytes[many + at] << 8);
      step += (folded >> 1) ^ -(folded & 1);
      value += step;
      numbers[2 * k + way] = value;  // of which 16 bits are kept, as they were
    }
  }
  return new Uint8Array(numbers.buffer);
}

class Block {
  static async open(text) {
    const packed = Uint8Array.from(atob(text.trim()), (one) => one.charCodeAt(0));
    const stream = new Blob([packed]).stream().pipeThrough(new DecompressionStream('deflate'));
    return new Block(new Uint8Array(await new Response(stream).arrayBuffer()));
  }

  constructor(bytes) {
    this.bytes = bytes;
    const length = new DataView(bytes.buffer).getUint32(0, true);
    this.head = JSON.parse(new TextDecoder().decode(bytes.subarray(4, 4 + length)));
    const sizes = this.head.shapes;
    let head = 4 + length;
    let number = head + sizes.reduce((sum, one) => sum + one[0], 0);
    let rest = number + sizes.reduce((sum, one) => sum + 2 * one[1], 0);
    this.places = sizes.map(([long, many, more]) => {
      const place = { head, long, number, many, rest, more };
      head += long;
      number += 2 * many;
      rest += more;
      return place;
    });
  }

  /** A picture, or what changes in one, packed as the painter takes it. */
  shapes(key) {
    const { head, long, number, many, rest, more } = this.places[key];
    const out = new Uint8Array(4 + long + 2 * many + more);
    new DataView(out.buffer).setUint32(0, long, true);
    out.set(this.bytes.subarray(head, head + long), 4);
    out.set(asWas(this.bytes.subarray(number, number + 2 * many), many), 4 + long);
    out.set(this.bytes.subarray(rest, rest + more), 4 + long + 2 * many);
    return out;
  }

  /** The bits of a frame's readout; what differs from the first comes as place and bit. */
  readout(frame) {
    let told = this.head.frames[frame][4];
    if (told[0] === -1) {
      const changes = told;
      told = [...this.head.frames[0][4]];
      for (let k = 1; k < changes.length; k += 2) { told[changes[k]] = changes[k + 1]; }
    }
    return told.map((bit) => this.head.bits[bit]);
  }
}

/** A picture that goes back to its base before it is changed again. */
class Replayed extends Shapes {
  constructor(base) {
    super();
    this.waiting = this.apply(base);
    this.base = new Map(this.artists);
  }

  change(data) {
    this.artists = new Map(this.base);
    if (data) { this.apply(data); }
  }
}

/** Elements of a readout's bits: [name, attributes] opens one, 0 closes it, the rest is text. */
function built(bits) {
  const top = document.createDocumentFragment();
  let at = top;
  for (const bit of bits) {
    if (bit === 0) {
      at = at.parentNode;
    } else if (typeof bit === 'string') {
      at.append(bit);
    } else {
      at = at.appendChild(made(...bit));
    }
  }
  return top;
}

// ---- what moves it --------------------------------------------------------------------------------

/** A row with one control: `show(place)` puts it at one of its places, with the words beside it. */
class Row {
  constructor(mover, id, moved) {
    this.mover = mover;
    this.value = made('span', { class: 'mensura-value' });
    const label = made('label', { for: id }, mover.label);
    this.input = this.handle(id);
    const told = () => moved(this, this.place());
    this.input.addEventListener('input', told);
    const ticked = mover.kind === 'switch';
    this.element = made('div', { class: `mensura-row mensura-${mover.kind}` },
      ...(ticked ? [this.input, label] : [label, this.value, this.input]));
    this.show(mover.start);
  }

  handle(id) {
    const { kind, texts, label } = this.mover;
    if (kind === 'switch') { return made('input', { type: 'checkbox', id }); }
    if (kind === 'choice') {
      this.value.hidden = true;
      return made('select', { id }, ...texts.map((text, k) => made('option', { value: k }, text)));
    }
    if (kind === 'steps') { this.mover.label = label[0].toUpperCase() + label.slice(1); }
    return made('input', { type: 'range', id, min: 0, max: texts.length - 1, step: 1 });
  }

  place() {
    if (this.mover.kind !== 'switch') { return Number(this.input.value); }
    return this.mover.values.indexOf(this.input.checked);
  }

  show(place, text = this.mover.texts[place]) {
    if (this.mover.kind === 'switch') {
      this.input.checked = this.mover.values[place];
    } else {
      this.input.value = place;
    }
    this.value.textContent = text;
    this.at = place;
    if (this.input.type === 'range') {
      this.input.setAttribute('aria-valuetext', text);
      this.input.style.setProperty('--at', place / (this.mover.texts.length - 1));
    }
  }
}

// ---- the figure -----------------------------------------------------------------------------------

class Player {
  constructor(figure, id, block) {
    this.figure = figure;
    this.id = id;
    this.block = block;
    this.pictures = new Map();
    this.asked = false;
    this.chosen = '';
    this.from = null;  // the preset from which one control moves, or the start
    this.away = null;  // the control that has moved
    this.build();
    this.show(0);
    figure.classList.add('mensura-plays');
    new ResizeObserver(() => this.paintSoon()).observe(this.seen);
    addEventListener('resize', () => this.paintSoon());
    document.fonts.addEventListener('loadingdone', () => this.paintSoon());
    whenInksChange(() => this.paintSoon());
    whenDotsChange(() => this.paintSoon());
  }

  build() {
    const { title, movers, presets } = this.block.head;
    this.picture = made('div', { class: 'mensura-canvas', role: 'img' });
    this.names = made('div', { class: 'mensura-part-names', role: 'group', 'aria-label': 'Part of the picture' });
    this.said = made('p', { class: 'mensura-status' });
    this.note = made('p', { class: 'mensura-note' });
    this.seen = made('div', { class: 'mensura-seen' }, this.names, this.picture,
      made('div', { role: 'status' }, this.said, this.note));
    this.rows = movers.map((mover, k) => new Row(mover, `${this.id}-${k}`, (row, place) => this.moved(row, place)));
    const groups = new Map();
    for (const row of this.rows) {
      const { group } = row.mover;
      if (!groups.has(group)) {
        groups.set(group, made('fieldset', {}, ...(group ? [made('legend', {}, group)] : [])));
      }
      groups.get(group).append(row.element);
    }
    const buttons = presets.map((preset) => this.button(preset.name, () => this.preset(preset)));
    this.back = this.button('As at the start', () => this.preset(null));
    const controls = made('div', { class: 'mensura-controls', role: 'group', 'aria-label': `Controls: ${title}` },
      ...groups.values(), made('div', { class: 'mensura-buttons' }, ...buttons, this.back));
    this.readout = made('div', { class: 'mensura-readout' });
    this.player = made('div', { class: 'mensura-player' },
      made('p', { class: 'mensura-is-recorded' }, RECORDED),
      made('div', { class: 'mensura-playing' }, this.seen, controls), this.readout);
    this.figure.append(this.player);
  }

  button(name, pressed) {
    const button = made('button', { type: 'button' }, name);
    button.addEventListener('click', pressed);
    return button;
  }

  // ---- the answer to a change ---------------------------------------------------------------------

  moved(row, wanted) {
    let note = '';
    if (this.from && !(row.mover.name in this.from.around)) {
      this.from = null;  // round this setting nothing was recorded
      this.home(row);
      note = this.backAs();
    } else if (this.away && this.away !== row) {
      this.home(row);
      note = this.backAs();
    }
    const [place, frame, text] = this.where(row, wanted);
    row.show(place, text);
    this.away = place === this.homeOf(row)[0] ? null : row;
    this.show(frame, note);
    const { part } = row.mover;
    // who has picked a part keeps it
    if (part && this.by !== row && !this.picked) { this.chosen = part; }
    this.by = row;
  }

  /** Where a control stands with nothing moved: its place, and the words beside it. */
  homeOf({ mover: { name, start, texts } }) {
    const { near = {}, at = {} } = this.from || {};
    return name in near ? [near[name], at[name]] : [start, texts[start]];
  }

  /** All controls go where nothing is moved, but the one that moves. */
  home(but = null) {
    for (const row of this.rows) {
      if (row !== but) { row.show(...this.homeOf(row)); }
    }
    this.away = null;
  }

  backAs() {
    const as = this.from ? `as “${this.from.name}” has them` : 'as at the start';
    return `The others are back ${as}: here one thing moves at a time.`;
  }

  /** The place that was recorded for the one wanted, its frame, and the words beside it. */
  where(row, wanted) {
    const { name, frames, texts } = row.mover;
    if (!this.from) { return [wanted, frames[wanted], texts[wanted]]; }
    const there = this.from.around[name];
    const step = wanted - row.at;
    // an arrow key goes to the next one in its direction
    const ahead = Math.abs(step) === 1 ? there.filter(([place]) => (place - row.at) * step > 0) : [];
    const far = ([place]) => Math.abs(place - wanted);
    const [place, frame] = (ahead.length ? ahead : there)
      .reduce((best, one) => (far(one) < far(best) ? one : best));
    const [home, text] = this.homeOf(row);
    return [place, frame, place === home ? text : texts[place]];
  }

  /** What a button sets, or the start. */
  preset(one) {
    this.from = one;
    this.home();
    this.show(one ? one.frame : 0);
  }

  show(frame, note = '') {
    const { frames, strings } = this.block.head;
    const [picture, , alt, status] = frames[frame];
    this.frame = frame;
    this.picture.setAttribute('aria-label', strings[alt]);
    this.said.textContent = strings[status];
    this.note.textContent = note;
    this.readout.replaceChildren(built(this.block.readout(frame)));
    if (picture !== this.present) { this.turnTo(picture); }
    this.paintSoon();
  }

  /** Another picture: its shapes are opened when it is first seen. */
  turnTo(picture) {
    const { base, parts } = this.block.head.pictures[picture];
    if (!this.pictures.has(picture)) {
      const shapes = new Replayed(this.block.shapes(base));
      shapes.waiting?.then(() => this.paintSoon());
      this.pictures.set(picture, shapes);
    }
    this.present = picture;
    this.parts = parts;
    const names = parts.length > 1 ? [...parts.map((part) => part.name), 'all'] : [];
    if (!names.includes(this.chosen)) { this.chosen = names[0] || ''; }
    this.names.replaceChildren(...names.map((name) => this.button(name, () => {
      this.chosen = name;
      this.picked = true;
      this.paintSoon();
    })));
  }

  // ---- on the screen ------------------------------------------------------------------------------

  /** In the next frame, once, whatever is newest then. */
  paintSoon() {
    if (this.asked) { return; }
    this.asked = true;
    requestAnimationFrame(() => { this.asked = false; this.paint(); });
  }

  /** Which boxes are seen, and how large: the whole where there is room, else a part or all parts. */
  plan(size) {
    const room = this.seen.clientWidth;
    const parted = this.parts.length > 1 && room < LEGIBLE * size[0];
    this.names.hidden = !parted;
    for (const button of this.names.children) {
      button.setAttribute('aria-pressed', String(button.textContent === this.chosen));
    }
    const one = this.parts.find((part) => part.name === this.chosen);
    this.seen.classList.toggle('mensura-in-sight', !parted || Boolean(one));
    if (!parted) { return [[[0, 0, ...size], Math.min(LARGEST, room / size[0])]]; }
    const each = new Map(this.parts.flatMap((part) => part.boxes).map((box) => [`${box}`, box]));
    const boxes = one ? one.boxes : [...each.values()];
    const wide = Math.max(...boxes.map((box) => box[2]));
    const high = boxes.reduce((sum, box) => sum + box[3], 0);
    const low = one ? Math.max(LEGIBLE, (SHARE_OF_PAGE * innerHeight) / high) : 1;
    return boxes.map((box) => [box, Math.min(1, room / wide, low)]);
  }

  paint() {
    const shapes = this.pictures.get(this.present);
    const change = this.block.head.frames[this.frame][1];
    if (this.shown !== this.frame) {
      shapes.change(change < 0 ? null : this.block.shapes(change));
      this.shown = this.frame;
    }
    if (!this.seen.clientWidth) { return; }  // on paper, or folded away
    const boxes = this.plan(this.block.head.pictures[this.present].size);
    while (this.picture.children.length > boxes.length) { this.picture.lastChild.remove(); }
    while (this.picture.children.length < boxes.length) { this.picture.append(made('canvas')); }
    const inks = inksOf(this.picture);
    const dots = Math.max(1, window.devicePixelRatio);
    boxes.forEach(([box, scale], k) => {
      const canvas = this.picture.children[k];
      const [wide, high] = [Math.round(box[2] * scale * dots), Math.round(box[3] * scale * dots)];
      if (canvas.width !== wide || canvas.height !== high) {
        canvas.width = wide;
        canvas.height = high;
        canvas.style.width = `${wide / dots}px`;
        canvas.style.height = `${high / dots}px`;
      }
      shapes.paint(canvas.getContext('2d', { alpha: false }), box, scale * dots, inks);
    });
    this.picture.dataset.frame = this.frame;
  }
}

/** Every recording of the page, one after the other; what cannot be played stays a still. */
async function playAll() {
  if (!('DecompressionStream' in window)) { return; }
  const blocks = document.querySelectorAll('.mensura-recorded > script[type="application/octet-stream;base64"]');
  for (const script of blocks) {
    const figure = script.parentElement;
    if (figure.mensuraPlayer) { continue; }
    try {
      figure.mensuraPlayer = new Player(figure, script.id, await Block.open(script.textContent));
    } catch (error) {
      console.error('A recording could not be opened; its still is shown.', error);
    }
  }
}

playAll();
