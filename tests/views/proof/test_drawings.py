"""The proof's pictures: all is drawn where the mathematics puts it, and all of it is legible."""

from __future__ import annotations

import re
from itertools import product
from typing import Any

import numpy as np
import pytest
import shapely
from scipy.integrate import trapezoid

from mensura.estimates import scatters
from mensura.teaching.panels.proof import OUTLINES, ProofShown, numbers, squares_shown
from mensura.teaching.proof import ROADS, road
from mensura.teaching.proof.steps import PICTURES
from mensura.views.kit.live import Live
from mensura.views.proof.charts import RandomPicture, TurnPicture
from mensura.views.proof.drawings import SquaresPicture, StemPicture
from mensura.views.proof.girth import ArcPicture, BoundsPicture
from mensura.views.proof.outlines import SpectrumPicture, WidthPicture
from mensura.views.proof.panel import KINDS, new_picture, picture_key, proof_panel

PAIRS = [
    (30, 24),
    (24, 30),
    (40, 10),
    (10, 40),
    (30, 30),
    (10, 10),
    (40, 40),
    (40, 39.5),
    (10.5, 10),
]


def shown(a: float = 30, b: float = 24, turn: float = 20, name: str = "calipers") -> ProofShown:
    """A road's first step under half-axes and a turn."""
    return numbers(road(name), {"step": 1, "a_cm": a, "b_cm": b, "turn_deg": turn})


def live_of(picture: Any, one: ProofShown) -> Any:
    """A picture that has been painted once."""
    Live(picture).paint(one)
    return picture


# ---- legible at every end -----------------------------------------------------------------------


def states(name: str) -> list[dict[str, Any]]:
    """Every step at the start, and the first step of each kind at all ends of all controls."""
    panel = proof_panel(name)
    start = panel.start()
    ends = [(c.least, c.start, c.greatest) for c in panel.controls]
    options = [c.options for c in panel.choices]
    first: dict[str, int] = {}
    for step in range(1, len(panel.way.steps) + 1):
        first.setdefault(panel.way.steps[step - 1].picture, step)
    names = [one.name for one in (*panel.choices, *panel.controls)]
    every = [start | {"step": step} for step in range(1, len(panel.way.steps) + 1)]
    return every + [
        start | {"step": step} | dict(zip(names, values, strict=True))
        for step in first.values()
        for values in product(*options, *ends)
    ]


@pytest.mark.parametrize("name", ROADS)
def test_lettering_is_clear(name: str, letters: Any) -> None:
    """No text on another, none cut off: each step of a road, all ends of its controls."""
    panel = proof_panel(name)
    lives: dict[Any, Live[ProofShown]] = {}
    for state in states(name):
        one = panel.numbers(**state)
        key = picture_key(one)
        if key not in lives:
            lives[key] = Live(new_picture(one))
            assert letters.too_small(lives[key].figure) == []
        live = lives[key]
        live.paint(one)
        assert letters.overlaps(live.figure) == [], state
        assert letters.cut_off(live.figure) == [], state
    assert len(lives) > 2


def test_every_kind_is_drawn() -> None:
    """Each kind that a step may name has a picture, each picture a kind that some road uses."""
    assert set(KINDS) == set(PICTURES)
    assert {step.picture for name in ROADS for step in road(name).steps} == set(KINDS)


@pytest.mark.parametrize("kind", [kind for kind, (_, outline) in KINDS.items() if not outline])
def test_a_picture_moves_with_its_controls(kind: str) -> None:
    """Other half-axes make another picture and other words; the same ones make the same again."""
    live = Live(KINDS[kind][0]())
    first, second = shown(30, 24), shown(36, 17)
    frames = [live.view(one).svg for one in (first, second, first)]
    assert frames[0] != frames[1]
    assert frames[0] == frames[2]
    assert live.picture.describe(first) != live.picture.describe(second)


@pytest.mark.parametrize("kind", ["stem", "squares", "bounds", "arc", "random"])
def test_alternative_text_has_the_numbers(kind: str) -> None:
    """The half-axes, or the areas that follow from them, stand in the words."""
    words = KINDS[kind][0]().describe(shown(33.5, 21.5))
    given = {"stem": ["33.5 cm", "2488.9"], "squares": ["33.5 cm", "1584.5", "1440.5", "144.0"]}
    given |= {"bounds": ["172.79"], "arc": ["33.5", "21.5"], "random": ["33.5", "21.5", "10.00"]}
    for number in given[kind]:
        assert number in words, (number, words)


