"""Units as people write them, each with one canonical name, a dimension and an exact factor.

Inch, foot, yard and acre follow the yard of 0.9144 m, by definition [NBS1959]; the acre is 4840
square yards. The hoppus foot is the quarter-girth cubic foot, so it holds 4/π true ones
[Rowlett]. Other factors are powers of ten.
"""

from __future__ import annotations

import math
import re
from dataclasses import dataclass
from fractions import Fraction

from mensura.checks import TypedError, number, quoted


class AnswerError(TypedError):
    """An answer that cannot be used, told in one plain sentence; the fields are TypedError's.

    says, place, value, field, reach: as there.

    >>> str(AnswerError("Nothing was typed; expected a number."))
    'Nothing was typed; expected a number.'
    """

    def __init__(
        self,
        says: str,
        place: int | None = None,
        value: object = None,
        field: str = "answer",
        reach: str = "",
    ) -> None:
        super().__init__(says, place, value, field, reach)


@dataclass(frozen=True)
class Unit:
    """One unit.

    name: as it is written here; dimension: a key of DIMENSIONS; size: in m, m², m³,
    per m² of ground, or in the dimension's one unit; exact but for the hoppus foot.
    """

    name: str
    dimension: str
    size: Fraction


#: What a dimension is called in a sentence.
DIMENSIONS = {
    "length": "a length",
    "area": "an area",
    "volume": "a volume",
    "area on ground": "an area of stems on an area of ground",
    "volume on ground": "a volume on an area of ground",
    "count on ground": "a number of stems on an area of ground",
    "number": "a plain number or a share",
    "angle": "an angle",
    "temperature": "a temperature",
    "force": "a force",
}

_INCH = Fraction(254, 10_000)  # of a metre
_FOOT = 12 * _INCH
_ACRE = 43_560 * _FOOT**2
_HA = Fraction(10_000)
_CM, _MM, _DM = Fraction(1, 100), Fraction(1, 1000), Fraction(1, 10)
#: A float's π is near enough: the hoppus foot is no defined unit.
_HOPPUS = _FOOT**3 * 4 / Fraction(math.pi)

#: Canonical name → unit.
UNITS: dict[str, Unit] = {
    name: Unit(name, dimension, size)
    for dimension, group in {
        "length": {
            "mm": _MM, "cm": _CM, "dm": _DM, "m": Fraction(1), "in": _INCH, "ft": _FOOT,
            "yd": 3 * _FOOT, "µm": _MM / 1000,
        },
        "area": {
            "mm²": _MM**2, "cm²": _CM**2, "dm²": _DM**2, "m²": Fraction(1), "in²": _INCH**2,
            "ft²": _FOOT**2, "ha": _HA, "acre": _ACRE,
        },
        "volume": {
            "cm³": _CM**3, "dm³": _DM**3, "l": _DM**3, "m³": Fraction(1), "in³": _INCH**3,
            "ft³": _FOOT**3, "hoppus ft": _HOPPUS,
        },
        "area on ground": {"m²/ha": 1 / _HA, "ft²/acre": _FOOT**2 / _ACRE},
        "volume on ground": {"m³/ha": 1 / _HA, "ft³/acre": _FOOT**3 / _ACRE},
        "count on ground": {"/ha": 1 / _HA, "/acre": 1 / _ACRE},
        "number": {"": Fraction(1), "%": Fraction(1, 100), "‰": _MM, "cm/m": Fraction(1, 100)},
        "angle": {"°": Fraction(1)},
        "temperature": {"°C": Fraction(1)},
        "force": {"N": Fraction(1)},
    }.items()
    for name, size in group.items()
}  # fmt: skip

