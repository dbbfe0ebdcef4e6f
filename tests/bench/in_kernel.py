"""What a bench runs in a kernel: panels at work, the same panels as pixels, and a bare echo.

A kernel reads this file by `runpy`; the bench beside it moves the controls and counts.
"""

from __future__ import annotations

import base64
import html
import io
import json
import statistics
import time
from collections.abc import Callable, Iterator, Sequence
from dataclasses import replace
from functools import wraps
from typing import Any

import ipywidgets as w
import numpy as np

from mensura.teaching.controls import Control
from mensura.views.chapters import panels
from mensura.views.kit import look
from mensura.views.kit.panel import LivePanel, Panel

ROADS = ("classroom", "ellipse", "outline", "calipers")
#: Parts of a move, in the order in which they come; what is left is the widgets' own.
STAGES = ("numbers", "show", "record", "words", "send")
HERE = {"kind": "here"}


def every_panel() -> dict[str, Panel[Any]]:
    """All panels there are: the chapters', and the roads of the proof."""
    # brings sympy along, which a class's kernels can do without
    from mensura.views.proof.panel import proof_panel

    return {**panels(), **{f"road {one}": proof_panel(one) for one in ROADS}}


def stops(control: Control, count: int) -> list[float]:
    """Where a control stands in a drag: one step after the other, from its start up and back.

    None stands where the one before stood, and as few as can be come twice.
    """
    first = round((control.start - control.least) / control.step)
    last = round((control.greatest - control.least) / control.step)
    way = [*range(first + 1, last + 1), *range(last - 1, -1, -1), *range(1, first + 1)]
    each = [control.least + control.step * way[k % len(way)] for k in range(count)]
    return [round(one) if control.whole else round(one, 6) for one in each]


def echo() -> tuple[Any, Any]:
    """A bare slider and the label that says where it stands: no picture, no numbers, no words."""
    slider, label = w.FloatSlider(min=0, max=1e6, step=0.5), w.Label()
    slider.observe(lambda change: setattr(label, "value", f"{change['new']:g}"), "value")
    return slider, label


def at_work(panel: Panel[Any]) -> LivePanel[Any]:
    """A panel at work whose picture somebody sees."""
    live = panel.at_work()
    live.image.hear(HERE)
    return live


class OldWay(LivePanel[Any]):
    """The same panel as pixels: Agg, a palette, a PNG of zlib's level 6, an <img> in an HTML."""

    def __init__(self, panel: Panel[Any]) -> None:
        picture = panel.picture()
        with look.house_style():
            self.figure = look.new_figure(picture.width_px, picture.height_px)
            picture.draw(self.figure)
        for artist in picture.moving:
            artist.set_animated(True)
        self.picture, self.shown, self.palette = picture, w.HTML(), None
        self.figure.canvas.draw()
        self.still_parts = self.figure.canvas.copy_from_bbox(self.figure.bbox)
        super().__init__(panel)

    def draw(self, by: str = "") -> None:
        from PIL import Image

        numbers, canvas = self.panel.numbers(**self.state), self.figure.canvas
        canvas.restore_region(self.still_parts)
        self.picture.show(numbers)
        for artist in self.picture.moving:
            if artist.get_visible():
                artist.draw(canvas.get_renderer())
        dots = np.asarray(canvas.buffer_rgba())
        image = Image.frombytes("RGB", dots.shape[1::-1], dots, "raw", "RGBX")
        self.palette = self.palette or image.quantize(250)
        out = io.BytesIO()
        small = image.quantize(palette=self.palette, dither=Image.Dither.NONE)
        small.save(out, "PNG", compress_level=6)
        data = base64.b64encode(out.getvalue()).decode("ascii")
        alt = html.escape(self.picture.describe(numbers))
        self.shown.value = f'<img alt="{alt}" src="data:image/png;base64,{data}">'
        self.said.value = f'<p role="status">{html.escape(self.panel.status(numbers))}</p>'
        self.words.value = self.panel.readout(numbers)


# ---- how long the parts of a move take -------------------------------------------------------


class Watch:
    """Seconds by stage, each without what was called within it; processor time of this thread."""

    def __init__(self) -> None:
        self.seconds = dict.fromkeys(STAGES, 0.0)
        self._inner = [0.0]

    def over(self, stage: str, task: Callable[..., Any]) -> Callable[..., Any]:
        """The same task, its time counted for a stage."""

        @wraps(task)
        def watched(*told: Any, **more: Any) -> Any:
            start = time.thread_time()
            self._inner.append(0.0)
            try:
                return task(*told, **more)
            finally:
                took = time.thread_time() - start
                self.seconds[stage] += took - self._inner.pop()
                self._inner[-1] += took

        return watched

    def panel(self, panel: Panel[Any]) -> Panel[Any]:
        """The same panel, its numbers and words watched."""
        words = {name: self.over("words", getattr(panel, name)) for name in ("readout", "status")}
        return replace(panel, numbers=self.over("numbers", panel.numbers), **words)

    def live(self, live: Any) -> None:
        """A live picture, watched from now on."""
        if "changes" not in vars(live):
            live.changes = self.over("record", live.changes)
            live.picture.show = self.over("show", live.picture.show)
            live.picture.describe = self.over("words", live.picture.describe)


