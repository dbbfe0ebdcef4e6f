"""A lesson in front of a class: turned by Page Down, blanked, jumped in, lost and found again.

One lesson is served and one page looked at, in the order of these tests; each leaves it where it
found it, on its first screen, or says where it goes on.
"""

from __future__ import annotations

import io
import json
import time

import pytest
from PIL import Image

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

PLAN = """\
title = "A small lesson"
minutes = 8

[[step]]
title = "Today"
text = \"\"\"
1. One tree, two instruments.
2. Which is nearer?
\"\"\"
minutes = 1
note = "Hold up the tape."

[[step]]
workbook = "02"
section = "out-of-round-panel"
minutes = 2
start = { second_cm = 40 }
controls = ["second_cm"]

[[step]]
workbook = "06"
section = "sizes-side-by-side"
minutes = 2
spare = true

[[step]]
workbook = "02"
section = "why-the-tape"
minutes = 2

[[step]]
workbook = "02"
section = "out-of-round-panel"
minutes = 2
start = { second_cm = 50 }
controls = ["second_cm"]

[[step]]
picture = "wood__png"
alt = "A made-up wood"
minutes = 1

[[step]]
notebook = "own__ipynb"
cell = 2
title = "My own"
minutes = 1
""".replace("__", ".")

#: What a notebook has and a lesson must not show.
FURNITURE = (
    ".jp-Toolbar, .lm-MenuBar, .jp-SideBar, .jp-InputPrompt, .jp-OutputPrompt, .cm-editor, "
    ".jp-Notebook-footer, #jp-main-statusbar, .mensura-bar, .jp-Placeholder, .jp-Collapser"
)

#: Texts of the pieces of a step: of all, or of those in sight.
PIECES = """all => [...document.querySelectorAll('.mensura-on :is(p, tbody tr, li)')]
  .filter(one => all || one.getBoundingClientRect().height)
  .map(one => one.textContent.trim())"""

#: Colours of a page that are red.
RED = """() => [...document.querySelectorAll('*')].map(one => getComputedStyle(one))
  .flatMap(style => [style.color, style.backgroundColor, style.borderLeftColor])
  .filter(color => {
    const [red, green, blue] = color.match(/\\d+/g).map(Number);
    return red > 150 && green < 90 && blue < 90;
  })"""

SIZES = ((1280, 720), (1024, 768), (1920, 1080))


def wood() -> bytes:
    """An invented picture, wide and small."""
    file = io.BytesIO()
    Image.new("RGB", (300, 150), (40, 110, 60)).save(file, "PNG")
    return file.getvalue()


def own() -> bytes:
    """The lecturer's notebook: its second cell reads a file that lies beside it."""
    source = "from pathlib import Path\nprint('trees:', Path('trees.txt').read_text())"
    cells = [
        {"cell_type": "markdown", "metadata": {}, "source": "Mine"},
        {
            "cell_type": "code",
            "metadata": {},
            "source": source,
            "outputs": [],
            "execution_count": None,
        },
    ]
    return json.dumps({"cells": cells, "metadata": {}, "nbformat": 4, "nbformat_minor": 5}).encode()


@pytest.fixture(scope="module")
def lesson(present, chromium):
    given = present(PLAN, wood__png=wood(), own__ipynb=own(), trees__txt=b"seven")
    given.open(chromium)
    given.alive()
    yield given
    given.context.close()


def box(lesson):
    """The number of the one control that the plan puts on show."""
    return lesson.page.locator(".mensura-on .mensura-row input:visible")


def grave(page, *context: str) -> list[tuple[str, list[str]]]:
    found = axe_tool.Axe().run(page, context=list(context) or None).response
    assert len(found["passes"]) > 8
    return [
        (one["id"], [node["html"][:160] for node in one["nodes"]]) for one in found["violations"]
    ]


