"""An answer as a person writes it, read as one number with its unit; never evaluated.

Read are 0.785 and 0,785, 7.85e-1, 78.5 × 10⁻², 1 234.5, 1,234.5 and 1'234, 31½ and 31 1/2,
2' 7" and 2 ft 7 in, 2 m 30 cm, with a unit or without, behind "about", "=", "≈" or a name as in
"G = 0.79". Calculations (π/4, 2*3, 22/7) are refused: the student works them out.

Comma and point, the rule: where both stand, the last is the decimal mark; where one stands more
than once, it parts thousands; where it stands once, it is the decimal mark. "1,234" and "1.234" are
therefore 1.234, and `other` says 1234, so that a right answer in either reading may be accepted.

Figures, the rule: all that are typed count, from the first that is not 0, zeros at the end
included. A fraction counts in its own parts: 31 1/2 is 63 halves, two figures, half a step being
1/4. Feet and inches are given in inches.
"""

from __future__ import annotations

import re
from dataclasses import dataclass
from fractions import Fraction
from unicodedata import bidirectional, category
from unicodedata import name as told_name

from mensura.teaching.answers.units import UNITS, AnswerError, convert, quoted, read_unit

__all__ = ["UNITS", "AnswerError", "Typed", "convert", "read_answer", "read_unit"]

#: Bounds that keep every reply quick. No answer here needs as much.
LONGEST = 100
MOST_DIGITS = 24
GREATEST_EXPONENT = 20
GREATEST, LEAST = Fraction(10) ** 12, Fraction(1, 10**12)

_LIKE = "expected a number, like 0.785 or 0.785 m²"
_SPACES = " \t\u00a0\u2009\u202f\u2002\u2003\u2007"
_SIGNS = "+−–‒-"  # the plain minus last, so that it may stand in [ ] of an expression
_RAISED = dict(zip("⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺", "0123456789-+", strict=True))
_PARTS = {
    char: Fraction(above, below)
    for char, above, below in (
        *(("½", 1, 2), ("⅓", 1, 3), ("⅔", 2, 3), ("¼", 1, 4), ("¾", 3, 4), ("⅕", 1, 5)),
        *(("⅖", 2, 5), ("⅗", 3, 5), ("⅘", 4, 5), ("⅙", 1, 6), ("⅚", 5, 6), ("⅛", 1, 8)),
        *(("⅜", 3, 8), ("⅝", 5, 8), ("⅞", 7, 8)),
    )
}
_FOOT_MARKS, _INCH_MARKS = "'′’‘", ('"', "″", "”", "“", "''", "′′", "’’")
_KNOWN = {*_SPACES, *_SIGNS, *_RAISED, *_PARTS, *_FOOT_MARKS, *"″”“²³×·⋅∙÷⁄/≈≅≃∼°º℃㎝㎟㎠㎡㎥㎤π√±"}

_GAP = f"[{_SPACES}]"
_LEAD = re.compile(
    r"(?:[≈≅≃∼~=:]|(?:about|approximately|approx|roughly|around|circa|ca|answer)\b\.?)"
    rf"{_GAP}*",
    re.IGNORECASE,
)
_NAMED = re.compile(rf"[A-Za-z](?:[A-Za-z0-9_/²³]|{_GAP}){{0,40}}(?=[=≈≅≃∼~:])")
_TAIL = re.compile(rf"{_GAP}+(?:approximately|approx\.?|or so)$", re.IGNORECASE)
_GROUPED = re.compile(
    rf"(\d{{1,3}})({_GAP}|[.,'’])(\d{{3}}(?:\2\d{{3}})*)(?!\d|\2\d)(?:([.,])(\d+))?"
    rf"(?![.,]?\d|{_GAP}*[/⁄]{_GAP}*\d)",
    re.ASCII,
)
_PLAIN = re.compile(r"(\d+)(?:([.,])(\d+)|\.(?!\.))?|([.,])(\d+)", re.ASCII)
_VULGAR = re.compile(f"{_GAP}*([{''.join(_PARTS)}])")
_FRACTION = re.compile(rf"(\d{{1,3}}){_GAP}*[/⁄]{_GAP}*(\d{{1,3}})(?![\d.,])", re.ASCII)
_E = re.compile(rf"{_GAP}?[eE]([{_SIGNS}]?)(\d+)(?![\d.,])", re.ASCII)
_TIMES_TEN = re.compile(rf"{_GAP}*[xX×*·⋅∙]{_GAP}*10(?={_GAP}*(?:\^|\*\*)|[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺])")
_TO_THE = re.compile(
    rf"{_GAP}*(?:\^|\*\*){_GAP}*(\(?)([{_SIGNS}]?)(\d+)(?![\d.,])(\)?)|([⁻⁺]?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)",
    re.ASCII,
)
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


