"""Every picture as an SVG: nothing from outside, all its words, its colours from the table only."""

from __future__ import annotations

import base64
import importlib.util
import re
import statistics
import xml.etree.ElementTree as ET
from functools import cache
from pathlib import Path
from types import ModuleType
from typing import Any

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from matplotlib.font_manager import FontProperties
from matplotlib.textpath import TextPath

import mensura.views.chapters as chapters
from mensura.teaching.proof.roads import ROADS
from mensura.views.kit import look
from mensura.views.kit.inks import tables
from mensura.views.kit.live import Live, Picture, Still, draw_view
from mensura.views.kit.record import (
    CLOSED,
    CODED,
    OPEN,
    PATH,
    PER_PX,
    TEXT,
    Drawn,
    Outline,
    packed,
    places,
    unpacked,
)
from mensura.views.kit.svg import path_data, svg
from mensura.views.proof.panel import new_picture, picture_key, proof_panel

NS = "{http://www.w3.org/2000/svg}"


def beside(stem: str) -> ModuleType:
    """A module of what tests of pictures share."""
    path = Path(__file__).parents[1] / f"{stem}.py"
    spec = importlib.util.spec_from_file_location(f"mensura_tests_of_{stem}", path)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def starts() -> dict[str, tuple[Any, Any]]:
    """Every panel at its start, and each kind of picture of the proof: maker and numbers."""
    found: dict[str, tuple[Any, Any]] = {
        name: (panel.picture, panel.numbers(**panel.start()))
        for name, panel in chapters.panels().items()
    }
    for road in ROADS:
        panel = proof_panel(road)
        for step in range(1, panel.named["step"].count + 1):
            numbers = panel.numbers(**panel.start() | {"step": step})
            found.setdefault(
                f"proof, {picture_key(numbers)}", (lambda of=numbers: new_picture(of), numbers)
            )
    return found


PICTURES: dict[str, tuple[Any, Any]] = {**beside("test_every_still").PICTURES, **starts()}
LETTERS = beside("lettering")
every = pytest.mark.parametrize("name", PICTURES)
#: Name of a picture that was made → all lines of words on its figure.
SEEN: dict[str, set[str]] = {}


@cache
def made(name: str) -> tuple[Still, bytes]:
    """A picture's still, and its record."""
    make, numbers = PICTURES[name]
    live = Live(make())
    try:
        still = live.still(numbers)
        written = LETTERS.lettering(live.figure)
        SEEN[name] = {line for text, _ in written for line in text.split("\n")}
        return still, live.whole()
    finally:
        live.close()


def texts(name: str) -> list[list[Any]]:
    """Every text of a record, as recorded."""
    record = unpacked(made(name)[1])
    return [op for ops in record.artists.values() for op, _ in ops if op[0] == TEXT]


@cache
def outlined(words: str, size_px: float, bold: bool) -> TextPath:
    """The library's own outline of some words."""
    font = FontProperties(family="DejaVu Sans", weight="bold" if bold else "normal")
    return TextPath((0, 0), words, size=size_px, prop=font)


def faults(text: str, alt: str) -> list[str]:
    """What is wrong with an SVG: its head, what it points to, what it brings along."""
    root = ET.fromstring(text)
    wrong = []
    width, height = (int(root.attrib[key]) for key in ("width", "height"))
    if root.attrib["viewBox"] != f"0 0 {width * PER_PX} {height * PER_PX}":
        wrong.append("viewBox")
    if (root.tag, root.attrib["role"], root.attrib["aria-label"]) != (f"{NS}svg", "img", alt):
        wrong.append("its words")
    ids = [one.attrib["id"] for one in root.iter() if "id" in one.attrib]
    if len(set(ids)) < len(ids):
        wrong.append("an id twice")
    pointed: set[str] = set()
    for one in root.iter():
        if one.tag.removeprefix(NS) not in (
            "svg", "defs", "g", "path", "use", "text", "image", "clipPath", "pattern",
        ):  # fmt: skip
            wrong.append(one.tag)
        for key, value in one.attrib.items():
            if key.startswith("on") or key == "style":
                wrong.append(key)
            if key == "href" and not value.startswith(("#", "data:image/png;base64,")):
                wrong.append(value)
            if key == "href" and value.startswith("#"):
                pointed.add(value[1:])
            elif key != "aria-label":
                pointed |= set(re.findall(r"url\(#(.+?)\)", value))
    wrong += [f"{one} is nowhere" for one in pointed - set(ids)]
    wrong += [f"{one} is for nothing" for one in set(ids) - pointed]
    bare = re.sub('aria-label="[^"]*"|base64,[^"]*|http://www.w3.org/2000/svg', "", text)
    if re.search(r"url\((?!#)|//|@import", bare):
        wrong.append("something from outside")
    return wrong


