"""Pictures of problems: every given number once, nothing cut off or overlapping, no answer."""

from __future__ import annotations

import re
from collections.abc import Callable, Sequence
from types import ModuleType
from typing import Any

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.teaching.problems import bank
from mensura.teaching.problems.draw import Problem
from mensura.teaching.problems.vocabulary import meaning
from mensura.views.kit.live import Live
from mensura.views.problems.pictures import ProblemPicture, problem_still, problem_view, value_of
from mensura.views.problems.scene_parts import WIDTH_PX
from mensura.views.problems.scenes import SCENES

KEYS = list(bank.all_families())


Problems = Callable[[str], Sequence[Problem]]


def drawn(problem: Problem) -> tuple[ProblemPicture, Any]:
    """The picture and its figure."""
    picture = ProblemPicture(problem)
    live = Live(picture)
    live.paint(None)
    return picture, live.figure


def extremes(some: Sequence[Problem]) -> list[Problem]:
    """Some of a family's problems: with the longest numbers, the largest, the smallest."""
    longest = max(some, key=lambda one: sum(len(value_of(one, name)) for name in one.numbers))
    largest = max(some, key=lambda one: max(one.numbers.values()))
    smallest = min(some, key=lambda one: next(iter(one.numbers.values())))
    return list({id(one): one for one in (longest, largest, smallest)}.values())


@pytest.mark.parametrize("key", KEYS)
def test_lettering_and_pointers(key: str, letters: ModuleType, problems_of: Problems) -> None:
    """Nothing overlaps, is cut off or too small; each number stands there once; a pointer starts
    left of its words and ends inside the scene."""
    for problem in extremes(problems_of(key)):
        picture = ProblemPicture(problem)
        live = Live(picture)
        live.paint(None)
        assert letters.overlaps(live.figure) == []
        assert letters.cut_off(live.figure) == []
        assert letters.too_small(live.figure) == []
        text = [" ".join(said.split()) for said, _ in letters.lettering(live.figure)]
        live.close()
        for name in problem.numbers:
            value = value_of(problem, name)
            ends = [one for one in text if one == value or one.endswith(f" {value}")]
            same = [each for each in problem.numbers if value_of(problem, each) == value]
            assert len(ends) == len(same), (name, text)
        assert picture.width_px == 430
        for label, _ in picture.labels:
            if label.to_px:
                x, y = label.to_px
                assert 0 < x < label.place_px[0] - 6
                assert 0 < y < picture.scene.height_px


@pytest.mark.parametrize("key", KEYS)
def test_alternative_text(key: str, problems_of: Problems) -> None:
    """It tells what is drawn and each number with its words, and nothing else that is a number."""
    for problem in problems_of(key)[:6]:
        alt = ProblemPicture(problem).alt
        for name in problem.numbers:
            assert f"{meaning(name).words} {value_of(problem, name)}" in alt
        told = re.sub(r"(stem|reading) \d (?=[-\d])", "", alt.replace("−", "-"))
        plain = re.sub(r"[a-z]\d", "", told)
        numbers = [float(one) for one in re.findall(r"-?\d+(?:\.\d+)?", plain)]
        assert len(numbers) <= len(problem.numbers)
        given = list(problem.numbers.values())
        assert all(np.isclose(given, one, atol=1e-6).any() for one in numbers)


def test_a_still_carries_its_words() -> None:
    """The picture for a page, and the one made for speed: its words and its size go with it."""
    problem = bank.problem("girth-to-area", "Q11", "k")
    picture = ProblemPicture(problem)
    for still in (problem_still(problem), problem_view(problem)):
        assert still.alt == picture.alt
        assert (still.width_px, still.height_px) == (picture.width_px, picture.height_px)
        assert still.svg.startswith(f'<svg xmlns="http://www.w3.org/2000/svg" width="{WIDTH_PX}"')
    assert problem_still(problem).svg == problem_view(problem).svg
    assert problem_still(problem).png.startswith(b"\x89PNG")
    assert problem_view(problem).png == b""


def test_every_kind_is_drawn_and_used() -> None:
    """Each scene is some family's, and each family's kind is a scene."""
    assert {bank.family(key).picture for key in KEYS} == set(SCENES)


def test_an_unknown_kind() -> None:
    """A lecturer's slip of the pen is told with the kinds that there are."""
    from dataclasses import replace

    problem = bank.problem("girth-to-area", "Q07", "k")
    other = replace(problem, family=replace(problem.family, picture="photograph"))
    with pytest.raises(MeasureError, match="girth, oval, turned"):
        ProblemPicture(other)


