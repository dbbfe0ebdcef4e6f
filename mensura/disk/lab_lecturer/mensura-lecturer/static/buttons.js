// Into the lesson: a quiet button at every section of a page, and in words what became of it.
//
// What a page's sections are the kernel tells, once the page lives; where they stand follows from
// the names that the cells carry, or else from what is written in them. A button stands before a
// heading, and in a cell's own header above whatever it shows. What is wanted goes to the kernel
// through a frame of the page (views/kit/collecting.js), so that a panel goes in as it stands.
const PLAN_PAGE = 'lecturer/lesson.ipynb';
const ASK_AGAIN_MS = 400;
const PLACE_MS = 150;
const PATIENCE_MS = 8000;
const NO_FRAME = 'Not added: this page is not live. Start it, then press again.';
const NO_ANSWER = 'No answer yet. Whether it was added, the plan shows.';

const el = (name, className, text) => {
  const node = document.createElement(name);
  node.className = className;
  if (text !== undefined) {
    node.textContent = text;
  }
  return node;
};

class Sections {
  constructor(app, panel) {
    Object.assign(this, { app, panel, known: null, timer: 0, count: 0, waiting: new Map() });
    const look = () => this.look();
    this.states = new MutationObserver(look);
    this.states.observe(panel.node, { attributeFilter: ['data-mensura-page'] });
    this.changes = new MutationObserver(() => this.soon());
    panel.node.addEventListener('mensura:collected', event => this.told(event.detail));
    panel.context.ready.then(look);
  }

  // a page that lives is asked for its sections until a frame of it has passed that on
  look() {
    const { panel } = this;
    if (panel.isDisposed || panel.node.dataset.mensuraPage !== 'alive' || this.known) {
      return;
    }
    const event = new CustomEvent('mensura:places', { cancelable: true });
    panel.node.dispatchEvent(event);
    clearTimeout(this.again);
    this.again = setTimeout(() => this.look(), event.defaultPrevented ? PATIENCE_MS : ASK_AGAIN_MS);
  }

  told(detail) {
    if (detail.kind === 'places') {
      this.known = detail.places;
      clearTimeout(this.again);
      if (this.known.length) {
        this.place();
        this.changes.observe(this.panel.content.node, { childList: true, subtree: true });
      }
    } else {
      this.answered(detail.token, detail.said, detail.done);
    }
  }

  soon() {
    this.timer = this.timer || setTimeout(() => this.place(), PLACE_MS);
  }

  // ---- where they stand ------------------------------------------------------------------------

  sectionsOf(cell) {
    const names = cell.model.getMetadata('mensura_sections');
    if (Array.isArray(names) && names.length) {
      // a cell of code is one section; a road's further names are those of its lines
      const own = cell.model.type === 'code' ? names.slice(0, 1) : names;
      const found = own.map(name => this.known.find(one => one.name === name));
      return found.every(Boolean) ? found : [];
    }
    const source = cell.model.sharedModel.getSource();
    return this.known.filter(one => one.source === source);
  }

  place() {
    clearTimeout(this.timer);
    this.timer = 0;
    if (this.panel.isDisposed) {
      return;
    }
    for (const cell of this.panel.content.widgets) {
      const sections = this.sectionsOf(cell);
      if (cell.model.type === 'markdown') {
        const heads = [...cell.node.querySelectorAll('.jp-MarkdownOutput :is(h1, h2, h3, h4, h5, h6)')];
        // a text with other headings than it had is nobody's any more
        if (heads.length === sections.length) {
          heads.forEach((head, count) => this.before(head, sections[count]));
        }
      } else if (sections.length === 1) {
        this.above(cell, sections[0]);
      }
    }
  }

  before(head, section) {
    const there = head.previousElementSibling;
    if (!(there && there.classList.contains('mensura-into'))) {
      head.before(this.holder(section, this.panel.node));
    }
  }

  above(cell, section) {
    const header = cell.node.querySelector(':scope > .jp-CellHeader');
    if (header && !header.querySelector('.mensura-into')) {
      header.append(this.holder(section, cell.node));
    }
  }

  // ---- what is pressed -------------------------------------------------------------------------

  holder(section, home) {
    const holder = el('div', 'mensura-into');
    const said = el('span', 'mensura-into-said');
    said.setAttribute('role', 'status');
    holder.append(said);
    const add = (words, line) => {
      const button = el('button', 'mensura-into-button', words);
      button.type = 'button';
      button.setAttribute('aria-label', `${words}: ${section.words}`);
      button.addEventListener('click', () => this.into(section, line, home, said));
      holder.append(button);
    };
    if (section.kind === 'proof') {
      add('this line into the lesson', true);
    }
    add('into the lesson', false);
    // keys pressed here are no commands of the notebook
    holder.addEventListener('keydown', event => {
      if (!(event.ctrlKey || event.metaKey || event.altKey) && !/^F\d+$/.test(event.key)) {
        event.stopPropagation();
      }
    });
    holder.addEventListener('mousedown', event => event.stopPropagation());
    return holder;
  }

  into(section, line, home, said) {
    if ([...this.waiting.values()].includes(said)) {
      return; // a double click is one
    }
    const token = `${(this.count += 1)}`;
    const detail = { section: section.name, line, token };
    const event = new CustomEvent('mensura:into', { cancelable: true, detail });
    const alive = this.panel.node.dataset.mensuraPage === 'alive';
    const living = home === this.panel.node ? null : home.querySelector('.mensura-frame');
    if (alive) {
      (living || this.panel.node).dispatchEvent(event);
    }
    if (!event.defaultPrevented) {
      this.say(said, NO_FRAME);
      return;
    }
    this.waiting.set(token, said);
    said.textContent = '';
    setTimeout(() => this.answered(token, NO_ANSWER, false), PATIENCE_MS);
  }

  answered(token, sentence, done) {
    const said = this.waiting.get(token);
    if (said) {
      this.waiting.delete(token);
      this.say(said, sentence, done);
    }
  }

  say(said, sentence, done = false) {
    said.textContent = sentence;
    said.parentElement.querySelectorAll('.mensura-into-plan').forEach(one => one.remove());
    if (done) {
      const plan = el('button', 'mensura-into-button mensura-into-plan', 'show the plan');
      plan.type = 'button';
      plan.addEventListener('click', () =>
        this.app.commands.execute('docmanager:open', { path: PLAN_PAGE })
      );
      said.after(plan);
    }
  }

  dispose() {
    clearTimeout(this.timer);
    clearTimeout(this.again);
    this.states.disconnect();
    this.changes.disconnect();
  }
}

function style() {
  const link = document.createElement('link');
  link.rel = 'stylesheet';
  link.href = new URL('./buttons.css', import.meta.url).href;
  document.head.append(link);
}

export function of(notebook) {
  return [
    {
      id: 'mensura-lecturer:sections',
      description: 'Puts into the lesson what a lecturer chooses on a page.',
      autoStart: true,
      requires: [notebook.INotebookTracker],
      activate: (app, tracker) => {
        style();
        const meet = panel => {
          const sections = new Sections(app, panel);
          panel.disposed.connect(() => sections.dispose());
        };
        tracker.forEach(meet);
        tracker.widgetAdded.connect((_, panel) => meet(panel));
      },
    },
  ];
}
