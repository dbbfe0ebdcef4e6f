"""The frame that everything of ours in a notebook stands in: its keys, its names, its looks.

JupyterLab takes a plain a, b or dd on a tick, a button or a slider for a command that adds or
deletes a cell, arrow keys on a choice for a step to another cell, and Shift Enter in a box for
running the cell, which would drop what stands there. In a frame such keys stay; Ctrl, Alt and Cmd
still go through. The left and right arrow keys press the two buttons of a panel that is gone
through step by step, from anywhere but a text box, a list or a slider's handle, which have their
own use for them. A slider's handle, which has no accessible name of its own, takes the name of the
box beside it, and what it says of its value is rounded: it carries binary dust.
"""

from __future__ import annotations

import html
from typing import Any

from mensura.views.kit.style import SHEET

_DOT = "data:image/gif;base64,R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7"

#: Class of the outermost box, and of one in which a letter typed on a tick or a choice goes to the
#: text box.
FRAME = "mensura-frame"
LETTERS_TO_BOX = "mensura-letters-to-box"


def on_load(script: str) -> str:
    """A picture of one dot that runs a script once it is on the page.

    script: JavaScript in which `this` is the picture.

    >>> "onload=\\"say(&#x27;x&#x27;)\\"" in on_load("say('x')")
    True
    """
    return f'<img alt="" width="1" height="1" src="{_DOT}" onload="{html.escape(script)}">'


def framed(box: Any, kind: str, letters_to_box: bool = False) -> Any:
    """A box of widgets in its frame; the same box.

    box: the outermost one; kind: its class, as the style sheet calls it; letters_to_box: whether a
    letter typed on a tick or a choice goes to the text box.
    """
    import ipywidgets as w

    for name in (FRAME, kind, *([LETTERS_TO_BOX] if letters_to_box else [])):
        box.add_class(name)
    mark = w.HTML(SHEET + MARK, layout=w.Layout(width="0", height="0", margin="0"))
    box.children = (mark, *box.children)
    return box


_SCRIPT = """(function (mark) {
  var tries = 0;
  function keep(root) {
    root.dataset.keys = '1';
    root.addEventListener('keydown', function (press) {
      var key = press.key, chord = press.altKey || press.ctrlKey || press.metaKey;
      var way = {ArrowLeft: '.mensura-back', ArrowRight: '.mensura-next'}[key];
      var button = way && root.querySelector(way);
      var free = !press.target.closest('input,select,textarea,[role=slider]');
      if (button && free && !chord && !press.shiftKey) {
        press.preventDefault(); press.stopPropagation(); button.click(); return;
      }
      if (chord && key !== 'Enter') { return; }
      press.stopPropagation();
      if (root.classList.contains('LETTERS_TO_BOX') && key.length === 1 && key !== ' '
          && press.target.closest('[type=radio],[type=checkbox]')) {
        root.querySelector('input[type=text]').focus();
      }
    });
  }
  function say(grip) {
    var text = grip.getAttribute('aria-valuetext'), plain = String(+(+text).toFixed(6));
    if (plain !== text && plain !== 'NaN') { grip.setAttribute('aria-valuetext', plain); }
  }
  function name(row) {
    var label = row.querySelector('.widget-label'), grip = row.querySelector('[role=slider]');
    if (label && grip && !grip.hasAttribute('aria-label')) {
      grip.setAttribute('aria-label', label.textContent);
      say(grip);
      new MutationObserver(function () { say(grip); })
        .observe(grip, {attributeFilter: ['aria-valuetext']});
    }
  }
  function look() {
    var root = mark.closest('.FRAME');
    if (root) {
      if (!root.dataset.keys) { keep(root); }
      if (root.querySelector('.mensura-back')) {
        root.tabIndex = -1; root.style.outline = 'none';
      }
      root.querySelectorAll('.mensura-row').forEach(name);
    }
    if (tries++ < 40) { setTimeout(look, 250); }
  }
  look();
})(this)"""

#: What a frame is known by: its script. The rows of a panel come to the page one after another, so
#: it looks again for a while. A panel with steps can be clicked into, for the arrow keys.
MARK = on_load(
    " ".join(_SCRIPT.split()).replace("LETTERS_TO_BOX", LETTERS_TO_BOX).replace("FRAME", FRAME)
)
