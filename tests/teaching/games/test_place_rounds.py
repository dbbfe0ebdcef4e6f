"""Where would you measure?: decks that never repeat, rounds for ever, rules, costs."""

from __future__ import annotations

import hashlib
import math
from dataclasses import replace
from itertools import pairwise

import pytest

from mensura.checks import ChoiceError, MeasureError
from mensura.estimates.place_rules import SITUATIONS
from mensura.estimates.place_said import UNSOURCED
from mensura.sources import SOURCES
from mensura.stems.wrapped import belt_cm
from mensura.teaching.games.place_deck import EDITION, MOST_ROUNDS, place_round
from mensura.teaching.games.place_kinds import KINDS, SQUARE_LAW
from mensura.teaching.games.place_rounds import (
    BROKEN,
    NEAR_M,
    ONLY_LISTS,
    OTHER_MANUAL,
    Placed,
    PlaceRound,
)
from mensura.teaching.games.place_scene import EACH, LEVEL, MEAN, ONE, Law, Spot

#: Of the numbers of 200 rounds: edition → digest. An edition that was given out never changes.
DIGESTS = {1: "6ff91def31c7a8a15dec962d"}


def numbers(one: PlaceRound) -> str:
    """What a round is: its kind and all that was drawn."""
    stem = one.stem
    drawn = [stem.diameter_cm, stem.at_m, stem.taper_cm_per_m, stem.lean_deg, stem.slope_deg]
    drawn += [stem.litter_cm, stem.roots_cm, one.nought_m]
    parts = [
        sorted(vars(part).items()) for part in (stem.fork, stem.swelling, stem.buttress) if part
    ]
    told = [f"{number:.4f}" for number in drawn]
    return f"{one.number} {one.kind.key} {told} {parts} {one.mirrored}"


def rounds(count: int, code: str = "Q07") -> list[PlaceRound]:
    return [place_round(code, number) for number in range(1, count + 1)]


def spots(one: PlaceRound) -> list[tuple[Spot, bool]]:
    kept = [(spot, True) for spot in one.scene.kept]
    return kept + [(spot, False) for spot in one.scene.broken]


def of_kind(kind: str, code: str = "Q07") -> PlaceRound:
    return next(one for one in rounds(2 * len(KINDS), code) if one.kind.key == kind)


# ---- which round -------------------------------------------------------------------------------


@pytest.mark.parametrize("edition", range(1, EDITION + 1))
def test_rounds_are_for_ever(edition) -> None:
    """The numbers of 100 rounds of two codes are what they were when the edition came out."""
    told = "\n".join(
        numbers(place_round(code, number, edition))
        for code in ("Q07", "page")
        for number in range(1, 101)
    )
    assert hashlib.blake2b(told.encode(), digest_size=12).hexdigest() == DIGESTS[edition]


@pytest.mark.parametrize("code", ["Q07", "q07", "page"])
def test_neighbours_differ_and_each_deck_has_all(code) -> None:
    """No kind follows itself, also from one deck to the next, and each deck is one of each."""
    kinds = [one.kind.key for one in rounds(40 * len(KINDS), code)]
    assert all(first != second for first, second in pairwise(kinds))
    for deck in range(40):
        dealt = kinds[deck * len(KINDS) : (deck + 1) * len(KINDS)]
        assert sorted(dealt) == sorted(KINDS)


def test_no_two_rounds_are_alike() -> None:
    """As far as rounds go, no kind comes twice with the same stem and scale; codes differ."""
    # what the claim rests on: two coprime cycles, longer together than there are decks
    from mensura.teaching.games import place_deck

    across, scale = place_deck._ACROSS_STEPS, place_deck._SCALE_STEPS
    assert math.lcm(across, scale) > MOST_ROUNDS / len(KINDS)
    seen = [
        [place_deck._step("Q07", 1, "slope", what, visit, steps) for visit in range(steps + 1)]
        for what, steps in (("across", across), ("scale", scale))
    ]
    for drawn in seen:
        assert len(set(drawn)) == len(drawn) - 1
        assert drawn[0] == drawn[-1]
    # and seen on some hundred
    told = [numbers(one).partition(" ")[2] for one in rounds(400)]
    assert len(set(told)) == len(told)
    assert [numbers(one) for one in rounds(20)] != [numbers(one) for one in rounds(20, "Q08")]


@pytest.mark.parametrize("number", [0, MOST_ROUNDS + 1, 1.5, "one", True])
def test_what_is_no_number_of_a_round(number) -> None:
    """It is refused by name."""
    with pytest.raises(MeasureError, match="number"):
        place_round("Q07", number)


# ---- rules -------------------------------------------------------------------------------------


def test_every_law_is_a_rule_of_its_situation() -> None:
    """And says who says so: a source of the bibliography, or the mark."""
    known = set(SITUATIONS)
    laws = {SQUARE_LAW}
    for one in rounds(3 * len(KINDS)):
        assert one.kind.situation in known
        for spot, _ in spots(one):
            laws |= {spot.law} | ({spot.view} if spot.view else set())
    assert len(laws) > 20
    for law in laws:
        assert all(said.key in SOURCES for said in law.rule.said)
        assert law.rule.words in law.told
        assert law.rule.said or UNSOURCED in law.told
    with pytest.raises(KeyError):
        _ = Law("slope", "Nobody says so").rule


