"""How a round's numbers are drawn, so that a round that was given out stays the same for ever.

A game has editions. A row of its list says since which edition it is in the game, and a round of an
edition knows the rows of that edition and of those before it: a row that is added later moves
nobody's round. Edition 1 takes all its numbers from one stream, in the order of its rows; from
edition 2 on each quantity has a key of its own.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Iterable, Sequence
from typing import Protocol, TypeVar

from mensura.checks import whole
from mensura.draws import uniforms

T = TypeVar("T")


class Dated(Protocol):
    """A row of a game's list."""

    @property
    def since(self) -> int:
        """The edition in which it came into the game."""


D = TypeVar("D", bound=Dated)


def of_edition(rows: Iterable[D], edition: int, latest: int) -> list[D]:
    """The rows of an edition: the oldest first, those of one edition as they stand in the list.

    rows: of a game; edition: from 1; latest: the edition that is played, beyond which rounds may
    still change. Raises MeasureError for an edition that there is not.
    """
    last = whole(edition, "edition", at_least=1, at_most=latest)
    return sorted((one for one in rows if one.since <= last), key=lambda one: one.since)


class Draws(ABC):
    """Where the numbers of a round come from."""

    @abstractmethod
    def share(self, name: str) -> float:
        """A number in [0, 1) for the quantity `name`."""

    @abstractmethod
    def of(self, name: str) -> Draws:
        """The draws for what belongs to `name`."""

    def pick(self, name: str, options: Sequence[T]) -> T:
        """One of some options.

        name: of the choice; options: what there is to choose from.
        """
        return options[int(self.share(name) * len(options))]

    def between(self, name: str, low: float, high: float, step: float) -> float:
        """A number between two ends, in whole steps.

        name: of the quantity; low, high, step: in the quantity's unit.
        """
        return float(round(round((low + (high - low) * self.share(name)) / step) * step, 6))


class Stream(Draws):
    """Edition 1: one stream of numbers, taken one after the other whatever they are for.

    count: how many there are at most; key: of the round.
    """

    def __init__(self, count: int, *key: object) -> None:
        self._numbers = iter(uniforms(count, *key).tolist())

    def share(self, name: str) -> float:
        """The next number of the stream; `name` does not matter."""
        return float(next(self._numbers))

    def of(self, name: str) -> Draws:
        """The stream itself, whatever `name`."""
        return self


class Keyed(Draws):
    """Edition 2 and later: each quantity by its name.

    key: of the round.

    >>> one = Keyed("example", 2, 7)
    >>> one.of("tilt").share("tilt_deg") == Keyed("example", 2, 7, "tilt").share("tilt_deg")
    True
    """

    def __init__(self, *key: object) -> None:
        self._key = key

    def share(self, name: str) -> float:
        """The number that belongs to `name` in this round."""
        return float(uniforms(1, *self._key, name)[0])

    def of(self, name: str) -> Draws:
        """The draws whose names stand behind `name`."""
        return Keyed(*self._key, name)


def draws(edition: int, count: int, purpose: str, *key: object) -> Draws:
    """The numbers of a round.

    edition: of the game; count: how many a round of edition 1 takes at most; purpose: the game's;
    key: seed, attempt.
    """
    return Stream(count, purpose, *key) if edition == 1 else Keyed(purpose, edition, *key)
