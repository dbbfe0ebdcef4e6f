"""A student's own proof: lines from below, lines from above, and the gap between them.

From below the student starts with what is given, a ≠ b, and writes what follows (⇒). From above the
student starts with the theorem and writes what is enough to show (⇐). Every line is judged by the
one it is joined to. The proof is done when both parts meet in the same line, or when the part from
above comes down to a line that shows at sight that it holds.
"""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

from mensura.checks import MeasureError
from mensura.teaching.proof.asides import leading_arrow
from mensura.teaching.proof.hints import GIVEN, THEOREM, Expected, next_line, same_sides
from mensura.teaching.proof.judge import judge, shows_square
from mensura.teaching.proof.limits import ANY
from mensura.teaching.proof.notation import read_line
from mensura.teaching.proof.steps import ENOUGH, SIGNS, THEREFORE
from mensura.teaching.proof.verdict import (
    FALSE,
    LONGER,
    STRONGER,
    UNREADABLE,
    WEAKER,
    Verdict,
)


@dataclass(frozen=True)
class AcceptedLine:
    """A line that stands in a proof.

    text: as typed; read_as: as understood; direction: THEREFORE or ENOUGH; verdict: what was said
    to it; cites_unequal: whether a ≠ b was cited.
    """

    text: str
    read_as: str
    direction: str
    verdict: Verdict
    cites_unequal: bool = False


@dataclass(frozen=True)
class LineReply:
    """What is said to a line that was written.

    accepted: whether it now stands in the proof; sentence: plain words; verdict: the judgement.
    """

    accepted: bool
    sentence: str
    verdict: Verdict


