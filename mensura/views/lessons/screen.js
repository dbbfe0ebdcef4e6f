// A screen of a lesson: it gives its frame the size of its room, enlarged, and hears who presents.
//
// The module is this file and, joined behind it, the others that screen.py names in SCRIPTS. A kind
// of screen is a function in `kinds`, called once the frame is on the page:
//
//   kinds.name = ({ root, el, model, listen, size, leaving }) => ({ fit, next, back, key, enter, leave });
//
// root: the frame's box; el: the place in it for what the screen itself shows; listen(target, kind,
// deed): as addEventListener, or as model.on, until the screen leaves; size: { wide, high, letters } in
// the frame's own pixels, always as it is now: letters says how large a picture's letters must be.
// What it returns is called, where it is there: fit whenever the room or something in the frame is
// another; next and back, which say whether there was something to unfold or to fold; key(name), which
// says whether it was the screen's; enter and leave.

const kinds = { plain: asItIs };

const LEAST_FACTOR = 1.6;       // 15 px letters of a page are 24 px high then
const PAGE = [800, 450];        // what a screen holds, in a page's pixels, when it is larger than that
const SHOWN_LETTER = 44 / 3;    // 11 pt, the least letters of a picture, in its own pixels
const GAME_SHARE = 0.85;        // of a picture's least letters, where words and picture need one screen
const SMALL = [640, 360];       // in a smaller window letters shrink before this is undercut

/** What is shown as it is: as large as the others, or as much smaller as it takes to see all of it.
    A game's picture stands above its choices, as high as they leave it. */
function asItIs({ root, size }) {
  const above = () => root.classList.contains('mensura-game') && root.querySelector('.mensura-picture img');
  const heard = new WeakSet();

  /** Whether the picture's letters are large enough in the room that the choices leave. */
  function fitsAbove(img, factor) {
    if (!heard.has(img)) { heard.add(img); img.addEventListener('load', fit); }
    const [wide, high] = ['width', 'height'].map((side) => Number(img.getAttribute(side)));
    const tall = size.high * size.factor / factor - root.querySelector('.mensura-controls').scrollHeight - 14;
    root.style.setProperty('--picture-tall', `${Math.max(40, tall)}px`);
    const scale = Math.min(tall / high, size.wide * size.factor / factor / wide);
    return scale * SHOWN_LETTER * factor >= GAME_SHARE * size.letters * size.factor;
  }

  function fit() {
    root.classList.remove('mensura-overfull');
    root.classList.toggle('mensura-pictured', Boolean(above()));
    for (let factor = size.factor; factor >= 1; factor -= 0.1) {
      enlarge(root, size, factor);
      const img = above();
      if (img && !fitsAbove(img, factor)) { continue; }
      const inner = [root, ...root.querySelectorAll('.mensura-controls, .mensura-lines')];
      if (inner.every((one) => one.scrollHeight <= one.clientHeight + 1)) { return; }
    }
    root.classList.add('mensura-overfull');
  }
  return { fit };
}

/** How large a picture's letters must be in a window, in its pixels. */
function leastLetters() { return Math.max(13, Math.min(innerWidth / 80, innerHeight / 45)); }

/** The box that a screen fills; null on an ordinary page, where it is shown small. */
function roomOf(root) {
  return root.closest('[data-mensura-room]')
    || (root.closest('[data-mensura-lesson]') && root.closest('.jp-WindowedPanel-outer'));
}

const zoomOf = (element) => element?.currentCSSZoom || 1;

/** Sets the frame's enlargement; it stays as large as its room. */
function enlarge(root, size, factor) {
  const [wide, high] = [size.wide, size.high].map((one) => `${(one * size.factor) / factor}px`);
  root.style.zoom = factor / zoomOf(root.parentElement);
  Object.assign(root.style, { margin: '0', width: wide, height: high });
  root.style.setProperty('--screen-wide', wide);
  root.style.setProperty('--screen-high', high);
}

/** Gives the frame its size; says whether it is another than before. */
function fill(root, size) {
  const room = roomOf(root);
  const outer = root.parentElement;
  if (!outer) { return false; }
  let [wide, high, factor] = [0, 0, 1];
  if (room) {
    // what the room is, in the window's own pixels, less its padding
    const { paddingLeft, paddingRight, paddingTop, paddingBottom } = getComputedStyle(room);
    const near = zoomOf(room);
    wide = (room.clientWidth - parseFloat(paddingLeft) - parseFloat(paddingRight)) * near;
    high = (room.clientHeight - parseFloat(paddingTop) - parseFloat(paddingBottom)) * near;
    factor = Math.max(Math.min(LEAST_FACTOR, innerWidth / SMALL[0], innerHeight / SMALL[1]),
      Math.min(wide / PAGE[0], high / PAGE[1]));
  } else {
    wide = outer.clientWidth * zoomOf(outer);
    high = wide * PAGE[1] / PAGE[0];
    factor = wide / PAGE[0];
  }
  if (!(wide > 0 && high > 0)) { return false; }
  const told = [wide, high, factor, zoomOf(outer), innerWidth, innerHeight].join();
  if (told === size.told) { return false; }
  Object.assign(size, { told, wide: wide / factor, high: high / factor, factor });
  size.letters = (room ? leastLetters() : factor * 10) / factor;
  enlarge(root, size, factor);
  if (room) { toCorner(root, room, factor); }
  return true;
}

