"""The 18 stems of compartment 7 of Quillmere Practice Wood: invented, one row a stem, for classes.

No such wood stands anywhere. The sizes are such as a class meets: poles to old oaks, most of them a
little out of round. Each is taken for an ellipse at breast height, which no real stem is.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import diameter
from mensura.stems.ellipse import Ellipse

#: Said wherever these stems are shown.
INVENTED = "18 invented stems: compartment 7 of Quillmere Practice Wood"


@dataclass(frozen=True)
class StandingStem:
    """One stem at breast height.

    number: painted on it; species: broad name; longest_cm, shortest_cm: diameters at right angles.
    Raises MeasureError for a diameter that cannot be.
    """

    number: int
    species: str
    longest_cm: float
    shortest_cm: float

    def __post_init__(self) -> None:
        diameter(self.longest_cm, "longest_cm")
        diameter(self.shortest_cm, "shortest_cm")

    @property
    def out_of_round_percent(self) -> float:
        """Longer less shorter diameter, in per cent of the shorter.

        >>> round(COMPARTMENT_7[0].out_of_round_percent, 2)
        13.85
        """
        return 100 * (self.longest_cm / self.shortest_cm - 1)


COMPARTMENT_7: tuple[StandingStem, ...] = tuple(
    StandingStem(number, species, longest, shortest)
    for number, (species, longest, shortest) in enumerate(
        (
            ("oak", 55.9, 49.1),
            ("oak", 62.3, 53.0),
            ("pine", 38.2, 36.9),
            ("birch", 24.6, 23.1),
            ("oak", 47.8, 41.9),
            ("pine", 42.5, 40.2),
            ("pine", 35.1, 33.8),
            ("birch", 21.7, 19.6),
            ("oak", 51.2, 47.7),
            ("pine", 44.0, 41.1),
            ("birch", 27.9, 25.2),
            ("oak", 66.4, 55.2),
            ("pine", 39.7, 37.0),
            ("birch", 30.3, 28.8),
            ("oak", 45.5, 38.6),
            ("pine", 33.6, 32.9),
            ("pine", 47.1, 43.4),
            ("oak", 58.0, 52.4),
        ),
        start=1,
    )
)


def standing_sections(stems: tuple[StandingStem, ...] = COMPARTMENT_7) -> Ellipse:
    """The stems as one array of sections, the longest diameter along the first axis.

    stems: in their order.

    >>> standing_sections().shape
    (18,)
    """
    both = ([one.longest_cm for one in stems], [one.shortest_cm for one in stems])
    return Ellipse(*(np.array(each) for each in both))