@every
@pytest.mark.parametrize("inline", [False, True])
def test_it_is_whole_and_needs_nothing(name: str, inline: bool) -> None:
    """Well-formed; size, role and words at its head; each id once, used, and pointed to; no script,
    no style, nothing from elsewhere."""
    still, data = made(name)
    text = svg(unpacked(data), still.alt, inline=inline)
    assert faults(text, still.alt) == []
    root = ET.fromstring(text)
    assert (int(root.attrib["width"]), int(root.attrib["height"])) == (
        still.width_px,
        still.height_px,
    )
    if not inline:
        assert text == still.svg


def test_what_is_wrong_with_an_svg_is_found() -> None:
    """The check itself."""
    good = made("contact")[0]
    assert faults(good.svg.replace('id="g', 'id="x', 1), good.alt) != []
    assert faults(good.svg.replace('href="#', 'href="x.svg#', 1), good.alt) != []
    assert faults(good.svg.replace('fill="none"', 'fill="url(https://a.b/c)"', 1), good.alt) != []
    assert faults(good.svg.replace("<defs>", "<defs><style/>", 1), good.alt) == [f"{NS}style"]
    assert faults(good.svg, good.alt + ".") == ["its words"]


@every
def test_all_words_are_there(name: str) -> None:
    """In a page every text of the figure stands as text, in the record's order, each as long as its
    letters are."""
    still, data = made(name)
    seen = SEEN[name]
    found = list(ET.fromstring(svg(unpacked(data), still.alt, inline=True)).iter(f"{NS}text"))
    words = [one.text for one in found]
    assert words == [op[2] for op in texts(name)]
    assert {line for line in seen if line.strip()} <= set(words)
    styles = unpacked(data).styles
    for one, op in zip(found, texts(name), strict=True):
        style = styles[op[1]]
        ink = outlined(op[2], style["t"], bool(style.get("bold"))).get_extents().width
        # the ink lies within the advance, and less than a letter within it
        assert ink - 2 <= float(one.attrib["textLength"]) / PER_PX <= ink + style["t"]


@cache
def corners(data: str) -> Any:
    """Extent of a path of whole numbers: least x, least y, greatest x, greatest y, of all that is
    named in it."""
    x = y = x0 = y0 = 0
    met = []
    for letter, told in re.findall(r"([a-zA-Z])([^a-zA-Z]*)", data):
        numbers = [int(one) for one in re.findall(r"-?\d+", told)]
        if letter == "z":
            x, y = x0, y0
            continue
        if letter in "hv":
            numbers = [k for one in numbers for k in ((one, 0) if letter == "h" else (0, one))]
        if letter == "M":
            x = y = 0
        size = {"q": 4, "c": 6}.get(letter, 2)
        for k in range(0, len(numbers), size):
            part = np.reshape(numbers[k : k + size], (-1, 2)) + np.array([x, y])
            met += part.tolist()
            x, y = part[-1].tolist()
            if letter in "mM" and k == 0:
                x0, y0 = x, y
    return np.array([*np.min(met, axis=0), *np.max(met, axis=0)])


@every
def test_letters_as_outlines_stand_where_the_text_stands(name: str) -> None:
    """Each text's outlines cover what the library's own outline of the whole text covers."""
    still, data = made(name)
    root = ET.fromstring(still.svg)
    shapes = {
        one.attrib["id"]: one.attrib["d"] for one in root.iter(f"{NS}path") if "id" in one.attrib
    }
    groups = [one for one in root.iter(f"{NS}g") if "scale(" in one.attrib.get("transform", "")]
    assert len(groups) == len(texts(name))
    styles = unpacked(data).styles
    for group, op in zip(groups, texts(name), strict=True):
        style = styles[op[1]]
        place, turned, scale = re.fullmatch(
            r"translate\((.+?)\)(?:rotate\((.+?)\))?scale\((.+?)\)", group.attrib["transform"]
        ).groups()  # type: ignore[union-attr]
        assert [int(one) for one in place.split()] == op[3:5]
        assert float(turned or 0) == -op[5]
        boxes = [
            corners(shapes[use.attrib["href"][1:]]) + np.array([int(use.attrib["x"]), 0] * 2)
            for use in group
        ]
        px = float(scale) / PER_PX
        left, top = np.min(boxes, axis=0)[:2] * px
        right, low = np.max(boxes, axis=0)[2:] * px
        true = outlined(op[2], style["t"], bool(style.get("bold")))
        x, y = np.array(true.vertices)[np.array(true.codes) != 79].T
        assert (left, right) == pytest.approx((x.min(), x.max()), abs=0.1), op
        assert (top, low) == pytest.approx((-y.max(), -y.min()), abs=0.1), op


