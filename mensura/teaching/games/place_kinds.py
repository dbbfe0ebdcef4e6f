"""The situations of the game *where would you measure?*: what is drawn, and what is right there.

A kind of round is a row: from a round's draws it makes a stem in space, says which places keep a
rule and which break one, and of the broken ones how they come about. All stems are invented. The
rules' words and sources are those of the situations (`estimates/place_rules.py`).
"""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from types import MappingProxyType

from mensura.estimates.place_readings import ABOVE_BUTTRESS_M
from mensura.stems.standing import Buttress, Fork, StemInSpace, Swelling
from mensura.teaching.games.place_scene import (
    BREAST_HEIGHT_M,
    BUTT_CLEAR_M,
    EACH,
    LITTER,
    MEAN,
    ONE,
    SNOW,
    Law,
    Mark,
    Scene,
    Spot,
    at,
)
from mensura.teaching.games.round_draws import Draws


@dataclass(frozen=True, eq=False)
class Kind:
    """A kind of round.

    key: its name; situation: key of the situation it belongs to; told: the stem in words, without
    the answer; scene: what is drawn, from a round's draws and the stem's diameter in cm; since: the
    edition in which it came into the game.
    """

    key: str
    situation: str
    told: str
    scene: Callable[[Draws, float], Scene]
    since: int = 1


BH = BREAST_HEIGHT_M
_SOIL = "1.3 m along the stem from the soil"

_HEIGHT = Law("breast-height", "Most countries take 1.30 m")
_CHEST = Law("breast-height", "Find the height with a stick")
_UPHILL = Law("slope", "Breast height is taken on the uphill side")
_HALFWAY = Law("slope", "Half-way between")
_LITTER = Law("ground", "Clear needles and leaves")
_DUFF = Law("ground", "Yes: the duff")
_SNOW = Law("water-or-snow", "Breast height counts from the soil")
_ALONG = Law("lean-along", "Breast height is measured along the stem")
_UPPER = Law("lean-side", "Where a stem leans, the upper side")
_TOWARDS = Law("lean-side", "The side of the lean")
_MIDWAY = Law("lean-side", "Midway between both sides")
_LEAN_UPHILL = Law("lean-side", "On sloping ground the uphill side")
_TWO = Law("fork-below", "A fork below breast height makes two trees")
_NARROWEST = Law("fork-below", "One tree: the narrowest girth")
_ONE_AT = Law("fork-at", "A fork at or above breast height")
_DOWN_AT = Law("fork-at", "If the fork is close to breast height")
_ONE_ABOVE = Law("fork-above", "A fork above breast height leaves one tree")
_DOWN_ABOVE = Law("fork-above", "Close above breast height")
_SHOOTS = Law("several-stems", "Each shoot is a stem")
_ONE_METRE = Law("fork-below", "At breast height if the fork begins below 30 cm")
_OFF_FORK = Law("fork-below", "30 cm above the fork's base")
_EITHER = Law("swelling", "At branches, burls and overgrown wounds")
_ABOVE = Law("swelling", "Directly above a bulge or whorl")
_HIGHER = Law("swelling", "Above it (one network")
_NEAR = Law("swelling", "Up or down as little as possible")
_DOWN = Law("swelling", "Up to a clear round place")
_30_ABOVE = Law("swelling", "30 cm above a deformity")
_DEFORMED = Law("wound", "A wound is a deformation")
_OVERGROWN = Law("wound", "At an overgrown wound")
_BUTT = Law("butt-swell", "At least 1.5 feet")
_BUTT_30 = Law("butt-swell", "30 cm above its end")
_BUTTRESS = Law("buttress", "50 cm above them")
_ROUND_BOLE = Law("buttress", "Where the round bole begins")
_BUTTRESS_30 = Law("buttress", "30 cm above their end")
_BUTTRESS_100 = Law("buttress", "About 1 m above their end")
_ROOTS = Law("raised-roots", "Begin where the mass of roots ends")

#: What is broken by a band that is held level on a stem that leans.
SQUARE_LAW = Law("lean-square", "The tape is held perpendicular")


def _taper(draw: Draws) -> float:
    return draw.between("taper_cm_per_m", 0.8, 2.4, 0.1)


def _plain(draw: Draws, across: float) -> Scene:
    stem = StemInSpace(across, BH, _taper(draw))
    return Scene(
        stem,
        (at(stem.along_m(BH, "middle"), _SOIL, _HEIGHT),),
        (
            at(1.48, "at your own chest, which is 1.48 m high", _CHEST),
            at(1.15, "where the arm is comfortable, at 1.15 m", _CHEST),
            at(1.37, "at the USA's breast height, 1.37 m", _HEIGHT, _HEIGHT),
        ),
    )


