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
      if (!picture.alt) {
        picture.alt = (cell.model.getMetadata('mensura_lesson') || {}).alt || '';
      }
      return { el, cell, kind: 'picture', picture };
    }
    const table = el.matches('table') ? el : el.querySelector(':scope > table');
    if (table) {
      return { el, cell, kind: 'table', items: [...table.querySelectorAll('tbody > tr')], head: table.tHead };
    }
    if (el.matches('ul, ol')) {
      return { el, cell, kind: 'list', items: [...el.children] };
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
        parts.push([piece]);
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
        return this.picture(first.atom);
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
      const start = Number(atom.el.getAttribute('start') || 1);
      (atom.items || []).forEach((item, count) => {
        item.classList.toggle(off, !items.has(item));
        if (atom.el.matches('ol')) {
          item.value = start + count; // what is hidden does not count by itself
        }
      });
    }
  }

  /** What is wider than the screen becomes a little smaller, and words never below 24 px. */
  narrow(part) {
    for (const { atom } of part) {
      const wide = atom.kind === 'table' ? atom.el : atom.el.querySelector('mjx-container[display="true"]');
      if (!wide) {
        continue;
      }
      wide.style.zoom = '';
      const inner = atom.kind === 'table' ? atom.el.querySelector('table') || atom.el : wide.firstElementChild;
      const needs = inner ? inner.getBoundingClientRect().width : 0;
      const has = this.box.getBoundingClientRect().width - 4;
      if (needs > has) {
        wide.style.zoom = Math.max(LEAST / this.chosen, (has / needs) * 0.99);
      }
    }
  }

  /** One piece that does not fit alone: smaller, or a long paragraph in its sentences. */
  shrunk(atom) {
    if (this.chosen > LEAST) {
      this.chosen = Math.max(LEAST, this.chosen * 0.9);
      return true;
    }
    return atom.el.matches('p') && halved(atom.el);
  }

  picture(atom) {
    const { node } = this.panel;
    node.dataset.mensuraShows = 'picture';
    this.zoom(1);
    const { picture } = atom;
    const wide = picture.naturalWidth || Number(picture.getAttribute('width')) || 4;
    const high = picture.naturalHeight || Number(picture.getAttribute('height')) || 3;
    const room = this.box.getBoundingClientRect();
    const width = Math.floor(Math.min(room.width, (room.height * wide) / high));
    picture.style.setProperty('--mensura-width', `${width}px`);
    picture.classList.add('mensura-large');
  }
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
