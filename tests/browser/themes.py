"""Light and dark: text has 4.5 to 1 on its ground, whatever else means something 3 to 1.

Colours are those that the browser computes, over the nearest ground that is not seen through; a
tick and a dot, which the browser draws, are looked at as they are painted. The file of tests that
has one of everything open takes these in.
"""

from __future__ import annotations

import io

import numpy as np
from PIL import Image

THEMES = {"light": "JupyterLab Light", "dark": "JupyterLab Dark"}

COLOURS = """
const parts = colour => {
  const found = colour.match(/[\\d.]+/g).map(Number);
  return found.length < 4 ? [...found, 1] : found;
};
const over = (top, under) => under.map((below, k) => k === 3 ? 1 :
  top[k] * top[3] + below * (1 - top[3]));
const ground = element => {
  const layers = [];
  for (let e = element; e; e = e.parentElement) {
    const layer = parts(getComputedStyle(e).backgroundColor);
    if (layer[3] > 0) { layers.push(layer); }
    if (layer[3] === 1) { break; }
  }
  return layers.reverse().reduce((under, top) => over(top, under), [255, 255, 255, 1]);
};
const faded = element => {
  let share = 1;
  for (let e = element; e; e = e.parentElement) { share *= +getComputedStyle(e).opacity; }
  return share;
};
const light = colour => colour.slice(0, 3).map(v => v / 255)
  .map(v => v <= 0.04045 ? v / 12.92 : ((v + 0.055) / 1.055) ** 2.4)
  .reduce((sum, v, k) => sum + v * [0.2126, 0.7152, 0.0722][k], 0);
const contrast = (colour, element, below = element) => {
  const under = ground(below), top = parts(colour);
  const [low, high] = [light(over([top[0], top[1], top[2], top[3] * faded(element)], under)),
    light(under)].sort((a, b) => a - b);
  return (high + 0.05) / (low + 0.05);
};
const places = '.mensura-bar, .mensura-frame, .jp-OutputArea-output:has(> .mensura-table)';
const roots = [...document.querySelectorAll(places)];
const called = e => `${e.tagName} ${e.className} ${e.textContent.trim().slice(0, 40)}`;
"""

#: (contrast, what) of every text: in the page, in boxes and lists, before an element.
TEXTS = (
    "() => {"
    + COLOURS
    + """
  const out = [];
  for (const root of roots) {
    const words = document.createTreeWalker(root, NodeFilter.SHOW_TEXT);
    while (words.nextNode()) {
      const e = words.currentNode.parentElement;
      if (!words.currentNode.data.trim() || e.closest('style, script')) { continue; }
      if (e.checkVisibility({visibilityProperty: true})) {
        out.push([contrast(getComputedStyle(e).color, e), called(e)]);
      }
    }
    for (const e of root.querySelectorAll('input, select')) {
      if (!e.checkVisibility()) { continue; }
      out.push([contrast(getComputedStyle(e).color, e), called(e)]);
      if (e.placeholder && e.placeholder.trim() !== '\u200b') {
        out.push([contrast(getComputedStyle(e, '::placeholder').color, e), e.placeholder]);
      }
    }
    for (const e of root.querySelectorAll('*')) {
      const before = getComputedStyle(e, '::before');
      if (/^"./.test(before.content) && e.checkVisibility()) {
        out.push([contrast(before.color, e), `before ${called(e)}`]);
      }
    }
  }
  return out;
}"""
)

#: (contrast, what) of handles, tracks, and borders that say where something is or ends.
MARKS = (
    "() => {"
    + COLOURS
    + """
  const out = [];
  const fills = '.noUi-handle, .noUi-target';
  const edges = 'button, input[type=text], select, .mensura-lines li, .mensura-gap, ' +
    '.mensura-table tbody td, .mensura-table tbody th, .mensura-chain li, .mensura-note, ' +
    '[role=status].mensura-wrong, [role=status].mensura-right';
  for (const root of roots) {
    for (const e of root.querySelectorAll(fills)) {
      const fill = getComputedStyle(e).backgroundColor;
      // a handle lies on its row, not on its track alone
      out.push([contrast(fill, e, e.closest('.mensura-controls')), called(e)]);
    }
    for (const e of root.querySelectorAll(edges)) {
      if (!e.checkVisibility()) { continue; }
      const style = getComputedStyle(e);
      for (const side of ['Top', 'Right', 'Bottom', 'Left']) {
        if (parseFloat(style[`border${side}Width`]) && style[`border${side}Style`] !== 'none' &&
            parts(style[`border${side}Color`])[3]) {
          out.push([contrast(style[`border${side}Color`], e, e.parentElement), called(e)]);
        }
      }
    }
  }
  return out;
}"""
)

RING = (
    "(e) => {"
    + COLOURS
    + """ const style = getComputedStyle(e);
  return [parseFloat(style.outlineWidth), style.outlineStyle,
    contrast(style.outlineColor, e, e.parentElement)]; }"""
)


def painted_contrast(place) -> float:
    """The most contrast there is, as painted, between an element's corner and the rest of it."""
    image = Image.open(io.BytesIO(place.screenshot())).convert("RGB")
    parts = np.asarray(image).reshape(-1, 3) / 255
    linear = np.where(parts <= 0.04045, parts / 12.92, ((parts + 0.055) / 1.055) ** 2.4)
    light = linear @ [0.2126, 0.7152, 0.0722]
    low, high = np.minimum(light, light[0]), np.maximum(light, light[0])
    return float(((high + 0.05) / (low + 0.05)).max())


