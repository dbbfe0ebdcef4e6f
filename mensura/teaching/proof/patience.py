"""How long a line may be thought about: a deadline inside the decision.

The decision counts its own steps and looks at its thread's clock. Single calls of the algebra
(common divisors, factors, roots of polynomials) may be long, so before one that may be, and after
a tenth of the time, the interpreter is asked to count the calls within it as well. No signal and
no second thread or process is used, so that it works in a kernel and under any system.
"""

from __future__ import annotations

import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from math import prod
from typing import Any

#: Steps, and seconds of the thread's own time, after which a decision is given up. A machine that
#: is fast enough gives up by the steps alone, and so on the same lines as any other.
MOST_STEPS = 4_000_000
MOST_SECONDS = 1.4

#: From so many seconds, or for polynomials of so many digits in all, calls are counted too.
_COUNTED_FROM = 0.12
_LONG = 3_000

#: Whole numbers of more bits than this keep the interpreter too long in a single multiplication.
_LONGEST = 400_000

_LOOKS = 2048  # the clock is looked at once in so many steps


class OutOfTime(BaseException):
    """The time is up. No Exception, so that no algebra that tries one way and another eats it."""


class _Decision(threading.local):
    """The decision that runs in this thread: the steps left, and when its time is up."""

    running = False
    left = 0
    end = 0.0
    counted_from = 0.0
    counting = False


_now = _Decision()


@contextmanager
def deciding(steps: int = MOST_STEPS, limit_s: float = MOST_SECONDS) -> Iterator[None]:
    """A stretch of work that may take so long; a stretch within another shares its time.

    steps, limit_s: the most, in calls and in seconds. Raises OutOfTime within the stretch.

    >>> with deciding():
    ...     tick()
    """
    if _now.running:
        yield
        return
    start = time.thread_time()
    _now.running, _now.counting, _now.left = True, False, steps
    _now.end, _now.counted_from = start + limit_s, start + min(_COUNTED_FROM, limit_s / 10)
    try:
        yield
    finally:
        _now.left, _now.end = steps, float("inf")  # nothing is raised while this is put away
        if _now.counting:
            sys.setprofile(None)
        _now.running = _now.counting = False


def tick(steps: int = 1) -> None:
    """Count steps of a loop. steps: how many. Raises OutOfTime when there are none left."""
    if not _now.running:
        return
    _now.left -= steps
    here = time.thread_time()
    if _now.left < 0 or here > _now.end:
        raise OutOfTime
    if not _now.counting and here > _now.counted_from:
        _count()


def brace(*polys: Any, times: int = 1) -> None:
    """Before a call of the algebra that may be long: if these are long, calls are counted.

    polys: polynomials, as mappings of powers to rational numbers; times: how much longer the call
    is than a product's. Raises OutOfTime as tick does.
    """
    tick()
    if not _now.running:
        return
    terms = [term for poly in polys for term in poly.items()]
    lengths = [_bits(factor) for _, factor in terms]
    # a common divisor is looked for with one whole number in place of a polynomial, so long:
    highest = [1 + max(powers) for powers in zip(*(powers for powers, _ in terms), strict=True)]
    if prod(highest) * (8 + max(lengths, default=0)) > _LONGEST:
        raise OutOfTime
    if not _now.counting and times * sum(1 + length // 4 for length in lengths) > _LONG:
        _count()


def _bits(number: Any) -> int:
    return int(number.numerator.bit_length() + number.denominator.bit_length())


def _count() -> None:
    if sys.getprofile() is None:  # another one's counting is left alone; our own loops go on
        _now.counting = True
        sys.setprofile(_called)


def _called(frame: Any, event: str, argument: Any) -> None:
    _now.left -= 1
    if _now.left < 0 or (_now.left % _LOOKS == 0 and time.thread_time() > _now.end):
        raise OutOfTime
