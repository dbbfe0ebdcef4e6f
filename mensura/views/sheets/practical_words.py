"""A practical's verdicts as they are said: by how much, how sure, what it may be, what to practise.

The page for the lecturer and the note for a hand say the same in the same words; only whom they
name differs. What comes from a file is text here and is escaped where it is put on a page.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

from mensura.estimates.hand_causes import likely_causes
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.practical import Practical
from mensura.written import minus, signed

#: Who reads what with what.
WITH = {"girth": "with tapes", "diameter": "with calipers"}
VERDICTS = {
    "sound": "sound",
    "reads-high": "reads high",
    "reads-low": "reads low",
    "spreads": "spreads",
    "cannot-tell": "cannot be told",
}
#: What a reading was off by, short.
FORMS = {
    "share": "a share of the reading: more on large stems",
    "constant": "a constant: as many centimetres on every stem",
    "unclear": "share or constant: these stems cannot tell",
}
OFF = ("reads-high", "reads-low", "spreads")
#: So many causes are named.
MOST_CAUSES = 3


@dataclass(frozen=True)
class Finding:
    """Somebody or something that a word has to be said of.

    judged: the verdict; is_hand: of a hand, else of an instrument; headline: what it does, by how
    much; sure: its interval and how often chance does that; causes: what it may be, the most common
    first; practise: what to do about each of them; what: what the first does to a reading.
    """

    judged: Judged
    is_hand: bool
    headline: str
    sure: str
    causes: tuple[str, ...]
    practise: tuple[str, ...]
    what: str


def findings(study: Practical) -> tuple[Finding, ...]:
    """All that a word has to be said of: hands, then instruments, the farthest off first.

    study: of a class.
    """
    judged = study.judged
    rows = [(one, True) for one in judged.hands] + [(one, False) for one in judged.instruments]
    off = [(one, hand) for one, hand in rows if one.verdict in OFF]
    off.sort(key=lambda row: (not row[1], -_far_percent(row[0], judged.mean_size_cm)))
    return tuple(finding(*row) for row in off)


def finding(judged: Judged, is_hand: bool) -> Finding:
    """What is said of one that is off.

    judged: a verdict; is_hand: on a hand, else on an instrument.
    """
    causes = likely_causes(judged, is_hand)[:MOST_CAUSES]
    words = tuple(_small(one.words) for one in causes)
    practise = tuple(dict.fromkeys(one.practise for one in causes))
    what = causes[0].why if causes else ""
    return Finding(judged, is_hand, headline(judged), sure(judged), words, practise, what)


def likely(one: Finding) -> str:
    """What it may be, and what the first of those does to a reading.

    one: of somebody or something that is off.
    """
    what = one.what.rstrip(".")
    said = one.causes[0] + (f" ({_small(what)})" if what else "")
    return "; or ".join([said, *one.causes[1:]])


def headline(judged: Judged) -> str:
    """What one does, by how much.

    judged: a verdict.
    """
    said = VERDICTS[judged.verdict]
    if judged.verdict in ("reads-high", "reads-low") and judged.bias is not None:
        said += f" by {figure(abs(judged.bias), judged.unit)}"
        said += " and spreads" if judged.spreads else ""
    elif judged.verdict == "spreads" and judged.spread_times is not None:
        said += f" {judged.spread_times:.1f} times as much as the others"
    return said


def sure(judged: Judged) -> str:
    """The interval of a bias, and how often chance alone does as much.

    judged: a verdict.
    """
    if judged.interval is None or judged.verdict == "spreads":
        return ""
    return f"95 % interval {interval(judged)}; {by_chance(judged.chance)}"


def interval(judged: Judged) -> str:
    """From and to, with the unit; a dash where nothing is known.

    judged: a verdict.
    """
    if judged.interval is None:
        return "–"
    low, high = (signed(end, _digits(judged.unit)) for end in judged.interval)
    return f"{low} to {high} {judged.unit}"


def bias(judged: Judged) -> str:
    """What it reads less what the others agree on, with its unit.

    judged: a verdict.
    """
    if judged.bias is None:
        return "–"
    return f"{signed(judged.bias, _digits(judged.unit))} {judged.unit}"


def by_chance(chance: float) -> str:
    """How often chance alone does as much to a sound one, before it counts how many were judged.

    chance: from 0 to 1.

    >>> by_chance(0.03), by_chance(1e-9)
    ('chance does it to 1 sound one in 33', 'chance does it to fewer than 1 in 10 000')
    """
    if chance < 1e-4:
        return "chance does it to fewer than 1 in 10 000"
    return f"chance does it to 1 sound one in {round(1 / chance)}"


def figure(value: float, unit: str) -> str:
    """A number with its unit, as far as it counts.

    value: in unit; unit: "%" or "cm".

    >>> figure(1.96, "%"), figure(1.799, "cm")
    ('2.0 %', '1.80 cm')
    """
    return f"{minus(f'{value:.{_digits(unit)}f}')} {unit}"


def counted(count: int, noun: str) -> str:
    """A number of things.

    count: how many; noun: what one is called.

    >>> counted(1, "stem"), counted(12, "stem")
    ('1 stem', '12 stems')
    """
    return f"{count} {noun}{'' if count == 1 else 's'}"


def all_of(words: Sequence[str]) -> str:
    """All of them in a sentence, however many.

    words: in order.

    >>> all_of(["Q01", "Q02", "Q03"])
    'Q01, Q02 and Q03'
    """
    if len(words) < 2:
        return "".join(words)
    return ", ".join(words[:-1]) + f" and {words[-1]}"


def _small(words: str) -> str:
    return words[:1].lower() + words[1:]


def _digits(unit: str) -> int:
    return 2 if unit == "cm" else 1


def _far_percent(judged: Judged, mean_size_cm: float | None) -> float:
    """How far off, in per cent on a stem of mean size, so that all can be put in order."""
    if judged.bias is None:
        return 0.0
    if judged.unit == "%":
        return abs(judged.bias)
    size = (mean_size_cm or 40.0) * (3.1416 if judged.kind == "girth" else 1.0)
    return 100 * abs(judged.bias) / size
