"""What went wrong: the accepted causes against a search over the physics, and what is replied."""

from __future__ import annotations

import math
import re
from collections import Counter

import numpy as np
import pytest

from mensura.checks import FloatArray, MeasureError
from mensura.instruments import Lay, Tape
from mensura.stems import circle
from mensura.teaching.games.causes import CAUSES, Evidence, fits
from mensura.teaching.games.wrong_readings import LEAST_CM, OFFERED, Round, wrong_reading

SEEDS = range(300)


@pytest.fixture(scope="session")
def rounds() -> list[Round]:
    """The first 300 rounds, drawn once, and only if a test wants them."""
    return [wrong_reading(seed) for seed in SEEDS]


@pytest.fixture(scope="session")
def first_edition() -> list[Round]:
    """The same seeds in the game's first edition, which knew of no band that shrinks."""
    return [wrong_reading(seed, 1) for seed in SEEDS]


#: How wide "about" is, and the other bounds, written out again.
ABOUT = (0.85, 1.15)
TWO_READINGS_CM = 0.15
STRETCH_PERCENT = {
    "cloth": (0.3, 2.0),
    "reinforced cloth": (0.1, 0.6),
    "fibreglass": (0.05, 0.3),
    "plastic": (0.1, 0.5),
    "steel": (0.005, 0.02),
    "stainless steel": (0.005, 0.02),
}
SHRINK_PERCENT = {"cloth": (0.5, 3.0), "reinforced cloth": (0.2, 1.0)}
EXPANSION_PER_C = {
    "fibreglass": (8e-6, 36e-6),
    "plastic": (50e-6, 180e-6),
    "steel": (11.5e-6, 12e-6),
    "stainless steel": (10e-6, 18e-6),
}


def spread(ends: tuple[float, float]) -> FloatArray:
    """Four hundred sizes between two ends, both of them among these."""
    return np.linspace(*sorted(ends), 401)


def about(size: float) -> FloatArray:
    return spread((size * ABOUT[0], size * ABOUT[1]))


def rise_deg(rise_cm: float, evidence: Evidence) -> FloatArray:
    return np.degrees(np.arctan(about(rise_cm) / (evidence.girth_cm / math.pi)))


def search(e: Evidence) -> dict[str, tuple[Lay, Tape]]:
    """Every size that the evidence allows, and how band and lay then were; written anew here."""
    found: dict[str, tuple[Lay, Tape]] = {}
    if e.rise_cm:
        found["tilt"] = Lay(tilt_deg=rise_deg(e.rise_cm, e)), Tape()
    if e.wander_cm:
        found["wander"] = Lay(wander_cm=about(e.wander_cm)), Tape()
    if e.twist_lift_cm:
        found["twist"] = Lay(twist_lift_cm=about(e.twist_lift_cm)), Tape()
    if e.unfelt:
        found["slack"] = Lay(slack_cm=spread((0.3, 3.0))), Tape()
    if e.climber_cm:
        found["climber"] = Lay(climber_cm=about(e.climber_cm)), Tape()
    if e.knot_cm:
        found["knot"] = Lay(knot_cm=about(e.knot_cm)), Tape()
    if e.soft_bark:
        found["pressing"] = Lay(press_cm=spread((0.05, 0.3))), Tape()
    if e.height_off_m:
        height = Lay(height_off_m=about(e.height_off_m), taper_cm_per_m=e.taper_cm_per_m)
        found["height"] = height, Tape()
    if e.seasons:
        found["stretch"] = Lay(), Tape(stretch_percent=spread(STRETCH_PERCENT[e.material]))
    if e.seasons and e.material in SHRINK_PERCENT:
        found["shrinking"] = Lay(), Tape(shrink_percent=spread(SHRINK_PERCENT[e.material]))
    if e.material in EXPANSION_PER_C:
        expansion = spread(EXPANSION_PER_C[e.material])
        warm = Tape(temperature_c=e.temperature_c, expansion_per_c=expansion)
        found["temperature"] = Lay(), warm
    if e.worn_start_cm:
        lost = spread((e.worn_start_cm - 0.1, e.worn_start_cm + 0.1))
        found["worn start"] = Lay(), Tape(worn_start_cm=lost)
    return found


def brute_force(evidence: Evidence) -> set[str]:
    """Causes of which some allowed size gives the difference, to the two readings' accuracy."""
    stem = circle(evidence.girth_cm / math.pi)
    off = evidence.reading_cm - evidence.girth_cm
    found = set()
    for cause, (lay, tape) in search(evidence).items():
        told = tape.read(stem, lay)
        if np.min(np.abs(told.reading_cm - told.taut_girth_cm - off)) <= TWO_READINGS_CM:
            found.add(cause)
    return found


def test_rounds_are_drawn_from_their_seed(rounds: list[Round]) -> None:
    """The same seed is the same round, another seed another one."""
    assert [wrong_reading(seed) for seed in range(12)] == rounds[:12]
    assert len({(r.title, r.evidence) for r in rounds}) == len(rounds)