# ---- the squares --------------------------------------------------------------------------------


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_the_squares_are_cut_up_without_loss(a: float, b: float) -> None:
    """Strips and remainder tile just the ground of the two squares, and have the stated areas."""
    picture = live_of(SquaresPicture(), squares_shown(a, b))
    scale = picture.SCALE_PX
    shift = np.array([0, picture.FEET_PX[0] - picture.FEET_PX[1]])

    def pieces(collection: Any, up: Any = 0) -> list[Any]:
        paths = [path.vertices[:4] for path in collection.get_paths()]
        return [shapely.Polygon((corners + up) / scale) for corners in paths]

    squares = pieces(picture.squares)
    strips, rest = pieces(picture.strips, shift), pieces(picture.rest, shift)
    assert sorted(one.area for one in squares) == pytest.approx(sorted([a * a, b * b]))
    assert [one.area for one in strips] == pytest.approx([a * b, a * b])
    assert [one.area for one in rest] == pytest.approx([(a - b) ** 2] if a != b else [])
    ground, cut = shapely.union_all(squares), shapely.union_all([*strips, *rest])
    assert ground.symmetric_difference(cut).area == pytest.approx(0, abs=1e-6)
    for first, second in ((strips[0], strips[1]), *((one, rest[0]) for one in strips if rest)):
        assert first.intersection(second).area == pytest.approx(0, abs=1e-6)
    # the dot of the pointer lies on what is left over
    assert picture.pointer.get_visible() == (a != b)
    if rest:
        dot = (np.array([x[1] for x in picture.pointer.get_data()]) + shift) / scale
        assert rest[0].contains(shapely.Point(dot))


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_names_stand_in_what_they_name(a: float, b: float) -> None:
    """a² in the square of side a, b² in that of side b, whichever is the larger."""
    picture = live_of(SquaresPicture(), squares_shown(a, b))
    for text in picture.names[:2]:
        inside = [
            shapely.Polygon(path.vertices[:4])
            for path in picture.squares.get_paths()
            if shapely.Polygon(path.vertices[:4]).contains(shapely.Point(text.get_position()))
        ]
        (home,) = inside
        side = a if text.get_text() == "a²" else b
        assert home.area == pytest.approx((side * picture.SCALE_PX) ** 2)
    assert {text.get_text() for text in picture.names[:2]} == {"a²", "b²"}
    sums = [float(re.search(r"[\d.]+", text.get_text())[0]) for text in picture.sums]
    assert sums[0] == pytest.approx(sums[1] + sums[2], abs=0.11)


# ---- stem, bounds, arc --------------------------------------------------------------------------


@pytest.mark.parametrize(("a", "b"), PAIRS)
@pytest.mark.parametrize("turn", [0, 20, 45, 90])
def test_jaws_stand_beside_the_stem(a: float, b: float, turn: float) -> None:
    """Both pairs of jaws lie clear of the section, by less than the width of a line's bar."""
    picture = live_of(StemPicture(), shown(a, b, turn))
    t = np.linspace(0, 2 * np.pi, 2001)
    stem = shapely.Polygon(np.column_stack([a * np.cos(t), b * np.sin(t)]))
    for line in (picture.jaws, picture.second):
        points = np.column_stack(line.get_data())
        for jaw in (points[:2], points[3:]):
            bar = shapely.LineString(jaw)
            assert not bar.intersects(stem)
            assert bar.distance(stem) == pytest.approx(0.9, abs=0.01)
            assert np.abs(jaw).max() < picture.REACH_CM


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_the_girth_lies_between_its_bounds(a: float, b: float) -> None:
    """The mark stands on the magnified stretch, as far along as the girth is between the bounds."""
    one = shown(a, b)
    picture = live_of(BoundsPicture(), one)
    (x,), _ = picture.exact.get_data()
    assert picture.LEFT_PX < x < picture.RIGHT_PX
    girth = float(one.stem.taut_girth_cm)
    if a != b:
        part = (x - picture.LEFT_PX) / (picture.RIGHT_PX - picture.LEFT_PX)
        assert part == pytest.approx((girth - one.inner_cm) / (one.outer_cm - one.inner_cm))
    told = [float(word.get_text().split()[0]) for word in picture.values]
    assert told == pytest.approx([one.inner_cm, one.outer_cm, girth], abs=0.006)


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_the_lens_leaves_the_words_clear(a: float, b: float) -> None:
    """Neither of the two lines that lead to the magnified stretch runs through a word."""
    live = Live(BoundsPicture())
    live.paint(shown(a, b))
    axes = live.picture.lens.axes
    points = axes.transData.transform(np.column_stack(live.picture.lens.get_data()))
    lines = [shapely.LineString(points[:2]), shapely.LineString(points[3:])]
    for text in axes.texts:
        box = shapely.box(*text.get_window_extent(live.figure.canvas.get_renderer()).extents)
        assert not any(line.intersects(box) for line in lines), text.get_text()


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_lines_over_the_arc_hold_their_lengths(a: float, b: float) -> None:
    """What lies under the three lines is a quarter of the lower bound, the girth, the upper one."""
    one = shown(a, b)
    picture = live_of(ArcPicture(), one)

    def quarter(line: Any) -> float:
        x, y = line.get_data()
        return float(trapezoid(y, np.radians(x)))

    assert 4 * quarter(picture.under) == pytest.approx(one.inner_cm, rel=1e-4)
    assert 4 * quarter(picture.speed) == pytest.approx(float(one.stem.taut_girth_cm), rel=1e-4)
    assert 4 * quarter(picture.over) == pytest.approx(one.outer_cm, rel=1e-9)
    (x, y), (first, second) = picture.small.get_data()
    assert (x / a) ** 2 + (first / b) ** 2 == pytest.approx(1)
    assert (y / a) ** 2 + (second / b) ** 2 == pytest.approx(1)