def _slope(draw: Draws, across: float) -> Scene:
    slope = draw.between("slope_deg", 18, 34, 1)
    stem = StemInSpace(across, BH, _taper(draw), slope_deg=slope)
    downhill, middle = (stem.along_m(BH, side) for side in ("downhill", "middle"))
    return Scene(
        stem,
        (at(stem.along_m(BH, "uphill"), f"{_SOIL} on the uphill side", _UPHILL),),
        (
            at(downhill, f"{_SOIL} on the downhill side", _UPHILL),
            at(middle, "1.3 m from half-way between uphill and downhill", _UPHILL, _HALFWAY),
        ),
        high_m=2.3,
    )


def _covered(
    cover: str, least_cm: float, greatest_cm: float, law: Law, view: Law | None
) -> Callable[[Draws, float], Scene]:
    def scene(draw: Draws, across: float) -> Scene:
        deep_cm = draw.between("cover_cm", least_cm, greatest_cm, 1)
        stem = StemInSpace(across, BH, _taper(draw), litter_cm=deep_cm)
        over = stem.along_m(BH, "middle", above="litter")
        return Scene(
            stem,
            (at(stem.along_m(BH, "middle"), f"{_SOIL}, under the {cover}", law),),
            (at(over, f"1.3 m from the top of the {cover}", law, view),),
            cover=cover,
            high_m=2.2 + deep_cm / 100,
        )

    return scene


def _lean(draw: Draws, across: float) -> Scene:
    lean = draw.between("lean_deg", 14, 22, 1)
    stem = StemInSpace(across, BH, _taper(draw), lean_deg=lean)
    middle, under = (stem.along_m(BH, side) for side in ("middle", "under"))
    plumb, under_plumb = (stem.along_m(BH, side, plumb=True) for side in ("upper", "under"))
    return Scene(
        stem,
        (at(stem.along_m(BH, "upper"), f"{_SOIL} on the upper side", _UPPER),),
        (
            at(under, f"{_SOIL} on the side that it leans to", _UPPER, _TOWARDS),
            at(middle, "1.3 m from half-way between both sides", _UPPER, _MIDWAY),
            at(plumb, "1.3 m plumb above the soil", _ALONG),
            at(under_plumb, "1.3 m plumb above the soil on the side that it leans to", _ALONG),
        ),
        high_m=2.1,
    )


def _lean_downhill(draw: Draws, across: float) -> Scene:
    slope = draw.between("slope_deg", 24, 34, 1)
    lean = draw.between("lean_deg", 8, 12, 1)
    stem = StemInSpace(across, BH, _taper(draw), lean_deg=lean, slope_deg=slope)
    uphill, downhill = (stem.along_m(BH, side) for side in ("uphill", "downhill"))
    middle, half_way = stem.along_m(BH, "middle"), "1.3 m from half-way between uphill and downhill"
    return Scene(
        stem,
        (at(uphill, f"{_SOIL} on the uphill side", _LEAN_UPHILL),),
        (
            at(downhill, f"{_SOIL} on the downhill side", _LEAN_UPHILL),
            at(middle, half_way, _LEAN_UPHILL, _HALFWAY),
        ),
        high_m=2.2,
    )


def _forked(
    draw: Draws,
    across: float,
    at_m: float,
    shares: tuple[float, float],
    flare: Swelling | None = None,
) -> StemInSpace:
    """A stem whose diameter is told at its fork, with legs of a share of it each, to the mm."""
    first, second = (
        round(across * draw.between(name, *shares, 0.01), 1) for name in ("first", "second")
    )
    spread = (draw.between("first_deg", 4, 8, 1), draw.between("second_deg", 4, 8, 1))
    fork = Fork(at_m, (first, second), draw.between("gap_cm", 0, 3, 0.5), spread)
    return StemInSpace(across, at_m, _taper(draw), fork=fork, swelling=flare)


def _fork_below(draw: Draws, across: float) -> Scene:
    fork_m = draw.between("fork_m", 0.55, 0.9, 0.01)
    stem = _forked(draw, across, fork_m, (0.62, 0.8))
    return Scene(
        stem,
        (at(BH, f"two stems, each {_SOIL}", _TWO, bands=EACH),),
        (
            at(BH, "two stems as one, under one band", _TWO),
            Spot(0.1, fork_m, ONE, "one stem, below its fork", _TWO, _NARROWEST),
            at(fork_m + 1.0, "two stems, each 1 m above the fork", _TWO, _ONE_METRE, EACH),
            at(fork_m + 0.3, "two stems, each 30 cm above the fork", _TWO, _OFF_FORK, EACH),
        ),
    )


