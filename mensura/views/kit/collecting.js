// Into the lesson: what the buttons beside the sections ask of the kernel goes through a frame.
//
// Only a lecturer's pages have this part. `mensura:places`, on the notebook's panel, asks which
// sections the page has; `mensura:into` puts one into the plan: on the panel for a heading or a
// picture, which the first frame takes, on a frame's own box for what lives in it. Whoever takes an
// event prevents its default. The answer comes as `mensura:collected`, on the box, and bubbles.
parts.push(({ root, model, listen }) => {
  const panel = root.closest('.jp-NotebookPanel');
  if (!panel) { return; }
  const lost = () => root.closest('.jupyter-widgets-disconnected') !== null
    || root.querySelector('.jupyter-widgets-disconnected') !== null;

  function ask(event, own) {
    if (event.defaultPrevented || lost()) { return; }
    event.preventDefault();
    event.stopImmediatePropagation();
    const { section = '', line = false, token = '' } = event.detail || {};
    const kind = event.type.replace('mensura:', '');
    model.send({ kind, section, line, token, own });
  }
  for (const kind of ['mensura:places', 'mensura:into']) {
    listen(panel, kind, (event) => event.target === panel && ask(event, false));
    listen(root, kind, (event) => ask(event, true));
  }
  listen(model, 'msg:custom', (told) => {
    if (told.kind === 'places' || told.kind === 'into') {
      root.dispatchEvent(new CustomEvent('mensura:collected', { bubbles: true, detail: told }));
    }
  });
});
