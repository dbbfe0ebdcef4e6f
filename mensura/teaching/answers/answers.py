"""An answer as a person writes it, read as one number with its unit; never evaluated.

The number itself is read by mensura.typed, in every spelling that it knows. Read here are the unit
behind it, or none, a name before it as in "G = 0.79", and two numbers with their units that make
one: 2' 7", 2 ft 7 in, 2 m 30 cm. Calculations (π/4, 2*3, 22/7) are refused: the student works them
out.

Figures, the rule: all that are typed count, from the first that is not 0, zeros at the end
included. A fraction counts in its own parts: 31 1/2 is 63 halves, two figures, half a step being
1/4. Feet and inches are given in inches.
"""

from __future__ import annotations

import re
from dataclasses import dataclass

from mensura.teaching.answers.units import UNITS, AnswerError, convert, read_unit
from mensura.typed import SPACES, Number, Reader

__all__ = ["UNITS", "AnswerError", "Typed", "convert", "read_answer", "read_unit"]

_GAP = f"[{SPACES}]"
_NAMED = re.compile(rf"[A-Za-z](?:[A-Za-z0-9_/²³]|{_GAP}){{0,40}}(?=[=≈≅≃∼~:])")
_WORK = re.compile(
    r"π|√|÷|\bpi\b|\bsqrt\b|[*×·⋅∙/⁄+−–^(-]\s*(?:\d|\bpi\b|\()|^\s*[xX]\s*\d|^[⁰¹²³⁴-⁹⁻^]", re.I
)
_HYPHENED = re.compile(r"[-–−]\d{1,2}[/⁄]\d{1,3}(?!\d)", re.ASCII)
_SECOND = re.compile(
    rf"(feet|foot|ft|metres?|meters?|m)?(\.?|['′’‘])(?={_GAP}*[\d½⅓-⅞])", re.IGNORECASE
)


@dataclass(frozen=True)
class Typed:
    """An answer as it was read.

    value: the number, in unit; unit: canonical name, or None if none was typed; digits: significant
    figures as typed; half_step: half of the last place typed, in unit; text: as typed; other: the
    value if the one comma or point parts thousands, or None (its half_step is 1000 times as large);
    notes: plain sentences on how it was read.
    """

    value: float
    unit: str | None
    digits: int
    half_step: float
    text: str
    other: float | None = None
    notes: tuple[str, ...] = ()


def read_answer(text: str) -> Typed:
    """An answer as it was typed, read.

    text: one number, with or without its unit. Raises AnswerError with one plain sentence.

    >>> answer = read_answer("≈ 78.5 x 10^-2 m2")
    >>> answer.value, answer.unit, answer.digits, answer.half_step
    (0.785, 'm²', 3, 0.0005)
    >>> read_answer("2' 7\\"").value, read_answer("1,234").other
    (31.0, 1234.0)
    >>> read_answer("π/4")
    Traceback (most recent call last):
    mensura.teaching.answers.units.AnswerError: This is a calculation; work it out and type its
    result, like 0.785.
    """
    return _AnswerReader(text).answer()


class _AnswerReader(Reader):
    """Reads from the left: a name, the number, and its unit or a second part."""

    like = "expected a number, like 0.785 or 0.785 m²"
    refusal = AnswerError

    def answer(self) -> Typed:
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
        """Pass over a name, as in "G = 0.79", and over "≈" and the like."""
        named = _NAMED.match(self.text, self.at)
        if named is not None:
            self.at = named.end()
        super().lead_in()

    # ---- what stands behind the number ---------------------------------------------------------

    def unit(self, number: Number) -> str | None:
        """The unit's name, None if none was typed."""
        rest = self.rest()
        if not rest:
            return None
        if "=" in rest or "≈" in rest:
            raise self.refuse("More than one answer was typed; expected the last one alone.")
        if "±" in rest or "+-" in rest:
            raise self.refuse("An uncertainty was typed too; expected the number alone, without ±.")
        if number.whole and _HYPHENED.match(rest):
            raise self.refuse(
                "A hyphen before a fraction may be a minus; write a space, like 31 1/2."
            )
        if _WORK.search(re.sub(r"(?<=[a-z)]) ?(?:\^|\*\*|[-⁻−])+\d", "", rest, flags=re.I)):
            raise self.calculation()
        again = re.search(r"(?<![A-Za-z^*\d⁻−-])[.,]?\d|[½⅓⅔¼¾⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞]", rest)
        if again is not None:
            at = self.at + again.start()
            raise self.refuse(
                f"A second number stands at place {at + 1}; expected one number and its unit.", at
            )
        try:
            return read_unit(rest)
        except AnswerError as error:
            raise self.refuse(error.says) from None

    def second_part(self, first: Number) -> tuple[Number, str] | None:
        """2 ft with 7 in behind it, in inches, or 2 m with 30 cm, in centimetres; else None."""
        start = self.at
        match = _SECOND.match(self.text, start)
        if match is None or (match[1] is None) == (match[2] in ("", ".")):
            return None
        feet = match[1] is None or match[1][0] in "fF"
        wanted, most = ("in", 12) if feet else ("cm", 100)
        self.at = match.end()
        part = self.number()
        self.at = part.end
        self.skip()
        small = self.rest()
        try:
            # 5' 7 is clear without the inch mark, 5 ft 7 is not
            named = read_unit(small) if small else wanted if match[1] is None else None
        except AnswerError:
            named = None
        if named != wanted:
            self.at = start
            return None
        names = ("feet", "inches") if feet else ("metres", "centimetres")
        if not first.whole:
            raise self.refuse(f"Before {names[1]}, the {names[0]} must be a whole number.", start)
        if part.value >= most:
            raise self.refuse(
                f"The {names[1]} behind {names[0]} must be below {most}.", match.end()
            )
        value = first.value * most + part.value
        return Number(value, part.step, self.at), wanted

    def checked(self, number: Number, negative: bool, unit: str | None) -> Typed:
        size = number.value
        if not size and negative:
            raise self.refuse("Zero has no sign; expected 0, or more figures.", 0)
        self.check_reach(number)
        sign = -1 if negative else 1
        other = None if number.other is None else float(sign * number.other)
        notes: tuple[str, ...] = ()
        if other is not None:
            notes = (f"Read as {float(sign * size):g}; it may also be read as {other:g}.",)
        return Typed(
            float(sign * size),
            unit,
            max(1, len(str(int(size / number.step)))),
            float(number.step / 2),
            self.typed,
            other,
            notes,
        )
