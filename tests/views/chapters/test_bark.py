"""The bark panel: numbers by other routes, lines where the model says, lettering, words."""

from __future__ import annotations

import math
import re

import numpy as np
import pytest
import shapely
from scipy.special import ellipe

from mensura.teaching.panels.bark import CONTROLS, EVEN, numbers
from mensura.views.chapters.bark import BARK_PANEL, BarkPicture, readout, status
from mensura.views.kit.live import Live

START = BARK_PANEL.start()
ENDS = {control.name: (control.least, control.greatest) for control in CONTROLS}
LEAST = {name: ends[0] for name, ends in ENDS.items()}
MOST = {name: ends[1] for name, ends in ENDS.items()}
LONG = MOST | {"second_cm": 36}
STATES = [
    base | {name: end}
    for base in (START, LEAST, MOST, LONG)
    for name, ends in ENDS.items()
    for end in ends
] + [START | EVEN, LONG | EVEN, START | {"gauge_deg": 36.5}, START | {"furrow_percent": 5}]


@pytest.fixture(scope="module")
def live() -> Live:
    return Live(BarkPicture())


def girth_of_ellipse(first: float, second: float) -> float:
    long, short = max(first, second) / 2, min(first, second) / 2
    return float(4 * long * ellipe(1 - (short / long) ** 2))


def test_controls_stay_inside_the_bark() -> None:
    """A band is never pressed through the bark, nor a furrow cut into the wood."""
    assert ENDS["press_cm"][1] < ENDS["bark_thickness_cm"][0]
    assert ENDS["furrow_percent"][1] < 100


@pytest.mark.parametrize(("first", "second"), [(46, 42), (56, 36), (36, 56), (40, 40)])
@pytest.mark.parametrize("bark", [0.6, 2, 4])
def test_even_bark_keeps_steiner_s_rule(first: float, second: float, bark: float) -> None:
    """Tape over bark less twice the bark is the diameter on the wood, found from its own edge."""
    shown = numbers(
        **START | EVEN | {"first_cm": first, "second_cm": second, "bark_thickness_cm": bark}
    )
    assert shown.reading_cm == pytest.approx(girth_of_ellipse(first, second), rel=1e-12)
    assert shown.gauge_cm == bark
    assert shown.under_cm == pytest.approx(shown.wood_diameter_cm, rel=1e-12)
    wood = shapely.Polygon(shown.wood_cm)
    assert wood.length / math.pi == pytest.approx(shown.under_cm, rel=1e-4)
    assert wood.area == pytest.approx(shown.wood_cm2, rel=1e-4)
    assert shown.touched_percent == shown.on_bark_percent == 100


@pytest.mark.parametrize("state", STATES)
def test_numbers_by_other_routes(state: dict[str, float]) -> None:
    """Girth, areas, gauge and contact, from the drawn points by GEOS and plain arithmetic."""
    shown = numbers(**state)
    stem, wood = shapely.Polygon(shown.edge_cm), shapely.Polygon(shown.wood_cm)
    pressed = 2 * math.pi * state["press_cm"]
    assert shown.reading_cm == pytest.approx(stem.convex_hull.length - pressed, rel=2e-5)
    assert shown.over_cm == pytest.approx(shown.reading_cm / math.pi)
    assert shown.under_cm == pytest.approx(shown.over_cm - 2 * shown.gauge_cm)
    assert shown.true_cm2 == pytest.approx(stem.area, rel=2e-5)
    assert shown.wood_cm2 == pytest.approx(wood.area, rel=1e-4)
    assert shown.claimed_cm2 == pytest.approx(math.pi / 4 * shown.over_cm**2)
    # the gauge enters at the bark's edge, stands square to the wood, and stops at it
    enters = shapely.Point(shown.gauge_at_cm)
    stops = shapely.Point(shown.gauge_at_cm - shown.gauge_cm * shown.gauge_out)
    assert stem.exterior.distance(enters) < 0.02
    assert wood.exterior.distance(stops) < 0.002
    assert wood.exterior.distance(enters) == pytest.approx(shown.gauge_cm, abs=0.002)
    assert 0 < shown.gauge_cm <= state["bark_thickness_cm"]
    # all of the wood lies under bark
    assert stem.buffer(1e-6).contains(wood)
    lengths = np.hypot(*np.diff(shown.touch_cm, axis=1)[:, 0].T)
    assert shown.touched_percent == pytest.approx(100 * lengths.sum() / stem.length, rel=2e-5)
    assert shown.on_bark_percent == pytest.approx(
        100 * lengths.sum() / stem.convex_hull.length, rel=2e-5
    )


