// Names and places: what ipywidgets leaves without a name gets one, and lists show their end.

/** A slider's handle says its value as it is sent, with binary dust: 0.30000000000000004. */
function say(grip) {
  const text = grip.getAttribute('aria-valuetext');
  const plain = String(+(+text).toFixed(6));
  if (plain !== text && plain !== 'NaN') { grip.setAttribute('aria-valuetext', plain); }
}

/** The handle of a row takes the name of the box beside it. */
function nameHandle(row, leaving) {
  const label = row.querySelector('.widget-label');
  const grip = row.querySelector('[role=slider]');
  if (!label || !grip || grip.hasAttribute('aria-label')) { return; }
  grip.setAttribute('aria-label', label.textContent);
  say(grip);
  const observer = new MutationObserver(() => say(grip));
  observer.observe(grip, { attributeFilter: ['aria-valuetext'] });
  leaving.addEventListener('abort', () => observer.disconnect());
}

/** The choices of one question are one group: one stop of the Tab key, arrows within. */
function groupChoices(box) {
  const choices = [...box.querySelectorAll('input[type=radio]')];
  if (choices.every((choice) => choice.name)) { return; }
  const name = `mensura-${Math.random().toString(36).slice(2)}`;
  for (const choice of choices) { choice.name = name; }
}

/** A list of lines that was drawn anew shows its last; where all controls scroll together, they do. */
function showLast(lines) {
  if (lines.dataset.shown) { return; }
  lines.dataset.shown = '1';
  lines.scrollTop = lines.scrollHeight;
  const box = lines.closest('.mensura-controls');
  const steps = box?.querySelector('.mensura-steps');
  const at = document.activeElement;
  // a panel that is only drawn, or of which a slider or a list is held, keeps its place
  if (!steps || !lines.closest('.mensura-frame').contains(at) || at.closest('.mensura-rows')
    || !/auto|scroll/.test(getComputedStyle(box).overflowY)) { return; }
  const line = lines.querySelector('.mensura-present').getBoundingClientRect();
  box.scrollTop += line.top - box.getBoundingClientRect().top - steps.offsetHeight - 4;
}

parts.push(({ root, changed, leaving }) => changed(() => {
  root.querySelectorAll('.mensura-row').forEach((row) => nameHandle(row, leaving));
  root.querySelectorAll('.widget-radio-box').forEach(groupChoices);
  root.querySelectorAll('.mensura-lines').forEach(showLast);
}));
