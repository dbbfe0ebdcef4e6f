"""What a fault is: one row, from which follows all that the project says, asks and shows of it.

A row holds the numbers that make the fault (with their bounds, options and sliders), its words, its
side, its typical sizes, and the places that it is left out of, each with a reason. The rows
themselves stand in :mod:`mensura.instruments.faults`; what draws or plays names them by key.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass
from dataclasses import field as having
from typing import Any

import numpy as np

from mensura.checks import MeasureError, number

#: Whose fault it is: how a tape lies, the band's condition, the calipers', or that of any reading.
LAY, BAND, JAWS, READING = "lay", "band", "jaws", "reading"

#: The instruments, and whose faults come into a reading of each, in the order they are taken.
INSTRUMENTS = {"tape": (LAY, BAND, READING), "calipers": (JAWS, READING)}

#: Where faults are shown or played, and whose faults belong there. A cause of a wrong reading is
#: one of a tape's; a drawing of a whole stem shows how an instrument lies, and not its marks.
PLACES = {
    "chapter panel": (LAY, BAND, JAWS, READING),
    "all faults": (LAY, BAND, JAWS, READING),
    "typical sizes": (LAY, BAND, JAWS, READING),
    "what each costs": (LAY, BAND, JAWS, READING),
    "what went wrong": (LAY, BAND, READING),
    "wrong picture": (LAY, JAWS),
}

SIDES = ("too much", "too little", "either")
UNDONE = ("exactly", "not", "but for its step")


@dataclass(frozen=True)
class Slider:
    """How far a panel lets a setting go.

    label: as read beside it; least, greatest, step, start: in the panel's unit; unit: that unit, as
    written; sound: the value at which nothing is wrong, in it; name: in the panel's state, if it is
    not the field's; parts: how many of the panel's unit make one of the field's.
    """

    label: str
    least: float
    greatest: float
    step: float
    start: float
    unit: str
    sound: float = 0.0
    name: str = ""
    parts: float = 1.0


@dataclass(frozen=True)
class Setting:
    """One number, count or word of an instrument: a field that checks itself, and its option.

    field: of Lay, Tape or Calipers; unit: of the number, or what is counted; words: what it is, as
    an option's help; bounds: as :func:`mensura.checks.number` takes them; kind: "number", "count"
    or "word"; missing: whether it may be None; slider: how far panels let it go, None if no panel
    moves it; spelt: its option, if that is not the field's name; beside: the field beside which
    a command asks for it.
    """

    field: str
    unit: str
    words: str
    bounds: Mapping[str, float] = having(default_factory=dict)
    kind: str = "number"
    missing: bool = False
    slider: Slider | None = None
    spelt: str = ""
    beside: str = ""

    @property
    def option(self) -> str:
        """As it is typed: --tilt-deg for tilt_deg."""
        return self.spelt or "--" + self.field.replace("_", "-")

    @property
    def control(self) -> str:
        """Its name in a panel's state: the field's, but where a panel has another unit."""
        return (self.slider.name if self.slider else "") or self.field

    def check(self, value: Any) -> Any:
        """The value, if it is within the bounds; else a MeasureError under the field's name.

        value: a number, or an array of any shape; a word is checked by its instrument.
        """
        if self.kind == "word" or (self.missing and value is None):
            return value
        counted = self.kind == "count"
        checked = number(value, self.field, "" if counted else self.unit, **self.bounds)
        if not counted:
            return checked
        if np.any(np.asarray(checked) % 1):
            raise MeasureError(self.field, value, "", f"a whole number of {self.unit}")
        return checked if np.ndim(checked) else int(checked)


@dataclass(frozen=True)
class Typical:
    """A fault of a typical size.

    settings: of its fields; words: as it stands among other faults, "" if it does not; at: as it
    follows a size in cm ("0.2 cm at 5°"), "" if it does not; case: "too high" where a fault has two
    sides that are told apart.
    """

    settings: Mapping[str, Any]
    words: str = ""
    at: str = ""
    case: str = ""


@dataclass(frozen=True)
class Fault:
    """One thing that can be wrong with a reading.

    key: its one name, in breakdowns, panels, games and problems; of: whose it is; settings: what
    makes it; words: its name at the head of a row; why: what it does to a reading; side: to which
    it goes, one of SIDES; undone: whether a way back from the reading undoes it, one of UNDONE;
    typical: typical sizes; reach: how far it goes, in words, where that is no number; made_by: the
    fields that must all differ from 0 for it to be there, the first setting's if nothing is said;
    left_out_of: the PLACES that do without it, each with the reason.
    Raises MeasureError for a row that contradicts itself.
    """

    key: str
    of: str
    settings: tuple[Setting, ...]
    words: str
    why: str
    side: str
    undone: str
    typical: tuple[Typical, ...] = ()
    reach: str = ""
    made_by: tuple[str, ...] = ()
    left_out_of: Mapping[str, str] = having(default_factory=dict)

    def __post_init__(self) -> None:
        for name, known in (
            ("of", (LAY, BAND, JAWS, READING)),
            ("side", SIDES),
            ("undone", UNDONE),
        ):
            if getattr(self, name) not in known:
                raise MeasureError(
                    f"{self.key}: {name}", getattr(self, name), "", "one of: " + ", ".join(known)
                )
        for place, reason in self.left_out_of.items():
            if self.of not in PLACES.get(place, ()) or not reason.strip():
                raise MeasureError(
                    f"{self.key}: left_out_of", place, "", "a place where it belongs, and a reason"
                )
        own = {one.field for one in self.settings}
        asked = {*self.made_by}.union(*(one.settings for one in self.typical))
        if not own or not asked <= own | SHARED.get(self.of, set()):
            raise MeasureError(
                f"{self.key}: settings", ", ".join(asked - own), "", "settings of its own"
            )

    @property
    def sliders(self) -> tuple[Setting, ...]:
        """The settings that a panel can move."""
        return tuple(one for one in self.settings if one.slider)

    def belongs_in(self, place: str) -> bool:
        """Whether the fault is to be found in a place.

        place: one of PLACES. Raises KeyError for another.
        """
        return self.of in PLACES[place] and place not in self.left_out_of

    def is_set(self, instrument: object) -> bool:
        """Whether an instrument has this fault, by the fields that make it.

        instrument: a lay, a tape or calipers.
        """
        size: Any = 1.0
        for name in self.made_by or (self.settings[0].field,):
            size = size * np.asarray(getattr(instrument, name))
        return bool(np.any(size))


#: Settings of one fault that a typical size of another may name: a pulled band's material.
SHARED = {BAND: {"material"}}
