"""A recorded picture as one SVG: the shapes that the page paints, in a file that needs nothing.

Places stay what the record has, whole sixteenths of a shown pixel: the viewBox counts in them, so
every number is short and none is rounded. Level and upright lines stand on whole dots of a screen
with two for a pixel, as Matplotlib's own renderer puts them. A colour is looked up by its name in
the table that the caller gives; the words come along as the picture's label.

An `<img>` has no fonts but the reader's own, so there letters are outlines of DejaVu Sans, each
once. Standing in a page that brings the font (`inline`), they are text, held to the width that the
layout gave them; and every id begins with a digest of the picture, since a page may hold several.
"""

from __future__ import annotations

import base64
import hashlib
import html
import re
from collections.abc import Mapping
from functools import lru_cache
from typing import Any

import numpy as np

from mensura.views.kit.letters import FACE as PAGE_FACE
from mensura.views.kit.look import INKS
from mensura.views.kit.record import (
    CLOSED,
    CODED,
    IMAGE,
    MARKS,
    PER_PX,
    TEXT,
    Outline,
    Record,
)

#: The face with which pictures are laid out, and a page's fonts, best first, as in `shapes.js`.
FACE = "DejaVu Sans"
FONTS = f"{PAGE_FACE},{FACE},Verdana,sans-serif"
#: A screen's dot, of two for a shown pixel; a longer path is no frame and no axis.
DOT = PER_PX // 2
MOST_SQUARE = 600
#: Outlines of letters are told in this share of their size; hatches repeat after so many pixels.
PER_EM = 1000
HATCH_PX = 96

_NO_TEXT = re.compile("[^\t\n\r\x20-\ud7ff\ue000-\ufffd\U00010000-\U0010ffff]")


def svg(record: Record, alt: str, *, inks: Mapping[str, str] = INKS, inline: bool = False) -> str:
    """A picture as an SVG element, the same bytes for the same picture.

    record: of the whole picture, unpacked; alt: the same in words; inks: name → colour, as CSS
    writes one; inline: whether it stands in a page that brings the font. Raises KeyError for a
    colour that the table does not have.
    """
    defs, body = _Writer(record, inks, inline).written()
    if inline:
        prefix = "p" + hashlib.blake2b((defs + body).encode(), digest_size=4).hexdigest()
        defs, body = _Writer(record, inks, inline, prefix).written()
    width, height = record.size_px
    font = f' font-family="{FONTS}"' if inline else ""
    return (
        f'<svg xmlns="http://www.w3.org/2000/svg" width="{width}" height="{height}" '
        f'viewBox="0 0 {width * PER_PX} {height * PER_PX}" role="img" '
        f'aria-label="{escaped(alt)}" fill="none"{font}>{defs}{body}</svg>'
    )


def escaped(text: str) -> str:
    """Text as it may stand in an attribute or between tags; what XML cannot hold is left out.

    text: any.

    >>> escaped('a<b & "c"' + chr(7))
    'a&lt;b &amp; &quot;c&quot;'
    """
    return html.escape(_NO_TEXT.sub("", text))


def short(number: float) -> str:
    """A number in as few signs as will do, to a hundredth.

    number: finite.

    >>> short(0.5), short(-0.25), short(17.0), short(1.066), short(-0.001)
    ('.5', '-.25', '17', '1.07', '0')
    """
    said = f"{number:.2f}".rstrip("0").rstrip(".")
    sign, figures = ("-", said[1:]) if said.startswith("-") else ("", said)
    figures = figures.removeprefix("0") or "0"
    return figures if figures == "0" else sign + figures


# ---- paths ---------------------------------------------------------------------------------------

_LETTERS = {1: ("m", 1), 2: ("l", 1), 3: ("q", 2), 4: ("c", 3)}


def path_data(outline: Outline) -> str:
    """A path as SVG writes one: whole numbers, each place from the last one.

    outline: what is written.

    >>> path_data(Outline(np.array([[16, 16], [32, 8], [32, 40]]), CLOSED))
    'M16 16l16-8v32z'
    """
    points = outline.points.tolist()
    codes = outline.codes.tolist() if outline.way == CODED else [1] + [2] * (len(points) - 1)
    data: list[str] = []
    last, start = [0, 0], [0, 0]
    letter_before, k = "", 0
    while k < len(points):
        if codes[k] not in _LETTERS:
            data.append("z")
            last, letter_before = start, "z"
            k += 1
            continue
        letter, many = _LETTERS[codes[k]]
        steps = [step for x, y in points[k : k + many] for step in (x - last[0], y - last[1])]
        last = points[k + many - 1]
        if letter == "m":
            start = last
            if not data:  # the first one is from nowhere
                letter = "M"
        elif letter == "l" and 0 in steps:
            letter, steps = ("v", steps[1:]) if steps[0] == 0 else ("h", steps[:1])
        said = [str(step) if step < 0 else f" {step}" for step in steps]
        if letter != letter_before:
            said[0] = letter + said[0].lstrip()
        data += said
        letter_before = letter
        k += many
    if outline.way == CLOSED:
        data.append("z")
    return "".join(data)


