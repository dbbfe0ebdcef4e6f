"""The out-of-round panel: its drawing where the model puts it, its words, its lettering."""

from __future__ import annotations

import math
import re
import runpy
from pathlib import Path
from typing import Any

import numpy as np
import pytest

from mensura.estimates.out_of_round import (
    classroom_over_percent,
    tape_over_percent,
    two_readings_over_percent,
)
from mensura.stems import Ellipse
from mensura.teaching.panels.out_of_round import (
    CURVES,
    MEANS,
    RATIOS,
    SMOOTH,
    TURNS_DEG,
    UPSIDE_DOWN,
    numbers,
)
from mensura.views.chapters.out_of_round import PANEL
from mensura.views.chapters.out_of_round.picture import OutOfRoundPicture
from mensura.views.chapters.out_of_round.words import (
    limits_sentence,
    readout,
    ripple_sentence,
    status,
)
from mensura.views.kit import look
from mensura.views.kit.live import Live
from mensura.written import signed

#: The states that its numbers are tried in, tests/teaching/panels.
NUMBERS = Path(__file__).parents[2] / "teaching" / "panels" / "test_out_of_round.py"
TRIED = runpy.run_path(str(NUMBERS))
AWKWARD, ENDS, STATES = TRIED["AWKWARD"], TRIED["ENDS"], TRIED["STATES"]
START = PANEL.start()


@pytest.fixture(scope="module")
def live() -> Live[Any]:
    return Live(OutOfRoundPicture())


def smooth(**changes: Any) -> dict[str, Any]:
    return START | SMOOTH | changes


def test_the_sentences_of_the_fourth_ripple() -> None:
    """Where the calipers are nearer, and how thick the stem is with the preset's ripple."""
    sentence = limits_sentence(numbers(**START | UPSIDE_DOWN))
    assert "arithmetic mean from 22.6° on" in sentence
    assert "product at every turn" in sentence
    assert ripple_sentence(numbers(**START | UPSIDE_DOWN)) == (
        "Fourth ripple of the smooth outline: +0.087 cm; the ellipse's own is −0.083 cm. The stem "
        "is 60.34 cm thick along the first axis and 48.34 cm along the second."
    )
    assert ripple_sentence(numbers(**smooth())).endswith("−0.083 cm, the ellipse's own.")


def test_a_round_smooth_stem_has_no_share(live: Live[Any]) -> None:
    """Neither instrument errs: no curve is drawn, no limit is marked, and a sentence says why."""
    shown = numbers(**smooth(second_cm=60, marked=True))
    assert all(np.isnan(share).all() for share in shown.shares.values())
    assert set(shown.limits_deg.values()) == {None}
    live.paint(shown)
    assert [len(drawn(path)) for path in live.picture.shares.get_paths()] == [0, 0, 0]
    assert not any(dot.get_visible() for dot, *_ in live.picture.limits.values())
    assert limits_sentence(shown) == (
        "This stem is round and smooth: tape and calipers are both exact."
    )
    assert limits_sentence(shown) in readout(shown)
    assert "equally near" in status(shown)
    # the check itself: half a centimetre out of round, and there are curves
    live.paint(numbers(**smooth(second_cm=59.5, marked=True)))
    assert min(len(drawn(path)) for path in live.picture.shares.get_paths()) > 100


def drawn(path: Any) -> Any:
    """The points of a path that are numbers."""
    return path.vertices[np.isfinite(path.vertices).all(axis=1)]


def crossed(first: Any, second: Any) -> Any:
    """Cross product of plane vectors: 0 where they are parallel, above where second is left."""
    a, b = np.asarray(first), np.asarray(second)
    return a[..., 0] * b[..., 1] - a[..., 1] * b[..., 0]


# ---- the drawing -----------------------------------------------------------------------------


def split(line: Any) -> list[Any]:
    """The pieces of a drawn line, shape (k, 2) each."""
    points = np.column_stack(line.get_data()).astype(float)
    gaps = np.flatnonzero(np.isnan(points).any(axis=1))
    return [piece[~np.isnan(piece).any(axis=1)] for piece in np.split(points, gaps)]


