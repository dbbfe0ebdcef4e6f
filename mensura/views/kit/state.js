// The page's state: what cannot answer says so, looks so, and offers to start; and what the bar above
// the notebook and the kernel have to tell each other goes through here.
//
// Our page extension writes on the notebook's panel how the page is: data-mensura-page is starting,
// alive, asleep or gone, data-mensura-why a sentence. Without it a frame goes by the class that
// ipywidgets gives to what lost its kernel.

const MOVED = '.widget-button, .widget-dropdown, .widget-radio, .widget-checkbox, .widget-hslider,'
  + ' .widget-slider';
const LOST = 'Nothing here can answer: the page has lost its kernel.';
const RUN = 'In the menu Run, choose Run All Cells; what was typed is kept.';

parts.push(({ root, el, model, listen, changed, leaving }) => {
  const panel = root.closest('.jp-NotebookPanel') || root.closest('[data-mensura-page]') || root;
  const alarm = document.createElement('div');
  const note = document.createElement('p');
  alarm.className = 'mensura-alarm';
  alarm.setAttribute('role', 'alert');
  note.className = 'mensura-frame-note';
  note.setAttribute('role', 'status');

  /** Stands in the frame while it says something: an alert that comes is announced. */
  function place(one, shown) {
    if (!shown) { one.remove(); } else if (!one.isConnected) { el.append(one); }
  }

  const lost = () => el.closest('.jupyter-widgets-disconnected') !== null
    || root.classList.contains('jupyter-widgets-disconnected');

  /** '' if the frame works, else one sentence. */
  function trouble() {
    const state = panel.dataset.mensuraPage;
    if (state === 'gone' || state === 'asleep') { return panel.dataset.mensuraWhy || LOST; }
    return lost() && state !== 'starting' ? LOST : '';
  }

  function deaden(dead) {
    root.classList.toggle('mensura-dead', dead);
    for (const one of root.querySelectorAll(MOVED)) { one.inert = dead; }
    for (const box of root.querySelectorAll(TEXT)) {
      box.readOnly = dead;
      if (dead) { box.setAttribute('aria-disabled', 'true'); }
      else { box.removeAttribute('aria-disabled'); }
    }
  }

  function alarmed(sentence) {
    if (alarm.dataset.says === sentence) { return; }
    alarm.dataset.says = sentence;
    alarm.replaceChildren();
    place(alarm, sentence !== '');
    if (!sentence) { return; }
    const words = document.createElement('span');
    words.textContent = panel.dataset.mensuraPage ? sentence : `${sentence} ${RUN}`;
    alarm.append(words);
    if (!panel.dataset.mensuraPage) { return; }
    const start = document.createElement('button');
    start.textContent = 'Start again';
    start.className = 'jupyter-button';
    start.addEventListener('click', () =>
      root.dispatchEvent(new CustomEvent('mensura:start', { bubbles: true })));
    alarm.append(' ', start);
  }

  function look() {
    const sentence = trouble();
    alarmed(sentence);
    deaden(sentence !== '');
    if (note.textContent !== model.get('note')) { note.textContent = model.get('note'); }
    place(note, note.textContent !== '');
    el.classList.toggle('mensura-telling', sentence !== '' || note.textContent !== '');
  }

  // whoever tries a control that cannot answer is shown why
  listen(root, 'click', ({ target }) => {
    if (alarm.isConnected && !el.contains(target)) { alarm.scrollIntoView({ block: 'nearest' }); }
  });

  const states = new MutationObserver(look);
  states.observe(panel, { attributeFilter: ['data-mensura-page', 'data-mensura-why'] });
  states.observe(el, { attributeFilter: ['class'] });
  states.observe(root, { attributeFilter: ['class'] });
  leaving.addEventListener('abort', () => states.disconnect());
  listen(model, 'change:note', look);
  changed(look);

  // whose page it is, for the bar
  function tellSeat() {
    const detail = { student: model.get('student'), note: model.get('student_note') };
    root.dispatchEvent(new CustomEvent('mensura:seat', { bubbles: true, detail }));
  }
  listen(model, 'change:student', tellSeat);
  listen(model, 'change:student_note', tellSeat);
  tellSeat();

  // what the bar asks for: the first frame that can tell the kernel takes it
  function passOn(kind, message) {
    listen(panel, kind, (event) => {
      if (lost()) { return; }
      event.stopImmediatePropagation();
      model.send(message(event.detail));
    });
  }
  passOn('mensura:code', (detail) => ({ kind: 'code', code: String(detail?.code ?? '') }));
  passOn('mensura:forget', () => ({ kind: 'forget' }));
  listen(model, 'msg:custom', (told) => {
    if (told.kind === 'forgotten') {
      root.dispatchEvent(new CustomEvent('mensura:forgotten', { bubbles: true }));
    }
  });

  // another page may have been told another code meanwhile
  listen(window, 'focus', () => {
    if (panel.querySelector('.mensura-frame') === root && !lost()) { model.send({ kind: 'look' }); }
  });
});
