"""One student at one problem: what she typed, which hints she read, whether the solution is open.

The worked solution opens after an honest attempt: an answer that could be read, or all hints. What
cannot be read is no attempt, and the same answer sent twice is one.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass

from mensura.teaching.answers.reply import Reply, reply
from mensura.teaching.problems.draw import Problem
from mensura.teaching.problems.standing import Attempt

NOT_YET = (
    "The worked solution opens once you have tried: type an answer first, or read all three hints."
)
NO_MORE = "There are no more hints. The worked solution is open."


@dataclass
class Sitting:
    """A student's work on a problem, so far.

    problem: with her numbers; hints_read: how many, from 0; tried: whether an answer could be read;
    solved: whether one was right; solution_read: whether the solution was; last_text: the last
    answer that could be read, as typed.
    """

    problem: Problem
    hints_read: int = 0
    tried: bool = False
    solved: bool = False
    solution_read: bool = False
    last_text: str | None = None

    def resume(self, attempts: Iterable[Attempt]) -> None:
        """Takes up what a log says of this problem.

        attempts: of the log; those at other problems are passed over.
        """
        mine = self.problem
        at = (mine.student, mine.key, mine.set_name, mine.family.key, mine.try_number)
        for one in attempts:
            if one.at == at:
                self.tried = True
                self.solved = self.solved or one.right
                self.solution_read = self.solution_read or one.solution_read
                self.hints_read = max(self.hints_read, min(one.hints, len(mine.hints)))

    @property
    def open(self) -> bool:
        """Whether the worked solution may be read."""
        return self.tried or self.hints_read >= len(self.problem.hints)

    def answer(self, text: str, when: str) -> tuple[Reply, Attempt | None]:
        """The reply to an answer, and the attempt that it is, None if it counts as none.

        text: as typed; when: date and time, as in ISO 8601.
        """
        said = reply(self.problem, text)
        if not said.readable:
            return said, None
        again = text == self.last_text
        self.tried, self.last_text = True, text
        self.solved = self.solved or said.right
        if again:
            return said, None
        return said, Attempt(
            self.problem.student,
            self.problem.key,
            self.problem.set_name,
            self.problem.family.key,
            self.problem.try_number,
            text,
            said.right,
            said.slip,
            self.hints_read,
            self.solution_read,
            when,
            self.problem.edition,
            tuple(self.problem.numbers.items()),
        )

    def hint(self) -> str | None:
        """The next hint, stronger than the last; None if there is none left."""
        if self.hints_read >= len(self.problem.hints):
            return None
        self.hints_read += 1
        return self.problem.hints[self.hints_read - 1]

    def solution(self) -> str | None:
        """The worked solution; None if it is not open yet."""
        if not self.open:
            return None
        self.solution_read = True
        return self.problem.solution
