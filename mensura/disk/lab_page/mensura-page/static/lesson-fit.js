// What stands on a screen, and how large: nothing scrolls and nothing is cut.
//
// A step of words is cut into as many screens as it needs: its paragraphs, formulas, lists and tables
// are packed in their order, a list is cut between its items, a table between its rows (its head comes
// again), a paragraph that fills more than a screen between its sentences; a picture has a screen to
// itself. What lives is enlarged by one factor, and arranges itself in the room it has. Sizes are set
// by CSS zoom on the one box that everything stands in: sliders, canvases and container queries
// follow it (measured), and what the page's layouts were made for stays true inside.
const LEAST = 1.6; // words of 15 px are 24 px high then
const WORDS = 2;
const LARGER = 1.25;
const SMALLER = [0.9, 0.8];
const LETTERS_PX = (11 * 96) / 72; // 11 pt in a picture of the workbooks, at its own width

const off = 'mensura-off';
const on = 'mensura-on';

/** How large this window is against the smallest wide one that lessons are made for. */
export function scaleOf(width, height) {
  return Math.min(width / 1280, height / 720);
}

export class Fit {
  constructor(lesson) {
    this.lesson = lesson;
    this.panel = lesson.panel;
  }

  get box() {
    return this.panel.content.node.querySelector('.jp-WindowedPanel-outer') || this.panel.content.node;
  }

  zoom(factor) {
    this.box.style.zoom = factor;
  }

  /** Shows one part of a step and returns how many it has. */
  lay(step, part) {
    const { node } = this.panel;
    const scale = scaleOf(window.innerWidth, window.innerHeight);
    node.style.setProperty('--mensura-type', `${Math.max(24, 24 * scale)}px`);
    const cells = this.lesson.cellsOf(step);
    for (const cell of this.panel.content.widgets) {
      cell.node.classList.toggle(on, cells.includes(cell));
    }
    if (this.lesson.lives(step)) {
      node.dataset.mensuraShows = 'life';
      node.style.setProperty('--mensura-factor', String(LEAST * Math.max(1, scale)));
      this.zoom(LEAST * Math.max(1, scale));
      return 1;
    }
    const atoms = cells.flatMap(cell => this.atomsOf(cell));
    this.size = Math.max(LEAST, WORDS * scale);
    const parts = this.cut(atoms);
    if (!parts.length) {
      return 1;
    }
    this.put(atoms, parts, Math.min(part, parts.length - 1));
    return parts.length;
  }

  // ---- what there is ---------------------------------------------------------------------------

  /** The pieces of a cell that may stand on a screen of their own. */
  atomsOf(cell) {
    const roots = cell.node.querySelectorAll('.jp-MarkdownOutput, .jp-OutputArea-output');
    return [...roots].flatMap(root => {
      if (root.matches('.jp-OutputArea-output')) {
        return [this.atom(root, cell)];
      }
      return [...root.children].filter(one => !one.matches('style, script')).map(one => this.atom(one, cell));
    });
  }

  atom(el, cell) {
    const picture = el.matches('img') ? el : el.querySelector('img');
    const words = el.textContent.trim();
    if (picture && !words) {
      const { boxes, alt } = cell.model.getMetadata('mensura_lesson') || {};
      if (typeof alt === 'string' && picture.alt !== alt) {
        picture.alt = alt; // the lecturer's own words for his picture
      }
      return { el, cell, kind: 'picture', picture, boxes: Array.isArray(boxes) ? boxes : [] };
    }
    const list = el.matches('ul, ol') ? el : el.querySelector(':scope > ul, :scope > ol');
    const table = el.matches('table') ? el : el.querySelector(':scope > table');
    if (table) {
      return { el, cell, kind: 'table', items: [...table.querySelectorAll('tbody > tr')], head: table.tHead };
    }
    if (list) {
      return { el, cell, kind: 'list', list, items: [...list.children] };
    }
    return { el, cell, kind: /^H\d$/.test(el.tagName) ? 'heading' : 'block' };
  }

  all(atoms) {
    for (const atom of atoms) {
      atom.el.classList.remove(off, 'mensura-alone');
      atom.cell.node.classList.remove(off);
      atom.el.style.zoom = '';
      (atom.items || []).forEach(item => item.classList.remove(off));
    }
  }

  // ---- cutting ---------------------------------------------------------------------------------

