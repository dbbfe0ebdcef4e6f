"""Stills as a browser shows them: the shapes of an `<img>` beside the dots of the PNG."""

from __future__ import annotations

import base64
import io
import re
from collections.abc import Callable
from typing import Any

import nbformat
import numpy as np
import pytest
from PIL import Image

import mensura.views.chapters as chapters
from mensura.instruments.lay import Lay
from mensura.places import shipped
from mensura.stems import Outline
from mensura.teaching.problems import bank
from mensura.teaching.problems.standing import by_topic
from mensura.views.kit.inks import tables
from mensura.views.kit.live import Live, draw_view
from mensura.views.kit.look import DENSITY
from mensura.views.kit.record import unpacked
from mensura.views.kit.svg import svg
from mensura.views.problems.progress_picture import ProgressPicture, Shown
from mensura.views.problems.slip_map import SlipMap
from mensura.views.stills import handling, sections
from mensura.views.stills.tape_on_stem import TapeDrawing

#: Dots may stand so far from where the PNG has them, and differ by so much of 255.
REACH, TOLERANCE = 2, 64
#: In a square of so many dots, one letter's, no more dots than these may be without their like.
LETTER, MOST = 24, 36

WORKBOOKS = sorted(path.name for path in shipped("workbooks").glob("[0-9]*.ipynb"))
TOPICS = by_topic({}, bank.families())
#: An outline with a hollow that the tape bridges, where the picture is hatched.
HOLLOW = Outline([(0, 0), (40, 0), (40, 30), (26, 30), (20, 14), (14, 30), (0, 30)])
PICTURES: dict[str, tuple[Callable[[], Any], Any]] = {
    "how to hold": (handling.HowToHold, None),
    "taut band": (lambda: sections._TautBand(HOLLOW), None),
    "slip map": (lambda: SlipMap(bank.problem("girth-to-area", "Q07", "quillmere")), None),
    "progress": (lambda: ProgressPicture(TOPICS), Shown(TOPICS, "girth-to-area")),
    "tape": (lambda: TapeDrawing(36.0, Lay(tilt_deg=20, tilt_direction_deg=-70)), None),
    **{
        name: (panel.picture, panel.numbers(**panel.start()))
        for name, panel in chapters.panels().items()
    },
}


@pytest.fixture(scope="module")
def shot(chromium: Any) -> Any:
    """Function: the dots of some markup of a size, on a plain page at double density."""
    page = chromium.new_page(device_scale_factor=DENSITY)

    def take(markup: str, width_px: int, height_px: int) -> Any:
        page.set_viewport_size({"width": width_px, "height": height_px})
        page.set_content(f"<!doctype html><body style='margin:0'>{markup}</body>")
        page.wait_for_function("() => [...document.images].every((one) => one.complete)")
        return dots_of(page.screenshot())

    yield take
    page.close()


def dots_of(png: bytes) -> Any:
    return np.asarray(Image.open(io.BytesIO(png)).convert("RGB")).astype(int)


def image(text: str) -> str:
    data = base64.b64encode(text.encode()).decode()
    return f'<img style="display:block" src="data:image/svg+xml;base64,{data}">'


def alone(one: Any, other: Any) -> Any:
    """Dots of one that no dots near them in the other explain, since they are darker or lighter
    than all of these: bool, shape (h, w)."""
    high, wide = one.shape[:2]
    # what is alike where it stands needs no neighbours
    rows, columns = np.nonzero(np.abs(one - other).max(axis=-1) > TOLERANCE)
    here = one[rows, columns]
    least, most = np.full_like(here, 255), np.zeros_like(here)
    for down in range(-REACH, REACH + 1):
        for right in range(-REACH, REACH + 1):
            near = other[(rows + down).clip(0, high - 1), (columns + right).clip(0, wide - 1)]
            least, most = np.minimum(least, near), np.maximum(most, near)
    found = np.zeros((high, wide), bool)
    found[rows, columns] = np.maximum(least - here, here - most).max(axis=-1) > TOLERANCE
    return found


def astray(one: Any, other: Any) -> int:
    """How many dots stand alone, of both, in the worst square of a letter's size."""
    wrong = (alone(one, other) | alone(other, one)).astype(int)
    sums = np.pad(wrong.cumsum(axis=0).cumsum(axis=1), ((1, 0), (1, 0)))
    side = LETTER
    squares = sums[side:, side:] - sums[:-side, side:] - sums[side:, :-side] + sums[:-side, :-side]
    return int(squares.max())


