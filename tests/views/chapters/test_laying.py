"""The laying panel: its shares by other routes, its lines as long as the model says, its words."""

from __future__ import annotations

import math
from itertools import product

import numpy as np
import pytest
from scipy.special import ellipe

from mensura.teaching.panels.laying import CONTROLS, FAULTS, NOTHING, STEM, numbers
from mensura.views.chapters.laying import LAYING_PANEL, LayingPicture, readout, status
from mensura.views.kit.live import Live

START = LAYING_PANEL.start()
ENDS = {control.name: (control.least, control.greatest) for control in CONTROLS}
LEAST = {name: ends[0] for name, ends in ENDS.items()}
MOST = {name: ends[1] for name, ends in ENDS.items()}

#: Each control at either end, with all others at the start, at least, and at most; all at once;
#: and tilts with every number of waves in the directions in which they work together or against.
STATES = [
    base | {name: end}
    for base in (START, LEAST, MOST)
    for name, ends in ENDS.items()
    for end in ends
] + [
    MOST | {"tilt_direction_deg": turn, "wander_waves": waves, "climber_direction_deg": at}
    for turn, waves, at in product((-90, 0, 90), (1, 2, 3), (0, 5, 90, 180))
]


@pytest.fixture(scope="module")
def live() -> Live:
    return Live(LayingPicture())


def length(points) -> float:
    return float(np.hypot(*np.diff(points, axis=0).T).sum())


def closed(points) -> float:
    return length(np.vstack([points, points[:1]]))


def test_nothing_is_no_fault_at_all() -> None:
    """Every control that can stand at nothing does so, but for a direction."""
    assert set(NOTHING) == {name for name, (least, _) in ENDS.items() if least == 0} - {
        "climber_direction_deg"
    }


def test_one_fault_at_a_time_by_other_routes() -> None:
    """A level girth by E(m); a miss by Pythagoras; a tilt along an axis by a stretched oval."""
    girth = 4 * 22 * ellipe(1 - (20 / 22) ** 2)
    clean = numbers(**START | NOTHING)
    assert clean.result.reading_cm == pytest.approx(girth, rel=1e-12)
    assert clean.result.breakdown == {}
    assert clean.adds_cm == 0
    miss = numbers(**START | NOTHING | {"overlap_offset_cm": 8})
    assert miss.adds_cm == pytest.approx(math.hypot(girth, 8) - girth, rel=1e-9)
    long = 22 / math.cos(math.radians(10))
    tilt = numbers(**START | NOTHING | {"tilt_deg": 10, "tilt_direction_deg": 0})
    assert tilt.adds_cm == pytest.approx(4 * long * ellipe(1 - (20 / long) ** 2) - girth, rel=1e-9)
    assert numbers(**START | NOTHING | {"slack_cm": 1.3}).adds_cm == pytest.approx(1.3)


@pytest.mark.parametrize("state", STATES)
def test_the_drawn_way_is_as_long_as_the_model_says(state: dict[str, float]) -> None:
    """Unrolled: girth, climber, tilt, wander and overlap, all in the length of the drawn line."""
    shown = numbers(**state)
    parts = shown.result.breakdown
    assert list(parts) == [name for name in FAULTS if name in parts]
    assert shown.adds_cm == pytest.approx(
        shown.result.reading_cm - shown.result.taut_girth_cm, abs=1e-9
    )
    girth = shown.result.taut_girth_cm + parts.get("climber", 0)
    assert shown.along_cm[-1] == pytest.approx(girth, abs=2e-3)
    adds = sum(parts.get(name, 0) for name in ("tilt", "wander", "overlap"))
    line = length(np.column_stack([shown.along_cm, shown.height_cm]))
    assert line - shown.along_cm[-1] == pytest.approx(adds, abs=6e-3)
    miss = shown.height_cm[-1] - shown.height_cm[0]
    assert miss == pytest.approx(state["overlap_offset_cm"], abs=1e-9)


@pytest.mark.parametrize("state", STATES)
def test_the_drawn_loop_is_as_long_as_the_model_says(state: dict[str, float]) -> None:
    """From above: climber and slack to the hair; the twist, on a circle in the model, nearly."""
    shown = numbers(**state)
    parts = shown.result.breakdown
    wanted = STEM.taut_girth_cm + sum(parts.get(n, 0) for n in ("climber", "twist", "slack"))
    near = 0.01 + 0.12 * parts.get("twist", 0)
    assert closed(shown.loop_cm) == pytest.approx(wanted, abs=near)
    # nothing of the band runs through the stem
    inside = np.hypot(*(shown.loop_cm / [22, 20]).T)
    assert inside.min() > 0.9995


