// Keeping a page: into its file soon after every change, and from it when another tab has saved.
import { WORDS } from './words.js';

const SAVE_MS = 1300;
const DRAFT_MS = 300;

export class Keeper {
  constructor(page) {
    Object.assign(this, { page, note: '', timer: 0, draftTimer: 0, saving: null });
    this.context = page.context;
    this.context.model.contentChanged.connect(this.change, this);
    this.context.saveState.connect((_, state) => state === 'completed' && this.saved());
    this.plain = this.context.save.bind(this.context);
    this.context.save = () => this.queued();
  }

  // One save after the other, whoever asks: two at once would find each other's file changed.
  // Without a server nothing is saved, and no dialog says so: the draft keeps it.
  async queued() {
    while (this.saving) {
      await this.saving.catch(() => {});
    }
    const { state, lost } = this.page;
    if (state === 'gone' && (lost === 'silent' || lost === 'refused')) {
      return this.draft();
    }
    this.saving = this.plain().finally(() => {
      this.saving = null;
    });
    return this.saving;
  }

  saved() {
    this.page.drafts.same(this.context.model);
    this.tell('');
  }

  tell(note) {
    if (this.note !== note) {
      this.note = note;
      this.page.tell();
    }
  }

  // something was changed, or the page has come to life or lost it
  change() {
    clearTimeout(this.timer);
    clearTimeout(this.draftTimer);
    const { model } = this.context;
    if (!model.dirty || this.page.state === 'starting' || this.page.state === 'asleep') {
      return;
    }
    if (this.page.state === 'alive') {
      this.timer = setTimeout(async () => {
        if (this.page.state === 'alive' && (await this.save())) {
          this.page.kit.others.say(this.page, 'saved');
        }
      }, SAVE_MS);
    } else {
      this.draftTimer = setTimeout(() => this.draft(), DRAFT_MS);
    }
  }

  async draft() {
    const kept = this.page.drafts.keep(this.context.model);
    this.tell(kept ? '' : WORDS.noStorage);
  }

  // what could not be saved is told in the bar
  failed(text) {
    this.draft();
    this.tell(WORDS.unsaved(text));
  }

  // whether the file holds now what the page shows
  async save() {
    const { context } = this;
    if (!context.canSave) {
      this.draft();
      this.tell(WORDS.readOnly);
      return false;
    }
    if (!context.model.dirty) {
      return true;
    }
    try {
      await this.queued();
      return !context.model.dirty;
    } catch {
      return false; // the reader was asked, or the bar tells
    }
  }

  // the file as it is now, unless something was typed here; the reader stays where they are
  async reload() {
    const { context } = this;
    if (context.model.dirty) {
      return;
    }
    const book = this.page.panel.content;
    const place = book.outerNode || book.node;
    const [top, active] = [place.scrollTop, book.activeCellIndex];
    await context.revert();
    context.model.dirty = false;
    this.page.drafts.known(context.model);
    book.activeCellIndex = active;
    place.scrollTop = top;
  }

  // the same, if the file is another than the one that was read or written here last
  async newest() {
    const { context } = this;
    const contents = this.page.kit.app.serviceManager.contents;
    const now = await contents.get(context.path, { content: false, hash: true });
    const known = context.contentsModel;
    const same = now.hash && known.hash ? now.hash === known.hash : now.last_modified === known.last_modified;
    if (!same) {
      await this.reload();
    }
  }

  dispose() {
    clearTimeout(this.timer);
    clearTimeout(this.draftTimer);
  }
}