def _coppice(draw: Draws, across: float) -> Scene:
    fork_m = draw.between("fork_m", 0.08, 0.22, 0.01)
    stem = _forked(draw, across, fork_m, (0.4, 0.6))
    return Scene(
        stem,
        (at(BH, f"each shoot as a stem, {_SOIL}", _SHOOTS, bands=EACH),),
        (at(BH, "all shoots as one, under one band", _SHOOTS),),
    )


def _fork_above(draw: Draws, across: float) -> Scene:
    fork_m = draw.between("fork_m", 1.75, 2.0, 0.01)
    stem = _forked(draw, across, fork_m, (0.62, 0.8))
    return Scene(
        stem,
        (at(BH, f"one stem, {_SOIL}", _ONE_ABOVE),),
        (Spot(fork_m + 0.05, 2.6, EACH, "two stems, above the fork", _ONE_ABOVE),),
        high_m=2.6,
    )


def _fork_near(
    least_m: float, greatest_m: float, one: Law, down: Law
) -> Callable[[Draws, float], Scene]:
    def scene(draw: Draws, across: float) -> Scene:
        fork_m = draw.between("fork_m", least_m, greatest_m, 0.01)
        reach_m = draw.between("flare_m", 0.24, 0.32, 0.01)
        flare = Swelling(fork_m, draw.between("flare_percent", 14, 24, 1), reach_m)
        stem = _forked(draw, across, fork_m, (0.62, 0.78), flare)
        clear_m = fork_m - reach_m
        below = "one stem, below where the fork swells it, at most 50 cm down"
        return Scene(
            stem,
            (Spot(fork_m - 0.5, clear_m, ONE, below, down),),
            (
                Spot(clear_m, fork_m, ONE, "where the fork swells the stem", down),
                Spot(fork_m + 0.05, 2.3, EACH, "two stems, above the fork", one),
            ),
            (Mark("swollen", clear_m, fork_m),),
            high_m=2.3,
        )

    return scene


def _beside_whorl(low: float, high: float) -> tuple[tuple[Spot, ...], tuple[Spot, ...]]:
    """Beside a whorl one band alone is what other manuals have."""
    return (), (
        Spot(high, high + 0.12, ONE, "just above it", _EITHER, _ABOVE),
        Spot(high + 0.27, high + 0.33, ONE, "30 cm above it", _EITHER, _30_ABOVE),
        Spot(high + 0.12, high + 0.5, ONE, "well above it", _EITHER, _HIGHER),
        Spot(low - 0.12, low, ONE, "just below it", _EITHER, _NEAR),
        Spot(BH - 0.5, low - 0.12, ONE, "well below it, not more than 50 cm down", _EITHER, _DOWN),
    )


def _beside_wound(low: float, high: float) -> tuple[tuple[Spot, ...], tuple[Spot, ...]]:
    """Beside a wound one band alone is a rule as well."""
    return (
        Spot(high, high + 0.12, ONE, "just above it", _DEFORMED),
        Spot(low - 0.12, low, ONE, "just below it", _DEFORMED),
    ), ()


def _swollen(
    least: float,
    greatest: float,
    name: str,
    law: Law,
    beside: Callable[[float, float], tuple[tuple[Spot, ...], tuple[Spot, ...]]],
) -> Callable[[Draws, float], Scene]:
    def scene(draw: Draws, across: float) -> Scene:
        middle_m = BH + draw.between("off_m", -0.06, 0.06, 0.01)
        reach_m = draw.between("reach_m", 0.18, 0.26, 0.01)
        percent = draw.between("percent", least, greatest, 1)
        stem = StemInSpace(across, BH, _taper(draw), swelling=Swelling(middle_m, percent, reach_m))
        low, high = middle_m - reach_m, middle_m + reach_m
        both = "clear of it, as far above 1.3 m as below, and take the mean"
        kept, others = beside(low, high)
        return Scene(
            stem,
            (Spot(BH, BH, MEAN, both, law), *kept),
            (Spot(low, high, ONE, f"over the {name}", law), *others),
            (Mark(name, low, high),),
        )

    return scene


