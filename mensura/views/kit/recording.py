"""A panel played without a kernel: every position of every control, one at a time, in one block.

From a given state each control goes through its range while the rest stand still; so does each
switch, choice, preset and step. What each position looks like is kept as what it changes in the
picture of that state, with the panel's own words, readout and sentence. A page that holds the block
and the one script moves under the finger, offline; without the script, and on paper, it shows the
still that stands in the same place.
"""

from __future__ import annotations

import base64
import hashlib
import html
import json
import re
from collections.abc import Callable, Hashable, Mapping, Sequence
from contextlib import suppress
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files
from types import MappingProxyType
from typing import Any, Generic, TypeVar

from mensura.checks import MeasureError, whole
from mensura.teaching.controls import Choice, Control, Mover, State, Stepper, Switch, Value
from mensura.views.kit.block import Words, blocked
from mensura.views.kit.inks import inks_js
from mensura.views.kit.live import Live, Picture
from mensura.views.kit.look import THEMES
from mensura.views.kit.panel import Panel
from mensura.views.kit.positions import nearest, positions_of, spread, told_value
from mensura.views.kit.record import Drawn, packed
from mensura.views.kit.style import SHEET

N = TypeVar("N")

#: No block is larger.
LARGEST_BYTES = 1_000_000
#: A slider stands at so many places at most; where they are too large together, at fewer.
POSITIONS = 41
_FEWER = (41, 33, 27, 21, 17, 13, 11, 9, 7, 5, 3)

#: Which picture shows some numbers: a key, the same for the same picture, and what makes it.
PictureOf = Callable[[N], tuple[Hashable, Callable[[], Picture[N]]]]

#: Files of the script, in order; what they share is one module on the page.
SCRIPTS = ("shapes.js", "player.js")


@dataclass(frozen=True)
class Recording:
    """A panel as it was recorded.

    title: the panel's; block: what the script plays, compressed; positions: values that each
    control, switch, choice and stepper can stand at, by name; presets: names of those recorded,
    and of what is printed besides them;
    printed: what is said beneath the still, of the state from which it was recorded, as HTML.
    """

    title: str
    block: bytes
    positions: Mapping[str, tuple[Value, ...]]
    presets: tuple[str, ...] = ()
    printed: str = ""


# ---- recording ---------------------------------------------------------------------------------


def record_panel(
    panel: Panel[N],
    state: Mapping[str, Any] | None = None,
    *,
    positions: int = POSITIONS,
    around: int = 0,
    only: Sequence[str] = (),
    most_bytes: int = LARGEST_BYTES,
    picture_of: PictureOf[N] | None = None,
    told: Callable[[int, int], None] | None = None,
) -> Recording:
    """Record a panel, one control at a time.

    panel: which; state: from where, as changes of the panel's own start; positions: at which a
    slider may stand, 3 to 201; around: at how many of them it is recorded once more in each named
    set of values, 0 for none; only: names of the controls that move, () for all; most_bytes: of the
    block; picture_of: which picture shows some numbers, for a panel that has several; told: is told
    after each position how many are done and of how many. A slider's positions are as even as its
    steps allow, its ends and the present value among them; what `numbers` refuses is left out.
    Raises MeasureError for a state that the panel refuses, and for a panel that does not fit
    however few positions there are.
    """
    if not isinstance(panel, Panel):
        raise MeasureError("panel", type(panel).__name__, "", "a panel")
    most = whole(positions, "positions", at_least=3, at_most=201)
    round_each = whole(around, "around", at_least=0, at_most=201)
    for name in only:
        if name not in panel.named:
            raise MeasureError("only", name, "", "one of: " + ", ".join(panel.named))
    limit = whole(most_bytes, "most_bytes", at_least=1, at_most=LARGEST_BYTES)
    one = _Taker(panel, panel.state(state or {}), picture_of)
    try:
        for count in (most, *(few for few in _FEWER if few < most)):
            recording = one.recording(count, min(round_each, count), tuple(only), told)
            if len(recording.block) <= limit:
                return recording
    finally:
        one.close()
    size = len(recording.block)
    raise MeasureError(panel.title, size, "bytes", f"a recording of at most {limit} bytes")


@dataclass(frozen=True)
class _Frame:
    """How a panel looks in one state.

    key: which picture; changed: its artists that differ from the picture's base, by place; alt,
    status, readout: the words.
    """

    key: Hashable
    changed: Mapping[int, Drawn]
    alt: str
    status: str
    readout: str