class Chain:
    """One student's proof of one theorem.

    theorem: the line to be shown; given: what is known to begin with; longer_axis: whether the
    proof begins with "let a be the longer half-axis".

    >>> mine = Chain()
    >>> [mine.write(text, "therefore").accepted
    ...     for text in ("(a-b)^2 > 0", "a^2 + b^2 > 2ab", "π/2 (a²+b²) > πab")]
    [True, True, True]
    >>> mine.proved
    True
    """

    def __init__(self, theorem: str = THEOREM, given: str = GIVEN, longer_axis: bool = False):
        for text in (theorem, given):
            read_line(text)
        self.theorem, self.given = theorem, given
        self._longer_axis = longer_axis
        self.forwards: list[AcceptedLine] = []
        self.backwards: list[AcceptedLine] = []
        self._order: list[str] = []
        self._asked = 0
        self._asked_at: tuple[str, ...] = ()

    # ---- state ---------------------------------------------------------------------------------

    @property
    def longer_axis(self) -> bool:
        """Whether "let a be the longer half-axis" was said."""
        return self._longer_axis

    @longer_axis.setter
    def longer_axis(self, said: bool) -> None:
        if self._longer_axis and not said:
            texts = [self.given, *(line.text for line in self.forwards)]
            others = [self.theorem, *(line.text for line in self.backwards)]
            for part in (texts, others):
                for text in part[1:]:
                    if judge(text, part[0]).verdict == FALSE:
                        raise MeasureError(
                            "longer_axis", False, "", f"it to stay, since {text} needs it"
                        )
        self._longer_axis = bool(said)

    @property
    def gap(self) -> tuple[str, str]:
        """The last line from below and the last one from above."""
        below = self.forwards[-1].read_as if self.forwards else self._start
        above = self.backwards[-1].read_as if self.backwards else self.theorem
        return below, above

    @property
    def _start(self) -> str:
        return "a > b" if self._longer_axis else self.given

    @property
    def proved(self) -> bool:
        """Whether the proof runs from what is given to the theorem without a gap."""
        below, above = self.gap
        if self.forwards and same_sides(below, above, self._region):
            return True
        if not self.backwards:
            return False
        if same_sides(above, self.given, self._region) or (
            self._longer_axis and same_sides(above, "a > b", self._region)
        ):
            return True
        line = read_line(above)
        return shows_square(line) and judge(above, self.given, self._assumed(True)).forwards

    @property
    def _region(self) -> str:
        return "a > b" if self._longer_axis else ANY

    def _assumed(self, cites: bool) -> list[str]:
        return (["a > b"] if self._longer_axis else []) + (["a ≠ b"] if cites else [])

    @property
    def written(self) -> list[AcceptedLine]:
        """All lines, in the order in which they were written."""
        parts = {THEREFORE: iter(self.forwards), ENOUGH: iter(self.backwards)}
        return [next(parts[direction]) for direction in self._order]

    # ---- writing -------------------------------------------------------------------------------

    def write(self, text: str, direction: str, cites_unequal: bool = False) -> LineReply:
        """Put a line to the proof; it stands there only if it is a step.

        text: as typed; direction: THEREFORE (it follows from the last line from below) or ENOUGH
        (it is enough to show the last line from above); cites_unequal: whether a ≠ b is cited.
        Raises MeasureError for another direction.
        """
        if direction not in SIGNS:
            raise MeasureError("direction", direction, "", f"{THEREFORE} or {ENOUGH}")
        part = self.forwards if direction == THEREFORE else self.backwards
        arrow = leading_arrow(text)
        if arrow and arrow != SIGNS[direction]:
            says = (
                f"Place 1: the line begins with {arrow}, but {SIGNS[direction]} is chosen for it."
            )
            return LineReply(False, f"Not read. {says}", Verdict(UNREADABLE, says, place=1))
        below, above = self.gap
        before = below if direction == THEREFORE else above
        # the very first line is joined to what is given, where a ≠ b counts as cited
        cited = cites_unequal or (direction == THEREFORE and not self.forwards)
        verdict = judge(text, before, self._assumed(cited))
        known = verdict.forwards or verdict.verdict == UNREADABLE
        if direction == THEREFORE and not part and not known:
            # a sentence said first: both a > b and a ≠ b are at hand to begin with
            other = judge(text, self.given, self._assumed(True))
            verdict = other if other.forwards else verdict
        if self.proved:
            done = "The proof is done. Take a line back to go another way."
            return LineReply(False, done, verdict)
        ok = verdict.forwards if direction == THEREFORE else verdict.backwards
        if not ok:
            return LineReply(False, self._refusal(verdict, direction), verdict)
        part.append(AcceptedLine(text, verdict.read_as, direction, verdict, cites_unequal))
        self._order.append(direction)
        self._asked = 0
        return LineReply(True, self._welcome(verdict), verdict)

    def undo(self) -> AcceptedLine | None:
        """Take the last line back; returns it, or None if there is none."""
        if not self._order:
            return None
        direction = self._order.pop()
        self._asked = 0
        return (self.forwards if direction == THEREFORE else self.backwards).pop()

    def _welcome(self, verdict: Verdict) -> str:
        # the line itself is told too, so that no two replies are alike
        words = [f"{verdict.verdict.capitalize()}: {verdict.read_as}. {verdict.why}"]
        if verdict.remark:
            words.append(verdict.remark)
        if self.proved:
            words.append("Proved: the lines run from what is given to the theorem without a gap.")
        elif self.forwards and verdict.verdict == WEAKER:
            words.append("Mind that a weaker line may be too weak for the theorem.")
        return " ".join(words)

    def _refusal(self, verdict: Verdict, direction: str) -> str:
        if verdict.verdict == UNREADABLE:
            return f"Not read. {verdict.why}"
        words = [f"{verdict.verdict.capitalize()}. {verdict.why}"]
        if verdict.remark:
            words.append(verdict.remark)
        if verdict.verdict == STRONGER and direction == THEREFORE:
            words.append("It was written with ⇒, which it cannot carry.")
            if verdict.lacks_unequal:
                words.append("To cite it, tick that a ≠ b is used.")
        elif verdict.verdict == WEAKER and direction == ENOUGH:
            words.append("It was written with ⇐, which it cannot carry.")
        return " ".join(words)

    # ---- help ----------------------------------------------------------------------------------

    def hint(self) -> str:
        """A hint towards a next line; asked again at the same place, a stronger one.

        It goes on from where the last line was written. First the kind of move, then where to
        look, then the line with a gap in it.
        """
        if self.proved:
            return "The proof is done; there is nothing left to write."
        if self.gap != self._asked_at:
            self._asked, self._asked_at = 0, self.gap
        level, self._asked = self._asked, min(self._asked + 1, 2)
        down = bool(self._order) and self._order[-1] == ENOUGH
        line, upwards, downwards = self._next(down)
        kind, look = downwards if down else upwards
        if level == 0:
            return f"To show {self.gap[1]}: {kind}" if down else f"From {self.gap[0]}: {kind}"
        if level == 1:
            return look
        wanted = read_line(line)
        begins = f"{wanted.sides_read[0]} {wanted.sign} …"
        return f"It begins with {begins} ; what stands on the other side?"

    def expected(self, direction: str | None = None) -> str:
        """A next line in ordinary notation; the student asked to see it.

        direction: THEREFORE, ENOUGH, or None for that of the line written last.
        """
        down = direction == ENOUGH
        if direction is None:
            down = bool(self._order) and self._order[-1] == ENOUGH
        return read_line(self._next(down).line).read_as

    def _next(self, down: bool) -> Expected:
        below, above = self.gap
        return next_line(above if down else below, down, self._longer_axis)

    # ---- telling -------------------------------------------------------------------------------

    def lines(self) -> list[tuple[str, str, str]]:
        """The proof from what is given to the theorem: sign, line, reason.

        The sign tells how a line hangs on the one before it; lines from above are turned round, so
        that all of them read ⇒. Where the two parts have not met, a row says so.
        """
        rows = [("", self.given, "given")]
        if self._longer_axis:
            rows.append(("", "a > b", f"{LONGER}; else change their names"))
        rows += [
            ("⇒", line.read_as, _reason(line.verdict, line.cites_unequal)) for line in self.forwards
        ]
        below = list(reversed(self.backwards))
        if not self.proved:
            rows.append(("", "…", "a gap: this is still to be shown"))
        elif self.forwards and below and same_sides(self.gap[0], self.gap[1], self._region):
            below_first, below = below[0], below[1:]
            rows += self._turned(below_first, below)
            return rows
        elif below:
            rows.append(("⇒", below[0].read_as, "a square is above zero, since a ≠ b"))
            rows += self._turned(below[0], below[1:])
            return rows
        elif self.forwards:
            if rows[-1][1] != read_line(self.theorem).read_as:
                rows.append(("⇒", self.theorem, "the same two areas by their names"))
            return rows
        if below:
            rows.append(("", below[0].read_as, "enough to show the next line"))
            rows += self._turned(below[0], below[1:])
        else:
            rows.append(("", self.theorem, "the theorem"))
        return rows

    def _turned(
        self, first: AcceptedLine, others: Sequence[AcceptedLine]
    ) -> list[tuple[str, str, str]]:
        """Lines from above, read downwards: each is judged anew by the one that was enough."""
        rows = []
        for lower, upper in zip([first, *others], [*others, None], strict=True):
            text = upper.read_as if upper else self.theorem
            verdict = judge(text, lower.read_as, self._assumed(lower.cites_unequal))
            rows.append(("⇒", text, _reason(verdict, lower.cites_unequal)))
        return rows

    def to_dict(self) -> dict[str, Any]:
        """The proof as plain data: what was said, the lines of both parts, whether it is done."""
        return {
            "theorem": self.theorem,
            "given": self.given,
            "longer_axis": self._longer_axis,
            "forwards": [line.text for line in self.forwards],
            "backwards": [line.text for line in self.backwards],
            "proved": self.proved,
        }


def _reason(verdict: Verdict, cites: bool) -> str:
    how = verdict.short or verdict.why
    return f"{how}; a ≠ b is used" if cites else how
