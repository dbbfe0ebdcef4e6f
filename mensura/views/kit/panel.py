"""A panel: a live picture with its controls, a readout beneath, and words for who cannot see it.

A panel is declared, not programmed: controls, a plain function from the controls' state to numbers,
a picture of those numbers, and a readout. On a change it draws at once, in the change's own
callback: the browser already holds one message in flight and keeps only the newest value.
"""

from __future__ import annotations

import html
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass, field
from functools import cached_property, partial
from inspect import signature
from types import MappingProxyType
from typing import Any, Generic, TypeVar

from mensura.checks import MeasureError, TypedError, shown
from mensura.teaching.controls import Choice, Control, Mover, State, Stepper, Switch, Value
from mensura.typed import read_number, read_whole
from mensura.views.kit.canvas import canvas_class, written_class
from mensura.views.kit.frame import framed
from mensura.views.kit.handles import Handle, OptionList, SliderRow, Tick, written_value
from mensura.views.kit.live import Live, Picture, Still, draw_still
from mensura.views.kit.stage import stage
from mensura.views.kit.stepping import StepButtons

N = TypeVar("N")

#: Classes of what is written beside a picture: the sentence, and the table.
PLACES = ("mensura-said", "mensura-told-numbers")


@dataclass(frozen=True)
class Panel(Generic[N]):
    """A live picture with its controls.

    title: what the panel is called; controls, switches, choices: what moves it; numbers: plain
    function of their values, by name, to what is shown; picture: makes the picture; readout: HTML
    of the numbers; status: one sentence that is announced after a change; presets: named sets of
    values, one button each; stepper: what is gone through step by step, or None; printed: further
    named sets of values, which a printed page shows besides the presets.
    Raises MeasureError for two of one name, for numbers that take other names than there are, and
    for a preset of unknown names or values.
    """

    title: str
    controls: Sequence[Control]
    numbers: Callable[..., N]
    picture: Callable[[], Picture[N]]
    readout: Callable[[N], str]
    status: Callable[[N], str]
    switches: Sequence[Switch] = ()
    presets: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    choices: Sequence[Choice] = ()
    stepper: Stepper | None = None
    printed: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)

    def __post_init__(self) -> None:
        # a panel is one for all who open it
        for several in ("presets", "printed"):
            named = getattr(self, several).items()
            kept = {name: MappingProxyType(dict(one)) for name, one in named}
            object.__setattr__(self, several, MappingProxyType(kept))
        names = [one.name for one in self._movers]
        for name in names:
            if names.count(name) > 1:
                raise MeasureError(self.title, name, "", "controls of different names")
        takes = signature(self.numbers).parameters.values()
        told = {one.name for one in takes if one.kind is not one.VAR_KEYWORD}
        # what is not told by name goes together: only names that nothing has are odd then
        odd = told - set(names) if len(told) < len(takes) else told ^ set(names)
        if odd:
            raise MeasureError(
                self.title,
                ", ".join(sorted(odd)),
                "",
                "numbers of the same names as the controls",
            )
        for title, values in self.settings.items():
            try:
                self.state(values)
            except MeasureError as error:
                raise MeasureError(
                    error.field, error.value, error.unit, error.expectation, f"preset {title}"
                ) from None

    @property
    def _movers(self) -> tuple[Mover, ...]:
        steps = (self.stepper,) if self.stepper else ()
        return (*self.controls, *self.switches, *self.choices, *steps)

    @property
    def settings(self) -> Mapping[str, Mapping[str, Any]]:
        """All named sets of values, those with a button first."""
        return {**self.presets, **self.printed}

    @cached_property
    def named(self) -> Mapping[str, Mover]:
        """Whatever moves the panel, by the name it has in the state."""
        return MappingProxyType({one.name: one for one in self._movers})

    def start(self) -> State:
        """The state in which the panel opens."""
        return {name: one.start for name, one in self.named.items()}

    def still(self, **changes: Any) -> Still:
        """The panel's picture without controls, with some values changed.

        changes: names of controls or switches with their values.
        """
        return draw_still(self.picture(), self.numbers(**self.state(changes)))

    def state(self, changes: Mapping[str, Any]) -> State:
        """The state in which the panel opens, with some values changed.

        changes: names with their values. Raises MeasureError as :meth:`check` does.
        """
        return self.start() | {name: self.check(name, one) for name, one in changes.items()}

    def check(self, name: str, value: Any) -> Value:
        """The value as whatever has that name takes it.

        name: key in the state; value: what it is to be set to. Raises MeasureError for a name that
        is not there, and for a value that cannot be.
        """
        if name not in self.named:
            raise MeasureError("name", name, "", "one of: " + ", ".join(self.named))
        return self.named[name].check(value)

    def at_work(self, **how: Any) -> LivePanel[N]:
        """The panel with widgets of its own.

        how: as :class:`LivePanel` takes it.
        """
        return LivePanel(self, **how)

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

    panel: the declaration; name: of its frame, the panel's title unless it is given; start: values
    at which it opens here, by name; also: makes what else stands in its frame, once its own widgets
    are there, and gives the classes of the frame's box beside its own.
    Raises MeasureError for a start that cannot be.
    """

    def __init__(
        self,
        panel: Panel[N],
        name: str = "",
        start: Mapping[str, Any] = MappingProxyType({}),
        also: Callable[[LivePanel[N]], tuple[Sequence[Any], Sequence[str]]] = lambda _: ((), ()),
    ) -> None:
        self.panel, self.name, self._also = panel, name or panel.title, also
        self.opens = panel.state(start)
        self.state = dict(self.opens)
        self.live = Live(panel.picture())
        self._setting = False
        self._build()
        if self.image.live is None:  # what was kept of it is drawn already
            self.draw()

    # ---- the answer to a change ------------------------------------------------------------

    def draw(self, by: str = "") -> None:
        """Compute, draw and send.

        by: control that was moved, if it was one.
        """
        numbers = self.panel.numbers(**self.state)
        status = html.escape(self.panel.status(numbers))
        said = f'<p class="mensura-status" role="status" aria-live="polite">{status}</p>'
        readout = self.panel.readout(numbers)
        self.image.show(self.live, numbers, by, {self.said: said, self.words: readout})

    def still(self) -> Still:
        """The present picture, for keeping."""
        return self.live.still(self.panel.numbers(**self.state))

    def set(self, **values: Any) -> None:
        """Set several controls or switches at once, and draw once.

        values: names with their values; all are checked before any is set.
        """
        checked = {name: self.panel.check(name, value) for name, value in values.items()}
        self.state |= checked
        self.draw(next(iter(checked)) if len(checked) == 1 else "")
        self._follow(checked)

    def _follow(self, checked: Mapping[str, Any]) -> None:
        """The picture has gone out: now the handles of the same controls follow."""
        self._setting = True
        try:
            for name, value in checked.items():
                self.handles[name].show(value)
        finally:
            self._setting = False

    def _moved(self, name: str, value: Any) -> None:
        # sliders leave binary dust: 0.1 + 0.2 stands in the box as 0.3
        value = round(value, 9) if isinstance(value, float) else value
        if not self._setting and value != self.state[name]:
            self.set(**{name: value})

    def _slid(self, name: str, value: Any) -> None:
        """A slider was moved; or a page's slider went to its nearest step, and what was typed
        between two of them stands."""
        if round(value, 9) != self._control[name].nearest(self.state[name]):
            self._moved(name, value)

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
                f"{written_value(self.state[name])}{unit}."
            )
            self.notes[name].value = f'<p role="alert" class="mensura-note">{html.escape(note)}</p>'
            return
        if value == self.state[name]:
            self._follow({name: value})
        self._moved(name, value)

    def moved(self) -> State:
        """What stands elsewhere than at the start, by name; the step that one is at is no such."""
        step = self.panel.stepper.name if self.panel.stepper else ""
        start = self.panel.start()
        return {k: at for k, at in self.state.items() if k != step and at != start[k]}

    @property
    def at_step(self) -> int:
        """The step that one is at, from 1; 0 where there are none."""
        stepper = self.panel.stepper
        return int(self.state[stepper.name]) if stepper else 0

    # ---- what is kept ------------------------------------------------------------------------

    def kept(self) -> dict[str, Any]:
        """Where everything stands, and what stands in a box and was refused."""
        typed = {
            name: box.value
            for name, box in self.boxes.items()
            if box.value != written_value(self.state[name])
        }
        return {"at": dict(self.state), "typed": typed}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept; what no control can be set to is left out.

        kept: as :meth:`kept` gives it.
        """
        fitting = {}
        for name, value in kept["at"].items():
            with suppress(MeasureError):
                fitting[name] = self.panel.check(name, value)
        self.set(**fitting)
        for name, text in kept.get("typed", {}).items():
            if name in self.boxes and isinstance(text, str):
                self.boxes[name].value = text

    # ---- widgets ---------------------------------------------------------------------------

    def _build(self) -> None:
        import ipywidgets as w

        panel = self.panel
        self._control = {control.name: control for control in panel.controls}
        self.buttons: dict[str, Any] = {}
        self.image = canvas_class()()
        self.said, self.words = (written_class()(place) for place in PLACES)
        rows = {one.name: self._slider(one) for one in panel.controls}
        self.sliders = {name: row.slider for name, row in rows.items()}
        self.boxes = {name: row.box for name, row in rows.items()}
        self.notes = {name: row.note for name, row in rows.items()}
        ticks = {s.name: Tick(s, partial(self._moved, s.name)) for s in panel.switches}
        self.ticks = {name: tick.widget for name, tick in ticks.items()}
        lists = {c.name: OptionList(c, partial(self._moved, c.name)) for c in panel.choices}
        self.lists = {name: one.widget for name, one in lists.items()}
        self.handles: dict[str, Handle] = {**lists, **rows, **ticks}
        groups: dict[str, list[Any]] = {}
        grouped: list[Choice | Control | Switch]
        grouped = [*panel.choices, *panel.controls, *panel.switches]
        for one in grouped:
            groups.setdefault(one.group, []).append(self.handles[one.name].widget)
        for name, values in {**panel.presets, "As at the start": self.opens}.items():
            button = w.Button(description=name)
            button.on_click(lambda _, v=dict(values): self.set(**v))
            self.buttons[name] = button
        self.steps = StepButtons(panel.stepper, self.step) if panel.stepper else None
        if panel.stepper and self.steps:
            self.handles[panel.stepper.name] = self.steps
        self._follow(self.opens)
        box = self._arrange(w, groups)
        more, classes = self._also(self)
        box.children = (*box.children, *more)
        for name in classes:
            box.add_class(name)
        self.widget = framed(box, "mensura-panel", name=self.name, keeper=self)

    def _slider(self, control: Control) -> SliderRow:
        name = control.name
        return SliderRow(control, partial(self._slid, name), partial(self._typed, name))

    def step(self, by: int) -> None:
        """Go to another step; at either end nothing moves, and the status says where one is.

        by: +1 or −1.
        """
        stepper = self.panel.stepper
        if stepper:
            at = stepper.check(self.state[stepper.name])
            self.set(**{stepper.name: stepper.after(at, by)})

    def _arrange(self, w: Any, groups: Mapping[str, Sequence[Any]]) -> Any:
        """The widgets on the page: see :func:`stage`."""
        rows: list[Any] = []
        for heading, some in groups.items():
            rows += [w.HTML(f'<b class="mensura-group">{html.escape(heading)}</b>'), *some]
        return stage([*self._steps(), *self._rows(w, rows)], [self.image, self.said], [self.words])

    def _steps(self) -> list[Any]:
        return [self.steps.widget] if self.steps else []

    def _rows(self, w: Any, rows: Sequence[Any]) -> list[Any]:
        """The rows of controls, and beneath them the buttons."""
        many, buttons = w.VBox(list(rows)), w.HBox(list(self.buttons.values()))
        many.add_class("mensura-rows")
        buttons.add_class("mensura-buttons")
        return [many, buttons]


def _read(text: str, whole: bool) -> float | str:
    """The number that was typed; what is none, as it is, to be refused."""
    try:
        return read_whole(text) if whole else read_number(text)
    except TypedError:
        return text
