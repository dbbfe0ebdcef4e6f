"""All faults of a typical size side by side, on one scale: what is worth a class's worry."""

from __future__ import annotations

from mensura.instruments.typical import GIRTH_CM, typical_sizes_cm
from mensura.views.kit.live import Still, draw_still
from mensura.views.stills.fault_marks import FaultMarks, Marked
from mensura.written import signed


class SizesPicture(FaultMarks[dict[str, float]]):
    """One mark for each fault: upwards where it lengthens the reading, downwards where not.

    sizes: what each adds, in cm.
    """

    LEAST_CM, MOST_CM = FaultMarks.LEAST, FaultMarks.MOST
    BELOW = f"changes a reading of {GIRTH_CM:g} cm by, cm\n(each line ten times the one before)"

    def __init__(self, sizes: dict[str, float]) -> None:
        super().__init__([Marked(words, adds, _size(adds)) for words, adds in sizes.items()])
        self.sizes = sizes

    def describe(self, numbers: dict[str, float]) -> str:
        """The picture in words, with its `numbers`."""
        parts = "; ".join(f"{words} {_size(adds)}" for words, adds in numbers.items())
        return (
            f"What each fault of typical size adds to a reading of {GIRTH_CM:g} cm of girth, in "
            f"cm, the smallest first, on a scale that goes by tens: {parts}."
        )


def _size(adds_cm: float) -> str:
    return signed(adds_cm, 2 if abs(adds_cm) >= 0.1 else 3)


def sizes_side_by_side() -> Still:
    """All faults of typical size on one scale, on a stem of 125 cm girth, sorted.

    >>> sizes_side_by_side().alt[:40]
    'What each fault of typical size adds to '
    """
    sizes = typical_sizes_cm()
    return draw_still(SizesPicture(sizes), sizes)
