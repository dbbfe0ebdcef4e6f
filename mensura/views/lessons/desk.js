// The lecturer's desk on the page: the plan as a table, whose rows stay the same while they move.
//
// The kernel says all that is shown (`shown`); every row has a key of its own, by which a change is
// asked for, so that quick presses one after the other mean the step and not its place. One is asked
// for at a time; the next waits for the answer. What has the focus keeps it, and what is being typed
// is not written over.

const PATIENCE_MS = 4000;

const el = (name, className, text) => {
  const node = document.createElement(name);
  if (className) { node.className = className; }
  if (text !== undefined) { node.textContent = text; }
  return node;
};

function put(node, text) {
  if (node.textContent !== text) { node.textContent = text; }
}

let boxes = 0;

/** A box with a label that is heard only; what is typed is asked for once it is done. */
function labelled(box, words) {
  const label = el('label', 'mensura-heard', words);
  boxes += 1;
  box.id = `mensura-plan-box-${boxes}`;
  label.htmlFor = box.id;
  return label;
}

/** Fills a box, unless something else is being typed there. */
function fill(box, text) {
  const typing = document.activeElement === box && box.value !== box.dataset.known;
  const refused = box.getAttribute('aria-invalid') === 'true' && box.dataset.known === text;
  if (!typing && !refused && box.value !== text) { box.value = text; }
  if (box.dataset.known !== text) { box.removeAttribute('aria-invalid'); }
  box.dataset.known = text;
}

class Row {
  constructor(desk, key) {
    Object.assign(this, { desk, key });
    this.node = el('tr');
    this.place = el('th', 'mensura-plan-place');
    this.place.scope = 'row';
    this.title = el('b');
    this.what = el('span', 'mensura-plan-what');
    this.wrong = el('span', 'mensura-plan-wrong');
    this.over = el('td', 'mensura-plan-over');
    this.minutes = Object.assign(el('input'), { type: 'text', inputMode: 'decimal', size: 4 });
    this.spare = Object.assign(el('input'), { type: 'checkbox' });
    this.note = Object.assign(el('textarea'), { rows: 1 });
    this.labels = [this.minutes, this.spare, this.note].map((box) => labelled(box, ''));
    this.minutes.addEventListener('change', () => this.ask('minutes', this.minutes.value, this.minutes));
    this.spare.addEventListener('change', () => this.ask('spare', this.spare.checked, this.spare));
    this.note.addEventListener('change', () => this.ask('note', this.note.value, this.note));
    this.note.addEventListener('input', () => this.grow());
    this.buttons = {
      up: this.button('Up', () => this.move(-1)),
      down: this.button('Down', () => this.move(1)),
      try: this.button('Try', () => this.ask('try')),
      drop: this.button('Drop', () => this.ask('drop')),
    };
    const words = el('td', 'mensura-plan-words');
    words.append(this.title, this.what, this.wrong);
    const acts = el('td', 'mensura-plan-acts');
    acts.append(...Object.values(this.buttons));
    this.node.append(this.place, words);
    [[this.minutes, 'minutes'], [this.spare, 'spare'], [this.note, 'note']].forEach(([box, name], k) => {
      const cell = el('td', `mensura-plan-${name}`);
      cell.append(this.labels[k], box);
      this.node.append(cell);
    });
    this.node.append(this.over, acts);
  }

  button(words, act) {
    const node = el('button', '', words);
    node.type = 'button';
    node.addEventListener('click', () => node.ariaDisabled === 'true' || act());
    return node;
  }

  ask(kind, value, box) { this.desk.ask({ kind, key: this.key, value }, box); }

  move(by) { this.ask('move', by); }

  grow() {
    this.note.style.height = '';
    if (this.note.scrollHeight > this.note.clientHeight) {
      this.note.style.height = `${this.note.scrollHeight + 4}px`;
    }
  }

