// One notebook panel: whether it is a page of ours, and the state it is in.
//
// `asleep`: not started. `starting`. `alive`: its kernel lives and has run it. `gone`: its kernel,
// its server or the network is lost. The state stands on the panel's node, as data-mensura-page
// with a sentence in data-mensura-why, for whatever lives in the page.
import { Bar } from './bar.js';
import { Drafts } from './drafts.js';
import { Keeper } from './keeper.js';
import { connected, livingIn, mark, markKept, peek, session, sleep, within } from './kernel.js';
import { Lesson, planOf } from './lesson.js';
import { nameOf, runCells, runningCell, trust, trusted } from './run.js';
import { codeCells, holdBack, viewIds } from './views.js';
import { probe, Watch } from './watch.js';
import { WORDS } from './words.js';

const OURS = /^[ \t]*(from|import)[ \t]+mensura\b/m;
const SLOW_MS = 20000;
const QUIET_MS = 8000; // a busy machine is slow between two cells, and not gone
const KERNEL_MS = 60000;

export class Page {
  constructor(kit, panel) {
    Object.assign(this, { kit, panel, kind: null, state: 'asleep', why: '', notes: [], turn: 0 });
    this.lab = kit.lab;
    this.context = panel.context;
    this.path = this.context.localPath;
    this.settings = kit.app.serviceManager.serverSettings;
    this.base = this.settings.baseUrl;
    this.named = kit.known.pages.has(this.path);
    this.lost = null; // why the page is gone: 'kernel', 'silent', 'refused', 'restarted', 'broken'
    this.slow = null;
    this.slowTimer = 0;
    this.restarting = false;
    this.raised = [];
    if (this.named) {
      this.noDialogs(); // a damaged file is told in the bar, before there is anything else
    }
    this.context.ready.then(() => this.opened());
  }

  get kernel() {
    const sitting = this.panel.sessionContext.session;
    return (sitting && sitting.kernel) || null;
  }

  get stoppable() {
    return Boolean(this.slow) && this.state !== 'gone';
  }

  // ---- opening ---------------------------------------------------------------------------------

  async opened() {
    const model = this.context.model;
    const uses = codeCells(model).some(cell => OURS.test(cell.sharedModel.getSource()));
    if (this.panel.isDisposed || !(this.named || uses)) {
      this.bar = this.bar && this.bar.dispose();
      return; // nothing of ours: left alone
    }
    this.kind = this.named && trusted(model) ? 'ours' : 'elsewhere';
    this.noDialogs();
    this.drafts = new Drafts(this.base, this.path, this.lab.forgetful);
    this.drafts.known(model);
    this.keeper = new Keeper(this);
    this.bar = this.bar || new Bar(this.lab, this);
    if (this.named && planOf(model)) {
      this.lesson = new Lesson(this);
    }
    this.watch = new Watch(this.lab, this.settings, () => this.kernel, (...found) => this.found(...found));
    this.kit.room.add(this);
    this.kit.others.pages.add(this);
    this.listen();
    this.held = holdBack(model);
    this.drafts.putBack(model);
    if (this.kind === 'ours') {
      this.start();
    } else {
      this.set('asleep', this.named ? WORDS.changed : WORDS.foreign);
      this.stillLives().catch(() => {});
    }
  }

  // a page from elsewhere that was started before and lives in its kernel: nothing is run
  async stillLives() {
    const { sessionContext, content } = this.panel;
    await sessionContext.ready;
    const kernel = this.kernel && trusted(content.model) && (await connected(sessionContext, 8000));
    const known = kernel && (await peek(kernel));
    if (known && known.kept && this.state === 'asleep' && (await this.matches(kernel))) {
      this.alive();
    }
  }

  listen() {
    const context = this.panel.sessionContext;
    context.statusChanged.connect((_, status) => this.status(status));
    context.connectionStatusChanged.connect((_, status) => status === 'connected' || this.watch.now());
    context.kernelChanged.connect((_, change) => this.changed(change));
    this.lab.notebook.NotebookActions.executed.connect(this.executed, this);
    this.panel.node.addEventListener('mensura:start', () => this.start());
    this.panel.node.addEventListener('mensura:seat', event => this.bar.seated(event.detail || {}));
  }

