"""An answer as a person writes it, read as one number with its unit; never evaluated.

The number itself is read by mensura.typed, in every spelling that it knows. Read here are the unit
behind it, or none; a name before it or behind, as in "G = 0.79" or "53.7 cm dbh"; "more" or "too
small" behind it; numbers with their units that make one: 2' 7", 2 ft 7 in, 2 m 30 cm; and the same
answer said twice, 53.7 cm = 0.537 m, if both sides agree. A calculation before "=" is passed over;
alone (π/4, 2*3, 22/7) it is refused: the student works it out.

Figures, the rule: all that are typed count, from the first that is not 0, zeros at the end
included. A fraction counts in its own parts: 31 1/2 is 63 halves, two figures, half a step being
1/4. Feet and inches are given in inches.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace

from mensura.characters import SPACES
from mensura.teaching.answers.units import UNITS, AnswerError, convert, read_unit, tidied
from mensura.typed import Number, Reader

__all__ = ["UNITS", "AnswerError", "Typed", "convert", "read_answer", "read_unit"]

_GAP = f"[{SPACES}]"
_NAMED = re.compile(rf"[A-Za-z](?:[A-Za-z0-9_/²³]|{_GAP}){{0,40}}(?=[∼~:])")
_NOUN = (
    r"(?:basal area|diameter|girth|area|volume|length|width|height|radius|reading|difference|dbh"
    r"|across|wide|round)"
)
_SAID_NAME = re.compile(
    rf"(?:the{_GAP}+)?{_NOUN}{_GAP}+(?:is{_GAP}+)?(?=[+−\d.,½⅓-⅞-])", re.IGNORECASE
)
_NOUN_BEHIND = re.compile(rf"(?:^|{_GAP}+){_NOUN}$", re.IGNORECASE)
_MORE = re.compile(
    rf"(?:^|{_GAP}+|(?<=[%‰]))(?:more|larger|bigger|greater|longer|wider|higher|above"
    rf"|too{_GAP}+(?:much|many|large|big|great|long|wide|high))$",
    re.IGNORECASE,
)
_LESS = re.compile(
    rf"(?:^|{_GAP}+|(?<=[%‰]))(?:less|fewer|smaller|shorter|narrower|lower|below"
    rf"|too{_GAP}+(?:little|few|small|short|narrow|low))$",
    re.IGNORECASE,
)
_WORK = re.compile(
    r"π|√|÷|\bpi\b|\bsqrt\b|[*×·⋅∙/⁄+−–^(-]\s*(?:\d|\bpi\b|\()|^\s*[xX]\s*\d|^[⁰¹²³⁴-⁹⁻^]", re.I
)
_UNIT_POWER = re.compile(r"(?<=[a-z)]) ?(?:\^|\*\*|[-⁻−])+\d", re.IGNORECASE)
_AGAIN = re.compile(r"(?<![A-Za-z^*\d⁻−-])[.,]?\d|[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]")
_CM_BEHIND = re.compile(r"m\d\d", re.ASCII)
_HYPHENED = re.compile(r"[-–−]\d{1,2}[/⁄]\d{1,3}(?!\d)", re.ASCII)
_SPACED_POWER = re.compile(rf"(mm|cm|dm|m|in|ft|yd){_GAP}+[23]", re.IGNORECASE)
_SIDES = re.compile("[=≈≅≃]")
_NAME_SIDE = re.compile(rf"{_GAP}*[A-Za-zØπ√](?:[\w./²³π√()·*−-]|{_GAP}){{0,40}}")
_WORK_SIDE = re.compile(rf"(?=.*\d)(?=.*[·×*/⁄÷+−^√π-])(?:[\w.,·×*/⁄÷+−^()√π²³½-]|{_GAP})+")
_MOST_SIDES = 4
_MORE_THAN_ONE = "More than one answer was typed; expected the last one alone."
_JOINT = re.compile(
    rf"(?:(?P<word>yards?|yds?|feet|foot|ft|metres?|meters?|m)\.?|(?P<mark>['′’‘]))"
    rf"(?:{_GAP}*(?:,|\+|&|and\b)|-(?=\d))?(?={_GAP}*[\d½⅓-⅞])",
    re.IGNORECASE,
)
#: What a length is divided into when it is said in two units, and how many make one.
_SMALLER = {"yd": ("ft", 3), "ft": ("in", 12), "m": ("cm", 100)}
_CALLED = {"yd": "yards", "ft": "feet", "in": "inches", "m": "metres", "cm": "centimetres"}


@dataclass(frozen=True)
class Typed:
    """An answer as it was read.

    value: the number, in unit; unit: canonical name, or None if none was typed; digits: significant
    figures as typed; half_step: half of the last place typed, in unit; text: as typed; other: the
    value if the one comma or point parts thousands, or None (its half_step is 1000 times as large);
    notes: plain sentences on how it was read; half_round: half_step, if zeros at the end of a whole
    number only hold its place; way: 1 if "more" stands behind it or the like, −1 if "less", else 0.
    """

    value: float
    unit: str | None
    digits: int
    half_step: float
    text: str
    other: float | None = None
    notes: tuple[str, ...] = ()
    half_round: float = 0.0
    way: int = 0


def read_answer(text: str, unit: str = "") -> Typed:
    """An answer as it was typed, read.

    text: one number, with or without its unit; unit: in which it is asked, as in
    :func:`~mensura.teaching.answers.units.read_unit`. Raises AnswerError with one plain sentence.

    >>> answer = read_answer("≈ 78.5 x 10^-2 m2")
    >>> answer.value, answer.unit, answer.digits, answer.half_step
    (0.785, 'm²', 3, 0.0005)
    >>> read_answer("2' 7\\"").value, read_answer("1,234").other
    (31.0, 1234.0)
    >>> read_answer("168.8/π = 53.73 cm = 0.54 m").value
    53.73
    >>> read_answer("π/4")
    Traceback (most recent call last):
    mensura.teaching.answers.units.AnswerError: This is a calculation; work it out and type its
    result, like 0.785.
    """
    whole = _AnswerReader(text, unit)
    sides = whole.sides()
    if len(sides) < 2:
        return whole.answer()
    found: Typed | None = None
    for start, end in sides:
        side = whole.text[start:end]
        try:
            one = _AnswerReader(" " * start + side, unit, text).answer()
        except AnswerError:
            if (start, end) == sides[-1]:
                raise
            if not (_NAME_SIDE.fullmatch(side) or _WORK_SIDE.fullmatch(side)):
                raise whole.refuse(_MORE_THAN_ONE, end) from None
            continue
        found = one if found is None else _both(found, one)
        if found is None:
            raise whole.refuse("The two sides do not agree; expected one answer.", start)
    assert found is not None  # the last side was read, or raised
    return found


def _readings(typed: Typed) -> list[tuple[float, float]]:
    """The number, then its other reading, each with half its last place."""
    found = [(typed.value, typed.half_step)]
    if typed.other is not None:
        found.append((typed.other, 1000 * typed.half_step))
    return found


def _both(first: Typed, last: Typed) -> Typed | None:
    """The finer of two answers that say the same, each in its rounding; None if they do not."""
    unit = last.unit if last.unit is not None else first.unit
    for value, half in _readings(last):
        for other, other_half in _readings(first):
            there, there_half = other, other_half
            if first.unit is not None and unit is not None:
                try:
                    there = convert(other, first.unit, unit)
                    there_half = abs(convert(other + other_half, first.unit, unit) - there)
                except AnswerError:
                    return None
            if abs(there - value) <= (half + there_half) * (1 + 1e-9):
                finer = replace(last, value=value, half_step=half, unit=unit)
                if there_half < half:
                    kept = unit if first.unit is None else first.unit
                    finer = replace(first, value=other, half_step=other_half, unit=kept)
                zeros = max(finer.half_round, finer.half_step)
                return replace(finer, other=None, notes=(), half_round=zeros)
    return None


class _AnswerReader(Reader):
    """Reads from the left: a name, the number, and its unit or a second part.

    text: to be read; asked: unit in which the answer is asked, or ""; typed: all that was typed, if
    this is one side of it.
    """

    like = "expected a number, like 0.785 or 0.785 m²"
    refusal = AnswerError

    def __init__(self, text: str, asked: str = "", typed: str | None = None) -> None:
        super().__init__(text)
        self.typed = text if typed is None else typed
        self.asked = asked
        self.way = 0

    def sides(self) -> list[tuple[int, int]]:
        """Where the parts begin and end that stand before, between and behind equals signs."""
        marks = list(_SIDES.finditer(self.text, self.at))
        starts = [self.at, *(mark.end() for mark in marks)]
        ends = [*(mark.start() for mark in marks), len(self.text)]
        sides = [
            (start, end)
            for start, end in zip(starts, ends, strict=True)
            if self.text[start:end].strip()
        ]
        if sides and sides[-1][1] < len(self.text):
            raise self.refuse("Nothing stands behind ‘=’; expected the answer.", sides[-1][1])
        if len(sides) > _MOST_SIDES:
            raise self.refuse(_MORE_THAN_ONE, sides[0][1])
        return sides

    def answer(self) -> Typed:
        """What was typed, read."""
        self.lead_in()
        negative = self.sign()
        number = self.number()
        self.at = number.end
        self.skip()
        both = self.second_part(number)
        if both is not None:
            return self.checked(both[0], negative, both[1])
        return self.checked(number, negative, self.unit(number))

    def lead_in(self) -> None:
        """Pass over a name, as in "G: 0.79" or "diameter 31.8", and over "≈" and the like."""
        named = _NAMED.match(self.text, self.at)
        if named is not None:
            self.at = named.end()
        super().lead_in()
        said = _SAID_NAME.match(self.text, self.at)
        if said is not None:
            self.at = said.end()

    # ---- what stands behind the number ---------------------------------------------------------

    def unit(self, number: Number) -> str | None:
        """The unit's name, None if none was typed."""
        rest = self.words_behind(self.rest())
        if not rest:
            return None
        if "±" in rest or "+-" in rest:
            raise self.refuse("An uncertainty was typed too; expected the number alone, without ±.")
        if number.whole and _HYPHENED.match(rest):
            raise self.refuse(
                "A hyphen before a fraction may be a minus; write a space, like 31 1/2."
            )
        if rest[0] == "!":
            raise self.refuse("‘!’ behind a number may be a factorial; leave it out.")
        tidy = tidied(rest)
        if _WORK.search(_UNIT_POWER.sub("", tidy)):
            raise self.calculation()
        power = _SPACED_POWER.fullmatch(rest)
        # 12 m 3 may be 12 m³ or 12.03 m; 12.5 m 3 is no length, nor is 12 cm 3
        powered = power is not None and (not number.whole or power[1] not in _SMALLER)
        again = _AGAIN.search(tidy)
        if again is not None and not powered:
            at = self.at + max(0, rest.find(again.group()))
            raise self.refuse(
                f"A second number stands at place {at + 1}; expected one number and its unit.", at
            )
        try:
            return read_unit(rest, self.asked)
        except AnswerError as error:
            raise self.refuse(error.says) from None

    def words_behind(self, rest: str) -> str:
        """What is left without "more", "too small" and the like, and without a name behind."""
        for pattern, way in ((_MORE, 1), (_LESS, -1)):
            if said := pattern.search(rest):
                self.way = way
                return rest[: said.start()]
        named = _NOUN_BEHIND.search(rest)
        return rest[: named.start()] if named else rest

    def second_part(self, first: Number) -> tuple[Number, str] | None:
        """2 ft with 7 in behind it, in inches, or 2 m with 30 cm, in centimetres; else None."""
        start = self.at
        joint = _JOINT.match(self.text, start)
        if joint is None:
            return None
        large = {"y": "yd", "m": "m"}.get((joint["word"] or "ft")[0].lower(), "ft")
        small, most = _SMALLER[large]
        self.at = joint.end()
        part = self.number()
        self.at = part.end
        self.skip()
        last = self.second_part(part) if small == "ft" else None
        if last is None and self.small_unit(joint, first, part, small) != small:
            self.at = start
            return None
        if not first.whole:
            raise self.refuse(
                f"Before {_CALLED[small]}, the {_CALLED[large]} must be a whole number.", start
            )
        if part.value >= most:
            raise self.refuse(
                f"The {_CALLED[small]} behind {_CALLED[large]} must be below {most}.", joint.end()
            )
        if last is not None:
            return replace(last[0], value=first.value * most * 12 + last[0].value), last[1]
        return Number(first.value * most + part.value, part.step, self.at), small

    def small_unit(
        self, joint: re.Match[str], first: Number, part: Number, small: str
    ) -> str | None:
        """The unit behind a second part, said or understood; None if it is neither."""
        rest = self.rest()
        if rest:
            try:
                return read_unit(rest)
            except AnswerError:
                return None
        if small == "in":
            # 5' 7 and 5 ft 7 are inches, 5.5 ft 2 may be square feet
            return small if joint["mark"] or first.whole else None
        tight = _CM_BEHIND.fullmatch(self.text[joint.start() :].rstrip("."))
        return small if tight and part.whole else None

    def checked(self, number: Number, negative: bool, unit: str | None) -> Typed:
        """What was read, with its figures.

        number: as read; negative: whether a minus stood before it; unit: its name, or None.
        """
        size = number.value
        if not size and negative:
            raise self.refuse("Zero has no sign; expected 0, or more figures.", 0)
        self.check_reach(number)
        sign = -1 if negative else 1
        other = None if number.other is None else float(sign * number.other)
        notes: tuple[str, ...] = ()
        if other is not None:
            notes = (f"Read as {float(sign * size):g}; it may also be read as {other:g}.",)
        elif number.raised:
            notes = (f"Read as {float(sign * size):g}; a product would have to be worked out.",)
        zeros = len(str(int(size))) - len(str(int(size)).rstrip("0")) if number.step == 1 else 0
        half = float(number.step / 2)
        return Typed(
            float(sign * size),
            unit,
            max(1, len(str(int(size / number.step)))),
            half,
            self.typed,
            other,
            notes,
            half * 10**zeros if size else half,
            self.way,
        )