def test_of_the_notebook_nothing_is_seen(lesson):
    """No bar, prompt, code or menu of JupyterLab is in sight, or reached by the Tab key."""
    page = lesson.page
    seen = page.evaluate(
        """names => [...document.querySelectorAll(names)]
          .filter(one => one.checkVisibility({ visibilityProperty: true })
            && one.getBoundingClientRect().width)
          .map(one => one.className)""",
        FURNITURE,
    )
    assert seen == []
    assert lesson.at == "1 of 7"
    assert lesson.title == "Today"
    assert page.title() == "1 of 7 Today"
    whole = page.locator(".jp-NotebookPanel").bounding_box()
    assert whole == {"x": 0, "y": 0, "width": 1280, "height": 720}
    stops = []
    for _ in range(5):
        page.keyboard.press("Tab")
        stops.append(page.evaluate("() => document.activeElement.ariaLabel || ''"))
    assert stops[:3] == ["1 of 7: list of screens", "Back", "Next"]


@pytest.mark.parametrize(("width", "height"), SIZES)
def test_every_screen_fits(lesson, width: int, height: int):
    """By Page Down alone, at three sizes: nothing scrolls, nothing is cut, words are 24 px high."""
    lesson.page.set_viewport_size({"width": width, "height": height})
    lesson.press("Home")
    lesson.page.wait_for_timeout(300)
    wrong, places = {}, []
    for place in lesson.screens(most=3):
        places.append(place)
        lesson.page.wait_for_timeout(150)
        wrong[place] = lesson.faults(width, height)
    steps = [place.partition(" ")[0] for place in places]
    assert sorted(set(steps)) == list("1234567")
    assert steps == sorted(steps)
    assert any(place.startswith("4 of 7, part 2") for place in places)
    assert {place: found for place, found in wrong.items() if found} == {}
    # a picture fills the screen one way or the other
    lesson.go(6)
    shown = lesson.page.get_by_alt_text("A made-up wood")
    assert shown.bounding_box()["width"] == pytest.approx(width, abs=1)
    # and back again, through the parts
    lesson.go(5)
    lesson.press("PageUp")
    assert lesson.at.startswith("4 of 7, part ")
    assert lesson.at.split("part ")[1].split(" of ")[0] == lesson.at.rsplit(" ", 1)[1]
    lesson.page.set_viewport_size({"width": 1280, "height": 720})
    lesson.press("Home")


def test_the_whole_text_is_there_once(lesson):
    """Cut into screens, no sentence and no row of a table is lost or comes twice, but its head."""
    lesson.go(4)
    whole = lesson.page.evaluate(PIECES, True)
    seen = []
    for place in lesson.screens(most=1):
        if not place.startswith("4 of 7"):
            break
        seen += lesson.page.evaluate(PIECES, False)
    assert len(whole) > 8
    assert seen == whole
    lesson.press("Home")


def test_arrows_turn_but_not_in_a_control(lesson):
    """An arrow in a control moves it; Page Down turns all the same; what was moved stays moved."""
    page = lesson.page
    lesson.press("ArrowRight")
    assert lesson.at == "2 of 7"
    assert box(lesson).input_value() == "40"
    handle = page.locator(".mensura-on .noUi-handle:visible")
    handle.focus()
    lesson.press("ArrowRight", "ArrowRight")
    assert lesson.at == "2 of 7"
    moved = box(lesson).input_value()
    assert float(moved) > 40
    lesson.press("PageDown")
    assert lesson.at == "3 of 7"
    # a screen reader hears the new screen's title
    assert page.evaluate("() => document.activeElement.textContent") == lesson.title
    lesson.press("ArrowLeft")
    assert (lesson.at, box(lesson).input_value()) == ("2 of 7", moved)
    # the other screen of the same panel has values of its own
    lesson.go(5)
    assert box(lesson).input_value() == "50"
    lesson.press("Home")
    assert lesson.at == "1 of 7"


def test_own_code_runs_where_it_lies(lesson):
    lesson.go(7)
    lesson.page.locator(".mensura-on").get_by_text("trees: seven").wait_for(timeout=5000)
    assert "Path(" not in lesson.page.locator(".jp-NotebookPanel").inner_text()
    lesson.press("Home")


def test_a_key_is_no_command_of_the_notebook(lesson):
    """dd would delete a cell, a and b would add one."""
    count = lesson.page.locator(".jp-Cell").count()
    lesson.press("d", "d", "a", "x", "m", "Enter", "0", "0")
    assert lesson.page.locator(".jp-Cell").count() == count
    assert lesson.page.locator(".jp-Dialog").count() == 0
    assert lesson.at == "1 of 7"