class _Taker(Generic[N]):
    """Takes frames of a panel, each once, however often it is asked for.

    panel: which; state: from where; picture_of: as record_panel has it.
    """

    def __init__(self, panel: Panel[N], state: State, picture_of: PictureOf[N] | None) -> None:
        self.panel, self.state = panel, state
        self.picture_of: PictureOf[N] = picture_of or (lambda _: (None, panel.picture))
        # of each picture, itself and the numbers of its base
        self.pictures: dict[Hashable, tuple[Live[N], N]] = {}
        self.most_moved: dict[str, str] = {}
        self.kept: dict[Any, _Frame | None] = {}
        self.start = self._taken("", panel.numbers(**state))

    def close(self) -> None:
        """Give all figures back."""
        for live, _ in self.pictures.values():
            live.close()

    def _taken(self, by: str, numbers: N) -> _Frame:
        key, make = self.picture_of(numbers)
        changed: dict[int, Drawn] = {}
        if key not in self.pictures:
            self.pictures[key] = Live(make()), numbers
        live, base = self.pictures[key]
        live.see(base)
        if numbers is not base:
            moved = live.see(numbers)
            changed = {place: now for place, (now, _) in moved.items()}
            if by and key == self.start.key:
                part = live.moved.by(by, moved)
                self.most_moved[by] = live.picture.looked_at.get(by, part)
        alt, status = live.picture.describe(numbers), self.panel.status(numbers)
        return _Frame(key, changed, alt, status, self.panel.readout(numbers))

    def take(self, changes: Mapping[str, Any]) -> _Frame | None:
        """The frame of the state with some values changed; None if numbers refuse them."""
        state = {**self.state, **changes}
        if state == self.state:
            return self.start
        key = tuple(sorted(changes.items()))
        if key not in self.kept:
            self.kept[key] = None
            by = next(iter(changes)) if len(changes) == 1 else ""
            with suppress(MeasureError):
                self.kept[key] = self._taken(by, self.panel.numbers(**state))
        return self.kept[key]

    def recording(
        self,
        most: int,
        around: int,
        only: Sequence[str],
        told: Callable[[int, int], None] | None,
    ) -> Recording:
        """Everything, with so many positions of a slider; the rest as record_panel has it."""
        panel, state = self.panel, self.state
        named = {name: one for name, one in panel.named.items() if not only or name in only}
        asked = {name: positions_of(one, state[name], most) for name, one in named.items()}
        of, done = sum(map(len, asked.values())) + len(panel.settings), 0
        frames = [self.start]
        numbers = {id(self.start): 0}

        def taken(changes: Mapping[str, Any]) -> int | None:
            nonlocal done
            frame = self.take(changes)
            done += 1
            if told:
                told(done, of)
            if frame is None:
                return None
            if id(frame) not in numbers:
                numbers[id(frame)] = len(frames)
                frames.append(frame)
            return numbers[id(frame)]

        movers, positions, presets = [], {}, []
        for name, one in named.items():
            each = [(value, taken({name: value})) for value in asked[name]]
            stood = [(value, frame) for value, frame in each if frame is not None]
            if len(stood) > 1:
                positions[name] = tuple(value for value, _ in stood)
                movers.append(self._mover(one, stood))
        chosen = {
            name: spread(values, around) if isinstance(named[name], Control) else values
            for name, values in positions.items()
        }
        if around:
            of += len(panel.settings) * sum(map(len, chosen.values()))
        for title, preset in panel.settings.items():
            values = {name: panel.check(name, value) for name, value in preset.items()}
            frame = taken(values)
            if frame is None:
                continue
            at = {name: told_value(panel.named[name], value) for name, value in values.items()}
            near = {
                name: nearest(positions[name], value)
                for name, value in values.items()
                if name in positions
            }
            # where each control is recorded with the others as the preset has them
            rounds: dict[str, list[tuple[int, int]]] = {}
            for name, places in chosen.items() if around else ():
                home = near.get(name, positions[name].index(state[name]))
                found = {positions[name].index(v): taken({**values, name: v}) for v in places}
                found[home] = frame
                rounds[name] = [
                    (place, seen) for place, seen in sorted(found.items()) if seen is not None
                ]
            preset_told = {"name": title, "frame": frame, "at": at, "near": near}
            presets.append({**preset_told, "around": rounds})
        head = {"title": panel.title, "movers": movers, "presets": presets}
        block = self._blocked(head, frames)
        names = tuple(str(one["name"]) for one in presets)
        return Recording(
            panel.title, block, MappingProxyType(positions), names, self._printed(only)
        )

    def _printed(self, first: Sequence[str]) -> str:
        """The sentence, where every control stands, some of them first, and the table."""
        order = dict.fromkeys([*first, *self.panel.named])
        named = [(self.panel.named[name], self.state[name]) for name in order]
        stands = "; ".join(f"{one.label} {told_value(one, value)}" for one, value in named)
        words = (self.start.status, f"Set to: {stands}.")
        return "".join(f"<p>{html.escape(one)}</p>" for one in words) + self.start.readout

    def _mover(self, one: Mover, stood: Sequence[tuple[Any, int]]) -> dict[str, Any]:
        kinds = {Control: "slider", Switch: "switch", Choice: "choice", Stepper: "steps"}
        values = [value for value, _ in stood]
        told: dict[str, Any] = {
            "kind": kinds[type(one)],
            "name": one.name,
            "label": one.label,
            "unit": getattr(one, "unit", ""),
            "group": getattr(one, "group", ""),
            "least": one.ends[0],
            "greatest": one.ends[-1],
            "values": values,
            "texts": [told_value(one, value) for value in values],
            "frames": [frame for _, frame in stood],
            "start": values.index(self.state[one.name]),
        }
        if self.most_moved.get(one.name):
            told["part"] = self.most_moved[one.name]
        return told

    def _blocked(self, head: Mapping[str, Any], frames: Sequence[_Frame]) -> bytes:
        words = Words()
        shapes: list[bytes] = []
        pictures: list[dict[str, Any]] = []
        numbers: dict[Hashable, int] = {}
        for key in dict.fromkeys(one.key for one in frames):
            live, base = self.pictures[key]
            live.see(base)
            numbers[key] = len(pictures)
            pictures.append(
                {"size": live.size_px, "parts": json.loads(live.parts), "base": len(shapes)}
            )
            # with every style and mark that any change needs
            shapes.append(live.whole())
        told = []
        for one in frames:
            change = -1
            if one.changed:
                change = len(shapes)
                shapes.append(packed(self.pictures[one.key][0].size_px, {}, {}, one.changed))
            said = words.text(one.alt), words.text(one.status), words.readout(one.readout)
            told.append([numbers[one.key], change, *said])
        whole_head = {**head, "pictures": pictures, "frames": told}
        return blocked({**whole_head, "strings": words.strings, "bits": words.bits}, shapes)


