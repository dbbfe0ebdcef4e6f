"""Pictures on a phone and on a page seen through a slit: their letters, and what is cut off.

At 400 px every picture keeps its letters at 11 px, whole or in parts; at twice the size, 640 by 300
px are left, and a panel shows the part that the moved control is about. Every kind of picture is
laid on one plain page with the frame's own script and sheet; two chapters show that a notebook's
page leaves the room that is taken there.
"""

from __future__ import annotations

from typing import Any

import pytest

from mensura.instruments.calipers import Calipers
from mensura.instruments.lay import Lay
from mensura.stems import Ellipse
from mensura.teaching.problems import bank
from mensura.views import chapters
from mensura.views.kit import look
from mensura.views.kit.frame import module_text
from mensura.views.kit.live import draw_still
from mensura.views.kit.style import SHEET
from mensura.views.problems.pictures import problem_view
from mensura.views.problems.slip_map import slip_map
from mensura.views.proof.panel import KINDS, proof_panel
from mensura.views.stills.calipers_on_stem import CalipersDrawing
from mensura.views.stills.contact import points_and_girth
from mensura.views.stills.fault_sizes import sizes_side_by_side
from mensura.views.stills.growth import orange_growth
from mensura.views.stills.handling import calipers_check, how_to_hold, where_to_measure
from mensura.views.stills.sections import blind_jaws, same_girth
from mensura.views.stills.tape_on_stem import TapeDrawing

#: What a phone's page of 400 px leaves for what a cell shows; held below.
ROOM_PX = 362

#: Shown height of the smallest letters, in pixels.
LEAST_PX = 11.0
LETTER_PX = look.TEXT_PT * look.SHOWN_DPI / 72

#: Every picture on the page: how many pixels one of its own takes, and where it ends.
LOOK = """() => [...document.querySelectorAll('[data-parts]')].map(img => {
  const host = img.closest('.widget-html') || img.parentElement;
  const drawn = img.classList.contains('mensura-parted');
  const words = img.alt || img.ariaLabel;
  const seen = drawn ? [...host.querySelectorAll('canvas')] : [img];
  const boxes = seen.map(one => one.getBoundingClientRect());
  return {
    words, count: seen.length,
    parted: drawn && !(img.shapes && Number(seen[0].dataset.scale)
      && seen[0].getBoundingClientRect().width
        >= 0.99 * seen[0].dataset.scale * img.getAttribute('width')),
    panel: Boolean(img.closest('.mensura-panel')),
    scales: drawn ? seen.map(one => Number(one.dataset.scale))
                   : [boxes[0].width / img.getAttribute('width')],
    left: Math.min(...boxes.map(box => box.left)), right: Math.max(...boxes.map(box => box.right)),
    own: Number(img.getAttribute('width')),
    said: words.length > 30
      && seen.every(one => one === img || one.closest('[aria-hidden=true]')),
    painted: !drawn || seen.every(one => {
      const dots = one.getContext('2d').getImageData(0, 0, one.width, one.height).data;
      return dots.some(value => value !== dots[0]);
    }),
  };
})"""
#: All that is seen of a panel's picture.
PAINTED = """panel => [...panel.querySelectorAll('.mensura-parts canvas')]
  .map(one => one.toDataURL()).join()"""
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


def every_picture() -> list[str]:
    """One `<img>` of every kind of picture there is: panels, the proof, stills, games, problems."""
    shown = [panel.still().html for panel in chapters.panels().values()]
    kinds = set()
    for way in ("classroom", "ellipse", "outline", "calipers"):
        panel = proof_panel(way)
        for step in range(1, panel.stepper.count + 1):
            kind = panel.numbers(**panel.state({"step": step})).present.picture
            if kind not in kinds:
                kinds.add(kind)
                shown.append(panel.still(step=step).html)
    assert kinds == set(KINDS)
    stills = [how_to_hold(), where_to_measure(), calipers_check(), points_and_girth()]
    stills += [orange_growth(), sizes_side_by_side(), same_girth(Ellipse(60, 48)), blind_jaws()]
    stills += [
        draw_still(one, None)
        for one in (TapeDrawing(44, Lay(climber_cm=3)), CalipersDrawing(44, Calipers()))
    ]
    mine = bank.problem("girth-to-area", "Q07", "quillmere")
    stills += [slip_map(mine), problem_view(mine)]
    return shown + [still.html for still in stills]