def _butt_swell(draw: Draws, across: float) -> Scene:
    end_m = draw.between("swell_m", 1.15, 1.5, 0.01)
    swell = Swelling(0.0, draw.between("swell_percent", 50, 90, 5), end_m)
    stem = StemInSpace(across, BH, _taper(draw), swelling=swell)
    clear_m = end_m + BUTT_CLEAR_M
    return Scene(
        stem,
        (Spot(clear_m, clear_m + 0.3, ONE, "at least 46 cm above where the swell ends", _BUTT),),
        (
            Spot(0.0, end_m, ONE, "over the swell", _BUTT),
            at(end_m + 0.3, "30 cm above where the swell ends", _BUTT, _BUTT_30),
            Spot(end_m, clear_m, ONE, "less than 46 cm above where the swell ends", _BUTT),
        ),
        (Mark("butt swell", 0.0, end_m),),
        high_m=2.8,
    )


def _buttress(draw: Draws, across: float) -> Scene:
    top_m = draw.between("top_m", 1.5, 2.3, 0.01)
    lobes, reach_cm = draw.pick("lobes", (3, 4, 5)), draw.between("reach_cm", 45, 80, 5)
    stem = StemInSpace(across, BH, _taper(draw), buttress=Buttress(lobes, reach_cm, top_m))
    above = "50 cm above where the buttresses end today, higher where they may grow to, and note it"
    clear_m = top_m + ABOVE_BUTTRESS_M
    return Scene(
        stem,
        (Spot(clear_m, clear_m + 0.3, ONE, above, _BUTTRESS),),
        (
            Spot(0.0, top_m - 0.01, ONE, "round the buttresses", _BUTTRESS),
            at(top_m + 0.3, "30 cm above their end", _BUTTRESS, _BUTTRESS_30),
            at(top_m + 1.0, "1 m above their end", _BUTTRESS, _BUTTRESS_100),
            Spot(top_m, top_m + 0.25, ONE, "where the round stem begins", _BUTTRESS, _ROUND_BOLE),
        ),
        (Mark("buttresses", 0.0, top_m),),
        high_m=top_m + 1.2,
    )


def _raised(draw: Draws, across: float) -> Scene:
    roots_cm = draw.between("roots_cm", 18, 42, 1)
    stem = StemInSpace(across, BH, _taper(draw), roots_cm=roots_cm)
    begins_m = stem.ground_m("middle", "roots")
    return Scene(
        stem,
        (at(begins_m + BH, "1.3 m from where the roots end and the stem begins", _ROOTS),),
        (at(stem.along_m(BH, "middle"), f"{_SOIL} below the raised roots", _ROOTS),),
        (Mark("raised roots", 0.0, begins_m),),
        high_m=2.2 + roots_cm / 100,
    )


def _kinds(*rows: Kind) -> Mapping[str, Kind]:
    return MappingProxyType({one.key: one for one in rows})


_AT = _fork_near(1.30, 1.30, _ONE_AT, _DOWN_AT)
_CLOSE = _fork_near(1.34, 1.46, _ONE_ABOVE, _DOWN_ABOVE)
_WHORL = _swollen(10, 22, "whorl", _EITHER, _beside_whorl)
_WOUND = _swollen(-22, -10, "wound", _OVERGROWN, _beside_wound)

#: The kinds of rounds. Those of an edition keep their ranges; what is added says since when.
KINDS: Mapping[str, Kind] = _kinds(
    Kind("plain", "breast-height", "It stands upright on level soil", _plain),
    Kind("slope", "slope", "It stands upright on a slope", _slope),
    Kind("litter", "ground", "Litter lies round it", _covered(LITTER, 10, 24, _LITTER, _DUFF)),
    Kind("snow", "water-or-snow", "It stands in snow", _covered(SNOW, 20, 45, _SNOW, None)),
    Kind("lean", "lean-side", "It leans, on level soil", _lean),
    Kind("lean-downhill", "lean-side", "It leans, on a slope", _lean_downhill),
    Kind("fork-below", "fork-below", "It forks", _fork_below),
    Kind("fork-at", "fork-at", "It forks", _AT),
    Kind("fork-near", "fork-above", "It forks", _CLOSE),
    Kind("fork-above", "fork-above", "It forks", _fork_above),
    Kind("coppice", "several-stems", "Two shoots stand on one stool", _coppice),
    Kind("whorl", "swelling", "A whorl of branches swells it", _WHORL),
    Kind("wound", "wound", "An overgrown wound has left it thinner", _WOUND),
    Kind("butt-swell", "butt-swell", "Its foot is swollen", _butt_swell),
    Kind("buttress", "buttress", "It stands on buttresses", _buttress),
    Kind("raised-roots", "raised-roots", "The soil is washed from its roots", _raised),
)
