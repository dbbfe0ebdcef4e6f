"""Live screens of a lesson on three projectors: whole, large, no scroll bar, by keyboard alone.

One lesson of every panel, every road and one of each other kind is given once; its window is made
larger and smaller. What must be is measured in the page, in the window's own pixels.
"""

from __future__ import annotations

import csv
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

from mensura.disk.sections import all_sections
from mensura.views.kit import look

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

LETTER_PX = look.TEXT_PT * look.SHOWN_DPI / 72

#: Windows, and how high the letters of a picture are there at least.
SIZES = {(1280, 720): 16, (1024, 768): 13, (1920, 1080): 24}
WORDS_PX = 24

PANELS = [(one.workbook, one.name) for one in all_sections() if one.kind == "panel"]
ROADS = [("03", f"{way}-road-3") for way in ("classroom", "ellipse", "outline", "calipers")]
OTHERS = [("02", "02-turn"), ("02", "02-1"), ("02", "tape-on-an-oval"), ("07", "least-error")]
NAMED = 'start = { tilt_deg = 6 }\ncontrols = ["tilt_deg", "furrow_depth_cm"]\n'
STEPS = [*PANELS, *ROADS, *OTHERS, ("02", "02-predict"), ("02", "out-of-round-panel"),
         ("02", "02-predict"), ("03", "classroom-road")]  # fmt: skip

#: What of the present screen is cut, scrolls, or is too small; and the letters of its pictures.
MEASURE = """least => {
  const root = [...document.querySelectorAll('.mensura-on .mensura-screen')]
    .find(one => one.checkVisibility());
  const edge = root.getBoundingClientRect(), wrong = [];
  const name = e => `${e.tagName}.${e.className} ${e.textContent.trim().slice(0, 24)}`;
  if (edge.bottom > innerHeight + 1 || edge.right > innerWidth + 1 || edge.left < -1) {
    wrong.push('beyond the window'); }
  for (const e of [root, ...root.querySelectorAll('*')]) {
    if (!e.checkVisibility({visibilityProperty: true}) || e.closest('.mensura-told')
      || getComputedStyle(e).clipPath !== 'none') { continue; }
    const box = e.getBoundingClientRect(), style = getComputedStyle(e);
    if (box.width < 2 || box.height < 2) { continue; }
    if (box.right > edge.right + 1 || box.left < edge.left - 1 || box.top < edge.top - 1
      || box.bottom > edge.bottom + 1) { wrong.push(`out: ${name(e)}`); }
    const hides = style.overflowY !== 'visible' || style.overflowX !== 'visible';
    if (hides && e.clientWidth && (e.scrollWidth > e.clientWidth + 2
      || e.scrollHeight > e.clientHeight + 3)) { wrong.push(`cut: ${name(e)}`); }
    const own = [...e.childNodes].some(one => one.nodeType === 3 && one.data.trim());
    if ((own || e.matches('input, select')) && !e.matches('sub, sup')
      && parseFloat(style.fontSize) * e.currentCSSZoom < least - 0.02) {
      wrong.push(`small: ${parseFloat(style.fontSize) * e.currentCSSZoom} ${name(e)}`); }
  }
  const seen = [...root.querySelectorAll('canvas')].filter(one => one.checkVisibility());
  const letters = seen.map(one => one.dataset.scale * one.currentCSSZoom * LETTER);
  const dots = seen.map(one => one.width / one.getBoundingClientRect().width);
  const stills = [...root.querySelectorAll('img[data-parts]')].filter(
    one => getComputedStyle(one).clipPath === 'none' && one.checkVisibility());
  letters.push(...stills.map(
    one => one.getBoundingClientRect().width / one.getAttribute('width') * LETTER));
  return { wrong, letters, dots, high: edge.height / innerHeight };
}""".replace("LETTER", str(LETTER_PX))


