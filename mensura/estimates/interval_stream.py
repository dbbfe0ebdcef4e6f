"""Mean, spread and interval of numbers that come in a stream, without keeping them.

The ends of an interval are two of the numbers, by their rank. The first numbers tell closely where
those two will lie; from then on only what falls there is kept, and the rest is counted. So the ends
are exactly those of all numbers sorted, and memory hardly grows with their count.
"""

from __future__ import annotations

from math import floor, sqrt

import numpy as np

from mensura.checks import FloatArray

#: How many numbers are kept whole before the two windows are set.
FIRST = 2**17
#: Half a window, in standard errors of an end as the first numbers tell it: a miss once in 10^15.
WITHIN = 8.0


def ranks(count: int, coverage_percent: float) -> tuple[int, int]:
    """Which numbers of a sorted list are the ends of the symmetric interval, counted from 0.

    count: of the numbers; coverage_percent: between the ends. As clause 7.7 of [JCGM101] has it.

    >>> ranks(1000, 95.0)
    (24, 974)
    """
    inside = floor(count * coverage_percent / 100 + 0.5)
    first = max(1, floor((count - inside + 1) / 2))
    return first - 1, min(first + inside, count) - 1


class MissedError(Exception):
    """An end lies outside its window: all must be gone through again, with wider ones."""


class IntervalStream:
    """Takes numbers in chunks, and tells their mean, their spread and an interval.

    count: how many there will be; coverage_percent: between the interval's ends; first: how many
    are kept whole before the windows are set; within: half a window, in standard errors.
    """

    def __init__(
        self, count: int, coverage_percent: float, first: int = FIRST, within: float = WITHIN
    ) -> None:
        self.count, self.within = count, within
        self.ranks = ranks(count, coverage_percent)
        self.mean, self._squares, self._seen = 0.0, 0.0, 0
        self._first = min(first, count)
        self._early: list[FloatArray] = []
        self._bounds: list[tuple[float, float]] = []
        self._below = [0, 0]
        self._inside: list[list[FloatArray]] = [[], []]

    def add(self, chunk: FloatArray) -> None:
        """Takes the next numbers.

        chunk: any unit.
        """
        size, middle = chunk.size, float(chunk.mean())
        off = middle - self.mean
        both = self._seen + size
        self._squares += float(np.square(chunk - middle).sum())
        self._squares += off * off * self._seen * size / both
        self.mean += off * size / both
        self._seen = both
        if self._bounds:
            self._sift(chunk)
            return
        self._early.append(chunk.copy())
        if self._seen >= self._first:
            early = np.concatenate(self._early)
            self._early = []
            self._set_windows(early)
            self._sift(early)

    def _set_windows(self, early: FloatArray) -> None:
        ordered, size = np.sort(early), early.size
        for rank in self.ranks:
            share = (rank + 0.5) / self.count
            at, reach = share * size, self.within * sqrt(size * share * (1 - share)) + 2
            low, high = floor(at - reach), floor(at + reach) + 1
            whole = size >= self.count
            self._bounds.append(
                (
                    float(ordered[low]) if low >= 0 and not whole else -np.inf,
                    float(ordered[high]) if high < size and not whole else np.inf,
                )
            )

    def _sift(self, chunk: FloatArray) -> None:
        for end, (low, high) in enumerate(self._bounds):
            self._below[end] += int(np.count_nonzero(chunk < low))
            self._inside[end].append(chunk[(chunk >= low) & (chunk <= high)])

    @property
    def u(self) -> float:
        """Standard deviation, in the numbers' unit."""
        return sqrt(self._squares / max(self._seen - 1, 1))

    @property
    def kept(self) -> int:
        """How many numbers are kept at present."""
        lists = [self._early, *self._inside]
        return sum(one.size for some in lists for one in some)

    def number_at(self, end: int, away: float = 0.0) -> float:
        """The number at an end of the interval.

        end: 0 for the lower, 1 for the upper; away: ranks further on. Raises MissedError.
        """
        held = np.concatenate(self._inside[end])
        place = self.ranks[end] - self._below[end] + round(away)
        if not 0 <= place < held.size:
            raise MissedError
        return float(np.partition(held, place)[place])

    def interval(self) -> tuple[float, float]:
        """Both ends, in the numbers' unit. Raises MissedError."""
        return self.number_at(0), self.number_at(1)

    def interval_errors(self) -> tuple[float, float]:
        """Standard error of each end for want of more numbers, in the numbers' unit.

        From the numbers that stand as many ranks away as the count below an end may be off.
        """
        found = []
        for end, rank in enumerate(self.ranks):
            share = (rank + 0.5) / self.count
            off = max(1.0, sqrt(self.count * share * (1 - share)))
            # at the very end of a short list there is nothing further on
            up = min(rank + round(off), self.count - 1) - rank
            down = rank - max(rank - round(off), 0)
            found.append((self.number_at(end, up) - self.number_at(end, -down)) / 2)
        return found[0], found[1]
