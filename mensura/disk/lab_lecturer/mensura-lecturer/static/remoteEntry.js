// The way in: JupyterLab loads this file first, and here only if a lecturer opened the workbooks.
//
// As its sister's, of the extension that starts the pages: `init` is given the shared packages,
// `get` gives the extension. Of the packages only the notebook's is needed, for its list of panels.
(() => {
  const here = document.currentScript.src;
  const NOTEBOOK = '@jupyterlab/notebook';
  let scope = {};

  window._JUPYTERLAB = window._JUPYTERLAB || {};
  window._JUPYTERLAB['mensura-lecturer'] = {
    init: given => {
      scope = given;
    },
    get: async () => {
      const versions = Object.values(scope[NOTEBOOK]);
      const version = versions.find(one => one.loaded) || versions[0];
      const [buttons, make] = await Promise.all([
        import(new URL('./buttons.js', here).href),
        version.get(),
      ]);
      const made = buttons.of(make());
      return () => ({ __esModule: true, default: made });
    },
  };
})();
