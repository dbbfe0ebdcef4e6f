"""How each kind of control looks on a page: what it is moved by, and how it shows a value.

Every handle has a `widget` and a way to `show` a value that came from elsewhere; what is done with
it is told to a function that it was given. Buttons to step with stand in `stepping.py`.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from typing import Any

from mensura.teaching.controls import Choice, Control, Switch


class Handle(ABC):
    """What a panel keeps of each control on the page."""

    widget: Any

    @abstractmethod
    def show(self, value: Any) -> None:
        """Stand at a value that was set elsewhere.

        value: as the control checks it.
        """


class SliderRow(Handle):
    """A number box with its label, a place for a note, and a slider.

    control: what is moved; moved: told of the slider's value; typed: told of the box's text.
    """

    def __init__(
        self, control: Control, moved: Callable[[float], None], typed: Callable[[str], None]
    ) -> None:
        import ipywidgets as w

        label = f"{control.label}, {control.unit}" if control.unit else control.label
        kind = w.IntSlider if control.whole else w.FloatSlider
        self.slider = kind(
            value=control.start,
            min=control.least,
            max=control.greatest,
            step=control.step,
            readout=False,
        )
        self.box = w.Text(
            value=written_value(control.start),
            continuous_update=False,
            description=label,
        )
        self.note = w.HTML()
        self.slider.observe(lambda change: moved(change["new"]), "value")
        self.box.observe(lambda change: typed(change["new"]), "value")
        self.widget = w.VBox([self.box, self.note, self.slider])
        self.widget.add_class("mensura-row")

    def show(self, value: float) -> None:
        """Slider and box stand at a value, and nothing is said of what was typed before.

        value: in the control's unit.
        """
        # dust is never sent back: the slider may have moved on meanwhile, and an answer from here
        # would put it where it was
        if abs(self.slider.value - value) > 1e-9:
            self.slider.value = value
        self.box.value = written_value(value)
        self.note.value = ""


class Tick(Handle):
    """A box to tick.

    switch: what is moved; moved: told whether it is ticked.
    """

    def __init__(self, switch: Switch, moved: Callable[[bool], None]) -> None:
        import ipywidgets as w

        self.widget = w.Checkbox(value=switch.start, description=switch.label, indent=False)
        self.widget.observe(lambda change: moved(change["new"]), "value")

    def show(self, value: bool) -> None:
        """Be ticked or not.

        value: whether it is.
        """
        self.widget.value = value


class OptionList(Handle):
    """A list to choose one of.

    choice: what is moved; moved: told the option.
    """

    def __init__(self, choice: Choice, moved: Callable[[str], None]) -> None:
        import ipywidgets as w

        self.widget = w.Dropdown(
            options=choice.options,
            description=choice.label,
        )
        self.widget.observe(lambda change: moved(change["new"]), "value")

    def show(self, value: str) -> None:
        """Stand at an option.

        value: as read.
        """
        self.widget.value = value


def written_value(value: float) -> str:
    """A number as it stands in a box.

    value: in the control's unit.

    >>> written_value(3.0), written_value(0.1 + 0.2)
    ('3', '0.3')
    """
    return f"{value:.10g}"
