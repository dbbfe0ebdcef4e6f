// The way to the lecturer's window: what it is told, and what it may ask for.
//
// A window of its own, on the lecturer's screen, opened by a key or a button. Both talk by a channel
// of the browser's own, so that either may be loaded anew. What a screen looks like travels as a
// small tree of elements, never as markup: `treeOf` takes what is known, `grown` builds it.
const CHANNEL = 'mensura-lesson';
const PAGE = './lesson-notes.html';
const TAGS = new Set(
  'p h1 h2 h3 h4 h5 h6 ul ol li strong b em i sub sup span div br table thead tbody tr th td blockquote code pre hr'.split(' ')
);
const MOST_NODES = 4000;

/** What an element looks like, as {tag, style, children}, words as they are. */
export function treeOf(node, count = { left: MOST_NODES }) {
  count.left -= 1;
  if (count.left < 0) {
    return null;
  }
  if (node.nodeType === Node.TEXT_NODE) {
    return node.data;
  }
  if (node.nodeType !== Node.ELEMENT_NODE || node.classList.contains('mensura-off')) {
    return null;
  }
  const tag = node.localName;
  if (tag === 'img') {
    return { tag, src: node.currentSrc || node.src, alt: node.alt };
  }
  if (!TAGS.has(tag) && !tag.startsWith('mjx-')) {
    return null;
  }
  const made = { tag, children: [...node.childNodes].map(one => treeOf(one, count)).filter(one => one !== null) };
  if (tag.startsWith('mjx-')) {
    made.style = node.getAttribute('style') || '';
    made.class = node.getAttribute('class') || '';
    for (const name of ['display', 'size', 'space', 'texclass', 'justify']) {
      if (node.hasAttribute(name)) {
        made[`@${name}`] = node.getAttribute(name);
      }
    }
  }
  if (node.localName === 'li' && node.value) {
    made['@value'] = String(node.value);
  }
  return made;
}

/** The same as elements again. */
export function grown(tree) {
  if (typeof tree === 'string') {
    return document.createTextNode(tree);
  }
  if (tree.tag === 'img') {
    const image = document.createElement('img');
    image.src = /^(data:image\/|blob:|https?:)/.test(tree.src) ? tree.src : '';
    image.alt = tree.alt || '';
    return image;
  }
  const known = TAGS.has(tree.tag) || tree.tag.startsWith('mjx-');
  const node = document.createElement(known ? tree.tag : 'span');
  if (tree.style) {
    node.style.cssText = tree.style;
  }
  if (tree.class) {
    node.className = tree.class;
  }
  for (const [name, value] of Object.entries(tree)) {
    if (name.startsWith('@')) {
      node.setAttribute(name.slice(1), value);
    }
  }
  (tree.children || []).forEach(one => node.append(grown(one)));
  return node;
}

/** The rules by which the page's typesetter shows its formulas; it writes them without text. */
function formulas() {
  const { sheet } = document.getElementById('MJX-CHTML-styles') || {};
  return sheet ? [...sheet.cssRules].map(rule => rule.cssText).join('\n') : '';
}

/** What is written in a frame, but for what is hidden there. */
const wordsOf = (frame, which) => [...frame.querySelectorAll(which)]
  .filter(one => !one.closest('[hidden]'))
  .map(one => one.textContent.trim())
  .filter(Boolean);

/** The lesson's side. */
export class Link {
  constructor(lesson) {
    this.lesson = lesson;
    this.id = `${lesson.page.base}${lesson.page.path}`;
    try {
      this.channel = new BroadcastChannel(CHANNEL);
      this.channel.onmessage = event => this.hear(event.data || {});
    } catch {
      this.channel = null; // a browser that has none has no second window
    }
  }

  open() {
    const address = new URL(PAGE, import.meta.url);
    address.hash = encodeURIComponent(this.id);
    this.window = window.open(address.href, CHANNEL, 'popup,width=980,height=700');
    if (this.window) {
      this.window.focus();
    }
  }

  /** Tells how things stand, at most once a frame painted. */
  tell() {
    if (!this.channel || this.waiting) {
      return;
    }
    this.waiting = setTimeout(() => {
      this.waiting = 0;
      if (this.heard) {
        this.channel.postMessage({ lesson: this.id, what: 'state', ...this.state() });
      }
    }, 0);
  }

