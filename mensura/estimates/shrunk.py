"""A stem that is read smaller than years ago: what may have done it, each with its size.

Wood does not shrink from year to year, so a growth below nought is the readings' or the bark's.
Each cause has a usual size on a stem of this girth, computed from an assumption that is told beside
it, and a range. First stand those that can be all of it, the nearest usual size first, as a factor.
How often a cause happens is not said, since no source tells it: the list is in which order to look,
not a verdict.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import number, plain
from mensura.estimates.growth import SAME, Again, ReadingDoubts, least_growth

#: Standing beside a fact of the trade that no source is known for.
COMMON = "common practice, no source"


@dataclass(frozen=True)
class Cause:
    """What may make a second girth smaller than the first.

    key, words: what it is; size_cm: how much smaller it usually makes the girth, None where no
    figure is known to us; least_cm, most_cm: within which it may lie, None likewise; assumed: what
    the size stands for; source: where it is from; look: what tells it from the others; reaches:
    whether it can be all of it, the usual size or one within the range, None if not known.
    """

    key: str
    words: str
    size_cm: float | None
    least_cm: float | None
    most_cm: float | None
    assumed: str
    source: str
    look: str
    reaches: bool | None


def shrinking_causes(
    girth_cm: float,
    shrunk_cm: float,
    doubts: ReadingDoubts | None = None,
    again: Again = SAME,
) -> tuple[Cause, ...]:
    """Causes of a growth below nought, in the order to look for them, those of unknown size last.

    girth_cm: at the first reading, above 0, cm; shrunk_cm: first reading less second, above 0, cm:
    at least, for what has grown in between is hidden in it too; doubts, again: of the readings, for
    chance and for another hand or tape, which are left out where they are the same. Sources: in
    each cause; sizes without one are invented. Raises MeasureError.

    >>> [cause.key for cause in shrinking_causes(125.0, 0.6)][:4]
    ['chance', 'stretched', 'higher', 'moss-gone']
    """
    girth = float(number(girth_cm, "girth_cm", "cm", above=0.0, at_most=20000.0))
    shrunk = float(number(shrunk_cm, "shrunk_cm", "cm", above=0.0, below=girth))
    doubts = doubts or ReadingDoubts()
    chance = float(least_growth(girth, doubts, SAME).chance_cm)
    other = girth * np.sqrt(2) / 100
    taper = doubts.taper_cm_per_m
    rows: list[tuple[str, str, tuple[float, float, float] | None, str, str, str]] = [
        (
            "chance", "both readings' own scatter", (chance, 0.0, chance * 2.576 / 1.96),
            "five pairs of a hundred lie further apart, up and down together",
            "[GUM1995]", "read again, three times, before looking for anything else",
        ),
        (
            "bark-lost", "bark lost or brushed off", _round_cm(0.3, 0.1, 1.0),
            "3 mm all round, from 1 to 10 mm", COMMON,
            "flakes on the ground, a paler or smoother strip under the band",
        ),
        (
            "moss-gone", "moss or a loose flake under the band the first time",
            _round_cm(0.2, 0.1, 0.5), "2 mm all round, from 1 to 5 mm", COMMON,
            "the first notes; moss above and below the mark",
        ),
        (
            "higher", "the band lay higher the second time",
            (np.pi * taper * 0.10, np.pi * taper * 0.02, np.pi * taper * 0.30),
            f"10 cm up, from 2 to 30, where the diameter loses {taper:g} cm in a metre",
            "closed form", "no mark on the stem, or another start of the height stick",
        ),
        (
            "stretched", "the tape was stretched in between",
            (girth * 0.003 / 1.003, girth * 0.001 / 1.001, girth * 0.01 / 1.01),
            "0.3 %, from 0.1 to 1", COMMON, "lay it beside a steel rule; other stems shrank too",
        ),
        (
            "dry-day", "a dry afternoon", (girth * 0.0021, girth * 0.0003, np.pi * 1.0),
            "0.21 % of the diameter from morning to late afternoon in young firs in summer, 0.03 % "
            "in winter; over 1 cm of diameter is told of some tropical trees",
            "[DevineHarrington2011], [Sheil2003]", "hour and weather in the notes; come at dawn",
        ),
        (
            "frost", "frost", None,
            "large decreases were seen on the four coldest days; no figure was read",
            "[DevineHarrington2011]", "temperature in the notes; come again after the thaw",
        ),
        (
            "misread", "a figure misread or miswritten", (10.0, 1.0, 10.0),
            "a whole 10 cm, or 1 cm", COMMON, "off by a round number; somebody else repeats it",
        ),
        (
            "other-stem", "another stem, or another of its marks", None,
            "any size", COMMON, "number on the stem, and its neighbours' old girths",
        ),
    ]  # fmt: skip
    if not again.hand:
        one = other * doubts.hand_percent
        rows.append(
            (
                "other-hand", "another hand", (one, 0.0, 1.96 * one),
                f"hands differ by {doubts.hand_percent:g} % as a standard deviation",
                COMMON, "both hands tape ten stems today",
            )
        )  # fmt: skip
    if not again.tape:
        one = float(np.hypot(other * doubts.scale_percent, np.sqrt(2) * doubts.start_cm))
        rows.append(
            (
                "other-tape", "another tape", (one, 0.0, 1.96 * one),
                "zero and scale as uncertain as its card says",
                "[GUM1995]", "lay both tapes beside each other, or round one stem",
            )
        )  # fmt: skip
    causes = []
    for key, words, sizes, assumed, source, look in rows:
        usual, least, most = (float(one) for one in sizes) if sizes else (None, None, None)
        reaches = None if most is None else shrunk <= most
        causes.append(Cause(key, words, usual, least, most, assumed, source, look, reaches))

    def order(one: Cause) -> tuple[int, float]:
        if one.size_cm is None:
            return 2, 0.0
        return int(not one.reaches), abs(float(np.log(max(one.size_cm, 1e-9) / shrunk)))

    return tuple(sorted(causes, key=order))


def bark_came_off_cm(read_growth_cm: ArrayLike, layer_cm: ArrayLike) -> Any:
    """What a girth would have grown with the bark that came off in between, cm.

    read_growth_cm: second reading less first, below nought where it was read smaller; layer_cm:
    thickness of what came off all round, at least 0, cm; they broadcast. A taut band lies 2π times
    the layer nearer, on any section [Steiner1840]. Raises MeasureError.

    >>> round(bark_came_off_cm(-0.6, 0.3), 3)
    1.285
    """
    read = number(read_growth_cm, "read_growth_cm", "cm")
    return plain(read + 2 * np.pi * number(layer_cm, "layer_cm", "cm", at_least=0.0, at_most=50.0))


def _round_cm(usual_cm: float, least_cm: float, most_cm: float) -> tuple[float, float, float]:
    """What a layer all round adds to a girth: 2π times its thickness, also on no circle."""
    return 2 * np.pi * usual_cm, 2 * np.pi * least_cm, 2 * np.pi * most_cm
