// The way in: JupyterLab loads this file first and hands it the packages it shares.
//
// It asks for `init` with the shared packages, name → version → a promise of what makes the module,
// and then for the extension by `get`. There is no build step: what follows are plain modules.
(() => {
  const here = document.currentScript.src;
  const PACKAGES = {
    application: '@jupyterlab/application',
    cells: '@jupyterlab/cells',
    coreutils: '@jupyterlab/coreutils',
    notebook: '@jupyterlab/notebook',
    services: '@jupyterlab/services',
    widgets: '@lumino/widgets',
  };
  let scope = {};

  // who listens first is heard first: JupyterLab's own question comes later than this
  const leaving = { act: null };
  window.addEventListener('beforeunload', event => leaving.act && leaving.act(event), true);

  // A browser that keeps nothing lets JupyterLab turn in a circle, and sends no cookie along a
  // channel: for as long as the page is open a stand-in keeps what is asked, and the token goes with
  // the channel's address.
  function standIn() {
    try {
      return !window.localStorage;
    } catch {
      const kept = new Map();
      const store = {
        getItem: key => (kept.has(String(key)) ? kept.get(String(key)) : null),
        setItem: (key, value) => void kept.set(String(key), String(value)),
        removeItem: key => void kept.delete(String(key)),
        clear: () => kept.clear(),
        key: place => [...kept.keys()][place] ?? null,
        get length() {
          return kept.size;
        },
      };
      Object.defineProperty(window, 'localStorage', { value: store, configurable: true });
      const data = document.getElementById('jupyter-config-data');
      data.textContent = JSON.stringify({ ...JSON.parse(data.textContent), appendToken: 'true' });
      return true;
    }
  }
  const forgetful = standIn();

  // of several versions the one that is in use, or else the newest
  function chosen(versions) {
    const number = text => text.split('.').reduce((sum, part) => sum * 1e4 + parseInt(part, 10), 0);
    const names = Object.keys(versions).sort((a, b) => number(b) - number(a));
    return versions[names.find(name => versions[name].loaded) || names[0]];
  }

  async function load(name) {
    return (await chosen(scope[name]).get())();
  }

  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB['mensura-page'] = {
    init: given => {
      scope = given;
    },
    get: async () => {
      const [plugins, ...found] = await Promise.all([
        import(new URL('./plugins.js', here).href),
        ...Object.values(PACKAGES).map(load),
      ]);
      const lab = { leaving, forgetful };
      Object.keys(PACKAGES).forEach((key, place) => {
        lab[key] = found[place];
      });
      const made = plugins.of(lab);
      return () => ({ __esModule: true, default: made });
    },
  };
})();