# ---- on a page ---------------------------------------------------------------------------------


def recorded_html(recording: Recording, still_html: str, name: str = "") -> str:
    """What a page holds of a recording: the still, and the block that is played in its place.

    recording: the panel as recorded; still_html: HTML of our own that is seen without the script
    and on paper; name: of the block's element, one on its page: small letters, figures and hyphens.
    Raises MeasureError for another name.
    """
    digest = hashlib.sha256(recording.block).hexdigest()[:12]
    name = name or f"recorded-{digest}"
    if not re.fullmatch(r"[a-z][a-z0-9-]{0,63}", name):
        raise MeasureError("name", name, "", "small letters, figures and hyphens, a letter first")
    data = base64.b64encode(recording.block).decode("ascii")
    title = html.escape(recording.title)
    return (
        f'<figure class="mensura-recorded" aria-label="{title}">'
        f'<div class="mensura-as-printed">{still_html}'
        f'<div class="mensura-printed">{recording.printed}</div></div>'
        f'<script type="application/octet-stream;base64" id="{name}">{data}</script></figure>'
    )


@lru_cache(maxsize=1)
def player_script() -> str:
    """The script of a page with recordings, one for all of them: the text of a module.

    >>> "</script" in player_script()
    False
    """
    here = files(__package__)
    texts = [here.joinpath(name).read_text("utf-8") for name in SCRIPTS]
    return "\n".join([inks_js(), *texts])


@lru_cache(maxsize=1)
def player_style() -> str:
    """The sheet of a page with recordings; colours are the look's, and tables look as everywhere.

    They are light, whatever the machine prefers, but where an element round them, or the figure
    itself, says `data-mensura-follows-system`.

    >>> "url(" in player_style()
    False
    """
    light, dark = (
        "".join(f" --mensura-{name}: {pair[side]};" for name, pair in THEMES.items())
        for side in (0, 1)
    )
    tables = SHEET[SHEET.index("/* ---- tables") : SHEET.index("/* ---- the stage")]
    own = files(__package__).joinpath("player.css").read_text("utf-8")
    return (
        f".mensura-recorded {{ color-scheme: light;{light} }}\n"
        "@media screen and (prefers-color-scheme: dark) { :is([data-mensura-follows-system], "
        "[data-mensura-follows-system] *).mensura-recorded "
        f"{{ color-scheme: dark;{dark} }} }}\n{tables}{own}"
    )
