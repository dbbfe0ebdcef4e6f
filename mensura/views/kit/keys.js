// Keys: what is pressed in anything of ours stays there, and is no command to the notebook.
//
// Chords with Ctrl, Alt or Cmd go on to JupyterLab, unless they end in Enter, which would run the
// cell and drop what stands in it; so do the function keys. A text box of ipywidgets lets no key
// out at all: what is to be heard outside is sent on from the frame.

const TEXT = 'input[type=text], textarea';

function isChord(press) { return press.altKey || press.ctrlKey || press.metaKey; }

/** Whether the notebook is to hear it. */
function goesOut(press) {
  return /^F\d+$/.test(press.key) || (isChord(press) && press.key !== 'Enter');
}

/** Whether it is for all of the page, wherever the focus is: saving, and the function keys. */
function isForThePage(press) {
  const saves = (press.ctrlKey || press.metaKey) && press.key.toLowerCase() === 's';
  return /^F\d+$/.test(press.key) || (saves && !press.altKey);
}

/** What is drawn anew under the focus would drop it: what stands in its place takes it. */
function keepFocus(root, listen, changed) {
  let last = null;
  listen(root, 'focusin', ({ target }) => { last = target; });
  listen(root, 'focusout', ({ target, relatedTarget }) => queueMicrotask(() => {
    if (last === target && (relatedTarget || target.isConnected)) { last = null; }
  }));
  changed(() => {
    if (!last || last.isConnected || document.activeElement !== document.body) { return; }
    const name = last.className && `.${last.classList[0]}`;
    const heir = (name && root.querySelector(`${name}[tabindex]`)) || root;
    last = null;
    heir.focus({ preventScroll: true });
  });
}

parts.push(({ root, listen, changed }) => {
  keepFocus(root, listen, changed);
  // what is clicked into keeps the keys, even where there is nothing to click
  root.tabIndex = -1;
  root.style.outline = 'none';

  listen(root, 'keydown', (press) => {
    if (!press.target.matches(TEXT) || !isForThePage(press)) { return; }
    press.preventDefault();
    press.stopImmediatePropagation();
    root.dispatchEvent(new KeyboardEvent('keydown', press));
  }, { capture: true });

  listen(root, 'keydown', (press) => {
    const way = { ArrowLeft: '.mensura-back', ArrowRight: '.mensura-next' }[press.key];
    const button = way && root.querySelector(way);
    const free = !press.target.closest('input,select,textarea,[role=slider]');
    if (button && free && !isChord(press) && !press.shiftKey) {
      press.preventDefault();
      press.stopPropagation();
      button.click();
      return;
    }
    if (goesOut(press)) { return; }
    press.stopPropagation();
    const letter = press.key.length === 1 && press.key !== ' ';
    if (letter && root.classList.contains('mensura-letters-to-box')
        && press.target.closest('[type=radio],[type=checkbox]')) {
      root.querySelector('input[type=text]').focus();
    }
  });
});
