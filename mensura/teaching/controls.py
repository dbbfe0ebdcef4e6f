"""What moves a panel, as plain data: sliders, ticks, lists, and steps to go through.

Each says its name, how it is read, where it starts and how far it goes, and checks what it is set
to. A panel is declared of them; how they look is the business of the views.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from math import floor
from typing import Any

from mensura.checks import MeasureError, number, whole
from mensura.instruments.fault import Setting

#: What a control can stand at, and the values of all controls of a panel by name.
Value = float | bool | str
State = dict[str, Any]

#: Of one step of a slider: as far as a start may lie beside the grid of its steps.
_DUST = 1e-6


@dataclass(frozen=True)
class Control:
    """A slider with a number box.

    name: key in the state; label: as read; unit: as read, or ""; least, greatest, step, start: in
    that unit; group: heading it stands under; whole: only whole numbers.
    Raises MeasureError unless least < start < greatest, so that every control can move both ways,
    and unless steps from the least reach the start and the greatest.

    >>> Control("tilt_deg", "tilt", "°", 0, 20, 0.5, 4, "tape").start
    4
    """

    name: str
    label: str
    unit: str
    least: float
    greatest: float
    step: float
    start: float
    group: str
    whole: bool = False

    def __post_init__(self) -> None:
        if not self.least < self.start < self.greatest:
            raise MeasureError(
                self.name, self.start, "", f"a start between {self.least:g} and {self.greatest:g}"
            )
        if not self.step > 0 or (self.whole and not float(self.step).is_integer()):
            kind = "a whole step" if self.whole else "a step"
            raise MeasureError(self.name, self.step, self.unit, f"{kind} greater than 0")
        for words, place in (("start", self.start), ("greatest", self.greatest)):
            steps = (place - self.least) / self.step
            if abs(steps - round(steps)) > _DUST:
                expected = f"a {words} that steps of {self.step:g} from {self.least:g} reach"
                raise MeasureError(self.name, place, self.unit, expected)

    @property
    def ends(self) -> tuple[float, float]:
        """Least and greatest, in the control's unit."""
        return self.least, self.greatest

    def check(self, value: Any) -> float:
        """The value, if the control can stand there.

        value: in the control's unit. Raises MeasureError that names the bounds.
        """
        checked = float(
            number(value, self.label, self.unit, at_least=self.least, at_most=self.greatest)
        )
        if self.whole and not checked.is_integer():
            raise MeasureError(self.label, value, self.unit, "a whole number")
        return int(checked) if self.whole else checked

    def nearest(self, value: float) -> Value:
        """The nearest of the control's steps, at which a slider stands for a value.

        value: between its ends, in the control's unit.

        >>> Control("girth_cm", "girth", "cm", 50, 230, 0.5, 126, "stem").nearest(157.1)
        157.0
        """
        # half-way it is the upper one, as on a page
        steps = floor((value - self.least) / self.step + 0.5)
        stands = round(min(self.greatest, self.least + steps * self.step), 9)
        return int(stands) if self.whole else float(stands)


def control_of(setting: Setting, group: str, **nearer: float) -> Control:
    """The control of a fault's number, as its row in the list of faults has it.

    setting: with a slider; group: heading it stands under; nearer: step, start or ends that differ
    in one panel, in the slider's unit. Raises MeasureError for a setting that no panel moves.

    >>> from mensura.instruments.faults import fault
    >>> control_of(fault("tilt").settings[0], "Band").label
    'tilt'
    """
    one = setting.slider
    if one is None:
        raise MeasureError("setting", setting.field, "", "a setting with a slider")
    range_of = {"least": one.least, "greatest": one.greatest, "step": one.step, "start": one.start}
    whole = setting.kind == "count"
    return Control(
        setting.control, one.label, one.unit, group=group, whole=whole, **(range_of | nearer)
    )


def set_from(settings: Iterable[Setting], state: State) -> State:
    """What the fields of an instrument are for a panel's state, in the fields' own units.

    settings: of the fields; state: of a panel, in which some of them have a control.

    >>> from mensura.instruments.faults import fault
    >>> set_from(fault("thickness").settings, {"thickness_mm": 3.0})
    {'thickness_cm': 0.3}
    """
    return {
        one.field: state[one.control] / one.slider.parts
        for one in settings
        if one.slider and one.control in state
    }


