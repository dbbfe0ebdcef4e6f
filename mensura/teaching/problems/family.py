"""A family of problems: one method, any numbers. It is declared, and checks itself on creation.

A family says which numbers are given (names of the vocabulary, with ranges and steps that a
forester would meet), asks in words, computes the answer by a call into `mensura`, and knows the
slips that people make on the way, each as a computation with an explanation. Hints grow stronger;
the worked solution carries the student's own numbers. Nothing here knows of papers or marks.

What was published keeps its numbers for ever, in students' logs and on paper. So a family has
editions: its first state, and one more for each change that numbers could depend on. Of a published
family
- may change freely: `topic`, `title`, `text`, `hints`, `solution`, `steps`, `source`, `picture`,
  `asks_unit`, and what a slip says;
- may come, with the edition in which it does: a slip (`since`), a rule that a slip is told apart
  (`apart_since`), a stricter choice of draws (`fits_since`); a slip may be `retired`;
- may never change: `key`, `unit`, `exact`, `given` (order, ranges, steps), `fits`, what `answer`
  and the slips of the first edition compute, and a choice of draws once it has come. Where one of
  these is wrong, a new form takes the old one's place: a family of the same key that holds from a
  later edition on (`from_edition`) and keeps the old one (`before`) for what was given out.
Golden digests of many draws, edition by edition, hold this (tests/teaching/problems/golden.json).
"""

from __future__ import annotations

import re
import string
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from decimal import Decimal
from functools import cached_property
from types import MappingProxyType
from typing import Any

from mensura.checks import MeasureError, whole
from mensura.teaching.problems.vocabulary import meaning

#: The one list of topics, in the order of the chapters, and what each is about. A topic's families
#: are the list FAMILIES of the module in `families/` that is named after it.
TOPICS: dict[str, str] = {
    "girth": "girth, diameter, area and their units",
    "out-of-round": "stems that are not circular, by tape and by calipers",
    "proof": "what the proof says about the size of the error",
    "laying": "how a tape lies on the stem",
    "bark": "over bark and under bark",
    "condition": "stretch, worn start, temperature",
    "calipers": "zero error, lean and turn of the calipers",
    "logs": "volumes of logs and stems",
    "quarter-girth": "the quarter-girth rule against the true volume",
    "plots": "from a plot to a hectare",
    "doubt": "uncertainty of an area or a volume",
    "choosing": "which reading is impossible, which instrument for which job",
    "place": "where to measure: slope, lean, forks, swellings, buttresses",
    "growth": "growth from two readings, and when it stands out from their noise",
    "how-sure": "calibration, budget and coverage",
    "field-practical": "what a class's readings are worth, and who was off",
    "timber": "from readings to cubic metres a hectare, and what they are worth",
    "cut-end": "a section from a photograph, and what the tape makes of it",
}

#: No problem is answered more finely than this, whatever its data: people round on the way.
LEAST_TOLERANCE_PERCENT = 0.5

#: Editions of a family are counted from 1 to this.
MOST_EDITIONS = 1000

_KEY = re.compile(r"[a-z][a-z0-9]*(-[a-z0-9]+)*")


class Given:
    """The numbers of one problem, by name: q.girth_cm.

    numbers: name → number, in the unit of the name.

    >>> Given({"girth_cm": 100.0}).girth_cm
    100.0
    """

    def __init__(self, numbers: Mapping[str, float]) -> None:
        self._numbers = dict(numbers)

    def __getattr__(self, name: str) -> float:
        if name.startswith("__"):
            raise AttributeError(name)
        try:
            return float(self._numbers[name])
        except KeyError:
            raise AttributeError(f"{name} is not given here; given are: {self.names}") from None

    @property
    def names(self) -> list[str]:
        """The names that are given."""
        return list(self._numbers)

    def moved(self, name: str, by: float) -> Given:
        """The same numbers with one of them moved.

        name: of the number; by: in the unit of the name.
        """
        return Given({**self._numbers, name: self._numbers[name] + by})


Compute = Callable[[Any], float]


