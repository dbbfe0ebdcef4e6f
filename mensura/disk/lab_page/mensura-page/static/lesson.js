// A lesson: one notebook of ours shown over the whole window, one step at a time.
const MARK = 'mensura_lesson';

export function told(model) {
  return model.getMetadata(MARK) || null;
}

export class Lesson {
  constructor(page) {
    this.page = page;
    this.panel = page.panel;
    this.plan = told(page.context.model);
    this.place = 1;
    this.panel.node.dataset.mensuraLesson = '';
    document.body.classList.add('mensura-in-lesson');
    for (let node = this.panel.node.parentElement; node && node !== document.body; node = node.parentElement) {
      node.classList.add('mensura-lesson-way');
    }
    this.top = document.createElement('header');
    this.top.className = 'mensura-lesson-top';
    this.title = document.createElement('h1');
    this.count = document.createElement('p');
    this.top.append(this.title, this.count);
    this.panel.node.append(this.top);
    window.addEventListener('keydown', event => this.key(event), true);
    window.addEventListener('resize', () => this.show());
    this.panel.content.model.cells.changed.connect(() => this.show());
    this.show();
  }

  key(event) {
    const way = { PageDown: 1, PageUp: -1 }[event.key];
    if (!way) {
      return;
    }
    event.preventDefault();
    event.stopImmediatePropagation();
    const name = way > 0 ? 'mensura:next' : 'mensura:back';
    const frames = [...this.panel.node.querySelectorAll('.mensura-on .mensura-frame')];
    if (frames.every(one => one.dispatchEvent(new CustomEvent(name, { cancelable: true })))) {
      this.place = Math.min(this.plan.steps.length, Math.max(1, this.place + way));
      this.show();
    }
  }

  show() {
    const factor = 1.6 * Math.max(1, Math.min(innerWidth / 1280, innerHeight / 720));
    this.panel.node.style.setProperty('--mensura-factor', factor);
    const step = this.plan.steps[this.place - 1];
    this.title.textContent = step.title;
    this.count.textContent = `${this.place} of ${this.plan.steps.length}`;
    for (const cell of this.panel.content.widgets) {
      const mark = cell.model.getMetadata(MARK) || {};
      cell.node.dataset.mensuraKind = mark.kind || '';
      cell.node.classList.toggle('mensura-on', mark.step === this.place);
    }
  }
}
