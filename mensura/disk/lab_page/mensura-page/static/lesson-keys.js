// The keys of a lesson, and the finger: what a clicker sends, arrows, a swipe.
//
// Heard before anybody else on the page. Page Up and Page Down always turn, since a clicker has
// nothing else; arrows, Home and End turn unless the focus is in a control that has a use for them. A
// letter is the lesson's own or goes to what is on show; none of them is a command to the notebook.
const TYPES = 'input:not([type=checkbox], [type=button]), textarea, select, [contenteditable=true]';
const ARROWED = `${TYPES}, [role=slider], [role=radio], [role=radiogroup], [role=spinbutton], [role=listbox], .noUi-handle`;
// what buttons and the browser need
const NEVER = new Set(['Tab', 'Enter', ' ', 'Escape', 'ContextMenu', 'Dead', 'Process', 'Unidentified']);
const SWIPE_PX = 60;
const SWIPE_MS = 900;

export class Keys {
  constructor(lesson) {
    this.lesson = lesson;
    this.leaving = new AbortController();
    const { signal } = this.leaving;
    window.addEventListener('keydown', event => this.key(event), { capture: true, signal });
    for (const kind of ['keyup', 'keypress']) {
      window.addEventListener(kind, event => this.release(event), { capture: true, signal });
    }
    const { node } = lesson.panel;
    node.addEventListener('pointerdown', event => this.down(event), { capture: true, signal });
    node.addEventListener('pointerup', event => this.up(event), { capture: true, signal });
    node.addEventListener('pointercancel', () => { this.finger = null; }, { capture: true, signal });
  }

  // a key that turned the screen away from a control is none of that control's when it comes up
  release(event) {
    if (event.key === this.taken) {
      event.stopImmediatePropagation();
      event.preventDefault();
      this.taken = null;
    }
  }

  take(event) {
    this.taken = event.key;
    event.preventDefault();
    event.stopImmediatePropagation();
  }

  key(event) {
    const { lesson } = this;
    const { target, key } = event;
    if (event.isComposing || ['Shift', 'Control', 'Alt', 'Meta', 'AltGraph'].includes(key)) {
      return;
    }
    if (lesson.over.blank) {
      this.take(event);
      lesson.over.unblank();
      return;
    }
    const at = target instanceof Element ? target : document.body;
    if (lesson.over.open) {
      if (key === 'PageDown' || key === 'PageUp') {
        lesson.over.close();
      } else {
        event.stopPropagation(); // the dialog's own
        lesson.over.key(event);
        return;
      }
    }
    if (event.ctrlKey || event.altKey || event.metaKey) {
      if (!at.closest('.mensura-frame')) {
        event.stopImmediatePropagation(); // the browser's, not the notebook's
      }
      return;
    }
    const deed = this.deed(key, at, event.shiftKey);
    if (deed) {
      this.take(event);
      deed();
    } else if (!at.closest('.mensura-frame')) {
      event.stopImmediatePropagation();
    }
  }

  /** What a key does, or null. */
  deed(key, at, shift) {
    const { lesson } = this;
    if (key === 'PageDown') {
      return () => lesson.next();
    }
    if (key === 'PageUp') {
      return () => lesson.back();
    }
    if (!shift && !at.closest(ARROWED)) {
      const turn = {
        ArrowRight: () => lesson.next(),
        ArrowDown: () => lesson.next(),
        ArrowLeft: () => lesson.back(),
        ArrowUp: () => lesson.back(),
        Home: () => lesson.goTo(lesson.beyond(1, -1) ?? 0),
        End: () => lesson.goTo(lesson.beyond(-1, lesson.steps.length) ?? lesson.steps.length - 1),
      }[key];
      if (turn) {
        return turn;
      }
    }
    if (NEVER.has(key) || /^F\d+$/.test(key) || at.closest(TYPES)) {
      return null;
    }
    const own = {
      b: () => lesson.over.toBlank(),
      '.': () => lesson.over.toBlank(),
      g: () => lesson.over.list(),
      w: () => lesson.link.open(),
      t: () => lesson.over.theme(),
      f: () => lesson.over.full(),
      '?': () => lesson.over.help(),
    }[key.toLowerCase()];
    if (own) {
      return own;
    }
    return lesson.unfolds('key', { key }) ? () => {} : null;
  }

  // ---- the finger --------------------------------------------------------------------------------

  down(event) {
    if (this.lesson.over.blank) {
      return;
    }
    const used = event.target.closest(`${ARROWED}, input, button, label, .noUi-target, .slider-container, dialog`);
    const free = event.pointerType === 'touch' && event.isPrimary && !used;
    this.finger = free ? { x: event.clientX, y: event.clientY, at: event.timeStamp } : null;
  }

  up(event) {
    const from = this.finger;
    this.finger = null;
    if (!from || event.timeStamp - from.at > SWIPE_MS) {
      return;
    }
    const [x, y] = [event.clientX - from.x, event.clientY - from.y];
    if (Math.abs(x) > SWIPE_PX && Math.abs(x) > 2 * Math.abs(y)) {
      this.lesson[x < 0 ? 'next' : 'back']();
    }
  }

  dispose() {
    this.leaving.abort();
  }
}
