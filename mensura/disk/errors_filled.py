"""What cards and a practical found out, in the place of what was only supposed.

A card says how far its instrument may be off after it was corrected: one for all trees. A practical
says how far a hand's own readings lie apart, which is new for each tree, and how far hands lie
apart, which is one for all trees that a hand measures. Whoever was found off is left out of that:
how far it is off is known, and no matter of chance. Whatever neither tells stays as it was.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from math import pi, sqrt
from pathlib import Path
from typing import Any

from mensura.checks import ChoiceError, number, whole
from mensura.disk.card_file import read_card
from mensura.disk.check_file import FileError, Where
from mensura.disk.practical_file import (
    Told,
    code_of,
    number_in_row,
    parse_told,
    read_practical,
    without_off,
)
from mensura.estimates.card_correction import READ, error_of_several
from mensura.estimates.hand_words import listed
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.instruments.tape_card import Card

#: Stands in the origin of what one card leaves unsure.
BY_IT = "for readings corrected by it"


def filled_errors(
    errors: Iterable[InputError] = DEFAULTS, *found: Sequence[InputError]
) -> tuple[InputError, ...]:
    """The errors with those that were found out in the place of those of the same inputs.

    errors: as they were supposed; found: of :func:`errors_of_cards` and
    :func:`errors_of_practical`.

    >>> card = (InputError("instrument", 0.1, "%", "all", "card of T2"),)
    >>> [one.u for one in filled_errors(DEFAULTS[:2], card)]
    [0.1, 1.0]
    """
    new = [one for some in found for one in some]
    named = {one.name for one in new}
    kept = [one for one in errors if one.name not in named]
    return (*new, *kept)


# ---- cards ---------------------------------------------------------------------------------------


def errors_of_cards(
    paths: Sequence[Where], diameter_cm: float, kind: str | None = None
) -> tuple[InputError, ...]:
    """The instrument's error from the cards of those that measured the stand.

    paths: of files as `mensura tape-card --out` writes them; diameter_cm: of a stem as thick as
    those that count most, above 0; kind: "girth" or "diameter", as it was read, None for whatever
    the first card's instrument reads. Readings are to be corrected by one card first, since only
    what is left after that is told here. By several nothing can be corrected, and how far they lie
    off is in the error. Raises FileError, for a card of the other kind as well.
    """
    cards = cards_of(paths, kind)
    if not cards:
        return ()
    named = [(one, Path(path).name) for path, one in cards.items()]
    found = tuple(error_of_card(one, diameter_cm, name) for one, name in named)
    if len(found) == 1:
        return found
    read = READ[named[0][0].kind]
    return (error_of_several([one for one, _ in named], read, diameter_cm),)


def cards_of(paths: Sequence[Where], kind: str | None = None) -> dict[Where, Card]:
    """Cards from their files, the same one once.

    paths: of files; kind: what was read, as for :func:`errors_of_cards`. Raises FileError.
    """
    found: dict[Where, Card] = {}
    for path in paths:
        one, name = read_card(path), Path(path).name
        kind = kind or READ[one.kind]
        if READ[one.kind] != kind:
            whose = "a tape" if one.kind == "tape" else "calipers"
            wanted = "that of a tape" if kind == "girth" else "that of calipers"
            raise FileError(
                name, "", f"is the card of {whose}", f"{wanted}, since {kind}s were read", "card"
            )
        if one.u_rise is None:
            raise _two_marks(name)
        if one not in found.values():
            found[path] = one
    return found


def _two_marks(name: str) -> FileError:
    expected = "a card of three marks or more, which says how sure it is"
    return FileError(name, "", "has two marks only", expected, "card")


def error_of_card(card: Card, diameter_cm: float, name: str = "the card") -> InputError:
    """The instrument's error from one card, in per cent of the reading.

    card: of a tape or calipers; diameter_cm: of a stem; name: of the card's file, for refusals.
    Raises FileError for a card of two marks, which cannot say how sure it is.

    >>> from mensura.instruments import card
    >>> error_of_card(card([50, 100, 150], [50.1, 100.0, 150.1], instrument="T2"), 35.0).origin
    'card of T2, for readings corrected by it, at a girth of 110 cm'
    """
    across = float(number(diameter_cm, "diameter_cm", "cm", above=0.0, at_most=2000.0))
    read = READ[card.kind]
    true = across * pi if read == "girth" else across
    reading = card.rise * true + card.start_cm
    u = card.u_true_cm(reading) if reading > 0 else None
    if u is None:
        raise _two_marks(name)
    whose = card.instrument or f"a {card.kind} without a code".replace("a calipers", "calipers")
    origin = f"card of {whose}, {BY_IT}, at a {read} of {true:.0f} cm"
    if card.drawn_on(reading):
        origin += ", outside of its marks"
    return InputError("instrument", _short(100 * float(u) / true), "%", "all", origin)


def _short(u: float) -> float:
    """Three figures: nobody knows an uncertainty better."""
    return float(f"{u:.3g}")


# ---- a practical ---------------------------------------------------------------------------------


def errors_of_practical(
    path: Where, kind: str = "girth", instrument: str = "", hands: int = 1
) -> tuple[InputError, ...]:
    """The hand's errors from a practical: between a hand's own readings, and between hands.

    path: of a file that holds what `mensura practical --json` prints; kind: "girth" or "diameter",
    as the stand was measured; instrument: code of the one that measured it, "" for all of its kind,
    the root of the mean square over their stems; hands: how many shared the stand's trees evenly, 1
    or more, so that between them averages out over so many. In cm of what was read, without the
    hands that were found off, where it is told without them: the origin names them. Raises
    FileError.
    """
    return errors_of_told(read_practical(path), kind, instrument, hands)


def parse_practical(
    text: str, name: str = "the file", kind: str = "girth", instrument: str = "", hands: int = 1
) -> tuple[InputError, ...]:
    """The same from the text.

    text: JSON; name: of the file, for refusals; kind, instrument, hands: as for
    :func:`errors_of_practical`. Raises FileError.

    >>> found = parse_practical('{"hands": [], "precision": [{"instrument": "T1", "kind": "girth",'
    ...     '"stems": 9, "repeatability_cm": 0.2, "between_hands_cm": 0.6}]}', hands=4)
    >>> [(one.u, one.unit, one.scope) for one in found]
    [(0.2, 'cm', 'tree'), (0.3, 'cm', 'all')]
    """
    return errors_of_told(parse_told(text, name), kind, instrument, hands)


def errors_of_told(
    practical: Told, kind: str = "girth", instrument: str = "", hands: int = 1
) -> tuple[InputError, ...]:
    """The same from what was read already.

    practical: of :func:`mensura.disk.practical_file.read_practical`; kind, instrument, hands: as
    for :func:`errors_of_practical`. Raises FileError.
    """
    name = practical.name
    if kind not in READ.values():
        raise ChoiceError("kind", kind, tuple(READ.values()))
    count = whole(hands, "hands", at_least=1, at_most=1000)
    rows = [one for one in practical.precision if one.get("kind") == kind]
    if not rows:
        raise FileError(name, "precision", f"has no {kind}s", f"an instrument that reads {kind}s")
    if instrument:
        known = [str(one.get("instrument")) for one in rows]
        rows = [one for one, code in zip(rows, known, strict=True) if _same(code, instrument)]
        if not rows:
            raise ChoiceError("instrument", instrument, known)
    left_out: dict[str, None] = {}
    still_in: dict[str, None] = {}
    told = []
    for row in rows:
        used, off, kept = without_off(row, name)
        if used.get("repeatability_cm") is not None:
            told.append(used)
            left_out |= dict.fromkeys(off)
            still_in |= dict.fromkeys(kept)
    if not told:
        expected = "a practical in which hands read a stem twice"
        raise FileError(name, "precision", "tells no repeatability", expected)
    codes = ", ".join(code_of(one, name) for one in told)
    whose = f"practical, {codes}" if len(told) <= 4 else f"practical, {len(told)} instruments"
    without = f", without {listed(tuple(left_out))}, found off" if left_out else ""
    without += f", with {listed(tuple(still_in))}, found off" if still_in else ""
    own = _pooled(told, "repeatability_cm", name)
    said = f"{whose}: one hand's own readings{without}"
    found = [InputError("hand", _short(own), "cm", "tree", said)]
    between = [one for one in told if one.get("between_hands_cm") is not None]
    if between:
        apart = _pooled(between, "between_hands_cm", name) / sqrt(count)
        shared = "one hand measures all" if count == 1 else f"{count} hands share the trees"
        origin = f"{whose}: between hands, where {shared}{without}"
        found.append(InputError("hand", _short(apart), "cm", "all", origin))
    return tuple(found)


def _same(code: str, other: str) -> bool:
    return code.casefold() == other.strip().casefold()


def _pooled(rows: Sequence[Mapping[str, Any]], key: str, name: str) -> float:
    """The root of the mean square over the rows, each counted as often as it has stems."""
    sums, stems = 0.0, 0.0
    for row in rows:
        own, here = (
            number_in_row(row, key, name, 0.0, 100.0),
            number_in_row(row, "stems", name, 0.0, 1e6),
        )
        sums, stems = sums + here * own**2, stems + here
    if stems <= 0:
        raise FileError(name, "precision, stems", "is 0", "a stem or more")
    return sqrt(sums / stems)
