"""Where a control stands when a panel is recorded, and what is written beside it there."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from mensura.teaching.controls import Choice, Control, Mover, Stepper, Switch, Value
from mensura.views.kit.handles import written_value
from mensura.written import minus


def positions_of(one: Mover, at: Value, most: int) -> list[Any]:
    """Where a control is recorded: in order, its present value among them.

    one: control, switch, choice or stepper; at: where it stands; most: positions of a slider.

    >>> positions_of(Control("tilt_deg", "tilt", "°", 0, 20, 0.5, 4, "tape"), 4, 5)
    [0.0, 4.0, 10.0, 15.0, 20.0]
    """
    if isinstance(one, Stepper):
        return list(range(1, one.count + 1))
    if not isinstance(one, Control):
        return list(one.ends)
    steps = round((one.greatest - one.least) / one.step)
    count = min(steps + 1, most)
    grid = [round(steps * k / (count - 1)) for k in range(count)]
    values = [one.check(round(one.least + place * one.step, 9)) for place in grid]
    if at not in values:
        # ends stay: the nearest of the others makes room
        if count > 2:
            values.remove(min(values[1:-1], key=lambda value: abs(value - float(at))))
        values = sorted([*values, one.check(at)])
    return values


def told_value(one: Mover, value: Any) -> str:
    """A value with its unit, as it stands beside its control.

    one: control, switch, choice or stepper; value: where it stands.

    >>> told_value(Control("tilt_deg", "tilt", "°", -20, 20, 0.5, 4, "tape"), -1.5)
    '−1.5°'
    """
    if isinstance(one, Stepper):
        return one.place(value)
    if isinstance(one, Switch):
        return "on" if value else "off"
    if isinstance(one, Choice):
        return str(value)
    gap = "" if one.unit in ("", "°") else "\N{NO-BREAK SPACE}"
    return f"{minus(written_value(value))}{gap}{one.unit}"


def spread(values: Sequence[Any], most: int) -> list[Any]:
    """At most so many of some values, its ends among them, as even as can be.

    >>> spread([0, 1, 2, 3, 4, 5, 6], 3), spread([0, 1], 3), spread([0, 1], 0)
    ([0, 3, 6], [0, 1], [])
    """
    if most < 2 or len(values) <= most:
        return list(values) if most > 1 else []
    return [values[round(k * (len(values) - 1) / (most - 1))] for k in range(most)]


def nearest(values: Sequence[Any], value: Any) -> int:
    """The place of a value among others, or of the one that is nearest.

    values: at least one; value: which.

    >>> nearest([0.0, 2.5, 5.0], 3), nearest(["oak", "pine"], "pine")
    (1, 1)
    """
    if value in values:
        return values.index(value)
    return min(range(len(values)), key=lambda place: abs(float(values[place]) - float(value)))
