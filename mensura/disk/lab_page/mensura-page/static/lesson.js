// A lesson: one notebook of ours, shown over the whole window one screen after the other.
//
// JupyterLab's own page is kept: it reads the notebook, runs its cells, sets its mathematics and
// holds its widgets, and page.js watches over it. What a lesson adds is what is seen. Measured
// against the ecosystem's library that serves a notebook as a page without code: there each load ran
// the whole page anew (6 s) and what had been moved was lost; here a reload finds kernel and values
// as they were. Each cell stays where JupyterLab put it and is shown or not: one view of each panel,
// so that what was moved stays moved, and what is not shown is not laid out.
import { fresh, left, pause, setBack, turned } from './lesson-clock.js';
import { Dress } from './lesson-dress.js';
import { Fit } from './lesson-fit.js';
import { Keys } from './lesson-keys.js';
import { Kept } from './lesson-kept.js';
import { Link } from './lesson-link.js';
import { Over } from './lesson-over.js';
import { framesOf, Stills } from './lesson-still.js';
import { WORDS } from './words.js';

const MARK = 'mensura_lesson';
const AGAIN_MS = [0, 1000, 2000, 4000, 8000, 15000];
const LIVING = new Set(['panel', 'question', 'proof', 'problem', 'game', 'own']);

/** What the notebook says of the lesson that it is; null if it is none. */
export function planOf(model) {
  const told = model.getMetadata(MARK);
  return told && Array.isArray(told.steps) && told.steps.length ? told : null;
}

export const markOf = cell => cell.model.getMetadata(MARK) || {};

export class Lesson {
  constructor(page) {
    Object.assign(this, { page, panel: page.panel, lab: page.lab, app: page.kit.app });
    this.plan = planOf(page.context.model);
    this.at = { step: 0, part: 0 };
    this.parts = 1;
    this.clock = fresh();
    this.out = new Set(); // keys of steps that are left out today
    this.tries = 0;
    this.met = new WeakSet(); // frames that know they are on show
    this.dress = new Dress(this);
    Object.assign(this, this.dress.parts);
    this.fit = new Fit(this);
    this.stills = new Stills(this);
    this.stills.all();
    this.over = new Over(this);
    this.keys = new Keys(this);
    this.link = new Link(this);
    this.kept = new Kept(page, this.plan);
    this.kept.found(place => this.restore(place));
    this.changes = new MutationObserver(() => this.changed());
    this.changes.observe(this.panel.content.node, { childList: true, subtree: true });
    page.context.model.metadataChanged.connect(this.planned, this);
    this.show();
    this.ready = this.kept.read();
  }

  // ---- what is there ---------------------------------------------------------------------------

  get steps() {
    return this.plan.steps;
  }

  get step() {
    return this.steps[this.at.step];
  }

  /** The cells of a step, in their order. */
  cellsOf(step) {
    return this.panel.content.widgets.filter(cell => markOf(cell).step === step + 1);
  }

  /** Whether something in a step lives. */
  lives(step) {
    return this.cellsOf(step).some(cell => LIVING.has(markOf(cell).kind));
  }

  frames() {
    return this.cellsOf(this.at.step).flatMap(framesOf);
  }

  /** Something came or went in the notebook: words are laid out anew, a new frame is greeted. */
  changed() {
    this.stills.settle();
    if (this.lives(this.at.step)) {
      this.greet();
    }
    if (!this.drawing) {
      this.again();
    }
  }

  /** The same screen once more, before the next frame is painted. */
  again() {
    if (this.waiting) {
      return;
    }
    this.waiting = requestAnimationFrame(() => {
      this.waiting = 0;
      this.lay();
    });
  }

  /** The plan was made anew while the page was open. */
  planned() {
    const plan = planOf(this.page.context.model);
    if (!plan || JSON.stringify(plan) === JSON.stringify(this.plan)) {
      return;
    }
    const { key } = this.step;
    this.plan = plan;
    this.kept.plan = plan;
    const step = this.kept.stepOf({ key, place: this.at.step });
    this.at = { step, part: 0 };
    this.stills.all();
    this.show();
  }

  // ---- turning ---------------------------------------------------------------------------------

  /** Whether the present screen has something left to unfold, and did so. */
  unfolds(name, detail) {
    const told = this.frames().map(frame => {
      const event = new CustomEvent(`mensura:${name}`, { cancelable: true, detail });
      return frame.dispatchEvent(event);
    });
    return told.includes(false);
  }

  /** Whether what is on show comes once more, later: a question keeps its answer until then. */
  comesAgain() {
    const what = ({ key }) => key.replace(/ \d+$/, '');
    const later = this.steps.slice(this.at.step + 1).filter(({ key }) => !this.out.has(key));
    return later.some(one => what(one) === what(this.step));
  }

  next() {
    if (this.unfolds('next', { again: this.comesAgain() })) {
      return this.link.tell();
    }
    if (this.at.part < this.parts - 1) {
      return this.goTo(this.at.step, this.at.part + 1);
    }
    const step = this.beyond(1);
    return step === null ? this.link.tell() : this.goTo(step);
  }

  back() {
    if (this.unfolds('back')) {
      return this.link.tell();
    }
    if (this.at.part > 0) {
      return this.goTo(this.at.step, this.at.part - 1);
    }
    const step = this.beyond(-1);
    return step === null ? this.link.tell() : this.goTo(step, Infinity);
  }

