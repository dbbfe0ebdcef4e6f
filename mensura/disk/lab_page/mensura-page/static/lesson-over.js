// What may lie over a screen: the list of screens, the help of the keys, and nothing at all (blank).
//
// List and help are the browser's own dialogs: the focus stays in them, Escape closes them, and what
// is beneath is neither reached nor heard.
import { WORDS } from './words.js';

const KEYS = [
  ['Page Down, → or ↓', 'the next screen; a swipe does it too'],
  ['Page Up, ← or ↑', 'back'],
  ['Home, End', 'the first screen, the last'],
  ['G', 'list of screens; there, type a number to go to it, or begin anew for another class'],
  ['B or .', 'blank screen; any key brings it back'],
  ['W', "the lecturer's window: notes, clock, the next screen"],
  ['T', 'dark or light'],
  ['F', 'the whole screen of this computer'],
  ['1, 2, 3 …', 'on a question: one hand more for that answer'],
  ['Backspace, A, N', 'on a question: one hand less; the answer; ask again'],
  ['?', 'this help'],
];

const el = (name, className, text = '') => {
  const node = document.createElement(name);
  node.className = className;
  node.textContent = text;
  return node;
};

const button = (text, act, does) => {
  const node = el('button', 'mensura-lesson-button', text);
  node.type = 'button';
  node.dataset.does = does;
  node.addEventListener('click', act);
  return node;
};

export class Over {
  constructor(lesson) {
    this.lesson = lesson;
    this.blank = false;
    this.node = lesson.panel.node;
  }

  get open() {
    return Boolean(this.dialog && this.dialog.open);
  }

  // ---- blank -------------------------------------------------------------------------------------

  toBlank() {
    if (this.blank) {
      return;
    }
    this.close();
    this.before = document.activeElement;
    this.blank = true;
    this.cover = document.createElement('dialog');
    this.cover.className = 'mensura-lesson-blank';
    this.cover.setAttribute('aria-label', 'The screen is blank. Any key brings it back.');
    this.cover.tabIndex = -1;
    this.cover.addEventListener('cancel', event => event.preventDefault());
    this.cover.addEventListener('pointerup', () => this.unblank());
    this.node.append(this.cover);
    this.cover.showModal();
    this.cover.focus();
    this.lesson.link.tell();
  }

  unblank() {
    if (!this.blank) {
      return;
    }
    this.blank = false;
    this.cover.close();
    this.cover.remove();
    if (this.before && this.before.isConnected) {
      this.before.focus({ preventScroll: true });
    }
    this.lesson.link.tell();
  }

  // ---- list and help -------------------------------------------------------------------------------

  show(title, ...content) {
    this.close();
    const dialog = document.createElement('dialog');
    dialog.className = 'mensura-lesson-over';
    const heading = el('h2', 'mensura-lesson-heading', title);
    heading.id = 'mensura-lesson-heading';
    dialog.setAttribute('aria-labelledby', heading.id);
    dialog.append(heading, ...content);
    dialog.addEventListener('close', () => {
      dialog.remove();
      this.lesson.title.focus({ preventScroll: true });
    });
    this.dialog = dialog;
    this.node.append(dialog);
    dialog.showModal();
    return dialog;
  }

  close() {
    if (this.open) {
      this.dialog.close();
    }
  }

  list() {
    const { lesson } = this;
    const form = el('form', 'mensura-lesson-go');
    const label = el('label', '', 'Screen number ');
    const box = el('input', 'mensura-lesson-number');
    box.inputMode = 'numeric';
    box.autocomplete = 'off';
    box.size = 4;
    box.maxLength = 3;
    label.append(box);
    const go = el('button', 'mensura-lesson-button', 'Go');
    const said = el('span', 'mensura-lesson-said');
    said.setAttribute('role', 'status');
    form.append(label, go, said);
    form.addEventListener('submit', event => {
      event.preventDefault();
      const number = Number(box.value.trim());
      if (Number.isInteger(number) && number >= 1 && number <= lesson.steps.length) {
        this.go(number - 1);
      } else {
        said.textContent = WORDS.noScreen(lesson.steps.length);
        box.select();
      }
    });
    const names = el('ol', 'mensura-lesson-names');
    names.style.setProperty('--rows', Math.ceil(lesson.steps.length / 2));
    lesson.steps.forEach((step, place) => {
      const now = place === lesson.at.step;
      const out = lesson.out.has(step.key) ? ', left out' : '';
      const one = button(`${place + 1}  ${step.title || lesson.plan.title}${out}`, () => this.go(place), 'go');
      if (now) {
        one.setAttribute('aria-current', 'true');
      }
      const item = el('li', '');
      item.append(one);
      names.append(item);
    });
    const acts = el('div', 'mensura-lesson-acts');
    acts.append(
      button("Lecturer's window", () => this.then(() => lesson.link.open()), 'notes'),
      button('Keys', () => this.help(), 'keys'),
      button('Begin anew', () => this.ask(acts), 'anew'),
      button('Close', () => this.close(), 'close')
    );
    const dialog = this.show(lesson.plan.title, form, names, acts);
    this.box = box;
    (dialog.querySelector('[aria-current]') || box).focus();
  }

  go(place) {
    this.close();
    this.lesson.goTo(place);
  }

  then(deed) {
    this.close();
    deed();
  }

  ask(acts) {
    const words = el('span', 'mensura-lesson-said', WORDS.anew);
    words.setAttribute('role', 'status');
    const no = button('No', () => this.list(), 'no');
    acts.replaceChildren(words, button('Yes, begin anew', () => this.then(() => this.lesson.anew()), 'yes'), no);
    no.focus();
  }

  help() {
    const rows = el('dl', 'mensura-lesson-keys');
    for (const [keys, what] of KEYS) {
      rows.append(el('dt', '', keys), el('dd', '', what));
    }
    const acts = el('div', 'mensura-lesson-acts');
    acts.append(button('Close', () => this.close(), 'close'));
    this.show('Keys', rows, acts).querySelector('button').focus();
  }

  /** A key in a dialog: digits go to the number, arrows go along the list. */
  key(event) {
    const plain = !(event.ctrlKey || event.altKey || event.metaKey);
    const inBox = event.target === this.box;
    if (plain && /^\d$/.test(event.key) && this.box && this.box.isConnected && !inBox) {
      this.box.value = '';
      this.box.focus(); // the digit itself goes where the focus is now
    } else if (plain && ['ArrowDown', 'ArrowUp'].includes(event.key)) {
      const all = [...this.dialog.querySelectorAll('[data-does=go]')];
      const at = all.indexOf(document.activeElement);
      const to = all[Math.min(all.length - 1, Math.max(0, at + (event.key === 'ArrowDown' ? 1 : -1)))];
      if (to) {
        event.preventDefault();
        to.focus();
      }
    } else if (event.key === 'Escape') {
      event.preventDefault();
      this.close();
    }
  }

  // ---- dark or light, the whole screen -----------------------------------------------------------

  theme() {
    const dark = document.body.dataset.jpThemeLight === 'false';
    const theme = dark ? 'JupyterLab Light' : 'JupyterLab Dark';
    this.lesson.app.commands.execute('apputils:change-theme', { theme }).catch(() => {});
  }

  full() {
    const whole = document.fullscreenElement
      ? document.exitFullscreen()
      : document.documentElement.requestFullscreen();
    whole.catch(() => {});
  }
}
