"""A cell of the lecturer's own notebook on a screen: it runs as it does there; only what it shows
is seen.

What goes wrong in it is one sentence, and no traceback over the whole screen.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any

from mensura.checks import MeasureError, shown


def own_cell(source: str, *, place: int = 0) -> None:
    """Run a cell of the lecturer's own in this kernel, as a notebook runs it.

    source: its code, magics and all; place: of the step in its lesson, named if the cell fails.
    Raises MeasureError where no kernel runs.

    >>> own_cell("1 + 1")
    Traceback (most recent call last):
        ...
    mensura.checks.MeasureError: kernel is missing; expected a notebook's kernel.
    """
    from IPython import get_ipython

    shell = get_ipython()
    if shell is None:
        raise MeasureError("kernel", None, "", "a notebook's kernel")
    with _without_traceback(shell):
        result = shell.run_cell(source, store_history=False)
    error = result.error_before_exec or result.error_in_exec
    if error is not None:
        where = f" of step {place}" if place else ""
        print(f"The lecturer's cell{where} stopped: {_in_a_sentence(error)}")


def _in_a_sentence(error: BaseException) -> str:
    first = (str(error).strip().splitlines() or [""])[0].rstrip(".")
    kind = type(error).__name__
    return f"{kind}, {shown(first)}." if first else f"{kind}."


@contextmanager
def _without_traceback(shell: Any) -> Iterator[None]:
    names = ("showtraceback", "showsyntaxerror", "showindentationerror")
    before = {name: getattr(shell, name) for name in names if hasattr(shell, name)}
    try:
        for name in before:
            setattr(shell, name, lambda *_, **__: None)
        yield
    finally:
        for name in before:
            delattr(shell, name)