@pytest.mark.parametrize("state", STATES)
def test_the_section_is_drawn_as_it_is(live: Live[Any], state: dict[str, Any]) -> None:
    """Wood on the model's edge; the band on its hull, 0.45 cm outside it, closed."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    edge = picture.wood.get_xy()
    assert np.array_equal(edge[:-1], shown.edge_cm)
    x, y = shown.edge_cm.T
    shoelace = abs(np.dot(x, np.roll(y, -1)) - np.dot(y, np.roll(x, -1))) / 2
    assert shoelace == pytest.approx(shown.result.true_area_cm2, rel=1e-3)
    band = np.column_stack(picture.tape.get_data())
    assert np.array_equal(band[0], band[-1])
    radius, hull = np.hypot(*band[:-1].T), np.hypot(*shown.hull_cm.T)
    assert radius - hull == pytest.approx(np.full(len(hull), 0.45))
    assert crossed(band[:-1], shown.hull_cm) == pytest.approx(np.zeros(len(hull)), abs=1e-9)
    assert radius.max() < picture.REACH_CM
    # the hull's own length is what the level tape reads
    steps = np.diff(np.vstack([shown.hull_cm, shown.hull_cm[:1]]), axis=0)
    assert np.hypot(*steps.T).sum() == pytest.approx(shown.result.taut_girth_cm, rel=1e-4)
    assert picture.tab.get_xdata()[0] < shown.hull_cm[:, 0].max() + 0.45


@pytest.mark.parametrize("state", STATES)
def test_jaws_stand_as_far_apart_as_they_read(live: Live[Any], state: dict[str, Any]) -> None:
    """Bars 0.6 cm outside either side; the second pair at right angles, on the stem itself."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    turn = math.radians(shown.caliper_direction_deg)
    along = np.array([math.cos(turn), math.sin(turn)])
    square = np.array([-along[1], along[0]])
    beam, near, far = split(picture.jaws)
    first, second = shown.result.calipers[1].readings_cm
    for piece in (near, far):
        assert np.ptp(piece @ along) == pytest.approx(0, abs=1e-9)
    assert (far @ along)[0] - (near @ along)[0] == pytest.approx(first + 1.2, abs=1e-3)
    assert (shown.hull_cm @ along).min() - (near @ along)[0] == pytest.approx(0.6)
    # the beam joins them at right angles, clear of the stem
    assert np.ptp(beam @ square) == pytest.approx(0, abs=1e-9)
    assert (beam @ square)[0] < (shown.hull_cm @ square).min() - 1
    assert (beam @ along).min() < (near @ along)[0]
    assert (beam @ along).max() > (far @ along)[0]
    # each jaw reaches past the point that it touches
    for piece, touch in ((near, (shown.hull_cm @ along).argmin()), (far, None)):
        at = touch if touch is not None else (shown.hull_cm @ along).argmax()
        height = (shown.hull_cm @ square)[at]
        assert (piece @ square).min() < height < (piece @ square).max()
    low, high = split(picture.second_jaws)
    assert (high @ square)[0] - (low @ square)[0] == pytest.approx(second, abs=1e-3)
    assert np.abs(np.vstack([beam, near, far, low, high])).max() < picture.REACH_CM


@pytest.mark.parametrize("state", STATES)
def test_the_tilt_is_drawn_as_it_is(live: Live[Any], state: dict[str, Any]) -> None:
    """From the side: a trunk as wide as the stem that way, and a band at the tape's angle."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    (x0, x1), (y0, y1) = picture.slant.get_data()
    assert math.degrees(math.atan2(y1 - y0, x1 - x0)) == pytest.approx(state["tilt_deg"])
    wide = Ellipse(state["first_cm"], state["second_cm"]).width_cm(state["tilt_direction_deg"])
    wide += 2 * state["fourth_ripple_cm"] * math.cos(4 * math.radians(state["tilt_direction_deg"]))
    assert x1 - x0 == pytest.approx(wide)
    sides = np.array(picture.trunk.get_xdata())[[0, 1, 3, 4]]
    assert list(sides) == pytest.approx([x0, x0, x1, x1])
    low, high = picture.slant.axes.get_ylim()
    assert low < y0 <= 0 <= y1 < high
    assert picture.high.get_visible() is (state["tilt_deg"] > 0)
    (x,), (y,) = picture.high.get_data()
    assert math.degrees(math.atan2(y, x)) == pytest.approx(state["tilt_direction_deg"])
    assert (x / state["first_cm"]) ** 2 + (y / state["second_cm"]) ** 2 < 0.25


@pytest.mark.parametrize("state", STATES)
def test_curves_are_the_formulas(live: Live[Any], state: dict[str, Any]) -> None:
    """Against the axis ratio: one and two readings at this turn, from the longer axis."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    off = state["caliper_direction_deg"]
    if state["first_cm"] < state["second_cm"]:
        off = 90 - off
    segments = dict(zip(CURVES, picture.curves.get_segments(), strict=True))
    for name, curve in segments.items():
        assert np.array_equal(curve[:, 0], RATIOS)
        if name != "one":
            assert curve[:, 1] == pytest.approx(two_readings_over_percent(RATIOS, off, MEANS[name]))
    # and by plain arithmetic
    turn = np.radians(off)
    w1 = np.hypot(np.cos(turn), RATIOS * np.sin(turn))
    w2 = np.hypot(np.sin(turn), RATIOS * np.cos(turn))
    for name, square in (
        ("one", w1**2),
        ("two-arithmetic", ((w1 + w2) / 2) ** 2),
        ("two-geometric", w1 * w2),
    ):
        assert segments[name][:, 1] == pytest.approx(100 * (square / RATIOS - 1), abs=1e-9)