def test_rounds_never_change(first_edition: list[Round]) -> None:
    """The first rounds as they were when they were made: a class's notes stay true."""
    told = [(r.drawn, r.evidence.girth_cm, r.evidence.reading_cm) for r in first_edition[7:10]]
    assert told == [
        ("knot", 102.3, 103.7),
        ("twist", 176.2, 176.7),
        ("stretch", 141.3, 141.0),
    ]


def test_every_cause_is_drawn(rounds: list[Round]) -> None:
    """Over many rounds each of the twelve causes is the hidden one, none nearly always."""
    drawn = Counter(r.drawn for r in rounds)
    assert set(drawn) == set(CAUSES)
    assert min(drawn.values()) >= 10
    assert max(drawn.values()) <= 60


@pytest.mark.parametrize("seed", SEEDS)
def test_accepted_is_what_a_search_finds(rounds: list[Round], seed: int) -> None:
    """The drawn cause fits; not all do; what is accepted is what brute force over sizes finds."""
    one = rounds[seed]
    assert len(one.choices) == OFFERED
    assert one.drawn in one.accepted
    assert 1 <= len(one.accepted) <= 2
    found = brute_force(one.evidence)
    # a cause that may have been, but was not offered, would be an answer withheld
    assert found == set(one.accepted)
    assert abs(one.evidence.off_cm) >= LEAST_CM


def test_the_first_edition_too(first_edition: list[Round]) -> None:
    """There the same search holds, but for the cause that the edition does not know."""
    assert "shrinking" not in {key for one in first_edition for key in one.choices}
    for one in first_edition:
        assert brute_force(one.evidence) - {"shrinking"} == set(one.accepted)


def test_a_cloth_band_that_reads_too_much_may_have_shrunk(rounds: list[Round]) -> None:
    """Wherever an unchecked cloth band reads too much by what wet can do, shrinking is accepted."""
    seen = 0
    for one in rounds:
        e = one.evidence
        if not e.seasons or e.material not in SHRINK_PERCENT or e.off_cm <= 0:
            continue
        low, high = SHRINK_PERCENT[e.material]
        could = e.girth_cm / (1 - low / 100) <= e.reading_cm <= e.girth_cm / (1 - high / 100)
        seen += could
        assert ("shrinking" in one.accepted) >= could
        if "stretch" in one.choices:
            assert "that has stretched" in one.reply("stretch").message
    assert seen >= 20


@pytest.mark.parametrize("seed", SEEDS)
def test_every_choice_is_answered_with_reason(rounds: list[Round], seed: int) -> None:
    """Each reply has a number and its own words, and says whether the choice holds."""
    one = rounds[seed]
    told = {key: one.reply(key) for key in one.choices}
    assert len({reply.message for reply in told.values()}) == len(told)
    for key, reply in told.items():
        assert reply.right == (key in one.accepted)
        assert reply.message.startswith("Yes. " if reply.right else "Not this. ")
        assert re.search(r"\d", reply.message)
        assert f"{abs(one.evidence.off_cm):.1f} cm" in reply.message
        assert reply.message.endswith(".")
    assert one.reply(None).message == "Choose a cause first."
    assert not one.reply(None).right


def test_realistic_sizes(rounds: list[Round], first_edition: list[Round]) -> None:
    """Stems one can meet, readings to a millimetre, differences that a class has seen.

    The largest is a wander of 8 cm on a thin stem.
    """
    for one in (*rounds, *first_edition):
        e = one.evidence
        assert 80 <= e.girth_cm <= 200
        assert LEAST_CM <= abs(e.off_cm) < 0.09 * e.girth_cm
        assert e.reading_cm == pytest.approx(round(e.reading_cm, 1))
        assert -10 <= e.temperature_c <= 45


def test_the_question_states_what_is_needed(rounds: list[Round]) -> None:
    """Both measurements and the side stand in the question; nothing of the cause does."""
    for one in rounds:
        e = one.evidence
        for part in (f"{e.reading_cm:.1f} cm", f"{e.girth_cm:.1f} cm", f"{abs(e.off_cm):.1f} cm"):
            assert part in one.question
        assert ("too large" in one.question) == (e.off_cm > 0)
        assert CAUSES[one.drawn].text not in one.question + " ".join(one.lines)


def test_what_speaks_for_a_cause_stands_in_the_evidence(rounds: list[Round]) -> None:
    """Each size that the physics uses can be read in the lines."""
    for one in rounds:
        e, text = one.evidence, " ".join(one.lines)
        sizes = (e.rise_cm, e.wander_cm, e.twist_lift_cm, e.knot_cm, e.climber_cm)
        for size in (*sizes, e.worn_start_cm):
            if size:
                assert f"{size:g} cm" in text
        if e.height_off_m:
            side = "above" if e.height_off_m > 0 else "below"
            assert f"{abs(100 * e.height_off_m):.0f} cm {side} the one" in text
        assert f"{e.taper_cm_per_m:g} cm of diameter" in text
        assert f"Band: {e.material}" in text
        assert ("soft" in text) == e.soft_bark
        assert ("never checked" in text) == bool(e.seasons)


