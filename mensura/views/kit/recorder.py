"""A Matplotlib renderer that paints nothing: it writes down what the artists ask for, as shapes.

Whatever Matplotlib draws and this one cannot is refused by name when a picture is made, not
dropped: formulas, clipping by a path, gradients, filters, an image that moves.
"""

from __future__ import annotations

import io
from collections.abc import Iterator
from itertools import groupby
from typing import Any

import numpy as np
from matplotlib import rcParams
from matplotlib.backend_bases import RendererBase
from matplotlib.backends.backend_agg import RendererAgg
from matplotlib.transforms import Affine2D

from mensura.views.kit import look
from mensura.views.kit.pens import Pens, asked_of, refused
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
        self._turned, self._upper = np.array([1.0, -1.0]), np.array([0.0, self.height])
        self._pens = Pens(self.width, self.height, density)
        self.styles = self._pens.styles
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
            self._lined(style, path, transform)

    def _lined(self, style: int, path: Any, transform: Any) -> None:
        one = self.styles[style]
        outline = self._outline(path, transform, "f" in one or "h" in one, "d" in one)
        if len(outline.points):
            self.drawn.add([PATH, style, *outline.told], outline)

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
            self._marked(style, self._mark(marker_path, marker_trans), self._places(at))

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
        if not len(paths):  # the library asks first whether it may tell of hatches' colours
            return
        at = np.asarray(offset_trans.transform(np.asarray(offsets, dtype=float)))
        own = max(len(paths), len(all_transforms))
        count = max(own, len(at))
        styles = self._styles_of(
            gc, count, facecolors, edgecolors, linewidths, linestyles, more.get("hatchcolors", ())
        )
        ways = [Affine2D(one) + master_transform for one in all_transforms] or [master_transform]
        each = [(paths[k % len(paths)], ways[k % len(ways)]) for k in range(own)]
        seen = [k for k, style in enumerate(styles) if style is not None]
        if not at.any():
            for k in seen:
                self._lined(styles[k], *each[k % own])
            return
        marks = [self._mark(*one) for one in each]
        finite = np.isfinite(at).all(axis=1).tolist()
        points = self._places(np.where(np.isfinite(at), at, 0.0))
        seen = [k for k in seen if finite[k % len(at)]]
        for (style, mark), run in groupby(seen, lambda k: (styles[k], marks[k % own])):
            self._marked(style, mark, points[[k % len(at) for k in run]])

    def _styles_of(self, gc: Any, count: int, *looks: Any) -> Any:
        """The numbers of a collection's styles; looks: faces, edges, widths, dashes, hatches."""
        faces, edges, widths, dashes, hatches = looks
        asked = (
            count,
            *(np.asarray(one).tobytes() for one in (faces, edges, hatches)),
            tuple(widths),
            tuple((start, lengths and tuple(lengths)) for start, lengths in dashes),
            asked_of(gc, None),
        )
        known = self._pens.kept(asked)
        if known is None:
            each = self._iterated(
                gc, range(count), [(0.0, 0.0)], Affine2D(), faces, edges, widths, dashes, [True],
                [None], "screen", {"hatchcolors": hatches},
            )  # fmt: skip
            known = self._pens.keep(
                asked, tuple(self._pens.of(one, face) for *_, one, face in each)
            )
        return known

    def _iterated(self, *told: Any) -> Iterator[Any]:
        *some, more = told
        try:
            yield from self._iter_collection(*some, **more)
        except TypeError:  # a library before 3.11 knows of no colours of hatches
            if len(more["hatchcolors"]):
                raise
            yield from self._iter_collection(*some)

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
        style = self._pens.of_text(gc, prop)
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
        points = self._places(vertices)
        if len(codes) and codes[0] == MOVE:
            if (codes[1:] == LINE).all():
                return Outline(points, OPEN)
            if len(codes) > 1 and codes[-1] == CLOSE and (codes[1:-1] == LINE).all():
                return Outline(points[:-1], CLOSED)
        return Outline(points, CODED, codes.astype(np.uint8))

    def _places(self, vertices: Any) -> Any:
        """The figure's dots, told in shares of a shown pixel, downwards from the upper edge."""
        return places((vertices * self._turned + self._upper) / self.density)

    def _mark(self, path: Any, transform: Any) -> int:
        """The number of a path that stands at places: told round its own origin, downwards."""
        matrix = np.asarray(transform.get_matrix())
        key = (id(path), matrix.tobytes())
        if key in self._known_marks and self._known_marks[key][0] is path:
            return self._known_marks[key][1]
        plain = path.cleaned(transform, remove_nans=True, curves=True)
        told = self._told(plain.vertices + np.array([0, self.height]), plain.codes)
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
