"""What a live panel sends, told by differences, is painted dot by dot as the plain record."""

from __future__ import annotations

import base64
import json
from importlib.resources import files

from mensura.views.chapters import panels
from mensura.views.kit.live import Live
from mensura.views.kit.look import INKS
from mensura.views.kit.record import slim

PAINTED = """async ([code, pairs, inks]) => {
  const url = URL.createObjectURL(new Blob([code], { type: 'text/javascript' }));
  const { Shapes } = await import(url);
  const seen = [new Shapes(), new Shapes()];
  const canvas = document.createElement('canvas');
  const ink = canvas.getContext('2d', { willReadFrequently: true });
  const painted = [];
  for (const pair of pairs) {
    painted.push(await Promise.all(pair.map(async (text, k) => {
      const bytes = Uint8Array.from(atob(text), (one) => one.charCodeAt(0));
      // in a message a buffer begins anywhere
      const shifted = new Uint8Array(bytes.length + 3);
      shifted.set(bytes, 3);
      await seen[k].apply(new DataView(shifted.buffer, 3));
      [canvas.width, canvas.height] = seen[k].size;
      seen[k].paint(ink, [0, 0, ...seen[k].size], 1, inks);
      return canvas.toDataURL();
    })));
  }
  return painted;
}"""


def test_told_by_differences_it_looks_the_same(chromium):
    """The whole of every panel's picture and three moves of it, on two canvases."""
    page = chromium.new_page()
    page.set_content("<!doctype html><title>shapes</title>")
    code = files("mensura.views.kit").joinpath("shapes.js").read_text("utf-8")
    for name, panel in panels().items():
        live = Live(panel.picture())
        sent = [live.record(panel.numbers(**panel.start()))]
        for control in panel.controls[:3]:
            state = panel.start() | {control.name: control.ends[0]}
            sent.append(live.changes(panel.numbers(**state), control.name)[0])
        pairs = [[base64.b64encode(one).decode() for one in (plain, slim(plain))] for plain in sent]
        painted = page.evaluate(PAINTED, [code, pairs, json.loads(json.dumps(dict(INKS)))])
        for plain, by_differences in painted:
            assert len(plain) > 2000, name
            assert plain == by_differences, name
        assert len({plain for plain, _ in painted}) > 1, name
    page.close()
