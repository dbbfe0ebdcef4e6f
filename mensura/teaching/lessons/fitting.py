"""Whether a plan fits its minutes, and which of its spare steps would make it fit."""

from __future__ import annotations

from collections.abc import Iterable, Sequence
from itertools import accumulate, combinations

from mensura.teaching.lessons.plan import Step

#: So many spare steps are tried in every combination; of more, the longest are left out first.
MOST_TRIED = 12

#: Minutes that are none: what is left of sums of tenths.
_DUST_MIN = 1e-6


def running_min(steps: Sequence[Step]) -> list[float]:
    """When each step is over, in minutes from the lesson's beginning.

    steps: of a plan.

    >>> running_min([Step(3, text="a"), Step(2.5, text="b")])
    [3.0, 5.5]
    """
    return [round(float(one), 6) for one in accumulate(step.minutes for step in steps)]


def left_out(steps: Sequence[Step], over_min: float) -> list[int]:
    """The places, from 0, of as few spare steps as make up so many minutes; all, if none do.

    steps: of a plan; over_min: minutes that there are too few, above 0. Of as few the shortest are
    taken.

    >>> steps = [Step(5, text="a", spare=True), Step(9, text="b"), Step(2, text="c", spare=True)]
    >>> left_out(steps, 2), left_out(steps, 6), left_out(steps, 30)
    ([2], [0, 2], [0, 2])
    """
    spare = [place for place, one in enumerate(steps) if one.spare]

    def minutes(places: Iterable[int]) -> float:
        return sum(steps[place].minutes for place in places)

    if len(spare) > MOST_TRIED:
        longest = sorted(spare, key=lambda place: -steps[place].minutes)
        for count in range(1, len(longest) + 1):
            if minutes(longest[:count]) >= over_min - _DUST_MIN:
                return sorted(longest[:count])
        return spare
    for count in range(1, len(spare) + 1):
        enough = [
            each for each in combinations(spare, count) if minutes(each) >= over_min - _DUST_MIN
        ]
        if enough:
            return list(min(enough, key=minutes))
    return spare


def fits(steps: Sequence[Step], minutes: float) -> str:
    """One sentence: how long the steps take, and what to do if that is too long.

    steps: of a plan; minutes: that there are.

    >>> fits([Step(30, text="a"), Step(15, text="b")], 50)
    '45 of 50 minutes: 5 to spare.'
    >>> fits([Step(50, text="a"), Step(4, text="b", spare=True)], 50)
    '54 of 50 minutes: 4 too many. Leave out step 2 and it fits.'
    """
    takes = round(float(sum(one.minutes for one in steps)), 6)
    over = round(takes - minutes, 6)
    head = f"{takes:g} of {minutes:g} minutes"
    if abs(over) <= _DUST_MIN:
        return f"{head}: it fits to the minute."
    if over < 0:
        return f"{head}: {-over:g} to spare."
    head = f"{head}: {over:g} too many."
    places = left_out(steps, over)
    if not places:
        return f"{head} Tick the steps that may be left out, or shorten some."
    still = round(over - sum(steps[place].minutes for place in places), 6)
    named = _named([place + 1 for place in places])
    if still > _DUST_MIN:
        return f"{head} Even without {named} it is {still:g} too many."
    return f"{head} Leave out {named} and it fits."


def _named(numbers: Sequence[int]) -> str:
    words = [str(one) for one in numbers]
    if len(words) == 1:
        return f"step {words[0]}"
    return f"steps {', '.join(words[:-1])} and {words[-1]}"
