"""A lesson is planned by clicking alone, in the lecturer's mode; a class has nothing of it.

One server in the lecturer's mode for all tests of this file, and on it one page of the proof, one
of the ovals and one desk: each test goes on where the one before it ended. That a class has nothing
of it is held of every page of a class's (`every_page.py`), where those are open anyhow.
"""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from mensura.disk.plan_place import LESSON_PAGE
from mensura.disk.plan_read import read_plan

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")

OVALS, PROOF = "02-out-of-round.ipynb", "03-the-proof.ipynb"


class Lecturer:
    """The lecturer's server and his pages."""

    def __init__(self, folder: Path, url: str, token: str, browser) -> None:
        self.folder, self.url, self.token, self.browser = folder, url, token, browser
        self.plan = folder / "lesson.toml"
        self.messages: list[str] = []

    def opened(self, name: str):
        page = self.browser.new_page(viewport={"width": 1366, "height": 768})
        page.on(
            "console", lambda one: one.type == "error" and self.messages.append(one.text + name)
        )
        page.on("pageerror", lambda error: self.messages.append(f"{error} {name}"))
        page.goto(f"{self.url}doc/tree/{name}?token={self.token}")
        page.wait_for_selector('.jp-NotebookPanel[data-mensura-page="alive"]', timeout=90_000)
        return page

    @property
    def steps(self):
        return read_plan(self.plan).steps


@pytest.fixture(scope="module")
def lecturer(tmp_path_factory, tools, chromium):
    place = tmp_path_factory.mktemp("lecturer")
    folder = place / "class"
    env = tools.quiet_home(place / "home")
    python = os.environ.get("MENSURA_PYTHON", sys.executable)
    command = [python, "-P", "-m", "mensura", "open", str(folder), "--lecturer", "--no-browser"]
    command += ["--port", str(tools.free_port())]
    with (place / "log.txt").open("w") as log:
        process = subprocess.Popen(
            command, cwd=place, env=env, stdout=log, stderr=log, start_new_session=True
        )
        try:
            url, token = tools.wait_for_server(process, Path(env["JUPYTER_RUNTIME_DIR"]))
            yield Lecturer(folder, url, token, chromium)
        finally:
            process.terminate()
            try:
                process.wait(20)
            except subprocess.TimeoutExpired:
                process.kill()


@pytest.fixture(scope="module")
def ovals(lecturer):
    return lecturer.opened(OVALS)


@pytest.fixture(scope="module")
def desk(lecturer):
    page = lecturer.opened(LESSON_PAGE)
    page.wait_for_selector(".mensura-desk table.mensura-plan", state="attached")
    return page


def add(page, words: str, what: str = "into the lesson") -> str:
    """Presses a section's button by the keyboard; what is said beside it."""
    button = page.get_by_role("button", name=f"{what}: {words}", exact=True)
    button.focus()
    page.keyboard.press("Enter")
    holder = page.locator(".mensura-into").filter(has=button)
    said = holder.get_by_role("status")
    said.filter(has_text=".").wait_for()
    return str(said.inner_text())


def row(page, place: int):
    return page.locator(".mensura-plan tbody tr").nth(place)


def titles(page) -> list[str]:
    return [str(one) for one in page.locator(".mensura-plan-words b").all_inner_texts()]


def focused(page) -> str:
    return str(page.evaluate("document.activeElement.ariaLabel || document.activeElement.value"))


def test_before_the_first_step_the_desk_says_how_to_begin(desk, lecturer) -> None:
    begin = desk.locator(".mensura-plan-begin")
    begin.wait_for()
    assert "into the lesson" in begin.inner_text()
    assert not desk.locator(".mensura-plan").is_visible()
    assert not lecturer.plan.exists()


