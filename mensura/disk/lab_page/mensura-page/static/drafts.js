// What was typed into a cell and is not in the file yet: kept in the browser over a reload.
//
// Only the sources of cells that differ from the file, under the page's address. They are put back
// when the page opens again, and go when the file has them. A cell that somebody else has changed
// meanwhile is left, and what was typed goes into a cell of its own below it.

function sources(model) {
  return [...model.cells].map(cell => ({
    id: cell.id,
    type: cell.type,
    source: cell.sharedModel.getSource(),
  }));
}

export class Drafts {
  constructor(base, path, forgetful) {
    this.forgetful = forgetful;
    this.key = `mensura-draft ${base}${path}`;
    this.file = new Map();
  }

  // the model is as the file is now
  same(model) {
    this.known(model);
    this.drop();
  }

  known(model) {
    this.file = new Map(sources(model).map(cell => [cell.id, cell.source]));
  }

  drop() {
    try {
      localStorage.removeItem(this.key);
    } catch {
      // no storage, no draft
    }
  }

  // whether what is not in the file is safe now
  keep(model) {
    const now = sources(model);
    const cells = now
      .map((cell, place) => ({ ...cell, after: place ? now[place - 1].id : null, was: this.file.get(cell.id) ?? null }))
      .filter(cell => cell.was !== cell.source);
    const left = new Set(now.map(cell => cell.id));
    const gone = [...this.file].filter(([id]) => !left.has(id)).map(([id, was]) => ({ id, was }));
    try {
      if (this.forgetful) {
        return cells.length + gone.length === 0;
      }
      if (cells.length || gone.length) {
        localStorage.setItem(this.key, JSON.stringify({ cells, gone }));
      } else {
        localStorage.removeItem(this.key);
      }
      return true;
    } catch {
      return cells.length + gone.length === 0;
    }
  }

  // puts back what was kept; returns how many cells it changed
  putBack(model) {
    let kept;
    try {
      kept = JSON.parse(localStorage.getItem(this.key) || 'null');
    } catch {
      kept = null;
    }
    if (!kept || !Array.isArray(kept.cells)) {
      return 0;
    }
    let count = 0;
    const place = id => [...model.cells].findIndex(cell => cell.id === id);
    const insert = (at, cell, id) => {
      const metadata = cell.type === 'code' ? { trusted: true } : {};
      const made = { cell_type: cell.type, source: cell.source, metadata };
      model.sharedModel.insertCell(at, id ? { ...made, id } : made);
    };
    for (const cell of kept.cells) {
      const at = place(cell.id);
      const now = at < 0 ? null : model.cells.get(at).sharedModel.getSource();
      if (now === cell.source) {
        continue;
      }
      count += 1;
      if (at >= 0 && now === cell.was) {
        model.cells.get(at).sharedModel.setSource(cell.source);
      } else if (at >= 0) {
        insert(at + 1, cell);
      } else {
        const before = place(cell.after);
        insert(before < 0 ? (cell.after ? model.cells.length : 0) : before + 1, cell, cell.id);
      }
    }
    for (const { id, was } of kept.gone || []) {
      const at = place(id);
      if (at >= 0 && model.cells.length > 1 && model.cells.get(at).sharedModel.getSource() === was) {
        model.sharedModel.deleteCell(at);
        count += 1;
      }
    }
    return count;
  }
}

// No question of the browser stands in the way of a reload, if all that is not in a file is kept.
export function keepBeforeLeaving(app, lab, pages) {
  lab.leaving.act = event => {
    const dirty = [...app.shell.widgets('main')].filter(
      widget => widget.context && widget.context.model && widget.context.model.dirty
    );
    const safe = dirty.map(widget => {
      const page = pages.get(widget);
      return Boolean(page && page.kind && page.drafts.keep(widget.context.model));
    });
    if (dirty.length && safe.every(Boolean)) {
      event.stopImmediatePropagation();
    }
  };
}