def test_minus_and_degrees() -> None:
    """A value is set as it is printed: a true minus, no gap before the degree sign."""
    cold = next(
        one
        for number in range(1, 40)
        if "temperature_c"
        in (one := bank.problem("steel-in-the-frost", "Q07", "k", "1", number)).numbers
        and one.numbers["temperature_c"] < 0
    )
    assert re.fullmatch(r"−\d+(\.\d+)? °C", value_of(cold, "temperature_c"))
    tilted = bank.problem("tilted-tape", "Q07", "k")
    assert re.fullmatch(r"\d+(\.\d+)?°", value_of(tilted, "tilt_deg"))


def test_an_oval_is_as_oval_as_it_is_given(letters: ModuleType) -> None:
    """The drawn axes stand in the ratio of the numbers."""
    from matplotlib.patches import Polygon

    problem = bank.problem("oval-area", "Q07", "k")
    _, figure = drawn(problem)
    (wood,) = [patch for patch in figure.axes[0].patches if isinstance(patch, Polygon)]
    long, short = np.ptp(np.asarray(wood.get_xy()), axis=0)
    given = problem.numbers["second_diameter_cm"] / problem.numbers["first_diameter_cm"]
    assert short / long == pytest.approx(given, rel=1e-3)


def test_a_tilt_is_drawn_at_its_angle() -> None:
    """The band crosses the stem at the angle that is given."""
    problem = bank.problem("tilted-tape", "Q07", "k")
    _, figure = drawn(problem)
    (band,) = [line for line in figure.axes[0].lines if line.get_linewidth() == 8]
    (x, y) = np.diff(np.asarray(band.get_data())[:, [0, -1]], axis=1)[:, 0]
    assert np.degrees(np.arctan2(y, x)) == pytest.approx(problem.numbers["tilt_deg"], abs=0.01)


def test_a_stem_stands_in_its_ground_as_it_is_given() -> None:
    """Its edges lean and the ground slopes at the angles that are given; calipers are level."""
    from matplotlib.patches import Polygon

    problem = bank.problem("leaning-on-a-slope", "Q07", "k")
    _, figure = drawn(problem)
    (wood,) = [patch for patch in figure.axes[0].patches if isinstance(patch, Polygon)]
    edge = np.asarray(wood.get_xy())
    x, y = edge[60] - edge[40]
    assert np.degrees(np.arctan2(x, y)) == pytest.approx(problem.numbers["lean_deg"], abs=0.01)
    ground = figure.axes[0].collections[0].get_paths()[0].vertices
    top = ground[(ground[:, 1] > 0) & (ground[:, 0] < 100)]
    x, y = top[np.argmax(top[:, 0])] - top[np.argmin(top[:, 0])]
    assert np.degrees(np.arctan2(-y, x)) == pytest.approx(problem.numbers["slope_deg"], abs=0.5)
    problem = bank.problem("level-calipers-on-a-lean", "Q07", "k")
    _, figure = drawn(problem)
    (beam,) = [line for line in figure.axes[0].lines if line.get_linewidth() == 6]
    left, right = np.asarray(beam.get_data()).T
    assert left[1] == right[1]


def test_two_legs_stand_as_far_apart_as_is_given() -> None:
    """Gap over diameter, between the outermost rings."""
    from matplotlib.patches import Circle

    problem = bank.problem("two-legs-as-one", "Q07", "k")
    _, figure = drawn(problem)
    discs = [patch for patch in figure.axes[0].patches if isinstance(patch, Circle)]
    wide = max(disc.radius for disc in discs)
    first, second = [disc.center[0] for disc in discs if disc.radius == wide]
    gap = abs(second - first) - 2 * wide
    given = problem.numbers["leg_gap_cm"] / problem.numbers["leg_diameter_cm"]
    assert gap / (2 * wide) == pytest.approx(given, rel=1e-6)


def test_a_plot_holds_the_stems_that_are_counted() -> None:
    """As many discs as the count that is given, beside the plot itself."""
    from matplotlib.patches import Circle

    problem = bank.problem("stems-per-hectare", "Q07", "k")
    _, figure = drawn(problem)
    discs = [patch for patch in figure.axes[0].patches if isinstance(patch, Circle)]
    assert len(discs) == 1 + problem.numbers["stem_count"]
