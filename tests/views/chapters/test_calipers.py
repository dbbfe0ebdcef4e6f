"""The calipers panel: its numbers by plain arithmetic, its jaws where they belong, its words."""

from __future__ import annotations

import math
import re
from itertools import product

import numpy as np
import pytest

from mensura.teaching.panels.calipers import CONTROLS, FAULTS, SOUND, numbers
from mensura.views.chapters.calipers import CALIPERS_PANEL, JawsPicture, readout, status
from mensura.views.kit.live import Live
from mensura.views.stills.contact import (
    ContactPicture,
    points_and_girth,
)

START = CALIPERS_PANEL.start()
NAMES = [control.name for control in CONTROLS]
CORNERS = [
    dict(zip(NAMES, values, strict=True)) | {"down": down}
    for values in product(*[(c.least, c.greatest) for c in CONTROLS])
    for down in (False, True)
]
ROUND = START | SOUND | {"first_cm": 40.0, "second_cm": 40.0}
STATES = [
    START,
    START | SOUND,
    ROUND,
    START | {"first_cm": 60.0, "second_cm": 25.0, "direction_deg": 45.0, "jaw_lean_deg": 3.0},
    START | {"first_cm": 60.0, "second_cm": 25.0, "direction_deg": -45.0, "jaw_lean_deg": -3.0},
    START | {"first_cm": 60.0, "second_cm": 25.0, "direction_deg": -60.0, "jaw_lean_deg": -3.0},
    *(START | {c.name: value} for c in CONTROLS for value in (c.least, c.greatest)),
    *CORNERS[::19],
]


@pytest.fixture(scope="module")
def live() -> Live:
    return Live(JawsPicture())


def edge(state: dict) -> np.ndarray:
    """The stem's edge turned as the calipers see it, by 40 000 points, its middle at 0."""
    turn = np.linspace(0, 2 * math.pi, 40_001)[:-1]
    x, y = state["first_cm"] / 2 * np.cos(turn), state["second_cm"] / 2 * np.sin(turn)
    angle = math.radians(state["direction_deg"])
    return np.column_stack(
        [x * math.cos(angle) + y * math.sin(angle), y * math.cos(angle) - x * math.sin(angle)]
    )


def told_by_hand(state: dict) -> tuple[float, float]:
    """Where the foot stands and what is told before rounding, from points of the edge alone."""
    points = edge(state)
    left, low = points.min(axis=0)
    lean = math.tan(math.radians(state["jaw_lean_deg"]))
    # the jaw's side passes through (foot + lean·height): the stem pushes it out as far as it must
    foot = (points[:, 0] - lean * (points[:, 1] - low)).max() - left - 2 * state["jaw_press_cm"]
    return foot, foot / math.cos(math.radians(state["beam_slope_deg"])) + state["zero_error_cm"]


@pytest.mark.parametrize("state", STATES)
def test_numbers_by_plain_arithmetic(state: dict) -> None:
    """Foot, reading and rounding, found from points of the edge; areas from the readings."""
    shown = numbers(**state)
    foot, told = told_by_hand(state)
    assert shown.foot_cm == pytest.approx(foot, abs=1e-6)
    step = state["resolution_cm"]
    before = shown.reading_cm - shown.breakdown.get("rounding", 0.0)
    assert before == pytest.approx(told, abs=1e-6)
    if step:
        steps = told / step
        rounded = math.floor(steps + 1e-6) if state["down"] else math.floor(steps + 0.5 + 1e-6)
        assert shown.reading_cm == pytest.approx(rounded * step)
    assert shown.width_cm + sum(shown.breakdown.values()) == pytest.approx(shown.reading_cm)
    true = math.pi / 4 * state["first_cm"] * state["second_cm"]
    one = math.pi / 4 * shown.reading_cm**2
    assert shown.area_cm2 == pytest.approx(true)
    assert shown.one_area_cm2 == pytest.approx(one)
    assert shown.over_percent == pytest.approx(100 * (one / true - 1))
    both = math.pi / 4 * ((shown.reading_cm + shown.square_cm) / 2) ** 2
    assert shown.two_area_cm2 == pytest.approx(both)
    assert set(shown.breakdown) <= set(FAULTS)


