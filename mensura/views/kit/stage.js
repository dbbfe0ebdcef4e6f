// A stage comes into sight as a whole when the keyboard comes to a control of it: what is moved is
// seen to move. A pointer is where the eye is already, and nothing may slip away under it: only once
// it lets go of a control whose sentence is out of sight does the stage come. A stage that is higher
// than the page (on a phone, where its picture stays) brings the control itself.

parts.push(({ root, listen }) => {
  const outer = scroller(root);
  const high = () => (outer || document.documentElement).clientHeight;
  let pressed = -Infinity;
  let held = null;

  function bring(at) {
    const stage = at.closest('.mensura-stage');
    if (!stage) { return; }
    const whole = stage.offsetHeight <= high();
    const one = whole ? stage : at.closest('.mensura-row') || at;
    const seen = stage.querySelector('.mensura-seen');
    // not beneath the picture that stays
    const stays = seen && getComputedStyle(seen).position === 'sticky';
    if (!whole && stays) { one.style.scrollMarginTop = `${seen.offsetHeight + 8}px`; }
    one.scrollIntoView({ block: 'nearest' });
  }

  /** Whether the sentence of `at`'s stage is on the page, from its first line to its last. */
  function told(at) {
    const words = at.closest('.mensura-stage').querySelector('.mensura-status');
    if (!words) { return true; }
    const { top, bottom } = words.getBoundingClientRect();
    const edge = outer ? outer.getBoundingClientRect().top : 0;
    return top >= edge && bottom <= edge + high();
  }

  listen(root, 'pointerdown', (press) => {
    pressed = press.timeStamp;
    held = press.target.closest('.mensura-controls') && press.target;
  }, { capture: true });
  listen(window, 'pointerup', () => {
    const at = held;
    held = null;
    requestAnimationFrame(() => { if (at && at.isConnected && !told(at)) { bring(at); } });
  }, { capture: true });
  listen(root, 'focusin', (come) => {
    if (!come.target.closest('.mensura-stage') || come.timeStamp - pressed < 500) { return; }
    requestAnimationFrame(() => {
      // quick keys may have gone on meanwhile
      if (root.contains(document.activeElement)) { bring(document.activeElement); }
    });
  });
  listen(window, 'resize', () => setTimeout(() => {
    const at = document.activeElement;
    if (root.contains(at) && at.closest('.mensura-stage')) { bring(at); }
  }, 300));
});
