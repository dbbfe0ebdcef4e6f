"""Every number that enters is checked once, at the door, and refused in one clear sentence.

Value objects and functions call :func:`number` on what they are given. What cannot be used raises
:class:`MeasureError`, which keeps the field, the value, the unit and the expectation apart, so that
a command or a panel can say the same thing in its own words.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import isfinite
from typing import Any, TypeVar

import numpy as np
from numpy.typing import ArrayLike, NDArray

FloatArray = NDArray[np.float64]

_Scalar = TypeVar("_Scalar", bound=np.generic)

#: No stem, log or outline in this project is wider than 20 m.
LARGEST_CM = 2000.0


class MeasureError(ValueError):
    """A value that cannot be used, with its field, value, unit and what was expected.

    field: name of the argument or column; value: what was given; unit: its unit, or "";
    expectation: what would have been accepted; where: row, index or place, or "".

    >>> str(MeasureError("tilt_deg", 95, "deg", "a number above -90 and below 90"))
    'tilt_deg is 95 deg; expected a number above -90 and below 90 deg.'
    """

    def __init__(
        self, field: str, value: object, unit: str, expectation: str, where: str = ""
    ) -> None:
        self.field = field
        self.value = value
        self.unit = unit
        self.expectation = expectation
        self.where = where
        super().__init__(self.sentence(field))

    def sentence(self, field_name: str) -> str:
        """The message, with the field called by field_name (a command's option, say)."""
        tail = f" {self.unit}" if self.unit else ""
        place = f" ({self.where})" if self.where else ""
        # a word has no unit, or one of its own
        value = shown(self.value) + ("" if isinstance(self.value, str) else tail)
        wanted = self.expectation + (tail if self.expectation[-1:].isdigit() else "")
        if isinstance(self.value, str) and wanted.endswith("number"):
            wanted += f" in{tail}" if tail else ""
        if self.value is None:
            value = "missing"
        elif self.value == "":
            value = "empty"
        return f"{field_name}{place} is {value}; expected {wanted}."


class ChoiceError(MeasureError):
    """A word that is none of those there are; those that are spelt like it are asked back.

    field: name of the argument; value: what was given; known: the words there are; listed: where,
    if they are too many for a sentence; asked: the words to ask back, where their
    letters do not tell.

    >>> print(ChoiceError("road", "elipse", ["classroom", "ellipse"]))
    road is 'elipse'; did you mean ellipse?
    >>> print(ChoiceError("road", "path", ["classroom", "ellipse"]))
    road is 'path'; expected one of: classroom, ellipse.
    """

    def __init__(
        self,
        field: str,
        value: object,
        known: Iterable[str],
        listed: str = "",
        asked: Iterable[str] = (),
    ) -> None:
        words = tuple(known)
        self.near = tuple(asked) or alike(value, words)
        super().__init__(field, value, "", listed or "one of: " + ", ".join(words))

    def sentence(self, field_name: str) -> str:
        """The question or the list, with the field called by field_name.

        field_name: how a command or a panel calls it.
        """
        if not self.near:
            return super().sentence(field_name)
        return f"{field_name} is {shown(self.value)}; did you mean {' or '.join(self.near)}?"


class OutlineError(MeasureError):
    """An outline that is not the edge of one stem: it crosses itself, or has too few points.

    fault: the whole sentence, with {} wherever a point is named; points: their numbers, from 1, in
    that order; file: name of the file in the sentence, if it could not be read; field: name of the
    argument.

    >>> error = OutlineError("the outline turns back at {}.", (5,))
    >>> str(error), str(error.told("row {}", {5: 6}))
    ('the outline turns back at point 5.', 'the outline turns back at row 6.')
    """

    def __init__(
        self, fault: str, points: Sequence[int] = (), file: str = "", field: str = "points_cm"
    ) -> None:
        self.fault, self.points, self.file = fault, tuple(points), file
        self.field, self.value, self.unit, self.where = field, None, "cm", ""
        self.expectation = "one closed edge that does not cross itself"
        self.message = self._filled("point {}", {})
        ValueError.__init__(self, self.message)

    def told(self, name: str, places: Mapping[int, int]) -> OutlineError:
        """The same fault, with its points called by where they stand in a file.

        name: "row {}" or the like; places: from a point's number to what stands in its name.
        """
        return OutlineError(self._filled(name, places), (), self.file, self.field)

    def _filled(self, name: str, places: Mapping[int, int]) -> str:
        if not self.points:  # a fault without points may quote a brace
            return self.fault
        return self.fault.format(*(name.format(places.get(one, one)) for one in self.points))

    def sentence(self, field_name: str) -> str:
        """The message, opened by field_name if it is another; the place is already in it."""
        return f"{field_name}: {self.message}" if field_name != self.field else self.message


class TypedError(MeasureError):
    """What was typed cannot be used, told in one plain sentence.

    says: the sentence; place: the character it points at, counted from 1, or None; value: what was
    given; field: what it was typed for; reach: what would have been accepted where a number was
    read but lies out of bounds, else "".

    >>> str(TypedError("Nothing was typed; expected a number."))
    'Nothing was typed; expected a number.'
    """

    def __init__(
        self,
        says: str,
        place: int | None = None,
        value: object = None,
        field: str = "number",
        reach: str = "",
    ) -> None:
        ValueError.__init__(self, says)
        self.says, self.place, self.reach = says, place, reach
        self.field, self.value, self.unit, self.expectation = field, value, "", "a number"
        self.where = f"place {place}" if place else ""

    def sentence(self, field_name: str) -> str:
        """The sentence, opened by field_name if it is another.

        field_name: how a command or a panel calls what was typed.
        """
        return self.says if field_name == self.field else f"{field_name}: {self.says}"


def shown(value: object) -> str:
    """A value as it is quoted in a message: short, on one line, with nothing hidden in it.

    value: anything.

    >>> shown(3.0), shown("a" * 100), shown(float("nan"))
    ('3', "'aaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaaa…'", 'nan')
    """
    if isinstance(value, str):
        text = value if len(value) <= 40 else value[:39] + "…"
        return ascii(text) if not text.isprintable() else f"'{text}'"
    if isinstance(value, bool | np.bool_):
        return str(bool(value))
    if isinstance(value, int | float | np.integer | np.floating):
        try:
            return f"{float(value):.10g}"
        except OverflowError:
            return "a number too large to hold"
    return " ".join(repr(value).split())[:60]


def alike(word: object, known: Iterable[str]) -> tuple[str, ...]:
    """Those of some words that are spelt like one, the nearest first; at most three.

    word: as it was given; capital letters, blanks and underscores do not count; known: the words.

    >>> alike("girth_to_Area", ["girth-to-area", "area-to-girth"]), alike("log", ["logs", "girth"])
    (('girth-to-area',), ('logs',))
    """
    if not isinstance(word, str):
        return ()
    from difflib import SequenceMatcher, get_close_matches

    spelt = {_spelt(one): one for one in known}
    wanted = _spelt(word[:100])
    if wanted in spelt:
        return (spelt[wanted],)
    near = get_close_matches(wanted, spelt, n=3, cutoff=0.65)
    alike_by = [SequenceMatcher(None, wanted, one).ratio() for one in near]
    # where one is spelt far more like it, the others are not meant
    return tuple(
        spelt[one] for one, by in zip(near, alike_by, strict=True) if by > alike_by[0] - 0.1
    )


def _spelt(word: str) -> str:
    return "-".join(word.casefold().replace("_", " ").replace("-", " ").split())


def quoted(text: object) -> str:
    """What was typed as a message quotes it: short, on one line, nothing hidden in it.

    text: anything.

    >>> quoted("furlong"), quoted("\u200b"), quoted("a" * 40)
    ('‘furlong’', '‘\\\\u200b’', '‘aaaaaaaaaaaaaaaaaaaaaaaaaaaaa…’')
    """
    words = text if isinstance(text, str) else type(text).__name__
    short = words if len(words) <= 30 else words[:29] + "…"
    return f"‘{short}’" if short.isprintable() else f"‘{ascii(short)[1:-1]}’"


def number(
    value: ArrayLike,
    field: str,
    unit: str,
    *,
    above: float | None = None,
    at_least: float | None = None,
    below: float | None = None,
    at_most: float | None = None,
) -> Any:
    """Finite float or float array inside the bounds, or a :class:`MeasureError`.

    value: a number or an array of any shape; field, unit: how to name it in the message;
    above, below: open bounds; at_least, at_most: closed bounds (all in `unit`).
    Returns a float for a scalar, else a float64 array of the same shape.

    >>> number(48, "second_cm", "cm", above=0, at_most=2000)
    48.0
    >>> number([60, -1], "first_cm", "cm", above=0)
    Traceback (most recent call last):
    mensura.checks.MeasureError: first_cm (item 2) is -1 cm; expected a finite number above 0 cm.
    """
    # a panel's move checks a hundred single numbers: a good one is let through at once
    given: Any = value
    kind: Any = type(given)
    if kind is float or kind is np.float64 or (kind is int and abs(given) < 2**53):
        one = float(given)
        if (
            isfinite(one)
            and (above is None or one > above)
            and (at_least is None or one >= at_least)
            and (below is None or one < below)
            and (at_most is None or one <= at_most)
        ):
            return one
    expectation = _expectation(above, at_least, below, at_most)
    if isinstance(value, bool | str | bytes):
        raise MeasureError(field, value, unit, expectation)
    try:
        given = np.asarray(value)
        if given.dtype.kind not in "iufO":  # truth values, words, dates, complex numbers
            raise TypeError
        array = given.astype(np.float64, copy=False)
    except (TypeError, ValueError, OverflowError):
        raise MeasureError(field, value, unit, expectation) from None
    if array.size:
        # nan fails every comparison, so these two passes also catch what is not finite
        low, high = array.min(), array.max()
        good = (
            np.isfinite(low)
            and np.isfinite(high)
            and (above is None or low > above)
            and (at_least is None or low >= at_least)
            and (below is None or high < below)
            and (at_most is None or high <= at_most)
        )
        if not good:
            _refuse(array, field, unit, expectation, above, at_least, below, at_most)
    return float(array) if array.ndim == 0 else array


def plain(value: Any) -> Any:
    """A float for a single number, the float64 array itself for many.

    value: result of a computation, no particular unit.

    >>> plain(np.float64(2.5)), plain(np.array([1.0, 2.0])).tolist()
    (2.5, [1.0, 2.0])
    """
    return float(value) if np.ndim(value) == 0 else np.asarray(value, dtype=np.float64)


def kept(array: NDArray[_Scalar]) -> NDArray[_Scalar]:
    """The same array, read only: what is kept is given to many, and is nobody's to change.

    array: any array; its numbers keep their unit.

    >>> kept(np.array([1.0, 2.0])).flags.writeable
    False
    """
    array.flags.writeable = False
    return array


def whole(value: object, field: str, *, at_least: int, at_most: int) -> int:
    """A whole number inside the bounds, or a :class:`MeasureError`.

    value: what was given; field: its name; at_least, at_most: closed bounds, no unit.

    >>> whole(24, "ridges", at_least=3, at_most=2000)
    24
    """
    expectation = f"a whole number from {at_least} to {at_most}"
    integral = isinstance(value, int | np.integer) and not isinstance(value, bool)
    if not integral and isinstance(value, float) and value.is_integer():
        integral = True
    if not integral or not at_least <= int(value) <= at_most:  # type: ignore[call-overload]
        raise MeasureError(field, value, "", expectation)
    return int(value)  # type: ignore[call-overload, no-any-return]


def diameter(value: ArrayLike, field: str) -> Any:
    """A diameter, width or girth-like length in cm: finite, above 0, at most 20 m.

    value: number or array in cm; field: its name.
    """
    return number(value, field, "cm", above=0.0, at_most=LARGEST_CM)


def _expectation(
    above: float | None, at_least: float | None, below: float | None, at_most: float | None
) -> str:
    bounds = [
        f"{words} {bound:g}"
        for words, bound in (
            ("above", above),
            ("at least", at_least),
            ("below", below),
            ("at most", at_most),
        )
        if bound is not None
    ]
    return "a finite number" + (" " + " and ".join(bounds) if bounds else "")


def _refuse(
    array: FloatArray,
    field: str,
    unit: str,
    expectation: str,
    above: float | None,
    at_least: float | None,
    below: float | None,
    at_most: float | None,
) -> None:
    flat = array.ravel()
    bad = ~np.isfinite(flat)
    if above is not None:
        bad |= ~(flat > above)
    if at_least is not None:
        bad |= ~(flat >= at_least)
    if below is not None:
        bad |= ~(flat < below)
    if at_most is not None:
        bad |= ~(flat <= at_most)
    first = int(np.argmax(bad))
    where = f"item {first + 1}" if array.ndim else ""
    raise MeasureError(field, float(flat[first]), unit, expectation, where)
