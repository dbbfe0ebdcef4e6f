"""Drawings of tape and calipers: the curve is the model's, the words say places and no answer."""

from __future__ import annotations

import re
from functools import cache
from typing import Any

import numpy as np
import pytest

from mensura.instruments.calipers import Calipers
from mensura.instruments.lay import Lay
from mensura.stems.ellipse import circle
from mensura.teaching.games.picture_rounds import picture_round
from mensura.views.chapters.games import draw_round, round_picture
from mensura.views.kit.live import Live
from mensura.views.kit.look import new_figure
from mensura.views.stills.calipers_on_stem import CalipersDrawing
from mensura.views.stills.tape_on_stem import TapeDrawing

ROUNDS = [picture_round(seed) for seed in range(60)]
LAYS = {
    "sound": Lay(),
    "tilt": Lay(tilt_deg=16, tilt_direction_deg=-70),
    "wander": Lay(wander_cm=10),
    "overlap": Lay(overlap_offset_cm=-10),
    "slack": Lay(slack_cm=7),
    "twist": Lay(twist_lift_cm=2.5),
    "climber": Lay(climber_cm=4, climber_direction_deg=40),
    "knot": Lay(knot_cm=3.5),
    "low": Lay(height_off_m=-0.4, taper_cm_per_m=2),
    "high": Lay(height_off_m=0.4, taper_cm_per_m=2),
}
FAULTY_CALIPERS = [
    Calipers(),
    Calipers(jaw_lean_deg=5),
    Calipers(jaw_lean_deg=9),
    Calipers(beam_slope_deg=-18),
    Calipers(beam_slope_deg=10),
]
#: Words that would give a fault away.
NAMES = ("tilt", "slant", "wander", "twist", "slack", "loose", "climber", "knot", "overlap",
         "wrong", "slope", "lean", "miss")  # fmt: skip


@cache
def drawn(diameter_cm: float, held: Lay | Calipers) -> tuple[Any, Any]:
    """A drawing and its figure, drawn once for all that look at it."""
    drawing = (TapeDrawing if isinstance(held, Lay) else CalipersDrawing)(diameter_cm, held)
    return drawing, Live(drawing).figure


def length_cm(curve: np.ndarray) -> float:
    return float(np.sqrt((np.diff(curve, axis=0) ** 2).sum(axis=1)).sum())


def test_the_tab_faces_the_viewer() -> None:
    """The stem's first axis points to the viewer, its second to the right; the tab is in front."""
    curve = TapeDrawing(40, Lay(tilt_deg=16, tilt_direction_deg=-90)).curve_cm
    assert curve[0, :2] == pytest.approx([0, 20], abs=1e-9)
    # a tilt that rises towards −90° rises to the left, and the band goes to the right first
    assert curve[curve[:, 0].argmin(), 2] == pytest.approx(20 * np.tan(np.radians(16)), abs=1e-3)
    assert curve[10, 0] > 0
    low = TapeDrawing(40, LAYS["low"])
    assert low.radius_cm == pytest.approx(20.4)
    assert low.curve_cm[0] == pytest.approx([0, 20.4, -40], abs=1e-9)


@pytest.mark.parametrize("name", LAYS)
def test_what_is_on_the_paper_is_the_curve(name: str) -> None:
    """The dashed part is the curve behind the stem, in px; the whole loop is seen from above."""
    drawing, figure = drawn(44.0, LAYS[name])
    axes = figure.axes[0]
    scale = drawing.NEAR_PX_PER_CM
    dashed = [
        line for line in axes.lines if line.get_linewidth() == 1.8 and line.get_color() == "#D55E00"
    ]
    assert dashed
    behind = drawing.curve_cm[drawing.curve_cm[:, 1] < -0.5]
    paper = np.vstack([np.column_stack(line.get_data()) for line in dashed])
    for x, _, z in behind[::97]:
        level = 100 * drawing.lay.height_off_m
        at = drawing.NEAR_PX[0] + scale * x, drawing.NEAR_PX[1] + scale * (z - level)
        assert np.hypot(*(paper - at).T).min() < 1e-6
    loop = max((line for line in axes.lines if line.get_linewidth() == 3), key=points_of)
    above = np.column_stack(loop.get_data())
    length = np.hypot(*np.diff(above, axis=0).T).sum() / drawing.ABOVE_PX_PER_CM
    assert length == pytest.approx(length_cm(drawing.curve_cm[:, :2] @ np.eye(2, 3)), abs=1e-6)
    assert above[:, 0].max() < drawing.width_px - 4
    assert above[:, 1].max() < 390


