"""Workbook 09 in a real browser: its panel says what its model says, step by step, and its game is
played by pointer on the picture, then by keyboard alone."""

from __future__ import annotations

import re
from collections.abc import Callable

import pytest
from declared_page import DeclaredPage

from mensura.disk.own_code import OwnCodeFile
from mensura.teaching.games.place_deck import place_round
from mensura.teaching.games.place_rounds import Placed, PlaceRound
from mensura.teaching.games.place_scene import BANDS, EACH, HELD, LEVEL, ONE, Spot
from mensura.teaching.lessons.chapters import chapter
from mensura.teaching.panels.place import COST, PRESETS, RULE
from mensura.views.chapters.place_game import EXAMPLE
from mensura.views.chapters.place_game.picture import PlacePicture, PlaceShown

NAME = "09-where-to-measure.ipynb"
SHOWN = chapter("09").panels
GUESS = "09-predict-fork"
SLIDER = "your band, on the scale, m"

#: Where a point of the picture is on the screen, whichever part of it is seen.
ON_SCREEN = """(root, [x, y, wide]) => {
  const canvas = root.querySelector('.mensura-parts canvas');
  const box = canvas.getBoundingClientRect();
  return [box.left + x * box.width / wide, box.top + y * box.width / wide];
}"""


class Played:
    """The game on the page: its frame, and whose rounds it has."""

    def __init__(self, page, folder) -> None:
        self.page = page
        self.root = page.locator(".mensura-game")
        # whoever sat here in another file of tests sits here still
        self.code = OwnCodeFile(folder).read().code or EXAMPLE
        self.number, self.right = 1, 0

    def round(self, number: int):
        return place_round(self.code, number)


@pytest.fixture(scope="module")
def game(lab, book):
    """The page's game, alive and in view."""
    played = Played(book.page, lab.folder)
    played.root.locator(".mensura-parts canvas").wait_for(timeout=20000)
    played.root.scroll_into_view_if_needed()
    alt_is(played, 1, Placed(played.round(1).start_m))
    return played


def go_on_to(game, wanted: Callable[[PlaceRound], bool]) -> int:
    """The number of the next round of a kind, from where the game is; it is gone to by keyboard."""
    there = next(n for n in range(game.number, 99) if wanted(game.round(n)))
    game.root.get_by_role("button", name="Next round").focus()
    while game.number < there:
        game.page.keyboard.press("Enter")
        game.number += 1
        words = re.compile(rf"\bRound {game.number}\. \w")
        game.root.locator("p").filter(has_text=words).wait_for(timeout=10000)
    # the handles come after the words
    alt_is(game, game.number, Placed(game.round(game.number).start_m))
    return game.number


def wide(one: PlaceRound) -> Spot | None:
    """A spot of a round for one band that reaches so far that no screen's dots decide."""
    spots = one.scene.kept
    return next((s for s in spots if s.bands == ONE and s.high_m - s.low_m > 0.05), None)


def alt_is(game, number: int, placed: Placed, told: bool = False) -> None:
    """Waits until the picture's words are those of a placing."""
    words = PlacePicture(game.round(number)).describe(PlaceShown(placed, told))
    game.root.get_by_role("img", name=words, exact=True).wait_for(timeout=10000, state="attached")


def point(game, number: int, scale_m: float) -> tuple[float, float]:
    """Where on the screen the stem's axis is at a mark of the scale."""
    picture = PlacePicture(game.round(number))
    x, y = picture.point_px(scale_m)
    return tuple(game.root.evaluate(ON_SCREEN, [x, y, picture.width_px]))


