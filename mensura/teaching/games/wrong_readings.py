"""What went wrong? A reading and its circumstances are given, the cause is hidden.

A round is drawn from its seed and its edition, and is the same for ever. One thing went wrong, and
only one; every cause that fits by :func:`mensura.teaching.games.causes.fits` is accepted, not only
the one that was drawn. Stems, hands and tapes are invented (Quillmere Practice Wood).
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, replace
from typing import Any

from mensura.checks import MeasureError
from mensura.instruments.materials import MATERIALS
from mensura.teaching.answers.reply import Reply
from mensura.teaching.games.causes import (
    CAUSES,
    SHRINK_PERCENT,
    STRETCH_PERCENT,
    Cause,
    Evidence,
    fits,
)
from mensura.teaching.games.round_draws import Draws, draws, of_edition

#: The latest edition, which is played, and what the draws are for.
EDITION = 2
PURPOSE = "what went wrong"

#: Less than this is not worth explaining.
LEAST_CM = 0.3
#: What does not fit must miss by this factor, or be on the wrong side.
CLEAR = 1.5
#: How many causes are offered, and for how many of them, at most, something speaks.
OFFERED, HINTED = 6, 4
SPECIES = ("oak", "pine", "birch")


@dataclass(frozen=True)
class Round:
    """One round of the game.

    seed: it was drawn from; title: stem, hand and tape; evidence: what was seen; choices: keys of
    CAUSES that may be chosen; drawn: the one it was made with.
    """

    seed: int
    title: str
    evidence: Evidence
    choices: tuple[str, ...]
    drawn: str

    @property
    def accepted(self) -> tuple[str, ...]:
        """Every choice that fits."""
        return tuple(key for key in self.choices if fits(key, self.evidence))

    @property
    def question(self) -> str:
        """The two measurements and what is asked."""
        e = self.evidence
        return (
            f"{self.title}: {e.reading_cm:.1f} cm was read. Measured again with care, level, taut, "
            f"on clear bark at 1.3 m, with a checked tape at 20 °C, it is {e.girth_cm:.1f} cm. The "
            f"first reading is {_size(e.off_cm)} cm too {_side(e.off_cm)}. One thing went wrong, "
            "and only one: which can it have been?"
        )

    @property
    def lines(self) -> tuple[str, ...]:
        """What is known of the first measurement, a line a subject."""
        return self.evidence.lines()

    def reply(self, choice: str | None) -> Reply:
        """What is said to a cause that was chosen.

        choice: key of one of `choices`, None if nothing was chosen.
        Raises MeasureError for a key that was not offered.
        """
        if choice is None:
            return Reply(False, "Choose a cause first.", readable=False)
        if choice not in self.choices:
            raise MeasureError("choice", choice, "", "one of: " + ", ".join(self.choices))
        if choice in self.accepted:
            return Reply(True, self._praise(choice))
        return Reply(False, f"Not this. {self._objection(choice)}")

    def _praise(self, choice: str) -> str:
        e, cause = self.evidence, CAUSES[choice]
        others = [CAUSES[key].text for key in self.accepted if key != choice]
        also = f" The evidence allows one more: {' '.join(others)}" if others else ""
        reach = cause.reach_cm(e)
        near = ""
        if reach is not None and not min(reach) <= e.off_cm <= max(reach):
            near = " That is as near as two readings and a steady hand can tell."
        return (
            f"Yes. {cause.seen(e)} adds {_between(reach)} cm here, and "
            f"{_signed(e.off_cm)} cm is to be explained.{near} {cause.fault.why}{also}"
        )

    def _objection(self, choice: str) -> str:
        e, cause = self.evidence, CAUSES[choice]
        off, reach = e.off_cm, cause.reach_cm(e)
        if reach is None:
            return f"{cause.absent}, and {_signed(off)} cm is to be explained."
        if sum(reach) * off <= 0:
            return (
                f"{cause.seen(e)} makes a reading too {_side(sum(reach))}, here by "
                f"{_between(reach)} cm; this one is {_size(off)} cm too {_side(off)}."
            )
        least, most = sorted(map(abs, reach))
        little = most < abs(off)
        factor = abs(off) / most if little else least / abs(off)
        return (
            f"{cause.seen(e)} adds {_between(reach)} cm here: "
            f"{_times(factor)} times too {'little' if little else 'much'} "
            f"for {_signed(off)} cm."
        )


def wrong_reading(seed: int, edition: int = EDITION) -> Round:
    """The round that belongs to a seed.

    seed: any whole number; edition: of the game when the seed was given out.
    Raises MeasureError for what is no edition.

    >>> one = wrong_reading(7)
    >>> one.drawn in one.accepted, len(one.accepted) < len(one.choices)
    (True, True)
    """
    causes = {one.key: one for one in of_edition(CAUSES.values(), edition, EDITION)}
    drawn = draws(edition, 1, PURPOSE, seed).pick("cause", list(causes))
    for attempt in range(2000):
        numbers = draws(edition, 40, PURPOSE, seed, attempt)
        found = _attempt(seed, numbers, drawn, causes)
        if found is not None:
            return found
    raise MeasureError("seed", seed, "", "a seed whose evidence tells causes apart")


def _attempt(seed: int, draw: Draws, drawn: str, causes: Mapping[str, Cause]) -> Round | None:
    """A round, or None if its evidence does not tell the causes apart."""
    others = [key for key in causes if key != drawn]
    offered = [
        others.pop(int(draw.share(f"offered {place}") * len(others))) for place in range(1, OFFERED)
    ]
    hinted = {drawn, *offered[: HINTED - 1]}
    known = {
        "temperature": ("plastic",),
        "stretch": tuple(STRETCH_PERCENT)[:4],
        "shrinking": tuple(SHRINK_PERCENT),
    }
    material = draw.pick("material", known.get(drawn, tuple(MATERIALS)))
    choices = tuple(key for key in causes if key == drawn or key in offered)
    if "temperature" in choices and MATERIALS[material].least_per_c is None:
        return None
    title = f"{draw.pick('species', SPECIES).capitalize()}"
    title += f", stem {1 + int(draw.share('stem') * 18)}"
    title += f", hand Q{1 + int(draw.share('hand') * 24):02d}"
    title += f", tape T{1 + int(draw.share('tape') * 6)}"
    seen: dict[str, Any] = {}
    for key, cause in causes.items():
        if key in hinted:
            seen |= cause.hint(draw.of(key))
    girth = draw.between("girth_cm", 80, 200, 0.1)
    plain = {
        "temperature_c": draw.between("temperature_c", 18, 22, 1),
        "taper_cm_per_m": draw.between("taper_cm_per_m", 0.8, 2.4, 0.2),
    }
    still = Evidence(girth, girth, material, **(plain | seen))
    if causes[drawn].sizes(still) is None:
        return None
    added = causes[drawn].adds_cm(still, 10 + 80 * draw.share("size"))
    evidence = replace(still, reading_cm=round(girth + added, 1))
    if abs(evidence.off_cm) < LEAST_CM or not fits(drawn, evidence):
        return None
    accepted = {key for key in causes if fits(key, evidence)}
    if len(accepted) > 2 or not accepted <= set(choices):
        return None
    if not all(_clearly_not(key, evidence) for key in choices if key not in accepted):
        return None
    return Round(seed, title, evidence, choices, drawn)


def _clearly_not(key: str, evidence: Evidence) -> bool:
    """Whether a cause that does not fit is far from fitting, so that no luck is needed."""
    reach, off = CAUSES[key].reach_cm(evidence), evidence.off_cm
    if reach is None or sum(reach) * off <= 0:
        return True
    least, most = sorted(map(abs, reach))
    return most * CLEAR < abs(off) or least > CLEAR * abs(off)


def _side(off_cm: float) -> str:
    return "large" if off_cm > 0 else "small"


def _size(off_cm: float) -> str:
    return f"{abs(off_cm):.1f}"


def _times(factor: float) -> str:
    if factor > 100:
        return "more than a hundred"
    return f"at least {factor:.{0 if factor >= 10 else 1}f}"


def _signed(off_cm: float) -> str:
    return f"{off_cm:+.1f}".replace("-", "−")


def _between(reach_cm: tuple[float, float] | None) -> str:
    low, high = sorted(reach_cm or (0.0, 0.0), key=abs)
    digits = 1 if abs(high) >= 1 else 2 if abs(high) >= 0.1 else 3
    ends = [f"{end:+.{digits}f}".replace("-", "−") for end in (low, high)]
    return ends[0] if ends[0] == ends[1] else f"{ends[0]} to {ends[1]}"