def squared(outline: Outline) -> bool:
    """Whether every line of a path goes level or upright.

    outline: the path.
    """
    points, codes = outline.points, outline.codes
    if not 2 <= len(points) <= MOST_SQUARE:
        return False
    steps = np.diff(points.astype(int), axis=0)
    if outline.way == CODED:
        if np.isin(codes, (3, 4)).any():
            return False
        steps = steps[codes[1:] == 2]
    elif outline.way == CLOSED:
        steps = np.vstack([steps, points[0].astype(int) - points[-1]])
    return bool((steps == 0).any(axis=1).all())


def on_dots(points: Any, wide_px: float) -> Any:
    """Places on whole dots, or between two for a line that is an odd number of them wide.

    points: in sixteenths of a pixel; wide_px: the line's width, 0 if there is only a fill.

    >>> on_dots(np.array([[19, 21]]), 1.0).tolist(), on_dots(np.array([[19, 21]]), 0.5).tolist()
    ([[16, 24]], [[20, 20]])
    """
    points = np.asarray(points, dtype=int)
    if round(wide_px * 2) % 2:
        return points // DOT * DOT + DOT // 2
    return (points + DOT // 2) // DOT * DOT


# ---- letters -------------------------------------------------------------------------------------


@lru_cache(maxsize=1024)
def laid_out(text: str, bold: bool) -> tuple[tuple[tuple[str, int], ...], int]:
    """The letters of a line, with where each begins, and how long it is, in PER_EM of its size.

    text: one line; bold: whether its letters are. A letter's name is its outline.

    >>> letters, long = laid_out("to to", False)
    >>> len(letters), letters[0][0] == letters[3][0], 2000 < long < 2500
    (5, True, True)
    """
    from matplotlib.font_manager import FontProperties, findfont, get_font
    from matplotlib.textpath import TextToPath

    font = get_font(findfont(FontProperties(family=FACE, weight="bold" if bold else "normal")))
    size = TextToPath.FONT_SCALE
    font.set_size(size, TextToPath.DPI)
    # where one more letter would begin, the line ends
    placed, outlines, _ = TextToPath().get_glyphs_with_font(font, text + "|")
    data = {}
    for name, (vertices, codes) in outlines.items():
        corners = np.asarray(vertices, dtype=float).reshape(-1, 2) * [1, -1] * (PER_EM / size)
        whole = Outline(np.rint(corners).astype(int), CODED, np.asarray(codes, dtype=np.uint8))
        data[name] = path_data(whole) if len(corners) else ""
    letters = [(data[name], round(x * PER_EM / size)) for name, x, _, _ in placed]
    return tuple(letters[:-1]), letters[-1][1]


# ---- the picture ---------------------------------------------------------------------------------


class _Writer:
    """Writes one picture.

    record, inks, inline: as for `svg`; prefix: what every id begins with.
    """

    def __init__(
        self, record: Record, inks: Mapping[str, str], inline: bool, prefix: str = ""
    ) -> None:
        self.record, self.inks, self.inline, self.prefix = record, inks, inline, prefix
        self._defs: list[str] = []
        self._ids: dict[tuple[str, str], str] = {}

    def written(self) -> tuple[str, str]:
        """What is shared, and all that is drawn; neighbours of one style in one group."""
        runs: list[tuple[Any, list[str]]] = []
        for place in sorted(self.record.artists):
            for op, beside in self.record.artists[place]:
                for style, element in self._drawn(op, beside):
                    if runs and runs[-1][0] == style:
                        runs[-1][1].append(element)
                    else:
                        runs.append((style, [element]))
        body = "".join(self._group(style, elements) for style, elements in runs)
        return f"<defs>{''.join(self._defs)}</defs>" if self._defs else "", body

    def _group(self, style: str, elements: list[str]) -> str:
        if not style:
            return "".join(elements)
        # a clip is told in the picture's own measure, not in that of what moves its origin
        if len(elements) > 1 or "clip-path" in style:
            return f"<g{style}>{''.join(elements)}</g>"
        tag = re.match(r"<\w+", elements[0])
        assert tag
        return f"{tag[0]}{style}{elements[0][tag.end() :]}"

    def _drawn(self, op: list[Any], beside: Any) -> list[tuple[str, str]]:
        """(attributes, element) of each thing that an operation draws."""
        if op[0] == IMAGE:
            return [("", self._image(op, beside))]
        style = self.record.styles[op[1]]
        attributes = self._attributes(style)
        if op[0] == TEXT:
            return [(attributes, self._text(op, style))]
        if op[0] == MARKS:
            return [(attributes, one) for one in self._marks(op[2], beside, style)]
        if squared(beside):
            beside = Outline(on_dots(beside.points, style.get("w", 0)), beside.way, beside.codes)
        element = f'<path d="{path_data(beside)}"/>'
        if "h" not in style:
            return [(attributes, element)]
        fill, line = (
            self._attributes({key: style[key] for key in style if key[0] in keys})
            for keys in ("fk", "swdocjk")
        )
        hatched = f' fill="url(#{self._hatch(style)})"' + self._attributes(
            {key: style[key] for key in style if key == "k"}
        )
        layers = [(fill, "f" in style), (hatched, True), (line, "s" in style)]
        return [(told, element) for told, there in layers if there]

    # ---- styles --------------------------------------------------------------------------------

    def _attributes(self, style: Mapping[str, Any]) -> str:
        told = []
        for key, name in (("f", "fill"), ("s", "stroke")):
            if key in style:
                told.append(f'{name}="{escaped(self.inks[style[key]])}"')
                if key + "a" in style:
                    told.append(f'{name}-opacity="{style[key + "a"]:g}"')
        if "s" in style:
            told.append(f'stroke-width="{short(style["w"] * PER_PX)}"')
            if "d" in style:
                dashes = " ".join(short(one * PER_PX) for one in style["d"])
                told.append(f'stroke-dasharray="{dashes}"')
            if "o" in style:
                told.append(f'stroke-dashoffset="{short(style["o"] * PER_PX)}"')
            if "c" in style:
                told.append(f'stroke-linecap="{style["c"]}"')
            if "j" in style:
                told.append(f'stroke-linejoin="{style["j"]}"')
        if "t" in style and self.inline:
            told.append(f'font-size="{short(style["t"] * PER_PX)}"')
            if style.get("bold"):
                told.append('font-weight="bold"')
        if "k" in style:
            told.append(f'clip-path="url(#{self._clip(style["k"])})"')
        return "".join(f" {one}" for one in told)

    def _shared(self, kind: str, opening: str, content: str) -> str:
        """The id of something in the defs, which is put there when it is first used."""
        key = opening, content
        if key not in self._ids:
            self._ids[key] = f"{self.prefix}{kind}{len(self._ids)}"
            tag, _, more = opening.partition(" ")
            end = f">{content}</{tag}>" if content else "/>"
            self._defs.append(f'<{tag} id="{self._ids[key]}"{" " if more else ""}{more}{end}')
        return self._ids[key]

    def _path_id(self, kind: str, data: str) -> str:
        return self._shared(kind, f'path d="{data}"', "")

    def _clip(self, box: list[int]) -> str:
        (left, top), (right, low) = on_dots(np.reshape(box, (2, 2)), 0).tolist()
        inside = f'<path d="M{left} {top}H{right}V{low}H{left}z"/>'
        return self._shared("k", "clipPath", inside)

    def _hatch(self, style: Mapping[str, Any]) -> str:
        from matplotlib.hatch import get_path

        side = HATCH_PX * PER_PX
        made = get_path(style["h"])
        corners = np.rint(np.asarray(made.vertices) * [1, -1] * side + [0, side]).astype(int)
        outline = Outline(corners, CODED, np.asarray(made.codes, dtype=np.uint8))
        colour = escaped(self.inks[style["hs"]])
        # dots and stars are filled; lines have nothing to fill
        lines = (
            f'<path d="{path_data(outline)}" fill="{colour}" stroke="{colour}" '
            f'stroke-width="{short(style["hw"] * PER_PX)}"/>'
        )
        opening = f'pattern width="{side}" height="{side}" patternUnits="userSpaceOnUse"'
        return self._shared("h", opening, lines)

    # ---- what is drawn -------------------------------------------------------------------------

    def _marks(self, number: int, at: Any, style: Mapping[str, Any]) -> list[str]:
        mark = self.record.marks[number]
        if "s" in style and squared(mark):
            # on dots of its own, and these as the axes on which such marks stand
            mark = Outline(on_dots(mark.points, 0), mark.way, mark.codes)
            at = on_dots(at, style["w"])
        one = self._path_id("m", path_data(mark))
        return [f'<use href="#{one}" x="{x}" y="{y}"/>' for x, y in at.tolist()]

    def _text(self, op: list[Any], style: Mapping[str, Any]) -> str:
        _, _, text, left, foot, angle = op
        turned = f"rotate({short(-angle)})" if angle else ""
        letters, long = laid_out(text, bool(style.get("bold")))
        if not self.inline:
            uses = "".join(
                f'<use href="#{self._path_id("g", data)}" x="{x}"/>' for data, x in letters if data
            )
            scale = f"scale({style['t'] * PER_PX / PER_EM:.5g})"
            return f'<g transform="translate({left} {foot}){turned}{scale}">{uses}</g>'
        place = (
            f'transform="translate({left} {foot}){turned}"' if turned else f'x="{left}" y="{foot}"'
        )
        kept = ' xml:space="preserve"' if text != " ".join(text.split()) else ""
        # another font than the picture was laid out with takes the same room
        room = f'textLength="{short(long * style["t"] * PER_PX / PER_EM)}"'
        return f'<text {place} {room} lengthAdjust="spacingAndGlyphs"{kept}>{escaped(text)}</text>'

    def _image(self, op: list[Any], png: bytes) -> str:
        left, top, wide, high = op[1:]
        data = base64.b64encode(png).decode("ascii")
        return (
            f'<image x="{left}" y="{top}" width="{wide}" height="{high}" '
            f'preserveAspectRatio="none" href="data:image/png;base64,{data}"/>'
        )
