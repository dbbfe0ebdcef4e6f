// Drafts: what is typed and not yet sent is told to the frame's widget, and stands in its box again
// after a reload.
//
// A text box sends its text by the Enter key or when it is left (the browser's change event). A text
// that was put back by a script is no change to the browser: so what is pressed next sends it first.
// And a press that the kernel has heard of is done only when this part has answered (heard.py).

parts.push(({ root, model, listen, changed }) => {
  const drafts = { ...model.get('drafts') };
  const seen = new WeakSet();
  const unsent = new Set();     // boxes whose text was put back and not yet sent
  const before = new WeakMap(); // what stood in a box before it was typed into
  let timer = 0;

  /** Text boxes by the words beside them; those of the same words are counted. */
  function boxes() {
    const named = new Map();
    for (const box of root.querySelectorAll('input[type=text], textarea')) {
      const words = box.labels?.[0]?.textContent || box.placeholder || 'box';
      let name = words;
      for (let k = 2; named.has(name); k += 1) { name = `${words} ${k}`; }
      named.set(name, box);
    }
    return named;
  }
  const nameOf = (box) => [...boxes()].find(([, one]) => one === box)?.[0];

  function tell() {
    clearTimeout(timer);
    timer = 0;
    model.send({ kind: 'drafts', drafts });
  }
  function soon() {
    clearTimeout(timer);
    timer = setTimeout(tell, 300);
  }
  function tellNow() { if (timer) { tell(); } }

  function putBack() {
    for (const [name, box] of boxes()) {
      if (seen.has(box)) { continue; }
      seen.add(box);
      if (name in drafts && box.value !== drafts[name]) {
        before.set(box, box.value);
        box.value = drafts[name];
        unsent.add(box);
      }
    }
  }

  function send(box) {
    unsent.delete(box);
    box.dispatchEvent(new Event('change', { bubbles: true }));
  }

  listen(root, 'focusin', ({ target }) => {
    if (target.matches(TEXT) && !unsent.has(target)) { before.set(target, target.value); }
  });
  listen(root, 'input', ({ target }) => {
    const name = target.matches(TEXT) && nameOf(target);
    if (name) { drafts[name] = target.value; soon(); }
  });
  listen(root, 'change', ({ target }) => {
    const name = target.matches(TEXT) && nameOf(target);
    unsent.delete(target);
    if (name && name in drafts) { delete drafts[name]; before.delete(target); tell(); }
  });
  listen(root, 'focusout', ({ target }) => {
    if (unsent.has(target)) { send(target); }
    tellNow();
  });
  listen(window, 'pagehide', tellNow);
  listen(root, 'keydown', ({ key, target }) => {
    if (key === 'Enter' && unsent.has(target)) { send(target); }
  }, { capture: true });
  listen(root, 'click', ({ target }) => {
    if (target.closest('button')) { unsent.forEach(send); }
  }, { capture: true });

  // a press waits for what was changed before it: by now that is on its way, ahead of this answer
  listen(model, 'msg:custom', ({ kind, turn }) => {
    if (kind === 'settle') { model.send({ kind: 'settled', turn }); }
  });

  // another student's page: what the last one typed goes, what this one typed comes
  listen(model, 'msg:custom', (told) => {
    if (told.kind !== 'placed') { return; }
    for (const [name, box] of boxes()) {
      if (name in drafts && box.value === drafts[name] && before.has(box)) {
        box.value = before.get(box);
      }
      seen.delete(box);
    }
    unsent.clear();
    Object.keys(drafts).forEach((name) => delete drafts[name]);
    Object.assign(drafts, model.get('drafts'));
    putBack();
  });

  changed(putBack);
});