def sound_of(settings: Iterable[Setting]) -> State:
    """The state of controls at which nothing is wrong.

    settings: of a panel's faults, those that make one: its first.

    >>> from mensura.instruments.faults import fault
    >>> sound_of(fault("temperature").settings)
    {'temperature_c': 20.0}
    """
    return {one.control: float(one.slider.sound) for one in settings if one.slider}


@dataclass(frozen=True)
class Switch:
    """A box to tick.

    name: key in the state; label: as read; group: heading it stands under; start: ticked or not.

    >>> Switch("down", "round down", "tape").check(True)
    True
    """

    name: str
    label: str
    group: str
    start: bool = False

    @property
    def ends(self) -> tuple[bool, bool]:
        """Not ticked, and ticked."""
        return False, True

    def check(self, value: Any) -> bool:
        """The value, if it is one of the two.

        value: whether it is ticked. Raises MeasureError for anything but True and False.
        """
        if not isinstance(value, bool):
            raise MeasureError(self.label, value, "", "True or False")
        return value


@dataclass(frozen=True)
class Choice:
    """A list to choose one of.

    name: key in the state; label: as read; group: heading it stands under; options: as read; the
    panel starts with the first. Raises MeasureError for fewer than two options, or for doubles.

    >>> Choice("stem", "stem", "Stem", ("oval", "rough")).start
    'oval'
    """

    name: str
    label: str
    group: str
    options: tuple[str, ...]

    def __post_init__(self) -> None:
        if len(set(self.options)) < max(len(self.options), 2):
            raise MeasureError(self.name, self.options, "", "at least two different options")

    @property
    def start(self) -> str:
        """The first option."""
        return self.options[0]

    @property
    def ends(self) -> tuple[str, ...]:
        """All options."""
        return self.options

    def check(self, value: Any) -> str:
        """The value, if it is one of the options.

        value: as read. Raises MeasureError that names the options.
        """
        if value not in self.options:
            raise MeasureError(self.name, value, "", "one of: " + ", ".join(self.options))
        return str(value)


@dataclass(frozen=True)
class Stepper:
    """Steps from 1 to count, taken one at a time.

    name: key in the state; label: what a step is called, as in "line"; count: how many there are,
    at least 1. Raises MeasureError for another count.

    >>> lines = Stepper("step", "line", 7)
    >>> lines.after(1, +1), lines.after(7, +1), lines.after(1, -1)
    (2, 7, 1)
    >>> lines.place(7)
    'Line 7 of 7, the last'
    """

    name: str
    label: str
    count: int

    def __post_init__(self) -> None:
        whole(self.count, "count", at_least=1, at_most=1000)

    @property
    def start(self) -> int:
        """The first step."""
        return 1

    @property
    def ends(self) -> tuple[int, int]:
        """The first step and the last."""
        return 1, self.count

    def check(self, value: Any) -> int:
        """The step, if there is one of that number.

        value: what was asked for. Raises MeasureError that names the bounds.
        """
        try:
            return whole(value, self.label, at_least=1, at_most=self.count)
        except MeasureError as error:
            raise MeasureError(self.label, value, "", error.expectation) from None

    def after(self, step: int, by: int) -> int:
        """The step reached from another, held between the first and the last.

        step: where one is; by: +1 or −1.
        """
        return min(max(step + by, 1), self.count)

    def place(self, step: int) -> str:
        """Where one is, in words.

        step: the present one.
        """
        ends = {1: ", the first", self.count: ", the last"}
        tail = ends.get(step, "") if self.count > 1 else ""
        return f"{self.label.capitalize()} {step} of {self.count}{tail}"


#: Whatever moves a panel.
Mover = Control | Switch | Choice | Stepper


def starting(*movers: Iterable[Mover]) -> State:
    """Where controls start, by name.

    movers: one group of controls after another.

    >>> starting([Control("tilt_deg", "tilt", "°", 0, 20, 0.5, 4, "tape")])
    {'tilt_deg': 4}
    """
    return {one.name: one.start for group in movers for one in group}