_SPELLINGS = {
    "mm": "mm millimetre millimetres millimeter millimeters",
    "cm": "cm cms centimetre centimetres centimeter centimeters ㎝",
    "dm": "dm decimetre decimetres decimeter decimeters",
    "m": "m metre metres meter meters",
    "in": "in ins inch inches",
    "ft": "ft feet foot",
    "yd": "yd yds yard yards",
    "ha": "ha hectare hectares",
    "acre": "ac acre acres",
    "l": "l litre litres liter liters",
    "µm": "µm um micron microns micrometre micrometres micrometer micrometers",
    "cm³": "cc ㎤",
    "mm²": "㎟",
    "cm²": "㎠ qcm",
    "m²": "㎡ qm mq",
    "m³": "㎥ cbm fm",
    "ft³": "cft cf",
    "hoppus ft": "hoppus hft",
    "%": "% percent pct pc",
    "‰": "‰ permille",
    "°": "° º deg degs degree degrees",
    "°C": "°c ºc oc ℃ degc celsius centigrade",
    "N": "newton newtons",
    "": "stem stems tree trees",
}
#: One unit, as a small-letter word or a few words → canonical name.
_WORDS = {word: name for name, words in _SPELLINGS.items() for word in words.split()} | {
    **dict.fromkeys(("° c", "º c", "deg c", "degree c", "degrees c"), "°C"),
    **{
        f"{degree} {scale}": "°C"
        for degree in ("degree", "degrees", "deg", "°")
        for scale in ("celsius", "centigrade")
    },
    **dict.fromkeys(("hoppus foot", "hoppus feet", "hoppus ft", "h ft"), "hoppus ft"),
    **dict.fromkeys(("cubic feet hoppus", "cu ft hoppus"), "hoppus ft"),
    **dict.fromkeys(("hoppus cubic feet", "hoppus cubic foot", "hoppus cu ft"), "hoppus ft"),
    **dict.fromkeys(("per cent", "p c"), "%"),
    **dict.fromkeys(("per mille", "per mil"), "‰"),
}
#: How stems are counted before "per hectare".
_STEMS = {"n", "st", "no", "1"}
#: Known, but no measure of this course.
_ELSEWHERE = re.compile(r"k|kelvins?|(?:°|º|deg|degrees?)? ?(?:f|fahrenheit)", re.IGNORECASE)
#: Where a capital letter matters, or is the usual sign.
_EXACT = {"N": "N", "C": "°C", "'": "ft", "′": "ft", "’": "ft", "‘": "ft"} | dict.fromkeys(
    ('"', "″", "”", "“", "''", "′′", "’’"), "in"
)
_RAISED = {"2": "²", "3": "³", "squared": "²", "cubed": "³", "sq": "²", "cu": "³"}
_BEFORE = {"sq": "²", "square": "²", "cu": "³", "cubic": "³"}
_POWER = re.compile(
    r"(?:solid )?(?:(square|sq|cubic|cu) ?)?(.*?)(?: ?(2|3)| (squared|cubed|sq|cu))?(?: u b)?"
)
_IN_BRACKETS = re.compile(r"(?:\^|\*\*) ?[({] ?([-−⁻]?) ?([123]) ?[)}]")
_ONE = re.compile(r"^1 ?(?=/)|(?<=per )1 (?=ha|ac)|(?<=/)1 ?(?=ha|ac)")
_TO_PLAIN = str.maketrans(
    {"²": "2", "³": "3", "⁻": "-", "−": "-", "¹": "1"} | dict.fromkeys(".·⋅∙*", " ")
)


def tidied(text: str) -> str:
    """A unit with its powers and its "per" written in one way.

    text: as it was typed.

    >>> tidied("m^{2}"), tidied("ha^(-1)"), tidied("1/ha"), tidied("per 1 ha")
    ('m^2', 'ha^-1', '/ha', 'per ha')
    """
    plain = _IN_BRACKETS.sub(lambda power: f"^{power[1]}{power[2]}", " ".join(text.split()))
    return _ONE.sub("", plain)


def read_unit(text: str, asked: str = "") -> str:
    """The canonical name of a unit as it was typed.

    text: like "sq cm", "m2", "m² per hectare"; asked: unit of the answer, which decides where a
    spelling may stand for several: of a temperature "°" and "c" are degrees Celsius, and where
    stems per hectare are asked "stems" are those. Raises AnswerError, naming the known ones.

    >>> read_unit("sq. cm"), read_unit("m2 ha-1"), read_unit("Cubic metres"), read_unit("%")
    ('cm²', 'm²/ha', 'm³', '%')
    >>> read_unit("degrees"), read_unit("degrees", "°C"), read_unit("stems", "/ha")
    ('°', '°C', '/ha')
    """
    typed = tidied(text)
    found = _EXACT.get(typed)
    if found is None:
        found = _read(typed)
    dimension = UNITS[asked].dimension if asked in UNITS else ""
    if dimension == "temperature" and (found == "°" or typed == "c"):
        return "°C"
    if dimension == "count on ground" and found == "":
        return asked
    if found is None and _ELSEWHERE.fullmatch(typed):
        raise AnswerError("Temperatures are in °C here; write it in °C.", value=text)
    if found is None:
        raise AnswerError(
            f"The unit {quoted(typed)} is not known; known are {', '.join(_alike(typed))}.",
            value=text,
        )
    return found


