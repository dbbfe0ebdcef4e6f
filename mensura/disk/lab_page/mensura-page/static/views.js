// Views of widgets in the outputs of a notebook: which there are, and holding them back.
const VIEW = 'application/vnd.jupyter.widget-view+json';

export function codeCells(model) {
  return [...model.cells].filter(cell => cell.type === 'code');
}

function viewIdsOf(cell) {
  const views = cell.outputs.toJSON().map(output => output.data && output.data[VIEW]);
  return new Set(views.filter(Boolean).map(view => view.model_id));
}

export function viewIds(model) {
  return new Set(codeCells(model).flatMap(cell => [...viewIdsOf(cell)]));
}

function without(output) {
  if (!output.data || !output.data[VIEW]) {
    return output;
  }
  const { [VIEW]: view, ...data } = output.data;
  return { ...output, data };
}

// A view whose model is gone would show as a line of error. Without it the picture, the table or
// the words of the same output show. So all views are held back while nobody knows whether they
// live, and given back when they do. In memory only: what is not saved is not changed.
export function holdBack(model) {
  const dirty = model.dirty;
  const held = [];
  const ids = viewIds(model);
  for (const cell of codeCells(model)) {
    const whole = cell.outputs.toJSON();
    if (viewIdsOf(cell).size) {
      held.push({ cell, whole });
      cell.outputs.fromJSON(whole.map(without));
    }
  }
  model.dirty = dirty;
  const giveBack = () => {
    const was = model.dirty;
    for (const { cell, whole } of held) {
      if (!cell.isDisposed && !viewIdsOf(cell).size && cell.outputs.length === whole.length) {
        cell.outputs.fromJSON(whole);
      }
    }
    model.dirty = was;
  };
  return { ids, giveBack };
}
