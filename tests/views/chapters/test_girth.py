"""The girth panel: its numbers by plain arithmetic, its lines where they belong, its words."""

from __future__ import annotations

import math
from itertools import pairwise, product

import numpy as np
import pytest

from mensura.teaching.panels.girth import numbers
from mensura.views.chapters.girth import (
    BANDS,
    FIRST_CM,
    GIRTH_PANEL,
    LAST_CM,
    GirthPicture,
    readout,
    status,
)
from mensura.views.kit.live import Live

GIRTHS_CM = (60, 60.5, 126, 157, 219.5, 220)
MISREADINGS_CM = (-5, -0.1, 0, 0.1, 2, 5)
STATES = [{"girth_cm": g, "misread_cm": m} for g, m in product(GIRTHS_CM, MISREADINGS_CM)]


@pytest.fixture(scope="module")
def live() -> Live:
    return Live(GirthPicture())


def test_sources_of_its_numbers() -> None:
    """A girth of 100 cm holds 795.775 cm² (100²/4π, by hand); 1 % too long makes 2.01 %."""
    shown = numbers(**{"girth_cm": 100, "misread_cm": 1})
    assert shown.area_cm2 == pytest.approx(795.7747, abs=1e-4)
    assert shown.girth_over_percent == pytest.approx(1, abs=1e-12)
    assert shown.area_over_percent == pytest.approx(2.01, abs=1e-9)


@pytest.mark.parametrize("state", STATES)
def test_numbers_by_plain_arithmetic(state: dict[str, float]) -> None:
    """At the ends of the controls and between: diameter, area, and both errors."""
    girth, read = state["girth_cm"], state["girth_cm"] + state["misread_cm"]
    shown = numbers(**state)
    assert shown.read_cm == read
    assert shown.diameter_cm == pytest.approx(girth / math.pi)
    assert shown.read_diameter_cm == pytest.approx(read / math.pi)
    assert shown.area_cm2 == pytest.approx(math.pi * (girth / math.pi / 2) ** 2)
    assert shown.read_area_cm2 == pytest.approx(math.pi * (read / math.pi / 2) ** 2)
    part = state["misread_cm"] / girth
    assert shown.girth_over_percent == pytest.approx(100 * part)
    assert shown.area_over_percent == pytest.approx(100 * (2 * part + part**2))


@pytest.mark.parametrize("state", STATES)
def test_the_picture_shows_the_numbers(live: Live, state: dict[str, float]) -> None:
    """Circle, dots and lines stand where the model says, and inside their axes."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    assert 2 * picture.wood.get_radius() == pytest.approx(state["girth_cm"] / math.pi)
    assert picture.wood.get_radius() < picture.tape.get_radius() < picture.REACH_CM
    assert max(picture.tab.get_xdata()) < picture.REACH_CM
    for mark, lines, across, top, girth in (
        (
            picture.true_mark,
            picture.true_lines,
            picture.true_across,
            picture.true_top,
            shown.girth_cm,
        ),
        (
            picture.read_mark,
            picture.read_lines,
            picture.read_across,
            picture.read_top,
            shown.read_cm,
        ),
    ):
        (x,), (y,) = mark.get_data()
        assert x == girth
        assert y == pytest.approx(girth * girth / (4 * math.pi))
        assert FIRST_CM < x < LAST_CM
        assert y < picture.MOST_CM2
        assert list(lines.get_xdata()) == [girth, girth, FIRST_CM]
        assert list(lines.get_ydata()) == pytest.approx([0, y, y])
        assert set(across.get_xdata()) == {girth}
        assert list(top.get_xdata()) == [girth]
    assert f"{shown.read_cm:.1f} cm" in picture.word.get_text()


def test_lettering_of_the_stem_fits_its_circle(live: Live) -> None:
    """The reading stands inside the smallest stem."""
    live.paint(numbers(**{"girth_cm": 60, "misread_cm": 5}))
    picture = live.picture
    words = picture.word.get_window_extent(live.figure.canvas.get_renderer())
    stem = picture.wood.get_window_extent()
    assert stem.x0 < words.x0
    assert words.x1 < stem.x1
    assert stem.y0 < words.y0
    assert words.y1 < stem.y1


@pytest.mark.parametrize("state", STATES)
def test_moving_lines_leave_the_chart_s_lettering_clear(
    live: Live, state: dict[str, float]
) -> None:
    """Neither line of the chart, nor the band's, runs through a word or a number."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    renderer = live.figure.canvas.get_renderer()
    for axes, lines in (
        (picture.verdict.axes, (picture.true_lines, picture.read_lines)),
        (picture.true_across.axes, (picture.true_across, picture.read_across)),
    ):
        boxes = [text.get_window_extent(renderer) for text in axes.texts]
        for line in lines:
            dots = axes.transData.transform(np.column_stack(line.get_data()))
            for (x0, y0), (x1, y1) in pairwise(dots):
                if np.isnan([y0, y1]).any():
                    continue
                for box in boxes:
                    apart = (
                        max(x0, x1) < box.x0
                        or min(x0, x1) > box.x1
                        or max(y0, y1) < box.y0
                        or min(y0, y1) > box.y1
                    )
                    assert apart


