"""Live pictures against the usual way: in the kernel, and from key press to picture on screen.

Both ways draw the same figure at the same density, side by side in one run, thirty presses each.
Ratios are held; times are printed and never held, since they belong to the machine.
"""

from __future__ import annotations

import json

import nbformat

PRESSES = 30

SETUP = """
import json, statistics, time
import ipywidgets as w
import matplotlib.pyplot as plt
%matplotlib inline
%config InlineBackend.figure_format = 'retina'
%config InlineBackend.print_figure_kwargs = {'bbox_inches': None}
from mensura.views.kit import live
from mensura.views.chapters.out_of_round import (PANEL)
from mensura.views.chapters.out_of_round.picture import (OutOfRoundPicture)
from mensura.teaching.panels.out_of_round import (numbers)
from mensura.views.kit.panel import LivePanel

def redraw(turn):
    picture = OutOfRoundPicture()
    with live.house_style():
        figure = plt.figure(figsize=(picture.width_px / 96, picture.height_px / 96), dpi=96)
        picture.draw(figure)
    picture.show(numbers(**PANEL.start() | {'caliper_direction_deg': turn}))
    plt.show()
"""

KERNEL = """
panel = LivePanel(PANEL)
slider = panel.sliders['caliper_direction_deg']
moments = {}
bare_encode = live.encode_fast
def watched(buffer):
    moments["buffer"] = buffer
    data = bare_encode(buffer)
    moments['encoded'] = time.perf_counter()
    return data
live.encode_fast = watched

usual = w.FloatSlider(min=0, max=90, step=0.5, value=15)
w.interact(redraw, turn=usual)

def clock(task):
    start = time.perf_counter()
    task()
    return time.perf_counter() - start

ours, whole, bare, theirs = [], [], [], []
turns = [20 + press * 0.5 for press in range(PRESSES + 3)]
for turn in turns:
    start = time.perf_counter()
    slider.value = turn
    whole.append(time.perf_counter() - start)
    ours.append(moments['encoded'] - start)
    bare.append(clock(lambda: bare_encode(moments['buffer'])))
for turn in turns:
    theirs.append(clock(lambda: setattr(usual, 'value', turn)))
print(json.dumps([statistics.median(times[3:]) for times in (ours, whole, bare, theirs)]))
""".replace("PRESSES", str(PRESSES))


def _notebook(*sources: str):
    notebook = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(source) for source in sources]
    )
    notebook.metadata["kernelspec"] = {
        "name": "python3",
        "display_name": "Python 3 (ipykernel)",
        "language": "python",
    }
    return notebook


def test_kernel_answers_near_the_cost_of_encoding(run_in_kernel):
    """From control to bytes: at most 1.5 encodings, at least 7 times shorter than redrawing."""
    best = (9.9, 0.0)
    for _ in range(3):  # a busy moment of the machine may spoil one run
        ours, whole, bare, theirs = json.loads(run_in_kernel(SETUP, KERNEL))
        over_encoding, gain = ours / bare, theirs / whole
        print(
            f"\nlive picture, kernel: control to bytes {ours * 1e3:.1f} ms, bare encoding "
            f"{bare * 1e3:.1f} ms: ratio {over_encoding:.2f} (at most 1.5); control to sent "
            f"{whole * 1e3:.1f} ms, interact redrawing {theirs * 1e3:.1f} ms: "
            f"{gain:.1f} times shorter (at least 7)"
        )
        best = min(best, (over_encoding, gain))
        if over_encoding <= 1.5 and gain >= 7:
            break
    assert best[0] <= 1.5
    assert best[1] >= 7


WATCH = """
window.__press = null; window.__done = [];
document.addEventListener('keydown', () => { window.__press = performance.now(); }, true);
new MutationObserver((changes) => {
  for (const change of changes) for (const node of change.addedNodes) {
    if (node.nodeType !== 1) continue;
    const image = node.matches('img') ? node : node.querySelector('img');
    if (!image || !image.src.startsWith('data:image/png') || window.__press === null) continue;
    const start = window.__press; window.__press = null;
    image.decode().then(() => window.__done.push(performance.now() - start));
  }
}).observe(document.body, {childList: true, subtree: true});
"""


def _presses(page, handle) -> list[float]:
    page.evaluate("window.__done = []")
    handle.focus()
    for press in range(PRESSES + 3):
        page.keyboard.press("ArrowRight")
        page.wait_for_function(f"window.__done.length > {press}", timeout=20000, polling=10)
        page.wait_for_timeout(60)
    return sorted(page.evaluate("window.__done")[3:])


def test_picture_comes_sooner_on_screen(lab, open_workbook):
    """From key press to the decoded picture: at least 3.5 times shorter than redrawing."""
    usual = (
        "usual = w.FloatSlider(min=0, max=90, step=0.5, value=15)\n"
        "_ = w.interact(redraw, turn=usual)"
    )
    nbformat.write(_notebook(SETUP, "PANEL", usual), lab.folder / "bench.ipynb")
    gain = 0.0
    for _ in range(3):
        book = open_workbook("bench.ipynb", height=2400, ratio=2)
        book.run_all()
        page = book.page
        page.wait_for_timeout(1500)
        page.evaluate(WATCH)
        rows = page.locator(".mensura-row")
        ours = _presses(page, rows.last.locator("[role=slider]"))
        theirs = _presses(page, page.locator(".widget-interact [role=slider]"))
        half, late = PRESSES // 2, int(PRESSES * 0.95)
        gain = theirs[half] / ours[half]
        print(
            f"\nlive picture, chromium: key press to picture {ours[half]:.0f} ms (95th percentile "
            f"{ours[late]:.0f} ms, goal under 100), interact {theirs[half]:.0f} ms: "
            f"{gain:.1f} times shorter (at least 3.5)"
        )
        if gain >= 3.5:
            break
    assert gain >= 3.5
