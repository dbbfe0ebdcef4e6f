"""The four roads by name: the classroom, the exact ellipse, any outline, the calipers."""

from __future__ import annotations

from functools import cache

from mensura.checks import ChoiceError, MeasureError
from mensura.teaching.proof.steps import Road, Step

#: Names of the roads, in the order in which a class goes them.
ROADS = ("classroom", "ellipse", "outline", "calipers")


@cache
def road(name: str) -> Road:
    """A road by its name.

    name: one of ROADS. Raises MeasureError for another.

    >>> road("classroom").steps[6].line
    '(a − b)² > 0'
    """
    if name == "classroom":
        from mensura.teaching.proof.road_classroom import classroom

        return classroom()
    if name == "ellipse":
        from mensura.teaching.proof.road_ellipse import ellipse

        return ellipse()
    if name == "outline":
        from mensura.teaching.proof.road_outline import outline

        return outline()
    if name == "calipers":
        from mensura.teaching.proof.road_calipers import calipers

        return calipers()
    raise ChoiceError("road", name, ROADS)


def place_of(step: Step) -> tuple[str, int]:
    """On which road a step stands, and as which line, from 1.

    step: of one of the roads. Raises MeasureError for another.

    >>> place_of(road("ellipse").steps[3])
    ('ellipse', 4)
    """
    for name in ROADS:
        for place, one in enumerate(road(name).steps, 1):
            if one is step:
                return name, place
    raise MeasureError("step", step.key, "", "a step of one of the roads")