def turn_to(page, theme: str) -> None:
    """The page in one theme, chosen as everybody chooses it, with replies in it."""
    page.keyboard.press("Escape")
    page.keyboard.press("Control+Shift+c")
    box = page.locator(".jp-ActivateCommands input, .lm-CommandPalette-input").first
    box.fill(f"Use Theme: {THEMES[theme]}")
    page.locator(".lm-CommandPalette-item", has_text=THEMES[theme]).first.click()
    light = "true" if theme == "light" else "false"
    page.wait_for_selector(f'body[data-jp-theme-light="{light}"]', state="attached")
    number = page.locator(".mensura-row input").first
    number.fill("9999")
    number.press("Enter")
    page.locator(".mensura-note").first.wait_for()
    answer = page.locator(".mensura-practice").first.get_by_label("Answer", exact=True)
    answer.fill("9999 cm")
    answer.press("Enter")
    page.locator("[role=status].mensura-wrong").first.wait_for()


class Themes:
    """The tests, of a page with one of everything in one theme: `themed`."""

    def test_text_is_read(self, themed):
        """Every word in our frames, our bar and printed tables, in boxes and before them."""
        texts = themed.evaluate(TEXTS)
        assert len(texts) > 400
        assert [(what, round(ratio, 2)) for ratio, what in texts if ratio < 4.5] == []

    def test_marks_are_seen(self, themed):
        """Handles, tracks, borders of boxes, buttons, tables and notes."""
        marks = themed.evaluate(MARKS)
        kinds = {what.split()[0] for _, what in marks}
        assert {"BUTTON", "INPUT", "SELECT", "DIV", "TD", "LI", "P"} <= kinds
        assert [(what, round(ratio, 2)) for ratio, what in marks if ratio < 3] == []

    def test_the_focus_is_seen(self, themed):
        """A ring of three pixels, on a handle, a box, a button, a dot and a list."""
        for part in ("[role=slider]", ".mensura-row input", "button", "[type=radio]", "select"):
            place = themed.locator(f".mensura-frame {part}").first
            place.scroll_into_view_if_needed()
            place.focus()
            themed.keyboard.press("Tab")
            themed.keyboard.press("Shift+Tab")
            wide, kind, ratio = themed.evaluate_handle("() => document.activeElement").evaluate(
                RING
            )
            assert (wide, kind) == (3, "solid"), part
            assert ratio >= 3, part

    def test_ticks_and_dots_are_seen(self, themed):
        """Empty and filled, as the browser paints them; the corner of a dot's box is the ground."""
        themed.locator(".mensura-frame b").first.click()
        for place in (
            themed.locator(".mensura-ask [type=radio]").first,
            themed.locator(".mensura-panel [type=checkbox]").first,
        ):
            place.scroll_into_view_if_needed()
            row = place.locator("xpath=..")
            for filled in (False, True):
                place.set_checked(filled) if filled else None
                assert painted_contrast(place) >= 3, row.inner_text()

    def test_a_still_s_ground_is_white(self, themed):
        """What lies still is a white sheet in either theme; a line is round it on a dark one."""
        images = themed.locator('.mensura-frame img[src^="data:image/"]')
        assert images.count() > 2
        for image in images.all():
            style = image.evaluate(
                "e => [getComputedStyle(e).backgroundColor, getComputedStyle(e).outlineStyle]"
            )
            dark = themed.evaluate("() => document.body.dataset.jpThemeLight") == "false"
            assert style == ["rgb(255, 255, 255)", "solid" if dark else "none"]

    def test_paper_is_white(self, themed):
        """Printed, in either theme: black on white, nothing to move, the words and table whole."""
        themed.emulate_media(media="print")
        try:
            seen = (
                themed.locator(".mensura-panel")
                .nth(1)
                .evaluate(
                    """panel => {
                  const shown = e => e.checkVisibility();
                  const words = panel.querySelector('.mensura-status');
                  const stage = panel.querySelector('.mensura-stage').getBoundingClientRect();
                  const image = panel.querySelector('.mensura-parts canvas')
                    .getBoundingClientRect();
                  const moved = [...panel.querySelectorAll('.mensura-row, button')].filter(shown);
                  return {moved: moved.length,
                    said: shown(words), table: shown(panel.querySelector('.mensura-table')),
                    ink: getComputedStyle(words).color,
                    paper: getComputedStyle(panel).backgroundColor,
                    whole: image.height > 400 && image.bottom <= stage.bottom + 1}; }"""
                )
            )
        finally:
            themed.emulate_media(media="screen")
        assert seen == {
            "moved": 0,
            "said": True,
            "table": True,
            "ink": "rgb(0, 0, 0)",
            "paper": "rgb(255, 255, 255)",
            "whole": True,
        }

    def test_a_fault_would_be_found(self, themed):
        """A word, a handle and a border painted badly: each is found, and nothing beside it."""
        damage = themed.add_style_tag(
            content="""
            .mensura-panel .mensura-status { color: #999 !important; opacity: 0.6; }
            .mensura-frame .mensura-panel .noUi-handle, .mensura-frame .mensura-row .noUi-horizontal
              .noUi-handle { background: rgba(120, 120, 120, 0.3) !important; }
            .mensura-ask button { border-color: rgba(120, 120, 120, 0.3) !important; }"""
        )
        texts = [what for ratio, what in themed.evaluate(TEXTS) if ratio < 4.5]
        marks = [what for ratio, what in themed.evaluate(MARKS) if ratio < 3]
        damage.evaluate("e => e.remove()")
        assert len(texts) == themed.locator(".mensura-panel .mensura-status").count()
        assert {what.split()[0] for what in marks} == {"DIV", "BUTTON"}
