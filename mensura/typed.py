"""A number as people type it, read within bounds; nothing is ever evaluated.

Read are 31.5 and 31,5, 31·5 with the point raised, −31.5 with any kind of minus or the word,
3.15e1, 3.15 × 10¹ and 3.15*10^1, 1 234.5, 1,234.5, 1'234, 1_234 and 12,34,567, 31½ and 31 1/2, in
brackets, behind "about", "=" or "≈", before "or so" or "(3 s.f.)". Calculations (π/4, 2*3, 22/7)
are refused: who types them works them out. Every box, option and answer is read here, so that what
one of them takes the others take too.

Comma and point, the rule: where both stand, the last is the decimal mark; where one stands more
than once, it parts thousands; where it stands once, it is the decimal mark. "1,234" and "1.234" are
therefore 1.234, and `other` says 1234, so that a right answer in either reading may be accepted.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, replace
from fractions import Fraction

from mensura.characters import (
    FOOT_MARKS,
    INCH_MARKS,
    PARTS,
    RAISED,
    RAISED_POINTS,
    SIGNS,
    SPACES,
    folded,
    strange,
)
from mensura.checks import TypedError, quoted

#: Bounds that keep every reply quick. No number here needs as much.
LONGEST = 100
MOST_DIGITS = 24
GREATEST_EXPONENT = 20
GREATEST, LEAST = Fraction(10) ** 12, Fraction(1, 10**12)

_GAP = f"[{SPACES}]"
_LEAD = re.compile(
    r"(?:[≈≅≃∼~=:Ø]|(?:about|approximately|approx|roughly|around|circa|ca|nearly|almost|exactly|by)"
    rf"\b\.?|c\.|(?:(?:the{_GAP}+)?(?:answer|ans|result)|it)\b\.?(?:{_GAP}+is\b)?){_GAP}*",
    re.IGNORECASE,
)
_FIGURES = (
    rf"\(?(?:to{_GAP}+)?\d{{1,2}}{_GAP}*(?:s\.?f\.?|d\.?p\.?|(?:significant{_GAP}+)?figures"
    rf"|sig\.?{_GAP}+figs?\.?|decimals|decimal{_GAP}+places)\)?"
)
_TAIL = re.compile(
    rf"(?:{_GAP}+(?:approximately|approx\.?|or so|nearly|\(?rounded\)?|{_FIGURES})|{_GAP}*[;✓]"
    rf"|(?<=[A-Za-z²³%°).]){_GAP}*!)$",
    re.IGNORECASE,
)
_BRACKETS = re.compile(
    rf"{_GAP}*(\()(?={_GAP}*[+−-]?{_GAP}*[\d.,])[^()]*(\)){_GAP}*(?=$|[A-Za-z%°º‰'\"′″²³㎝㎟㎠㎡㎥㎤µ])"
)
_GROUPED = re.compile(
    rf"(\d{{1,3}})({_GAP}|[.,'’_])(\d{{3}}(?:\2\d{{3}})*)(?!\d|\2\d)(?:([.,])(\d+))?"
    rf"(?![.,]?\d|{_GAP}*[/⁄]{_GAP}*\d)",
    re.ASCII,
)
_LAKHS = re.compile(r"([1-9]\d?(?:,\d\d)+,\d{3})(?:\.(\d+))?(?![.,]?\d)", re.ASCII)
_RAISED_POINT = re.compile(
    rf"(\d+)[{RAISED_POINTS}](\d+)(?!\d|{_GAP}*(?:\^|\*\*|[/⁄{RAISED_POINTS}])|[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺])",
    re.ASCII,
)
_PLAIN = re.compile(r"(\d+)(?:([.,])(\d+)|\.(?!\.))?|([.,])(\d+)", re.ASCII)
_VULGAR = re.compile(f"{_GAP}*([{''.join(PARTS)}])")
_FRACTION = re.compile(rf"(\d{{1,3}}){_GAP}*[/⁄]{_GAP}*(\d{{1,3}})(?![\d.,])", re.ASCII)
_INCHES = re.compile(rf"{_GAP}*(?:in\b|ins\b|inch|\"|″|”|''|′′)", re.IGNORECASE)
_E = re.compile(rf"{_GAP}?[eE]([{SIGNS}]?)(\d+)(?![\d.,])", re.ASCII)
_TIMES_TEN = re.compile(
    rf"(?:{_GAP}*[xX×*·⋅∙]{_GAP}*|{_GAP}+)10(?={_GAP}*(?:\^|\*\*)|[⁰¹²³⁴⁵⁶⁷⁸⁹⁻⁺])"
)
_SAID_SIGN = re.compile(rf"(minus|plus)\b{_GAP}*", re.IGNORECASE)
_TO_THE = re.compile(
    rf"{_GAP}*(?:\^|\*\*){_GAP}*(\(?)([{SIGNS}]?)(\d+)(?![\d.,])(\)?)|([⁻⁺]?)([⁰¹²³⁴⁵⁶⁷⁸⁹]+)",
    re.ASCII,
)


@dataclass(frozen=True)
class Number:
    """A number that was read, without its sign.

    value, step: exactly, the number and the size of its last place; end: the place behind it;
    other: the value if its one comma or point parts thousands, or None; whole: it was typed in
    figures alone; raised: its point is a raised one, which might be a product as well.
    """

    value: Fraction
    step: Fraction
    end: int
    other: Fraction | None = None
    whole: bool = False
    raised: bool = False


def read_number(text: str) -> float:
    """A number alone, as it was typed.

    text: one number without a unit; it is in whatever unit stands beside its box.
    Raises TypedError with one plain sentence. −0 is 0.

    >>> read_number("31,5"), read_number("≈ −31 1/2"), read_number("3.15 × 10¹")
    (31.5, -31.5, 31.5)
    >>> read_number("22/7")
    Traceback (most recent call last):
    mensura.checks.TypedError: ‘22/7’ is a calculation, or a fraction that is not below 1; work it
    out and type its result.
    """
    return _alone(text)[0]


def read_whole(text: str) -> int:
    """A whole number alone, as it was typed.

    text: one number without a unit. Raises TypedError for any other number, and for one whose comma
    or point may part thousands as well: 28,000 may be 28 or 28 000.

    >>> read_whole("28"), read_whole("1 200"), read_whole("1.2e3")
    (28, 1200, 1200)
    """
    value, other = _alone(text)
    if other is not None:
        raise TypedError(
            f"{quoted(text)} may be read in two ways; write the whole number in figures alone.",
            value=text,
        )
    if not value.is_integer():
        raise TypedError(f"{quoted(text)} is no whole number; expected one.", value=text)
    return int(value)


def _alone(text: str) -> tuple[float, float | None]:
    """The number, and its other reading."""
    reader = Reader(text)
    reader.lead_in()
    sign = -1 if reader.sign() else 1
    number = reader.number()
    reader.at = number.end
    reader.skip()
    rest = reader.rest()
    if rest:
        raise reader.refuse(f"{quoted(rest)} stands behind the number; expected a number alone.")
    reader.check_reach(number)
    # + 0.0: −0 is 0
    return float(sign * number.value) + 0.0, None if number.other is None else float(number.other)


class Reader:
    """Reads from the left: what leads in, the sign, the number; `at` is how far it has come.

    text: as it was typed. Raises TypedError, or its own `refusal`, for what can be no number.
    """

    #: How a refusal says what was expected, and of which class it is.
    like = "expected a number, like 0.785"
    refusal = TypedError

    def __init__(self, text: str) -> None:
        self.typed = text
        if not isinstance(text, str):
            raise self.refusal(f"An answer is text; {self.like}.", value=text)
        if len(text) > LONGEST:
            raise self.refusal(
                f"The answer has {len(text)} characters; expected at most {LONGEST}.", LONGEST + 1
            )
        end = len(text.rstrip())
        self.at = len(text) - len(text.lstrip())
        if self.at >= end:
            raise self.refusal(f"Nothing was typed; {self.like}.")
        self.text = folded(text[:end])
        self._look_at_characters()
        for _ in range(3):
            tail = _TAIL.search(self.text, self.at)
            if tail is None or tail.start() == self.at:
                break
            self.text = self.text[: tail.start()]
        if brackets := _BRACKETS.match(self.text, self.at):
            for at in (brackets.start(1), brackets.start(2)):
                self.text = f"{self.text[:at]} {self.text[at + 1 :]}"
            self.text = self.text.rstrip()
            self.skip()

    def refuse(self, says: str, at: int | None = None, reach: str = "") -> TypedError:
        """The refusal of what stands here, to be raised.

        says: the sentence; at: the place in the text if it is another; reach: as in TypedError.
        """
        place = (self.at if at is None else at) + 1
        return self.refusal(says, place, self.typed, reach=reach)

    def lead_in(self) -> None:
        """Pass over "≈", "about", "=" and the like."""
        for _ in range(4):
            lead = _LEAD.match(self.text, self.at)
            if lead is None:
                break
            self.at = lead.end()
        if self.at >= len(self.text):
            raise self.refuse(f"No number was typed; {self.like}.")

    def sign(self) -> bool:
        """Pass over a sign, or its word; whether it is a minus."""
        if said := _SAID_SIGN.match(self.text, self.at):
            self.at = said.end()
            if self.at >= len(self.text):
                raise self.refuse(f"No number was typed; {self.like}.")
            return said[1].lower() == "minus"
        char = self.text[self.at]
        if char not in SIGNS:
            return False
        self.at += 1
        self.skip()
        if self.at < len(self.text) and self.text[self.at] in SIGNS:
            raise self.refuse(f"Two signs stand at place {self.at + 1}; expected one at most.")
        return char != "+"

    def skip(self) -> None:
        """Pass over spaces."""
        while self.at < len(self.text) and self.text[self.at] in SPACES:
            self.at += 1

    def rest(self) -> str:
        """What is left, without the full stop of a sentence or an abbreviation."""
        return self.text[self.at :].rstrip(".").rstrip(SPACES)

    def number(self) -> Number:
        """The number that begins here, or behind spaces; `at` comes to its first sign."""
        self.skip()
        grouped = self._grouped()
        if grouped is not None:
            return grouped
        if raised := _RAISED_POINT.match(self.text, self.at):
            return self._decimal(raised[1], raised[2], raised.end(), raised=True)
        plain = _PLAIN.match(self.text, self.at)
        vulgar = _VULGAR.match(self.text, self.at)
        if vulgar is not None:
            return _parts(Fraction(0), PARTS[vulgar[1]], vulgar.end())
        if plain is None:
            raise self._no_number()
        whole, mark, decimals, bare_mark, bare = plain.groups()
        end = plain.end()
        if mark is None and bare is None:
            mixed = self._fraction(plain)
            if mixed is not None:
                return mixed
        figures = decimals or bare or ""
        follows = self.text[end : end + 1]
        if follows in (",", "_") or (follows == "." and (mark or bare_mark)):
            raise self.refuse(
                f"‘{follows}’ at place {end + 1} does not fit; expected one decimal point or "
                "comma, and thousands in groups of three.",
                end,
            )
        found = self._decimal(whole or "", figures, end)
        if mark and len(figures) == 3 and len(whole) <= 3 and whole[0] != "0" and found.end == end:
            return replace(found, other=Fraction(int(whole + figures)))
        return found

    def _decimal(self, whole: str, figures: str, end: int, raised: bool = False) -> Number:
        """A number of figures before a mark and behind it, either none, and its power of ten."""
        if len(whole) + len(figures) > MOST_DIGITS:
            raise self._too_many(len(whole) + len(figures))
        step = Fraction(1, 10 ** len(figures))
        bare = self.text[self.at : end].isdigit()
        number = Number(int(whole + figures) * step, step, end, None, bare, raised)
        return self._powered(number)

    def _grouped(self) -> Number | None:
        """Thousands in groups of three; None where there are none, or one comma or point alone."""
        lakhs = _LAKHS.match(self.text, self.at)
        if lakhs is not None:
            whole, decimals = lakhs[1].replace(",", ""), lakhs[2] or ""
            return self._decimal(whole, decimals, lakhs.end())
        match = _GROUPED.match(self.text, self.at)
        if match is None:
            return None
        first, between, rest, mark, decimals = match.groups()
        groups = re.split(re.escape(between), rest)
        if between in ".," and len(groups) == 1 and mark is None:
            return None
        if between in FOOT_MARKS and self.text.startswith(INCH_MARKS, match.end()):
            return None
        if first[0] == "0":
            raise self.refuse(
                f"{quoted(match.group())} begins with 0 and yet has thousands; write one number."
            )
        return self._decimal(first + "".join(groups), decimals or "", match.end())

    def _fraction(self, plain: re.Match[str]) -> Number | None:
        """7/8, 31 1/2 or 31½; None where the whole number stands alone."""
        whole = plain[1]
        if len(whole) > 6:
            return None
        after = plain.end(1)
        vulgar = _VULGAR.match(self.text, after)
        if vulgar is not None:
            return _parts(Fraction(int(whole)), PARTS[vulgar[1]], vulgar.end())
        alone = _FRACTION.match(self.text, self.at)
        gap = re.compile(f"{_GAP}+|[−-]").match(self.text, after)
        mixed = _FRACTION.match(self.text, gap.end()) if gap else None
        match = alone or mixed
        if match is None:
            return None
        above, below = int(match[1]), int(match[2])
        inches = _INCHES.match(self.text, match.end()) is not None
        if mixed and gap and not gap.group().isspace() and not (inches and above < below):
            return None
        if not below:
            raise self.refuse(f"{quoted(match.group())} divides by 0; {self.like}.", match.start())
        if above >= below and not (alone and inches and below in (2, 4, 8, 16, 32, 64)):
            raise self.refuse(
                f"{quoted(match.group())} is a calculation, or a fraction that is not below 1; "
                "work it out and type its result.",
                match.start(),
            )
        front = Fraction(0) if alone else Fraction(int(whole))
        return _parts(front, Fraction(above, below), match.end(), Fraction(1, below))

    def _powered(self, number: Number) -> Number:
        """With e-1 or × 10⁻² behind it, or a power of ten alone."""
        short = _E.match(self.text, number.end)
        if short is not None:
            return self._scaled(number, short[1], short[2], short.end())
        ten = _TIMES_TEN.match(self.text, number.end)
        alone = number.whole and number.value == 10
        if ten is None and not alone:
            return number
        power = _TO_THE.match(self.text, ten.end() if ten else number.end)
        if power is None or (power[3] and bool(power[1]) != bool(power[4])):
            if ten is None:
                return number
            raise self.refuse("The power of ten was not read; expected one like 10^-2.", ten.end())
        sign = power[2] or RAISED.get(power[5] or "", "") or ""
        digits = power[3] or "".join(RAISED[char] for char in power[6])
        base = number if ten else Number(Fraction(1), Fraction(1), number.end)
        return self._scaled(base, sign, digits, power.end())

    def _scaled(self, number: Number, sign: str, digits: str, end: int) -> Number:
        if len(digits) > 3 or int(digits) > GREATEST_EXPONENT:
            raise self.refuse(
                f"The power of ten is out of reach; expected one from -{GREATEST_EXPONENT} "
                f"to {GREATEST_EXPONENT}.",
                number.end,
                f"a power of ten within reach (-{GREATEST_EXPONENT} to {GREATEST_EXPONENT})",
            )
        exponent = int(digits) * (1 if sign in ("", "+") else -1)
        by = Fraction(10) ** exponent
        return Number(number.value * by, number.step * by, end)

    # ---- refusals ------------------------------------------------------------------------------

    def check_reach(self, number: Number) -> None:
        """Refuses a number that is too large or too small to be meant.

        number: as it was read.
        """
        reach = "0, or a size from 10^-12 to 10^12"
        if number.value > GREATEST:
            raise self.refuse("The number is too large; expected at most 10^12.", 0, reach)
        if number.value and number.value < LEAST:
            raise self.refuse("The number is too small; expected 0 or at least 10^-12.", 0, reach)

    def calculation(self) -> TypedError:
        """The refusal of a calculation, to be raised."""
        return self.refuse("This is a calculation; work it out and type its result, like 0.785.")

    def _too_many(self, digits: int) -> TypedError:
        return self.refuse(
            f"The number has {digits} digits; expected at most {MOST_DIGITS}.",
            reach=f"at most {MOST_DIGITS} digits",
        )

    def _no_number(self) -> TypedError:
        rest = self.text[self.at :]
        if re.match(r"π|√|pi\b|sqrt\b|\(", rest, re.I):
            return self.calculation()
        alike = re.match(r"([OolI])(?=[.,\d]|$)", rest)
        if alike:
            digit = "0" if alike[1] in "Oo" else "1"
            return self.refuse(f"‘{alike[1]}’ is a letter; the digit is {digit}.")
        word = re.match(r"[A-Za-z_]+", rest)
        what = quoted(word.group() if word else rest[:1]) if rest else "A sign alone"
        return self.refuse(f"{what} is no number; {self.like}.")

    def _look_at_characters(self) -> None:
        """Refuses what can be no part of an answer, at its place."""
        for at in range(self.at, len(self.text)):
            if said := strange(self.text[at], at + 1, self.like):
                raise self.refuse(said, at)


def _parts(whole: Fraction, part: Fraction, end: int, step: Fraction | None = None) -> Number:
    return Number(whole + part, step or Fraction(1, part.denominator), end)