  show(step, place, last, trying) {
    put(this.place, String(place));
    put(this.title, step.title);
    put(this.what, step.what);
    put(this.wrong, step.wrong);
    put(this.over, `${step.over} min`);
    fill(this.minutes, step.minutes);
    fill(this.note, step.note);
    this.spare.checked = step.spare;
    ['Minutes', 'May be left out', 'Note'].forEach((words, k) => put(this.labels[k], `${words}: ${step.title}`));
    for (const [name, button] of Object.entries(this.buttons)) {
      button.setAttribute('aria-label', `${button.textContent}: step ${place}, ${step.title}`);
      button.dataset.does = name;
    }
    this.buttons.up.ariaDisabled = String(place === 1);
    this.buttons.down.ariaDisabled = String(place === last);
    this.node.classList.toggle('mensura-plan-trying', trying);
    this.node.classList.toggle('mensura-plan-spared', step.spare);
    this.grow();
  }
}

class Desk {
  constructor(model, place) {
    Object.assign(this, { model, place, rows: new Map(), queue: [], busy: null, count: 0, timer: 0 });
    this.alarm = el('p', 'mensura-plan-alarm');
    this.alarm.setAttribute('role', 'alert');
    this.title = Object.assign(el('input', 'mensura-plan-title'), { type: 'text', size: 30 });
    this.length = Object.assign(el('input'), { type: 'text', inputMode: 'decimal', size: 4 });
    this.title.addEventListener('change', () => this.ask({ kind: 'title', value: this.title.value }, this.title));
    this.length.addEventListener('change', () => this.ask({ kind: 'length', value: this.length.value }, this.length));
    this.head = el('div', 'mensura-plan-head');
    for (const [box, words] of [[this.title, 'Title'], [this.length, 'Minutes there are']]) {
      const label = labelled(box, words);
      label.className = '';
      const pair = el('span', 'mensura-plan-pair');
      pair.append(label, box);
      this.head.append(pair);
    }
    this.body = el('tbody');
    this.table = el('table', 'mensura-plan');
    this.table.setAttribute('aria-label', 'The plan, step by step');
    const heads = el('tr');
    ['Step', 'On the screen', 'Minutes', 'May be left out', 'Note, for you only', 'Over at', 'Change'].forEach((words) => {
      const head = el('th', '', words);
      head.scope = 'col';
      heads.append(head);
    });
    const top = el('thead');
    top.append(heads);
    this.table.append(top, this.body);
    this.begin = el('p', 'mensura-plan-begin');
    this.total = el('p', 'mensura-plan-total');
    this.said = el('p', 'mensura-plan-said');
    this.said.setAttribute('role', 'status');
    this.give = el('p', 'mensura-plan-give');
    this.dropped = el('div', 'mensura-plan-dropped');
    this.tried = el('div', 'mensura-plan-tried');
    this.triedWords = el('b');
    this.away = el('button', '', 'Put the screen away');
    this.away.type = 'button';
    this.away.addEventListener('click', () => this.ask({ kind: 'away' }));
    this.tried.append(this.triedWords, this.away);
    place.append(this.alarm, this.head, this.begin, this.table, this.total, this.said, this.dropped, this.give, this.tried);
  }

  // ---- asking, one thing after the other -------------------------------------------------------

  ask(wanted, box) {
    if (this.place.closest('.mensura-dead')) { return; }
    this.queue.push({ wanted, box });
    this.next();
  }

  next() {
    if (this.busy || !this.queue.length) { return; }
    this.busy = this.queue.shift();
    this.count += 1;
    this.busy.id = this.count;
    this.model.send({ ...this.busy.wanted, id: this.count });
    this.timer = setTimeout(() => this.answered({ id: this.busy?.id }), PATIENCE_MS);
  }

