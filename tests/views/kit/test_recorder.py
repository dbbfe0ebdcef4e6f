"""What the recorder writes down: places, thinning, styles and marks once, refusals by name."""

from __future__ import annotations

import io
from typing import Any

import numpy as np
import pytest
from hypothesis import example, given
from hypothesis import strategies as st
from matplotlib.collections import LineCollection, PathCollection, QuadMesh
from matplotlib.lines import Line2D
from matplotlib.patches import Circle, Rectangle
from matplotlib.path import Path
from matplotlib.text import Text
from PIL import Image

from mensura.checks import MeasureError
from mensura.views.chapters import panels
from mensura.views.kit import look
from mensura.views.kit.live import Live, Picture
from mensura.views.kit.record import (
    CLOSED,
    CODED,
    IMAGE,
    MARKS,
    OPEN,
    PATH,
    PER_PX,
    STILL,
    TEXT,
    Drawn,
    Outline,
    packed,
    places,
    unpacked,
)
from mensura.views.kit.recorder import THINNED_PX, Recorder

WIDE, HIGH = 400, 300


def figure() -> Any:
    """An empty figure with axes all over it, in shown pixels from the lower left corner."""
    with look.house_style():
        one = look.new_figure(WIDE, HIGH)
        axes = look.place(one, 0, 0, WIDE, HIGH)
        axes.set(xlim=(0, WIDE), ylim=(0, HIGH))
        axes.axis("off")
    return one


def recorded(*artists: Any, still: bool = False) -> tuple[Recorder, Drawn]:
    """What artists on empty axes are written down as."""
    axes = figure().axes[0]
    recorder = Recorder(WIDE, HIGH, look.DENSITY)
    recorder.begin(still)
    for artist in artists:
        axes.add_artist(artist)
        artist.draw(recorder)
    return recorder, recorder.drawn


def line(points: Any, **how: Any) -> Line2D:
    """A line through places from the lower left corner."""
    x, y = np.asarray(points, dtype=float).T
    return Line2D(x, y, **{"color": look.TRUTH, **how})


inside = st.tuples(st.floats(0, WIDE), st.floats(0, HIGH))


# ---- places --------------------------------------------------------------------------------------


@given(st.lists(inside, min_size=2, max_size=2))
def test_places_come_back(points: list[tuple[float, float]]) -> None:
    """To half a sixteenth of a pixel, downwards from the upper edge."""
    _, drawn = recorded(line(points))
    (told,) = drawn.numbers
    wanted = np.array([(x, HIGH - y) for x, y in points])
    assert np.abs(told / PER_PX - wanted).max() <= 0.5 / PER_PX + 1e-9


@given(st.floats(-1e9, 1e9), st.floats(-1e9, 1e9))
def test_what_lies_far_outside_stays_in_its_bits(x: float, y: float) -> None:
    """Nothing runs over: it lies at the end, on its own side."""
    told = places(np.array([[x, y]]))[0]
    for one, value in zip(told.tolist(), (x, y), strict=True):
        assert one == pytest.approx(np.clip(value * PER_PX, -32768, 32767), abs=0.5)


@given(
    st.integers(3, 400),
    st.floats(10, 140),
    st.floats(0, 30),
    st.integers(1, 20),
)
@example(count=322, radius=10.0, ripple=1.5, waves=15)
@example(count=106, radius=10.0, ripple=3.5063295863859776, waves=10)
def test_thinning_leaves_the_line_where_it_is(
    count: int, radius: float, ripple: float, waves: int
) -> None:
    """No point of a line is farther from what is told of it than twice what the library bounds.

    It bounds how far points lie off the way on which a piece set out, not off where it ends.
    """
    import shapely

    turn = np.linspace(0, 2 * np.pi, count)
    far = radius + ripple * np.sin(waves * turn)
    points = np.column_stack([200 + far * np.cos(turn) / 2, 150 + far * np.sin(turn) / 2])
    _, drawn = recorded(line(points))
    (told,) = drawn.numbers
    way = shapely.LineString(told / PER_PX)
    where = shapely.points(np.column_stack([points[:, 0], HIGH - points[:, 1]]))
    assert shapely.distance(where, way).max() <= 2 * THINNED_PX + 1 / PER_PX
    assert len(told) <= len(points) + 2