@every
def test_colours_come_from_the_table(name: str) -> None:
    """Each colour is an ink's; another table gives the same picture with its own colours."""
    still, data = made(name)
    used = set(re.findall(r'(?:fill|stroke)="([^"]+)"', still.svg)) - {"none"}
    assert used
    assert {one for one in used if not one.startswith("url(#h")} <= set(look.INKS.values())
    made_up = {ink: f"rgb({k},1,2)" for k, ink in enumerate(look.INKS)}
    assert len(set(look.INKS.values())) == len(look.INKS)
    own = {colour: made_up[ink] for ink, colour in look.INKS.items()}
    other = svg(unpacked(data), still.alt, inks=made_up)
    swapped = re.sub(r'="(#[0-9A-F]{6})"', lambda found: f'="{own[found[1]]}"', still.svg)
    assert other == swapped
    for inks in tables().values():
        assert ET.fromstring(svg(unpacked(data), still.alt, inks=inks)) is not None


@every
def test_the_same_picture_has_the_same_bytes(name: str) -> None:
    """Made anew, and after having shown something else, it is the same."""
    make, numbers = PICTURES[name]
    assert draw_view(make(), numbers).svg == made(name)[0].svg


def test_what_was_shown_before_leaves_nothing() -> None:
    """A panel that has been at its controls' ends and comes back gives the same bytes."""
    for panel in chapters.panels().values():
        live = Live(panel.picture())
        start = panel.start()
        first = live.view(panel.numbers(**start))
        inline = svg(unpacked(live.whole()), first.alt, inline=True)
        for name, one in panel.named.items():
            other = live.view(panel.numbers(**start | {name: one.ends[-1]}))
            assert (other.alt == first.alt) or other.svg != first.svg
        assert live.view(panel.numbers(**start)) == first
        assert svg(unpacked(live.whole()), first.alt, inline=True) == inline
        live.close()


def test_shapes_take_less_than_dots() -> None:
    """In the median less than half of what the same picture takes as a PNG; never twice as much."""
    shares = [len(made(name)[0].svg.encode()) / len(made(name)[0].png) for name in PICTURES]
    assert statistics.median(shares) < 0.5
    assert max(shares) < 2


# ---- what a record may hold, whatever pictures have now ------------------------------------------


def record(*ops: tuple[list[Any], Any], styles: dict[int, dict[str, Any]], **more: Any) -> Any:
    drawn = Drawn()
    for op, outline in ops:
        drawn.add(op, outline)
    return unpacked(packed((40, 30), styles, more.get("marks", {}), {-1: drawn}))


def test_markup_in_words_stays_words() -> None:
    """Quotes, brackets and what XML cannot hold end neither an attribute nor a tag."""
    words = 'a "b" <c> & d\'s \x07#g0'
    one = record(
        ([TEXT, 0, words, 16, 160, 90.0], None), styles={0: {"t": 14.667, "f": "truth", "bold": 1}}
    )
    root = ET.fromstring(svg(one, words, inline=True))
    assert root.attrib["aria-label"] == words.replace("\x07", "")
    (found,) = root.iter(f"{NS}text")
    assert found.text == words.replace("\x07", "")
    assert found.attrib["transform"] == "translate(16 160)rotate(-90)"
    assert (found.attrib["font-weight"], found.attrib["font-size"]) == ("bold", "234.67")
    assert faults(svg(one, words), words.replace("\x07", "")) == []


def test_two_pictures_of_one_page_do_not_take_each_others_shapes() -> None:
    """In a page the ids of different pictures differ; in an `<img>` they are as short as can be."""
    pictures = [made(name) for name in ("contact", "growth", "bark")]
    ids = [
        set(re.findall(r' id="(.+?)"', svg(unpacked(data), still.alt, inline=True)))
        for still, data in pictures
    ]
    assert all(ids)
    assert not ids[0] & ids[1] | ids[1] & ids[2] | ids[0] & ids[2]
    for still, _ in pictures:
        assert all(len(one) < 5 for one in re.findall(r' id="(.+?)"', still.svg))