@pytest.mark.parametrize("code", ["Q07", "Q11", "page"])
def test_every_spot_is_replied_to_as_what_it_is(code) -> None:
    """A kept one is right, a broken one is not and says what was done, in every kind of round."""
    for one in rounds(6 * len(KINDS), code):
        for spot, kept in spots(one):
            placed = one.placed_at(spot)
            one.checked(placed)
            told = one.reply(placed)
            assert told.right is kept, (one.kind.key, spot.how)
            only_lists = ONLY_LISTS if spot.law.only_of_lists else BROKEN
            opens = "Kept" if kept else OTHER_MANUAL if spot.view else only_lists
            assert told.message.startswith(f"{opens}: ")
            assert spot.law.rule.words in told.message
            assert spot.view is None or spot.view.told in told.message
            if not kept:
                assert f"you measured {spot.how}" in told.message
                assert one.scene.kept[0].how in told.message


#: Views of other manuals that are no spot of their own in any round: how they begin, and why.
NO_SPOT = {
    "About 1 per cent": "of a figure, not of a place",
    "Stems above buttresses": "of a figure, not of a place",
    "From the point where the seed": "half-way, by another name",
    "The strongest stem alone": "bands go round one, or each",
    "The girth of a circle": "of a figure, not of a place",
    "The largest, and half": "of a figure, not of a place",
    "The sum of the diameters": "of a figure, not of a place",
    "Above a burl or canker, and the diameter": "the place of those directly above a whorl",
    "The narrowest place below": "the place of those just below a whorl",
    "Over them": "of flutes, not of buttresses",
}


def test_followers_of_other_manuals_are_told_which_and_not_that_they_are_wrong() -> None:
    """Every view that the page sets against its rules is a spot, or is no place; the reply at it
    names the manual, the rule here and the cost."""
    views: dict[str, set[str]] = {}
    for code in ("Q07", "Q08", "page"):
        for one in rounds(3 * len(KINDS), code):
            met = views.setdefault(one.kind.situation, set())
            for spot in one.scene.broken:
                if spot.view is None:
                    continue
                met.add(spot.view.rule.words)
                told = one.reply(one.placed_at(spot)).message
                assert "Broken" not in told
                assert spot.view.told in told
                assert "The rule here is another" in told
                assert "sectional area" in told
    for situation, met in views.items():
        for differ in SITUATIONS[situation].disagreements:
            for view in differ.others:
                exempt = any(view.words.startswith(opens) for opens in NO_SPOT)
                assert exempt is not (view.words in met), (situation, view.words)


def test_what_only_lists_have_is_not_told_as_broken() -> None:
    """Beside raised roots we read no survey's rule."""
    one = of_kind("raised-roots")
    for placed in (one.placed_at(one.scene.broken[0]), Placed(one.right.scale_m + 0.3)):
        assert one.reply(placed).message.startswith(ONLY_LISTS)


def test_a_whorls_rule_is_not_quoted_for_a_wound() -> None:
    """Who speaks of wounds is named at a wound, at every place."""
    one = of_kind("wound")
    for spot, _ in spots(one):
        assert "ound" in spot.law.rule.words
        assert "burl" not in one.reply(one.placed_at(spot)).message


def test_as_near_as_a_scale_is_read() -> None:
    """3 cm off are meant as right; 4 cm are not, unless the place is another one that is told."""
    one = of_kind("plain")
    right = one.right.scale_m
    for off, holds in ((NEAR_M - 0.001, True), (-NEAR_M + 0.001, True), (0.034, False)):
        assert one.reply(Placed(right + off)).right is holds
    assert "3 cm above where it should" in one.reply(Placed(right + 0.034)).message
    assert "20 cm below where it should" in one.reply(Placed(right - 0.2)).message


def test_one_stem_or_two() -> None:
    """Below, on and above a fork as many bands as there are stems; the reply says which is off."""
    below = of_kind("fork-below")
    told = below.reply(replace(below.right, bands=ONE)).message
    assert "two stems as one" in told
    assert "two stems are taken as one" in below.reply(Placed(below.right.scale_m + 0.3)).message
    above = of_kind("fork-above")
    # a band round each stem, where there is one, is the same band
    assert above.reply(replace(above.right, bands=EACH)).right
    fork = above.stem.fork
    assert fork is not None
    higher = Placed(above.scale_m(fork.at_m + 0.2), bands=EACH)
    assert "two stems, above the fork" in above.reply(higher).message
    assert "above the fork, and the stem below" in above.reply(replace(higher, bands=ONE)).message