def test_a_dense_line_is_told_by_fewer_points() -> None:
    """A thousand points on a circle of a hundred pixels are more than anybody sees."""
    turn = np.linspace(0, 2 * np.pi, 1000)
    _, drawn = recorded(line(np.column_stack([200 + 50 * np.cos(turn), 150 + 50 * np.sin(turn)])))
    assert len(drawn.numbers[0]) < 100


def test_a_gap_stays_a_gap() -> None:
    """Where numbers are missing, the line begins anew."""
    points = [(10, 10), (60, 10), (np.nan, np.nan), (90, 50), (120, 50), (130, 90)]
    _, drawn = recorded(line(points))
    assert drawn.ops[0][3] == CODED
    codes = drawn.codes[0].tolist()
    assert codes[:4] == [1, 2, 1, 2]
    assert set(codes[4:]) == {2}
    assert (drawn.numbers[0][:3] / PER_PX).tolist() == [[10, 290], [60, 290], [90, 250]]
    masked = np.ma.masked_invalid(np.array(points)[:, 1])
    _, again = recorded(Line2D(np.array(points)[:, 0], masked, color=look.TRUTH))
    assert again.same(drawn)


@pytest.mark.parametrize(
    "artist",
    [
        lambda: Line2D([], [], color=look.TRUTH),
        lambda: line([(np.nan, np.nan), (np.nan, 1)]),
        lambda: LineCollection([], colors=look.TRUTH),
        lambda: Line2D([np.nan], [1], marker="o", color=look.TRUTH, ls=""),
        lambda: Text(3, 3, "", color=look.TRUTH),
        lambda: Rectangle((5, 5), 9, 9, fc="none", ec="none"),
        lambda: line([(9, 9), (20, 20)], alpha=0),
        lambda: line([(9, 9), (20, 20)], lw=0),
    ],
)
def test_nothing_is_nothing(artist: Any) -> None:
    """What cannot be seen is not written down, and does not break."""
    assert recorded(artist())[1].ops == []


# ---- shapes --------------------------------------------------------------------------------------


def test_a_rectangle_is_closed_and_has_both_colours() -> None:
    """Its corners, its fill, its line."""
    box = Rectangle((10, 20), 30, 40, fc=look.WOOD, ec=look.BARK, lw=1.5)
    recorder, drawn = recorded(box)
    ((kind, style, count, way),) = drawn.ops
    assert (kind, count, way) == (PATH, 4, CLOSED)
    how = recorder.styles[style]
    assert (how["f"], how["s"], how["w"]) == ("wood", "bark", 2.0)
    assert sorted(map(tuple, (drawn.numbers[0] / PER_PX).tolist())) == [
        (10, 240),
        (10, 280),
        (40, 240),
        (40, 280),
    ]


def test_a_circle_keeps_its_curves() -> None:
    """Cubic curves, so that it is round at any size."""
    _, drawn = recorded(Circle((200, 150), 40, fc=look.WOOD, ec=look.TRUTH))
    assert drawn.ops[0][3] == CODED
    assert set(drawn.codes[0].tolist()) == {1, 4, 79}


def test_pens_are_told_in_shown_pixels() -> None:
    """Widths and dashes come in points and lengths of the width; caps and joins by name."""
    recorder, drawn = recorded(
        line([(9, 9), (90, 9)], lw=3, ls=(1, (2, 1)), dash_capstyle="projecting")
    )
    how = recorder.styles[drawn.ops[0][1]]
    assert how["w"] == 4
    assert how["d"] == [8, 4]
    assert how["o"] == 4
    assert how["c"] == "square"
    assert how["j"] == "round"


@pytest.mark.parametrize("alpha", [0.25, 0.5])
def test_what_is_seen_through_says_how_much(alpha: float) -> None:
    """Of a colour of its own and of all of an artist."""
    for box in (
        Rectangle((9, 9), 9, 9, fc=look.WOOD, ec=look.BARK, alpha=alpha),
        Rectangle((9, 9), 9, 9, fc=(look.WOOD, alpha), ec=(look.BARK, alpha)),
    ):
        recorder, drawn = recorded(box)
        how = recorder.styles[drawn.ops[0][1]]
        assert (how["fa"], how["sa"]) == (alpha, alpha)