def test_a_plan_is_made_by_pressing_buttons_alone(lecturer, ovals, wait_until) -> None:
    """A heading, a question, a picture, a panel as it was moved, a problem: found in the file."""
    page = ovals
    page.wait_for_selector(".mensura-into")
    assert add(page, "Predict") == "Into lesson.toml: step 1, 3 minutes."
    asked = page.locator('.mensura-into-button[aria-label*=" question 02-predict: "]')
    assert add(page, asked.get_attribute("aria-label").partition(": ")[2]).endswith("2, 3 minutes.")
    add(page, "picture same-girth: A stem and its circle")
    handle = page.locator(".mensura-panel").get_by_role("slider", name="tilt, °")
    handle.focus()
    page.keyboard.press("End")
    most = float(handle.get_attribute("aria-valuemax"))
    box = page.locator(".mensura-panel").get_by_label("tilt, °").and_(page.locator("input"))
    assert wait_until(page, lambda: float(box.input_value()) == most)
    said = add(page, "panel out-of-round-panel: Out of round")
    assert said == "Into lesson.toml: step 4, 5 minutes, as it stands now."
    problem = page.locator('.mensura-into-button[aria-label*="problem turned-reading: "]')
    problem.scroll_into_view_if_needed()
    problem.click()
    assert wait_until(page, lambda: len(lecturer.steps) == 5)
    assert [(one.section, one.minutes, dict(one.start)) for one in lecturer.steps] == [
        ("predict", 3, {}),
        ("02-predict", 3, {}),
        ("same-girth", 3, {}),
        ("out-of-round-panel", 5, {"tilt_deg": most}),
        ("turned-reading", 5, {}),
    ]


def test_keys_at_the_buttons_are_no_commands_of_the_notebook(ovals) -> None:
    """A b there would add a cell, dd take one away."""
    count = ovals.locator(".jp-Cell").count()
    ovals.get_by_role("button", name="into the lesson: Predict", exact=True).focus()
    for key in "abddx":
        ovals.keyboard.press(key)
    assert ovals.locator(".jp-Cell").count() == count


def test_a_line_of_the_proof_goes_in_alone(lecturer, wait_until) -> None:
    """The one that is unfolded now; the road has a button of its own."""
    page = lecturer.opened(PROOF)
    page.wait_for_selector(".mensura-into")
    road = page.locator(".mensura-panel").first
    for _ in range(3):
        road.get_by_role("button", name="Next line").click()
    assert wait_until(page, lambda: "Line 4 of" in road.inner_text())
    words = (
        "road of the proof classroom-road: The classroom's road: a girth by the root mean square"
    )
    said = add(page, words, "this line into the lesson")
    assert said == "Into lesson.toml: step 6, 1 minute."
    assert lecturer.steps[-1].section == "classroom-road-4"
    page.close()


def test_every_section_has_its_button_and_each_its_own_name(ovals) -> None:
    from mensura.disk.sections import sections

    names = [
        one.get_attribute("aria-label")
        for one in ovals.locator(".mensura-into-button[aria-label]").all()
    ]
    assert len(names) == len(set(names)) == len(sections("02"))
    found = axe_tool.Axe().run(ovals, context=".mensura-into").response
    assert [one["id"] for one in found["violations"]] == []


def test_the_desk_shows_it_and_steps_move_under_the_focus(lecturer, desk, wait_until) -> None:
    """By keyboard; the focus stays with the step, quick presses mean the step and not the place."""
    assert wait_until(desk, lambda: len(titles(desk)) == 6)
    assert titles(desk)[3] == "Out of round"
    row(desk, 3).get_by_role("button", name="Up").focus()
    for _ in range(3):
        desk.keyboard.press("Enter")
    assert wait_until(desk, lambda: titles(desk)[0] == "Out of round")
    assert wait_until(desk, lambda: focused(desk) == "Up: step 1, Out of round")
    desk.keyboard.press("Enter")
    assert wait_until(desk, lambda: lecturer.steps[0].section == "out-of-round-panel")
    assert [one.section for one in lecturer.steps][1:4] == ["predict", "02-predict", "same-girth"]
    assert desk.locator(".mensura-plan-total").inner_text() == "20 of 50 minutes: 30 to spare."


def test_minutes_spare_and_notes_go_into_the_file(lecturer, desk, wait_until) -> None:
    first = row(desk, 0)
    minutes = first.get_by_role("textbox", name="Minutes: Out of round")
    minutes.fill("no")
    minutes.press("Enter")
    said = desk.locator(".mensura-plan-said")
    assert wait_until(desk, lambda: "minutes is 'no'; expected" in said.inner_text())
    assert minutes.input_value() == "no"
    minutes.fill("40,5")
    minutes.press("Enter")
    # the table is laid anew with what was kept: nothing is pressed before that
    assert wait_until(desk, lambda: lecturer.steps[0].minutes == 40.5)
    desk.wait_for_timeout(200)
    first.get_by_role("checkbox", name="May be left out: Out of round").check()
    first.get_by_role("textbox", name="Note: Out of round").fill("Let them push.")
    desk.keyboard.press("Tab")
    assert wait_until(desk, lambda: lecturer.steps[0].note == "Let them push.")
    assert (lecturer.steps[0].minutes, lecturer.steps[0].spare) == (40.5, True)
    total = desk.locator(".mensura-plan-total")
    wanted = "55.5 of 50 minutes: 5.5 too many. Leave out step 1 and it fits."
    assert wait_until(desk, lambda: total.inner_text() == wanted)