# ---- charts and outlines ------------------------------------------------------------------------


def test_the_limits_of_the_turn() -> None:
    """Near 22.5° and 30° for a slightly oval stem; the marks ride on their curves."""
    picture = live_of(TurnPicture(), shown(30, 29, 12.0))
    limits = [dots.get_xdata()[0] for dots, _ in picture.limits]
    assert limits == pytest.approx([22.5, 30], abs=0.05)
    for curve, here in zip(picture.curves, picture.here, strict=True):
        (x,), (y,) = here.get_data()
        assert y == pytest.approx(np.interp(x, *curve.get_data()))
    assert all(not curve.get_visible() for curve in live_of(TurnPicture(), shown(20, 20)).curves)


@pytest.mark.parametrize(("a", "b"), PAIRS)
def test_bars_of_chance_stay_in_their_chart(a: float, b: float) -> None:
    """The scale follows the stem: no bar leaves it, and marks stand where their numbers say."""
    one = shown(a, b)
    picture = live_of(RandomPicture(), one)
    ways = scatters(a, b)
    scale = picture.scale_percent(ways)
    for way, mark, (low, high) in zip(
        ways, picture.marks, picture.bars.get_segments(), strict=True
    ):
        (x,), _ = mark.get_data()
        assert (x - picture.middle_px) / picture.half_px * scale == pytest.approx(way.mean_percent)
        assert picture.middle_px - picture.half_px - 1e-6 <= low[0]
        assert high[0] <= picture.middle_px + picture.half_px + 1e-6
        assert (high[0] - low[0]) / 2 / picture.half_px * scale == pytest.approx(way.spread_percent)


@pytest.mark.parametrize("name", OUTLINES)
def test_bars_never_go_below_nothing(name: str) -> None:
    """Each ripple takes area or none; as many bars as are summed; their sum is the dot's height."""
    state = {"step": 1, "outline": name, "terms": 9}
    one = numbers(road("outline"), state)
    picture = live_of(SpectrumPicture(one.section), one)
    heights = [path.vertices[:, 1].max() for path in picture.bars.get_paths()]
    assert len(heights) == 9
    assert min(path.vertices[:, 1].min() for path in picture.bars.get_paths()) == 0
    assert picture.dot.get_ydata()[0] == pytest.approx(sum(heights))
    assert sum(heights) <= picture.missing_cm2 + 1e-9


@pytest.mark.parametrize("name", OUTLINES)
@pytest.mark.parametrize("turn", [0, 30, 45, 90])
def test_jaws_hold_the_outline(name: str, turn: float) -> None:
    """The jaws are parallel, as far apart as they read, but for the width of their own bars."""
    state = {"step": 1, "outline": name, "turn_deg": turn}
    one = numbers(road("outline"), state)
    picture = live_of(WidthPicture(), one)
    points = np.column_stack(picture.jaws.get_data())
    first, second = (shapely.LineString(part) for part in (points[:2], points[3:5]))
    along = np.array([np.cos(np.radians(turn)), np.sin(np.radians(turn))])
    apart = float((points[3] - points[0]) @ along)
    assert apart - 1.8 == pytest.approx(float(one.section.width_cm(turn)), abs=1e-6)
    section = shapely.Polygon(picture.wood.get_xy())
    for jaw in (first, second):
        assert jaw.distance(section) == pytest.approx(0.9, abs=0.02)
        assert np.abs(np.array(jaw.coords)).max() < picture.REACH_CM