def situations(panel: Panel[Any]) -> Iterator[dict[str, Any]]:
    """Where a panel's controls are tried: at the start, or where each kind of picture first comes.

    A road of the proof has many pictures, and an outline's is another one for each outline.
    """
    if panel.stepper is None:
        yield {}
        return
    from mensura.views.proof.panel import ProofPanel, picture_key

    if not isinstance(panel, ProofPanel):
        yield {"step": panel.stepper.count}  # where all is shown
        return
    seen = set()
    for step in range(1, panel.stepper.count + 1):
        key = picture_key(panel.numbers(**panel.start() | {"step": step}))
        if key not in seen:
            seen.add(key)
            yield {"step": step}


def stages(moves: int) -> list[tuple[str, str, dict[str, float]]]:
    """Median seconds of each stage of a move, for every panel and each of its controls.

    moves: how often each control is moved. As when a page moves the slider: its state comes in,
    its echo goes out. Returns name of the panel, of the control, and seconds by stage; "whole" is
    the move with everything.
    """
    watch, rows = Watch(), []

    def echoed() -> dict[str, float]:
        return moved(watch, echo()[0], [k / 2 for k in range(1, 4 * moves)])

    bare = w.Widget._send
    w.Widget._send = watch.over("send", bare)
    try:
        for name, panel in every_panel().items():
            # each time anew, since a machine is not as fast at every moment
            rows.append(("bare echo", "", echoed()))
            work = at_work(watch.panel(panel))
            for situation in situations(panel):
                work.set(**panel.start() | situation)
                watch.live(work.live)
                kind = f" {situation['step']}" if name.startswith("road") else ""
                for control in panel.controls:
                    took = moved(watch, work.sliders[control.name], stops(control, moves))
                    rows.append((name + kind, control.name, took))
                    work.set(**panel.start() | situation)
                    watch.live(work.live)
            work.widget.close()
    finally:
        w.Widget._send = bare
    return rows


def moved(watch: Watch, slider: Any, values: Sequence[float]) -> dict[str, float]:
    """Median seconds by stage while a slider goes through values; the first two are a warm-up."""
    each: list[dict[str, float]] = []
    for value in values:
        watch.seconds.update(dict.fromkeys(STAGES, 0.0))
        start = time.thread_time()
        slider.set_state({"value": value})
        whole = time.thread_time() - start
        each.append({**watch.seconds, "whole": whole})
    return {name: statistics.median(one[name] for one in each[2:]) for name in each[0]}


def redrawing(panel: Panel[Any], name: str) -> Callable[[float], None]:
    """What `interact` calls: the panel's figure, drawn anew for one value of one control."""
    import matplotlib.pyplot as plt

    def redraw(value: float) -> None:
        with look.house_style():
            picture = panel.picture()
            size = picture.width_px / look.SHOWN_DPI, picture.height_px / look.SHOWN_DPI
            picture.draw(plt.figure(figsize=size, dpi=look.SHOWN_DPI))
            picture.show(panel.numbers(**panel.start() | {name: value}))
            plt.show()

    return redraw


def interact_seconds(moves: int) -> dict[str, float]:
    """Median seconds of a move with `interact` that draws the same figure anew, by panel."""
    took = {}
    for title, panel in panels().items():
        control = panel.controls[0]
        slider = w.FloatSlider(min=control.least, max=control.greatest, value=control.start)
        w.interact(redrawing(panel, control.name), value=slider)
        each = []
        for value in stops(control, moves + 1):
            start = time.thread_time()
            slider.set_state({"value": value})
            each.append(time.thread_time() - start)
        took[title] = statistics.median(each[1:])
    return took


def kilobytes() -> int:
    """Memory that this kernel holds, as Linux counts it; -1 where nothing counts it so."""
    import gc

    gc.collect()
    try:
        with open("/proc/self/status", encoding="ascii") as status:
            line = next(one for one in status if one.startswith("VmRSS"))
    except OSError:
        return -1
    return int(line.split()[1])


def told(one: Any) -> None:
    """Print something for the bench to read."""
    print(json.dumps(one))