@pytest.fixture(scope="module")
def laid_out() -> str:
    """A page that holds them all, as printed in a cell, with what a frame brings."""
    cells = "".join(f'<div class="jp-RenderedHTMLCommon">{one}</div>' for one in every_picture())
    script = module_text().replace("export default frame;", "")
    return (
        f"<style>{SHEET} body {{ margin: 0; }}</style>{cells}"
        f"<script type=module>{script}; watchPictures();</script>"
    )


@pytest.mark.parametrize(("wide", "high"), [(ROOM_PX, 780), (560, 780), (1000, 700)])
def test_every_picture(wide: int, high: int, laid_out: str, chromium: Any) -> None:
    """Letters of 11 px at least, nothing beyond the edge, its words said once, dots in every piece;
    parted only where it must be."""
    page = chromium.new_page(viewport={"width": wide, "height": high})
    page.set_content(laid_out)
    page.wait_for_function("document.mensuraPictures")
    page.wait_for_timeout(300)
    shown = page.evaluate(LOOK)
    assert len(shown) >= 29
    for one in shown:
        assert min(one["scales"]) * LETTER_PX >= LEAST_PX - 0.01, one
        assert one["left"] >= 0, one
        assert one["right"] <= wide, one
        assert one["said"], one
        assert one["painted"], one
        assert one["parted"] == (wide < 0.75 * one["own"]), one
    assert any(one["parted"] for one in shown) == (wide < 1000)
    page.close()


@pytest.mark.parametrize("name", ["04-laying-the-tape.ipynb", "08-problems.ipynb"])
def test_letters_on_a_phone(name: str, open_workbook: Any) -> None:
    """A notebook's page of 400 px leaves the room; panel, game and practice keep their letters."""
    book = open_workbook(name, 400, 780, 2)
    book.run_all()
    shown = pictures(book.page)
    assert len(shown) >= 5
    assert max(one["right"] - one["left"] for one in shown) <= ROOM_PX + 1
    for one in shown:
        assert min(one["scales"]) * LETTER_PX >= LEAST_PX - 0.01, one
        assert one["left"] >= 0, one
        assert one["right"] <= 400, one
        assert one["said"], one
    assert book.messages == []


@pytest.mark.parametrize(
    ("name", "moves"),
    [
        (
            "02-out-of-round.ipynb",
            [("turned by, °", "stem"), ("furrow depth, cm", "turned"), ("tilt, °", "tilt")],
        ),
        ("07-calipers.ipynb", [("turned by, °", "stem"), ("jaw leans out by, °", "shares")]),
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
    panel.locator(".mensura-parts canvas").first.wait_for(timeout=10000)
    for label, part in moves:
        handle = panel.get_by_role("slider", name=label, exact=True)
        handle.focus()
        before = panel.evaluate(PAINTED)
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
                            panel.querySelector('.mensura-status')];
              return {
                scales: seen.slice(0, -1).map(one => Number(one.dataset.scale)),
                inside: seen.every(one => {
                  const box = one.getBoundingClientRect();
                  return box.top >= top - 1 && box.bottom <= innerHeight && box.right <= innerWidth;
                }),
              };
            }"""
        )
        assert min(seen["scales"]) * LETTER_PX * 2 >= LEAST_PX - 0.01
        assert seen["inside"], (label, seen)
        assert panel.evaluate(PAINTED) != before
    other = panel.locator(".mensura-part-names button").nth(2)
    other.click()
    handle.focus()
    page.keyboard.press("ArrowLeft")
    page.wait_for_timeout(600)
    assert other.get_attribute("aria-pressed") == "true"
    panel.locator(".mensura-part-names button", has_text="all").click()
    assert panel.locator(".mensura-parts canvas").count() >= 3
