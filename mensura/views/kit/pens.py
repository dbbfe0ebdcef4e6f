"""Fills, lines, hatches and lettering by name and number: what a shape is painted with.

A style is made when it is first asked for. What is asked for again is found by what it is made of,
since a panel asks for the same few on every move.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import numpy as np
from matplotlib.colors import to_rgba

from mensura.checks import MeasureError
from mensura.views.kit import look
from mensura.views.kit.record import places

#: Widths, dashes and letters come in points and are told in shown pixels.
PX_PER_PT = look.SHOWN_DPI / 72

_NAMES = {
    tuple(round(255 * part) for part in to_rgba(colour)[:3]): name
    for name, colour in look.INKS.items()
}


def refused(what: str) -> MeasureError:
    """The refusal of something that cannot be sent as shapes; what: its name."""
    return MeasureError("the picture", what, "", "paths, marks and plain text")


def _key(some: Any) -> Any:
    """Numbers as a dictionary takes them."""
    return None if some is None else tuple(some)


def _dash_key(dash: Any) -> Any:
    return None if dash is None else (dash[0], _key(dash[1]))


class Pens:
    """The styles of one picture.

    width_px, height_px: of the picture as shown; density: dots of its figure for a shown pixel.
    `styles` are all that were ever used, by number.
    """

    def __init__(self, width_px: int, height_px: int, density: int) -> None:
        self.size_px, self.density = (width_px, height_px), density
        self.styles: dict[int, dict[str, Any]] = {}
        self._numbers: dict[Any, int] = {}
        self._known: dict[Any, int | None] = {}

    def of(self, gc: Any, face: Any) -> int | None:
        """The number of a style, None for what is not seen; gc, face: as the library gives them."""
        key = (
            _key(face),
            _key(gc.get_rgb()),
            gc.get_linewidth(),
            _key(gc.get_hatch_color()) if gc.get_hatch() else None,
            _dash_key(gc.get_dashes()),
            self._rest(gc),
        )
        if gc.get_clip_path()[0] is not None:
            raise refused("clipping by a path")
        if gc.get_sketch_params() is not None:
            raise refused("a sketched line")
        if key not in self._known:
            self._keep(key, self._new(gc, face))
        return self._known[key]

    def _keep(self, key: Any, number: int | None) -> None:
        if len(self._known) > 2000:
            self._known.clear()
        self._known[key] = number

    def of_words(self, gc: Any, prop: Any) -> int:
        """The number of a style of words; gc, prop: as the library gives them."""
        key = (
            prop.get_size_in_points(),
            str(prop.get_weight()),
            _key(gc.get_rgb()),
            self._rest(gc),
        )
        number = self._known.get(key)
        if number is None:
            size, weight = float(prop.get_size_in_points()), str(prop.get_weight())
            number = self._styled(
                {
                    "t": round(size * PX_PER_PT, 3),
                    **({"bold": 1} if weight in ("bold", "700") else {}),
                    **self._colour("f", gc.get_rgb(), gc),
                    **self._clip(gc),
                }
            )
            self._keep(key, number)
        return number

    def each(self, renderer: Any, gc: Any, *told: Any) -> Callable[[int], int | None]:
        """Function that gives the style of the k-th of a collection; each is made once.

        renderer: makes graphics contexts; gc: of the collection; told: faces, edges, widths, dashes
        and colours of hatches, gone round as often as needed.
        """
        lengths = [len(one) or 1 for one in told]
        known = self._known
        rest = self._rest(gc)
        found: dict[tuple[int, ...], int | None] = {}

        def style(k: int) -> int | None:
            at = tuple([k % length for length in lengths])
            if at not in found:
                each = [
                    one[place] if len(one) else None for one, place in zip(told, at, strict=True)
                ]
                face, edge, width, dash, hatch = each
                key = (_key(face), _key(edge), width, _key(hatch), _dash_key(dash), rest)
                if key not in known:
                    self._keep(key, self._collected(renderer.new_gc(), gc, *each))
                found[at] = known[key]
            return found[at]

        return style

    def _collected(
        self, one: Any, gc: Any, face: Any, edge: Any, width: Any, dash: Any, hatch: Any
    ) -> int | None:
        """The style of one of a collection, each None where the collection has none."""
        if face is None and edge is None:
            return None
        one.copy_properties(gc)
        if edge is None:
            one.set_linewidth(0.0)
        else:
            one.set_foreground(edge)
            if width is not None:
                one.set_linewidth(width)
            if dash is not None:
                one.set_dashes(*dash)
        if hatch is not None:
            one.set_hatch_color(hatch)
        return self.of(one, face)

    def _new(self, gc: Any, face: Any) -> int | None:
        one: dict[str, Any] = {}
        if face is not None:
            one |= self._colour("f", face, gc)
        width = float(gc.get_linewidth()) * PX_PER_PT
        if width > 0:
            line = self._colour("s", gc.get_rgb(), gc)
            if line:
                one |= line | self._pen(gc, width)
        if gc.get_hatch() is not None:
            one["h"] = gc.get_hatch()
            one["hs"] = self._colour("s", gc.get_hatch_color(), gc).get("s", "truth")
            one["hw"] = round(gc.get_hatch_linewidth() * PX_PER_PT, 3)
        if not one:
            return None
        return self._styled(one | self._clip(gc))

    def _pen(self, gc: Any, width: float) -> dict[str, Any]:
        pen: dict[str, Any] = {"w": round(width, 3)}
        start, dashes = gc.get_dashes()
        if dashes is not None:
            pen["d"] = [round(float(one) * PX_PER_PT, 2) for one in dashes]
            if start:
                pen["o"] = round(float(start) * PX_PER_PT, 2)
        cap, join = str(gc.get_capstyle()), str(gc.get_joinstyle())
        cap = {"projecting": "square"}.get(getattr(gc.get_capstyle(), "name", cap), cap)
        join = getattr(gc.get_joinstyle(), "name", join)
        if cap != "butt":
            pen["c"] = cap
        if join != "miter":
            pen["j"] = join
        return pen

    def _colour(self, key: str, colour: Any, gc: Any) -> dict[str, Any]:
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

    @staticmethod
    def _rest(gc: Any) -> tuple[Any, ...]:
        """What a style is known by besides its colours, its width and its dashes."""
        box = gc.get_clip_rectangle()
        return (
            gc.get_alpha() if gc.get_forced_alpha() else None,
            gc.get_capstyle(),
            gc.get_joinstyle(),
            gc.get_hatch(),
            None if box is None else box.get_points().tobytes(),
            # what is refused is not known
            gc.get_clip_path()[0] is None and gc.get_sketch_params() is None,
        )

    def _clip(self, gc: Any) -> dict[str, Any]:
        box = gc.get_clip_rectangle()
        if box is None:
            return {}
        (left, low), (right, high) = box.get_points() / self.density
        wide, tall = self.size_px
        corners = places(np.array([[left, tall - high], [right, tall - low]]))
        whole = places(np.array([[0, 0], [wide, tall]]))
        if (corners[0] <= whole[0]).all() and (corners[1] >= whole[1]).all():
            return {}
        return {"k": corners.ravel().tolist()}

    def _styled(self, one: dict[str, Any]) -> int:
        key = tuple(
            (name, tuple(value) if isinstance(value, list) else value)
            for name, value in one.items()
        )
        number = self._numbers.setdefault(key, len(self._numbers))
        self.styles.setdefault(number, one)
        return number