@dataclass(frozen=True)
class Quantity:
    """A number that is drawn: least, least + step, … up to greatest.

    name: of the vocabulary; least, greatest, step: in the unit of the name; exact: True for counts
    and settings, which are known without doubt.
    Raises MeasureError unless least < greatest and the step fits between them.
    """

    name: str
    least: float
    greatest: float
    step: float
    exact: bool = False

    def __post_init__(self) -> None:
        unit = meaning(self.name).unit
        if not self.least < self.greatest:
            raise MeasureError(self.name, self.least, unit, f"a least below {self.greatest:g}")
        if not 0 < self.step <= self.greatest - self.least:
            raise MeasureError(self.name, self.step, unit, "a step that fits into the range")

    @cached_property
    def _written(self) -> tuple[Decimal, Decimal]:
        """Least and step, as they are written."""
        return Decimal(str(self.least)), Decimal(str(self.step))

    @cached_property
    def count(self) -> int:
        """How many numbers may be drawn."""
        least, step = self._written
        return int((Decimal(str(self.greatest)) - least) / step) + 1

    @property
    def digits(self) -> int:
        """Digits after the point, as the numbers are written."""
        numbers = [Decimal(str(x)).normalize() for x in (self.least, self.step)]
        exponents = [one.as_tuple().exponent for one in numbers]
        return max(0, *(-int(exponent) for exponent in exponents))

    def at(self, index: int) -> float:
        """The number with an index.

        index: from 0 to count − 1.
        """
        least, step = self._written
        return float(least + index * step)

    def holds(self, value: float) -> bool:
        """Whether a number may have been drawn.

        value: in the unit of the name.
        """
        if not self.least <= value <= self.greatest:
            return False
        return self.at(round((value - self.least) / self.step)) == value

    def written(self, value: float) -> str:
        """A number as it stands in the text.

        value: in the unit of the name.
        """
        return f"{value:.{self.digits}f}"


@dataclass(frozen=True)
class Slip:
    """A wrong computation with a name.

    name: as it is told, like "girth-as-diameter"; compute: from the given numbers, in the answer's
    unit; says: what went wrong, in one or two sentences; since: the family's edition in which it
    came; apart_since: edition from which on no draw is newly given out on which it would be marked
    right, None for never; retired: True if it is named no more.

    A slip of the first edition decides which draws are given out, and still does when retired. A
    later one decides nothing: where it cannot be told apart from the answer or from an older slip,
    it is left out of that problem. Only `apart_since` lets it narrow what is newly given out.
    Raises MeasureError for what is no edition, or an `apart_since` before `since` or on a slip of
    the first edition, which is told apart anyway.
    """

    name: str
    compute: Compute
    says: str
    since: int = 1
    apart_since: int | None = None
    retired: bool = False

    def __post_init__(self) -> None:
        whole(self.since, "since", at_least=1, at_most=MOST_EDITIONS)
        if self.apart_since is not None:
            least = max(2, self.since)
            whole(self.apart_since, "apart_since", at_least=least, at_most=MOST_EDITIONS)
            if self.since == 1:
                raise MeasureError(
                    "apart_since", self.apart_since, "", "none on a slip of the first edition"
                )