  /** The parts of a step: lists of pieces {atom, item}. */
  cut(atoms) {
    const { node } = this.panel;
    this.all(atoms);
    node.dataset.mensuraShows = 'words';
    const at = size => {
      this.zoom(size);
      const room = this.box.getBoundingClientRect();
      return this.pack(this.pieces(atoms), room.height - 2);
    };
    let size = this.size;
    let parts = at(size);
    if (parts.length > 1) {
      for (const share of SMALLER) {
        const smaller = Math.max(LEAST, this.size * share);
        if (smaller < size && at(smaller).length === 1) {
          size = smaller;
          break;
        }
      }
    } else if (!atoms.some(atom => atom.kind === 'table') && this.high(atoms, size * LARGER) < 0.75) {
      size *= LARGER;
    }
    parts = at(size);
    this.chosen = size;
    return parts;
  }

  /** The share of the room that all pieces take up at a size. */
  high(atoms, size) {
    this.zoom(size);
    const rects = atoms.map(atom => atom.el.getBoundingClientRect());
    const room = this.box.getBoundingClientRect().height;
    return rects.length ? (rects[rects.length - 1].bottom - rects[0].top) / room : 1;
  }

  pieces(atoms) {
    return atoms.flatMap(atom => {
      const parts = atom.items && atom.items.length ? atom.items : [null];
      const head = atom.head ? atom.head.getBoundingClientRect().height : 0;
      return parts.map((item, place) => {
        const { top, bottom } = (item || atom.el).getBoundingClientRect();
        const first = place === 0 ? atom.el.getBoundingClientRect().top : top;
        const last = place === parts.length - 1 ? atom.el.getBoundingClientRect().bottom : bottom;
        return { atom, item, place, top: first, bottom: last, head: place ? head : 0 };
      });
    });
  }

  pack(pieces, room) {
    const parts = [];
    let part = [];
    const close = () => {
      if (part.length) {
        parts.push(part);
      }
      part = [];
    };
    for (const piece of pieces) {
      if (piece.atom.kind === 'picture') {
        close();
        parts.push(...this.boxesOf(piece.atom).map(box => [{ ...piece, box }]));
        continue;
      }
      const first = part[0];
      if (first && piece.bottom - first.top + first.head > room) {
        // what leads up to something stands with it
        let back = part.length;
        while (back > 1 && this.leads(part[back - 1], piece)) {
          back -= 1;
        }
        const along = back > 0 && back < part.length && !this.leads(part[0], part[1]) ? part.splice(back) : [];
        close();
        part = along;
      }
      part.push(piece);
    }
    close();
    return parts;
  }

  /** Whether a piece says what comes next: a heading, or words that end in a colon. */
  leads(piece, next) {
    const { kind, el } = piece.atom;
    if (piece.atom === next.atom) {
      return false;
    }
    return kind === 'heading' || (kind === 'block' && /:\s*$/.test(el.textContent));
  }

  // ---- putting a part on the screen --------------------------------------------------------------

  put(atoms, parts, place) {
    for (let turn = 0; turn < 40; turn += 1) {
      this.only(atoms, parts[place]);
      const [first] = parts[place];
      if (first.atom.kind === 'picture') {
        return this.picture(first);
      }
      this.panel.node.dataset.mensuraShows = 'words';
      this.zoom(this.chosen);
      this.narrow(parts[place]);
      const { box } = this;
      if (box.scrollHeight <= box.clientHeight + 1) {
        return undefined;
      }
      if (parts[place].length > 1) {
        const last = parts[place].pop();
        if (parts[place + 1] && parts[place + 1][0].atom.kind !== 'picture') {
          parts[place + 1].unshift(last);
        } else {
          parts.splice(place + 1, 0, [last]);
        }
      } else if (!this.shrunk(first.atom)) {
        return undefined;
      }
    }
    return undefined;
  }

  only(atoms, part) {
    const shown = new Set(part.map(piece => piece.atom));
    const cells = new Set(part.map(piece => piece.atom.cell));
    for (const atom of atoms) {
      atom.el.classList.toggle(off, !shown.has(atom));
      atom.cell.node.classList.toggle(off, !cells.has(atom.cell));
      const items = new Set(part.filter(piece => piece.atom === atom).map(piece => piece.item));
      const start = Number((atom.list && atom.list.getAttribute('start')) || 1);
      (atom.items || []).forEach((item, count) => {
        item.classList.toggle(off, !items.has(item));
        if (atom.list && atom.list.matches('ol')) {
          item.value = start + count; // what is hidden does not count by itself
        }
      });
    }
  }

  /** What is wider than the screen becomes a little smaller, and words never below 24 px. */
  narrow(part) {
    for (const { atom } of part) {
      atom.el.style.zoom = '';
      const [has, needs] = [this.box.clientWidth, this.widthOf(atom)];
      if (needs > has) {
        const own = atom.kind === 'table' ? LEAST : (LEAST * 15) / 16; // a table's letters are 15 px
        atom.el.style.zoom = Math.max(own / this.chosen, (has / needs) * 0.995);
      }
    }
  }

