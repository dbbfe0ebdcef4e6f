// A problem: its text large, then what unfolds beneath it; what came first gives way to what comes.

kinds.unfolding = ({ root, el, model, size }) => {
  const told = model.get('told');
  const box = made('section', 'mensura-unfolding', '', { 'data-mensura-fitted': '' });
  const head = made('p', 'mensura-heading', '', { role: 'heading', 'aria-level': '2' });
  head.append(made('b', '', told.heading));
  const text = made('p', 'mensura-problem-text', told.text);
  const numbers = made('p', 'mensura-quiet', told.numbers);
  const list = made('div', 'mensura-pages', '', { role: 'status', 'aria-live': 'polite' });
  const tools = made('div', 'mensura-screen-bar');
  const go = counted(model);
  const back = button('mensura-fold', '◀ Back', () => { go.back(); fit(); });
  const next = button('mensura-unfold', '', () => { go.next(); fit(); });
  tools.append(back, next);
  box.append(head, text, numbers, list, tools);
  el.append(box);
  const pages = told.pages.map(({ name, text: words }) => {
    const p = made('p');
    p.append(made('b', '', `${name}. `), words);
    return p;
  });

  function fit() {
    const at = model.get('at');
    back.disabled = at === 0;
    next.disabled = at === pages.length;
    next.textContent = at < pages.length ? `${told.pages[at].name} ▶` : 'All is shown';
    const shown = pages.slice(0, at);
    if (list.children.length !== at) { list.replaceChildren(...shown); }
    shown.forEach((one) => { one.hidden = false; });
    const picture = root.querySelector('.mensura-picture [data-parts]');
    const wide = picture ? Number(picture.getAttribute('width')) : 0;
    const high = picture ? Number(picture.getAttribute('height')) : 0;
    const least = size.letters / SHOWN_LETTER;
    const seen = picture ? Math.min(size.wide * 0.46, wide * Math.max(least, Math.min(1.1, (size.high - 8) / high))) : 0;
    root.style.setProperty('--picture-wide', `${seen}px`);
    root.style.setProperty('--picture-tall', `${size.high - 8}px`);
    root.style.setProperty('--picture-least', least);
    box.style.height = `${size.high}px`;
    const over = () => box.scrollHeight > box.clientHeight + 1;
    const gives = at ? [numbers, head, text] : [numbers];
    gives.forEach((one) => { one.hidden = false; });
    for (const px of [22, 20, 19, 18, 17, 16, 15]) {
      box.style.setProperty('--large', `${px}px`);
      box.style.setProperty('--middle', `${Math.max(15, px - 2)}px`);
      shown.forEach((one) => { one.hidden = false; });
      // before letters shrink to the least, what was read first gives way
      for (let k = 0; k < at - 1 && over(); k += 1) { shown[k].hidden = true; }
      if (!over()) { return; }
    }
    // the least letters are too large still: what the class has read gives way to what is new
    for (const one of gives) {
      one.hidden = true;
      if (!over()) { return; }
    }
  }
  return { fit, ...go };
};
