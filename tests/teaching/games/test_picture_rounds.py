"""What is wrong in this picture, as data: rounds, sizes, what the fault does, and the replies."""

from __future__ import annotations

import math
import re
from collections import Counter
from collections.abc import Callable

import pytest

from mensura.checks import MeasureError
from mensura.teaching.games.picture_rounds import SIGHTS, SOUND, PictureRound, picture_round

SEEDS = range(300)
PI = math.pi


@pytest.fixture(scope="session")
def rounds() -> list[PictureRound]:
    """The first 300 rounds, drawn once, and only if a test wants them."""
    return [picture_round(seed) for seed in SEEDS]


def lifted(radius: float, lift: float) -> float:
    """Two tangents to a circle from a point, less the arc between their feet."""
    reach = radius + lift
    return 2 * (math.sqrt(reach**2 - radius**2) - radius * math.acos(radius / reach))


def round_a_climber(big: float, small: float) -> float:
    """A band round two circles that touch, less the larger one's edge."""
    beta = math.asin((big - small) / (big + small))
    straight = 2 * math.sqrt((big + small) ** 2 - (big - small) ** 2)
    return straight + big * (PI + 2 * beta) + small * (PI - 2 * beta) - 2 * PI * big


def summed(diameter: float, slope: Callable[[float], float]) -> float:
    """What a slope along the way round adds to a circle's edge: a plain sum of many pieces."""
    pieces = 20_000
    step = PI * diameter / pieces
    slopes = [slope((k + 0.5) / pieces) for k in range(pieces)]
    return sum(step * (math.sqrt(1 + s * s) - 1) for s in slopes)


#: What each fault adds, in cm, by plain geometry of a round stem of diameter d.
BY_HAND: dict[str, Callable[[PictureRound, float], float]] = {
    "tilt": lambda r, d: summed(
        d, lambda t: math.tan(math.radians(r.lay.tilt_deg)) * math.cos(2 * PI * t)
    ),
    "wander": lambda r, d: summed(
        d, lambda t: r.lay.wander_cm / 2 * (4 * PI / (PI * d)) * math.cos(4 * PI * t)
    ),
    "overlap": lambda r, d: math.hypot(PI * d, r.lay.overlap_offset_cm) - PI * d,
    "slack": lambda r, d: r.lay.slack_cm,
    "twist": lambda r, d: lifted(d / 2, r.lay.twist_lift_cm),
    "climber": lambda r, d: round_a_climber(d / 2, r.lay.climber_cm / 2),
    "knot": lambda r, d: lifted(d / 2, r.lay.knot_cm),
    "height": lambda r, d: -PI * r.lay.taper_cm_per_m * r.lay.height_off_m,
    "beam slope": lambda r, d: d / math.cos(math.radians(r.calipers.beam_slope_deg)) - d,
    # the foot of a line that leans by φ and touches the circle, the beam a radius off its middle
    "jaw lean": lambda r, d: (
        d / 2 * (1 / math.cos(lean) - math.tan(lean) - 1)
        if (lean := math.radians(r.calipers.jaw_lean_deg))
        else 0.0
    ),
    SOUND: lambda r, d: 0.0,
}


def test_rounds_are_drawn_from_their_seed(rounds: list[PictureRound]) -> None:
    """The same seed is the same round; others differ; every fault, and none, comes up."""
    assert [picture_round(seed) for seed in range(12)] == rounds[:12]
    drawn = Counter((r.instrument, r.fault) for r in rounds)
    wanted = {(f.instrument, f.key) for f in SIGHTS.values()}
    assert set(drawn) == wanted | {("tape", SOUND), ("calipers", SOUND)}
    assert min(drawn.values()) >= 10
    assert len({(r.diameter_cm, r.fault, r.lay, r.calipers) for r in rounds}) > 200


def test_rounds_never_change(rounds: list[PictureRound]) -> None:
    """Rounds as they were when they were made: a class's notes stay true."""
    told = [(r.fault, r.diameter_cm, round(r.adds_cm, 2)) for r in (rounds[4], rounds[7])]
    assert told == [("climber", 42.0, 1.68), ("beam slope", 36.0, 0.67)]


@pytest.mark.parametrize("seed", SEEDS[:120])
def test_what_it_adds_by_hand(rounds: list[PictureRound], seed: int) -> None:
    """The fault's effect by the geometry of a round stem, and its side."""
    one = rounds[seed]
    assert one.adds_cm == pytest.approx(BY_HAND[one.fault](one, one.diameter_cm), abs=1e-4)
    assert one.true_cm == pytest.approx(one.diameter_cm * (PI if one.instrument == "tape" else 1))


def test_only_one_thing_is_wrong(rounds: list[PictureRound]) -> None:
    """At most one fault is set, and one that a class can see in the drawing."""
    for one in rounds:
        faults = list(one.lay.faults)
        faults += ["beam slope"] * bool(one.calipers.beam_slope_deg)
        faults += ["jaw lean"] * bool(one.calipers.jaw_lean_deg)
        assert faults == ([] if one.fault == SOUND else [one.fault])
        if one.fault != SOUND:
            assert abs(one.adds_cm) > 0.15
            assert SIGHTS[one.fault].instrument == one.instrument


@pytest.mark.parametrize("seed", SEEDS)
def test_every_choice_is_answered_with_reason(rounds: list[PictureRound], seed: int) -> None:
    """One choice is accepted; each has its own words with a number and the reading's side."""
    one = rounds[seed]
    assert one.accepted == (one.fault,)
    assert SOUND in one.choices
    assert len(one.choices) == (5 if one.instrument == "tape" else 3)
    told = {key: one.reply(key) for key in one.choices}
    assert len({reply.message for reply in told.values()}) == len(told)
    for key, reply in told.items():
        assert reply.right == (key == one.fault)
        assert reply.message.startswith(("Yes. ",) if reply.right else ("Not this. ", "Not so. "))
        assert re.search(r"\d", reply.message)
        if one.fault != SOUND:
            side = "large" if one.adds_cm > 0 else "small"
            assert f"about {abs(one.adds_cm):.1f} cm too {side}" in reply.message
        if not reply.right:
            where = SIGHTS[one.fault].where if one.fault != SOUND else "every part"
            assert where in reply.message
    assert one.reply(None).message == "Choose an answer first."
    assert not one.reply(None).right


def test_words_do_not_tell_the_answer_before(rounds: list[PictureRound]) -> None:
    """The question is the same for every fault."""
    asked = {(r.instrument, re.sub(r"\d+ cm", "d", r.question)) for r in rounds}
    assert len(asked) == 2
    assert len({one.text(one.fault) for one in rounds}) == len(SIGHTS) + 2


def test_a_choice_that_was_not_offered_is_refused(rounds: list[PictureRound]) -> None:
    """A key of another instrument, or of nothing, is refused with what was offered."""
    one = next(r for r in rounds if r.instrument == "tape")
    for key in ("beam slope", "", "ghost"):
        with pytest.raises(MeasureError, match="expected one of: "):
            one.reply(key)
