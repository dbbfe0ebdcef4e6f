"""Where one stem stands among what was published of stems that are not round.

Few figures are public, each of its own wood, and none says what your stem should be. So a stem is
told to lie below, within or above what was found, with how it was found beside it; no more.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

BELOW, WITHIN, ABOVE = "below", "within", "above"


@dataclass(frozen=True)
class Published:
    """A published span of a figure.

    source: key of the bibliography; figure: which one, in words; least_percent, most_percent: its
    span, an open end as infinity; found: on what, in words.
    """

    source: str
    figure: str
    least_percent: float
    most_percent: float
    found: str


@dataclass(frozen=True)
class Standing:
    """Where one stem stands in a published span.

    published: the span; value_percent: the stem's own figure; place: below, within or above it.
    """

    published: Published
    value_percent: float
    place: str


#: Area over the true one: 0.47 % to 2.37 % for girth, mean and product of axes together.
AREA_OVER = Published(
    "Rodriguez2015",
    "area over the true one",
    0.47,
    2.37,
    "5408 sections of 48 poplars of one clone; one span for girth, mean of axes and their product",
)

#: A tape's diameter over that of the circle of the same area, at some height of 73 % of the trees.
DIAMETER_OVER = Published(
    "TeakSections",
    "tape's diameter over that of the same area",
    3.0,
    float("inf"),
    "331 plantation teak from photographs: over 3 % at some height on 73 % of the trees, "
    "buttresses among them",
)


def standings(tape_over_percent: float) -> tuple[Standing, ...]:
    """Where a section stands, by what the tape makes of it.

    tape_over_percent: of its area, at least −100. A diameter is over by √(1 + area's error) − 1.
    Sources: [Rodriguez2015], [TeakSections], both abstracts.

    >>> [(one.place, round(one.value_percent, 2)) for one in standings(3.28)]
    [('above', 3.28), ('below', 1.63)]
    """
    diameter = 100 * (float(np.sqrt(1 + tape_over_percent / 100)) - 1)
    return tuple(
        Standing(span, value, _place(value, span))
        for span, value in ((AREA_OVER, tape_over_percent), (DIAMETER_OVER, diameter))
    )


def _place(value: float, span: Published) -> str:
    if value < span.least_percent:
        return BELOW
    return ABOVE if value > span.most_percent else WITHIN
