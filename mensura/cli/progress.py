"""How far long work is, on stderr, once it takes longer than one waits without asking."""

from __future__ import annotations

import time
from collections.abc import Callable

import click

#: How long nothing is said, in seconds.
QUIET_S = 2.0


class Progress:
    """Says how far it is after two seconds, and then every two."""

    def __init__(self) -> None:
        self.last = time.monotonic()

    def part(self, word: str, low: float = 0.0, high: float = 1.0) -> Callable[[float], None]:
        """What is told the share that is done of one part.

        word: what is being done; low, high: the part's share of the whole.
        """

        def tell(share: float) -> None:
            now = time.monotonic()
            if now - self.last > QUIET_S:
                self.last = now
                click.echo(f"{word}: {100 * (low + (high - low) * share):.0f} %", err=True)

        return tell