class Given:
    """A lesson in its window."""

    def __init__(self, page: Any, folder: Path, errors: list[str]) -> None:
        self.page, self.folder, self.errors = page, folder, errors

    @property
    def screen(self) -> Any:
        return self.page.locator(".mensura-on .mensura-screen")

    def go(self, workbook: str, section: str, turn: int = 1) -> None:
        """To a screen, by its number in the list, as a lecturer goes."""
        places = [k for k, step in enumerate(STEPS, 1) if step == (workbook, section)]
        self.page.keyboard.press("g")
        self.page.keyboard.type(str(places[turn - 1]))
        self.page.keyboard.press("Enter")
        self.settle()

    def settle(self) -> None:
        """Until what is on show stays as it is for some frames."""
        self.page.evaluate(
            """async () => {
              const look = () => { const root = [...document.querySelectorAll(
                '.mensura-on .mensura-screen')].find(one => one.checkVisibility());
                return root?.style.zoom && (!root.querySelector('.mensura-panel .mensura-picture')
                  || root.querySelector('canvas')) ? root.innerHTML + root.style.cssText : ''; };
              let before = null, same = 0;
              for (let k = 0; k < 300 && same < 6; k += 1) {
                await new Promise(requestAnimationFrame);
                const now = look();
                same = now && now === before ? same + 1 : 0;
                before = now;
              }
            }"""
        )

    def counts(self) -> list[int]:
        boxes = self.screen.locator("input[type=number]")
        return [int(one.input_value()) for one in boxes.all()]


@pytest.fixture(scope="module")
def given(tools, chromium, tmp_path_factory):
    """A lesson of them all, given at once."""
    place = tmp_path_factory.mktemp("given")
    plan = 'title = "Every screen"\nminutes = 50\n'
    for k, (workbook, section) in enumerate(STEPS):
        plan += f'\n[[step]]\nminutes = 2\nworkbook = "{workbook}"\nsection = "{section}"\n'
        plan += NAMED if k == len(STEPS) - 3 else ""
    (place / "every.toml").write_text(plan, encoding="utf-8")
    rows = [("Too much, by about 2 per cent.", 20), ("Too much, by about 12 per cent.", 9)]
    with (place / "every-hands.csv").open("w", encoding="utf-8", newline="") as text:
        out = csv.writer(text)
        out.writerow(["date", "time", "plan", "workbook", "question", "asking", "option", "count"])
        for option, hands in rows:
            out.writerow(["2024-11-27", "09:00:00", "every", "02", "question 02-predict", 1,
                          option, hands])  # fmt: skip
    env = tools.quiet_home(place / "home")
    command = [os.environ.get("MENSURA_PYTHON", sys.executable), "-P", "-m", "mensura", "present"]
    command += [str(place / "every.toml"), "--no-browser", "--port", str(tools.free_port())]
    log = (place / "log.txt").open("w")
    process = subprocess.Popen(
        command, cwd=place, env=env, stdout=log, stderr=subprocess.STDOUT, start_new_session=True
    )
    try:
        url, token = tools.wait_for_server(process, Path(env["JUPYTER_RUNTIME_DIR"]))
        page = chromium.new_page(viewport={"width": 1280, "height": 720})
        errors: list[str] = []
        page.on("console", lambda m: m.type == "error" and errors.append(m.text))
        page.on("pageerror", lambda error: errors.append(str(error)))
        page.goto(f"{url}doc/tree/lesson.ipynb?token={token}")
        page.wait_for_selector(".jp-NotebookPanel[data-mensura-page=alive]", timeout=120_000)
        one = Given(page, place, errors)
        one.settle()
        yield one
        page.close()
    finally:
        process.terminate()
        process.wait(20)
        log.close()


@pytest.mark.parametrize("size", SIZES, ids=lambda size: f"{size[0]}x{size[1]}")
def test_every_screen_is_whole_and_large(given, size):
    """No scroll bar, nothing cut, words 24 px, a picture's letters as large as that window asks."""
    page = given.page
    page.set_viewport_size({"width": size[0], "height": size[1]})
    found = {}
    for workbook, section in dict.fromkeys([*PANELS, *ROADS, *OTHERS]):
        given.go(workbook, section)
        told = page.evaluate(MEASURE, WORDS_PX)
        small = [one for one in told["letters"] if one < SIZES[size] - 0.05]
        drawn = bool(told["letters"]) or section in ("02-turn", "02-1")
        blurred = [one for one in told["dots"] if not 0.98 < one < 1.02]
        if told["wrong"] or small or blurred or not drawn or told["high"] < 0.85:
            found[section] = {**told, "small": small}
    assert found == {}


