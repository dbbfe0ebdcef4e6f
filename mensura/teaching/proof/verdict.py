"""What is said to a line, and the form in which lines are compared."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mensura.teaching.proof.notation import Line

EQUIVALENT, WEAKER, STRONGER = "equivalent", "weaker", "stronger"
UNRELATED, FALSE, UNREADABLE = "unrelated", "false", "unreadable"
VERDICTS = (EQUIVALENT, WEAKER, STRONGER, UNRELATED, FALSE, UNREADABLE)

#: The sentences that may be said first, and how they may be written.
LONGER = "let a be the longer half-axis"
UNEQUAL = "a ≠ b"


@dataclass(frozen=True)
class Verdict:
    """What is said to a line.

    verdict: one of VERDICTS; why: plain sentences; counterexample: half-axes with which a false
    line fails, or None; remark: something odd about the line, or ""; read_as: the line as it was
    understood; place: the character that an unreadable line stumbles at, from 1, or None.
    """

    verdict: str
    why: str
    counterexample: dict[str, float] | None = None
    remark: str = ""
    read_as: str = ""
    place: int | None = None

    @property
    def forwards(self) -> bool:
        """Whether the line follows from the one before it (⇒)."""
        return self.verdict in (EQUIVALENT, WEAKER)

    @property
    def backwards(self) -> bool:
        """Whether the line is enough to show the one before it (⇐)."""
        return self.verdict in (EQUIVALENT, STRONGER)


@dataclass(frozen=True)
class Claim:
    """A line in one form: difference > 0, ≥ 0, = 0 or ≠ 0.

    line: as read; difference: greater side less smaller side; sign: one of > ≥ = ≠.
    """

    line: Line
    difference: Any
    sign: str

    @property
    def strict(self) -> bool:
        """Whether it says more than ≥."""
        return self.sign == ">"