@dataclass(frozen=True)
class _Number:
    """Exact value, size of the last place, where it ends, and the reading with thousands."""

    value: Fraction
    step: Fraction
    end: int
    other: Fraction | None = None
    whole: bool = False


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
    if not isinstance(text, str):
        raise AnswerError(f"An answer is text; {_LIKE}.", value=text)
    if len(text) > LONGEST:
        raise AnswerError(
            f"The answer has {len(text)} characters; expected at most {LONGEST}.", LONGEST + 1
        )
    end = len(text.rstrip())
    start = len(text) - len(text.lstrip())
    if start >= end:
        raise AnswerError(f"Nothing was typed; {_LIKE}.")
    _look_at_characters(text, start, end)
    return _Reader(text, start, end).answer()


def _look_at_characters(text: str, start: int, end: int) -> None:
    """Refuses what cannot be part of an answer, at its place."""
    for at in range(start, end):
        char, place = text[at], at + 1
        if char in _KNOWN or " " < char <= "~":
            continue
        code = f"U+{ord(char):04X}"
        if not char.isprintable() or char.isspace() or category(char)[0] in "ZCM":
            said = f"An invisible or combining character ({code}) stands at place {place};"
            raise AnswerError(f"{said} take it out.", place, text)
        if bidirectional(char) in ("R", "AL", "AN"):
            said = f"At place {place} stands text that runs from right to left ({code});"
            raise AnswerError(f"{said} {_LIKE}.", place, text)
        said = f"‘{char}’ at place {place} ({code}, {told_name(char, 'no name').lower()})"
        if category(char)[0] in "NL":
            raise AnswerError(
                f"{said} may look right but is not known here; use 0 to 9 and plain letters.",
                place,
                text,
            )
        raise AnswerError(f"{said} is not known here; {_LIKE}.", place, text)


