// More room: JupyterLab's own bars are hidden with one key, and come back with it.
//
// They are hidden as JupyterLab's widgets, not by style, so that the notebook takes their place. On
// a narrow or low window the side bars go by themselves.
const BARS = ['jp-top-panel', 'jp-menu-panel', 'jp-main-statusbar', 'jp-down-stack'];
const SIDES = ['jp-left-stack', 'jp-right-stack'];
const NARROW = '(max-width: 499px), (max-height: 419px)';

function* below(widget) {
  yield widget;
  for (const child of widget.layout || []) {
    yield* below(child);
  }
}

export class Room {
  constructor(app, lab) {
    Object.assign(this, { app, lab, hidden: false, put: new Set(), watchers: new Set() });
    this.narrow = window.matchMedia(NARROW);
    this.narrow.addEventListener('change', () => this.refit());
    window.addEventListener(
      'keydown',
      event => {
        const plain = !(event.ctrlKey || event.altKey || event.metaKey || event.shiftKey);
        if (event.key === 'F9' && plain && this.watchers.size) {
          event.preventDefault();
          event.stopPropagation();
          this.toggle();
        }
      },
      true
    );
  }

  toggle() {
    this.hidden = !this.hidden;
    this.refit();
  }

  // what is to be out of sight now
  wanted() {
    const found = new Set();
    if (!this.watchers.size) {
      return found;
    }
    for (const widget of below(this.app.shell)) {
      const side = SIDES.includes(widget.id) || widget.hasClass('jp-SideBar');
      if (side ? this.hidden || this.narrow.matches : this.hidden && BARS.includes(widget.id)) {
        found.add(widget);
      }
    }
    if (this.hidden) {
      this.watchers.forEach(page => found.add(page.panel.toolbar));
    }
    return found;
  }

  refit() {
    const wanted = this.wanted();
    for (const widget of this.put) {
      if (!wanted.has(widget) && !widget.isDisposed) {
        widget.show();
      }
    }
    const kept = new Set([...this.put].filter(widget => wanted.has(widget)));
    for (const widget of wanted) {
      if (!widget.isHidden) {
        widget.hide();
        kept.add(widget);
      }
    }
    this.put = kept;
    document.body.dataset.mensuraBars = this.hidden ? 'hidden' : 'shown';
    this.watchers.forEach(page => page.bar.show());
  }

  add(page) {
    this.watchers.add(page);
    // JupyterLab puts its own bars back while it restores its layout
    this.app.restored.then(() => this.refit());
  }

  remove(page) {
    this.watchers.delete(page);
    this.refit();
  }
}