#: Each way of being wrong, on a stem of 125.7 cm: (cause, evidence, what the reply must hold).
OBJECTIONS = [
    ("climber", {"climber_cm": 2.0}, -1.0, "makes a reading too large"),
    ("climber", {"climber_cm": 2.0}, 8.0, "times too little"),
    ("climber", {"climber_cm": 3.0}, 0.4, "times too much"),
    ("climber", {}, 1.0, "No climber is near"),
    ("temperature", {"temperature_c": -5.0}, 1.0, "times too little"),
    ("temperature", {"temperature_c": 40.0}, 1.0, "makes a reading too small"),
    ("temperature", {"temperature_c": 40.0, "material": "cloth"}, -1.0, "No source says"),
    ("pressing", {"soft_bark": True}, 1.0, "makes a reading too small"),
    ("height", {"height_off_m": 0.3}, 0.9, "makes a reading too small"),
    ("stretch", {"seasons": 5}, -1.0, "times too little"),
    ("shrinking", {"seasons": 5, "material": "cloth"}, -1.0, "makes a reading too large"),
    ("shrinking", {"seasons": 5}, 1.0, "Only cloth shrinks"),
    ("shrinking", {"material": "cloth"}, 1.0, "checked this week"),
    ("slack", {}, 1.0, "drawn taut"),
    ("worn start", {"worn_start_cm": 2.0}, 1.0, "times too much"),
]


@pytest.mark.parametrize(("cause", "seen", "off_cm", "words"), OBJECTIONS)
def test_objections(cause: str, seen: dict[str, object], off_cm: float, words: str) -> None:
    """A wrong side, too little, too much, nothing of the kind: each is said for what it is."""
    evidence = Evidence(125.7, 125.7 + off_cm, **seen)  # type: ignore[arg-type]
    one = Round(0, "Oak", evidence, (cause,), cause)
    assert not fits(cause, evidence)
    assert words in one.reply(cause).message


def test_a_steel_band_in_the_cold_by_hand() -> None:
    """25 °C below, 9.5 to 13.5e-6 per °C, 125.7 cm: 0.030 to 0.042 cm, 24 times less than 1 cm."""
    evidence = Evidence(125.7, 126.7, temperature_c=-5.0)
    low, high = CAUSES["temperature"].reach_cm(evidence) or (0.0, 0.0)
    assert low == pytest.approx(125.7 * 25 * 9.5e-6, rel=1e-3)
    assert high == pytest.approx(125.7 * 25 * 13.5e-6, rel=1e-3)
    one = Round(0, "Oak", evidence, ("temperature",), "temperature")
    assert (
        "+0.030 to +0.042 cm here: at least 24 times too little" in one.reply("temperature").message
    )


def test_a_thumb_thick_climber_by_hand() -> None:
    """2 cm against a stem of 40 cm: 1.17 cm by the two circles' outer tangents, so 1.2 fits."""
    reach = CAUSES["climber"].reach_cm(Evidence(40 * math.pi, 127, climber_cm=2.0))
    big, small = 20.0, 1.0
    beta = math.asin((big - small) / (big + small))
    straight = 2 * math.sqrt((big + small) ** 2 - (big - small) ** 2)
    taut = straight + big * (math.pi + 2 * beta) + small * (math.pi - 2 * beta)
    adds = taut - 40 * math.pi
    assert adds == pytest.approx(1.17, abs=0.005)
    assert reach is not None
    assert reach[0] < adds < reach[1]


def test_both_that_fit_are_named(rounds: list[Round]) -> None:
    """Where the evidence allows two causes, each is praised and the other named."""
    pairs = [r for r in rounds if len(r.accepted) == 2]
    assert pairs
    for one in pairs:
        first, second = one.accepted
        assert f"allows one more: {CAUSES[second].text}" in one.reply(first).message
        assert f"allows one more: {CAUSES[first].text}" in one.reply(second).message


def test_refusals(rounds: list[Round]) -> None:
    """Unknown causes, causes that were not offered, and impossible evidence are refused."""
    with pytest.raises(MeasureError, match="expected one of: tilt"):
        fits("ghost", Evidence(120, 121))
    missing = next(key for key in CAUSES if key not in rounds[0].choices)
    with pytest.raises(MeasureError, match="expected one of: "):
        rounds[0].reply(missing)
    with pytest.raises(MeasureError, match="girth_cm"):
        Evidence(-1, 120)
    with pytest.raises(MeasureError, match="material is 'string'"):
        Evidence(120, 121, material="string")
    with pytest.raises(MeasureError, match="a cause that the evidence allows"):
        CAUSES["knot"].adds_cm(Evidence(120, 121), 50)
