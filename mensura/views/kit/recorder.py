"""A Matplotlib renderer that paints nothing: it writes down what the artists ask for, as shapes.

Whatever Matplotlib draws and this one cannot is refused by name when a picture is made, not
dropped: formulas, clipping by a path, gradients, filters, an image that moves.
"""

from __future__ import annotations

import io
from typing import Any

import numpy as np
from matplotlib import rcParams
from matplotlib.backend_bases import RendererBase
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.transforms import Affine2D

from mensura.views.kit import look
from mensura.views.kit.pens import Pens, refused
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
#: A path of so few corners is not thinned.
FEW = 5
_LINES = np.array([MOVE, *[LINE] * (FEW - 1)], np.uint8)

#: A line may be thinned by so much of a shown pixel, as the library itself does.
THINNED_PX = 1 / 9


class Recorder(RendererBase):
    """Writes down what artists draw.

    width_px, height_px: of the picture as shown; density: dots of its figure for a shown pixel.
    `marks` are all that were ever used, by number; `drawn` is what was asked for since
    :meth:`begin`.
    """

    def __init__(self, width_px: int, height_px: int, density: int) -> None:
        super().__init__()
        self.width, self.height = width_px * density, height_px * density
        self.density = density
        self.dpi = look.SHOWN_DPI * density
        # dots to shown pixels, upwards to downwards
        self._per_dot = np.array([1.0, -1.0]) / density
        self._from_top = np.array([0.0, height_px])
        # words are as wide as the library's own renderer has them, so what it lays out fits
        agg: Any = RendererAgg
        self._words = agg(1, 1, self.dpi)
        self._pens = Pens(width_px, height_px, density)
        self.marks: dict[int, Outline] = {}
        self._mark_numbers: dict[bytes, int] = {}
        self._known_marks: dict[Any, tuple[Any, int]] = {}
        self.still = False
        self.drawn = Drawn()

    @property
    def styles(self) -> dict[int, dict[str, Any]]:
        """All that were ever used, by number."""
        return self._pens.styles

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
        # of all the house's settings a width hangs on this one, and the others take long to set
        own = rcParams["text.hinting"]
        rcParams["text.hinting"] = "none"
        try:
            return self._words.get_text_width_height_descent(s, prop, ismath)
        finally:
            rcParams["text.hinting"] = own

    # ---- what is drawn -----------------------------------------------------------------------

    def draw_path(self, gc: Any, path: Any, transform: Any, rgbFace: Any = None) -> None:  # noqa: N803
        """One path; gc, path, transform, rgbFace: as the library gives them."""
        style = self._pens.of(gc, rgbFace)
        if style is not None:
            self._path(style, path, transform)

    def draw_markers(
        self,
        gc: Any,
        marker_path: Any,
        marker_trans: Any,
        path: Any,
        trans: Any,
        rgbFace: Any = None,  # noqa: N803
    ) -> None:
        """One mark at many places; all: as the library gives them."""
        style = self._pens.of(gc, rgbFace)
        if path.codes is None:
            at = np.asarray(trans.transform(np.asarray(path.vertices, dtype=float)))
            at = at[np.isfinite(at).all(axis=1)]
        else:
            each = path.iter_segments(trans, simplify=False)
            at = np.array([corners[-2:] for corners, _ in each if len(corners)])
        if style is not None and len(at):
            matrix = np.asarray(marker_trans.get_matrix())
            points = self._places(at)
            self._marked(style, self._mark(marker_path, matrix), points)

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
        shifts = np.asarray(offset_trans.transform(np.asarray(offsets, dtype=float)))
        count = max(len(paths), len(all_transforms))
        if not len(paths):
            return
        hatches = more.get("hatchcolors", ())
        styles = self._pens.each(self, gc, facecolors, edgecolors, linewidths, linestyles, hatches)
        master = np.asarray(master_transform.get_matrix())
        matrices = [master @ one for one in all_transforms] or [master]
        if not shifts.any():
            for k in range(max(count, len(shifts))):
                style = styles(k)
                if style is not None:
                    self._path(style, paths[k % len(paths)], matrices[k % len(matrices)])
            return
        marks = [
            self._mark(paths[k % len(paths)], matrices[k % len(matrices)]) for k in range(count)
        ]
        seen = np.isfinite(shifts).all(axis=1).tolist()
        points = self._places(np.nan_to_num(shifts))
        runs: list[tuple[int, int, list[int]]] = []
        for k in range(max(count, len(shifts))):
            style, mark, at = styles(k), marks[k % count], k % len(shifts)
            if style is None or not seen[at]:
                continue
            if runs and runs[-1][:2] == (style, mark):
                runs[-1][2].append(at)
            else:
                runs.append((style, mark, [at]))
        for style, mark, some in runs:
            self._marked(style, mark, points[some])

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
        style = self._pens.of_words(gc, prop)
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
        dots = im[::-1]
        if dots.shape[-1] == 4 and (dots[..., 3] == 255).all():
            dots = dots[..., :3]  # nothing shows through, so nothing need be said of that
        out = io.BytesIO()
        Image.fromarray(np.ascontiguousarray(dots)).save(out, "PNG", compress_level=6)
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

    def _path(self, style: int, path: Any, transform: Any) -> None:
        """One path; transform: of the library's kind, or its matrix."""
        how = self.styles[style]
        # beyond the picture, so that no end of a clipped line is seen; dashes begin where the
        # library has them begin
        edge = 1 if "d" in how else 40 * self.density
        clip = None
        if "f" not in how and "h" not in how:
            clip = (-edge, -edge, self.width + edge, self.height + edge)
        matrix = transform if isinstance(transform, np.ndarray) else transform.get_matrix()
        codes = path.codes
        if 0 < len(path.vertices) <= FEW:
            # a bar or a line, whole and in the picture: as it is
            few = path.vertices @ matrix[:2, :2].T + matrix[:2, 2]
            if few.min() > -edge and few.max() < edge + min(self.width, self.height):
                self._add(style, self._told(few, _LINES[: len(few)] if codes is None else codes))
                return
        # corners that lie closer than places are told would turn a wide line to and fro
        thinned = len(path.vertices) > 2 and (codes is None or int(codes.max()) <= LINE)
        if thinned:
            path.simplify_threshold = THINNED_PX * self.density
        plain = path.cleaned(
            Affine2D(matrix), remove_nans=True, clip=clip, simplify=thinned, curves=True
        )
        self._add(style, self._told(plain.vertices, plain.codes))

    def _add(self, style: int, outline: Outline) -> None:
        if len(outline.points):
            self.drawn.add([PATH, style, *outline.told], outline)

    def _told(self, vertices: Any, codes: Any, from_top: bool = True) -> Outline:
        """A path as it is told, downwards from the upper edge or round its own origin."""
        each = codes.tobytes()
        end = each.find(STOP)
        if end >= 0:
            vertices, codes, each = vertices[:end], codes[:end], each[:end]
        points = self._places(vertices, from_top)
        straight = each.count(LINE)
        if each[:1] == bytes([MOVE]):
            if straight == len(each) - 1:
                return Outline(points, OPEN)
            if len(each) > 1 and each[-1] == CLOSE and straight == len(each) - 2:
                return Outline(points[:-1], CLOSED)
        return Outline(points, CODED, codes.astype(np.uint8))

    def _places(self, vertices: Any, from_top: bool = True) -> Any:
        """The figure's dots as places, downwards from the upper edge or from nothing."""
        px = vertices * self._per_dot
        return places(px + self._from_top if from_top else px)

    def _mark(self, path: Any, matrix: Any) -> int:
        """The number of a path that stands at places: told round its own origin, downwards."""
        key = (id(path), matrix.tobytes())
        known = self._known_marks.get(key)
        if known is not None and known[0] is path:
            return known[1]
        plain = path.cleaned(Affine2D(matrix), remove_nans=True, curves=True)
        told = self._told(plain.vertices, plain.codes, False)
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

    def _marked(self, style: int, mark: int, points: Any) -> None:
        self.drawn.add([MARKS, style, mark, len(points)], Outline(points, OPEN))
