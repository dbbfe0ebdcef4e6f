"""Every still picture of the workbooks on a lesson's screen: its letters are read from afar.

Reckoned from sizes alone, without a browser: the room that the page's sheet leaves a picture, and
the picture whole or, where that would be too small, its parts (`lesson-fit.js`). Whether a browser
shows it so is looked at in `tests/browser/test_lesson.py`.
"""

from __future__ import annotations

import re
from pathlib import Path

import pytest

from mensura.disk import lesson_book as book_module
from mensura.disk.lesson_book import MARK, lesson_book
from mensura.disk.sections import all_sections
from mensura.teaching.lessons.plan import Plan, Step
from mensura.views.kit import look

PAGE = Path(book_module.__file__).parent / "lab_page" / "mensura-page" / "static"

#: Windows, and how high the letters of a picture are there at least, px.
WINDOWS = {(1280, 720): 16, (1024, 768): 13, (1920, 1080): 24}
LETTER_PX = look.TEXT_PT * look.SHOWN_DPI / 72

_SIZE = re.compile(r'<img [^>]*?width="(\d+)" height="(\d+)"')


def room_px(window: tuple[int, int]) -> tuple[float, float]:
    """Width and height that the page leaves for a picture, by its own sheet."""
    width, height = window
    sheet = (PAGE / "lesson.css").read_text("utf-8")
    inset = re.search(
        r"> \.jp-Notebook \{[^}]*inset: calc\(var\(--mensura-type\) \* ([\d.]+) \+ (\d+)px\) "
        r"\d+px (\d+)px",
        sheet,
    )
    assert inset, "lesson.css says otherwise where the room for a screen begins"
    type_px = max(24.0, 24 * min(width / 1280, height / 720))
    return width, height - type_px * float(inset[1]) - float(inset[2]) - float(inset[3])


def letters_px(size: tuple[int, int], boxes: list[list[float]], window: tuple[int, int]) -> float:
    """How high the smallest letters are: of the whole, or of its smallest part.

    size: of the picture; boxes: its parts, as left, top, width, height.
    """
    wide, high = room_px(window)

    def at(width: float, height: float) -> float:
        return LETTER_PX * min(wide / width, high / height)

    whole = at(*size)
    if whole >= WINDOWS[window] * 0.995 or len(boxes) < 2:
        return whole
    return min(at(box[2], box[3]) for box in boxes)


def stills() -> dict[str, tuple[tuple[int, int], list[list[float]]]]:
    """Every picture that a step may show as it stands: its size, and its parts."""
    found = {}
    for one in all_sections():
        cells = lesson_book(Plan("All", 10, (Step(1, one.workbook, one.name),)), Path("p"))["cells"]
        for cell in cells:
            for output in cell.get("outputs", ()):
                size = _SIZE.search(output["data"].get("text/html", ""))
                if size:
                    boxes = cell["metadata"][MARK].get("boxes", [])
                    found[f"{one.workbook} {one.name}"] = (int(size[1]), int(size[2])), boxes
    return found


def test_every_picture_is_read_from_afar() -> None:
    """What is too small is named, with the window and how high its letters are."""
    shown = stills()
    pictures = {f"{one.workbook} {one.name}" for one in all_sections() if one.kind == "picture"}
    assert pictures
    assert pictures <= set(shown)
    small = [
        f"{name} at {window[0]}×{window[1]}: {letters:.1f} px, {least} are wanted"
        for name, (size, boxes) in shown.items()
        for window, least in WINDOWS.items()
        if (letters := letters_px(size, boxes, window)) < least * 0.995
    ]
    assert small == []


@pytest.mark.parametrize(
    ("size", "boxes", "fits"),
    [
        ((480, 636), [[0, 0, 480, 636]], False),
        ((480, 636), [[0, 0, 480, 300], [0, 300, 480, 336]], True),
        ((480, 1000), [[0, 0, 480, 300], [0, 300, 480, 700]], False),
        ((1240, 400), [[0, 0, 800, 400], [800, 0, 440, 400]], True),
        ((1240, 400), [], False),
    ],
)
def test_a_picture_too_small_is_found(size, boxes, fits: bool) -> None:
    """Too high or too wide, unless its parts are not."""
    assert (letters_px(size, boxes, (1280, 720)) >= 16) == fits


def test_the_page_knows_how_high_letters_are() -> None:
    """It cuts a picture up where letters would be too small: those of the pictures' own look."""
    script = (PAGE / "lesson-fit.js").read_text("utf-8")
    told = re.search(r"^const LETTERS_PX = \((\d+) \* (\d+)\) / (\d+);", script, re.MULTILINE)
    assert told
    assert int(told[1]) * int(told[2]) / int(told[3]) == pytest.approx(LETTER_PX)