def _read(typed: str) -> str | None:
    plain = typed.lower().translate(_TO_PLAIN).replace("**", "").replace("^", "")
    plain = " ".join(plain.split())
    if plain[:1] in "([" and plain[-1:] in ")]":
        plain = plain[1:-1].strip()
    single = _single(plain)
    if single is not None:
        return single
    above, sign, below = re.sub(r"(?:^|(?<= ))per ", "/", plain).partition("/")
    if not sign:
        # m2 ha-1
        split = re.fullmatch(r"(.*?) ?(ha|ac|acre|m) ?-1", plain)
        if split is None:
            return None
        above, below = split.groups()
    above, second = above.strip(), _single(below.strip())
    first = "" if not above or above in _STEMS else _single(above)
    if first is None or not second:
        return None
    name = f"{first}/{second}"
    return name if name in UNITS else None


def _single(plain: str) -> str | None:
    """A unit without "per"; the power may be said before it or behind it, not both."""
    if plain in _WORDS:
        return _WORDS[plain]
    match = _POWER.fullmatch(plain)
    if match is None:
        return None
    before, word, digit, said = match.groups()
    power = _RAISED.get(digit or said or "", "")
    if before and power:
        return None
    base = _WORDS.get(word)
    name = f"{base}{power or _BEFORE.get(before or '', '')}"
    return name if base and name in UNITS else None


def _alike(typed: str) -> list[str]:
    """The units of the kind that was probably meant, or the common ones of every kind."""
    low = typed.lower()
    if "/" in low or "per " in f"{low} " or "-1" in low or "⁻" in low:
        kinds = ["area on ground", "volume on ground", "count on ground"]
    elif re.search(r"sq|2|²", low):
        kinds = ["area"]
    elif re.search(r"cu|3|³", low):
        kinds = ["volume"]
    else:
        kinds = ["length", "area", "volume", "number", "angle", "temperature", "force"]
    return [name for name, unit in UNITS.items() if unit.dimension in kinds and name]


def convert(value: float, from_unit: str, to_unit: str) -> float:
    """A value in another unit of the same kind.

    value: in from_unit; from_unit, to_unit: canonical names of UNITS. Raises AnswerError if the
    kinds differ, and says how; MeasureError for a value that is not finite.

    >>> convert(1, "in", "cm"), convert(7854, "cm²", "m²"), convert(1, "acre", "m²")
    (2.54, 0.7854, 4046.8564224)
    >>> convert(3, "cm", "cm²")
    Traceback (most recent call last):
    mensura.teaching.answers.units.AnswerError: cm is a length; expected an area, like cm².
    """
    given, wanted = _known(from_unit), _known(to_unit)
    checked = number(value, "value", from_unit)
    if given.dimension != wanted.dimension:
        called = f"{from_unit} is" if from_unit else "A number without a unit is"
        like = f", like {to_unit}" if to_unit else ""
        said = DIMENSIONS[given.dimension] if from_unit else "no measure"
        raise AnswerError(
            f"{called} {said}; expected {DIMENSIONS[wanted.dimension]}{like}.", value=from_unit
        )
    try:
        return float(Fraction(checked) * given.size / wanted.size)
    except OverflowError:
        raise AnswerError(f"{checked:g} {from_unit} is too large in {to_unit}.") from None


def _known(name: str) -> Unit:
    if name not in UNITS:
        named = ", ".join(each for each in UNITS if each)
        raise AnswerError(f"The unit {quoted(name)} is not known; known are {named}.", value=name)
    return UNITS[name]