/** Takes back what the notebook leaves empty round an output. */
function toCorner(root, room, factor) {
  const [at, of, style] = [root.getBoundingClientRect(), room.getBoundingClientRect(), getComputedStyle(room)];
  const near = zoomOf(room);
  const off = (from, padding) => Math.min(24, Math.max(-24, from - parseFloat(padding) * near)) / factor;
  root.style.margin = `${-off(at.top - of.top, style.paddingTop)}px 0 0 ${-off(at.left - of.left, style.paddingLeft)}px`;
}

/** An element with its class, its words and whatever else it has. */
function made(kind, name = '', words = '', more = {}) {
  const one = document.createElement(kind);
  if (name) { one.className = name; }
  if (words) { one.textContent = words; }
  for (const [key, value] of Object.entries(more)) { one.setAttribute(key, value); }
  return one;
}

function button(name, words, deed) {
  const one = made('button', name, words, { type: 'button' });
  one.addEventListener('click', deed);
  return one;
}

/** Unfolding that is counted by the model's `at` and `last`. */
function counted(model, first = 0) {
  const go = (by) => {
    const at = model.get('at') + by;
    if (at < first || at > model.get('last')) { return false; }
    model.set('at', at);
    model.save_changes();
    return true;
  };
  return { next: () => go(1), back: () => go(-1) };
}

/** The frame that `el` came to stand in; a widget's element is put into the page a moment later. */
function frameOf(el, leaving) {
  return new Promise((found) => {
    (function look() {
      const root = el.isConnected && el.closest('.mensura-screen');
      if (root) { found(root); } else if (!leaving.aborted) { requestAnimationFrame(look); }
    })();
  });
}

const screen = {
  initialize() { document.mensuraScreen = screen; },

  render({ model, el }) {
    const gone = new AbortController();
    const leaving = gone.signal;
    el.classList.add('mensura-screen-part');
    frameOf(el, leaving).then((root) => {
      function listen(target, kind, deed) {
        if (target === model) {
          model.on(kind, deed);
          leaving.addEventListener('abort', () => model.off(kind, deed));
        } else {
          target.addEventListener(kind, deed, { signal: leaving });
        }
      }
      const size = {};
      const one = kinds[model.get('kind')]({ root, el, model, listen, size, leaving });
      stand(root, el, model, listen, size, one, leaving);
    });
    return () => gone.abort();
  },
};

function stand(root, el, model, listen, size, one, leaving) {
  let waiting = false;
  const fit = () => {
    if (waiting) { return; }
    waiting = true;
    requestAnimationFrame(() => {
      waiting = false;
      if (leaving.aborted || !root.isConnected) { return; }
      fill(root, size);
      if (size.wide) { one.fit?.(); }
    });
  };
  const sizes = new ResizeObserver(fit);
  for (const box of [root.parentElement, roomOf(root)]) { if (box) { sizes.observe(box); } }
  // what is written by the kernel or by another hand is fitted; what fitting itself does is not
  const changes = new MutationObserver((list) => {
    if (list.some(({ target }) => !target.closest?.('[data-mensura-fitted]'))) { fit(); }
  });
  changes.observe(root, { childList: true, subtree: true, characterData: true });
  leaving.addEventListener('abort', () => { sizes.disconnect(); changes.disconnect(); });
  listen(window, 'resize', fit);
  for (const name of ['at', 'value', 'told', 'note']) { listen(model, `change:${name}`, fit); }

  const answer = (deed) => (event) => {
    if (one[deed]?.(event.detail || {})) { event.preventDefault(); fit(); }
  };
  listen(root, 'mensura:next', answer('next'));
  listen(root, 'mensura:back', answer('back'));
  let heard = '';
  listen(root, 'mensura:key', (event) => {
    heard = event.detail.key;
    setTimeout(() => { heard = ''; }, 0);
    if (one.key?.(heard)) { event.preventDefault(); fit(); }
  });
  // a key that is pressed in the frame itself does not go out of it (keys.js)
  listen(root, 'keydown', (press) => {
    const plain = !(press.altKey || press.ctrlKey || press.metaKey) && !press.defaultPrevented;
    const typing = press.target.closest('input, select, textarea, [role=slider]');
    if (!plain || typing || heard === press.key) { return; }
    if (one.key?.(press.key)) { press.preventDefault(); fit(); }
  });
  listen(root, 'mensura:enter', () => { one.enter?.(); fit(); });
  listen(root, 'mensura:leave', () => one.leave?.());
  fit();
}

export default screen;