def test_blank_and_back(lesson):
    """A key blanks the screen; any key brings the same screen back, and does nothing else."""
    page = lesson.page
    lesson.press("b")
    shot = Image.open(io.BytesIO(page.screenshot())).convert("RGB")
    assert shot.getextrema() == ((0, 0), (0, 0), (0, 0))
    lesson.press("PageDown")
    assert page.locator(".mensura-lesson-blank").count() == 0
    assert lesson.at == "1 of 7"


def test_the_list(lesson):
    """Opened by key or button; digits, arrows and Enter go to a screen; a wrong number is told."""
    page = lesson.page
    lesson.press("g")
    here = page.evaluate("() => document.activeElement.textContent")
    assert here.startswith("1  Today")
    lesson.press("ArrowDown", "ArrowDown", "Enter")
    assert lesson.at == "3 of 7"
    page.get_by_role("button", name="3 of 7: list of screens").click()
    lesson.press("9", "Enter")
    assert page.locator(".mensura-lesson-go [role=status]").inner_text() == (
        "There is no such screen: type a number from 1 to 7."
    )
    assert grave(page, "dialog") == []
    lesson.press("Escape")
    assert page.locator("dialog[open]").count() == 0
    lesson.press("?")
    assert page.get_by_role("heading", name="Keys").is_visible()
    assert grave(page, "dialog") == []
    lesson.press("Escape", "Home")
    assert lesson.at == "1 of 7"


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_it_holds_the_axe_rules(lesson, theme: str):
    """Of all that is seen, on a screen of words, a panel and a picture, in both themes."""
    page = lesson.page
    if theme == "dark":
        lesson.press("t")
    lesson.until(f"() => document.body.dataset.jpThemeLight === '{str(theme == 'light').lower()}'")
    page.wait_for_timeout(400)
    found = {}
    for number in (1, 2, 3, 4):
        lesson.go(number)
        found[number] = grave(page, ".jp-NotebookPanel")
    if theme == "dark":
        lesson.press("t")
        lesson.until("() => document.body.dataset.jpThemeLight === 'true'")
    lesson.press("Home")
    assert found == {1: [], 2: [], 3: [], 4: []}


def test_the_lecturers_window(lesson):
    """It tells screen, next screen, note and time, turns the screens, and says what may go."""
    page = lesson.page
    with page.expect_popup() as opened:
        page.keyboard.press("w")
    notes = opened.value
    lesson.listen(notes)
    notes.get_by_text("Hold up the tape.").wait_for(timeout=8000)
    assert notes.get_by_role("heading", name="Now, 1 of 7: Today").is_visible()
    assert notes.get_by_role("heading", name="Next, 2: ").is_visible()
    assert notes.locator("#now li").count() == 2
    notes.get_by_role("button", name="Set the clock back").click()
    notes.get_by_role("button", name="Start the clock").wait_for()
    assert notes.locator("#lesson-left").inner_text() == "8:00 left"
    # 11 minutes are planned in 8
    assert "Planned 3:00 more than there is time for. May be left out, 2 min" in (
        notes.locator("#short").inner_text()
    )
    notes.keyboard.press("PageDown")
    lesson.until("() => document.querySelector('.mensura-lesson-count').textContent === '2 of 7'")
    notes.get_by_role("button", name="Pause the clock").wait_for()
    notes.wait_for_function(
        "() => document.querySelector('#screen-left').textContent.startsWith('1:5')"
    )
    notes.locator("#then img").wait_for()
    notes.get_by_role("button", name="Leave it out").click()
    notes.get_by_role("button", name="Show it after all").wait_for()
    notes.keyboard.press("PageDown")
    lesson.until(
        "() => document.querySelector('.mensura-lesson-count').textContent.startsWith('4 of 7')"
    )
    # formulas of the present screen, as they are set
    notes.locator("#now mjx-container mjx-math").first.wait_for()
    assert notes.locator("#now").inner_text() != ""
    assert grave(notes) == []
    notes.reload()
    notes.get_by_role("heading", name="Now, 4 of 7").wait_for()
    notes.keyboard.press("b")
    page.locator(".mensura-lesson-blank").wait_for()
    notes.keyboard.press("b")
    notes.get_by_role("button", name="Blank", exact=True).wait_for()
    notes.keyboard.press("p")
    notes.get_by_text("The clock stands still.").wait_for()
    assert notes.evaluate(RED) == []
    notes.keyboard.press("PageUp")
    lesson.until("() => document.querySelector('.mensura-lesson-count').textContent === '2 of 7'")
    notes.get_by_role("button", name="Show it after all").click()
    notes.get_by_role("button", name="Leave it out").wait_for()
    notes.close()
    lesson.press("Home")


