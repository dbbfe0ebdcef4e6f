"""One look for every picture: colours, lines, lettering, and the size at which they are seen.

White ground, wood in a pale warm fill, bark as its drawn outline. Truth is black and solid, the
tape vermilion and solid, calipers blue, the classroom formula grey and dashed. The hues are those
published by Okabe and Ito for colour-blind readers; beside each stands a line style or a mark, so
that a picture printed in black and white still tells them apart. Lettering is 11 pt at the size
shown.
"""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from contextlib import contextmanager
from typing import Any

WHITE = "#FFFFFF"
TRUTH = "#000000"
TAPE = "#D55E00"
#: The tape's colour for words: its hue, dark enough to be read.
TAPE_WORD = "#B14E00"
CALIPERS = "#0072B2"
CLASSROOM = "#767676"
WOOD = "#F6E6CC"
BARK = "#5B4636"
QUIET = "#595959"
GRID = "#DDDDDD"

#: Ground under a stem; a band or a beam seen flat, a sixth of its own colour; bark, pale enough for
#: a tape on it; a year's ring in wood.
GROUND = "#E9E9E9"
BAND_FILL = "#F8E4D4"
BEAM_FILL = "#D4E8F2"
BARK_FILL = "#E9E4DF"
RING = "#E3CFA9"

#: Every colour of a picture by the name that is sent in its place, as it is on a light page; what
#: each is on any other page says `inks.py`.
INKS = {
    "paper": WHITE,
    "truth": TRUTH,
    "tape": TAPE,
    "tape-word": TAPE_WORD,
    "calipers": CALIPERS,
    "classroom": CLASSROOM,
    "wood": WOOD,
    "bark": BARK,
    "quiet": QUIET,
    "grid": GRID,
    "ground": GROUND,
    "band-fill": BAND_FILL,
    "beam-fill": BEAM_FILL,
    "bark-fill": BARK_FILL,
    "ring": RING,
}

#: What stands round the pictures, by name: its colour on a light page and on a dark one. Text on
#: paper has at least 4.5 : 1, every other one of them 3 : 1; `style.py` makes the sheet's of it.
THEMES = {
    "ink": (TRUTH, "#F2F2F2"),
    "paper": (WHITE, "#111111"),
    "quiet": (QUIET, "#B9B9B9"),
    "line": ("#858585", "#7F7F7F"),
    "grip": ("#333333", "#E0E0E0"),
    "focus": (TRUTH, WHITE),
    "tape": (TAPE, "#F08A3C"),
    "calipers": (CALIPERS, "#56B4E9"),
    "button": ("#F4F4F4", "#2B2B2B"),
}

#: Pictures are made at twice the density at which they are shown.
SHOWN_DPI = 96
DENSITY = 2

TEXT_PT = 11
#: Letters as wide as they are at any size: rounded to dots, a page's words would miss them.
HINTING = "none"

_RC: Any = {
    "font.family": "DejaVu Sans",
    "font.size": TEXT_PT,
    "axes.titlesize": TEXT_PT,
    "axes.labelsize": TEXT_PT,
    "xtick.labelsize": TEXT_PT,
    "ytick.labelsize": TEXT_PT,
    "legend.fontsize": TEXT_PT,
    "axes.spines.top": False,
    "axes.spines.right": False,
    "axes.edgecolor": QUIET,
    "axes.labelcolor": TRUTH,
    "xtick.color": QUIET,
    "ytick.color": QUIET,
    "xtick.labelcolor": TRUTH,
    "ytick.labelcolor": TRUTH,
    "axes.grid": False,
    "grid.color": GRID,
    "grid.linewidth": 0.8,
    "figure.facecolor": "white",
    "axes.facecolor": "white",
    "axes.unicode_minus": True,
    "path.simplify": True,
    "text.hinting": HINTING,
}

#: Each caliper practice: (line style, mark). All are blue.
PRACTICE_STYLE: dict[str, tuple[Any, str]] = {
    "one": ((0, (1, 1.6)), "o"),
    "two-arithmetic": ("-", "s"),
    "two-geometric": ((0, (6, 1.5, 1.5, 1.5)), "D"),
    "two-quadratic": ((0, (5, 3)), "^"),
    "many-arithmetic": ("", "+"),
}


@contextmanager
def house_style() -> Iterator[None]:
    """Matplotlib's settings for our pictures, set back afterwards.

    >>> with house_style():
    ...     import matplotlib
    ...     matplotlib.rcParams["font.size"]
    11.0
    """
    import matplotlib

    with matplotlib.rc_context(_RC):
        yield


def new_figure(width_px: int, height_px: int) -> Any:
    """An empty figure, shown at width_px by height_px and drawn at double density.

    width_px, height_px: size as shown, in CSS pixels. No pyplot: nothing is kept open.

    >>> new_figure(400, 300).canvas.get_width_height()
    (800, 600)
    """
    from matplotlib.backends.backend_agg import FigureCanvasAgg
    from matplotlib.figure import Figure

    figure = Figure(figsize=(width_px / SHOWN_DPI, height_px / SHOWN_DPI), dpi=SHOWN_DPI * DENSITY)
    FigureCanvasAgg(figure)
    return figure


def place(figure: Any, left: float, bottom: float, width: float, height: float) -> Any:
    """Axes at a place given in shown pixels from the figure's lower left corner.

    figure: from :func:`new_figure`; left, bottom, width, height: in CSS pixels.

    >>> axes = place(new_figure(400, 300), 100, 75, 200, 150)
    >>> [float(part) for part in axes.get_position().bounds]
    [0.25, 0.25, 0.5, 0.5]
    """
    wide, high = (float(size) * SHOWN_DPI for size in figure.get_size_inches())
    return figure.add_axes((left / wide, bottom / high, width / wide, height / high))


def first_scale(need: float, scales: Sequence[float]) -> float:
    """The first of a chart's scales that holds what is needed; the last if none does.

    need: how far the chart has to reach; scales: in rising order, in the chart's own unit.

    >>> first_scale(1.3, (1.0, 2.0, 4.0)), first_scale(9.0, (1.0, 2.0, 4.0))
    (2.0, 4.0)
    """
    return next((one for one in scales if one >= need), scales[-1])