def test_both_themes(given):
    """Light and dark: each panel's canvas is painted anew, and axe-core finds nothing."""
    page, axe = given.page, axe_tool.Axe()
    page.set_viewport_size({"width": 1280, "height": 720})
    only = {"runOnly": ["wcag2a", "wcag2aa", "best-practice"]}
    dots = "canvas => canvas.getContext('2d').getImageData(1, 1, 1, 1).data[0]"
    light = {}
    for theme in ("light", "dark"):
        page.evaluate(f"document.body.dataset.jpThemeLight = '{theme == 'light'}'.toLowerCase()")
        for step in (PANELS[1], ROADS[0], ("02", "02-turn"), ("02", "tape-on-an-oval")):
            given.go(*step)
            assert page.evaluate(MEASURE, WORDS_PX)["wrong"] == []
            told = axe.run(page, context=".mensura-on .mensura-screen", options=only)
            assert [one["id"] for one in told.response["violations"]] == []
            if step in (PANELS[1], ROADS[0]):
                dot = given.screen.locator("canvas").first.evaluate(dots)
                light.setdefault(step, dot)
                assert (dot == light[step]) == (theme == "light")
    page.evaluate("document.body.dataset.jpThemeLight = 'true'")


def test_only_the_named_controls_are_on_show(given):
    """Those that the step names, at its values; the others at a press of one button."""
    page = given.page
    given.go("02", "out-of-round-panel", 2)
    shown = lambda: [  # noqa: E731
        one.get_attribute("aria-label")
        for one in given.screen.get_by_role("slider").all() if one.is_visible()
    ]  # fmt: skip
    assert shown() == ["furrow depth, cm", "tilt, °"]
    assert given.screen.get_by_label("tilt, °", exact=True).first.input_value() == "6"
    met = set(shown())
    turn = given.screen.get_by_role("button", name="More controls")
    turn.focus()
    for _ in range(4):
        page.keyboard.press("Enter")
        given.settle()
        met |= set(shown())
        assert page.evaluate(MEASURE, WORDS_PX)["wrong"] == []
    assert len(met) == 8


def test_a_slider_follows_the_pointer_and_the_keys(given):
    """Enlarged, it stands where it is let go, and what was moved stays when one steps back."""
    page = given.page
    given.go("01", "girth-panel")
    given.go("02", "out-of-round-panel", 2)
    track = given.screen.locator(".noUi-target:visible").last.bounding_box()
    grip = given.screen.get_by_role("slider", name="tilt, °").bounding_box()
    middle = track["y"] + track["height"] / 2
    page.mouse.move(grip["x"] + grip["width"] / 2, middle)
    page.mouse.down()
    page.mouse.move(track["x"] + track["width"] * 0.75, middle, steps=4)
    page.mouse.up()
    field = given.screen.get_by_label("tilt, °", exact=True).first
    page.wait_for_function("box => box.value === '15'", arg=field.element_handle())
    given.screen.get_by_role("slider", name="tilt, °").focus()
    page.keyboard.press("ArrowRight")
    page.wait_for_function("box => box.value === '15.5'", arg=field.element_handle())
    page.keyboard.press("PageDown")
    page.keyboard.press("PageUp")
    given.settle()
    assert given.screen.get_by_label("tilt, °", exact=True).first.input_value() == "15.5"


def test_the_numbers_come_in_the_pictures_place(given):
    """At a press, 24 px high, page by page, every row once; and the picture again."""
    page = given.page
    for size in SIZES:
        page.set_viewport_size({"width": size[0], "height": size[1]})
        given.go("07", "all-faults-panel")
        given.screen.get_by_role("button", name="Numbers").click()
        rows: list[str] = []
        for _ in range(8):
            given.settle()
            assert page.evaluate(MEASURE, WORDS_PX)["wrong"] == []
            rows += [one.inner_text() for one in given.screen.locator("tbody tr:visible").all()]
            more = given.screen.get_by_role("button", name="More numbers")
            if not more.is_visible():
                break
            more.click()
            given.settle()
            first = given.screen.locator("tbody tr:visible")
            if first.count() and first.first.inner_text() == rows[0]:
                break  # after the last page comes the first
        assert len(rows) == len(set(rows)) == given.screen.locator("tbody tr").count()
        given.screen.get_by_role("button", name="Picture", exact=True).click()
    page.set_viewport_size({"width": 1280, "height": 720})


def test_a_road_goes_on_and_back_line_by_line(given):
    """Page Down unfolds to the last line, Page Up folds; each line is wholly in sight."""
    page = given.page
    given.go("03", "classroom-road")
    title = page.locator(".mensura-lesson-count")
    here = title.inner_text()
    for line in range(2, 10):
        page.keyboard.press("PageDown")
        given.screen.locator(".mensura-present", has_text=f"{line}. ").wait_for()
        given.settle()
        assert page.evaluate(MEASURE, WORDS_PX)["wrong"] == [], line
        assert title.inner_text() == here
    page.keyboard.press("PageUp")
    given.screen.locator(".mensura-present", has_text="8. ").wait_for()
    assert title.inner_text() == here


