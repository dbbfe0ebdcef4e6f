"""Going through a panel step by step: two buttons, the arrow keys, and a word about where one is.

The left and right arrow keys press the two buttons from anywhere in the panel but a text box, a
list or a slider's handle, which have their own use for them. At either end the buttons stay where
they are and say so: a button that was switched off would drop the keyboard's focus.
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
        layout = w.Layout(width="auto")
        self.back = w.Button(description=f"◀ Back one {stepper.label}", layout=layout)
        self.next = w.Button(description=f"Next {stepper.label} ▶", layout=layout)
        self.back.add_class("mensura-back")
        self.next.add_class("mensura-next")
        self.back.on_click(lambda _: move(-1))
        self.next.on_click(lambda _: move(+1))
        self.where = w.HTML()
        self.widget = w.HBox([self.back, self.next, self.where, w.HTML(KEYS_SCRIPT)])
        self.widget.layout.flex_flow = "row wrap"
        self.widget.layout.align_items = "center"

    def show(self, value: int) -> None:
        """Say where one is.

        value: the present step.
        """
        place = html.escape(self.stepper.place(value))
        self.where.value = f'<p class="mensura-place">{place}</p>'


# The keys are heard on the panel itself; a click into its picture brings the focus there.
KEYS_SCRIPT = (
    '<img alt="" width="1" height="1" src="data:image/gif;base64,'
    'R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7" onload="'
    "(function(mark){var tries=0;function listen(){"
    "var panel=mark.closest('.mensura-panel');if(panel&&!panel.dataset.keys){"
    "panel.dataset.keys='1';panel.tabIndex=-1;panel.style.outline='none';"
    "panel.addEventListener('keydown',function(press){"
    "var way={ArrowLeft:'.mensura-back',ArrowRight:'.mensura-next'}[press.key];"
    "if(!way||press.altKey||press.ctrlKey||press.metaKey||press.shiftKey||"
    "press.target.closest('input,select,textarea,[role=slider]')){return;}"
    "press.preventDefault();press.stopPropagation();panel.querySelector(way).click();});}"
    "if(!panel&&tries++<40){setTimeout(listen,250);}}listen();})(this)"
    '">'
)