def test_a_clip_is_told_unless_it_holds_all() -> None:
    """Axes all over the picture clip nothing."""
    recorder, drawn = recorded(line([(9, 9), (90, 9)]))
    assert "k" not in recorder.styles[drawn.ops[0][1]]
    with look.house_style():
        one = look.new_figure(WIDE, HIGH)
        axes = look.place(one, 100, 100, 50, 40)
        (drawn_line,) = axes.plot([0, 1], [0, 1], color=look.TRUTH)
    recorder = Recorder(WIDE, HIGH, look.DENSITY)
    drawn_line.draw(recorder)
    how = recorder.styles[recorder.drawn.ops[0][1]]
    assert [side / PER_PX for side in how["k"]] == [100, 160, 150, 200]


def test_a_mark_is_told_once_for_all_its_places() -> None:
    """By a line's points, and by a collection's offsets."""
    recorder, drawn = recorded(line([(10, 20), (30, 40), (50, 60)], marker="o", ls=""))
    ((kind, _, mark, count),) = drawn.ops
    assert (kind, count) == (MARKS, 3)
    assert (drawn.numbers[0] / PER_PX).tolist() == [[10, 280], [30, 260], [50, 240]]
    assert list(recorder.marks) == [mark]

    square = Path([(-2, -2), (2, -2), (2, 2), (-2, 2), (-2, -2)], closed=True)
    axes = figure().axes[0]
    many = PathCollection(
        [square],
        offsets=[(10, 20), (30, 40), (np.nan, 1)],
        offset_transform=axes.transData,
        facecolors=look.TAPE,
        linewidths=0,
    )
    recorder, drawn = recorded(many)
    assert [op[0] for op in drawn.ops] == [MARKS]
    assert (drawn.numbers[0] / PER_PX).tolist() == [[10, 280], [30, 260]]
    # by the axes' scale, round its own place
    assert np.abs(recorder.marks[drawn.ops[0][2]].points).max() == 2 * PER_PX


def test_lines_of_a_collection_have_their_own_pens() -> None:
    """Colours, widths and dashes are gone round as the library does."""
    lines = LineCollection(
        [[(9, 9), (90, 9)], [(9, 20), (90, 20)], [(9, 30), (90, 30)]],
        colors=[look.TAPE, look.CALIPERS],
        linewidths=[1.5, 3, 4.5],
        linestyles=["-", (0, (1, 1)), "-"],
    )
    recorder, drawn = recorded(lines)
    told = [recorder.styles[op[1]] for op in drawn.ops]
    assert [one["s"] for one in told] == ["tape", "calipers", "tape"]
    assert [one["w"] for one in told] == [2, 4, 6]
    assert ["d" in one for one in told] == [False, True, False]


def test_words_are_told_with_size_weight_and_turn() -> None:
    """From their left foot, in shown pixels."""
    recorder, drawn = recorded(
        Text(100, 50, "12 cm²", fontsize=12, fontweight="bold", rotation=30, color=look.TAPE)
    )
    ((kind, style, text, left, foot, angle),) = drawn.ops
    assert (kind, text, angle) == (TEXT, "12 cm²", 30)
    assert recorder.styles[style] == {"t": 16, "bold": 1, "f": "tape"}
    assert left / PER_PX == pytest.approx(100, abs=8)
    assert foot / PER_PX == pytest.approx(250, abs=8)


@given(st.text("abcdefgh 0123456789.,+−", min_size=1, max_size=30).filter(str.strip))
def test_words_are_as_wide_as_their_letters(text: str) -> None:
    """Laid out by widths that hold at any size, so that a page's own letters fit."""
    from matplotlib.font_manager import FontProperties

    letters = Recorder(WIDE, HIGH, look.DENSITY)

    def width_px(size: float) -> float:
        how = FontProperties(family="DejaVu Sans", size=size)
        return float(letters.get_text_width_height_descent(text, how, False)[0]) / look.DENSITY

    assert width_px(11) == pytest.approx(width_px(110) / 10, abs=0.02 * len(text) + 1)


# ---- once, and only what changes -----------------------------------------------------------------


@pytest.mark.parametrize("name", panels())
def test_equal_draws_give_equal_records(name: str) -> None:
    """The same numbers change nothing; other numbers and back give the same bytes."""
    panel = panels()[name]
    live = Live(panel.picture())
    start = panel.numbers(**panel.start())
    first = live.record(start)
    assert unpacked(live.changes(start)[0]).artists == {}
    control = panel.controls[0]
    other = panel.numbers(**panel.start() | {control.name: control.greatest})
    changed = unpacked(live.changes(other)[0])
    assert changed.artists
    assert STILL not in changed.artists
    live.changes(start)
    again = unpacked(live.whole())
    told = unpacked(first)
    assert _looks(again) == _looks(told)
    live.close()


