// Views of widgets in the outputs of a notebook: which there are, and taking away the dead ones.
const VIEW = 'application/vnd.jupyter.widget-view+json';

export function codeCells(model) {
  return [...model.cells].filter(cell => cell.type === 'code');
}

export function viewIds(model) {
  const ids = new Set();
  for (const cell of codeCells(model)) {
    for (const output of cell.outputs.toJSON()) {
      const view = output.data && output.data[VIEW];
      if (view) {
        ids.add(view.model_id);
      }
    }
  }
  return ids;
}

// A view whose model is gone would show as a line of error. Without it the picture, the table or
// the words of the same output show. In memory only: what is not saved is not changed.
export function dropDead(model, living) {
  const dirty = model.dirty;
  for (const cell of codeCells(model)) {
    const outputs = cell.outputs.toJSON();
    const dead = outputs.filter(one => one.data && one.data[VIEW] && !living.has(one.data[VIEW].model_id));
    if (dead.length) {
      dead.forEach(one => delete one.data[VIEW]);
      cell.outputs.fromJSON(outputs);
    }
  }
  model.dirty = dirty;
}
