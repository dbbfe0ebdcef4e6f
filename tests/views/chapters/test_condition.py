"""The condition panel: its numbers by plain arithmetic, its marks where they belong, its words."""

from __future__ import annotations

import math
from itertools import pairwise, product

import numpy as np
import pytest

from mensura.teaching.panels.condition import CONTROLS, FAULTS, SOUND, numbers
from mensura.views.chapters.condition import CONDITION_PANEL, ConditionPicture, readout, status
from mensura.views.kit.live import Live
from mensura.views.kit.numerals import half_width_px

START = CONDITION_PANEL.start()
ENDS = [(control.least, control.greatest) for control in CONTROLS]
CORNERS = [
    dict(zip([control.name for control in CONTROLS], values, strict=True))
    | {"fibreglass": fibreglass, "down": down}
    for values in product(*ENDS)
    for fibreglass, down in ((False, False), (True, True))
]
AWKWARD = [
    START,
    START | SOUND,
    START | SOUND | {"girth_cm": 125.0, "down": True},
    START | SOUND | {"girth_cm": 124.9, "down": True},
    START
    | {"girth_cm": 100.0, "worn_start_cm": 0.1, "stretch_percent": 0.0, "shrink_percent": 0.1},
]
#: Every control at its ends one at a time, all of them together, and between.
STATES = [
    *AWKWARD,
    *(START | {c.name: value} for c in CONTROLS for value in (c.least, c.greatest)),
    *CORNERS[::5],
]


@pytest.fixture(scope="module")
def live() -> Live:
    return Live(ConditionPicture())


def told_by_hand(state: dict) -> float:
    """The reading before rounding, from the state alone."""
    expansion, stiffness = (36e-6, 25_000.0) if state["fibreglass"] else (11.6e-6, 411_879.3)
    way = state["girth_cm"] + math.pi * state["thickness_mm"] / 10
    step = (
        (1 + state["stretch_percent"] / 100)
        * (1 - state["shrink_percent"] / 100)
        * (1 + expansion * (state["temperature_c"] - 20))
        * (1 + (state["pull_n"] - 50) / stiffness)
    )
    return way / step + state["worn_start_cm"]


@pytest.mark.parametrize("state", STATES)
def test_numbers_by_plain_arithmetic(state: dict) -> None:
    """Reading, rounding, diameter, area and both errors, at the ends of the controls."""
    shown = numbers(**state)
    told = told_by_hand(state)
    assert shown.told_cm == pytest.approx(told, rel=1e-7)
    read = math.floor(told + 1e-9) if state["down"] else told
    assert shown.reading_cm == pytest.approx(read, rel=1e-7)
    girth = state["girth_cm"]
    assert shown.girth_cm + sum(shown.breakdown.values()) == pytest.approx(shown.reading_cm)
    assert shown.area_cm2 == pytest.approx(girth**2 / (4 * math.pi))
    assert shown.read_area_cm2 == pytest.approx(read**2 / (4 * math.pi), rel=1e-6)
    part = shown.reading_cm / girth
    assert shown.diameter_over_percent == pytest.approx(100 * (part - 1))
    assert shown.area_over_percent == pytest.approx(100 * (part**2 - 1))
    assert set(shown.breakdown) <= set(FAULTS)


@pytest.mark.parametrize("state", STATES)
def test_the_way_back(state: dict) -> None:
    """Exactly undone; with rounding, short by no more than its step and never too long."""
    shown = numbers(**state)
    left = shown.girth_cm - shown.back.girth_cm
    if state["down"]:
        longest = 1.03 * shown.back.rounding_cm
        assert -1e-9 <= left <= longest
        assert "up to 1 cm" in readout(shown)
    else:
        assert left == pytest.approx(0, abs=1e-9)
        assert "every part of the band's condition exactly" in readout(shown)


@pytest.mark.parametrize("state", STATES)
def test_marks_meet_where_it_is_read(state: dict) -> None:
    """The mark that is told lies at the true girth, the first mark left over at the start."""
    shown = numbers(**state)
    assert shown.place_cm(shown.told_cm) == pytest.approx(shown.girth_cm, abs=1e-9)
    assert shown.place_cm(state["worn_start_cm"]) == 0


def drawn(window, line) -> np.ndarray:
    """Where a window's marks stand, and how far they reach from the line they meet on."""
    x, y = line.get_data()
    return np.column_stack([x[::3], np.abs(np.asarray(y)[1::3] - window.STRIP_CM)])