def pictures_of(name: str) -> list[tuple[dict[str, Any], bytes, str]]:
    """What stands beside each picture that a workbook stores, its PNG and its SVG."""
    book = nbformat.read(shipped("workbooks") / name, as_version=4)
    outputs = [output for cell in book.cells for output in cell.get("outputs", [])]
    found = []
    for output in outputs:
        if "image/png" not in output.get("data", {}):
            continue
        told = re.findall('data:image/svg.xml;base64,([^"]+)', output.data["text/html"])
        assert len(told) == 1
        drawn = base64.b64decode(told[0]).decode("utf-8")
        png = base64.b64decode(output.data["image/png"])
        found.append((output.metadata["image/png"], png, drawn))
    return found


@pytest.mark.parametrize("name", PICTURES)
def test_shapes_show_what_the_dots_show(name: str, shot: Any) -> None:
    """As an `<img>`, and in a page that has the font, an SVG looks like the PNG: nothing is
    missing, nothing stands elsewhere; but for the rims of what stands there few dots differ."""
    make, numbers = PICTURES[name]
    live = Live(make())
    dots = live.paint(numbers)[..., :3].astype(int)
    view = live.view(numbers)
    inline = svg(unpacked(live.whole()), view.alt, inline=True)
    live.close()
    for markup in (image(view.svg), f'<div style="line-height:0">{inline}</div>'):
        seen = shot(markup, *live.size_px)
        assert seen.shape == dots.shape
        assert astray(seen, dots) <= MOST
        assert np.abs(seen - dots).mean() < 2.5


@pytest.mark.parametrize("name", WORKBOOKS)
def test_what_a_workbook_stores_twice_looks_the_same(name: str, shot: Any) -> None:
    """The shapes that a page shows are those of the PNG that is stored beside them."""
    found = pictures_of(name)
    assert found
    for about, png, drawn in found:
        seen = shot(image(drawn), about["width"], about["height"])
        assert astray(seen, dots_of(png)) <= MOST, about["alt"]


def test_what_is_missing_or_elsewhere_is_seen(shot: Any) -> None:
    """The comparison itself: a letter less, a line less, a text or a mark three pixels aside."""
    make, numbers = PICTURES["out_of_round"]
    live = Live(make())
    dots = live.paint(numbers)[..., :3].astype(int)
    text = live.view(numbers).svg
    live.close()
    letter = re.sub(r'<use href="#g\d+" x="\d\d+"/>', "", text, count=1)
    line = re.sub(r'(stroke="#0072B2"[^>]*>)<path [^>]*>', r"\1", text, count=1)
    word, mark = (
        re.sub(place, lambda found: f"{found[1]}{int(found[2]) + 48}", text, count=1)
        for place in (r"(translate\()(\d+)", r'(<use fill="#D55E00"[^>]*? x=")(\d+)')
    )
    for spoiled in (letter, line, word, mark):
        assert spoiled != text
        assert astray(shot(image(spoiled), *live.size_px), dots) > MOST


def test_another_table_is_another_page(shot: Any) -> None:
    """With a dark page's table the ground is that page's paper, in both kinds of SVG."""
    make, numbers = PICTURES["girth"]
    live = Live(make())
    record = unpacked(live.record(numbers))
    live.close()
    dark = tables()["dark"]
    paper = [int(dark["paper"][at : at + 2], 16) for at in (1, 3, 5)]
    one, other = (
        shot(markup, *live.size_px)
        for markup in (
            image(svg(record, "", inks=dark)),
            f'<div style="line-height:0">{svg(record, "", inks=dark, inline=True)}</div>',
        )
    )
    assert (one == paper).all(axis=-1).mean() > 0.5
    assert astray(one, other) <= MOST


def test_two_pictures_in_one_page_stay_themselves(shot: Any) -> None:
    """Inline, one below the other, each looks as it does alone."""
    pictures = [draw_view(PICTURES[name][0](), PICTURES[name][1]) for name in ("girth", "calipers")]
    records = []
    for name in ("girth", "calipers"):
        live = Live(PICTURES[name][0]())
        records.append(unpacked(live.record(PICTURES[name][1])))
        live.close()
    parts = [
        f'<div style="line-height:0">{svg(record, view.alt, inline=True)}</div>'
        for record, view in zip(records, pictures, strict=True)
    ]
    wide = max(view.width_px for view in pictures)
    both = shot("".join(parts), wide, sum(view.height_px for view in pictures))
    cut = pictures[0].height_px * DENSITY
    for part, view, dots in zip(parts, pictures, (both[:cut], both[cut:]), strict=True):
        assert astray(shot(part, wide, view.height_px), dots) == 0