@pytest.mark.parametrize("lean_deg", [-3, -1, 1, 3])
def test_lean_on_a_round_stem(lean_deg: float) -> None:
    """The formula that workbook 07 derives: r + r(1 − sin φ)/cos φ."""
    phi = math.radians(lean_deg)
    shown = numbers(**ROUND | {"jaw_lean_deg": lean_deg})
    assert shown.reading_cm == pytest.approx(20 + 20 * (1 - math.sin(phi)) / math.cos(phi))
    # and where it touches: square to the leaning jaw
    assert shown.touch_cm[1] == pytest.approx([20 + 20 * math.cos(phi), 20 - 20 * math.sin(phi)])


@pytest.mark.parametrize("state", STATES)
def test_the_stem_lies_between_the_jaws(live: Live, state: dict) -> None:
    """Drawn: no bark beyond jaw or beam but what is pressed in; each touch lies on its line."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    press = state["jaw_press_cm"]
    lean = math.tan(math.radians(state["jaw_lean_deg"]))
    wood = picture.wood.get_xy()
    assert wood[:, 0].min() == pytest.approx(-press, abs=2e-3)
    assert wood[:, 1].min() == pytest.approx(0, abs=2e-3)
    beyond = wood[:, 0] - shown.foot_cm - lean * wood[:, 1]
    assert beyond.max() == pytest.approx(press, abs=2e-3)
    fixed, sliding, beam = np.column_stack(picture.touches.get_data())
    assert fixed[0] == pytest.approx(0, abs=1e-9)
    assert sliding[0] == pytest.approx(shown.foot_cm + lean * sliding[1], abs=1e-9)
    assert beam[1] == pytest.approx(0, abs=1e-9)
    # the jaws are long enough, and all of it is inside the ground shown
    assert 0 < max(fixed[1], sliding[1]) < picture.JAW_CM
    x, y = picture.jaw.get_data()
    assert (x[1] - x[0]) / (y[1] - y[0]) == pytest.approx(lean)
    assert min(wood[:, 0].min(), *x) > picture.ACROSS_CM[0]
    assert max(max(x), wood[:, 0].max()) < picture.ACROSS_CM[1]
    assert wood[:, 1].max() < picture.UP_CM[1]
    assert max(y) < picture.UP_CM[1]


@pytest.mark.parametrize("state", STATES)
def test_the_scale_shows_the_reading(live: Live, state: dict) -> None:
    """The foot stands at the mark that is told; numbers stand every ten, where they belong."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    (foot,), _ = picture.foot.get_data()
    before = shown.reading_cm - shown.breakdown.get("rounding", 0.0)
    assert foot == pytest.approx(shown.mark_zero_cm + before * shown.mark_step_cm, abs=1e-9)
    assert foot < picture.BEAM_CM
    for value, (x, _) in zip(picture.numerals.values, picture.numerals.places, strict=True):
        assert value % 10 == 0
        assert x == pytest.approx(shown.mark_zero_cm + value * shown.mark_step_cm)
    assert len(picture.numerals.values) >= 6
    marks = np.asarray(picture.marks.get_xdata())[::3]
    assert np.diff(marks) == pytest.approx(shown.mark_step_cm)
    values = [shown.breakdown.get(name, 0.0) for name in FAULTS]
    ends = [segment[1, 0] for segment in picture.bars.bars.get_segments()]
    assert ends == pytest.approx([*values, shown.reading_cm - shown.width_cm])
    low, high = picture.bars.axes.get_xlim()
    assert low <= min(ends)
    assert max(ends) <= high
    slope = np.asarray(picture.beam.get_data())
    rise = (slope[1, 1] - slope[1, 0]) / (slope[0, 1] - slope[0, 0])
    assert math.degrees(math.atan(rise)) == pytest.approx(state["beam_slope_deg"])


