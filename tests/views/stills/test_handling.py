"""The still pictures of workbook 01: words, size, lettering, and a few facts they must show."""

from __future__ import annotations

import io
import math

import numpy as np
import pytest
from PIL import Image

from mensura.stems import orange_girths
from mensura.views.kit import sketch
from mensura.views.kit.live import Live
from mensura.views.stills import handling
from mensura.views.stills.growth import GrowthPicture, orange_growth

SKETCHES = [handling.HowToHold, handling.WhereToMeasure, handling.CalipersCheck]
STILLS = [handling.how_to_hold, handling.where_to_measure, handling.calipers_check, orange_growth]


@pytest.fixture(scope="module")
def growth() -> Live:
    return Live(GrowthPicture(orange_girths()))


@pytest.mark.parametrize("make", STILLS)
def test_stills_have_words_and_size(make) -> None:
    """Each has an alternative text and is drawn at twice the size at which it is shown."""
    still = make()
    assert len(still.alt) > 100
    assert still.width_px == 860
    image = Image.open(io.BytesIO(still.png))
    assert image.size == (2 * still.width_px, 2 * still.height_px)
    assert image.getpixel((2, 2)) == (255, 255, 255)
    data, metadata = still._repr_mimebundle_()
    assert data["text/plain"] == still.alt
    assert metadata["image/png"]["alt"] == still.alt


@pytest.mark.parametrize("picture", SKETCHES)
def test_sketches_lettering(picture, letters) -> None:
    """Nothing overlaps, nothing is cut off, everything can be read from the back."""
    figure = Live(picture()).figure
    assert len(letters.lettering(figure)) >= 8
    assert letters.overlaps(figure) == []
    assert letters.cut_off(figure) == []
    assert letters.too_small(figure) == []


def test_growth_lettering(growth: Live, letters) -> None:
    """The labels of five lines stand clear of each other."""
    assert letters.overlaps(growth.figure) == []
    assert letters.cut_off(growth.figure) == []
    assert letters.too_small(growth.figure) == []
    names = [text for text, _ in letters.lettering(growth.figure)]
    assert sorted(name for name in names if name.startswith("tree")) == sorted(
        2 * [f"tree {tree}" for tree in range(1, 6)]
    )


def test_growth_draws_the_record(growth: Live) -> None:
    """Each line is one tree's girth, and beside it G²/4π of the same girths."""
    girth_axes, area_axes = growth.figure.axes
    record = orange_girths()
    assert len(girth_axes.lines) == len(area_axes.lines) == 5
    for tree, girth_line, area_line in zip(
        range(1, 6), girth_axes.lines, area_axes.lines, strict=True
    ):
        girths = record.girth_cm[record.tree == tree]
        assert list(girth_line.get_ydata()) == girths.tolist()
        assert area_line.get_ydata() == pytest.approx(girths**2 / (4 * math.pi))
    assert "tree 4 from 3.2 to 21.4 cm of girth and from 0.8 to 36.4 cm²" in orange_growth().alt


def test_growth_is_told_apart_without_colour(growth: Live) -> None:
    """Five marks and five line styles."""
    lines = growth.figure.axes[0].lines
    assert len({line.get_marker() for line in lines}) == 5
    assert len({str(line._unscaled_dash_pattern) for line in lines}) == 5


def test_close_up_reads_what_it_says() -> None:
    """The zero line of the tab stands at 126.3 on the scale drawn above it."""
    axes = Live(handling.HowToHold()).figure.axes[0]
    places = {t.get_text(): t.get_position()[0] for t in axes.texts if t.get_text().isdigit()}
    step = places["127"] - places["126"]
    zero = next(line.get_xdata()[0] for line in axes.lines if is_zero_line(line))
    assert 126 + (zero - places["126"]) / step == pytest.approx(126.3, abs=0.01)
    assert places["1"] - zero == pytest.approx(step)


def is_zero_line(line) -> bool:
    """The black upright on the tab of the close-up."""
    return line.get_linewidth() == 2.4 and max(line.get_ydata()) < 150


def test_closed_jaws_touch_and_open_ones_hold_the_rod() -> None:
    """Drawn calipers: no gap when closed, and the rod's length between the open jaws' faces."""
    figure = Live(handling.CalipersCheck()).figure
    width_per_pt = 96 / 72
    uprights = [
        (line.get_xdata()[0], line.get_linewidth() * width_per_pt)
        for line in figure.axes[0].lines
        if len(line.get_xdata()) == 2
        and line.get_xdata()[0] == line.get_xdata()[1]
        and min(line.get_ydata()) == 370
    ]
    (a, wide), (b, _), (c, _), (d, _) = uprights
    assert b - a == pytest.approx(wide)
    rods = [
        line.get_xdata()
        for line in figure.axes[0].lines
        if line.get_linewidth() == 7 and line.get_ydata()[0] > 400
    ]
    assert len(rods) == 2
    for rod in rods:
        assert rod[0] == pytest.approx(c + wide / 2)
        assert rod[1] == pytest.approx(d - wide / 2)


def test_trunk_widens_to_its_foot() -> None:
    """The drawn trunk is widest at the ground, and symmetric on level ground."""
    edge = sketch.trunk_px(100, 30, (20, 20), 200)
    low = edge[np.isclose(edge[:, 1], 20)]
    assert low[:, 0].min() == pytest.approx(54)
    assert low[:, 0].max() == pytest.approx(146)
    assert edge[:, 0].min() == low[:, 0].min()