  answered({ id, wrong = '', focus, on }) {
    if (!this.busy || this.busy.id !== id) { return; }
    clearTimeout(this.timer);
    const { box } = this.busy;
    this.busy = null;
    if (box && box.type !== 'checkbox') {
      if (wrong) { box.setAttribute('aria-invalid', 'true'); } else { box.removeAttribute('aria-invalid'); }
    }
    if (!this.queue.length) { this.focus(focus, on); }
    this.next();
  }

  focus(key, on) {
    const row = this.rows.get(key);
    if (on === 'away') {
      this.away.focus({ preventScroll: true });
      this.tried.scrollIntoView({ block: 'start' });
    } else if (on === 'back') {
      [...this.dropped.querySelectorAll('button')].pop()?.focus();
    } else if (row) {
      row.buttons[on].focus();
      row.node.scrollIntoView({ block: 'nearest' });
    }
  }

  // ---- showing ---------------------------------------------------------------------------------

  show() {
    const told = this.model.get('shown');
    if (!told.steps) { return; }
    const held = document.activeElement;
    const { steps, error } = told;
    put(this.alarm, error);
    this.place.classList.toggle('mensura-plan-broken', error !== '');
    this.place.classList.toggle('mensura-plan-empty', !steps.length);
    put(this.begin, error
      ? 'Mend it in an editor: this page follows. Nothing is changed until then.'
      : `Nothing is in ${told.file} yet. Open a workbook from the list above and press “into the lesson” at what you want to show: it comes here as a step.`);
    fill(this.title, told.title);
    fill(this.length, told.length);
    this.order(steps, told.trying);
    put(this.total, told.total);
    put(this.said, told.said === error ? '' : told.said);
    this.showGive(told);
    this.showDropped(told.dropped);
    const at = steps.findIndex((one) => one.key === told.trying);
    this.tried.hidden = at < 0;
    put(this.triedWords, at < 0 ? '' : `Step ${at + 1} on the screen: ${steps[at].title}`);
    if (held && held !== document.activeElement && this.place.contains(held)) { held.focus(); }
  }

  order(steps, trying) {
    const keys = new Set(steps.map((one) => one.key));
    for (const [key, row] of this.rows) {
      if (!keys.has(key)) {
        row.node.remove();
        this.rows.delete(key);
      }
    }
    steps.forEach((step, k) => {
      const row = this.rows.get(step.key) || new Row(this, step.key);
      this.rows.set(step.key, row);
      if (this.body.children[k] !== row.node) { this.body.insertBefore(row.node, this.body.children[k] || null); }
      row.show(step, k + 1, steps.length, step.key === trying);
    });
  }

  showGive({ give, folder }) {
    if (this.give.dataset.says === `${give} ${folder}`) { return; }
    this.give.dataset.says = `${give} ${folder}`;
    this.give.replaceChildren('To give it: ', el('code', '', give), ` in a terminal, in the folder ${folder}.`);
  }

  showDropped(titles) {
    const says = titles.join('\n');
    if (this.dropped.dataset.says === says) { return; }
    this.dropped.dataset.says = says;
    this.dropped.replaceChildren(...titles.map((title, k) => {
      const button = el('button', '', 'Put back');
      button.type = 'button';
      button.setAttribute('aria-label', `Put back: ${title}`);
      button.addEventListener('click', () => this.ask({ kind: 'back', value: k }));
      const line = el('p');
      line.append('Dropped: ', el('b', '', title), ' ', button);
      return line;
    }));
  }
}

export default {
  render({ model, el: place }) {
    place.classList.add('mensura-plan-place-of-all');
    const desk = new Desk(model, place);
    const show = () => desk.show();
    const hear = (told) => told.kind === 'done' && desk.answered(told);
    // a note is as high as its words, in whatever room there is
    const room = new ResizeObserver(() => desk.rows.forEach((row) => row.grow()));
    room.observe(place);
    model.on('change:shown', show);
    model.on('msg:custom', hear);
    show();
    return () => {
      clearTimeout(desk.timer);
      room.disconnect();
      model.off('change:shown', show);
      model.off('msg:custom', hear);
    };
  },
};
