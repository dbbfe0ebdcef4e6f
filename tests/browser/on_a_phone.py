"""A workbook's page on a phone, and seen through a slit: letters of pictures, and what is cut off.

At 400 px every picture keeps its letters at 11 px, whole or in parts; at twice the size, 640 by 300
px are left, and a panel shows the part that the moved control is about. A file of tests that has a
workbook open takes these in.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from typing import Any, ClassVar

from mensura.views.kit import look

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


@contextmanager
def window(page: Any, wide: int, high: int) -> Iterator[None]:
    """The window of an open page made so large, its dots half as wide; then as it was."""
    before = page.viewport_size
    page.set_viewport_size({"width": wide, "height": high})
    tool = page.context.new_cdp_session(page)
    told = {"width": wide, "height": high, "deviceScaleFactor": 2, "mobile": False}
    tool.send("Emulation.setDeviceMetricsOverride", told)
    page.wait_for_function("() => devicePixelRatio === 2")
    try:
        yield
    finally:
        tool.send("Emulation.setDeviceMetricsOverride", {**told, "deviceScaleFactor": 1})
        tool.detach()
        page.set_viewport_size(before)
        page.wait_for_function(
            "told => JSON.stringify([innerWidth, innerHeight, devicePixelRatio]) === told",
            arg=f"[{before['width']},{before['height']},1]",
        )


class OnAPhone:
    """A notebook's page of 400 px leaves the room; panel, game, practice keep their letters."""

    #: Whether the page is loaded anew at that width, or made narrow as it is.
    anew: ClassVar[bool] = False

    def test_letters_on_a_phone(self, book: Any) -> None:
        """Each picture, from the page's top to its end."""
        page = book.page
        with window(page, 400, 780):
            if self.anew:
                page.reload()
                book.run_all()
            page.evaluate(f"{SCROLLER}.scrollTop = 0")
            shown = pictures(page)
        assert len(shown) >= 5
        assert max(one["right"] - one["left"] for one in shown) <= ROOM_PX + 1
        for one in shown:
            assert min(one["scales"]) * LETTER_PX >= LEAST_PX - 0.01, one
            assert one["left"] >= 0, one
            assert one["right"] <= 400, one
            assert one["said"], one
        assert book.messages == []


class ThroughASlit:
    """At 640 by 300 px: the moved control's part, whole in the window with its sentence, in letters
    of 11 device pixels; a button shows another, which stays while the same control is moved."""

    #: Labels of controls, each with the part that is shown when it moves.
    moves: ClassVar[tuple[tuple[str, str], ...]]

    def test_the_part_that_is_moved_is_on_show(self, book: Any) -> None:
        """Each of the controls; then another part, chosen by its button; then all."""
        page = book.page
        with window(page, 640, 300):
            page.keyboard.press("F9")
            try:
                self.look(page)
            finally:
                page.keyboard.press("F9")

    def look(self, page: Any) -> None:
        panel = page.locator(".mensura-panel").first
        panel.scroll_into_view_if_needed()
        panel.locator(".mensura-parts canvas").first.wait_for(timeout=10000)
        panel.get_by_role("button", name="As at the start", exact=True).click()
        for label, part in self.moves:
            handle = panel.get_by_role("slider", name=label, exact=True)
            handle.focus()
            before = panel.evaluate(PAINTED)
            page.keyboard.press("ArrowRight")
            pressed = panel.locator(
                f'.mensura-part-names button[aria-pressed=true]:text-is("{part}")'
            )
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
                      return box.top >= top - 1 && box.bottom <= innerHeight
                        && box.right <= innerWidth;
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
