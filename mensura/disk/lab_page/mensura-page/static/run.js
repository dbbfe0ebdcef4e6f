// Running a page: its cells one by one, nothing scrolled, nothing chosen; what raises is told and
// the rest goes on.
import { codeCells } from './views.js';

const MOST = 40;

export function nameOf(cell) {
  const first = cell.sharedModel.getSource().split('\n').find(line => line.trim()) || '';
  return first.length > MOST ? `${first.slice(0, MOST - 1)}…` : first;
}

// Runs every code cell; `goesOn` says whether it is still wanted, `at` hears of each cell before it
// runs; `order` puts them into another one than the page's. Returns the cells that raised: [{name, count, what}].
export async function runCells(lab, panel, goesOn, at, order) {
  const raised = [];
  const code = panel.content.widgets.filter(
    cell => cell.model.type === 'code' && cell.model.sharedModel.getSource().trim()
  );
  const cells = order ? order(code) : code;
  for (const [place, cell] of cells.entries()) {
    if (!goesOn() || cell.isDisposed) {
      break;
    }
    at(cell, place, cells.length);
    const reply = await lab.cells.CodeCell.execute(cell, panel.sessionContext, {
      deletedCells: panel.content.model.deletedCells || [],
    });
    if (reply && reply.content.status === 'error') {
      raised.push({
        name: nameOf(cell.model),
        count: reply.content.execution_count,
        what: reply.content.ename,
      });
    }
  }
  if (goesOn()) {
    panel.content.model.deletedCells.splice(0);
  }
  return raised;
}

// the cell that runs now, as the notebook marks it
export function runningCell(panel) {
  return panel.content.widgets.find(
    cell => cell.model.type === 'code' && /\*/.test((cell.promptNode || cell.node.querySelector('.jp-InputPrompt') || {}).textContent || '')
  );
}

export const trusted = model => codeCells(model).every(cell => cell.trusted);

export function trust(model) {
  codeCells(model).forEach(cell => {
    cell.trusted = true;
  });
}