def test_the_ground_s_curves_are_the_formulas(live: Live[Any]) -> None:
    """Tape, blackboard formula and quadratic mean, which no control moves."""
    lines = [
        (line.get_color(), line.get_ydata())
        for line in live.picture.ratio_axes.lines
        if len(line.get_xdata()) == len(RATIOS)
    ]
    wanted = [
        (look.CLASSROOM, classroom_over_percent(RATIOS)),
        (look.CALIPERS, two_readings_over_percent(RATIOS, 0, "quadratic")),
        (look.TAPE, tape_over_percent(RATIOS)),
    ]
    assert len(lines) == 3
    for (colour, ys), (meant, values) in zip(lines, wanted, strict=True):
        assert colour == meant
        assert ys == pytest.approx(values, abs=1e-9)
    assert tape_over_percent(RATIOS)[:-1] == pytest.approx(
        0.75 * classroom_over_percent(RATIOS)[:-1], rel=0.01
    )


@pytest.mark.parametrize("state", STATES)
def test_marks_stand_at_this_stem(live: Live[Any], state: dict[str, Any]) -> None:
    """At its axis ratio, as high as its errors; beyond the chart they wait at its edge."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    marks = picture.marks.get_offsets()
    oval = sorted((state["first_cm"], state["second_cm"]))
    short, long = (one + 2 * state["fourth_ripple_cm"] for one in oval)
    ratio = short / long
    result = shown.result
    errors = [one.over_percent for one in result.calipers]
    errors.insert(len(errors) - 1, result.tape_over_percent)  # many directions lie on top
    assert len(marks) == 6
    assert list(marks[:, 0]) == pytest.approx([ratio] * 6)
    assert list(marks[:, 1]) == pytest.approx([min(max(e, -2), 10) for e in errors])
    assert list(picture.here.get_xdata()) == [ratio, ratio]
    # the ground's curve for the tape, at this ratio, is where a smooth level stem's mark stands
    plain = numbers(**state | SMOOTH).result.tape_over_percent
    assert plain == pytest.approx(tape_over_percent(oval[0] / oval[1]), abs=1e-9)


@pytest.mark.parametrize("state", STATES)
def test_shares_and_their_marks_are_drawn(live: Live[Any], state: dict[str, Any]) -> None:
    """The three curves, the line of the present turn, and dots with words where they cross 1."""
    picture, shown = live.picture, numbers(**state)
    live.paint(shown)
    for path, share in zip(picture.shares.get_paths(), shown.shares.values(), strict=True):
        finite = np.isfinite(share)
        assert drawn(path) == pytest.approx(np.column_stack([TURNS_DEG, share])[finite])
    assert list(picture.turn.get_xdata()) == [state["caliper_direction_deg"]] * 2
    for practice, (dot, word, _) in picture.limits.items():
        limit = shown.limits_deg[practice]
        assert dot.get_visible() is word.get_visible() is bool(limit)
        if limit:
            assert dot.get_data() == ([limit], [1.0])
            assert word.get_text() == f"{limit:.1f}°"
            assert abs(word.get_position()[0] - limit) < 3
    live.paint(numbers(**state | {"marked": False}))
    assert not any(
        dot.get_visible() or word.get_visible() for dot, word, _ in picture.limits.values()
    )


# ---- words -------------------------------------------------------------------------------------


@pytest.mark.parametrize("state", STATES)
def test_words_carry_the_present_numbers(state: dict[str, Any]) -> None:
    """Alternative text, sentence and table speak of this state."""
    shown = numbers(**state)
    result, two = shown.result, shown.result.calipers[1]
    alt = OutOfRoundPicture().describe(shown)
    for part in (
        f"{state['first_cm']:g} by {state['second_cm']:g} cm",
        f"turned {state['caliper_direction_deg']:g}°",
        f"tilted {state['tilt_deg']:g}°",
        f"{result.reading_cm:.1f} cm",
        f"{signed(result.tape_over_percent)} %",
        f"{signed(two.over_percent)} %",
    ):
        assert part in alt
    sentence = status(shown)
    nearer = abs(two.over_percent) - abs(result.tape_over_percent)
    if nearer > 0.006:
        assert sentence.endswith("Now the tape is nearer.")
    elif nearer < -0.006:
        assert sentence.endswith("Now the calipers are nearer.")
    table = readout(shown)
    said = dict(re.findall(r"data-over='([\w-]+)'>([^<]+)<", table))
    wanted = {one.practice: one.over_percent for one in result.calipers}
    wanted |= {"tape": result.tape_over_percent, "level": result.level_over_percent}
    assert set(said) == set(wanted)
    for practice, over_percent in wanted.items():
        assert float(said[practice].replace("−", "-")) == pytest.approx(over_percent, abs=0.00501)
    assert f"<td>{result.true_area_cm2:.1f}</td>" in table
    assert not re.search(r"\bnan\b", alt + sentence + table)
    assert "None" not in table


def test_the_sentence_turns_where_the_curve_does() -> None:
    """The workbook's task: on the smooth stem the verdict changes between 22° and 23°."""
    verdicts = {
        turn: status(numbers(**smooth(caliper_direction_deg=turn))).rpartition("Now ")[2]
        for turn in (20, 22, 23, 30)
    }
    assert verdicts == {
        20: "the calipers are nearer.",
        22: "the calipers are nearer.",
        23: "the tape is nearer.",
        30: "the tape is nearer.",
    }
    sentence = limits_sentence(numbers(**smooth()))
    assert "arithmetic mean up to 22.4°" in sentence
    assert "product up to 29.9°" in sentence
    assert "quadratic mean never" in sentence


