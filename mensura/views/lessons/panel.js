// A panel or a road of the proof on a screen: its picture as large as may be, and beside or beneath
// it as many controls as fit; the others come a page at a time, at a press of one button.

const LINE_PX = 20;      // of the sentence, as the sheet has it
const GAP_PX = 12;
const LEAST_COLUMN = 172;
const ROW_PX = 52;       // a slider with its name
const BAR_PX = 34;       // the row of buttons
const SHOWN_LETTER = 44 / 3;  // 11 pt

function panelScreen({ root, el, model, size }, isProof) {
  const find = (name) => root.querySelector(name);
  const stage = find('.mensura-stage');
  const controls = find('.mensura-controls');
  const state = { page: 0, pages: 1, from: 0, next: 0, numbers: false, said: 2, told: '' };

  const bar = made('div', 'mensura-screen-bar', '', { 'data-mensura-fitted': '' });
  const turn = button('mensura-turn', 'More controls', () => { state.page += 1; fit(); });
  const numbers = button('mensura-to-numbers', 'Numbers', () => toNumbers());
  const on = button('mensura-on-numbers', 'More numbers', () => { state.from = state.next; fit(); });
  bar.append(turn, numbers, on);

  function toNumbers() {
    state.numbers = !state.numbers;
    state.from = 0;
    fit();
    return true;
  }

  /** Controls, headings, lists, ticks and buttons, in the order in which they are shown. */
  function items() {
    const rows = find('.mensura-rows');
    const all = [...rows.children, ...find('.mensura-buttons').children];
    const told = model.get('told').controls || [];
    const named = (one) => told.some((name) => one.classList.contains(`mensura-is-${name}`));
    if (!told.length) { return { all, first: null }; }
    return { all, first: all.filter(named) };
  }

  const isHeading = (one) => Boolean(one.querySelector('.mensura-group'));

  /** Which items come together, for columns of a height. */
  function pages(columns, high) {
    const { all, first } = items();
    const made = first && first.length ? [first] : [];
    let page = null;
    let tops = [];
    const headings = all.map((one) => isHeading(one));
    for (const [k, one] of all.entries()) {
      if (headings[k] || (first && first.includes(one))) { continue; }
      one.hidden = false;
      const tall = Math.max(30, one.offsetHeight + 4);
      if (page) {
        const at = tops.findIndex((top) => top + tall <= high);
        if (at >= 0) { page.push(one); tops[at] += tall; continue; }
      }
      page = [one];
      made.push(page);
      tops = Array(columns).fill(0);
      tops[0] = tall;
    }
    return made.length ? made : [[]];
  }

  function showControls(columns, high) {
    const { all } = items();
    root.style.setProperty('--columns', columns);
    for (const one of all) { one.classList.remove('mensura-aside'); }
    const made = pages(columns, high);
    state.pages = made.length;
    const page = made[state.page % made.length];
    for (const one of all) { one.classList.toggle('mensura-aside', !page.includes(one)); }
    turn.hidden = made.length < 2;
    const at = (state.page % made.length) + 1;
    turn.textContent = `More controls (${at} of ${made.length})`;
  }

  /** How many lines the sentence needs at a width; it is measured where it stands. */
  function lines() {
    const words = find('.mensura-status');
    if (!words) { return state.said; }
    words.style.minHeight = '0';
    const many = Math.ceil((words.scrollHeight - 2) / LINE_PX);
    words.style.minHeight = '';
    return Math.max(1, many);
  }

  /** Whether a picture stands whole at a scale in a place. */
  const scaleIn = ({ width, height }, wide, high) => Math.min(wide / width, high / height);

  function lay(picture) {
    const least = Math.min(1.2, size.letters / SHOWN_LETTER);
    const said = state.said * LINE_PX + 6;
    const [wide, high] = [size.wide, size.high];
    if (isProof) {
      const scale = Math.max(least, Math.min(scaleIn(picture, wide * 0.56, high - said), 1.3));
      const seen = Math.min(picture.width * scale, wide - 300);
      return { way: 'beside', column: wide - seen - GAP_PX, picture: high - said, least };
    }
    const beside = scaleIn(picture, wide - LEAST_COLUMN - GAP_PX, high - said);
    const strip = BAR_PX + ROW_PX;
    const beneath = scaleIn(picture, wide, high - said - strip);
    if (beside < least && beneath >= least) {
      const over = high - said - picture.height * Math.min(least * 1.05, beneath) - BAR_PX;
      const rows = Math.max(1, Math.floor(over / ROW_PX));
      return { way: 'beneath', strip: rows * ROW_PX, picture: high - said - BAR_PX - rows * ROW_PX, least };
    }
    const scale = Math.min(Math.max(beside, least), 2);
    const column = Math.max(LEAST_COLUMN, Math.min(400, wide - picture.width * scale - GAP_PX));
    return { way: 'beside', column: beside < least ? Math.max(column, 200) : column, picture: high - said, least };
  }

  function showLines(high) {
    const list = find('.mensura-lines');
    if (!list) { return; }
    const all = [...list.querySelectorAll('li')];
    list.classList.remove('mensura-tight');
    for (const one of all) { one.hidden = false; }
    const present = all.findIndex((one) => one.classList.contains('mensura-present'));
    for (let k = 0; k < present && list.scrollHeight > high + 1; k += 1) { all[k].hidden = true; }
    list.classList.toggle('mensura-tight', list.scrollHeight > high + 1);
  }

  function fit() {
    const drawn = find('.mensura-shapes');
    if (!drawn || !drawn.getAttribute('width')) { return; }
    if (!bar.isConnected) { controls.append(bar); }
    root.dataset.view = state.numbers ? 'numbers' : 'picture';
    const picture = { width: Number(drawn.getAttribute('width')), height: Number(drawn.getAttribute('height')) };
    const room = [size.told, picture.width, picture.height].join();
    if (room !== state.told) { state.told = room; state.said = 2; }
    let plan = null;
    for (let round = 0; round < 3; round += 1) {
      plan = lay(picture);
      stage.dataset.way = plan.way;
      root.style.setProperty('--controls-wide', plan.way === 'beside' ? `${plan.column}px` : '100%');
      root.style.setProperty('--picture-tall', `${plan.picture}px`);
      root.style.setProperty('--picture-least', plan.least);
      const many = lines();
      if (many <= state.said) { break; }
      state.said = many;
    }
    if (plan.way === 'beside') {
      const columns = isProof || plan.column > 360 ? 2 : 1;
      const steps = isProof ? find('.mensura-steps').offsetHeight : 0;
      showControls(columns, isProof ? ROW_PX + 2 : size.high - BAR_PX - 8);
      const rest = size.high - steps - find('.mensura-rows').offsetHeight
        - find('.mensura-buttons').offsetHeight - bar.offsetHeight - 12;
      if (isProof) { showLines(rest); }
    } else {
      showControls(Math.max(2, Math.floor(size.wide / 190)), plan.strip);
    }
    if (state.numbers) {
      const box = find('.mensura-more');
      const place = find('.mensura-seen');
      box.style.left = `${place.offsetLeft}px`;
      box.style.width = `${place.offsetWidth}px`;
      box.style.height = `${plan.picture}px`;
      state.next = showPage(box.querySelector('.widget-html-content') || box, state.from, plan.picture);
    }
    on.hidden = !state.numbers || (!state.next && !state.from);
    numbers.textContent = state.numbers ? 'Picture' : 'Numbers';
  }

  const unfolds = isProof ? counted(model, 1) : {};
  const keys = { n: toNumbers, m: () => { turn.click(); return true; } };
  return { fit, ...unfolds, key: (name) => Boolean(keys[name]?.()) };
}

kinds.panel = (all) => panelScreen(all, false);
kinds.proof = (all) => panelScreen(all, true);