@pytest.mark.parametrize("name", panels())
def test_changes_build_on_what_was_sent(name: str) -> None:
    """Styles and marks are sent when they are first used, and never again."""
    panel = panels()[name]
    live = Live(panel.picture())
    first = unpacked(live.record(panel.numbers(**panel.start())))
    styles, marks = dict(first.styles), dict(first.marks)
    artists = dict(first.artists)
    for control in panel.controls:
        for value in (control.least, control.greatest):
            numbers = panel.numbers(**panel.start() | {control.name: value})
            change = unpacked(live.changes(numbers, control.name)[0])
            assert not set(change.styles) & set(styles)
            assert not set(change.marks) & set(marks)
            styles |= change.styles
            marks |= change.marks
            artists |= change.artists
    built = first.__class__(first.size_px, styles, marks, artists)
    assert _looks(built) == _looks(unpacked(live.whole()))
    live.close()


def _looks(record: Any) -> list[Any]:
    """A record without the numbers of its styles and marks."""
    seen = []
    for key in sorted(record.artists):
        for op, told in record.artists[key]:
            one: list[Any] = [key, op[0]]
            if op[0] != IMAGE:
                one.append(sorted(record.styles[op[1]].items(), key=str))
            if op[0] == MARKS:
                mark = record.marks[op[2]]
                one += [mark.way, mark.points.tolist(), told.tolist()]
            elif op[0] == PATH:
                one += [told.way, told.points.tolist()]
            else:
                one += op[2:]
            seen.append(one)
    return seen


# ---- images --------------------------------------------------------------------------------------


class Photo(Picture[float]):
    """An image under a line that moves."""

    width_px, height_px = 60, 40
    moves = False

    def draw(self, figure: Any) -> None:
        axes = figure.add_axes((0, 0, 1, 1))
        axes.axis("off")
        shades = np.zeros((40, 60, 3), np.uint8)
        shades[:, 30:] = (10, 200, 30)
        shades[:10] = (200, 10, 30)
        image = axes.imshow(shades, aspect="auto", interpolation="nearest")
        (self.line,) = axes.plot([5, 5], [5, 30], color=look.TRUTH)
        self.moving = [self.line, *([image] if self.moves else [])]

    def show(self, numbers: float) -> None:
        self.line.set_xdata([numbers, numbers])

    def describe(self, numbers: float) -> str:
        return f"A line at {numbers:g}."


def test_an_image_is_sent_once_and_stands_upright() -> None:
    """With the whole picture, not with a change; its upper edge is the upper one."""
    live = Live(Photo())
    whole = unpacked(live.record(5.0))
    ((op, data),) = [one for one in whole.artists[STILL] if one[0][0] == IMAGE]
    assert [side / PER_PX for side in op[1:]] == pytest.approx([0, 0, 60, 40], abs=1)
    image = np.asarray(Image.open(io.BytesIO(data)).convert("RGB"))
    assert image[2, 2].tolist() == image[2, -3].tolist() == [200, 10, 30]
    assert image[-3, -3].tolist() == [10, 200, 30]
    assert image[-3, 2].tolist() == [0, 0, 0]
    change = unpacked(live.changes(9.0)[0])
    assert list(change.artists) == [0]


# ---- what is refused -----------------------------------------------------------------------------


def gradient() -> Any:
    """Shading between corners."""
    corners = np.stack(np.meshgrid([10, 50, 90], [10, 50, 90]), axis=-1).astype(float)
    mesh = QuadMesh(corners, shading="gouraud")
    mesh.set_array(np.arange(9.0))
    return mesh


def clipped() -> Any:
    """A line that a circle cuts."""
    one = line([(9, 9), (90, 90)])
    one.set_clip_path(Circle((50, 50), 20, transform=figure().axes[0].transData))
    return one


def filtered() -> Any:
    """A line that is blurred."""
    one = line([(9, 9), (90, 90)])
    one.set_agg_filter(lambda image, dpi: (image, 0, 0))
    return one


def sketched() -> Any:
    """A line as by hand."""
    one = line([(9, 9), (90, 90)])
    one.set_sketch_params(2)
    return one


def as_dots() -> Any:
    """A line that is drawn as dots."""
    one = line([(9, 9), (90, 90)])
    one.set_rasterized(True)
    return one