  state() {
    const { lesson } = this;
    const after = lesson.at.part < lesson.parts - 1 ? null : lesson.beyond(1);
    return {
      plan: lesson.plan,
      at: { ...lesson.at },
      parts: lesson.parts,
      next: after,
      more: lesson.at.part < lesson.parts - 1,
      out: [...lesson.out],
      clock: JSON.parse(JSON.stringify(lesson.clock)),
      blank: lesson.over.blank,
      told: lesson.told.textContent,
      dark: document.body.dataset.jpThemeLight === 'false',
      shown: this.looks(lesson.at.step, true),
      then: after === null ? [] : this.looks(after, false),
      formulas: formulas(),
    };
  }

  /** What a step looks like: its words, or the stored picture of what lives there. */
  looks(step, now) {
    const count = { left: MOST_NODES };
    const made = [];
    for (const cell of this.lesson.cellsOf(step)) {
      if (now && cell.node.classList.contains('mensura-off')) {
        continue;
      }
      const words = cell.node.querySelector('.jp-MarkdownOutput');
      if (words) {
        made.push(...[...words.children].map(one => treeOf(one, count)));
        continue;
      }
      made.push(...this.stored(cell, count));
    }
    return made.filter(one => one !== null);
  }

  stored(cell, count) {
    const canvas = cell.node.querySelector('.mensura-frame canvas');
    if (canvas && canvas.width && canvas.height) {
      try {
        return [{ tag: 'img', src: canvas.toDataURL(), alt: 'The picture as it is now' }];
      } catch {
        // then as it was stored
      }
    }
    const frame = cell.node.querySelector('.mensura-frame');
    if (frame) {
      const asked = frame.querySelector('.mensura-hands');
      const words = asked ? this.hands(asked) : wordsOf(frame, 'p, label');
      return words.slice(0, 12).map(text => ({ tag: 'p', children: [text] }));
    }
    const images = [...cell.node.querySelectorAll('.jp-OutputArea-output img')].map(one => treeOf(one, count));
    const tables = [...cell.node.querySelectorAll('.jp-OutputArea-output table')].map(one => treeOf(one, count));
    if (images.length || tables.length) {
      return [...images, ...tables];
    }
    const text = [...cell.node.querySelectorAll('.jp-OutputArea-output pre')].map(one => one.textContent).join('\n');
    return text ? text.split('\n').map(line => ({ tag: 'p', children: [line] })) : [];
  }

  /** A question with its hands; the lecturer sees which answer is right before the class does. */
  hands(asked) {
    const answers = [...asked.querySelectorAll('.mensura-answer')].map((row, place) => {
      const hands = row.querySelector('.mensura-hand-count').value || '0';
      const right = 'right' in row.dataset ? ' (right)' : '';
      return `${place + 1}: ${row.querySelector('.mensura-raise > span').textContent.trim()}${right} Hands: ${hands}.`;
    });
    return [...wordsOf(asked, '.mensura-asked'), ...answers, ...wordsOf(asked, '.mensura-said-to-class p')];
  }

  hear(said) {
    const { lesson } = this;
    if (said.lesson !== this.id) {
      return;
    }
    if (said.what === 'ask') {
      this.heard = true;
      this.tell();
    } else if (said.what === 'do') {
      const deed = {
        next: () => lesson.next(),
        back: () => lesson.back(),
        first: () => lesson.goTo(0),
        last: () => lesson.goTo(lesson.steps.length - 1),
        go: () => Number.isInteger(said.step) && lesson.goTo(said.step),
        blank: () => (lesson.over.blank ? lesson.over.unblank() : lesson.over.toBlank()),
        pause: () => lesson.pause(),
        'set back': () => lesson.setBack(),
        out: () => lesson.steps.some(step => step.key === said.key) && lesson.leaveOut(said.key, said.whether === true),
        key: () => typeof said.key === 'string' && said.key.length === 1 && lesson.unfolds('key', { key: said.key }),
      }[said.deed];
      if (deed) {
        if (lesson.over.blank && ['next', 'back'].includes(said.deed)) {
          lesson.over.unblank();
          return;
        }
        deed();
      }
    }
  }

  dispose() {
    clearTimeout(this.waiting);
    if (this.channel) {
      this.channel.close();
    }
  }
}
