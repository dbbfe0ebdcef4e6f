// What is left of JupyterLab's page in a lesson: the panel, over the whole window, and a line above.
//
// Whatever lies round the panel is hidden, not covered, so that neither the Tab key nor a screen reader
// comes to it; of the notebook nothing answers that is none of ours: no editor, no menu, no cell that
// takes the focus. What a lesson is told by stands in a line: its title, what is wrong with the page,
// the place as words, which is the button of the list as well.

const el = (name, className) => {
  const node = document.createElement(name);
  node.className = className;
  return node;
};

export class Dress {
  constructor(lesson) {
    this.lesson = lesson;
    this.panel = lesson.panel;
    this.book = lesson.panel.content.node;
    this.parts = this.line();
    this.leaving = new AbortController();
    this.alone();
    this.quiet();
  }

  /** The line above the screen, and the edges that turn it. */
  line() {
    const { lesson } = this;
    const top = el('div', 'mensura-lesson-top');
    const title = el('h1', 'mensura-lesson-title');
    title.tabIndex = -1;
    const told = el('p', 'mensura-lesson-told');
    told.setAttribute('role', 'status');
    const count = el('button', 'mensura-lesson-count');
    count.type = 'button';
    count.addEventListener('click', () => lesson.over.list());
    top.append(title, told, count);
    const edges = [['back', 'Back'], ['next', 'Next']].map(([way, words]) => {
      const edge = el('button', `mensura-lesson-edge mensura-lesson-${way}`);
      edge.type = 'button';
      edge.setAttribute('aria-label', words);
      edge.addEventListener('click', () => lesson[way]());
      return edge;
    });
    this.panel.node.prepend(top);
    this.panel.node.append(...edges);
    return { top, title, told, count };
  }

  alone() {
    const { node } = this.panel;
    node.dataset.mensuraLesson = '';
    document.body.classList.add('mensura-in-lesson');
    this.way = [];
    for (let one = node.parentElement; one && one !== document.body; one = one.parentElement) {
      one.classList.add('mensura-lesson-way');
      this.way.push(one);
    }
    this.book.setAttribute('role', 'region');
    this.book.setAttribute('aria-label', 'Screen');
    for (const one of this.book.querySelectorAll('[role=feed]')) {
      one.removeAttribute('role'); // a feed of cells it is not
      one.removeAttribute('aria-label');
    }
    this.names = new MutationObserver(() => this.entitle());
    this.names.observe(document.head, { childList: true, subtree: true, characterData: true });
  }

  /** The notebook's own ways are shut: it neither edits, nor opens menus, nor takes the focus. */
  quiet() {
    const { signal } = this.leaving;
    const hear = (kind, deed) => this.book.addEventListener(kind, deed, { signal, capture: true });
    const again = () => this.lesson.again();
    window.addEventListener('resize', again, { signal });
    hear('load', again);
    hear('dblclick', event => event.stopPropagation());
    hear('contextmenu', event => event.stopPropagation());
    hear('click', event => this.follow(event));
    hear('focusin', ({ target }) => {
      const used = target.closest('.mensura-frame') || target.matches('a[href], input, button, select, textarea');
      if (!used) {
        this.parts.title.focus({ preventScroll: true });
      }
    });
    // JupyterLab lets the Tab key come to the cell that it calls active: it is no stop here
    const noStop = () =>
      this.book.querySelectorAll('.jp-Cell[tabindex="0"]').forEach(cell => {
        cell.tabIndex = -1;
      });
    this.stops = new MutationObserver(noStop);
    this.stops.observe(this.book, { attributeFilter: ['tabindex'], subtree: true, childList: true });
    noStop();
  }

  /** A link to somewhere else opens beside the lesson; one that leads nowhere does nothing. */
  follow(event) {
    const link = event.target.closest('a[href]');
    if (!link || link.closest('.mensura-frame')) {
      return;
    }
    event.preventDefault();
    event.stopPropagation();
    if (/^https?:/.test(link.getAttribute('href'))) {
      window.open(link.href, '_blank', 'noopener');
    }
  }

  /** The window's title says where the lesson is, whatever JupyterLab makes of it. */
  entitle(words = this.words) {
    this.words = words;
    if (words && document.title !== words) {
      document.title = words;
    }
  }

  dispose() {
    this.leaving.abort();
    this.names.disconnect();
    this.stops.disconnect();
    this.way.forEach(one => one.classList.remove('mensura-lesson-way'));
    document.body.classList.remove('mensura-in-lesson');
  }
}
