"""A lesson of fifty minutes, as it is shipped, given from its first screen to its last.

By Page Down alone, at 1280 × 720; at each stop the window becomes larger and smaller for a look
and goes back, so that every screen, however far it is unfolded, is held to all three sizes.
"""

from __future__ import annotations

import csv
from datetime import date

import pytest

from mensura.disk.plan_file import read_plan
from mensura.disk.sections import section
from mensura.places import shipped
from mensura.teaching.lessons.questions import question
from mensura.teaching.proof.roads import road
from mensura.views.chapters import panels
from mensura.views.kit import look

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

PLAN = shipped("data") / "lesson-tapes-or-calipers.toml"
SIZES = ((1920, 1080), (1024, 768), (1280, 720))
LETTER_PX = look.TEXT_PT * look.SHOWN_DPI / 72

#: A screen that has come to rest; letters of the pictures that are shapes, and what of a panel is
#: cut, in one look.
RESTS = """async () => {
  const look = () => {
    const box = document.querySelector('.jp-WindowedPanel-outer');
    return box.innerText + [...box.querySelectorAll('canvas, .mensura-screen')].map(
      one => one.style.cssText + one.getBoundingClientRect().width).join();
  };
  let before = null, same = 0;
  for (let k = 0; k < 200 && same < 5; k += 1) {
    await new Promise(requestAnimationFrame);
    const now = look();
    same = now === before ? same + 1 : 0;
    before = now;
  }
}"""
LETTERS = """() => [...document.querySelectorAll('.mensura-on canvas')]
  .filter(one => one.checkVisibility() && one.dataset.scale)
  .map(one => one.dataset.scale * (one.currentCSSZoom || 1))"""
CUT = """() => [...document.querySelectorAll('.mensura-on canvas')].filter(one => {
  const at = one.getBoundingClientRect();
  return one.checkVisibility() && (at.bottom > innerHeight + 1 || at.right > innerWidth + 1
    || at.left < -1 || at.top < -1);
}).length"""
#: All that is seen of a screen, in words.
SEEN = """() => document.querySelector('.mensura-lesson-count').innerText
  + document.querySelector('.jp-WindowedPanel-outer').innerText"""
#: Controls on show, by the names that are read beside them.
CONTROLS = """() => [...document.querySelectorAll('.mensura-on .mensura-row')]
  .filter(one => one.checkVisibility()).map(one => one.innerText.trim().split('\\n')[0])"""


@pytest.fixture(scope="module")
def lesson(present, chromium):
    given = present(PLAN.read_text("utf-8"))
    given.open(chromium)
    given.alive()
    yield given
    given.context.close()


@pytest.fixture(scope="module")
def plan():
    return read_plan(PLAN)


def wrong_here(lesson) -> list[str]:
    """What is wrong with the screen on show, at three sizes of the window."""
    found = []
    for width, height in SIZES:
        lesson.page.set_viewport_size({"width": width, "height": height})
        lesson.page.evaluate(RESTS)
        wanted = {1920: 24, 1024: 13, 1280: 16}[width]
        told = lesson.faults(width, height)
        told += [
            f"letters of {one * LETTER_PX:.1f} px"
            for one in lesson.page.evaluate(LETTERS)
            if one * LETTER_PX < wanted - 0.05
        ]
        told += ["a picture is cut"] * lesson.page.evaluate(CUT)
        found += [f"{width}: {one}" for one in told]
    return found


def hands(lesson) -> list[int]:
    boxes = lesson.page.locator(".mensura-on input[type=number]:visible")
    return [int(one.input_value()) for one in boxes.all()]


def test_it_is_given_by_page_down_alone(lesson, plan):
    """Every step is reached, nothing is cut or too small, and Page Up leads back."""
    wrong, places, last = {}, [], ""
    while last != (last := lesson.page.evaluate(SEEN)):
        places.append(int(lesson.at.split()[0]))
        found = wrong_here(lesson)
        if found:
            wrong[f"{lesson.at}, turn {len(places)}"] = found
        last = lesson.page.evaluate(SEEN)
        lesson.press("PageDown")
        for _ in range(20):  # a busy machine's kernel answers late
            lesson.page.evaluate(RESTS)
            if last != lesson.page.evaluate(SEEN):
                break
    assert wrong == {}
    assert places == sorted(places)
    assert set(places) == set(range(1, len(plan.steps) + 1))
    # each line of the proof has a turn of its own
    proof = [step.section for step in plan.steps].index("classroom-road") + 1
    assert places.count(proof) == len(road("classroom").steps)
    # Page Up leads back the same way, to the first
    for _ in places:
        lesson.press("PageUp")
    assert lesson.at.startswith("1 of")


def test_only_the_controls_that_a_step_names_are_on_show(lesson, plan):
    """A step that names one control shows that one."""
    seen = 0
    for place, step in enumerate(plan.steps, start=1):
        one = section(step.workbook, step.section) if step.workbook else None
        if one is None or one.kind != "panel" or not step.controls:
            continue
        lesson.go(place)
        lesson.page.evaluate(RESTS)
        named = panels()[one.thing].named
        sliders = [named[name].label for name in step.controls if hasattr(named[name], "least")]
        shown = lesson.page.evaluate(CONTROLS)
        assert len(shown) == len(sliders)
        for label, title in zip(shown, sliders, strict=True):
            assert label.startswith(title)
        seen += 1
    assert seen >= 2