class _Reader:
    """Reads from the left: what leads in, sign, number, and its unit or a second part."""

    def __init__(self, text: str, start: int, end: int) -> None:
        self.typed = text
        self.text = text[:end]
        if tail := _TAIL.search(self.text):
            self.text = self.text[: tail.start()]
        self.at = start

    def refuse(self, says: str, at: int | None = None) -> AnswerError:
        place = (self.at if at is None else at) + 1
        return AnswerError(says, place, self.typed)

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
        named = _NAMED.match(self.text, self.at)
        if named is not None:
            self.at = named.end()
        for _ in range(4):
            lead = _LEAD.match(self.text, self.at)
            if lead is None:
                break
            self.at = lead.end()
        if self.at >= len(self.text):
            raise self.refuse(f"No number was typed; {_LIKE}.")

    def sign(self) -> bool:
        char = self.text[self.at]
        if char not in _SIGNS:
            return False
        self.at += 1
        self.skip()
        if self.at < len(self.text) and self.text[self.at] in _SIGNS:
            raise self.refuse(f"Two signs stand at place {self.at + 1}; expected one at most.")
        return char != "+"

    def skip(self) -> None:
        while self.at < len(self.text) and self.text[self.at] in _SPACES:
            self.at += 1

    # ---- numbers -------------------------------------------------------------------------------

    def number(self) -> _Number:
        self.skip()
        grouped = self.grouped()
        if grouped is not None:
            return self.powered(grouped)
        plain = _PLAIN.match(self.text, self.at)
        vulgar = _VULGAR.match(self.text, self.at)
        if vulgar is not None:
            return _parts(Fraction(0), _PARTS[vulgar[1]], vulgar.end())
        if plain is None:
            raise self.no_number()
        whole, mark, decimals, bare_mark, bare = plain.groups()
        end = plain.end()
        if mark is None and bare is None:
            mixed = self.fraction(plain)
            if mixed is not None:
                return mixed
        figures = decimals or bare or ""
        if len(whole or "") + len(figures) > MOST_DIGITS:
            raise self.too_many(len(whole or "") + len(figures))
        follows = self.text[end : end + 1]
        if follows in (",", "_") or (follows == "." and (mark or bare_mark)):
            raise self.refuse(
                f"‘{follows}’ at place {end + 1} does not fit; expected one decimal point or "
                "comma, and thousands in groups of three.",
                end,
            )
        value = Fraction(int((whole or "") + figures), 10 ** len(figures))
        other = None
        if mark and len(figures) == 3 and len(whole) <= 3 and whole[0] != "0":
            other = Fraction(int(whole + figures))
        bare_whole = plain.group().isdigit()
        return self.powered(_Number(value, Fraction(1, 10 ** len(figures)), end, other, bare_whole))

    def grouped(self) -> _Number | None:
        """Thousands in groups of three; None where there are none, or one comma or point alone."""
        match = _GROUPED.match(self.text, self.at)
        if match is None:
            return None
        first, between, rest, mark, decimals = match.groups()
        groups = re.split(re.escape(between), rest)
        if between in ".," and len(groups) == 1 and mark is None:
            return None
        if between in _FOOT_MARKS and self.text.startswith(_INCH_MARKS, match.end()):
            return None
        if first[0] == "0":
            raise self.refuse(
                f"{quoted(match.group())} begins with 0 and yet has thousands; write one number."
            )
        digits = first + "".join(groups)
        if len(digits) + len(decimals or "") > MOST_DIGITS:
            raise self.too_many(len(digits) + len(decimals or ""))
        step = Fraction(1, 10 ** len(decimals or ""))
        return _Number(Fraction(int(digits + (decimals or ""))) * step, step, match.end())

    def fraction(self, plain: re.Match[str]) -> _Number | None:
        """7/8, 31 1/2 or 31½; None where the whole number stands alone."""
        whole = plain[1]
        if len(whole) > 6:
            return None
        after = plain.end(1)
        vulgar = _VULGAR.match(self.text, after)
        if vulgar is not None:
            return _parts(Fraction(int(whole)), _PARTS[vulgar[1]], vulgar.end())
        alone = _FRACTION.match(self.text, self.at)
        gap = re.compile(f"{_GAP}+").match(self.text, after)
        mixed = _FRACTION.match(self.text, gap.end()) if gap else None
        match = alone or mixed
        if match is None:
            return None
        above, below = int(match[1]), int(match[2])
        if not below:
            raise self.refuse(f"{quoted(match.group())} divides by 0; {_LIKE}.", match.start())
        if above >= below:
            raise self.refuse(
                f"{quoted(match.group())} is a calculation, or a fraction that is not below 1; "
                "work it out and type its result.",
                match.start(),
            )
        front = Fraction(0) if alone else Fraction(int(whole))
        return _parts(front, Fraction(above, below), match.end(), Fraction(1, below))

    def powered(self, number: _Number) -> _Number:
        """With e-1 or × 10⁻² behind it, or a power of ten alone."""
        short = _E.match(self.text, number.end)
        if short is not None:
            return self.scaled(number, short[1], short[2], short.end())
        ten = _TIMES_TEN.match(self.text, number.end)
        alone = number.whole and number.value == 10
        if ten is None and not alone:
            return number
        power = _TO_THE.match(self.text, ten.end() if ten else number.end)
        if power is None or (power[3] and bool(power[1]) != bool(power[4])):
            if ten is None:
                return number
            raise self.refuse("The power of ten was not read; expected one like 10^-2.", ten.end())
        sign = power[2] or _RAISED.get(power[5] or "", "") or ""
        digits = power[3] or "".join(_RAISED[char] for char in power[6])
        base = number if ten else _Number(Fraction(1), Fraction(1), number.end)
        return self.scaled(base, sign, digits, power.end())

    def scaled(self, number: _Number, sign: str, digits: str, end: int) -> _Number:
        if len(digits) > 3 or int(digits) > GREATEST_EXPONENT:
            raise self.refuse(
                f"The power of ten is out of reach; expected one from -{GREATEST_EXPONENT} "
                f"to {GREATEST_EXPONENT}.",
                number.end,
            )
        exponent = int(digits) * (1 if sign in ("", "+") else -1)
        by = Fraction(10) ** exponent
        return _Number(number.value * by, number.step * by, end)

    # ---- what stands behind the number ---------------------------------------------------------

    def unit(self, number: _Number) -> str | None:
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

    def rest(self) -> str:
        """What is left, without the full stop of a sentence or an abbreviation."""
        return self.text[self.at :].rstrip(".").rstrip(_SPACES)

    def second_part(self, first: _Number) -> tuple[_Number, str] | None:
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
        return _Number(value, part.step, self.at), wanted

    # ---- refusals ------------------------------------------------------------------------------

    def checked(self, number: _Number, negative: bool, unit: str | None) -> Typed:
        size = number.value
        if not size and negative:
            raise self.refuse("Zero has no sign; expected 0, or more figures.", 0)
        if size > GREATEST:
            raise self.refuse("The number is too large; expected at most 10^12.", 0)
        if size and size < LEAST:
            raise self.refuse("The number is too small; expected 0 or at least 10^-12.", 0)
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

    def too_many(self, digits: int) -> AnswerError:
        return self.refuse(f"The number has {digits} digits; expected at most {MOST_DIGITS}.")

    def calculation(self) -> AnswerError:
        return self.refuse("This is a calculation; work it out and type its result, like 0.785.")

    def no_number(self) -> AnswerError:
        rest = self.text[self.at :]
        if re.match(r"π|√|pi\b|sqrt\b|\(", rest, re.I):
            return self.calculation()
        alike = re.match(r"([OolI])(?=[.,\d]|$)", rest)
        if alike:
            digit = "0" if alike[1] in "Oo" else "1"
            return self.refuse(f"‘{alike[1]}’ is a letter; the digit is {digit}.")
        word = re.match(r"[A-Za-z_]+", rest)
        what = quoted(word.group() if word else rest[:1]) if rest else "A sign alone"
        return self.refuse(f"{what} is no number; {_LIKE}.")


def _parts(whole: Fraction, part: Fraction, end: int, step: Fraction | None = None) -> _Number:
    return _Number(whole + part, step or Fraction(1, part.denominator), end)
