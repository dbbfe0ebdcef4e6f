// A panel or a road of the proof on a screen: its picture as large as may be, and beside or beneath
// it as many controls as fit; the others come a page at a time, at a press of one button.

const LINE_PX = 20;      // of the sentence, as the sheet has it
const GAP_PX = 12;
const LEAST_COLUMN = 168;
const ROW_PX = 54;       // a slider with its name
const BAR_PX = 34;       // the row of buttons
const BAR_WIDE_PX = 162; // the buttons beside controls that stand beneath the picture

/** How many controls stand side by side beneath a picture. */
function columnsBeneath(wide) { return Math.max(2, Math.floor((wide - BAR_WIDE_PX) / 180)); }

function panelScreen({ root, el, model, size }, isProof) {
  const find = (name) => root.querySelector(name);
  const stage = find('.mensura-stage');
  const controls = find('.mensura-controls');
  const state = { page: 0, from: 0, next: 0, numbers: false, said: 2, told: '' };

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

  /** Whatever moves the panel, in the order in which it is shown: those that the plan names, and
      those that come at the press of the button. */
  function items() {
    const all = [...find('.mensura-rows').children, ...find('.mensura-buttons').children];
    const told = (model.get('told').controls || []).map((name) => `mensura-is-${name}`);
    const named = all.filter((one) => told.some((name) => one.classList.contains(name)));
    const rest = all.filter((one) => !named.includes(one) && !one.querySelector('.mensura-group'));
    return { all, named, rest };
  }

  /** Which items come together, for columns of a height. */
  function pages(columns, high) {
    const { named, rest } = items();
    const made = [];
    const sets = rest.filter((one) => one.matches('button'));
    // beneath a picture the sets of values have a row of their own, which is not there meanwhile
    const apart = stage.dataset.way === 'beneath';
    const others = apart ? rest.filter((one) => !sets.includes(one)) : rest;
    if (apart) { sets.forEach((one) => one.classList.add('mensura-aside')); }
    for (const some of [named, others]) {
      let tops = null;
      for (const one of some) {
        const tall = Math.max(30, one.offsetHeight + 4);
        const at = tops ? tops.findIndex((top) => top + tall <= high + (columns > 1 ? 6 : 0)) : -1;
        if (at < 0) {
          made.push([]);
          tops = Array(columns).fill(0);
        }
        made[made.length - 1].push(one);
        tops[Math.max(at, 0)] += tall;
      }
    }
    if (apart && sets.length) { made.push(sets); }
    return made.length ? made : [[]];
  }

  function showControls(columns, high) {
    const { all } = items();
    root.style.setProperty('--columns', columns);
    for (const one of all) { one.classList.remove('mensura-aside'); }
    const made = pages(columns, high);
    const page = made[state.page % made.length];
    for (const one of all) { one.classList.toggle('mensura-aside', !page.includes(one)); }
    turn.hidden = made.length < 2;
    const at = (state.page % made.length) + 1;
    turn.textContent = `More controls ${at}/${made.length}`;
  }

  /** How many lines the sentence needs; it is measured where it stands. */
  function lines() {
    const words = find('.mensura-status');
    return words ? Math.max(1, Math.ceil((words.scrollHeight - 2) / LINE_PX)) : state.said;
  }

  /** Whether a picture stands whole at a scale in a place. */
  const scaleIn = ({ width, height }, wide, high) => Math.min(wide / width, high / height);

  function lay(picture) {
    const least = Math.min(1.2, size.letters / SHOWN_LETTER);
    const said = state.said * LINE_PX + 6;
    const [wide, high] = [size.wide, size.high];
    if (isProof) {
      const scale = Math.max(least, Math.min(scaleIn(picture, wide * 0.56, high - said), 1.3));
      const seen = Math.min(picture.width * scale, wide - 252);
      return { way: 'beside', column: wide - seen - GAP_PX, picture: high - said, least };
    }
    const beside = scaleIn(picture, wide - LEAST_COLUMN - GAP_PX, high - said);
    const beneath = scaleIn(picture, wide, high - said - ROW_PX);
    if (beside < least && beneath >= least) {
      const over = high - said - picture.height * Math.min(wide / picture.width, beneath);
      const columns = columnsBeneath(wide);
      const needed = Math.ceil(items().named.length / columns) || Infinity;
      const rows = Math.max(1, Math.min(needed, Math.floor(over / ROW_PX)));
      return { way: 'beneath', strip: rows * ROW_PX, picture: high - said - rows * ROW_PX, least };
    }
    const aside = scaleIn(picture, wide - LEAST_COLUMN - GAP_PX, high);
    if (beside < least && aside >= least) {
      const column = Math.max(LEAST_COLUMN, wide - picture.width * aside - GAP_PX);
      return { way: 'aside', column, picture: high, least };
    }
    const scale = Math.min(Math.max(beside, least), 2);
    const column = Math.max(LEAST_COLUMN, Math.min(400, wide - picture.width * scale - GAP_PX));
    return { way: 'beside', column: beside < least ? Math.max(column, 200) : column, picture: high - said, least };
  }

  function showLines(high) {
    const list = find('.mensura-lines');
    if (!list) { return; }
    const all = [...list.querySelectorAll('li')];
    const over = () => list.firstElementChild.offsetHeight > high;
    list.classList.remove('mensura-tight');
    for (const one of all) { one.hidden = false; }
    const present = all.findIndex((one) => one.classList.contains('mensura-present'));
    for (let k = 0; k < present && over(); k += 1) { all[k].hidden = true; }
    list.classList.toggle('mensura-tight', over());
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
      root.style.setProperty('--controls-wide', plan.column ? `${plan.column}px` : '100%');
      root.style.setProperty('--picture-tall', `${plan.picture}px`);
      root.style.setProperty('--picture-least', plan.least);
      const many = lines();
      if (many <= state.said || plan.way === 'aside') { break; }
      state.said = many;
    }
    if (plan.column) {
      const above = plan.way === 'aside' ? lines() * LINE_PX + 10 : 0;
      root.style.setProperty('--said-high', `${above}px`);
      const columns = isProof || plan.column > 360 ? 2 : 1;
      const steps = find('.mensura-steps')?.offsetHeight || 0;
      showControls(columns, isProof ? ROW_PX + 2
        : size.high - above - steps - (state.numbers ? 3 : 2) * BAR_PX);
      const rest = size.high - steps - find('.mensura-rows').offsetHeight
        - find('.mensura-buttons').offsetHeight - bar.offsetHeight - 12;
      if (isProof) { showLines(rest); }
    } else {
      showControls(columnsBeneath(size.wide), plan.strip);
    }
    if (state.numbers) {
      const box = find('.mensura-more');
      const place = find('.mensura-seen');
      box.style.left = `${place.offsetLeft}px`;
      box.style.width = `${place.offsetWidth}px`;
      box.style.height = `${plan.picture}px`;
      state.next = showPage(box.querySelector('.widget-html-content') || box, state.from, plan.picture);
    }
    if (state.numbers && plan.way === 'beneath') { turn.hidden = true; }
    on.hidden = !state.numbers || (!state.next && !state.from);
    numbers.textContent = state.numbers ? 'Picture' : 'Numbers';
  }

  // a road goes line by line; a screen of one line stays at it, unless its own buttons are pressed
  const unfolds = isProof && !model.get('told').stays ? counted(model, 1) : {};
  const keys = { n: toNumbers, m: () => { turn.click(); return true; } };
  const enter = () => Object.assign(state, { page: 0, from: 0, numbers: false });
  return { fit, enter, ...unfolds, key: (name) => Boolean(keys[name]?.()) };
}

kinds.panel = (all) => panelScreen(all, false);
kinds.proof = (all) => panelScreen(all, true);
