"""The four roads: what each proves, in what order, with which assumptions, in plain words."""

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.teaching.proof import ENOUGH, ROADS, THEREFORE, road
from mensura.teaching.proof.steps import PICTURES


@pytest.mark.parametrize("name", ROADS)
def test_every_road_verifies(name):
    """Each step says what was verified, one sentence a certificate."""
    found = road(name).verify()
    steps = road(name).steps
    assert list(found) == [step.key for step in steps]
    for step in steps:
        assert len(found[step.key]) == len(step.certificates) >= 1
        assert all(": " in str(told) and len(str(told)) < 200 for told in found[step.key])


@pytest.mark.parametrize("name", ROADS)
def test_steps_are_whole(name):
    """Numbered keys, one plain line, a reason, a known picture, premises above, a unit we use."""
    steps = road(name).steps
    assert [step.key for step in steps] == [f"{name}-{n}" for n in range(1, len(steps) + 1)]
    for step in steps:
        assert "\n" not in step.line
        assert len(step.line) < 90
        assert step.reason.endswith(".")
        assert step.picture in PICTURES
        assert step.unit in ("cm", "cm²", "cm⁴", "")
        assert step.direction in (THEREFORE, ENOUGH)
    assert road(name).says.endswith(".")


def test_every_kind_of_picture_is_used():
    assert {step.picture for name in ROADS for step in road(name).steps} == set(PICTURES)


def test_the_classroom_goes_backwards_to_what_is_given():
    """From the theorem by "it is enough to show" down to a ≠ b, used once and nowhere else."""
    steps = road("classroom").steps
    assert [step.line for step in steps if step.direction == ENOUGH] == [
        "A_tape > A_cal",
        "π(a² + b²)/2 > πab",
        "a² + b² > 2ab",
        "a² − 2ab + b² > 0",
        "(a − b)² > 0",
        "a ≠ b",
    ]
    assert [step.line for step in steps if step.assumption == "a ≠ b"] == ["a ≠ b"]
    assert "approximation from above" in steps[1].assumption
    assert "approximation from above" in road("classroom").says


@pytest.mark.parametrize(
    ("name", "lines"),
    [
        ("ellipse", ["P ≥ π(a + b)", "P ≤ 2π√((a² + b²)/2)", "A_tape > πab"]),
        ("outline", ["P² − 4πA_hull ≥ 0", "A_tape ≥ A", "w = 2c₀", "πw²/4 ≥ A_hull"]),
        ("calipers", ["w₁w₂ ≥ 4ab", "w₁² + w₂² = 4(a² + b²)", "sin² 2θ/2 = 3/8 at θ = 30°"]),
    ],
)
def test_the_others_go_forwards_and_arrive(name, lines):
    steps = road(name).steps
    assert all(step.direction == THEREFORE for step in steps)
    assert set(lines) <= {step.line for step in steps}


@pytest.mark.parametrize(
    ("name", "words"),
    [
        ("classroom", ["level and taut", "three quarters", "unless a = b"]),
        ("ellipse", ["level, taut", "at least (a − b)²/(4ab)", "at most (a − b)²/(2ab)", "3/8"]),
        ("outline", ["hollows count as wood", "only illustrates", "constant width"]),
        (
            "calipers",
            ["22.5°", "30°", "only for an ellipse", "over π", "leading order"],
        ),
    ],
)
def test_conclusions_carry_their_conditions(name, words):
    for word in words:
        assert word in road(name).says


def test_the_number_in_the_ellipse_roads_conclusion():
    """a = 10, b = 8: 1.88 % by the exact girth, 2.5 % by the classroom's."""
    over = {step.key: step.sides(10, 8) for step in road("ellipse").steps}
    assert f"{100 * over['ellipse-12'][0]:.2f} %" in road("ellipse").says
    assert f"{100 * over['ellipse-12'][1]:g} %" in road("ellipse").says


@pytest.mark.parametrize("b", [9.9, 9, 8, 5, 2, 1, 0.1])
def test_three_eighths_are_a_bound_from_below(b):
    """P/π(a + b) is the sum of hⁿ times the squares of the binomials of 1/2: none is negative.

    From P ≥ π(a + b)(1 + h/4) follows P² ≥ π²((a + b)² + (a − b)²/2). The girth is a sum of chords.
    """
    a, t = 10.0, np.linspace(0, 2 * np.pi, 200_001)
    girth = float(np.hypot(np.diff(a * np.cos(t)), np.diff(b * np.sin(t))).sum())
    h = ((a - b) / (a + b)) ** 2
    assert np.pi * (a + b) * (1 + h / 4) <= girth * (1 + 1e-9)
    excess = girth**2 / (4 * np.pi) - np.pi * a * b
    assert excess >= 3 * np.pi / 8 * (a - b) ** 2 - 1e-6
    if b >= 8:  # hardly more on slightly oval stems
        assert excess == pytest.approx(3 * np.pi / 8 * (a - b) ** 2, rel=2e-3)


@pytest.mark.parametrize("name", ["", "a road", "circle", None])
def test_an_unknown_road_is_refused(name):
    with pytest.raises(MeasureError, match="expected one of: classroom, ellipse"):
        road(name)


def test_a_road_that_is_nearly_there_is_named():
    """Another case, or a slip of a letter."""
    for typed in ("Classroom", "clasroom"):
        with pytest.raises(MeasureError, match=r"did you mean classroom\?"):
            road(typed)