@pytest.mark.parametrize(
    ("artist", "name"),
    [
        (lambda: Text(9, 9, r"$\pi r^2$", color=look.TRUTH), r"the formula \$.pi r.2\$"),
        (gradient, "a gradient of triangles"),
        (clipped, "clipping by a path"),
        (filtered, "a filter"),
        (sketched, "a sketched line"),
        (as_dots, "an artist drawn as dots"),
        (lambda: line([(9, 9), (90, 90)], color="#123456"), "the colour #123456"),
        (lambda: LineCollection([[(9, 9), (50, 9)]], colors=["#FE0000"]), "the colour #FE0000"),
    ],
)
def test_what_cannot_be_sent_is_refused_by_name(artist: Any, name: str) -> None:
    """Not left away: the sentence says what it is."""
    with pytest.raises(MeasureError, match=name):
        recorded(artist())


def test_a_refusal_is_no_matter_of_what_came_before() -> None:
    """The same pen, but cut by a path: what was written down once does not let it through."""
    plain, cut = line([(9, 9), (90, 90)]), clipped()
    with pytest.raises(MeasureError, match="clipping by a path"):
        recorded(plain, cut)


def test_an_image_that_moves_is_refused() -> None:
    """It would be sent with every move."""

    class Moving(Photo):
        moves = True

    live = Live(Moving())
    with pytest.raises(MeasureError, match="an image that moves"):
        live.record(3.0)


# ---- packed and unpacked -------------------------------------------------------------------------

points = st.lists(
    st.tuples(st.integers(-32768, 32767), st.integers(-32768, 32767)), min_size=1, max_size=6
).map(lambda some: np.array(some, dtype="<i2"))


@st.composite
def outlines(draw: Any) -> Outline:
    """Any path."""
    some, way = draw(points), draw(st.sampled_from([OPEN, CLOSED, CODED]))
    codes = None
    if way == CODED:
        each = st.sampled_from([1, 2, 3, 4, 79])
        codes = np.array(draw(st.lists(each, min_size=len(some), max_size=len(some))), np.uint8)
    return Outline(some, way, codes)


@st.composite
def drawings(draw: Any) -> Drawn:
    """Anything that an artist may have been told to draw."""
    one = Drawn()
    for kind in draw(st.lists(st.sampled_from([PATH, MARKS, TEXT, IMAGE]), max_size=5)):
        if kind == PATH:
            outline = draw(outlines())
            one.add([PATH, draw(st.integers(0, 9)), *outline.told], outline)
        elif kind == MARKS:
            at = draw(points)
            one.add([MARKS, 0, draw(st.integers(0, 9)), len(at)], Outline(at, OPEN))
        elif kind == TEXT:
            one.add([TEXT, 0, draw(st.text(max_size=9)), 16, -16, 12.5])
        else:
            one.add([IMAGE, 0, 0, 16, 16])
            one.images.append(draw(st.binary(max_size=9)))
    return one


@given(
    st.dictionaries(st.integers(-1, 20), drawings(), max_size=4),
    st.dictionaries(st.integers(0, 20), outlines(), max_size=3),
)
def test_what_was_packed_comes_back(artists: dict[int, Drawn], marks: dict[int, Outline]) -> None:
    """Operations, points, codes, images, in their order; words of any letters."""
    styles = {3: {"s": "truth", "d": [1, 2.5]}}
    back = unpacked(packed((WIDE, HIGH), styles, marks, artists))
    assert back.size_px == (WIDE, HIGH)
    assert back.styles == styles
    assert list(back.marks) == list(marks)
    for key, mark in marks.items():
        assert_same(back.marks[key], mark)
    assert list(back.artists) == list(artists)
    for key, drawn in artists.items():
        assert [op for op, _ in back.artists[key]] == drawn.ops
        beside = [told for op, told in back.artists[key] if op[0] in (PATH, MARKS)]
        for told, wanted in zip(beside, drawn.numbers, strict=True):
            assert np.array_equal(told.points if isinstance(told, Outline) else told, wanted)
        codes = [told.codes for told in beside if isinstance(told, Outline) and told.way == CODED]
        assert [one.tolist() for one in codes] == [one.tolist() for one in drawn.codes]
        assert [told for op, told in back.artists[key] if op[0] == IMAGE] == drawn.images


def assert_same(one: Outline, other: Outline) -> None:
    """Two paths are one."""
    assert one.way == other.way
    assert np.array_equal(one.points, other.points)
    assert (one.codes is None) == (other.codes is None)
    if one.codes is not None:
        assert np.array_equal(one.codes, other.codes)
