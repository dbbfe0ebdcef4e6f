"""Where would you measure?, in a browser: by pointer on the picture, then by keyboard alone."""

from __future__ import annotations

import pytest

from mensura.teaching.games.place_deck import place_round
from mensura.teaching.games.place_rounds import Placed
from mensura.teaching.games.place_scene import BANDS, EACH, HELD, LEVEL
from mensura.views.chapters.place_game.picture import PlacePicture, PlaceShown

CODE = "Q07"
SLIDER = "your band, on the scale, m"

#: Where a point of the picture is on the screen, whichever part of it is seen.
ON_SCREEN = """(root, [x, y, wide]) => {
  const canvas = root.querySelector('.mensura-parts canvas');
  const box = canvas.getBoundingClientRect();
  return [box.left + x * box.width / wide, box.top + y * box.width / wide];
}"""


@pytest.fixture(scope="module")
def game(lab, open_once):
    """A page with the game alone, alive: (page, its frame)."""
    import nbformat.v4 as v4
    from nbformat import write

    lines = f"from mensura.views.chapters.place_game import place_game\nplace_game({CODE!r})"
    kernel = {"name": "python3", "display_name": "Python 3", "language": "python"}
    book = v4.new_notebook(cells=[v4.new_code_cell(lines)], metadata={"kernelspec": kernel})
    write(book, lab.folder / "where-alone.ipynb")
    opened = open_once("where-alone.ipynb")
    opened.run_all()
    root = opened.page.locator(".mensura-game")
    root.locator(".mensura-parts canvas").wait_for(timeout=20000)
    yield opened.page, root
    assert not opened.messages


def first_of(kind: str, after: int = 0) -> int:
    """Number of the first round of a kind."""
    return next(n for n in range(after + 1, 99) if place_round(CODE, n).kind.key == kind)


def alt_is(page, root, number: int, placed: Placed, told: bool = False) -> None:
    """Waits until the picture's words are those of a placing."""
    words = PlacePicture(place_round(CODE, number)).describe(PlaceShown(placed, told))
    root.get_by_role("img", name=words, exact=True).wait_for(timeout=10000, state="attached")


def go_to(page, root, number: int) -> None:
    """On to a round, by the keyboard, from whichever is shown."""
    button = root.get_by_role("button", name="Next round")
    button.focus()
    while f"Round {number}. " not in root.inner_text():
        before = root.get_by_role("status").inner_text()
        page.keyboard.press("Enter")
        root.get_by_role("status").filter(has_not_text=before).wait_for(timeout=10000)


def point(page, root, number: int, scale_m: float) -> tuple[float, float]:
    """Where on the screen the stem's axis is at a mark of the scale."""
    picture = PlacePicture(place_round(CODE, number))
    x, y = picture.point_px(scale_m)
    return tuple(root.evaluate(ON_SCREEN, [x, y, picture.width_px]))


def test_by_pointer(game) -> None:
    """A press puts the band there, a drag takes it along, and the reply is the model's."""
    page, root = game
    number = 1
    one = place_round(CODE, number)
    alt_is(page, root, number, Placed(one.start_m))
    # to a place whose centimetre is sure, whatever a screen's dots are
    spot = one.scene.kept[1]
    wanted = one.scale_m((spot.low_m + spot.high_m) / 2)
    page.mouse.move(*point(page, root, number, one.start_m + 0.5))
    page.mouse.down()
    page.mouse.move(*point(page, root, number, wanted), steps=6)
    page.mouse.up()
    box = root.get_by_label(SLIDER, exact=True).and_(page.locator("input"))
    page.wait_for_function(
        "([box, at]) => Math.abs(Number(box.value) - at) < 0.015",
        arg=[box.element_handle(), wanted],
    )
    lies = Placed(float(box.input_value()))
    alt_is(page, root, number, lies)
    root.get_by_role("button", name="Measure here").click()
    told = one.reply(lies)
    assert told.right
    root.get_by_role("status").filter(has_text=told.message).wait_for(timeout=10000)
    root.get_by_text("Right: 1 of 1 round", exact=True).wait_for()
    alt_is(page, root, number, lies, told=True)


def test_a_level_band_on_a_leaning_stem(game) -> None:
    """How the band is held is asked where it matters, and is replied to by its rule."""
    page, root = game
    number = first_of("lean", 1)
    upright = root.get_by_role("radio", name=HELD[LEVEL], exact=True)
    assert not upright.is_visible()
    go_to(page, root, number)
    one = place_round(CODE, number)
    root.get_by_role("radio", name=HELD[LEVEL], exact=True).check()
    box = root.get_by_label(SLIDER, exact=True).and_(page.locator("input"))
    lies = Placed(round(one.right.scale_m, 2), held=LEVEL)
    box.fill(f"{lies.scale_m:.2f}")
    box.press("Enter")
    alt_is(page, root, number, lies)
    root.get_by_role("button", name="Measure here").click()
    told = one.reply(lies)
    assert not told.right
    root.get_by_role("status").filter(has_text=told.message).wait_for(timeout=10000)


def test_by_keyboard_alone(game) -> None:
    """From Next round on nothing is pointed at: place, bands and hold are told by keys."""
    page, root = game
    number = first_of("fork-below", first_of("lean", 1))
    go_to(page, root, number)
    one = place_round(CODE, number)
    # back to the slider by the Tab key, past choices and buttons
    for _ in range(12):
        page.keyboard.press("Shift+Tab")
        at = page.evaluate("document.activeElement.getAttribute('aria-label')")
        if at == SLIDER:
            break
    assert at == SLIDER
    page.keyboard.press("ArrowRight")
    alt_is(page, root, number, Placed(round(one.start_m + 0.01, 2)))
    # its box stands before it: a number, and Enter
    wanted = round(one.right.scale_m, 2)
    page.keyboard.press("Shift+Tab")
    page.keyboard.press("Control+a")
    page.keyboard.type(f"{wanted:.2f}")
    page.keyboard.press("Enter")
    alt_is(page, root, number, Placed(wanted))
    page.keyboard.press("Tab")
    page.keyboard.press("Tab")
    page.keyboard.press("ArrowDown")
    root.get_by_role("radio", name=BANDS[EACH], exact=True, checked=True).wait_for()
    lies = Placed(wanted, bands=EACH)
    alt_is(page, root, number, lies)
    page.keyboard.press("Tab")
    page.keyboard.press("Enter")
    told = one.reply(lies)
    assert told.right
    root.get_by_role("status").filter(has_text=told.message).wait_for(timeout=10000)
    root.get_by_text(f"Right: 2 of {number} rounds", exact=True).wait_for()
