"""What is said to a line, and the form in which lines are compared."""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

from mensura.teaching.proof.notation import Line

EQUIVALENT, WEAKER, STRONGER, LEAP = "equivalent", "weaker", "stronger", "leap"
UNRELATED, FALSE, UNREADABLE = "unrelated", "false", "unreadable"
VERDICTS = (EQUIVALENT, WEAKER, STRONGER, LEAP, UNRELATED, FALSE, UNREADABLE)

#: A sign for each verdict, so that it is told by more than a word or a colour.
MARKS = {
    EQUIVALENT: "⇔", WEAKER: "⇒", STRONGER: "⇐", LEAP: "⤳", UNRELATED: "∅", FALSE: "✗",
    UNREADABLE: "?",
}  # fmt: skip

#: What may be said first, so that a > b.
LONGER = "let a be the longer half-axis"


@dataclass(frozen=True)
class Verdict:
    """What is said to a line.

    verdict: one of VERDICTS; why: plain sentences; short: the first of them as a clause to stand
    beside the line in a finished proof, "" for a line that is no step; counterexample: half-axes
    with which a false line fails, or None; remark: something odd about the line, or ""; read_as:
    the line as it was understood; place: the character that an unreadable line stumbles at, from
    1, or None; lacks_unequal: whether it would follow if a ≠ b were cited.
    """

    verdict: str
    why: str
    short: str = ""
    counterexample: dict[str, float] | None = None
    remark: str = ""
    read_as: str = ""
    place: int | None = None
    lacks_unequal: bool = False

    @property
    def forwards(self) -> bool:
        """Whether the line follows from the one before it (⇒)."""
        return self.verdict in (EQUIVALENT, WEAKER)

    @property
    def backwards(self) -> bool:
        """Whether the line is enough to show the one before it (⇐)."""
        return self.verdict in (EQUIVALENT, STRONGER)

    @property
    def stands(self) -> bool:
        """Whether the line is a step at all, one way or the other."""
        return self.forwards or self.backwards


def a_step(verdict: str, short: str, more: str = "", lacks_unequal: bool = False) -> Verdict:
    """The verdict on a line that hangs together with the one before it.

    verdict: EQUIVALENT, WEAKER or STRONGER; short: how, as a clause; more: the sentences after it;
    lacks_unequal: whether it would follow if a ≠ b were cited.

    >>> a_step(WEAKER, "one term was left out", "So it says less.").why
    'One term was left out. So it says less.'
    """
    why = f"{short[:1].upper()}{short[1:]}. {more}".strip()
    return Verdict(verdict, why, short, lacks_unequal=lacks_unequal)


@dataclass(frozen=True)
class Claim:
    """A line in one form: difference > 0, ≥ 0, = 0 or ≠ 0.

    line: as read; difference: greater side less smaller side; sign: one of > ≥ = ≠; greater,
    smaller: the sides.
    """

    line: Line
    difference: Any
    sign: str
    greater: Any
    smaller: Any

    @property
    def strict(self) -> bool:
        """Whether it says more than ≥."""
        return self.sign == ">"