def test_a_gauge_in_a_furrow_finds_too_little_bark() -> None:
    """Then the wood comes out too thick, by twice what the furrow is deep there."""
    ridge, furrow = numbers(**START), numbers(**START | BARK_PANEL.presets["Gauge in a furrow"])
    assert ridge.gauge_cm == 2
    assert furrow.gauge_cm < 1.2
    assert furrow.under_cm - ridge.under_cm == pytest.approx(2 * (2 - furrow.gauge_cm))
    assert furrow.under_cm - furrow.wood_diameter_cm > 1.4


def test_deeper_furrows_do_not_move_the_tape() -> None:
    """The area of wood and bark falls, the reading hardly: the tape rides the ridges."""
    shown = [numbers(**START | {"furrow_percent": share}) for share in (20, 45, 70, 95)]
    areas = [one.true_cm2 for one in shown]
    assert areas == sorted(areas, reverse=True)
    assert areas[0] - areas[-1] > 40
    assert np.ptp([one.reading_cm for one in shown]) < 0.1


@pytest.mark.parametrize("state", STATES)
def test_the_picture_shows_the_numbers(live: Live, state: dict[str, float]) -> None:
    """Edges, tape, gauge, marks and shares stand where the numbers say, inside their axes."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    bark, wood, tape, touch, gauge, head = picture.section
    assert np.allclose(bark.get_xy()[:-1], shown.edge_cm)
    assert np.allclose(wood.get_xy()[:-1], shown.wood_cm)
    way = np.column_stack(tape.get_data())[:-1]
    inwards = np.hypot(*shown.hull_cm.T) - np.hypot(*way.T)
    assert inwards == pytest.approx(np.full(len(way), state["press_cm"]), abs=1e-9)
    assert np.nanmax(np.abs(np.column_stack(touch.get_data()))) < picture.REACH_CM
    needle = np.column_stack(gauge.get_data())
    assert np.hypot(*(needle[0] - shown.gauge_at_cm)) == pytest.approx(shown.gauge_cm)
    assert np.abs(np.ravel(head.get_data())).max() < picture.REACH_CM
    # the close-up is the section, turned: the gauge upright, the ridges' line at 0
    near = np.column_stack(picture.near[4].get_data())
    assert near[:, 0] == pytest.approx([0, 0], abs=1e-9)
    assert near[0, 1] == pytest.approx(-state["bark_thickness_cm"])
    _, low, high = picture.NEAR_CM
    assert low < near[0, 1] < near[1, 1] < high
    spread = picture.near[0].get_xy()
    assert shapely.Polygon(spread).area == pytest.approx(shapely.Polygon(shown.edge_cm).area)
    assert list(picture.taped.get_xdata()) == [shown.over_cm, shown.under_cm]
    assert list(picture.truth.get_xdata()) == [shown.wood_diameter_cm]
    marks = [shown.over_cm, shown.under_cm, shown.wood_diameter_cm]
    assert picture.SCALE_CM[0] < min(marks)
    assert max(marks) < picture.SCALE_CM[1]
    widths = [share.get_width() * shown.claimed_cm2 / 100 for share in picture.shares]
    air = max(shown.claimed_cm2 - shown.true_cm2, 0)
    assert widths == pytest.approx([shown.wood_cm2, shown.true_cm2 - shown.wood_cm2, air])
    end = picture.shares[2].get_x() + picture.shares[2].get_width()
    assert end <= picture.shares[0].axes.get_xlim()[1]


def test_words_carry_the_present_numbers() -> None:
    """Alternative text, status and table speak of the state, not of the start."""
    shown = numbers(**START | EVEN | {"first_cm": 40, "second_cm": 40, "bark_thickness_cm": 3})
    alt = BarkPicture().describe(shown)
    for part in (
        "3 cm thick",
        "100 %",
        "3.00 cm of bark",
        "40.00 cm",
        "34.00 cm",
        "72.2 % is wood",
    ):
        assert part in alt
    assert status(shown) == (
        "Tape 40.00 cm less twice 3.00 cm: 34.00 cm under bark. The wood has 34.00 cm: 0.00 cm."
    )
    # 40² over 34² is 1.384: who sells bark for wood claims 38.41 % more
    assert "claims +38.41 %" in readout(shown)
    assert "Bark factor as found 0.8500" in readout(shown)
    assert "made-up pattern" in readout(shown)


def test_the_table_is_the_state() -> None:
    """Found less true is what the table says is off."""
    rows = re.findall(
        r"</th><td>([\d.]+)</td><td>([\d.]+)</td><td>([+−]?[\d.]+)", readout(numbers(**START))
    )
    assert len(rows) == 5
    for found, true, off in rows:
        assert float(found) - float(true) == pytest.approx(
            float(off.replace("−", "-")), abs=0.011 if len(off.split(".")[1]) == 2 else 0.11
        )