  /** How wide a piece wants to be, in the box's own pixels. */
  widthOf(atom) {
    const formulas = [...atom.el.querySelectorAll('mjx-math')].map(one => one.getBoundingClientRect().width);
    return Math.max(atom.el.scrollWidth, ...formulas.map(width => width / this.chosen));
  }

  /** One piece that does not fit alone: smaller, or a long paragraph in its sentences. */
  shrunk(atom) {
    if (this.chosen > LEAST) {
      this.chosen = Math.max(LEAST, this.chosen * 0.9);
      return true;
    }
    return atom.el.matches('p') && halved(atom.el);
  }

  // ---- pictures ----------------------------------------------------------------------------------

  /** A picture's own width and height. */
  sizeOf({ picture }) {
    const told = name => Number(picture.getAttribute(name));
    return [told('width') || picture.naturalWidth || 4, told('height') || picture.naturalHeight || 3];
  }

  /** The room for a picture: the whole width, and what is below the line above the screen. */
  roomOf() {
    const { top } = this.panel.content.node.getBoundingClientRect();
    return [window.innerWidth, window.innerHeight - top - 6];
  }

  /** The boxes of a picture that are shown one by one: itself, or, where its letters would be too
   *  small to be read from afar, its parts, as many together as stay legible. */
  boxesOf(atom) {
    const [wide, high] = this.sizeOf(atom);
    const [width, height] = this.roomOf();
    const scale = scaleOf(window.innerWidth, window.innerHeight);
    const needs = (Math.max(13, 16 * scale) / LETTERS_PX) * 0.995;
    const fits = ([, , w, h]) => Math.min(width / w, height / h) >= needs;
    const whole = [0, 0, wide, high];
    if (fits(whole) || atom.boxes.length < 2) {
      return [whole];
    }
    const found = [];
    for (const box of atom.boxes) {
      const last = found[found.length - 1];
      const both = last && union(last.box, box);
      const filled = both && (last.area + box[2] * box[3]) / (both[2] * both[3]);
      if (both && filled > 0.97 && filled < 1.03 && fits(both)) {
        Object.assign(last, { box: both, area: last.area + box[2] * box[3] });
      } else {
        found.push({ box, area: box[2] * box[3] });
      }
    }
    return found.map(one => one.box);
  }

  /** A box of a picture as large as the screen lets it; what lies round it is cut away. */
  picture({ atom, box }) {
    const { picture } = atom;
    this.panel.node.dataset.mensuraShows = 'picture';
    this.zoom(1);
    const [wide, high] = this.sizeOf(atom);
    const [width, height] = this.roomOf();
    const [x, y, w, h] = box;
    const scale = Math.min(width / w, height / h);
    const px = value => `${Math.round(value * scale * 100) / 100}px`;
    const rest = [wide - x - w, high - y - h];
    picture.classList.add('mensura-large');
    picture.style.setProperty('--mensura-width', px(wide));
    picture.style.clipPath = `inset(${px(y)} ${px(rest[0])} ${px(rest[1])} ${px(x)})`;
    picture.style.margin = `-${px(y)} 0 -${px(rest[1])} ${px((width / scale - w) / 2 - x)}`;
  }
}

function union(a, b) {
  const [x, y] = [Math.min(a[0], b[0]), Math.min(a[1], b[1])];
  return [x, y, Math.max(a[0] + a[2], b[0] + b[2]) - x, Math.max(a[1] + a[3], b[1] + b[3]) - y];
}

/** A paragraph in two, between two sentences near its middle; the page lays itself out again. */
function halved(p) {
  const whole = p.textContent.length;
  const walker = document.createTreeWalker(p, NodeFilter.SHOW_TEXT);
  let before = 0;
  let best = null;
  for (let node = walker.nextNode(); node; node = walker.nextNode()) {
    if (node.parentNode === p) {
      for (const found of node.data.matchAll(/[.!?:;]\s+/g)) {
        const end = found.index + found[0].length;
        const off_ = Math.abs(before + end - whole / 2);
        if (!best || off_ < best.off_) {
          best = { node, end, off_ };
        }
      }
    }
    before += node.data.length;
  }
  if (!best || best.off_ > whole * 0.45) {
    return false;
  }
  const range = document.createRange();
  range.setStart(best.node, best.end);
  range.setEndAfter(p.lastChild);
  const rest = document.createElement('p');
  rest.append(range.extractContents());
  p.after(rest);
  return true;
}