def test_the_overlap_check_can_fail(live: Live, letters) -> None:
    """The check itself: a text laid on another is found, and one over the edge."""
    live.paint(numbers(**GIRTH_PANEL.start()))
    figure = live.figure
    extra = [
        figure.text(0.5, 0.5, "one", fontsize=8),
        figure.text(0.505, 0.5, "two", fontsize=11),
        figure.text(0.99, 0.9, "over the edge", fontsize=11),
    ]
    assert ("one", "two") in letters.overlaps(figure)
    assert letters.cut_off(figure) == ["over the edge"]
    assert letters.too_small(figure) == ["one"]
    for text in extra:
        text.remove()
    assert letters.overlaps(figure) == []


def test_scales_are_printed_where_they_belong() -> None:
    """A numbered mark of each scale, found by hand: 40 cm of diameter at 125.66 cm of girth."""
    from mensura.views.chapters.girth import _marks_cm

    for scale, every, where_cm in (
        ("girth, cm", 20, 60),
        ("girth, in", 10, 127.0),
        ("diameter, cm", 10, 125.664),
        ("diameter, in", 2, 127.674),
    ):
        assert BANDS[scale][2] == every
        marks = _marks_cm(scale, every)
        assert np.abs(marks - where_cm).min() < 0.001
        assert marks.min() >= FIRST_CM
        assert marks.max() <= LAST_CM


def test_words_carry_the_present_numbers() -> None:
    """Alternative text, status and table speak of the state, not of the start."""
    shown = numbers(**{"girth_cm": 150, "misread_cm": 1.5})
    alt = GirthPicture().describe(shown)
    for part in ("girth 150 cm", "47.75 cm", "1790 cm²", "151.5 cm", "+1.00 %", "+2.01 %", "59.65"):
        assert part in alt
    assert status(shown) == (
        "Read 151.5 cm for 150.0 cm: the girth is +1.00 % off, the area +2.01 %."
    )
    table = readout(shown)
    for part in ("1790.5", "1826.5", "+36.0", "0.17905", "1.9273", "181 cm²"):
        assert part in table
    assert "read without fault" in status(numbers(**{"girth_cm": 150, "misread_cm": 0}))


def test_units_of_the_table() -> None:
    """1 ft² is 929.0304 cm² by definition; the table's three areas are one area."""
    import re

    cells = re.findall(r"Area, (\S+)</th><td>([\d.]+)", readout(numbers(**GIRTH_PANEL.start())))
    area = {unit: float(value) for unit, value in cells}
    assert area["m²"] * 1e4 == pytest.approx(area["cm²"], abs=0.1)
    assert area["ft²"] * 929.0304 == pytest.approx(area["cm²"], abs=0.1)
