// The bar above a page: the state it is in, in words, and what can be done about it.
const el = (name, className, text) => {
  const node = document.createElement(name);
  node.className = className;
  if (text !== undefined) {
    node.textContent = text;
  }
  return node;
};

export class Bar {
  constructor(lab, page) {
    this.page = page;
    this.asking = null; // 'afresh' or 'code': what the bar asks at the moment
    this.typed = '';
    this.seat = { student: undefined, note: '' };
    this.node = el('div', 'mensura-bar');
    this.node.setAttribute('role', 'region');
    this.node.setAttribute('aria-label', 'This page');
    this.words = el('span', 'mensura-bar-state');
    this.words.setAttribute('role', 'status');
    this.notes = el('span', 'mensura-bar-notes');
    this.notes.setAttribute('role', 'status');
    this.acts = el('span', 'mensura-bar-acts');
    this.node.append(this.words, this.notes, this.acts);
    this.widget = new lab.widgets.Widget();
    this.widget.addClass('mensura-bar-holder');
    this.widget.node.append(this.node);
    page.panel.contentHeader.addWidget(this.widget);
    // the header gives a widget the height that it says it needs
    this.sizes = new ResizeObserver(() => this.fit());
    this.sizes.observe(this.node);
    // keys pressed here are no commands of the notebook
    this.node.addEventListener('keydown', event => this.key(event));
  }

  fit() {
    const high = `${Math.ceil(this.node.getBoundingClientRect().height)}px`;
    if (this.widget.node.style.minHeight !== high) {
      this.widget.node.style.minHeight = high;
      this.widget.node.style.maxHeight = high;
      for (let one = this.widget.parent; one && one !== this.page.panel.parent; one = one.parent) {
        one.fit();
      }
    }
  }

  key(event) {
    if (event.key === 'Escape' && this.asking) {
      this.ask(null);
    }
    if (!(event.ctrlKey || event.metaKey || event.altKey)) {
      event.stopPropagation();
    }
  }

  ask(what) {
    const from = this.asking;
    this.asking = what;
    this.show();
    const next = what ? this.acts.querySelector('[data-does=box], [data-does=no]') : this.acts.querySelector(`[data-does=${from}]`);
    if (next) {
      next.focus();
    }
  }

  // writes the bar anew; what has the focus keeps it
  show() {
    const { state, why, notes } = this.page;
    const held = this.acts.contains(document.activeElement) ? document.activeElement.dataset.does : null;
    this.node.dataset.state = state;
    if (this.words.textContent !== why) {
      this.words.textContent = why;
    }
    const told = notes.join(' ');
    if (this.notes.textContent !== told) {
      this.notes.textContent = told;
    }
    this.acts.replaceChildren(...this.offered());
    const again = held && this.acts.querySelector(`[data-does=${held}]`);
    if (again) {
      again.focus();
    }
    this.fit();
  }

  button(does, text, act, title) {
    const node = el('button', 'mensura-bar-button', text);
    node.type = 'button';
    node.dataset.does = does;
    if (title) {
      node.title = title;
    }
    node.addEventListener('click', act);
    return node;
  }

  // what can be done, in the order of the Tab key
  *offered() {
    const page = this.page;
    if (this.asking === 'afresh' && page.state === 'alive') {
      yield el('span', 'mensura-bar-question', 'Everything on this page goes back to its start. What counts in chapter 08 stays.');
      yield this.button('yes', 'Yes, start afresh', () => {
        this.asking = null;
        page.afresh();
      });
      yield this.button('no', 'No', () => this.ask(null));
      return;
    }
    if (page.stoppable) {
      yield this.button('stop', 'Stop that cell', () => page.interrupt());
    }
    if (page.state === 'asleep') {
      yield this.button('start', 'Start this page', () => page.start());
    } else if (page.fresh) {
      yield this.button('fresh', `Open ${page.fresh}`, () => page.openFresh());
    } else if (page.state === 'gone' && !page.broken) {
      yield this.button('start', 'Start again', () => page.start());
    }
    yield* this.code();
    if (page.state === 'alive') {
      yield this.button('afresh', 'Start afresh', () => this.ask('afresh'), 'Everything on this page back to its start');
    }
    const hidden = page.kit.room.hidden;
    const label = hidden ? 'F9: bars back' : 'F9: more room';
    yield this.button('room', label, () => page.kit.room.toggle(), hidden ? 'Show the bars of JupyterLab again' : 'Hide the bars of JupyterLab');
  }

  // the student's own code: known, or asked for once
  *code() {
    const { student, note } = this.seat;
    if (student === undefined || this.page.state !== 'alive') {
      return; // nothing on this page goes by a code
    }
    if (student && this.asking !== 'code') {
      yield this.button('code', `Student code ${student} · change`, () => this.ask('code'), 'Another student sits here');
      return;
    }
    const form = el('form', 'mensura-bar-form');
    const label = el('label', 'mensura-bar-code', 'Your student code ');
    const box = el('input', 'mensura-bar-box');
    box.dataset.does = 'box';
    box.size = 6;
    box.maxLength = 40;
    box.autocomplete = 'off';
    box.value = this.typed;
    box.addEventListener('input', () => {
      this.typed = box.value;
    });
    label.append(box);
    const keep = this.button('keep', 'Keep', () => {});
    keep.type = 'submit';
    form.append(label, keep);
    if (this.asking === 'code') {
      form.append(this.button('no', 'Leave it', () => this.ask(null)));
    }
    form.addEventListener('submit', event => {
      event.preventDefault();
      this.page.say('mensura:code', { code: box.value });
    });
    yield form;
    const why = "In chapter 08 your problems' numbers hang on it, and your answers count under it.";
    form.title = why;
    yield el('span', note ? 'mensura-bar-why' : 'mensura-bar-why mensura-bar-aside', note || why);
  }

  seated({ student, note }) {
    const taken = student && student !== this.seat.student;
    this.seat = { student: student || '', note: note || '' };
    if (taken) {
      this.typed = '';
      this.asking = this.asking === 'code' ? null : this.asking;
    }
    this.show();
  }

  dispose() {
    this.sizes.disconnect();
    this.widget.dispose();
  }
}