def test_hands_are_counted_by_keyboard(given):
    """Digits count, a key takes back, a key shows the answer, Page Down goes on; asked again on
    a later screen, both counts and the class before stand side by side."""
    page = given.page
    given.go("02", "02-predict")
    for key in "33311444443":
        page.keyboard.press(key)
    page.keyboard.press("Backspace")
    page.wait_for_function(
        "document.querySelectorAll('.mensura-on input[type=number]')[3].value === '5'"
    )
    page.wait_for_timeout(150)
    assert given.counts() == [2, 0, 3, 5]
    box = given.screen.locator("input[type=number]").nth(1)
    box.focus()
    page.keyboard.press("ControlOrMeta+a")
    page.keyboard.type("10")
    page.keyboard.press("Enter")
    given.screen.get_by_text("20 hands").wait_for()
    words = given.screen.locator(".mensura-tally.mensura-now .mensura-share")
    assert words.all_inner_texts() == ["2 · 10 %", "10 · 50 %", "3 · 15 %", "5 · 25 %"]
    wide = given.screen.locator(".mensura-tally.mensura-now i").evaluate_all(
        "all => all.map(one => one.getBoundingClientRect().width)"
    )
    assert wide[1] == pytest.approx(5 * wide[0], rel=0.05)
    assert not given.screen.get_by_text("✓ right").first.is_visible()
    page.keyboard.press("a")
    given.screen.get_by_text("✓ right").locator("visible=true").wait_for()
    given.settle()
    assert "Right: Too much, by about 2 per cent." in given.screen.inner_text()
    assert "The class: The true area" in given.screen.inner_text()
    assert page.evaluate(MEASURE, WORDS_PX)["wrong"] == []
    here = page.locator(".mensura-lesson-count").inner_text()
    page.keyboard.press("PageDown")
    assert page.locator(".mensura-lesson-count").inner_text() != here
    page.keyboard.press("PageDown")
    given.settle()
    for key in "3333":
        page.keyboard.press(key)
    given.screen.get_by_text("4 hands").wait_for()
    page.keyboard.press("a")
    given.screen.get_by_text("✓ right").locator("visible=true").wait_for()
    for size in SIZES:
        page.set_viewport_size({"width": size[0], "height": size[1]})
        given.settle()
        assert page.evaluate(MEASURE, WORDS_PX)["wrong"] == [], size
    for kind, shares in (
        ("then", ["2 · 10 %", "10 · 50 %", "3 · 15 %", "5 · 25 %"]),
        ("now", ["0 · 0 %", "0 · 0 %", "4 · 100 %", "0 · 0 %"]),
        ("year", ["0 · 0 %", "0 · 0 %", "20 · 69 %", "9 · 31 %"]),
    ):
        found = given.screen.locator(f".mensura-tally.mensura-{kind} .mensura-share")
        assert found.all_inner_texts() == shares
    looks = (
        given.screen.locator(".mensura-answer")
        .nth(2)
        .locator("i")
        .evaluate_all(
            "all => all.map(one => [getComputedStyle(one).borderTopStyle,"
            " getComputedStyle(one).backgroundImage.slice(0, 9)].join())"
        )
    )
    assert len(set(looks)) == 3
    page.wait_for_timeout(2000)
    kept = (given.folder / "every-hands.csv").read_text("utf-8")
    assert [row.rsplit(",", 1)[1] for row in kept.splitlines()][3:] == [
        "2", "10", "3", "5", "0", "0", "4", "0"]  # fmt: skip


def test_a_problem_unfolds(given):
    """Hints, then the solution, all in sight at every size; then the lesson goes on."""
    page = given.page
    for size in SIZES:
        page.set_viewport_size({"width": size[0], "height": size[1]})
        given.go("07", "least-error")
        here = page.locator(".mensura-lesson-count").inner_text()
        for _ in range(12):
            page.keyboard.press("PageDown")
            if page.locator(".mensura-lesson-count").inner_text() != here:
                break
            given.settle()
            assert page.evaluate(MEASURE, WORDS_PX)["wrong"] == [], size
        assert page.locator(".mensura-lesson-count").inner_text() != here
        given.go("07", "least-error")
        for _ in range(5):
            page.keyboard.press("PageUp")
    assert given.errors == []
