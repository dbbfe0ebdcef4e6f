// The frame round everything of ours in a notebook: it finds its box and calls its parts.
//
// The module is this file and, joined behind it, the others that frame.py names in SCRIPTS. A part
// is a function pushed to `parts`, called once the frame is on the page:
//
//   parts.push(({root, el, model, listen, changed, leaving}) => { ... });
//
// root: the frame's box; el: the place in it for what the frame itself says; model: of the frame's
// widget; listen(target, kind, deed, options): as addEventListener, or as model.on, until the frame
// leaves;
// changed(look): calls look now, and whenever something in the frame is drawn anew; leaving: a
// signal that is aborted when the frame leaves the page. Only the first frame of a kernel brings this
// module, and gives it to the page; the others take it from there (waiting.js). Two kernels' pages may
// stand in one window: what frames share lies on the page, not in a variable here.

const parts = [];

/** The box that `el` came to stand in; a widget's element is put into the page a moment later. */
function enclosing(el, leaving) {
  return new Promise((found) => {
    function look() {
      const root = el.isConnected && el.closest('.mensura-frame');
      if (root) { found(root); } else if (!leaving.aborted) { requestAnimationFrame(look); }
    }
    look();
  });
}

/** Calls `look` now and whenever elements come or go in `root`, at most once a frame painted. */
function watch(root, look, leaving) {
  let waiting = false;
  const observer = new MutationObserver(() => {
    if (waiting) { return; }
    waiting = true;
    queueMicrotask(() => { waiting = false; look(); });
  });
  observer.observe(root, { childList: true, subtree: true });
  leaving.addEventListener('abort', () => observer.disconnect());
  look();
}

const frame = {
  initialize() { document.mensuraFrame = frame; },

  render({ model, el }) {
    const gone = new AbortController();
    const leaving = gone.signal;
    el.classList.add('mensura-told');
    enclosing(el, leaving).then((root) => {
      function listen(target, kind, deed, options = {}) {
        if (target === model) {
          model.on(kind, deed);
          leaving.addEventListener('abort', () => model.off(kind, deed));
        } else {
          target.addEventListener(kind, deed, { ...options, signal: leaving });
        }
      }
      const looks = [];
      const changed = (look) => { looks.push(look); look(); };
      for (const part of parts) { part({ root, el, model, listen, changed, leaving }); }
      watch(root, () => looks.forEach((look) => look()), leaving);
      root.dataset.keys = '1';
    });
    return () => gone.abort();
  },
};

export default frame;

/** What the page scrolls in: the nearest box round the whole output that does; null for the window. */
function scroller(root) {
  let outer = root;
  for (let area = root; area; area = area.parentElement.closest('.jp-OutputArea')) { outer = area; }
  for (let box = outer.parentElement; box && box !== document.body; box = box.parentElement) {
    if (/auto|scroll/.test(getComputedStyle(box).overflowY) && box.clientHeight) { return box; }
  }
  return null;
}

// How much of the page is seen at once, for the style sheet: --mensura-high and --mensura-wide.
parts.push(({ root, listen, leaving }) => {
  const outer = scroller(root);
  const seen = outer || document.documentElement;
  function measure() {
    if (!seen.clientHeight) { return; }  // a page behind another
    root.style.setProperty('--mensura-high', `${seen.clientHeight}px`);
    root.style.setProperty('--mensura-wide', `${seen.clientWidth}px`);
  }
  if (outer) {
    const observer = new ResizeObserver(measure);
    observer.observe(outer);
    leaving.addEventListener('abort', () => observer.disconnect());
  } else {
    listen(window, 'resize', measure);
  }
  measure();
});