@pytest.mark.parametrize("state", STATES)
def test_the_picture_shows_the_numbers(live: Live, state: dict[str, float]) -> None:
    """Lines, marks and bars stand where the numbers say, and inside their axes."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    x, y = picture.way.get_data()
    assert np.array_equal(x, shown.along_cm)
    assert np.array_equal(y, shown.height_cm)
    assert np.abs(y).max() < picture.HIGH_CM
    assert x[-1] + 2 < picture.WAY_CM[1]
    loop = np.column_stack(picture.tape.get_data())
    assert np.abs(loop).max() < picture.REACH_CM - 1
    assert np.abs(np.hypot(*loop[:-1].T) - np.hypot(*shown.loop_cm.T)).max() < 0.31
    assert picture.climber.get_visible() == (state["climber_cm"] > 0)
    assert 2 * picture.climber.get_radius() == pytest.approx(state["climber_cm"])
    assert picture.twist.get_visible() == (state["twist_lift_cm"] > 0)
    assert picture.high.get_visible() == (state["tilt_deg"] > 0)
    assert picture.miss.get_visible() == (state["overlap_offset_cm"] > 0)
    assert list(picture.miss.get_ydata()) == [y[0], y[-1]]
    ends = [segment[1][0] for segment in picture.bars.bars.get_segments()]
    adds = [shown.result.breakdown.get(name, 0.0) for name in FAULTS]
    assert ends == pytest.approx([*adds, shown.adds_cm])
    low, high = picture.bars.axes.get_xlim()
    assert low <= min(ends)
    assert max(ends) <= high


@pytest.mark.parametrize("at", [0, 60, 90, 180])
def test_the_climber_touches_the_stem(at: float) -> None:
    """Its middle lies half its thickness outside the oval, along the oval's own normal."""
    shown = numbers(**START | {"climber_direction_deg": at, "climber_cm": 3})
    angle = math.radians(at)
    touch = shown.climber_at_cm - 1.5 * np.array([math.cos(angle), math.sin(angle)])
    assert (touch[0] / 22) ** 2 + (touch[1] / 20) ** 2 == pytest.approx(1, rel=1e-12)
    normal = touch / [22**2, 20**2]
    assert math.atan2(normal[1], normal[0]) == pytest.approx(angle, abs=1e-9)


def test_a_wander_may_undo_part_of_a_tilt() -> None:
    """One wave against the tilt: its share falls below 0, as the readout says it can."""
    state = START | NOTHING | {"tilt_deg": 15, "tilt_direction_deg": -90}
    against = numbers(**state | {"wander_cm": 5, "wander_waves": 1})
    assert against.result.breakdown["wander"] < -1
    assert against.adds_cm > 0


@pytest.mark.parametrize("state", STATES)
def test_the_band_leaves_the_words_of_the_section_clear(
    live: Live, state: dict[str, float]
) -> None:
    """Neither the band nor the climber runs through a word in the corners."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    axes = picture.tape.axes
    renderer = live.figure.canvas.get_renderer()
    dots = axes.transData.transform(np.column_stack(picture.tape.get_data()))
    for text in axes.texts:
        box = text.get_window_extent(renderer)
        inside = (
            (dots[:, 0] > box.x0)
            & (dots[:, 0] < box.x1)
            & (dots[:, 1] > box.y0)
            & (dots[:, 1] < box.y1)
        )
        assert not inside.any()


def test_scales_are_one() -> None:
    """Section and unrolled band have the same dots for a centimetre, both ways."""
    live = Live(LayingPicture())
    axes = [live.picture.tape.axes, live.picture.way.axes]
    per_cm = [np.diff(one.transData.transform([[0, 0], [1, 1]]), axis=0)[0] for one in axes]
    assert np.ptp(np.ravel(per_cm)) < 0.05


def test_words_carry_the_present_numbers() -> None:
    """Alternative text, status and table speak of the state, not of the start."""
    shown = numbers(**START | NOTHING | {"climber_cm": 2.0, "climber_direction_deg": 0})
    alt = LayingPicture().describe(shown)
    for part in ("44 by 40 cm", "2 cm thick at 0°", "climber +1.2", "132.02", "2 waves"):
        assert part in alt
    assert "Largest share: the climber, +1.2" in status(shown)
    table = readout(shown)
    for part in ("All together", "their sum does not", "no exact model", "friction", "42.02"):
        assert part in table
    clean = numbers(**START | NOTHING)
    assert "without a fault: the band reads 132.02 cm" in status(clean)
    assert "none. Together 0.00 cm" in LayingPicture().describe(clean)
    assert "1 wave," in LayingPicture().describe(numbers(**START | {"wander_waves": 1}))


def test_the_table_s_sum_is_the_sum_of_its_rows() -> None:
    """What the table prints adds up, and the area's error follows from the girth's."""
    import re

    shown = numbers(**START)
    cells = re.findall(r"</th><td>([+−\d.]+)</td><td>([+−\d.]+)", readout(shown))
    adds = [float(one.replace("−", "-")) for one, _ in cells]
    assert sum(adds[:-1]) == pytest.approx(adds[-1], abs=0.003)
    more = 100 * ((1 + adds[-1] / 132.02) ** 2 - 1)
    assert f"and the area +{more:.2f} %" in readout(shown)