  /** The next step that way which is not left out; null at the end. */
  beyond(way, from = this.at.step) {
    for (let step = from + way; step >= 0 && step < this.steps.length; step += way) {
      if (!this.out.has(this.steps[step].key)) {
        return step;
      }
    }
    return null;
  }

  goTo(step, part = 0) {
    const to = Math.min(this.steps.length - 1, Math.max(0, step));
    const other = to !== this.at.step;
    if (other) {
      this.leave();
    }
    this.at = { step: to, part };
    turned(this.clock, this.step.key, Date.now());
    this.show({ other: other || part !== this.at.part });
    this.keep();
  }

  leave() {
    for (const frame of this.frames()) {
      this.met.delete(frame);
      frame.dispatchEvent(new CustomEvent('mensura:leave'));
    }
  }

  /** Frames on show are told so, once they can hear it. */
  greet() {
    for (const frame of this.frames()) {
      if (!this.met.has(frame) && frame.dataset.keys) {
        this.met.add(frame);
        frame.dispatchEvent(new CustomEvent('mensura:enter'));
      } else if (!frame.dataset.keys) {
        requestAnimationFrame(() => this.greet());
        return;
      }
    }
  }

  /** What was kept is taken up; the clock goes on from when it was left. */
  restore(place) {
    this.clock = place.clock;
    this.out = new Set(place.out);
    if (place.step !== this.at.step || place.part !== this.at.part) {
      this.leave();
      this.at = { step: place.step, part: place.part };
      this.show({ other: false });
    } else {
      this.link.tell();
    }
  }

  keep() {
    this.kept.keep({
      key: this.step.key,
      place: this.at.step,
      part: this.at.part,
      clock: this.clock,
      out: [...this.out],
    });
  }

  // ---- showing ---------------------------------------------------------------------------------

  show({ other = false } = {}) {
    this.lay();
    const title = this.step.above || this.step.title || this.plan.title;
    this.title.textContent = title;
    this.tellPlace();
    this.dress.entitle(`${this.at.step + 1} of ${this.steps.length} ${title}`);
    if (other || document.activeElement === document.body) {
      this.title.focus({ preventScroll: true }); // a screen reader says the new screen's title
    }
    this.greet();
    this.link.tell();
  }

  tellPlace() {
    const part = this.parts > 1 ? `, part ${this.at.part + 1} of ${this.parts}` : '';
    const place = `${this.at.step + 1} of ${this.steps.length}${part}`;
    if (this.count.textContent !== place) {
      this.count.textContent = place;
      this.count.setAttribute('aria-label', `${place}: list of screens`);
    }
  }

  lay() {
    this.drawing = true;
    this.parts = this.fit.lay(this.at.step, this.at.part);
    this.at.part = Math.min(this.at.part, this.parts - 1);
    this.tellPlace();
    this.changes.takeRecords();
    this.drawing = false;
  }

  // ---- the clock, from the lecturer's window -----------------------------------------------------

  pause() {
    pause(this.clock, Date.now());
    this.keep();
    this.link.tell();
  }

  setBack() {
    setBack(this.clock);
    this.keep();
    this.link.tell();
  }

  leaveOut(key, whether) {
    if (whether) {
      this.out.add(key);
    } else {
      this.out.delete(key);
    }
    this.keep();
    this.link.tell();
  }

  left() {
    return left(this.clock, this.plan, this.at.step, this.out, Date.now());
  }

  /** For the next class: values, answers, screen and clock as at the start. */
  async anew() {
    this.clock = fresh();
    this.out.clear();
    this.leave();
    this.at = { step: 0, part: 0 };
    this.show({ other: true });
    this.keep();
    if (this.panel.node.querySelector('.mensura-frame')) {
      await this.page.afresh();
    }
  }

  // ---- the page behind it ------------------------------------------------------------------------

  /** In which order the cells run: those on show first, then those to come, then the others. */
  order(cells) {
    const from = this.at.step + 1;
    const count = this.steps.length;
    const turn = cell => ((markOf(cell).step || from) - from + count) % count;
    return [...cells].sort((a, b) => turn(a) - turn(b));
  }

  /** The page lives, or does not: said in words, and what can be started again is. */
  state() {
    const { state, lost, why } = this.page;
    const { raised } = this.page;
    const words = state === 'alive' && raised.length ? WORDS.lessonRaised(raised.length) : state === 'starting' ? WORDS.lessonStarts : state === 'gone' ? WORDS.lessonGone(lost, why) : '';
    if (this.told.textContent !== words) {
      this.told.textContent = words;
    }
    this.panel.node.dataset.mensuraTold = words ? 'something' : '';
    clearTimeout(this.timer);
    this.stills.settle();
    if (state === 'alive') {
      this.tries = 0;
      this.again();
    } else if (state === 'gone' && ['kernel', 'restarted'].includes(lost)) {
      const wait = AGAIN_MS[Math.min(this.tries, AGAIN_MS.length - 1)];
      this.tries += 1;
      this.timer = setTimeout(() => this.page.state === 'gone' && this.page.start(), wait);
    }
    this.link.tell();
  }

  dispose() {
    clearTimeout(this.timer);
    this.changes.disconnect();
    this.keys.dispose();
    this.link.dispose();
    this.kept.dispose();
    this.dress.dispose();
  }
}