def test_what_is_in_sight_while_its_page_is_lost(lesson):
    """The same screen comes back with the same values, without a click and without a dialog.

    Loaded anew; its kernel killed; its server ended, and begun again with a plan that has one step
    more before it: the lesson takes up what still fits.
    """
    page = lesson.page
    lesson.go(2)
    box(lesson).fill("44.5")
    box(lesson).press("Enter")
    page.wait_for_timeout(1500)

    def same(at: str = "2 of 7") -> None:
        lesson.alive()
        page.locator(".mensura-on .mensura-frame[data-keys]").wait_for()
        assert lesson.at == at
        assert box(lesson).input_value() == "44.5"
        assert page.locator(".jp-Dialog, dialog[open]").count() == 0
        assert lesson.told == ""

    page.reload()
    lesson.seen()
    assert lesson.at == "2 of 7"
    same()

    lesson.expected_loss = True
    lesson.kill_kernel()
    page.wait_for_selector(".mensura-lesson-told:not(:empty)", timeout=15000)
    # what was last seen stands in its place
    page.wait_for_selector(".mensura-on .mensura-stand-in canvas", timeout=20000)
    same()

    lesson.stop()
    lesson.until(
        "() => document.querySelector('.mensura-lesson-told').textContent"
        ".startsWith('No answer from the server.')"
    )
    lesson.press("PageDown")
    assert lesson.at == "3 of 7"  # what needs no kernel goes on
    lesson.press("PageUp")
    more = '[[step]]\ntext = "Before all."\nminutes = 1\n\n[[step]]\ntitle = "Today"'
    lesson.plan.write_text(PLAN.replace('[[step]]\ntitle = "Today"', more), "utf-8")
    lesson.present()
    same("3 of 8")
    lesson.expected_loss = False


def test_begin_anew(lesson):
    """For the next class: values, screen and clock as at the start, and nothing of them is left."""
    page = lesson.page
    assert lesson.at == "3 of 8"
    lesson.press("g")
    page.get_by_role("button", name="Begin anew").click()
    page.get_by_role("button", name="Yes, begin anew").click()
    lesson.until("() => document.querySelector('.mensura-lesson-count').textContent === '1 of 8'")
    page.wait_for_timeout(300)
    lesson.alive()
    lesson.press("PageDown", "PageDown")
    lesson.until("() => document.querySelector('.mensura-on .mensura-frame[data-keys]') !== null")
    assert box(lesson).input_value() == "40"
    end = time.monotonic() + 5
    place = lesson.folder / "lesson-place.json"
    while json.loads(place.read_text("utf-8"))["place"] != 2 and time.monotonic() < end:
        page.wait_for_timeout(50)
    assert json.loads(place.read_text("utf-8"))["clock"]["ran"] < 60000
    lesson.press("Home")


def test_a_finger_turns(lesson):
    """A swipe to the left goes on; one on a control moves the control."""
    page = lesson.page
    swipe = """([x, to, y]) => {
      const at = document.elementFromPoint(x, y);
      const send = (kind, clientX) => at.dispatchEvent(new PointerEvent(kind, {
        pointerType: 'touch', isPrimary: true, bubbles: true, clientX, clientY: y }));
      send('pointerdown', x); send('pointerup', to);
    }"""
    lesson.press("PageDown")
    page.evaluate(swipe, [900, 500, 400])
    assert lesson.at == "3 of 8"
    at = page.locator(".mensura-on .noUi-handle:visible").bounding_box()
    page.evaluate(swipe, [at["x"] + 5, at["x"] - 200, at["y"] + 5])
    assert lesson.at == "3 of 8"
    page.evaluate(swipe, [500, 900, 600])
    assert lesson.at == "2 of 8"


def test_the_console_is_clean(lesson):
    assert lesson.messages == []
