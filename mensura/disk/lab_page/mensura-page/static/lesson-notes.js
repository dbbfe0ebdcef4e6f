// The lecturer's window: this screen, the next one, the note, and the clock.
//
// It holds nothing of its own: the lesson's window tells how things stand, and each key or button
// here is sent there. If that window is loaded anew, it is asked again.
import { inWords, left, spelt } from './lesson-clock.js';
import { grown } from './lesson-link.js';

const ASK_MS = 1000;
const SILENT_MS = 4000;

const lesson = decodeURIComponent(location.hash.slice(1));
const channel = new BroadcastChannel('mensura-lesson');
const at = id => document.getElementById(id);
const say = (deed, more = {}) => channel.postMessage({ lesson, what: 'do', deed, ...more });
const ask = () => channel.postMessage({ lesson, what: 'ask' });

let known = null;
let heard = -Infinity;

const write = (node, text) => {
  if (node.textContent !== text) {
    node.textContent = text;
  }
};

const button = (text, act, does) => {
  const node = document.createElement('button');
  node.type = 'button';
  node.textContent = text;
  node.dataset.does = does;
  node.addEventListener('click', act);
  return node;
};

const acts = [
  button('Back', () => say('back'), 'back'),
  button('Next', () => say('next'), 'next'),
  button('Blank', () => say('blank'), 'blank'),
  button('Pause the clock', () => say('pause'), 'pause'),
  button('Set the clock back', () => say('set back'), 'set back'),
];
at('acts').append(...acts);

function screenOf(section, told) {
  const place = section.querySelector('.screen');
  const text = JSON.stringify(told);
  if (place.dataset.told !== text) {
    place.dataset.told = text;
    place.replaceChildren(...told.map(grown));
  }
}

function formulas(text) {
  let sheet = at('formulas');
  if (!sheet) {
    sheet = document.createElement('style');
    sheet.id = 'formulas';
    document.head.append(sheet);
  }
  write(sheet, text);
}

function look() {
  const { plan } = known;
  const step = plan.steps[known.at.step];
  const part = known.parts > 1 ? `, part ${known.at.part + 1} of ${known.parts}` : '';
  document.documentElement.dataset.dark = String(known.dark);
  document.title = `Lecturer's window: ${plan.title}`;
  write(at('title'), plan.title);
  formulas(known.formulas);
  write(at('now-title'), `Now, ${known.at.step + 1} of ${plan.steps.length}${part}: ${step.title || plan.title}`);
  screenOf(at('now'), known.shown);
  const next = known.more ? 'Next: the same, continued' : known.next === null ? 'Next: nothing, this is the last' : `Next, ${known.next + 1}: ${plan.steps[known.next].title || plan.title}`;
  write(at('then-title'), next);
  screenOf(at('then'), known.more ? [] : known.then);
  write(at('note'), step.note || 'No note for this screen.');
  acts[2].textContent = known.blank ? 'Show the screen again' : 'Blank';
  tick();
}

function spareOf(told) {
  const items = [...told.spare.map(one => [one, false]), ...told.out.map(one => [one, true])];
  const text = JSON.stringify([told.behind > 0, items.map(([one, out]) => [one.key, out])]);
  const place = at('spare');
  if (place.dataset.told === text) {
    return;
  }
  place.dataset.told = text;
  const held = document.activeElement && document.activeElement.dataset.key;
  place.replaceChildren(
    ...items.map(([one, out]) => {
      const item = document.createElement('li');
      const words = `${one.place + 1} ${one.title || ''} (${one.minutes} min)`;
      const act = button(out ? 'Show it after all' : 'Leave it out', () => say('out', { key: one.key, whether: !out }), 'out');
      act.dataset.key = one.key;
      act.setAttribute('aria-label', `${act.textContent}: ${words}`);
      item.append(out ? `${words}, left out ` : `${words} `, act);
      return item;
    })
  );
  const again = held && [...place.querySelectorAll('button')].find(one => one.dataset.key === held);
  if (again) {
    again.focus();
  }
}

function tick() {
  const silent = performance.now() - heard > SILENT_MS;
  write(at('told'), silent ? 'The window with the lesson does not answer. Is it still open?' : (known && known.told) || '');
  if (!known) {
    return;
  }
  const told = left(known.clock, known.plan, known.at.step, new Set(known.out), Date.now());
  write(at('screen-left'), inWords(told.screen));
  write(at('lesson-left'), inWords(told.lesson));
  acts[3].textContent = !told.begun ? 'Start the clock' : told.running ? 'Pause the clock' : 'Go on with the clock';
  const wins = told.spare.reduce((sum, one) => sum + one.minutes, 0);
  const still = told.begun && !told.running ? 'The clock stands still. ' : '';
  let words = '';
  if (told.behind) {
    words = `Planned ${spelt(told.behind)} more than there is time for. `;
    words += told.spare.length ? `May be left out, ${wins} min in all:` : 'Nothing more is marked as spare.';
  } else if (told.spare.length) {
    words = `Time is enough. What may be left out, ${wins} min in all:`;
  } else if (told.begun) {
    words = 'Time is enough.';
  }
  write(at('short'), still + words);
  spareOf(told);
}

channel.onmessage = event => {
  const said = event.data || {};
  if (said.lesson === lesson && said.what === 'state') {
    known = said;
    heard = performance.now();
    look();
  }
};

// the clicker's keys work here too
window.addEventListener('keydown', event => {
  if (event.ctrlKey || event.altKey || event.metaKey) {
    return;
  }
  const inside = event.target instanceof Element && event.target.closest('button');
  const deed = {
    PageDown: 'next', ArrowRight: 'next', ArrowDown: 'next',
    PageUp: 'back', ArrowLeft: 'back', ArrowUp: 'back',
    Home: 'first', End: 'last', b: 'blank', B: 'blank', '.': 'blank', p: 'pause', P: 'pause',
  }[event.key];
  if (deed) {
    event.preventDefault();
    say(deed);
  } else if (event.key.length === 1 && event.key !== ' ' && !inside) {
    say('key', { key: event.key });
  }
});

setInterval(() => {
  ask();
  tick();
}, ASK_MS);
ask();
