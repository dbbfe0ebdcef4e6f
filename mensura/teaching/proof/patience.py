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
from typing import Any

#: Steps, and seconds of the thread's own time, after which a decision is given up. A machine that
#: is fast enough gives up by the steps alone, and so on the same lines as any other.
MOST_STEPS = 4_000_000
MOST_SECONDS = 1.4

#: From so many seconds, or for polynomials of so many digits in all, calls are counted too.
_COUNTED_FROM = 0.12
_LONG = 3_000

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
def deciding(steps: int = MOST_STEPS, seconds: float = MOST_SECONDS) -> Iterator[None]:
    """A stretch of work that may take so long; a stretch within another shares its time.

    steps, seconds: the most. Raises OutOfTime within the stretch.

    >>> with deciding():
    ...     tick()
    """
    if _now.running:
        yield
        return
    start = time.thread_time()
    _now.running, _now.counting, _now.left = True, False, steps
    _now.end, _now.counted_from = start + seconds, start + min(_COUNTED_FROM, seconds / 10)
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


def brace(*polys: Any) -> None:
    """Before a call of the algebra that may be long: if these are long, calls are counted.

    polys: polynomials, as mappings of powers to rational numbers. Raises OutOfTime as tick does.
    """
    tick()
    if _now.running and not _now.counting:
        digits = sum(
            1 + (factor.numerator.bit_length() + factor.denominator.bit_length()) // 4
            for poly in polys
            for factor in poly.values()
        )
        if digits > _LONG:
            _count()


def _count() -> None:
    if sys.getprofile() is None:  # another one's counting is left alone; our own loops go on
        _now.counting = True
        sys.setprofile(_called)


def _called(frame: Any, event: str, argument: Any) -> None:
    _now.left -= 1
    if _now.left < 0 or (_now.left % _LOOKS == 0 and time.thread_time() > _now.end):
        raise OutOfTime
