"""Pictures on a phone and on a page seen through a slit: their letters, and what is cut off.

At 400 px every picture of every chapter keeps its letters at 11 px, whole or in parts; at twice the
size, 640 by 300 px are left, and a panel shows the part that the moved control is about.
"""

from __future__ import annotations

from typing import Any

import pytest

from mensura.places import shipped
from mensura.views.kit import look

CHAPTERS = sorted(path.name for path in shipped("workbooks").glob("[0-9]*.ipynb"))

#: Shown height of the smallest letters, in pixels.
LEAST_PX = 11.0
LETTER_PX = look.TEXT_PT * look.SHOWN_DPI / 72

#: Every picture on the page: how many pixels one of its own takes, and where it ends.
LOOK = """() => [...document.querySelectorAll('img[data-parts]')].map(img => {
  const host = img.closest('.widget-html') || img.parentElement;
  const parted = img.classList.contains('mensura-parted');
  const seen = parted ? [...host.querySelectorAll('canvas')] : [img];
  const boxes = seen.map(one => one.getBoundingClientRect());
  return {
    words: img.alt, parted, count: seen.length,
    panel: Boolean(img.closest('.mensura-panel')),
    scales: parted ? seen.map(one => Number(one.dataset.scale))
                   : [boxes[0].width / img.getAttribute('width')],
    left: Math.min(...boxes.map(box => box.left)), right: Math.max(...boxes.map(box => box.right)),
    hidden: host.querySelectorAll('canvas').length && !host.querySelector('[aria-hidden] canvas'),
  };
})"""
#: Where a notebook scrolls.
SCROLLER = "document.querySelector('.jp-WindowedPanel-outer')"


def pictures(page: Any) -> list[dict[str, Any]]:
    """Every picture of a notebook, from its top to its end, each once."""
    found: dict[str, dict[str, Any]] = {}
    at = -1.0
    while (top := page.evaluate(f"{SCROLLER}.scrollTop")) != at:
        at = top
        # cells come to the page as they are scrolled to, and a panel's classes a moment later
        page.wait_for_timeout(120)
        for one in page.evaluate(LOOK):
            found[f"{one['panel']} {one['words']}"] = one
        page.evaluate(f"{SCROLLER}.scrollTop += 560")
    return list(found.values())


@pytest.mark.parametrize("name", CHAPTERS)
def test_letters_on_a_phone(name: str, open_workbook: Any) -> None:
    """Each picture at 400 px: letters of 11 px at least, nothing beyond the window's edges, its
    words still there, and what is cut out of it said once."""
    book = open_workbook(name, 400, 780, 2)
    book.run_all()
    page = book.page
    shown = pictures(page)
    assert len(shown) >= 5
    assert any(one["parted"] for one in shown)
    for one in shown:
        assert min(one["scales"]) * LETTER_PX >= LEAST_PX - 0.01, one
        assert one["left"] >= 0, one
        assert one["right"] <= 400, one
        assert not one["hidden"]
        assert len(one["words"]) > 30
    assert book.messages == []


@pytest.mark.parametrize(
    ("name", "moves"),
    [
        (
            "02-out-of-round.ipynb",
            [("turned by, °", "stem"), ("bark: furrows deep, cm", "turned"), ("tilt, °", "tilt")],
        ),
        ("07-calipers.ipynb", [("turned by, °", "stem"), ("beam slopes by, °", "shares")]),
    ],
)
def test_the_part_that_is_moved_is_on_show(
    name: str, moves: list[tuple[str, str]], open_workbook: Any
) -> None:
    """At 640 by 300 px: the moved control's part, whole in the window with its sentence, in letters
    of 11 device pixels; a button shows another, which stays while the same control is moved."""
    book = open_workbook(name, 640, 300, 2)
    book.run_all()
    page = book.page
    page.keyboard.press("F9")
    panel = page.locator(".mensura-panel").first
    panel.scroll_into_view_if_needed()
    for label, part in moves:
        handle = panel.get_by_role("slider", name=label, exact=True)
        handle.focus()
        page.keyboard.press("ArrowRight")
        pressed = panel.locator(f'.mensura-part-names button[aria-pressed=true]:text-is("{part}")')
        pressed.wait_for(timeout=10000)
        panel.evaluate("panel => panel.scrollIntoView({block: 'start'})")
        page.wait_for_timeout(200)
        seen = panel.evaluate(
            """panel => {
              const top = Math.max(0, document.querySelector('.jp-WindowedPanel-outer')
                .getBoundingClientRect().top);
              const seen = [...panel.querySelectorAll('.mensura-parts canvas'),
                            panel.querySelector('[role=status]')];
              return {
                scales: seen.slice(0, -1).map(one => Number(one.dataset.scale)),
                inside: seen.every(one => {
                  const box = one.getBoundingClientRect();
                  return box.top >= top - 1 && box.bottom <= innerHeight && box.right <= innerWidth;
                }),
                painted: seen.slice(0, -1).every(one => {
                  const dots = one.getContext('2d').getImageData(0, 0, one.width, one.height).data;
                  return dots.some(value => value !== dots[0]);
                }),
              };
            }"""
        )
        assert min(seen["scales"]) * LETTER_PX * 2 >= LEAST_PX - 0.01
        assert seen["inside"], (label, seen)
        assert seen["painted"]
    other = panel.locator(".mensura-part-names button").nth(2)
    other.click()
    handle.focus()
    page.keyboard.press("ArrowLeft")
    page.wait_for_timeout(600)
    assert other.get_attribute("aria-pressed") == "true"
    panel.locator(".mensura-part-names button", has_text="all").click()
    assert panel.locator(".mensura-parts canvas").count() >= 3


def test_a_part_follows_the_slider(open_workbook: Any) -> None:
    """On a phone what is seen changes with every move, and is what the picture holds."""
    book = open_workbook("02-out-of-round.ipynb", 400, 780, 1)
    book.run_all()
    page = book.page
    panel = page.locator(".mensura-panel").first
    panel.scroll_into_view_if_needed()
    panel.locator(".mensura-parts canvas").first.wait_for(timeout=10000)
    painted = """panel => panel.querySelector('.mensura-parts canvas').toDataURL()"""
    handle = panel.get_by_role("slider", name="first diameter, cm", exact=True)
    handle.focus()
    before = panel.evaluate(painted)
    for key in ("ArrowRight", "ArrowLeft"):
        said = panel.locator("[role=status]").inner_text()
        page.keyboard.press(key)
        page.wait_for_function(
            "said => document.querySelector('.mensura-panel [role=status]').innerText !== said",
            arg=said,
            timeout=10000,
        )
        page.wait_for_timeout(300)
        after = panel.evaluate(painted)
        assert (after == before) == (key == "ArrowLeft")
    # the picture itself keeps its words and is out of sight
    img = panel.locator("img[data-parts]")
    assert img.bounding_box()["width"] <= 1
    assert "Section of a stem" in img.get_attribute("alt")


def test_on_a_wide_page_a_picture_is_whole(open_workbook: Any) -> None:
    """At 1366 px no picture is parted, and its letters are as large as they were made."""
    book = open_workbook("02-out-of-round.ipynb", 1366, 900)
    book.run_all()
    shown = pictures(book.page)
    assert len(shown) >= 5
    assert not any(one["parted"] for one in shown)