  // JupyterLab's dialogs about a lost kernel or a file that cannot be saved: told in the bar
  noDialogs() {
    const { panel, context } = this;
    const said = panel._onSessionStatusChanged;
    if (said) {
      panel.sessionContext.statusChanged.disconnect(said, panel);
    }
    panel.sessionContext._displayKernelError = async message => this.trouble(message);
    context._handleError = async error => this.trouble(error && error.message, true);
  }

  // what would have been a dialog
  trouble(message, file) {
    const text = String(message || '').split('\n')[0].slice(0, 160);
    if (!this.context.isReady) {
      this.damaged();
    } else if (file && this.keeper) {
      this.keeper.failed(text);
    } else if (this.state === 'starting') {
      this.failure = text;
    }
  }

  // No notebook can be read in the file. JupyterLab would close the panel and say nothing more.
  damaged() {
    const { panel, path } = this;
    this.broken = true;
    panel.close = () => delete panel.close;
    panel.content.hide();
    panel.toolbar.hide();
    panel.node.dataset.mensuraDamaged = '';
    this.context.model.dirty = false;
    this.bar = this.bar || new Bar(this.lab, this);
    const stem = path.replace(/\.ipynb$/, '');
    const copies = [...this.kit.known.pages].filter(one => one.startsWith(`${stem}-fresh`));
    this.fresh = copies.pop() || null;
    this.lost = 'broken';
    this.set('gone', WORDS.damaged(path, this.fresh));
  }

  openFresh() {
    this.kit.app.commands.execute('docmanager:open', { path: this.fresh });
    this.panel.close();
  }

  // ---- the state -------------------------------------------------------------------------------

  set(state, why) {
    this.state = state;
    this.why = why;
    if (state !== 'gone') {
      this.lost = null;
    }
    this.panel.node.dataset.mensuraPage = state;
    this.panel.node.dataset.mensuraWhy = why;
    this.tell();
  }

  tell() {
    this.notes = [];
    if (this.slow) {
      this.notes.push(WORDS.slow(this.slow));
    }
    if (this.state === 'alive' && this.raised.length) {
      this.notes.push(WORDS.raised(this.raised));
    }
    if (this.keeper && this.keeper.note) {
      this.notes.push(this.keeper.note);
    } else if (this.state === 'alive' && this.lab.forgetful) {
      this.notes.push(WORDS.forgetful);
    }
    if (this.bar) {
      this.bar.show();
    }
    if (this.lesson) {
      this.lesson.state();
    }
  }

  lose(why) {
    if (this.state === 'asleep' || (this.state === 'gone' && this.lost === why)) {
      return;
    }
    this.turn += 1; // whatever is under way ends at its next step
    this.quiet();
    this.lost = why;
    this.set('gone', WORDS[why]);
    this.keeper.change();
  }

  say(name, detail) {
    this.panel.node.dispatchEvent(new CustomEvent(name, { detail }));
  }

  // ---- what the watch and the kernel tell ------------------------------------------------------

  found(answer, kernel) {
    if (this.state === 'asleep' || kernel !== this.kernel) {
      return;
    }
    if (answer === 'silent' || answer === 'refused' || answer === 'cut') {
      this.lose(answer === 'refused' ? 'refused' : 'silent');
      if (answer === 'cut' && !this.reaching) {
        this.reach(kernel);
      }
    } else if (answer === 'missing' || !kernel) {
      if (this.state === 'alive' || (this.state === 'gone' && this.lost !== 'broken')) {
        this.lose('kernel');
      }
    } else if (this.state === 'gone' && this.lost === 'silent') {
      this.reach(kernel);
    }
  }

  // the server answers again and still has the kernel: back to life, if it is the same one inside
  async reach(kernel) {
    if (this.reaching) {
      return;
    }
    this.reaching = true;
    try {
      if (kernel.connectionStatus !== 'connected') {
        await within(8000, kernel.reconnect(), 'the way to the kernel');
      }
      if (this.state === 'gone' && this.lost === 'silent' && kernel === this.kernel) {
        const known = await within(8000, peek(kernel), 'the kernel');
        if (known && (await this.matches(kernel))) {
          this.alive();
        } else {
          this.lose('kernel');
        }
      }
    } catch {
      // the next question tries again
    } finally {
      this.reaching = false;
    }
  }