def test_a_line_is_told_as_it_is() -> None:
    """Dashes, ends, corners, density and clip, in sixteenths of a pixel; a frame stands on dots."""
    told = {
        "s": "tape",
        "sa": 0.5,
        "w": 1.5,
        "d": [3.0, 1.25],
        "o": 2.0,
        "c": "round",
        "j": "bevel",
    }
    way = Outline(places([[1.1, 2], [3, 4], [5, 2]]), OPEN)
    text = svg(record(([PATH, 0, 3, OPEN], way), styles={0: told | {"k": [0, 0, 163, 164]}}), "")
    (group,) = ET.fromstring(text).findall(f"{NS}g")
    assert group.attrib == {
        "stroke": look.TAPE,
        "stroke-opacity": "0.5",
        "stroke-width": "24",
        "stroke-dasharray": "48 20",
        "stroke-dashoffset": "32",
        "stroke-linecap": "round",
        "stroke-linejoin": "bevel",
        "clip-path": "url(#k0)",
    }
    assert group[0].attrib == {"d": "M18 32l30 32 32-32"}
    assert 'd="M0 0H160V168H0z"' in text
    frame = Outline(places([[1.1, 2], [3.3, 2], [3.3, 4.2]]), CLOSED)
    text = svg(record(([PATH, 0, 3, CLOSED], frame), styles={0: {"f": "wood"}}), "")
    assert "M18 32l35 0" not in text
    text = svg(record(([PATH, 0, 3, OPEN], frame), styles={0: {"s": "wood", "w": 1.0}}), "")
    assert f'<path stroke="{look.WOOD}" stroke-width="16" d="M16 32h40v32"/>' in text


def test_a_hatch_lies_between_fill_and_line() -> None:
    """In that order, and in the colour of its own."""
    style = {"f": "wood", "s": "truth", "w": 1.0, "h": "//", "hs": "tape", "hw": 1.0}
    box = Outline(places([[1, 2], [30, 2], [30, 24], [1, 24]]), CLOSED)
    root = ET.fromstring(svg(record(([PATH, 0, 4, CLOSED], box), styles={0: style}), ""))
    paths = root.findall(f"{NS}path")
    assert [one.attrib.get("fill") for one in paths] == [look.WOOD, "url(#h0)", None]
    assert [one.attrib.get("stroke") for one in paths] == [None, None, look.TRUTH]
    (pattern,) = root.iter(f"{NS}pattern")
    assert pattern[0].attrib["stroke"] == look.TAPE
    assert pattern[0].attrib["d"].lower().count("m") > 2 * 6


def test_an_image_travels_along() -> None:
    """What was an image in the figure is one in the SVG, at its place."""

    class Photo(Picture[None]):
        width_px, height_px = 60, 40

        def draw(self, figure: Any) -> None:
            axes = figure.add_axes((0.25, 0.25, 0.5, 0.5))
            axes.axis("off")
            axes.imshow(np.arange(6, dtype=np.uint8).reshape(2, 3) * 40, cmap="gray", aspect="auto")

        def show(self, numbers: None) -> None:
            pass

        def describe(self, numbers: None) -> str:
            return "Six greys."

    text = draw_view(Photo(), None).svg
    assert faults(text, "Six greys.") == []
    (image,) = ET.fromstring(text).iter(f"{NS}image")
    box = [int(image.attrib[key]) / PER_PX for key in ("x", "y", "width", "height")]
    assert box == pytest.approx([15, 10, 30, 20], abs=0.5)
    assert base64.b64decode(image.attrib["href"].partition(",")[2]).startswith(b"\x89PNG")


steps = st.lists(st.tuples(st.integers(-900, 900), st.integers(-900, 900)), min_size=2, max_size=9)


@given(steps, st.sampled_from([OPEN, CLOSED]))
def test_a_path_is_told_without_loss(points: list[tuple[int, int]], way: int) -> None:
    """Whatever the places are, they come back from the text, in their order."""
    data = path_data(Outline(np.array(points), way))
    assert data.endswith("z") == (way == CLOSED)
    x = y = 0
    back = []
    for letter, told in re.findall(r"([Mlhv])([^Mlhvz]*)", data):
        numbers = [int(one) for one in re.findall(r"-?\d+", told)]
        if letter in "hv":
            pairs = [(one, 0) if letter == "h" else (0, one) for one in numbers]
        else:
            pairs = list(zip(numbers[::2], numbers[1::2], strict=True))
        for right, down in pairs:
            x, y = x + right, y + down
            back.append((x, y))
    assert back == points


def test_curves_and_several_pieces() -> None:
    """Each code of a path has its letter; after a closed piece the next begins from its start."""
    points = np.array(
        [[10, 10], [20, 10], [20, 20], [30, 0], [40, 0], [50, 9], [0, 0], [12, 12], [9, 9]]
    )
    codes = np.array([1, 3, 3, 4, 4, 4, 79, 1, 2], np.uint8)
    assert path_data(Outline(points, CODED, codes)) == (
        "M10 10q10 0 10 10c10-20 20-20 30-11zm2 2l-3-3"
    )
