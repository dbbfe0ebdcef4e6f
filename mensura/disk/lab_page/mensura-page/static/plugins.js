// What JupyterLab is given: one plugin that meets every notebook, and one for a lost connection.
import { Page } from './page.js';
import { Room } from './room.js';
import { keepBeforeLeaving } from './drafts.js';
import { Others } from './others.js';

// what the server told of its pages, in the page itself: names that no file can add to
function told(lab) {
  try {
    const given = JSON.parse(lab.coreutils.PageConfig.getOption('mensura') || '{}');
    return { pages: new Set(given.pages || []), version: given.version || '' };
  } catch {
    return { pages: new Set(), version: '' };
  }
}

function style() {
  for (const name of ['page', 'lesson']) {
    const link = document.createElement('link');
    link.rel = 'stylesheet';
    link.href = new URL(`./${name}.css`, import.meta.url).href;
    document.head.append(link);
  }
}

export function of(lab) {
  const pages = new Map();

  const meet = {
    id: 'mensura-page:pages',
    description: 'Starts the pages that mensura laid out, and watches over them.',
    autoStart: true,
    requires: [lab.notebook.INotebookTracker],
    activate: (app, tracker) => {
      style();
      const room = new Room(app, lab);
      const others = new Others();
      const known = told(lab);
      const add = panel => {
        const page = new Page({ app, lab, room, others, known }, panel);
        pages.set(panel, page);
        panel.disposed.connect(() => {
          pages.delete(panel);
          page.dispose();
        });
      };
      tracker.forEach(add);
      tracker.widgetAdded.connect((_, panel) => add(panel));
      keepBeforeLeaving(app, lab, pages);
    },
  };

  // a lost server is told in the bar of each page: JupyterLab's own dialog stays for the others
  const lost = {
    id: 'mensura-page:lost',
    description: 'Tells of a lost connection in the page and not in a dialog.',
    autoStart: true,
    provides: lab.application.IConnectionLost,
    activate: () => (manager, error, translator) => {
      const ours = [...pages.values()].filter(page => page.kind);
      ours.forEach(page => page.watch.now());
      return ours.length ? Promise.resolve() : lab.application.ConnectionLost(manager, error, translator);
    },
  };

  return lab.application.IConnectionLost ? [meet, lost] : [meet];
}