  status(status) {
    if (status === 'busy') {
      this.slowTimer = this.slowTimer || setTimeout(() => this.isSlow(), SLOW_MS);
    } else {
      this.quiet();
    }
    if (this.restarting || this.state === 'asleep' || this.state === 'gone') {
      return;
    }
    if (status === 'autorestarting' || status === 'dead') {
      this.lose('kernel');
    } else if (status === 'restarting' && this.state === 'alive') {
      this.lose('restarted');
    }
  }

  changed({ oldValue, newValue }) {
    if (this.state === 'alive' && !this.restarting && (!newValue || oldValue !== newValue)) {
      this.lose(newValue ? 'restarted' : 'kernel');
    }
  }

  isSlow() {
    const cell = this.running || runningCell(this.panel);
    this.slow = cell ? nameOf(cell.model) : '?';
    this.tell();
  }

  quiet() {
    clearTimeout(this.slowTimer);
    this.slowTimer = 0;
    if (this.slow) {
      this.slow = null;
      this.tell();
    }
  }

  interrupt() {
    if (this.kernel) {
      this.kernel.interrupt().catch(() => this.watch.now());
    }
  }

  // cells that the reader ran by hand may have brought the page to life
  executed(_, { notebook }) {
    if (notebook !== this.panel.content || this.state === 'alive' || this.state === 'starting') {
      return;
    }
    clearTimeout(this.later);
    this.later = setTimeout(async () => {
      const kernel = this.kernel;
      if (kernel && (this.state === 'asleep' || this.lost === 'restarted')) {
        this.held = null; // what was run by hand has views of its own
        if (viewIds(this.context.model).size && (await this.matches(kernel))) {
          await mark(kernel, this.name());
          await this.settle(kernel);
        }
      }
    }, 700);
  }

  // ---- starting --------------------------------------------------------------------------------

  name() {
    return Math.random().toString(36).slice(2, 12);
  }

  // ids of the views that belong to this page, shown or held back
  ids() {
    return new Set([...viewIds(this.context.model), ...(this.held ? this.held.ids : [])]);
  }

  // whether every view in the page has a living model
  async matches(kernel) {
    const living = await within(8000, livingIn(kernel), 'the kernel');
    return [...this.ids()].every(id => living.has(id));
  }

  start({ anew = false } = {}) {
    if (this.state === 'starting' || this.broken) {
      return;
    }
    const turn = (this.turn += 1);
    const goesOn = () => this.turn === turn && !this.panel.isDisposed;
    this.raised = [];
    this.failure = '';
    trust(this.context.model);
    this.set('starting', WORDS.starting);
    this.begin(goesOn, anew).catch(async error => {
      if (goesOn()) {
        console.warn('mensura-page', error);
        const answer = await probe(this.lab, this.settings, this.kernel && this.kernel.id);
        if (goesOn()) {
          this.lose(answer === 'silent' || answer === 'refused' ? answer : 'kernel');
          if (answer === 'here' && this.failure) {
            this.set('gone', WORDS.failed(this.failure));
            this.lost = 'kernel';
          }
        }
      }
    });
  }

