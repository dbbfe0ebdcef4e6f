"""A panel: a live picture with its controls, a readout beneath, and words for who cannot see it.

A panel is declared, not programmed: controls, a plain function from the controls' state to numbers,
a picture of those numbers, and a readout. On a change it draws at once, in the change's own
callback: the browser already holds one message in flight and keeps only the newest value.
"""

from __future__ import annotations

import html
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass, field
from typing import Any, Generic, TypeVar

from mensura.checks import MeasureError, number, shown
from mensura.typed import TypedError, read_number, read_whole
from mensura.views.kit.live import Live, Picture, Still, image_tag
from mensura.views.kit.stepping import StepButtons, Stepper

N = TypeVar("N")

State = dict[str, Any]


@dataclass(frozen=True)
class Control:
    """A slider with a number box.

    name: key in the state; label: as read; unit: as read, or ""; least, greatest, step, start: in
    that unit; group: heading it stands under; whole: only whole numbers.
    Raises MeasureError unless least < start < greatest, so that every control can move both ways.

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

    def check(self, value: Any) -> float:
        """The value, if the control can stand there; else a MeasureError that names the bounds."""
        checked = float(
            number(value, self.label, self.unit, at_least=self.least, at_most=self.greatest)
        )
        if self.whole and not checked.is_integer():
            raise MeasureError(self.label, value, self.unit, "a whole number")
        return int(checked) if self.whole else checked


@dataclass(frozen=True)
class Switch:
    """A box to tick.

    name: key in the state; label: as read; group: heading it stands under; start: ticked or not.
    """

    name: str
    label: str
    group: str
    start: bool = False


@dataclass(frozen=True)
class Choice:
    """A list to choose one of.

    name: key in the state; label: as read; group: heading it stands under; options: as read; the
    panel starts with the first.
    """

    name: str
    label: str
    group: str
    options: tuple[str, ...]

    def check(self, value: Any) -> str:
        """The value, if it is one of the options; else a MeasureError that names them."""
        if value not in self.options:
            raise MeasureError(self.name, value, "", "one of: " + ", ".join(self.options))
        return str(value)


@dataclass(frozen=True)
class Panel(Generic[N]):
    """A live picture with its controls.

    title: what the panel is called; controls, switches, choices: what moves it; numbers: plain
    function from the state to what is shown; picture: makes the picture; readout: HTML of the
    numbers; status: one sentence that is announced after a change; presets: named sets of values,
    one button each; stepper: what is gone through step by step, or None.
    """

    title: str
    controls: Sequence[Control]
    numbers: Callable[[State], N]
    picture: Callable[[], Picture[N]]
    readout: Callable[[N], str]
    status: Callable[[N], str]
    switches: Sequence[Switch] = ()
    presets: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    choices: Sequence[Choice] = ()
    stepper: Stepper | None = None

    def start(self) -> State:
        """The state in which the panel opens."""
        state: State = {control.name: control.start for control in self.controls}
        state |= {switch.name: switch.start for switch in self.switches}
        state |= {choice.name: choice.options[0] for choice in self.choices}
        return state | ({self.stepper.name: 1} if self.stepper else {})

    def still(self, **changes: Any) -> Still:
        """The panel's picture without controls, with some values changed.

        changes: names of controls or switches with their values.
        """
        return Live(self.picture()).still(self.numbers(self._checked(changes)))

    def _checked(self, changes: Mapping[str, Any]) -> State:
        state = self.start()
        for name, value in changes.items():
            if name not in state:
                raise MeasureError(name, value, "", "one of: " + ", ".join(state))
            state[name] = self.check(name, value)
        return state

    def check(self, name: str, value: Any) -> Any:
        """The value as its control, choice, stepper or switch takes it, or a MeasureError.

        name: key in the state; value: what it is to be set to.
        """
        steps = (self.stepper,) if self.stepper else ()
        for one in (*self.controls, *self.choices, *steps):
            if one.name == name:
                return one.check(value)
        return bool(value)

    def at_work(self) -> LivePanel[N]:
        """The panel with widgets of its own."""
        return LivePanel(self)

    def _repr_mimebundle_(
        self, include: Any = None, exclude: Any = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        live = self.at_work()
        still = live.still()
        data = dict(live.widget._repr_mimebundle_())
        data |= {"image/png": still.png, "text/html": still.html}
        data |= {"text/plain": f"{self.title}. {still.alt}"}
        return data, {"image/png": still.metadata}


class LivePanel(Generic[N]):
    """One panel at work in one notebook: its widgets, its state, its picture.

    panel: the declaration.
    """

    def __init__(self, panel: Panel[N]) -> None:
        self.panel = panel
        self.state = panel.start()
        self.live = Live(panel.picture())
        self._setting = False
        self._build()
        self.draw()

    # ---- the answer to a change ------------------------------------------------------------

    def draw(self) -> None:
        """Compute, draw, encode and send."""
        numbers = self.panel.numbers(self.state)
        picture = self.live.picture
        alt = picture.describe(numbers)
        self.image.value = image_tag(
            self.live.frame(numbers), alt, picture.width_px, picture.height_px
        )
        status = html.escape(self.panel.status(numbers))
        self.words.value = (
            f'<p class="mensura-status" role="status" aria-live="polite">{status}</p>'
            + self.panel.readout(numbers)
        )

    def still(self) -> Still:
        """The present picture, for keeping."""
        return self.live.still(self.panel.numbers(self.state))

    def set(self, **values: Any) -> None:
        """Set several controls or switches at once, and draw once.

        values: names with their values; all are checked before any is set.
        """
        checked = {name: self.panel.check(name, value) for name, value in values.items()}
        self.state |= checked
        self.draw()
        self._follow(checked)

    def _follow(self, checked: Mapping[str, Any]) -> None:
        """The picture has gone out: now the other widgets of the same controls follow."""
        self._setting = True
        try:
            for name, value in checked.items():
                if name in self.sliders:
                    # dust is never sent back: the slider may have moved on meanwhile, and an
                    # answer from here would put it where it was
                    if abs(self.sliders[name].value - value) > 1e-9:
                        self.sliders[name].value = value
                    self.boxes[name].value = _written(value)
                    self.notes[name].value = ""
                elif name in self.ticks:
                    self.ticks[name].value = value
                elif self.steps:
                    self.steps.show(value)
        finally:
            self._setting = False

    def _moved(self, name: str, value: Any) -> None:
        # sliders leave binary dust: 0.1 + 0.2 stands in the box as 0.3
        value = round(value, 9) if isinstance(value, float) else value
        if not self._setting and value != self.state[name]:
            self.set(**{name: value})

    def _typed(self, name: str, text: str) -> None:
        if self._setting:
            return
        control = self._control[name]
        try:
            value = control.check(_read(text, control.whole))
        except MeasureError:
            # what was typed stays in its box; the picture keeps the last value it could show
            unit = f" {control.unit}" if control.unit else ""
            wanted = "a whole number from" if control.whole else "a number from"
            note = (
                f"{shown(text)} is not shown: expected {wanted} {control.least:g} to "
                f"{control.greatest:g}{unit}. The picture still shows "
                f"{_written(self.state[name])}{unit}."
            )
            self.notes[name].value = f'<p role="alert" class="mensura-note">{html.escape(note)}</p>'
            return
        if value == self.state[name]:
            self._follow({name: value})
        self._moved(name, value)

    # ---- widgets ---------------------------------------------------------------------------

    def _build(self) -> None:
        import ipywidgets as w

        panel = self.panel
        self._control = {control.name: control for control in panel.controls}
        self.sliders: dict[str, Any] = {}
        self.boxes: dict[str, Any] = {}
        self.ticks: dict[str, Any] = {}
        self.buttons: dict[str, Any] = {}
        self.image = w.HTML(layout=w.Layout(width="100%"))
        self.words = w.HTML()
        self.notes: dict[str, Any] = {}
        groups: dict[str, list[Any]] = {}
        for choice in panel.choices:
            groups.setdefault(choice.group, []).append(self._choice(w, choice))
        for control in panel.controls:
            groups.setdefault(control.group, []).append(self._row(w, control))
        for switch in panel.switches:
            tick = w.Checkbox(
                value=switch.start,
                description=switch.label,
                indent=False,
                layout=w.Layout(width="auto"),
            )
            tick.observe(lambda change, n=switch.name: self._moved(n, change["new"]), "value")
            self.ticks[switch.name] = tick
            groups.setdefault(switch.group, []).append(tick)
        for name, values in {**panel.presets, "As at the start": panel.start()}.items():
            button = w.Button(description=name, layout=w.Layout(width="auto"))
            button.on_click(lambda _, v=dict(values): self.set(**v))
            self.buttons[name] = button
        self.steps = StepButtons(panel.stepper, self.step) if panel.stepper else None
        if panel.stepper and self.steps:
            self.steps.show(self.state[panel.stepper.name])
        self.widget = self._arrange(w, groups)
        self.widget.add_class("mensura-panel")

    def step(self, by: int) -> None:
        """Go to another step; at either end nothing moves, and the status says where one is.

        by: +1 or −1.
        """
        stepper = self.panel.stepper
        if stepper:
            self.set(**{stepper.name: stepper.after(self.state[stepper.name], by)})

    def _arrange(self, w: Any, groups: Mapping[str, Sequence[Any]]) -> Any:
        """The widgets on the page: controls beside the picture, the readout beneath it."""
        column: list[Any] = [w.HTML(STYLE)]
        if self.steps:
            column.append(self.steps.widget)
        for heading, rows in groups.items():
            column += [w.HTML(f'<b class="mensura-group">{html.escape(heading)}</b>'), *rows]
        column.append(w.HBox(list(self.buttons.values()), layout=w.Layout(flex_flow="row wrap")))
        column.append(w.HTML(NAMES_SCRIPT))
        controls = w.VBox(column, layout=w.Layout(width="244px", flex="0 0 auto"))
        # the picture takes the width there is: on a narrow page the controls go above it
        side = w.Layout(flex="1 1 580px", min_width="0", overflow="visible")
        shown_box = w.VBox([self.image, self.words], layout=side)
        return w.HBox([controls, shown_box], layout=w.Layout(flex_flow="row wrap"))

    def _choice(self, w: Any, choice: Choice) -> Any:
        box = w.Dropdown(
            options=choice.options,
            description=choice.label,
            layout=w.Layout(width="234px"),
            style={"description_width": "auto"},
        )
        box.observe(lambda change: self._moved(choice.name, change["new"]), "value")
        self.ticks[choice.name] = box
        return box

    def _row(self, w: Any, control: Control) -> Any:
        label = f"{control.label}, {control.unit}" if control.unit else control.label
        bounds = {"min": control.least, "max": control.greatest, "step": control.step}
        slider_kind = w.IntSlider if control.whole else w.FloatSlider
        slider = slider_kind(
            value=control.start, **bounds, readout=False, layout=w.Layout(width="234px")
        )
        box = w.Text(
            value=_written(control.start),
            continuous_update=False,
            description=label,
            layout=w.Layout(width="234px"),
            style={"description_width": "166px"},
        )
        note = self.notes[control.name] = w.HTML()
        slider.observe(lambda change: self._moved(control.name, change["new"]), "value")
        box.observe(lambda change: self._typed(control.name, change["new"]), "value")
        self.sliders[control.name], self.boxes[control.name] = slider, box
        row = w.VBox([box, note, slider], layout=w.Layout(overflow="visible"))
        row.add_class("mensura-row")
        return row


def _read(text: str, whole: bool) -> float | str:
    """The number that was typed; what is none, as it is, to be refused."""
    try:
        return read_whole(text) if whole else read_number(text)
    except TypedError:
        return text


def _written(value: float) -> str:
    return f"{value:.10g}"


STYLE = """<style>
.mensura-panel .widget-label, .mensura-panel .widget-text input, .mensura-panel .widget-checkbox,
.mensura-panel button, .mensura-panel p, .mensura-panel table { font-size: 15px; }
.mensura-panel .widget-label { text-align: left; justify-content: flex-start; }
.mensura-panel .mensura-row .widget-hslider { height: 24px; margin-top: -4px; }
.mensura-panel .mensura-group { font-size: 15px; text-transform: none; }
.mensura-panel p { margin: 2px 0; line-height: 1.35; max-width: 70em; }
.mensura-panel .mensura-note { max-width: 226px; border-left: 4px solid #000; padding-left: 6px; }
.mensura-panel table.mensura-table { border-collapse: collapse; margin: 4px 0 0; }
.mensura-panel table.mensura-table th, .mensura-panel table.mensura-table td {
  padding: 1px 12px 1px 4px; text-align: right; border-bottom: 1px solid #ddd; color: #000; }
.mensura-panel table.mensura-table th { font-weight: 600; }
.mensura-panel table.mensura-table th:first-child { text-align: left; }
.mensura-panel table.mensura-table th[scope=row] { font-weight: 400; }
.mensura-panel .noUi-handle:focus-visible, .mensura-panel button:focus-visible,
.mensura-panel input:focus-visible { outline: 3px solid #000; outline-offset: 1px; }
</style>"""

# A slider's handle has no accessible name of its own: it takes the name of the box beside it. And
# what it says of its value carries binary dust, 29.999999999999986 for 30: that is rounded.
NAMES_SCRIPT = (
    '<img alt="" width="1" height="1" src="data:image/gif;base64,'
    'R0lGODlhAQABAIAAAAAAAP///yH5BAEAAAAALAAAAAABAAEAAAIBRAA7" onload="'
    "(function(mark){var tries=0;function say(grip){"
    "var text=grip.getAttribute('aria-valuetext');var plain=String(+(+text).toFixed(6));"
    "if(plain!==text&&plain!=='NaN'){grip.setAttribute('aria-valuetext',plain);}}"
    "function name(){"
    "var panel=mark.closest('.mensura-panel');if(panel){"
    "panel.querySelectorAll('.mensura-row').forEach(function(row){"
    "var label=row.querySelector('.widget-label');var grip=row.querySelector('[role=slider]');"
    "if(label&&grip&&!grip.hasAttribute('aria-label')){"
    "grip.setAttribute('aria-label',label.textContent);say(grip);"
    "new MutationObserver(function(){say(grip);})"
    ".observe(grip,{attributeFilter:['aria-valuetext']});}});}"
    "if(tries++<40){setTimeout(name,250);}}name();})(this)"
    '">'
)