@pytest.mark.parametrize("state", STATES)
def test_the_picture_shows_the_numbers(live: Live, state: dict) -> None:
    """Ruler, band, numbers and bars stand where the model says, inside their windows."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    for window, middle in ((picture.start, 0.0), (picture.end, shown.girth_cm)):
        for line, numerals, place in (
            (window.ruler_marks, window.ruler_numbers, lambda m: np.asarray(m)),
            (window.band_marks, window.band_numbers, shown.place_cm),
        ):
            marks = drawn(window, line)
            assert marks[:, 0].min() >= -window.before - 1e-6
            assert marks[:, 0].max() <= window.after + 1e-6
            # each millimetre once, evenly
            step = place(1.0) - place(0.0)
            assert np.diff(marks[:, 0]) == pytest.approx(step / 10, rel=1e-5)
            for value, (x, _) in zip(numerals.values, numerals.places, strict=True):
                assert x == pytest.approx(place(float(value)) - middle, abs=1e-6)
            # a number every centimetre stands at a long mark
            assert np.diff(numerals.values) == pytest.approx(1)
            assert len(numerals.values) >= 5
            long = marks[marks[:, 1] > 0.45][:, 0]
            for x, _ in numerals.places:
                assert np.abs(long - x).min() < 1e-6
    values = [shown.breakdown.get(name, 0.0) for name in FAULTS]
    ends = [segment[1, 0] for segment in picture.bars.bars.get_segments()]
    assert ends == pytest.approx([*values, shown.reading_cm - shown.girth_cm])
    low, high = picture.bars.axes.get_xlim()
    assert low <= min(ends)
    assert max(ends) <= high
    assert f"{shown.girth_cm:.1f}" in picture.true_word.get_text()
    assert f"{shown.reading_cm:.2f}".removesuffix(".00") in picture.read_word.get_text()


def test_worn_start_is_drawn_to_its_length(live: Live) -> None:
    """Half a centimetre missing is half a centimetre of dashes; none, no dashes."""
    picture = live.picture
    shown = numbers(**START | SOUND | {"worn_start_cm": 0.5})
    live.paint(shown)
    x = picture.gone.get_xdata()
    assert max(x) - min(x) == pytest.approx(0.5 * picture.PX_PER_CM)
    assert picture.gone.get_visible()
    live.paint(numbers(**START | SOUND))
    assert not picture.gone.get_visible()


@pytest.mark.parametrize("state", STATES)
def test_the_band_s_numbers_keep_apart(live: Live, state: dict) -> None:
    """The numbers of ruler and band lie neither on each other nor over their window's edge."""
    live.paint(numbers(**state))
    picture = live.picture
    for window in (picture.start, picture.end):
        for numerals in (window.ruler_numbers, window.band_numbers):
            spans = [
                (picture.PX_PER_CM * x - half_width_px(v), picture.PX_PER_CM * x + half_width_px(v))
                for v, (x, _) in zip(numerals.values, numerals.places, strict=True)
            ]
            assert all(right < left for (_, right), (left, _) in pairwise(spans))
            assert spans[0][0] > -window.before * picture.PX_PER_CM
            assert spans[-1][1] < window.after * picture.PX_PER_CM


def test_values_stand_beside_their_bars(live: Live) -> None:
    """Each value lies level with its row, ends in its column, and says its number: as painted."""
    shown = numbers(**START)
    painted = live.paint(shown)
    bars = live.picture.bars
    axes = bars.bars.axes
    right = round(axes.bbox.x1)
    # the ink right of the bars; a minus alone would stand lower than the figures
    dark = painted[:, right + 4 :, :3].max(axis=-1) < 90
    height, width = dark.shape
    for row in range(len(FAULTS) + 1):
        level = round(height - axes.transData.transform((0, row))[1])
        band = dark[level - 25 : level + 26]
        ink = np.flatnonzero(band.any(axis=1)) - 25
        assert (ink.min() + ink.max()) / 2 == pytest.approx(0, abs=3)
        across = np.flatnonzero(band.any(axis=0))
        assert across.min() > 4
        assert across.max() < width - 4
    adds = [shown.breakdown.get(name, 0.0) for name in FAULTS]
    said = [float(line.replace("−", "-")) for line in bars.values.lines]
    assert said == pytest.approx([*adds, sum(adds)], abs=5e-4)


def test_values_are_set_like_text(live: Live) -> None:
    """Each letter starts where Matplotlib's own text of that size would have it."""
    figure = live.figure
    word = figure.text(0, 0, "−10.239", fontsize=11)
    wide = word.get_window_extent(figure.canvas.get_renderer()).width
    word.remove()
    values = live.picture.bars.values
    values.set(["−10.239"], [(60.0, 0.0)])
    starts = np.asarray(values.artist.get_offsets())[:, 0]
    assert 2 * (60.0 - starts[0]) == pytest.approx(wide, abs=5)
    assert np.all(np.diff(starts) > 0)


def test_words_carry_the_present_numbers() -> None:
    """Alternative text, status and table speak of the state, not of the start."""
    shown = numbers(**START | SOUND | {"girth_cm": 101.0, "stretch_percent": 1.0})
    assert shown.reading_cm == pytest.approx(100.0)
    alt = ConditionPicture().describe(shown)
    for part in ("101.0 cm", "100.00 cm", "stretch −1.000", "steel", "together −1.000"):
        assert part in alt
    assert status(shown) == (
        "True girth 101.0 cm, read 100.00 cm: diameter −0.99 %, area −1.97 %. Corrected: 101.00 cm."
    )
    table = readout(shown)
    for part in ("811.8", "795.8", "−16.0", "11.6 millionths", "EA = 411879 N"):
        assert part in table
    assert "together 0.000" in ConditionPicture().describe(numbers(**START | SOUND))
