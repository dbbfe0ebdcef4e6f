"""What went wrong? A reading and its circumstances are given, the cause is hidden.

A round is drawn from its seed and is the same for ever. One thing went wrong, and only one; every
cause that fits by :func:`mensura.teaching.games.causes.fits` is accepted, not only the one that was
drawn. Stems, hands and tapes are invented (Quillmere Practice Wood).
"""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace
from typing import Any

from mensura.checks import MeasureError
from mensura.draws import uniforms
from mensura.instruments.materials import MATERIALS
from mensura.teaching.answers.reply import Reply
from mensura.teaching.games.causes import CAUSES, STRETCH_PERCENT, Evidence, fits

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
            return Reply(False, "Choose a cause first.")
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
            f"{_signed(e.off_cm)} cm is to be explained.{near} {cause.why}{also}"
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


def wrong_reading(seed: int) -> Round:
    """The round that belongs to a seed.

    seed: any whole number.

    >>> one = wrong_reading(7)
    >>> one.drawn in one.accepted, len(one.accepted) < len(one.choices)
    (True, True)
    """
    drawn = list(CAUSES)[int(uniforms(1, "what went wrong", seed)[0] * len(CAUSES))]
    for attempt in range(2000):
        found = _attempt(seed, attempt, drawn)
        if found is not None:
            return found
    raise MeasureError("seed", seed, "", "a seed whose evidence tells causes apart")


def _attempt(seed: int, attempt: int, drawn: str) -> Round | None:
    """A round, or None if its evidence does not tell the causes apart."""
    u = iter(uniforms(40, "what went wrong", seed, attempt).tolist())

    def pick(options: Any) -> Any:
        return options[int(next(u) * len(options))]

    def between(low: float, high: float, step: float) -> float:
        return float(round(round((low + (high - low) * next(u)) / step) * step, 6))

    others = [key for key in CAUSES if key != drawn]
    offered = [others.pop(int(next(u) * len(others))) for _ in range(OFFERED - 1)]
    hinted = {drawn, *offered[: HINTED - 1]}
    known = {"temperature": ("plastic",), "stretch": tuple(STRETCH_PERCENT)[:4]}
    material = pick(known.get(drawn, tuple(MATERIALS)))
    choices = tuple(key for key in CAUSES if key == drawn or key in offered)
    if "temperature" in choices and MATERIALS[material].least_per_c is None:
        return None
    title = f"{pick(SPECIES).capitalize()}, stem {1 + int(next(u) * 18)}"
    title += f", hand Q{1 + int(next(u) * 24):02d}, tape T{1 + int(next(u) * 6)}"
    circumstances: dict[str, Callable[[], dict[str, Any]]] = {
        "tilt": lambda: {"rise_cm": between(6, 16, 1)},
        "wander": lambda: {"wander_cm": between(3, 8, 0.5)},
        "twist": lambda: {"twist_lift_cm": between(0.5, 2, 0.1)},
        "slack": lambda: {"unfelt": True},
        "climber": lambda: {"climber_cm": between(0.8, 3, 0.1)},
        "knot": lambda: {"knot_cm": between(0.8, 2.5, 0.1)},
        "pressing": lambda: {"soft_bark": True},
        "height": lambda: {"height_off_m": pick((-1, 1)) * between(0.15, 0.5, 0.05)},
        "stretch": lambda: {"seasons": int(between(3, 9, 1))},
        "temperature": lambda: {"temperature_c": pick((between(-10, 0, 1), between(35, 45, 1)))},
        "worn start": lambda: {"lost_cm": between(0.5, 3, 0.1)},
    }
    seen: dict[str, Any] = {}
    for key in CAUSES:
        if key in hinted:
            seen |= circumstances[key]()
    girth = between(80, 200, 0.1)
    still = Evidence(
        girth,
        girth,
        material,
        **{"temperature_c": between(18, 22, 1), "taper_cm_per_m": between(0.8, 2.4, 0.2), **seen},
    )
    if CAUSES[drawn].sizes(still) is None:
        return None
    added = CAUSES[drawn].adds_cm(still, 10 + 80 * next(u))
    evidence = replace(still, reading_cm=round(girth + added, 1))
    if abs(evidence.off_cm) < LEAST_CM or not fits(drawn, evidence):
        return None
    accepted = {key for key in CAUSES if fits(key, evidence)}
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
