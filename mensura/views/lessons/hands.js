// A show of hands: the question, its answers with a key each, and how many hands were raised for it.

/** Bars of one answer: what each says, how it is drawn, and how long it is. */
function barsOf(value, k) {
  const share = (hands) => {
    const all = hands.reduce((sum, one) => sum + one, 0);
    return all ? Math.round((100 * hands[k]) / all) : 0;
  };
  const bars = [{ kind: 'now', name: 'now', hands: value.now[k], share: share(value.now) }];
  if (value.then.length) {
    bars.unshift({ kind: 'then', name: 'then', hands: value.then[k], share: share(value.then) });
  }
  if (value.year.date) {
    const year = value.year.date.slice(0, 4);
    bars.push({ kind: 'year', name: year === value.date.slice(0, 4) ? 'before' : year, hands: value.year.hands[k],
      share: share(value.year.hands) });
  }
  return bars;
}

kinds.hands = ({ root, el, model, size }) => {
  const told = model.get('told');
  const many = told.options.length;
  const box = made('section', 'mensura-hands', '', { 'data-mensura-fitted': '' });
  const asked = made('p', 'mensura-asked', '', { role: 'heading', 'aria-level': '2' });
  asked.append(made('b', '', `${told.heading}. `), told.question);
  const list = made('ol', 'mensura-answers');
  const said = made('div', 'mensura-said-to-class', '', { role: 'status', 'aria-live': 'polite' });
  const tools = made('div', 'mensura-screen-bar');
  const total = made('span', 'mensura-total', '', { role: 'status', 'aria-live': 'polite' });
  const note = made('p', 'mensura-note');
  const show = button('mensura-show-answer', '', () => reveal());
  const again = button('mensura-ask-again', 'Ask again (N)', () => askAgain());
  const back = button('mensura-take-back', 'Take back (⌫)', () => takeBack());
  // what would put all counts to nothing is pressed twice
  const anew = button('mensura-new-class', 'New class', () => {
    const sure = anew.dataset.sure === 'yes';
    anew.dataset.sure = sure ? '' : 'yes';
    anew.textContent = sure ? 'New class' : 'All counts to 0? Press again';
    if (sure) { model.send({ kind: 'anew' }); }
  });
  anew.addEventListener('blur', () => {
    anew.dataset.sure = '';
    anew.textContent = 'New class';
  });
  tools.append(show, again, back, anew, total);
  box.append(asked, list, said, tools, note);

  const raise = (k) => model.send({ kind: 'hand', option: k });
  const rows = told.options.map((option, k) => {
    const row = made('li', 'mensura-answer', '', option.right ? { 'data-right': '' } : {});
    const one = button('mensura-raise', '', () => raise(k));
    const mark = made('b', 'mensura-mark', '✓ right');
    one.append(made('kbd', '', String(k + 1)), made('span', '', option.text), mark);
    const bars = made('div', 'mensura-tallies');
    const name = `${k + 1}, ${option.text}`;
    one.setAttribute('aria-label', `One hand for ${name}`);
    const count = made('input', 'mensura-hand-count', '',
      { type: 'number', min: '0', max: '9999', step: '1', 'aria-label': `Hands for ${name}` });
    count.addEventListener('change', () => {
      const hands = Math.min(9999, Math.max(0, Math.round(Number(count.value) || 0)));
      model.send({ kind: 'put', option: k, hands });
    });
    count.addEventListener('focus', () => count.select());
    count.addEventListener('keydown', (press) => {
      if (press.key === 'Enter') { count.blur(); root.focus({ preventScroll: true }); }
    });
    const less = button('mensura-less', '−', () => model.send({ kind: 'back', option: k }));
    less.setAttribute('aria-label', `One hand less for ${name}`);
    row.append(one, bars, less, count);
    list.append(row);
    return { row, one, mark, bars, count, option, name };
  });
  el.append(box);

  const go = counted(model);
  const reveal = () => (model.get('at') ? go.back() : go.next()) && (fit(), true);
  const askAgain = () => { model.send({ kind: 'again' }); return true; };
  const takeBack = () => { model.send({ kind: 'back' }); return true; };

  function write() {
    const value = model.get('value');
    if (!value.now) { return false; }
    const open = model.get('at') > 0;
    for (const [k, { row, one, mark, bars, count, option, name }] of rows.entries()) {
      row.classList.toggle('mensura-is-right', open && option.right);
      mark.hidden = !(open && option.right);
      one.setAttribute('aria-label',
        `One hand for ${name}${open && option.right ? ', the right answer' : ''}`);
      if (document.activeElement !== count) { count.value = String(value.now[k]); }
      const drawn = barsOf(value, k);
      bars.replaceChildren(...drawn.map((bar) => {
        const line = made('div', `mensura-tally mensura-${bar.kind}`);
        const stroke = made('i', '', '', { 'aria-hidden': 'true' });
        stroke.style.width = `${bar.share}%`;
        stroke.hidden = !bar.hands;
        const way = made('span', 'mensura-way');
        way.append(stroke);
        const words = made('span', 'mensura-share', `${bar.hands} · ${bar.share} %`);
        line.append(made('span', 'mensura-when', drawn.length > 1 ? bar.name : ''), way, words);
        return line;
      }));
    }
    const sum = (some) => some.reduce((all, one) => all + one, 0);
    const hands = sum(value.now);
    const words = [`${hands} ${hands === 1 ? 'hand' : 'hands'}`];
    if (value.asking > 1) { words.push(`asked ${value.asking} times`); }
    if (value.year.date) { words.push(`${value.year.date}: ${sum(value.year.hands)}`); }
    total.textContent = words.join(' · ');
    show.textContent = open ? 'Hide the answer (A)' : 'Show the answer (A)';
    again.disabled = back.disabled = !hands;
    note.textContent = model.get('note');
    said.replaceChildren(...(open ? replies(value) : []));
    return true;
  }
  const bare = (text) => text.replace(/[.]$/, '');

  /** The right answer's reply; and before it, what is to be said to the class's own guess. */
  function replies(value) {
    const right = told.options.findIndex((one) => one.right);
    const most = Math.max(...value.now);
    const chosen = most ? value.now.indexOf(most) : right;
    const alone = value.now.filter((one) => one === most).length === 1;
    const words = [];
    if (chosen !== right && alone) {
      const p = made('p');
      p.append(made('b', '', `The class: ${bare(told.options[chosen].text)}. `), told.options[chosen].reply);
      words.push(p);
    }
    const p = made('p', 'mensura-right-reply');
    p.append(made('b', '', `Right: ${bare(told.options[right].text)}. `), told.options[right].reply);
    return [...words, p];
  }

  /** The largest letters with which all of it has its place, answer and all; where even the least
      have none, the buttons that take a hand go, and what is said to the class's own guess. */
  function fit() {
    if (!write()) { return; }
    box.style.height = `${size.high}px`;
    const fits = () => box.scrollHeight <= box.clientHeight + 1;
    box.classList.remove('mensura-crowded');
    for (const px of [26, 24, 22, 20, 19, 18, 17, 16, 15]) {
      box.style.setProperty('--large', `${px}px`);
      box.style.setProperty('--middle', `${Math.max(15, px - 4)}px`);
      if (fits()) { return; }
    }
    box.classList.add('mensura-crowded');
    if (!fits() && said.children.length > 1) { said.firstElementChild.remove(); }
  }

  function key(name) {
    if (/^[1-9]$/.test(name)) {
      if (Number(name) > many) { return false; }
      raise(Number(name) - 1);
      return true;
    }
    const deeds = { a: reveal, A: reveal, n: askAgain, N: askAgain, Backspace: takeBack };
    return Boolean(deeds[name]?.());
  }
  // a question that comes again later in the lesson keeps its answer until then
  const next = ({ again: later }) => {
    const typing = rows.find(({ count }) => count === document.activeElement);
    if (typing) { typing.count.blur(); }  // what was typed counts
    return !later && go.next();
  };
  return { fit, key, ...go, next, leave: () => model.send({ kind: 'leave' }) };
};
