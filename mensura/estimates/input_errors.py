"""How unsure each input of a volume is, and whether it is so once for all trees or anew for each.

What is new for each tree averages out over many; what is one for all does not, however many are
measured. A budget of a stand keeps the two apart, so each input states both.
"""

from __future__ import annotations

from dataclasses import dataclass
from types import MappingProxyType

from mensura.checks import ChoiceError, number

#: What an error belongs to: every tree alike, each plot anew, each tree anew.
SCOPES = ("all", "plot", "tree")


@dataclass(frozen=True)
class InputError:
    """How unsure one input is.

    name: one of INPUTS; u: standard uncertainty, at least 0; unit: "%" of the quantity itself, or
    the quantity's own ("cm", "m"); scope: one of SCOPES; origin: where the figure comes from, as
    JSON has it. One input may have several: a tape's error for all, a hand's for each.
    Raises MeasureError.

    >>> InputError("instrument", 0.5, "%", "all", "card of T2").scope
    'all'
    """

    name: str
    u: float
    unit: str
    scope: str
    origin: str = ""

    def __post_init__(self) -> None:
        if self.name not in INPUTS:
            raise ChoiceError("input", self.name, tuple(INPUTS))
        if self.scope not in SCOPES:
            raise ChoiceError(f"{self.name}, for", self.scope, SCOPES)
        if self.unit not in INPUTS[self.name][1]:
            raise ChoiceError(f"{self.name}, unit", self.unit, INPUTS[self.name][1])
        number(self.u, f"{self.name}, u", self.unit, at_least=0.0)


#: Every input: what it is, and the units in which its error may be told.
INPUTS: MappingProxyType[str, tuple[str, tuple[str, ...]]] = MappingProxyType(
    {
        "instrument": (
            "the tape's or the calipers' own error, of the girth or diameter",
            ("%", "cm"),
        ),
        "hand": ("how a hand holds and reads it, of the girth or diameter", ("%", "cm")),
        "shape": ("a section that is no circle, of the diameter", ("%",)),
        "bark": ("thickness of the bark on one side", ("%", "cm")),
        "length": ("length of a log", ("%", "m")),
        "height": ("height of a tree", ("%", "m")),
        "form factor": ("of the trees of this stand", ("%",)),
        "plot area": ("as laid out", ("%",)),
    }
)

#: Where nothing better is known: invented, of the size of what is published; each says of what.
DEFAULTS: tuple[InputError, ...] = (
    InputError("instrument", 0.3, "%", "all", "invented: a tape without a card"),
    InputError("hand", 1.0, "%", "tree", "invented; 1.5 % in [Luoma2017] for calipers"),
    InputError("shape", 0.5, "%", "tree", "invented: ovals of an axis ratio near 0.9"),
    InputError("shape", 0.3, "%", "all", "invented: what all tapes read too much"),
    InputError("bark", 10.0, "%", "tree", "invented"),
    InputError("length", 0.5, "%", "tree", "invented: a tape along the log"),
    InputError("height", 2.9, "%", "tree", "[Luoma2017]: repeated heights"),
    InputError("height", 1.0, "%", "all", "invented: the instrument"),
    InputError("form factor", 5.0, "%", "all", "invented: a factor from elsewhere"),
    InputError("plot area", 1.0, "%", "plot", "invented: a radius to half a per cent"),
)
