// The inks of a picture on the page as it is at present: light, dark, printed, or with more contrast.
//
// `inksOf(element)` gives every ink's colour, `whenInksChange(deed, signal)` calls `deed` whenever
// that may have become another. The table comes from inks.py. What is printed is printed in black
// and white; then whoever asked for more contrast has it, on a light page or a dark one; then
// JupyterLab's theme says which it is. Outside JupyterLab a page is light, whatever the machine
// prefers, unless it says `data-mensura-follows-system`: its own colours would not follow.

const INKS = /*INKS*/{};

const ASKED = {
  print: 'print',
  contrast: '(prefers-contrast: more)',
  forced: '(forced-colors: active)',
  dark: '(prefers-color-scheme: dark)',
};

function asked(what) { return matchMedia(ASKED[what]).matches; }

/** Keeps, on the document and for all frames on it, whether it is just being printed. */
function watchPrinting() {
  if ('mensuraPrinting' in document) { return; }
  document.mensuraPrinting = false;
  addEventListener('beforeprint', () => { document.mensuraPrinting = true; }, { capture: true });
  addEventListener('afterprint', () => { document.mensuraPrinting = false; }, { capture: true });
}

function onDark(element) {
  const theme = document.body.dataset.jpThemeLight;
  if (theme) { return theme === 'false'; }
  return Boolean(element.closest('[data-mensura-follows-system]')) && asked('dark');
}

/** Of which kind the page round an element is, as inks.py calls it. */
function inkMode(element) {
  watchPrinting();
  if (document.mensuraPrinting || asked('print')) { return 'print'; }
  // with forced colours the page's ground is the machine's own, whatever its theme says
  if (asked('forced')) { return asked('dark') ? 'contrast-dark' : 'contrast'; }
  const dark = onDark(element);
  if (asked('contrast')) { return dark ? 'contrast-dark' : 'contrast'; }
  return dark ? 'dark' : 'light';
}

function inksOf(element) { return INKS[inkMode(element)]; }

/** Calls `deed` at once when the inks may have changed, until `signal` is aborted. */
function whenInksChange(deed, signal) {
  watchPrinting();
  const call = () => deed();
  for (const query of Object.values(ASKED)) {
    // the list is held for as long as there is something to be told
    const list = matchMedia(query);
    list.addEventListener('change', call, { signal });
  }
  for (const kind of ['beforeprint', 'afterprint']) { addEventListener(kind, call, { signal }); }
  const attributeFilter = ['data-jp-theme-light', 'data-mensura-follows-system'];
  const observer = new MutationObserver(call);
  for (const root of [document.documentElement, document.body]) {
    observer.observe(root, { attributes: true, attributeFilter });
  }
  signal?.addEventListener('abort', () => observer.disconnect());
}
