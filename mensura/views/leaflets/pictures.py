"""Pictures as shapes that belong to the page: its own colours by name, and each letter once.

A stored picture is an SVG whose letters are outlines and whose colours are those of a light page.
On a leaflet the outlines of all pictures lie in one place, each once, and a colour is called by its
name, so that paper, a dark screen and a bright one each give their own. On a narrow screen a
picture is seen in its parts, one below the other, large enough to be read.
"""

from __future__ import annotations

import base64
import json
import re
from collections.abc import Mapping, Sequence
from contextlib import closing
from html.parser import HTMLParser
from typing import Any

from markupsafe import Markup

from mensura.checks import MeasureError
from mensura.views.kit.inks import NAMED
from mensura.views.kit.live import Live, Picture, Still
from mensura.views.kit.look import INKS
from mensura.views.kit.record import PER_PX, unpacked
from mensura.views.kit.svg import svg

#: What a light page's colour is called.
_BY_COLOUR = {colour: NAMED[name] for name, colour in INKS.items()}

_OUTER = re.compile(
    r'^<svg xmlns="[^"]+" width="(\d+)" height="(\d+)" viewBox="[^"]+"[^>]*>(.*)</svg>$', re.DOTALL
)
_PATH = re.compile(r'<path id="([gm]\d+)" d="([^"]*)"/>')
_ID = re.compile(r'( id="| href="#|url\(#)([a-z]\d+)')
_COLOUR = re.compile(r'(fill|stroke)="(#[0-9A-F]{6})"')

Box = tuple[float, float, float, float]


class Sheet:
    """What the pictures of one page share: the outlines of their letters and marks."""

    def __init__(self) -> None:
        self._outlines: dict[str, str] = {}
        self._count = 0

    @property
    def shared(self) -> Markup:
        """The outlines, to stand before the first picture."""
        paths = "".join(f'<path id="{name}" d="{d}"/>' for d, name in self._outlines.items())
        # not `display: none`, since some would draw nothing of what lies in it
        opening = '<svg class="shared" width="0" height="0" aria-hidden="true">'
        return Markup(f"{opening}<defs>{paths}</defs></svg>")

    # ---- pictures ------------------------------------------------------------------------------

    def stored(self, shown_html: str) -> Markup:
        """A picture that a workbook keeps, as `<img>` with its parts.

        shown_html: what its cell shows. Raises MeasureError for HTML without such a picture.
        """
        image = _Image(shown_html).found
        head, _, data = image.get("src", "").partition(";base64,")
        if head != "data:image/svg+xml":
            raise MeasureError("picture", head, "", "a stored picture made of shapes")
        text = base64.b64decode(data).decode("utf-8")
        parts = json.loads(image.get("data-parts", "[]") or "[]")
        return self.placed(text, image.get("alt", ""), parts)

    def still(self, still: Still) -> Markup:
        """A picture that was drawn for this page.

        still: made by `draw_view` or `draw_still`.
        """
        return self.placed(still.svg, still.alt, json.loads(still.parts or "[]"))

    def placed(self, text: str, alt: str, parts: Sequence[Mapping[str, Any]] = ()) -> Markup:
        """A picture with its words: whole where there is room, else its parts below each other.

        text: the SVG as `kit/svg.py` writes it; alt: the same in words; parts: as `parts_json` has
        them.
        """
        width, height, body = self._taken(text)
        self._count += 1
        name = f"p{self._count}"
        boxes = list(dict.fromkeys(tuple(box) for part in parts for box in part["boxes"]))
        pieces = Markup().join(_view(box, Markup(f'<use href="#{name}"/>')) for box in boxes)
        kind = "picture parted" if len(boxes) > 1 else "picture"
        if any(len(part["boxes"]) > 1 for part in parts):
            kind += " legend"  # that several of its parts share
        whole = _view((0, 0, width, height), Markup(f'<g id="{name}">{body}</g>'), "whole")
        return Markup(
            '<div class="{}" role="img" aria-label="{}" style="--wide: {}px">{}{}</div>'
        ).format(kind, alt, width, whole, pieces if len(boxes) > 1 else "")

    def cropped(self, text: str, alt: str, boxes: Sequence[Box]) -> Markup:
        """Some parts of a picture only, below each other.

        text: the SVG; alt: the picture in words; boxes: left, top, width and height of each part.
        """
        _, _, body = self._taken(text)
        self._count += 1
        name = f"p{self._count}"
        seen = [
            _view(box, Markup(f'<g id="{name}">{body}</g>' if not k else f'<use href="#{name}"/>'))
            for k, box in enumerate(boxes)
        ]
        wide = max(box[2] for box in boxes)
        return Markup(
            '<div class="picture cut" role="img" aria-label="{}" style="--wide: {}px">{}</div>'
        ).format(alt, f"{wide:g}", Markup().join(seen))

    def _taken(self, text: str) -> tuple[int, int, str]:
        """Width, height and content of an SVG, its ids and colours made the page's."""
        outer = _OUTER.match(text)
        if outer is None:
            raise MeasureError("picture", text[:40], "", "a picture as the kit writes one")
        width, height, content = int(outer[1]), int(outer[2]), outer[3]
        self._count += 1
        own = f"s{self._count}"
        names: dict[str, str] = {}

        def shared(path: re.Match[str]) -> str:
            names[path[1]] = self._outlines.setdefault(path[2], f"o{len(self._outlines)}")
            return ""

        content = _PATH.sub(shared, content)
        content = _ID.sub(lambda m: m[1] + names.get(m[2], f"{own}{m[2]}"), content)
        content = _COLOUR.sub(lambda m: f'{m[1]}="{_BY_COLOUR[m[2]]}"', content)
        return width, height, content.replace("<defs></defs>", "")


def _view(box: Box, content: Markup, kind: str = "piece") -> Markup:
    """A piece of a picture as an SVG of its own; box: left, top, width and height in pixels."""
    left, top, wide, high = (f"{one * PER_PX:g}" for one in box)
    return Markup(
        '<svg class="{}" viewBox="{} {} {} {}" width="{:g}" height="{:g}" fill="none" '
        'aria-hidden="true">{}</svg>'
    ).format(kind, left, top, wide, high, box[2], box[3], content)


def drawn_changed(picture: Picture[Any], base: Any, numbers: Any) -> tuple[str, str, list[Box]]:
    """A picture as SVG, its words, and the boxes of the part in which it differs most from a base.

    picture: what is drawn; base: numbers to compare with; numbers: what it shows.
    """
    with closing(Live(picture)) as live:
        live.see(base)
        most = live.moved.by("setting", live.see(numbers))
        text = svg(unpacked(live.record(numbers)), live.picture.describe(numbers))
        parts = json.loads(live.parts)
    seen = next((one for one in parts if one["name"] == most), parts[0])
    return text, picture.describe(numbers), [tuple(box) for box in seen["boxes"]]


class _Image(HTMLParser):
    """The attributes of the first picture in a piece of HTML.

    text: the piece.
    """

    def __init__(self, text: str) -> None:
        super().__init__()
        self.found: dict[str, str] = {}
        self.feed(text)

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        """Takes an opening tag.

        tag: its name; attrs: what stands in it.
        """
        if tag == "img" and not self.found:
            self.found = {name: value or "" for name, value in attrs}