@pytest.mark.parametrize("state", STATES)
def test_the_stem_leaves_the_words_clear(live: Live, state: dict) -> None:
    """The stem lies beneath neither the line of words nor the key."""
    live.paint(numbers(**state))
    picture = live.picture
    wood = picture.wood.get_window_extent()
    word = picture.word.get_window_extent(live.figure.canvas.get_renderer())
    assert word.y1 < wood.y0
    key = live.figure.axes[1]
    renderer = live.figure.canvas.get_renderer()
    assert all(text.get_window_extent(renderer).y0 > wood.y1 for text in key.texts)


def test_what_the_direction_makes_is_told_from_what_the_faults_make() -> None:
    """Along the long axis most of it is the direction; both shares give the whole as printed."""
    shown = numbers(**START)
    found = re.search(
        r"reading ([+−\d.]+) %: ([+−\d.]+) by the direction, ([+−\d.]+) by the faults",
        status(shown),
    )
    assert found
    whole, direction, faults = (float(one.replace("−", "-")) for one in found.groups())
    assert whole == pytest.approx(direction + faults, abs=1e-9)
    wide = shown.width_cm**2 * np.pi / 4
    assert direction == pytest.approx(100 * (wide / shown.area_cm2 - 1), abs=0.00501)


def test_words_carry_the_present_numbers() -> None:
    """Alternative text, status and table speak of the state, not of the start."""
    shown = numbers(**ROUND | {"direction_deg": 0.0, "jaw_lean_deg": 1.0})
    alt = JawsPicture().describe(shown)
    for part in ("40 by 40 cm", "20.0 cm and the sliding jaw 19.7 cm", "+1.0°", "39.65 cm"):
        assert part in alt
    assert "jaw lean −0.35; together −0.35" in alt
    assert status(shown) == (
        "True width 40.00 cm, read 39.65 cm. Area from this one reading −1.72 %: "
        "0.00 by the direction, −1.72 by the faults. A sound tape: 0.00 %."
    )
    table = readout(shown)
    for part in ("1256.6", "1235.0", "39.65 and 39.65", "125.66", "−21.6"):
        assert part in table
    assert "nothing; together 0.00" in JawsPicture().describe(numbers(**START | SOUND))


# ---- what touches -----------------------------------------------------------------------------


def test_what_the_contact_picture_says(letters) -> None:
    """The hand sees neither jaw touch; numbers are those of the sections; lettering is clear."""
    picture = ContactPicture()
    smooth, bumped = picture.smooth, picture.stem
    edge_cm = bumped.outline_cm()
    assert picture.hidden[edge_cm[:, 0].argmin()]
    assert picture.hidden[edge_cm[:, 0].argmax()]
    assert not picture.hidden[edge_cm[:, 1].argmin()]
    # the jaws' width is the farthest point right less the farthest left
    assert picture.read_cm == pytest.approx(np.ptp(edge_cm[:, 0]), abs=1e-9)
    assert picture.without_cm == pytest.approx(40.0, abs=1e-3)
    assert picture.read_cm - picture.without_cm > 1
    # turned by 45° the jaws miss the bump, and in per cent it moves the tape a third as much
    assert bumped.width_cm(45) == pytest.approx(smooth.width_cm(45), abs=1e-6)
    shares = picture.read_cm / picture.without_cm, picture.girth_cm / picture.smooth_girth_cm
    assert (shares[0] - 1) / (shares[1] - 1) == pytest.approx(3, abs=0.3)
    assert picture.girth_cm - picture.smooth_girth_cm == pytest.approx(
        bumped.taut_girth_cm - smooth.taut_girth_cm
    )
    live = Live(picture)
    live.paint(None)
    for value in (picture.read_cm, picture.girth_cm):
        assert f"{value:.2f} cm" in points_and_girth().alt
