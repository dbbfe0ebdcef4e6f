"""Going through a panel step by step: two buttons, and a word about where one is.

The arrow keys press the buttons (`frame.py`). At either end the buttons stay where they are and say
so: a button that was switched off would drop the keyboard's focus.
"""

from __future__ import annotations

import html
from collections.abc import Callable

from mensura.teaching.controls import Stepper
from mensura.views.kit.handles import Handle


class StepButtons(Handle):
    """The two buttons of a stepper and the words between them.

    stepper: what is gone through; move: called with +1 or −1 when a button is pressed.
    """

    def __init__(self, stepper: Stepper, move: Callable[[int], None]) -> None:
        import ipywidgets as w

        self.stepper = stepper
        self.back = w.Button(description=f"◀ Back one {stepper.label}")
        self.next = w.Button(description=f"Next {stepper.label} ▶")
        self.back.add_class("mensura-back")
        self.next.add_class("mensura-next")
        self.back.on_click(lambda _: move(-1))
        self.next.on_click(lambda _: move(+1))
        self.where = w.HTML()
        self.widget = w.HBox([self.back, self.next, self.where])
        self.widget.add_class("mensura-steps")

    def show(self, value: int) -> None:
        """Say where one is.

        value: the present step.
        """
        place = html.escape(self.stepper.place(value))
        self.where.value = f'<p class="mensura-place">{place}</p>'
