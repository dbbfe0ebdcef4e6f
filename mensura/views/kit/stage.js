// A stage comes into sight as a whole when the keyboard comes to a control of it: what is moved is
// seen to move. A pointer is where the eye is already, and nothing may slip away under it.

parts.push(({ root, listen }) => {
  let pressed = -Infinity;
  listen(root, 'pointerdown', (press) => { pressed = press.timeStamp; }, { capture: true });
  listen(root, 'focusin', (come) => {
    const stage = come.target.closest('.mensura-stage');
    if (!stage || come.timeStamp - pressed < 500) { return; }
    requestAnimationFrame(() => {
      // quick keys may have gone on meanwhile
      if (stage.contains(document.activeElement)) { stage.scrollIntoView({ block: 'nearest' }); }
    });
  });
});