def test_by_keyboard_alone(game) -> None:
    """From Next round on nothing is pointed at: place, bands and hold are told by keys."""
    page, root = game.page, game.root
    number = go_on_to(game, lambda one: one.kind.key == "fork-below")
    one = game.round(number)
    # back to the slider by the Tab key, past choices and buttons
    for _ in range(12):
        page.keyboard.press("Shift+Tab")
        at = page.evaluate("document.activeElement.getAttribute('aria-label')")
        if at == SLIDER:
            break
    assert at == SLIDER
    page.keyboard.press("ArrowRight")
    alt_is(game, number, Placed(round(one.start_m + 0.01, 2)))
    # its box stands before it: a number, and Enter
    wanted = round(one.right.scale_m, 2)
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Control+a")
    page.keyboard.type(f"{wanted:.2f}")
    page.keyboard.press("Enter")
    alt_is(game, number, Placed(wanted))
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    root.get_by_role("radio", name=BANDS[EACH], exact=True, checked=True).wait_for()
    lies = Placed(wanted, bands=EACH)
    alt_is(game, number, lies)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    told = one.reply(lies)
    assert told.right
    root.get_by_role("status").filter(has_text=told.message).wait_for(timeout=10000)
    game.right += 1
    rounds = "round" if number == 1 else "rounds"
    root.get_by_text(f"Right: {game.right} of {number} {rounds}", exact=True).wait_for()


def test_by_pointer(game) -> None:
    """A press puts the band there, a drag takes it along, and the reply is the model's."""
    page, root = game.page, game.root
    number = go_on_to(game, wide)
    one = game.round(number)
    root.scroll_into_view_if_needed()
    # to a place whose centimetre is sure, whatever a screen's dots are
    spot = wide(one)
    assert spot
    wanted = one.scale_m((spot.low_m + spot.high_m) / 2)
    page.mouse.move(*point(game, number, one.start_m + 0.5))
    page.mouse.down()
    page.mouse.move(*point(game, number, wanted), steps=6)
    page.mouse.up()
    box = root.get_by_label(SLIDER, exact=True).and_(page.locator("input"))
    page.wait_for_function(
        "([box, at]) => Math.abs(Number(box.value) - at) < 0.015",
        arg=[box.element_handle(), wanted],
    )
    lies = Placed(float(box.input_value()))
    alt_is(game, number, lies)
    root.get_by_role("button", name="Measure here").click()
    told = one.reply(lies)
    assert told.right
    root.get_by_role("status").filter(has_text=told.message).wait_for(timeout=10000)
    game.right += 1
    rounds = "round" if number == 1 else "rounds"
    root.get_by_text(f"Right: {game.right} of {number} {rounds}", exact=True).wait_for()
    alt_is(game, number, lies, told=True)


def test_a_level_band_on_a_leaning_stem(game) -> None:
    """How the band is held is asked where it matters, and is replied to by its rule."""
    page, root = game.page, game.root
    held = root.get_by_role("radio", name=HELD[LEVEL], exact=True)
    assert not held.is_visible()
    number = go_on_to(game, lambda one: one.kind.key == "lean")
    one = game.round(number)
    held.check()
    box = root.get_by_label(SLIDER, exact=True).and_(page.locator("input"))
    lies = Placed(round(one.right.scale_m, 2), held=LEVEL)
    box.fill(f"{lies.scale_m:.2f}")
    box.press("Enter")
    alt_is(game, number, lies)
    root.get_by_role("button", name="Measure here").click()
    told = one.reply(lies)
    assert not told.right
    root.get_by_role("status").filter(has_text=told.message).wait_for(timeout=10000)


def test_the_cost_is_told_before_the_rule(nth_panel) -> None:
    """First the reading alone, then what the place costs, then the rule's own place."""
    shown = nth_panel("place")
    shown.reset()
    shown.button("A lean").click()
    state = PRESETS["A lean"]
    shown.expect(**state)
    assert "%" not in shown.seen()["status"]
    for step, told in ((COST, "This costs"), (RULE, "Rule: ")):
        shown.button("Next step ▶").click()
        shown.expect(**state | {"step": step})
        assert told in shown.seen()["status"]


def test_a_prediction_stands_before_any_place_is_shown(book) -> None:
    """All three questions above the picture of twelve stems."""
    picture = book.page.locator("img[alt*='stems from the side']").first
    asked = book.page.locator(".mensura-ask")
    after = "(one, other) => one.compareDocumentPosition(other) & Node.DOCUMENT_POSITION_PRECEDING"
    for place in range(3):
        assert picture.evaluate(after, asked.nth(place).element_handle())


class TestDeclaredPage(DeclaredPage):
    """Besides."""