def test_two_bands_and_their_mean() -> None:
    """Clear of a whorl and alike off breast height it is right; else the reply says what is not."""
    one = of_kind("whorl")
    right = one.right
    assert right.bands == MEAN
    assert right.second_m is not None
    assert one.reply(right).right
    on_it = replace(right, scale_m=one.scale_m(1.3))
    assert "still lies on the whorl" in one.reply(on_it).message
    uneven = replace(right, scale_m=right.scale_m + 0.2)
    assert "10 cm above 1.3 m" in one.reply(uneven).message
    # on an even stem the mean of two is as good as one
    plain = of_kind("plain")
    two = Placed(plain.right.scale_m + 0.2, plain.right.scale_m - 0.2, MEAN)
    assert plain.reply(two).right


def test_level_counts_only_where_a_stem_leans() -> None:
    """On an upright stem level is square."""
    plain, lean = of_kind("plain"), of_kind("lean")
    assert plain.reply(replace(plain.right, held=LEVEL)).right
    told = lean.reply(replace(lean.right, held=LEVEL))
    assert not told.right
    assert SQUARE_LAW.rule.words in told.message


@pytest.mark.parametrize(
    ("placed", "error", "said"),
    [
        (Placed(9.0), MeasureError, "scale_m"),
        (Placed(float("nan")), MeasureError, "scale_m"),
        (Placed(1.0, 9.0, MEAN), MeasureError, "scale_m"),
        (Placed(1.0, bands="three"), ChoiceError, "bands"),
        (Placed(1.0, held="aslant"), ChoiceError, "held"),
    ],
)
def test_what_is_no_placing(placed, error, said) -> None:
    """It is refused by name, and nothing is replied."""
    with pytest.raises(error, match=said):
        of_kind("plain").reply(placed)


# ---- costs -------------------------------------------------------------------------------------


def test_the_cost_of_downhill_in_closed_form() -> None:
    """Off by D tan β, times the taper (sources.md 9.05: theory)."""
    for one in (of_kind("slope", code) for code in ("Q07", "Q08", "Q09")):
        stem = one.stem
        downhill = one.placed_at(one.scene.broken[0])
        drop_m = stem.diameter_cm / 100 * math.tan(math.radians(stem.slope_deg))
        at_rule = stem.diameter_at_cm(stem.along_m(1.3))
        thicker = 1 + stem.taper_cm_per_m * drop_m / at_rule
        # to the centimetre of the scale
        assert one.cost_percent(downhill) == pytest.approx(100 * (thicker**2 - 1), abs=0.15)


def test_the_cost_of_a_level_band_in_closed_form() -> None:
    """The ellipse's perimeter by the elliptic integral, of the cone cut level (theory)."""
    from scipy.special import ellipe

    one = of_kind("lean")
    lean = math.radians(one.stem.lean_deg)
    # with no taper: long axis 1/cos λ of the short one
    ratio = math.cos(lean)
    perimeter = 2 / math.pi / ratio * ellipe(1 - ratio**2)
    even = replace(one.scene, stem=replace(one.stem, taper_cm_per_m=0.0))
    flat = PlaceRound(one.code, one.number, one.kind, even, one.nought_m, one.mirrored)
    level = replace(flat.right, held=LEVEL)
    assert flat.cost_percent(level) == pytest.approx(100 * (perimeter**2 - 1), abs=1e-6)


def test_the_cost_of_two_as_one_by_the_belt() -> None:
    """A taut band round two circles, where the legs stand upright side by side."""
    one = of_kind("fork-below")
    fork = one.stem.fork
    assert fork is not None
    upright = replace(one.stem, fork=replace(fork, spread_deg=(0.0, 0.0)))
    scene = replace(one.scene, stem=upright)
    flat = PlaceRound(one.code, one.number, one.kind, scene, one.nought_m, one.mirrored)
    first, second = fork.leg_diameters_cm
    girth = belt_cm(first, second, fork.gap_cm)
    wanted = (girth / math.pi) ** 2 / (first**2 + second**2) - 1
    cost = flat.cost_percent(replace(flat.right, bands=ONE))
    assert cost == pytest.approx(100 * wanted, abs=1e-6)


def test_the_cost_is_told_with_what_is_read() -> None:
    """Both girths, and by how much the area is off, to a tenth of a per cent."""
    one = of_kind("snow")
    over = one.placed_at(one.scene.broken[0])
    told = one.reply(over).message
    assert f"You read {one.girths_cm(over)[0]:.1f} cm" in told
    assert f"by the rule {one.girths_cm(one.right)[0]:.1f} cm" in told
    assert f"{-one.cost_percent(over):.1f} % less" in told


# ---- what is told beforehand -------------------------------------------------------------------


def test_nothing_tells_the_answer() -> None:
    """Neither question nor facts name the place, on the scale or in words."""
    for one in rounds(2 * len(KINDS)):
        told = " ".join((one.question, *one.facts))
        for spot, _ in spots(one):
            assert spot.how not in told
        shown = {f"{one.right.scale_m:.2f}"}
        marked = {f"{one.scale_m(end):.2f}" for m in one.scene.marks for end in (m.low_m, m.high_m)}
        for number in shown - marked:
            assert number not in told
        # and all that the rules hang on is told: where the soil is, how the stem stands
        assert "The soil meets the stem" in told
        # where the band lies at first is right in no round
        assert not one.reply(Placed(one.start_m)).right
