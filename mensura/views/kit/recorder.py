"""A Matplotlib renderer that paints nothing: it writes down what the artists ask for, as shapes.

Whatever Matplotlib draws and this one cannot is refused by name when a picture is made, not
dropped: formulas, clipping by a path, gradients, filters, an image that moves.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from typing import Any

import numpy as np
from matplotlib.backend_bases import RendererBase
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.colors import to_rgba

from mensura.checks import MeasureError
from mensura.views.kit import look
from mensura.views.kit.record import (
    CLOSED,
    CODED,
    IMAGE,
    MARKS,
    OPEN,
    PATH,
    TEXT,
    Drawn,
    Outline,
    places,
)

MOVE, LINE, CLOSE, STOP = 1, 2, 79, 0

#: A line may be thinned by so much of a shown pixel, as the library itself does.
THINNED_PX = 1 / 9

_NAMES = {
    tuple(round(255 * part) for part in to_rgba(colour)[:3]): name
    for name, colour in look.INKS.items()
}


def refused(what: str) -> MeasureError:
    """The refusal of something that cannot be sent as shapes; what: its name."""
    return MeasureError("the picture", what, "", "paths, marks and plain text")


class Recorder(RendererBase):
    """Writes down what artists draw.

    width_px, height_px: of the picture as shown; density: dots of its figure for a shown pixel.
    `styles` and `marks` are all that were ever used, by number; `drawn` is what was asked for since
    :meth:`begin`.
    """

    def __init__(self, width_px: int, height_px: int, density: int) -> None:
        super().__init__()
        self.width, self.height = width_px * density, height_px * density
        self.density = density
        self.dpi = look.SHOWN_DPI * density
        # words are as wide as the library's own renderer has them, so what it lays out fits
        self._words = RendererAgg(1, 1, self.dpi)
        self.styles: dict[int, dict[str, Any]] = {}
        self._style_numbers: dict[Any, int] = {}
        self.marks: dict[int, Outline] = {}
        self._mark_numbers: dict[bytes, int] = {}
        self._known_marks: dict[Any, tuple[Any, int]] = {}
        self.still = False
        self.drawn = Drawn()

    def begin(self, still: bool = False) -> None:
        """Begin anew, with an artist that moves or with all that do not; still: which."""
        self.drawn, self.still = Drawn(), still

    # ---- what the library asks a renderer ----------------------------------------------------

    def get_canvas_width_height(self) -> tuple[float, float]:
        """Of the figure, in its dots."""
        return self.width, self.height

    def points_to_pixels(self, points: Any) -> Any:
        """Points as the figure's dots; points: a number or an array."""
        return points * self.dpi / 72

    def get_text_width_height_descent(self, s: str, prop: Any, ismath: Any) -> Any:
        """As the library's own renderer has it; s, prop, ismath: as it takes them."""
        if ismath:
            raise refused(f"the formula {s}")
        with look.house_style():
            return self._words.get_text_width_height_descent(s, prop, ismath)

    # ---- what is drawn -----------------------------------------------------------------------

    def draw_path(self, gc: Any, path: Any, transform: Any, rgbFace: Any = None) -> None:
        """One path; gc, path, transform, rgbFace: as the library gives them."""
        style = self._style(gc, rgbFace)
        if style is None:
            return
        filled = rgbFace is not None or gc.get_hatch() is not None
        dashed = gc.get_dashes()[1] is not None
        outline = self._outline(path, transform, filled, dashed)
        if len(outline.points):
            self.drawn.add([PATH, style, *outline.told], outline)

    def draw_markers(
        self,
        gc: Any,
        marker_path: Any,
        marker_trans: Any,
        path: Any,
        trans: Any,
        rgbFace: Any = None,
    ) -> None:
        """One mark at many places; all: as the library gives them."""
        style = self._style(gc, rgbFace)
        if path.codes is None:
            at = np.asarray(trans.transform(np.asarray(path.vertices, dtype=float)))
            at = at[np.isfinite(at).all(axis=1)]
        else:
            each = path.iter_segments(trans, simplify=False)
            at = np.array([corners[-2:] for corners, _ in each if len(corners)])
        if style is not None and len(at):
            self._marked(style, self._mark(marker_path, marker_trans), at)

    def draw_path_collection(
        self,
        gc: Any,
        master_transform: Any,
        paths: Any,
        all_transforms: Any,
        offsets: Any,
        offset_trans: Any,
        facecolors: Any,
        edgecolors: Any,
        linewidths: Any,
        linestyles: Any,
        antialiaseds: Any,
        urls: Any,
        offset_position: Any,
        **more: Any,
    ) -> None:
        """Many paths; each at its own place is a mark. All: as the library gives them."""
        if not np.any(np.asarray(offset_trans.transform(np.asarray(offsets, float)))):
            super().draw_path_collection(
                gc, master_transform, paths, all_transforms, offsets, offset_trans, facecolors,
                edgecolors, linewidths, linestyles, antialiaseds, urls, offset_position, **more,
            )  # fmt: skip
            return
        transforms = self._each_transform(master_transform, paths, all_transforms)
        marks = [self._mark(path, one) for path, one in transforms]
        runs: list[tuple[int, int, list[tuple[float, float]]]] = []
        more.setdefault("hatchcolors", ())
        for x, y, mark, one, face in self._iterated(
            gc, marks, offsets, offset_trans, facecolors, edgecolors, linewidths, linestyles,
            antialiaseds, urls, offset_position, more,
        ):  # fmt: skip
            style = self._style(one, face)
            if style is None or not np.isfinite((x, y)).all():
                continue
            if runs and runs[-1][:2] == (style, mark):
                runs[-1][2].append((x, y))
            else:
                runs.append((style, mark, [(x, y)]))
        for style, mark, at in runs:
            self._marked(style, mark, np.array(at))

    def _iterated(self, *told: Any) -> Iterator[Any]:
        *some, more = told
        try:
            yield from self._iter_collection(*some, **more)
        except TypeError:  # a library before 3.11 knows of no colours of hatches
            if more != {"hatchcolors": ()}:
                raise
            yield from self._iter_collection(*some)

    def _each_transform(
        self, master: Any, paths: Any, transforms: Any
    ) -> Iterator[tuple[Any, Any]]:
        from matplotlib.transforms import Affine2D

        count = max(len(paths), len(transforms))
        for k in range(count if len(paths) else 0):
            one = Affine2D(transforms[k % len(transforms)]) + master if len(transforms) else master
            yield paths[k % len(paths)], one

    def draw_text(
        self,
        gc: Any,
        x: float,
        y: float,
        s: str,
        prop: Any,
        angle: float,
        ismath: Any = False,
        mtext: Any = None,
    ) -> None:
        """One line of text, from its left foot; all: as the library gives them."""
        if ismath:
            raise refused(f"the formula {s}")
        style = self._styled(
            {
                "t": round(float(prop.get_size_in_points()) * look.SHOWN_DPI / 72, 3),
                **({"bold": 1} if str(prop.get_weight()) in ("bold", "700") else {}),
                **self._colour("f", gc.get_rgb(), gc),
                **self._clip(gc),
            }
        )
        # the renderer that measured the words counts downwards, as the page does
        left, foot = places(np.array([[x, y]]) / self.density)[0].tolist()
        self.drawn.ops.append([TEXT, style, s, left, foot, round(float(angle), 2)])

    def draw_image(self, gc: Any, x: float, y: float, im: Any, transform: Any = None) -> None:
        """An image that lies still, encoded; all: as the library gives them."""
        from PIL import Image

        if not self.still:
            raise refused("an image that moves")
        if transform is not None:
            raise refused("a turned image")
        high, wide = im.shape[:2]
        out = io.BytesIO()
        Image.fromarray(np.ascontiguousarray(im[::-1])).save(out, "PNG", compress_level=6)
        corners = np.array([[x, self.height - y - high], [wide, high]]) / self.density
        self.drawn.ops.append([IMAGE, *places(corners).ravel().tolist()])
        self.drawn.images.append(out.getvalue())

    def draw_gouraud_triangles(self, *told: Any, **more: Any) -> None:
        """Refused; told, more: as the library gives them."""
        raise refused("a gradient of triangles")

    def draw_tex(self, *told: Any, **more: Any) -> None:
        """Refused; told, more: as the library gives them."""
        raise refused("a formula set by TeX")

    def start_filter(self) -> None:
        """Refused."""
        raise refused("a filter")

    def start_rasterizing(self) -> None:
        """Refused."""
        raise refused("an artist drawn as dots")

    # ---- points ------------------------------------------------------------------------------

    def _outline(self, path: Any, transform: Any, filled: bool, dashed: bool) -> Outline:
        # beyond the picture, so that no end of a clipped line is seen; dashes begin where the
        # library has them begin
        edge = 1 if dashed else 40 * self.density
        clip = None if filled else (-edge, -edge, self.width + edge, self.height + edge)
        straight = path.codes is None or not ((path.codes == 3) | (path.codes == 4)).any()
        thinned = straight and path.should_simplify
        own = path.simplify_threshold
        path.simplify_threshold = THINNED_PX * self.density
        plain = path.cleaned(transform, remove_nans=True, clip=clip, simplify=thinned, curves=True)
        path.simplify_threshold = own
        return self._told(plain.vertices, plain.codes)

    def _told(self, vertices: Any, codes: Any) -> Outline:
        end = np.flatnonzero(codes == STOP)
        if len(end):
            vertices, codes = vertices[: end[0]], codes[: end[0]]
        points = places(self._down(vertices))
        if len(codes) and codes[0] == MOVE:
            if (codes[1:] == LINE).all():
                return Outline(points, OPEN)
            if len(codes) > 1 and codes[-1] == CLOSE and (codes[1:-1] == LINE).all():
                return Outline(points[:-1], CLOSED)
        return Outline(points, CODED, codes.astype(np.uint8))

    def _down(self, vertices: Any) -> Any:
        """The figure's dots as shown pixels, downwards from the upper edge."""
        return np.column_stack([vertices[:, 0], self.height - vertices[:, 1]]) / self.density

    def _mark(self, path: Any, transform: Any) -> int:
        """The number of a path that stands at places: told round its own origin, downwards."""
        matrix = np.asarray(transform.get_matrix())
        key = (id(path), matrix.tobytes())
        if key in self._known_marks and self._known_marks[key][0] is path:
            return self._known_marks[key][1]
        plain = path.cleaned(transform, remove_nans=True, curves=True)
        told = self._told(plain.vertices + [0, self.height], plain.codes)
        name = (
            b"%d" % told.way
            + told.points.tobytes()
            + (b"" if told.codes is None else told.codes.tobytes())
        )
        number = self._mark_numbers.setdefault(name, len(self._mark_numbers))
        self.marks.setdefault(number, told)
        if len(self._known_marks) > 2000:
            self._known_marks.clear()
        self._known_marks[key] = (path, number)
        return number

    def _marked(self, style: int, mark: int, at: Any) -> None:
        points = places(self._down(at))
        self.drawn.add([MARKS, style, mark, len(points)], Outline(points, OPEN))

    # ---- styles ------------------------------------------------------------------------------

    def _style(self, gc: Any, face: Any) -> int | None:
        """The number of a style; None for what is not seen."""
        if gc.get_clip_path()[0] is not None:
            raise refused("clipping by a path")
        if gc.get_sketch_params() is not None:
            raise refused("a sketched line")
        one: dict[str, Any] = {}
        if face is not None:
            one |= self._colour("f", face, gc)
        width = float(self.points_to_pixels(gc.get_linewidth())) / self.density
        if width > 0:
            line = self._colour("s", gc.get_rgb(), gc)
            if line:
                one |= line | self._pen(gc, width)
        if gc.get_hatch() is not None:
            one["h"] = gc.get_hatch()
            one["hs"] = self._colour("s", gc.get_hatch_color(), gc).get("s", "truth")
            one["hw"] = round(gc.get_hatch_linewidth() * look.SHOWN_DPI / 72, 3)
        if not one:
            return None
        return self._styled(one | self._clip(gc))

    def _pen(self, gc: Any, width: float) -> dict[str, Any]:
        pen: dict[str, Any] = {"w": round(width, 3)}
        start, dashes = gc.get_dashes()
        if dashes is not None:
            scale = self.points_to_pixels(1.0) / self.density
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

    def _clip(self, gc: Any) -> dict[str, Any]:
        box = gc.get_clip_rectangle()
        if box is None:
            return {}
        (left, low), (right, high) = box.get_points()
        corners = places(self._down(np.array([[left, high], [right, low]])))
        whole = places(np.array([[0, 0], [self.width, self.height]]) / self.density)
        if (corners[0] <= whole[0]).all() and (corners[1] >= whole[1]).all():
            return {}
        return {"k": corners.ravel().tolist()}

    def _styled(self, one: dict[str, Any]) -> int:
        key = tuple(
            (name, tuple(value) if isinstance(value, list) else value)
            for name, value in one.items()
        )
        number = self._style_numbers.setdefault(key, len(self._style_numbers))
        self.styles.setdefault(number, one)
        return number
