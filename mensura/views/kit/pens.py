"""How shapes look: colours by name, widths, dashes, hatches, clipping; each look has a number.

What an artist asks for is a dozen small questions, and from move to move they are the same ones: so
an answer is kept by what was asked.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

import numpy as np
from matplotlib.colors import to_rgba

from mensura.checks import MeasureError
from mensura.views.kit import look
from mensura.views.kit.record import places

_NAMES = {
    tuple(round(255 * part) for part in to_rgba(colour)[:3]): name
    for name, colour in look.INKS.items()
}

#: So many answers are kept; a picture needs some hundred of them.
MOST_KEPT = 2000


def refused(what: str) -> MeasureError:
    """The refusal of something that cannot be sent as shapes; what: its name."""
    return MeasureError("the picture", what, "", "paths, marks and plain text")


class Pens:
    """Every style that a picture ever used, by number.

    width, height: of the figure in its dots; density: dots for a shown pixel; `styles` are all of
    them, as a record has them.
    """

    def __init__(self, width: int, height: int, density: int) -> None:
        self.width, self.height, self.density = width, height, density
        self.styles: dict[int, dict[str, Any]] = {}
        self._numbers: dict[Any, int] = {}
        self._kept: dict[Any, Any] = {}

    def kept(self, asked: Any) -> Any:
        """What was answered to the same question, or None; asked: it."""
        return self._kept.get(asked)

    def keep(self, asked: Any, answer: Any) -> Any:
        """The answer, kept for when the same is asked again.

        asked: by what it is kept; answer: anything but None.
        """
        if len(self._kept) >= MOST_KEPT:
            self._kept.clear()
        self._kept[asked] = answer
        return answer

    def of(self, gc: Any, face: Any) -> int | None:
        """The number of a path's or a mark's style; None for what is not seen.

        gc: graphics context; face: what fills it, or None.
        """
        asked = asked_of(gc, None if face is None else tuple(face))
        (number,) = self.kept(asked) or self.keep(asked, (self._new(gc, face),))
        return number  # type: ignore[no-any-return]

    def of_text(self, gc: Any, prop: Any) -> int:
        """The number of a text's style; gc: graphics context; prop: properties of its font."""
        asked = (prop.get_size_in_points(), prop.get_weight(), *asked_of(gc, None))
        (number,) = self.kept(asked) or self.keep(asked, (self._new_text(gc, prop),))
        return number  # type: ignore[no-any-return]

    def _new(self, gc: Any, face: Any) -> int | None:
        if gc.get_sketch_params() is not None:
            raise refused("a sketched line")
        one: dict[str, Any] = {}
        if face is not None:
            one |= _colour("f", face, gc)
        width = gc.get_linewidth() * look.SHOWN_DPI / 72
        if width > 0:
            line = _colour("s", gc.get_rgb(), gc)
            if line:
                one |= line | _pen(gc, width)
        if gc.get_hatch() is not None:
            one["h"] = gc.get_hatch()
            one["hs"] = _colour("s", gc.get_hatch_color(), gc).get("s", "truth")
            one["hw"] = round(gc.get_hatch_linewidth() * look.SHOWN_DPI / 72, 3)
        return self._number(one | self._clip(gc)) if one else None

    def _new_text(self, gc: Any, prop: Any) -> int:
        return self._number(
            {
                "t": round(float(prop.get_size_in_points()) * look.SHOWN_DPI / 72, 3),
                **({"bold": 1} if str(prop.get_weight()) in ("bold", "700") else {}),
                **_colour("f", gc.get_rgb(), gc),
                **self._clip(gc),
            }
        )

    def _clip(self, gc: Any) -> dict[str, Any]:
        box = gc.get_clip_rectangle()
        if box is None:
            return {}
        (left, low), (right, high) = box.get_points()
        upper, under = self.height - high, self.height - low
        corners = places(np.array([[left, upper], [right, under]]) / self.density)
        whole = places(np.array([[0, 0], [self.width, self.height]]) / self.density)
        if (corners[0] <= whole[0]).all() and (corners[1] >= whole[1]).all():
            return {}
        return {"k": corners.ravel().tolist()}

    def _number(self, one: Mapping[str, Any]) -> int:
        key = tuple(
            (name, tuple(value) if isinstance(value, list) else value)
            for name, value in one.items()
        )
        number = self._numbers.setdefault(key, len(self._numbers))
        self.styles.setdefault(number, dict(one))
        return number


def asked_of(gc: Any, face: Any) -> tuple[Any, ...]:
    """All that a style hangs on, to keep its number by.

    gc: graphics context; face: what fills it, or None. Raises MeasureError for clipping by a path.
    """
    if gc.get_clip_path()[0] is not None:
        raise refused("clipping by a path")
    box = gc.get_clip_rectangle()
    start, dashes = gc.get_dashes()
    return (
        face,
        tuple(gc.get_rgb()),
        gc.get_alpha() if gc.get_forced_alpha() else None,
        gc.get_linewidth(),
        start,
        None if dashes is None else tuple(dashes),
        gc.get_capstyle(),
        gc.get_joinstyle(),
        gc.get_hatch(),
        gc.get_hatch_color(),
        gc.get_hatch_linewidth(),
        None if box is None else box.get_points().tobytes(),
        gc.get_sketch_params(),
    )


def _pen(gc: Any, width: float) -> dict[str, Any]:
    pen: dict[str, Any] = {"w": round(float(width), 3)}
    start, dashes = gc.get_dashes()
    if dashes is not None:
        scale = look.SHOWN_DPI / 72
        pen["d"] = [round(float(one) * scale, 2) for one in dashes]
        if start:
            pen["o"] = round(float(start) * scale, 2)
    cap, join = str(gc.get_capstyle()), str(gc.get_joinstyle())
    cap = {"projecting": "square"}.get(getattr(gc.get_capstyle(), "name", cap), cap)
    join = getattr(gc.get_joinstyle(), "name", join)
    if cap != "butt":
        pen["c"] = cap
    if join != "miter":
        pen["j"] = join
    return pen


def _colour(key: str, colour: Any, gc: Any) -> dict[str, Any]:
    """A colour by its name, and how dense it is if it is not wholly so."""
    red, green, blue, dense = to_rgba(colour)
    if gc.get_forced_alpha():
        dense = gc.get_alpha()
    if dense == 0:
        return {}
    dots = (round(255 * red), round(255 * green), round(255 * blue))
    name = _NAMES.get(dots)
    if name is None:
        raise refused("the colour #{:02X}{:02X}{:02X}".format(*dots))
    told: dict[str, Any] = {key: name}
    if dense < 1:
        told[key + "a"] = round(float(dense), 3)
    return told