  async begin(goesOn, anew) {
    const sitting = this.panel.sessionContext;
    const answer = await probe(this.lab, this.settings);
    if (answer !== 'here') {
      throw new Error(answer);
    }
    if (!this.opening) {
      this.opening = within(KERNEL_MS, sitting.ready, 'the first kernel');
      await this.opening;
    } else {
      await session(this.kit.app, sitting);
      await this.keeper.newest();
    }
    const lost = this.kernel;
    if (lost && lost.connectionStatus === 'disconnected') {
      await within(8000, lost.reconnect(), 'the way to the kernel');
    }
    const kernel = await connected(sitting, KERNEL_MS);
    const me = this.name();
    let known = await this.patiently(mark(kernel, me), goesOn);
    if (known.by !== me && !anew && (await this.joined(kernel, known, goesOn))) {
      return goesOn() && this.settle(kernel, false);
    }
    if (!goesOn()) {
      return;
    }
    if (known.by !== me) {
      await this.restart();
      known = await within(KERNEL_MS, mark(this.kernel, me), 'the kernel');
      if (known.by !== me) {
        this.turn += 1;
        this.state = 'asleep';
        return this.start(); // another tab was quicker
      }
    }
    this.kit.others.say(this, 'anew');
    const { lesson } = this;
    if (lesson) {
      lesson.stills.all(); // what is in sight stays so until the new views have come
    }
    holdBack(this.context.model);
    this.held = null;
    this.raised = await runCells(this.lab, this.panel, goesOn, cell => {
      this.running = cell;
    }, lesson && (cells => lesson.order(cells)));
    this.running = null;
    if (goesOn()) {
      await this.settle(this.kernel);
    }
  }

  // an answer of a kernel that may be at work for long: what keeps it can be stopped
  async patiently(promise, goesOn) {
    const timer = setTimeout(() => goesOn() && this.isSlow(), SLOW_MS);
    try {
      return await promise;
    } finally {
      clearTimeout(timer);
      this.quiet();
    }
  }

  async restart() {
    this.restarting = true;
    try {
      await within(KERNEL_MS, this.panel.sessionContext.restartKernel(), 'starting the kernel anew');
      await connected(this.panel.sessionContext, KERNEL_MS);
    } finally {
      this.restarting = false;
    }
  }

  // Takes the page up as it stands in its kernel; waits for another tab that is running it. False
  // if nobody is, or if what runs there is not what this page shows.
  async joined(kernel, known, goesOn) {
    let heard = performance.now();
    const hear = (_, message) => {
      if ((message.parent_header || {}).session !== kernel.clientId) {
        heard = performance.now();
      }
    };
    kernel.iopubMessage.connect(hear);
    try {
      while (goesOn() && !known.kept) {
        if (kernel.status !== 'busy' && performance.now() - heard > QUIET_MS) {
          return false;
        }
        await sleep(300);
        known = await this.patiently(mark(kernel, known.by), goesOn);
      }
    } finally {
      kernel.iopubMessage.disconnect(hear);
    }
    if (goesOn() && !((await this.matches(kernel)) && this.ids().size)) {
      await this.keeper.reload(); // the tab that ran it has saved meanwhile
      this.held = holdBack(this.context.model);
      return this.matches(kernel);
    }
    return true;
  }

  // The page lives: its outputs go into the file, so that a reload finds them.
  async settle(kernel, fresh = true) {
    this.alive();
    if (fresh && (await this.keeper.save()) && kernel === this.kernel) {
      await markKept(kernel, 'nobody');
      this.kit.others.say(this, 'saved');
    }
  }

  alive() {
    if (this.held) {
      this.held.giveBack();
      this.held = null;
    }
    this.set('alive', WORDS.alive);
    this.keeper.change();
  }

  async afresh() {
    const forgotten = new Promise(done =>
      this.panel.node.addEventListener('mensura:forgotten', done, { once: true })
    );
    this.say('mensura:forget');
    await within(5000, forgotten, 'forgetting').catch(() => {});
    this.start({ anew: true });
  }

  // ---- other tabs ------------------------------------------------------------------------------

  heard(said) {
    if (this.state === 'asleep' || this.state === 'starting') {
      return;
    }
    if (said.what === 'anew') {
      this.start();
    } else if (said.what === 'saved' && this.state === 'alive' && said.kernel === (this.kernel || {}).id) {
      this.keeper.reload();
    }
  }

  dispose() {
    this.turn += 1;
    clearTimeout(this.slowTimer);
    clearTimeout(this.later);
    this.lab.notebook.NotebookActions.executed.disconnect(this.executed, this);
    if (this.kind) {
      this.watch.dispose();
      this.keeper.dispose();
      this.kit.others.pages.delete(this);
      this.kit.room.remove(this);
      if (this.lesson) {
        this.lesson.dispose();
      }
      this.bar.dispose();
    }
  }
}
