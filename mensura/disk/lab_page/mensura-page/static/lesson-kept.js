// Where a lesson stands, kept outside the kernel: the screen, the clock, what is left out.
//
// In two places. In the browser's storage at once, so that a reload and a lost server find it, and
// in a file of the lesson's folder, by the server's own interface, so that another port, another
// browser and another day find it too; the newer one counts. What was moved and answered on the
// screens is kept by the kernel's own keeper in the same folder, as everywhere.
import { fresh, taken } from './lesson-clock.js';

const FILE = 'lesson-place.json';
const FORMAT = 'mensura lesson place 1';
const LATER_MS = 400;
const AGAIN_MS = 4000;

export class Kept {
  constructor(page, plan) {
    Object.assign(this, { page, plan, timer: 0, seen: 0, now: null });
    this.contents = page.kit.app.serviceManager.contents;
    this.key = `mensura-lesson ${page.base}${page.path}`;
    this.file = page.path.replace(/[^/]*$/, FILE);
  }

  /** `deed` hears what was found, each time that it is newer than what is known. */
  found(deed) {
    this.deed = deed;
  }

  /** The step that was kept, where it is now: by what it shows, or else by its place. */
  stepOf({ key, place }) {
    const by = this.plan.steps.findIndex(step => step.key === key);
    const last = this.plan.steps.length - 1;
    return by >= 0 ? by : Math.min(last, Math.max(0, Number.isInteger(place) ? place : 0));
  }

  take(text) {
    let told;
    try {
      told = JSON.parse(text);
    } catch {
      return;
    }
    if (!told || told.mensura !== FORMAT || !(told.at > this.seen)) {
      return;
    }
    this.seen = told.at;
    const known = new Set(this.plan.steps.map(step => step.key));
    const step = this.stepOf(told);
    this.deed({
      step,
      part: this.plan.steps[step].key === told.key && Number.isInteger(told.part) ? Math.max(0, told.part) : 0,
      clock: told.clock ? taken(told.clock, Date.now()) : fresh(),
      out: Array.isArray(told.out) ? told.out.filter(key => known.has(key)) : [],
    });
  }

  async read() {
    try {
      this.take(localStorage.getItem(this.key) || '');
    } catch {
      // no storage: the file has it
    }
    try {
      const { sizes } = await this.listed();
      if (!sizes.has(FILE)) {
        return;
      }
      const file = await this.contents.get(this.file, { type: 'file', format: 'text', content: true });
      this.take(file.content);
    } catch {
      // no server: the storage had it
    }
  }

  // what lies in the folder: asking for a file that is not there would be an error on the console
  async listed() {
    const folder = await this.contents.get(this.file.replace(/\/?[^/]*$/, ''), { content: true });
    return { sizes: new Map(folder.content.map(one => [one.name, one.size])) };
  }

  keep(place) {
    this.seen = Math.max(Date.now(), this.seen + 1);
    this.now = JSON.stringify({ mensura: FORMAT, at: this.seen, ...place });
    try {
      localStorage.setItem(this.key, this.now);
    } catch {
      // the file will have it
    }
    clearTimeout(this.timer);
    this.timer = setTimeout(() => this.write(), LATER_MS);
  }

  async write() {
    const text = this.now;
    if (text === null || ['silent', 'refused'].includes(this.page.lost)) {
      this.timer = setTimeout(() => this.write(), AGAIN_MS);
      return;
    }
    try {
      await this.contents.save(this.file, { type: 'file', format: 'text', content: text });
      if (this.now === text) {
        this.now = null;
      }
    } catch {
      this.timer = setTimeout(() => this.write(), AGAIN_MS);
    }
  }

  dispose() {
    clearTimeout(this.timer);
  }
}