def test_what_is_dropped_is_put_back(lecturer, desk, wait_until) -> None:
    before = lecturer.plan.read_bytes()
    row(desk, 2).get_by_role("button", name="Drop").focus()
    desk.keyboard.press("Enter")
    assert wait_until(desk, lambda: len(titles(desk)) == 5)
    assert wait_until(desk, lambda: focused(desk).startswith("Put back: A stem is 60 cm"))
    assert len(lecturer.steps) == 5
    desk.keyboard.press("Enter")
    assert wait_until(desk, lambda: len(titles(desk)) == 6)
    assert wait_until(desk, lambda: focused(desk).startswith("Drop: step 3, A stem is 60 cm"))
    assert lecturer.plan.read_bytes() == before


def test_a_screen_is_tried_and_put_away(desk, wait_until) -> None:
    """What lives, with the plan's values; words as a notebook shows them."""
    row(desk, 0).get_by_role("button", name="Try").focus()
    desk.keyboard.press("Enter")
    screen = desk.locator(".mensura-tried")
    tilt = screen.get_by_label("tilt, °").and_(desk.locator("input"))
    tilt.wait_for()
    assert tilt.input_value() == "20"
    assert wait_until(desk, lambda: desk.locator(":focus").inner_text() == "Put the screen away")
    desk.keyboard.press("Enter")
    assert wait_until(desk, lambda: focused(desk) == "Try: step 1, Out of round")
    assert wait_until(desk, lambda: not screen.inner_text())
    row(desk, 3).get_by_role("button", name="Try").click()
    screen.locator("img").first.wait_for()
    desk.get_by_role("button", name="Put the screen away").click()


def test_an_editor_and_the_desk_leave_each_other_alone(lecturer, desk, wait_until) -> None:
    """A broken plan is told with its line, and nothing of it is changed."""
    text = lecturer.plan.read_text("utf-8")
    lecturer.plan.write_text(text.replace('title = "Lesson"', "title = “Lesson”"), "utf-8")
    alarm = desk.get_by_role("alert").filter(has_text="lesson.toml, line 2: curly quotation marks")
    alarm.wait_for()
    assert not desk.locator(".mensura-plan").is_visible()
    lecturer.plan.write_text(f"{text}# mine\n".replace('"Lesson"', '"Oval stems"'), "utf-8")
    title = desk.get_by_role("textbox", name="Title")
    assert wait_until(desk, lambda: title.is_visible() and title.input_value() == "Oval stems")
    title.fill("Ovals")
    title.press("Enter")
    assert wait_until(desk, lambda: read_plan(lecturer.plan).title == "Ovals")
    assert lecturer.plan.read_text("utf-8").endswith("# mine\n")


@pytest.mark.parametrize(
    ("width", "height"), [(1366, 768), (1280, 720), (640, 700), (400, 700)], ids=str
)
def test_the_desk_is_readable_at_every_size(desk, width, height) -> None:
    """Nothing is wider than the page; axe-core has nothing to say, in either theme."""
    desk.set_viewport_size({"width": width, "height": height})
    desk.wait_for_timeout(250)
    wide = desk.evaluate(
        "() => { const desk = document.querySelector('.mensura-desk');"
        " const right = desk.getBoundingClientRect().right + 1;"
        " return [...desk.querySelectorAll('*')].filter(one => one.checkVisibility()"
        " && !one.closest('.mensura-heard, thead') && one.getBoundingClientRect().right > right)"
        ".map(one => one.className || one.tagName); }"
    )
    assert wide == []
    for light in ("false", "true"):
        desk.evaluate("light => { document.body.dataset.jpThemeLight = light; }", light)
        found = axe_tool.Axe().run(desk, context=".mensura-desk").response
        assert [one["id"] for one in found["violations"]] == []


def test_the_console_stays_clean(lecturer, ovals, desk) -> None:
    assert lecturer.messages == []
