// A live picture that answers a pointer: where on it one presses and drags is told to the kernel, in
// the picture's own pixels, whichever of its parts is seen and however large. A finger that drags
// scrolls the page, as it does elsewhere: it is heard once it has tapped. Whatever a pointer can do
// here a control beside the picture can do as well, since nobody can point by keyboard.

/** Tells `send` of presses on `arrangement`'s canvases until the picture leaves. */
function answerPointer(arrangement, send, leaving) {
  const { rows } = arrangement;
  rows.style.cursor = 'crosshair';
  let held = null;     // the canvas that a drag began on
  let waiting = null;  // what is to be told in the next frame: the newest place

  function tell(canvas, at, first, last) {
    const found = arrangement.canvases.find(([one]) => one === canvas);
    if (!found) { return; }
    const [, [left, top, width, height]] = found;
    const seen = canvas.getBoundingClientRect();
    const inside = (share) => Math.min(Math.max(share, 0), 1);
    const x = left + width * inside((at.clientX - seen.left) / seen.width);
    const y = top + height * inside((at.clientY - seen.top) / seen.height);
    const again = waiting;
    waiting = { kind: 'pointed', x, y, first: first || Boolean(again?.first), last };
    if (again) { return; }
    requestAnimationFrame(() => {
      const told = waiting;
      waiting = null;
      if (!leaving.aborted) { send(told); }
    });
  }
  function on(kind, deed) { rows.addEventListener(kind, deed, { signal: leaving }); }

  on('pointerdown', (press) => {
    const canvas = press.target.closest('canvas');
    if (!canvas || press.button !== 0 || press.pointerType === 'touch') { return; }
    press.preventDefault();  // no words are marked by a drag
    canvas.setPointerCapture(press.pointerId);
    held = canvas;
    tell(canvas, press, true, false);
  });
  on('pointermove', (move) => { if (held) { tell(held, move, false, false); } });
  for (const end of ['pointerup', 'pointercancel']) {
    on(end, (up) => {
      if (held) { tell(held, up, false, true); }
      held = null;
    });
  }
  on('click', (tap) => {
    const canvas = tap.target.closest('canvas');
    if (canvas && tap.pointerType === 'touch') { tell(canvas, tap, true, true); }
  });
}