def test_hands_are_counted_twice_and_revealed(lesson, plan):
    """The first asking keeps its answer; the second shows both counts, and reveals it."""
    places = [k for k, step in enumerate(plan.steps, start=1) if step.section == "02-predict"]
    first, second = places
    asked = question("02-predict")
    right = next(k for k, one in enumerate(asked.choices, start=1) if one.right)
    other = right % len(asked.choices) + 1
    lesson.go(first)
    lesson.page.evaluate(RESTS)
    lesson.press(*[str(other)] * 5, *[str(right)] * 2, "Backspace")
    lesson.until("() => document.querySelector('.mensura-on').innerText.includes('6 hands')")
    assert hands(lesson)[other - 1] == 5
    assert hands(lesson)[right - 1] == 1
    lesson.page.locator(".mensura-on input[type=number]:visible").nth(other - 1).click()
    lesson.press("7")  # typed over the five, and not sent
    lesson.press("PageDown")  # asked again later: the answer is not given away
    assert lesson.at.startswith(f"{first + 1} of")
    lesson.press("PageUp")
    lesson.until("() => document.querySelector('.mensura-on').innerText.includes('8 hands')")
    lesson.go(second)
    lesson.page.evaluate(RESTS)
    if "Hide the answer" in lesson.page.locator(".jp-Cell.mensura-on").inner_text():
        lesson.press("a")  # it was shown on the way through
    assert sum(hands(lesson)) == 0
    lesson.press(*[str(right)] * 4)
    lesson.until("() => document.querySelector('.mensura-on').innerText.includes('4 hands')")
    text = lesson.page.locator(".jp-Cell.mensura-on").inner_text()
    assert "7 · 88 %" in text
    assert "4 · 100 %" in text
    assert asked.choices[right - 1].reply not in text
    lesson.press("PageDown")
    lesson.page.evaluate(RESTS)
    assert lesson.at.startswith(f"{second} of")
    assert asked.choices[right - 1].reply in lesson.page.locator(".jp-Cell.mensura-on").inner_text()
    # the lecturer's own window knows the right answer, once, and the hands
    with lesson.page.expect_popup() as opened:
        lesson.press("w")
    lesson.listen(opened.value)
    told = opened.value.get_by_text(f"{right}: ").filter(has_text="(right) Hands: 4.")
    told.wait_for(timeout=8000)
    assert opened.value.locator("#now").inner_text().count("(right)") == 1
    opened.value.close()
    # a new class is two presses: one alone loses nothing
    anew = lesson.page.locator(".mensura-on .mensura-new-class:visible")
    anew.click()
    lesson.page.wait_for_timeout(300)
    assert hands(lesson)[right - 1] == 4
    lesson.press("PageDown")
    assert lesson.at.startswith(f"{second + 1} of")
    # the file beside the plan has both askings, with the date
    rows = list(csv.DictReader((lesson.plan.parent / "plan-hands.csv").open(encoding="utf-8-sig")))
    counted = {row["asking"]: 0 for row in rows}
    for row in rows:
        assert row["date"] == date.today().isoformat()
        counted[row["asking"]] += int(row["count"])
    assert counted == {"1": 8, "2": 4}


def test_blank_back_and_reload_in_the_middle(lesson, plan):
    """The same screen and the same values, without a click."""
    place = next(k for k, step in enumerate(plan.steps, start=1) if step.controls)
    lesson.go(place)
    lesson.page.evaluate(RESTS)
    box = lesson.page.locator(".mensura-on .mensura-row input:visible").first
    box.fill("52")
    box.press("Enter")
    lesson.until(
        "() => [...document.querySelectorAll('.mensura-on .mensura-row input')]"
        ".some(one => one.value === '52')"
    )
    lesson.page.wait_for_timeout(1500)
    lesson.page.locator("h1.mensura-lesson-title").focus()
    lesson.press("b")
    dark = lesson.page.locator(".mensura-lesson-blank")
    assert dark.is_visible()
    lesson.press("b")
    assert not dark.is_visible()
    lesson.page.reload()
    lesson.alive()
    assert lesson.at.startswith(f"{place} of")
    lesson.until(
        "() => [...document.querySelectorAll('.mensura-on .mensura-row input')]"
        ".some(one => one.checkVisibility() && one.value === '52')"
    )


@pytest.mark.parametrize("theme", ["light", "dark"])
def test_every_step_holds_the_rules(lesson, plan, theme: str):
    """axe-core finds nothing: on any step in light, on one of each kind in dark."""
    if theme == "dark":
        lesson.press("t")
    lesson.until(f"() => document.body.dataset.jpThemeLight === '{str(theme == 'light').lower()}'")
    axe, found = axe_tool.Axe(), {}
    kinds: set[str] = set()
    for place, step in enumerate(plan.steps, start=1):
        kind = section(step.workbook, step.section).kind if step.workbook else step.shows
        if theme == "dark" and kind in kinds:
            continue
        kinds.add(kind)
        lesson.go(place)
        lesson.page.evaluate(RESTS)
        told = axe.run(lesson.page, context=".jp-NotebookPanel").response
        assert len(told["passes"]) > 5
        for one in told["violations"]:
            found[place, one["id"]] = [node["html"][:120] for node in one["nodes"]]
    assert found == {}
    assert len(kinds) >= 6


def test_the_console_is_clean(lesson):
    """Nothing went wrong unseen in all of it."""
    assert lesson.messages == []