@dataclass(frozen=True)
class Family:
    """Problems of one method.

    key: short name; topic: one of TOPICS; title: what is asked, in a few words; text: the problem,
    with {names} of what is given; given: the quantities; unit: of the answer, "" for a plain
    number; answer: how it is computed; hints: three, of rising strength; solution: worked, with
    {names}, {answer} and the names of steps; slips: at least three; steps: numbers on the way, in
    the solution's order, name with unit → computation; fits: which draws make sense; exact: True
    if the answer is a number of a list or a count, which is right or wrong; asks_unit: whether the
    unit must be typed; picture: what is drawn beside it; source: of the method, a key in brackets
    or "common practice, no source"; fits_since: edition, from 2 on → which draws it still gives
    out, of those that the editions before it do; counts_as: other units, each with how many of the
    answer's it stands for in this problem, whatever it holds elsewhere; from_edition: edition from
    which on this form holds, 1 for the first; before: the form that held until then, None for the
    first. What of it may change later is said above.
    Raises MeasureError for a part that is missing or does not fit.
    """

    key: str
    topic: str
    title: str
    text: str
    given: Sequence[Quantity]
    unit: str
    answer: Compute
    hints: Sequence[str]
    solution: str
    slips: Sequence[Slip]
    source: str
    steps: Mapping[str, Compute] = field(default_factory=dict)
    fits: Callable[[Any], bool] = field(default_factory=lambda: _any_draw)
    exact: bool = False
    asks_unit: bool = False
    picture: str = "numbers"
    fits_since: Mapping[int, Callable[[Any], bool]] = field(default_factory=dict)
    counts_as: Mapping[str, float] = field(default_factory=dict)
    from_edition: int = 1
    before: Family | None = None

    @property
    def edition(self) -> int:
        """The newest edition, from 1: what is drawn now is given out in it."""
        later = [slip.apart_since or slip.since for slip in self.slips]
        return max([self.from_edition, *later, *self.fits_since])

    def form(self, edition: int) -> Family:
        """The form that holds in an edition: this one, or one before it.

        edition: from 1; one that is still to come has the newest form.
        """
        found = self
        while found.before is not None and edition < found.from_edition:
            found = found.before
        return found

    def __post_init__(self) -> None:
        # the bank keeps one of each and hands it to everybody
        for part in ("given", "hints", "slips"):
            object.__setattr__(self, part, tuple(getattr(self, part)))
        for part in ("steps", "fits_since", "counts_as"):
            object.__setattr__(self, part, MappingProxyType(dict(getattr(self, part))))
        if not _KEY.fullmatch(self.key):
            raise MeasureError("key", self.key, "", "small letters, digits and dashes")
        if self.topic not in TOPICS:
            raise MeasureError("topic", self.topic, "", "one of: " + ", ".join(TOPICS))
        if len(self.hints) != 3 or not all(hint.strip() for hint in self.hints):
            raise MeasureError("hints", len(self.hints), "", "three hints of rising strength")
        named = sum(not slip.retired for slip in self.slips)
        if named < 3:
            raise MeasureError("slips", named, "", "at least three slips")
        for edition in self.fits_since:
            whole(edition, "fits_since", at_least=2, at_most=MOST_EDITIONS)
        self._check_forms()
        names = [slip.name for slip in self.slips]
        if len(set(names)) < len(names) or not all(_KEY.fullmatch(name) for name in names):
            raise MeasureError("slips", ", ".join(names), "", "different names like no-pi")
        for part in ("title", "text", "solution", "source"):
            if not str(getattr(self, part)).strip():
                raise MeasureError(part, "", "", "words")
        known = {quantity.name for quantity in self.given}
        if not known or len(known) < len(self.given):
            raise MeasureError("given", len(self.given), "", "different quantities, at least one")
        self._check_names("text", self.text, known)
        missing = known - fields_of(self.text)
        if missing:
            raise MeasureError("text", self.key, "", f"all that is given: {', '.join(missing)}")
        for hint in self.hints:
            self._check_names("hints", hint, known)
        self._check_names("solution", self.solution, known | set(self.steps) | {"answer"})
        if "answer" not in fields_of(self.solution):
            raise MeasureError("solution", self.key, "", "{answer} in the worked solution")

    def _check_forms(self) -> None:
        """A later form knows the one before it, which is of the same key and topic and older."""
        if self.before is None:
            whole(self.from_edition, "from_edition", at_least=1, at_most=1)
            return
        least = self.before.from_edition + 1
        whole(self.from_edition, "from_edition", at_least=least, at_most=MOST_EDITIONS)
        if (self.before.key, self.before.topic) != (self.key, self.topic):
            raise MeasureError("before", self.before.key, "", f"a form of {self.key}, in its topic")

    @staticmethod
    def _check_names(part: str, text: str, known: set[str]) -> None:
        unknown = fields_of(text) - known
        if unknown:
            raise MeasureError(part, ", ".join(sorted(unknown)), "", "names that are given")


def _any_draw(_: Any) -> bool:
    return True


def clear_of(answer: Compute, within_percent: float, *wrong: Compute) -> Callable[[Any], bool]:
    """A choice of draws, for `fits_since`: none on which a wrong method is near the answer by luck.

    answer: the right method; within_percent: how near is too near, of the answer; wrong: other
    methods.
    """

    def clear(q: Any) -> bool:
        right = float(answer(q))
        least = within_percent / 100 * abs(right)
        return all(abs(float(one(q)) - right) > least for one in wrong)

    return clear


def renew(
    families: list[Family], key: str, edition: int, *, ranges: Sequence[Quantity] = (), **parts: Any
) -> None:
    """Puts a later form of a family into the old one's place in a topic's list.

    families: the list; key: of the family; edition: from which on the new form holds; ranges: those
    quantities that are drawn otherwise from then on; parts: other fields of `Family` that change.
    """
    place = [one.key for one in families].index(key)
    old = families[place]
    by_name = {one.name: one for one in ranges}
    given = [by_name.get(one.name, one) for one in old.given]
    families[place] = replace(
        old, **{"given": given, **parts, "from_edition": edition, "before": old}
    )


def fields_of(text: str) -> set[str]:
    """The {names} in a text.

    text: of a family. Raises MeasureError for anything but plain names in the brackets.

    >>> sorted(fields_of("{girth_cm} cm round, {log_length_m} m long"))
    ['girth_cm', 'log_length_m']
    """
    found = set()
    for _, name, form, conversion in string.Formatter().parse(text):
        if name is None:
            continue
        if not re.fullmatch(r"[A-Za-z][A-Za-z0-9_]*", name) or form or conversion:
            raise MeasureError("text", name, "", "a plain {name} in the brackets")
        found.add(name)
    return found
