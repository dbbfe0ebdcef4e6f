"""What a log of attempts says: how often each family was tried, and which ones are taped.

An attempt is one answer that could be read. A family is taped, like a stem that has been measured
and need not be measured again, once one set of its numbers was answered right before the worked
solution of those numbers was read. Every student's attempts are told apart by her code.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from mensura.teaching.problems.codes import plain
from mensura.teaching.problems.draw import Problem, draw, read_back
from mensura.teaching.problems.family import TOPICS, Family


@dataclass(frozen=True)
class Attempt:
    """One answer to one problem.

    student: her code; key, set_name, family, try_number: which problem, as for
    :func:`mensura.teaching.problems.bank.problem`; text: as typed; right: whether it was; slip: the
    name of the slip it showed, or None; hints: how many had been read, from 0; solution_read:
    whether the worked solution of these numbers had been; when: date and time, as in ISO 8601;
    edition: of the family, in which the numbers were given out; numbers: (name, number) of each;
    none in a log from before they were kept, when all that was given out was edition 1.
    """

    student: str
    key: str
    set_name: str
    family: str
    try_number: int
    text: str
    right: bool
    slip: str | None
    hints: int
    solution_read: bool
    when: str
    edition: int = 1
    numbers: tuple[tuple[str, float], ...] = ()

    @property
    def at(self) -> tuple[str, str, str, str, int]:
        """Which problem: student, key, set, family and try, as codes are compared."""
        student, key, set_name = plain(self.student), plain(self.key), plain(self.set_name)
        return student, key, set_name, self.family, self.try_number


def given_out(
    log: Iterable[Attempt],
    family: Family,
    student: str,
    key: str,
    set_name: str = "1",
    try_number: int = 1,
) -> Problem:
    """A student's problem as it was given out, or newly drawn if the log knows nothing of it.

    log: attempts, others' among them; family, student, key, set_name, try_number: as for
    :func:`mensura.teaching.problems.draw.draw`, which says what is raised.

    >>> from mensura.teaching.problems.families.girth import FAMILIES
    >>> area = next(one for one in FAMILIES if one.key == "girth-to-area")
    >>> old = Attempt("Q07", "alder", "1", "girth-to-area", 1, "9", False, None, 0, False, "t",
    ...               numbers=(("girth_cm", 78.5),))
    >>> given_out([old], area, "Q07", "alder").numbers, given_out([], area, "Q07", "alder").numbers
    ({'girth_cm': 78.5}, {'girth_cm': 78.0})
    """
    at = (plain(student), plain(key), plain(set_name), family.key, try_number)
    first = next((one for one in log if one.at == at), None)
    if first is None:
        return draw(family, student, key, set_name, try_number)
    kept = read_back(family, student, key, set_name, try_number, dict(first.numbers), first.edition)
    if kept is not None:
        return kept
    # an old line, or one that somebody wrote over: what this edition gave out
    edition = min(first.edition, family.edition)
    return draw(family, student, key, set_name, try_number, edition)


@dataclass(frozen=True)
class Standing:
    """How a student stands with one family.

    attempts: answers that could be read; right: those that were right; taped: one of them came
    before its worked solution was read; last_try: the highest try number she answered, 0 if none;
    last_right: whether she answered that one right.
    """

    attempts: int = 0
    right: int = 0
    taped: bool = False
    last_try: int = 0
    last_right: bool = False

    @property
    def state(self) -> str:
        """One word: "taped", "tried" or "untried"."""
        if self.taped:
            return "taped"
        return "tried" if self.attempts else "untried"

    @property
    def next_try(self) -> int:
        """The numbers to go on with: the last ones, or new ones if those were answered right."""
        return max(1, self.last_try + self.last_right)


def standings(
    attempts: Iterable[Attempt], student: str, key: str, set_name: str = "1"
) -> dict[str, Standing]:
    """How a student stands with each family that she tried.

    attempts: of a log, others' among them; student: her code; key, set_name: whose problems.

    >>> log = [Attempt("Q07", "k", "1", "girth-to-area", 1, t, t == "9", None, 0, False, t)
    ...        for t in ("7", "8", "9")]
    >>> standings(log, "Q07", "k")
    {'girth-to-area': Standing(attempts=3, right=1, taped=True, last_try=1, last_right=True)}
    >>> standings(log, "Q08", "k")
    {}
    """
    mine = (plain(student), plain(key), plain(set_name))
    found: dict[str, Standing] = {}
    # the same line twice is one attempt: a full disk may have kept it before it was said again
    for one in dict.fromkeys(attempts):
        if one.at[:3] != mine:
            continue
        old = found.get(one.family, Standing())
        right = one.right or (old.last_right and one.try_number == old.last_try)
        newer = one.try_number >= old.last_try
        found[one.family] = Standing(
            old.attempts + 1,
            old.right + one.right,
            old.taped or (one.right and not one.solution_read),
            max(old.last_try, one.try_number),
            right if newer else old.last_right,
        )
    return found


@dataclass(frozen=True)
class TopicProgress:
    """How a student stands with one topic.

    topic: its key; families: their keys, in the bank's order; states: one word for each family;
    attempts: answers that could be read; right: those that were right.
    """

    topic: str
    families: tuple[str, ...]
    states: tuple[str, ...]
    attempts: int
    right: int

    @property
    def taped(self) -> int:
        """How many families are."""
        return self.states.count("taped")

    @property
    def words(self) -> str:
        """The count in words: how many of how many."""
        return f"{self.taped} of {len(self.families)}"


def by_topic(
    known: Mapping[str, Standing], families: Iterable[Family]
) -> tuple[TopicProgress, ...]:
    """How a student stands with each topic that has families, in the order of the chapters.

    known: from :func:`standings`; families: of the bank. What is known of others is passed over.
    """
    grouped: dict[str, list[str]] = {topic: [] for topic in TOPICS}
    for one in families:
        grouped[one.topic].append(one.key)
    found = []
    for topic, keys in grouped.items():
        if not keys:
            continue
        stands = [known.get(key, Standing()) for key in keys]
        found.append(
            TopicProgress(
                topic,
                tuple(keys),
                tuple(one.state for one in stands),
                sum(one.attempts for one in stands),
                sum(one.right for one in stands),
            )
        )
    return tuple(found)


def in_words(topics: Iterable[TopicProgress]) -> str:
    """All of it in one or two sentences.

    topics: from :func:`by_topic`.

    >>> in_words([TopicProgress("girth", ("a", "b"), ("taped", "tried"), 3, 1)])
    '1 of 2 kinds of problems taped, 1 more tried. 3 answers, 1 of them right.'
    """
    topics = list(topics)
    states = [state for one in topics for state in one.states]
    answers = sum(one.attempts for one in topics)
    told = (
        f"{states.count('taped')} of {len(states)} kinds of problems taped, "
        f"{states.count('tried')} more tried."
    )
    if not answers:
        return f"{told} No answers yet."
    many = "answer" if answers == 1 else "answers"
    return f"{told} {answers} {many}, {sum(one.right for one in topics)} of them right."