# ---- lettering -----------------------------------------------------------------------------------


@pytest.mark.parametrize("state", AWKWARD + ENDS[::3])
def test_lettering_is_clear(live: Live[Any], letters: Any, state: dict[str, Any]) -> None:
    """No text on another, none cut off, none small, wherever the controls stand."""
    live.paint(numbers(**state))
    assert letters.overlaps(live.figure) == []
    assert letters.cut_off(live.figure) == []
    assert letters.too_small(live.figure) == []


def test_there_is_lettering_to_check(live: Live[Any], letters: Any) -> None:
    """Axes, key, hints and both marked angles are among what is looked at."""
    live.paint(numbers(**smooth(marked=True)))
    texts = {text for text, _ in letters.lettering(live.figure)}
    assert {"22.4°", "29.9°", "tape nearer", "blackboard formula", "from the side"} <= texts
    extra = live.figure.text(0.5, 0.5, "laid across", fontsize=11)
    twin = live.figure.text(0.5, 0.5, "laid upon", fontsize=11)
    assert ("laid across", "laid upon") in letters.overlaps(live.figure)
    extra.remove()
    twin.remove()


@pytest.mark.parametrize("state", [START | {"marked": True}, smooth(marked=True)])
def test_limits_lie_clear_of_the_chart_s_words(live: Live[Any], state: dict[str, Any]) -> None:
    """The two marked angles stand in their chart, not over its edge."""
    picture = live.picture
    live.paint(numbers(**state))
    renderer = live.figure.canvas.get_renderer()
    chart = picture.shares.axes.get_window_extent(renderer)
    for _, word, _ in picture.limits.values():
        if word.get_visible():
            box = word.get_window_extent(renderer)
            assert chart.x0 <= box.x0
            assert box.x1 <= chart.x1
            assert chart.y0 <= box.y0
            assert box.y1 <= chart.y1
