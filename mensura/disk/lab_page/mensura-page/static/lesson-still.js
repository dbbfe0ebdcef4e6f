// What stands where a panel was, or will be: a still picture, until the panel lives.
//
// Before a page has run it is the picture that the workbook has stored, or a question's words. When
// a kernel was lost it is what was last seen, frozen: each frame's own elements and the dots of its
// canvases, out of reach. It goes when the new frame has come, and stays where a cell raised an error.

const COPY = 'mensura-stand-in';
const WAITS = 'mensura-waits';

/** The frames of a cell that live, or did. */
export function framesOf(cell) {
  const all = [...cell.node.querySelectorAll('.mensura-frame')];
  return all.filter(frame => !frame.closest(`.${COPY}`));
}

/** An element with all in it, as it looks now, that nothing can be done with. */
function frozen(node) {
  const copy = node.cloneNode(true);
  for (const one of copy.querySelectorAll('[id], [for], [name], [data-keys]')) {
    ['id', 'for', 'name', 'data-keys'].forEach(name => one.removeAttribute(name));
  }
  const canvases = node.querySelectorAll('canvas');
  copy.querySelectorAll('canvas').forEach((canvas, place) => {
    if (canvases[place].width && canvases[place].height) {
      canvas.getContext('2d').drawImage(canvases[place], 0, 0);
    }
  });
  return copy;
}

export class Stills {
  constructor(lesson) {
    this.lesson = lesson;
  }

  cells() {
    const { lesson } = this;
    return lesson.steps.flatMap((_, step) => (lesson.lives(step) ? lesson.cellsOf(step) : []));
  }

  /** Each cell that lives gets its still: what is seen of it, or else what was stored. */
  all() {
    for (const cell of this.cells()) {
      this.put(cell);
    }
  }

  put(cell) {
    const area = cell.outputArea && cell.outputArea.node;
    if (!area || cell.node.querySelector(`.${COPY}`)) {
      return;
    }
    const copy = framesOf(cell).length ? frozen(area) : this.stored(cell) || (area.childElementCount ? frozen(area) : null);
    if (!copy) {
      return;
    }
    copy.classList.add(COPY);
    copy.inert = true;
    area.after(copy);
    cell.node.classList.add(WAITS);
  }

  stored(cell) {
    const { still } = cell.model.getMetadata('mensura_lesson') || {};
    if (!still) {
      return null;
    }
    const node = document.createElement('div');
    if (/^still-[0-9a-f]+\.png$/.test(still.picture || '')) {
      const image = document.createElement('img');
      image.src = `${this.lesson.page.base}files/${this.lesson.page.path.replace(/[^/]*$/, '')}${still.picture}`;
      image.alt = still.words || '';
      node.append(image);
    } else {
      for (const line of String(still.words || '').split('\n')) {
        const p = document.createElement('p');
        p.textContent = line;
        node.append(p);
      }
    }
    return node;
  }

  /** Stills go where the panel has come. */
  settle() {
    for (const copy of this.lesson.panel.content.node.querySelectorAll(`.${COPY}`)) {
      const cell = this.cells().find(one => one.node.contains(copy));
      if (!cell || this.lives(cell)) {
        requestAnimationFrame(() => {
          copy.remove();
          if (cell) {
            cell.node.classList.remove(WAITS);
          }
        });
      }
    }
  }

  lives(cell) {
    const frames = framesOf(cell);
    if (frames.length) {
      return frames.every(frame => frame.dataset.keys);
    }
    const { page } = this.lesson;
    const shows = cell.model.outputs.toJSON().some(one => one.output_type !== 'error');
    return page.state === 'alive' && shows;
  }
}