def points_of(line) -> int:
    return len(line.get_xdata())


@pytest.mark.parametrize("diameter", [32.0, 44.0])
@pytest.mark.parametrize("calipers", FAULTY_CALIPERS)
def test_jaws_stand_as_far_apart_as_is_read(calipers: Calipers, diameter: float) -> None:
    """The feet on the beam, or the slanting way between the jaws, is the reading, to scale."""
    drawing, figure = drawn(diameter, calipers)
    axes = figure.axes[0]
    reading = float(calipers.read(circle(diameter), 0.0)[0])
    bars = [np.column_stack(bar.get_data()) for bar in axes.lines if bar.get_linewidth() == 6]
    fixed, sliding, _, left, right = bars
    base = drawing.ABOVE_PX[1] - drawing.ABOVE_PX_PER_CM * diameter / 2

    def face_px(bar: np.ndarray, side: int) -> float:
        """Where the jaw's inner face meets the beam: half a bar inside its middle line."""
        (x0, y0), (x1, y1) = bar
        along = (bar[1] - bar[0]) / np.hypot(x1 - x0, y1 - y0)
        inner = bar[0] - side * drawing.HALF_BAR_PX * np.array([along[1], -along[0]])
        return float(inner[0] + (base - inner[1]) / along[1] * along[0])

    if not calipers.beam_slope_deg:
        gap = face_px(sliding, 1) - face_px(fixed, -1)
        assert gap / drawing.ABOVE_PX_PER_CM == pytest.approx(reading, abs=1e-6)
    else:
        apart = np.hypot(*(right.mean(axis=0) - left.mean(axis=0))) - 2 * drawing.HALF_BAR_PX
        assert apart / drawing.SIDE_PX_PER_CM == pytest.approx(reading, abs=1e-6)
    # the sliding jaw touches the stem and does not cut into it
    normal = np.array([-(sliding[1] - sliding[0])[1], (sliding[1] - sliding[0])[0]])
    far = abs((np.array(drawing.ABOVE_PX) - sliding[0]) @ normal) / np.hypot(*normal)
    radius = drawing.ABOVE_PX_PER_CM * diameter / 2
    assert far - drawing.HALF_BAR_PX == pytest.approx(radius, abs=1e-6)


@pytest.mark.parametrize("diameter", [32.0, 44.0])
@pytest.mark.parametrize("held", [*LAYS.values(), *FAULTY_CALIPERS], ids=lambda h: type(h).__name__)
def test_lettering_is_clear(held: Lay | Calipers, diameter: float, letters) -> None:
    """Nothing overlaps, nothing is cut off, everything can be read from the back."""
    _, figure = drawn(diameter, held)
    assert len(letters.lettering(figure)) >= 7
    assert letters.overlaps(figure) == []
    assert letters.cut_off(figure) == []
    assert letters.too_small(figure) == []


@pytest.mark.parametrize("one", ROUNDS, ids=lambda r: r.seed)
def test_words_say_where_things_lie_and_give_nothing_away(one) -> None:
    """The alternative text tells places and sizes, and names no fault."""
    picture = round_picture(one)
    said = picture.describe(None)
    assert len(re.findall(r"\d", said)) >= 6
    assert not [name for name in NAMES if name in said.lower()]
    # all of it is drawn, and what moves in it is nothing
    figure = new_figure(picture.width_px, picture.height_px)
    picture.draw(figure)
    assert len(figure.axes[0].get_children()) > 30
    assert picture.moving == []


def test_a_round_is_kept_with_its_words() -> None:
    """The still of a round has its picture's size and says its words."""
    for kind in (TapeDrawing, CalipersDrawing):
        one = next(one for one in ROUNDS if isinstance(round_picture(one), kind))
        still = draw_round(one)
        assert still.width_px == 860
        assert still.alt == round_picture(one).describe(None)
        assert still.png[1:4] == b"PNG"


def test_words_differ_where_pictures_do() -> None:
    """Who hears the picture can tell each fault from a sound band, and from each other."""
    told = [TapeDrawing(40, lay).alt for lay in LAYS.values()]
    assert len(set(told)) == len(told)
    assert "left edge of the stem at 1.30 m and the right edge at 1.30 m" in told[0]
    assert "touches the bark all the way round" in told[0]
    jaws = [CalipersDrawing(40, calipers).alt for calipers in FAULTY_CALIPERS]
    assert len(set(jaws)) == len(jaws)
    assert "sliding jaw at 99.0°" in jaws[2]
    assert "left edge of the stem 6.5 cm above" in jaws[3]
