"""Pages start by themselves, are taken up where they stand, and say so when they are dead.

A server of its own, so that it can be killed and started again at the same port. Nothing is clicked
but what a test names, and no dialog of JupyterLab or the browser may come up anywhere.
"""

from __future__ import annotations

import json
import os
import re
import signal
import subprocess
import sys
import time
import urllib.request
from contextlib import contextmanager
from pathlib import Path

import nbformat
import pytest

from mensura.places import shipped

NAME = "05-bark.ipynb"
DAMAGED = "06-condition-of-the-tape.ipynb"
#: A page that came from elsewhere.
FOREIGN = ("from mensura.views.chapters.girth import GIRTH_PANEL", "GIRTH_PANEL")
#: It never ends, and leaves the machine to the tests that go on meanwhile.
ENDLESS = "while not __import__('time').sleep(0.1): pass"
GONE_SECONDS = 5.5  # five, and half a one for looking


class Desk:
    """A folder, and the `mensura open` on it that comes and goes."""

    def __init__(self, place: Path, tools) -> None:
        self.tools, self.place, self.folder = tools, place, place / "class"
        self.port, self.env = tools.free_port(), tools.quiet_home(place / "home")
        self.runtime = Path(self.env["JUPYTER_RUNTIME_DIR"])
        self.start()

    def start(self) -> None:
        for old in self.runtime.glob("jpserver-*.json"):
            old.unlink()
        python = os.environ.get("MENSURA_PYTHON", sys.executable)
        command = [python, "-P", "-m", "mensura", "open", str(self.folder), "--no-browser"]
        command += ["--port", str(self.port)]
        with (self.place / "log.txt").open("a") as log:
            self.process = subprocess.Popen(
                command, cwd=self.place, env=self.env, stdout=log, stderr=log
            )
        self.url, self.token = self.tools.wait_for_server(self.process, self.runtime)

    def kill(self) -> None:
        self.process.kill()
        self.process.wait(20)

    def stop(self) -> None:
        if self.process.poll() is None:
            self.process.terminate()
            try:
                self.process.wait(20)
            except subprocess.TimeoutExpired:
                self.kill()

    def address(self, name: str) -> str:
        return f"{self.url}doc/tree/{name}?token={self.token}"

    def get(self, path: str):
        with urllib.request.urlopen(f"{self.url}{path}?token={self.token}", timeout=20) as answer:
            return json.load(answer)

    def kernels(self, name: str) -> list[str]:
        """Ids of the kernels of a page."""
        return [one["kernel"]["id"] for one in self.get("api/sessions") if one["path"] == name]

    def asked(self, name: str, expression: str) -> str:
        """What an expression is in the kernel of a page."""
        from jupyter_client.blocking import BlockingKernelClient

        (kernel,) = self.kernels(name)
        client = BlockingKernelClient(connection_file=str(self.runtime / f"kernel-{kernel}.json"))
        client.load_connection_file()
        client.start_channels()
        try:
            asked = {"value": expression}
            reply = client.execute(
                "", silent=True, store_history=False, user_expressions=asked, reply=True, timeout=20
            )
            return reply["content"]["user_expressions"]["value"]["data"]["text/plain"]
        finally:
            client.stop_channels()

    def runs(self, name: str) -> int:
        return int(self.asked(name, "get_ipython().execution_count"))

    def kill_kernel(self, name: str) -> None:
        os.kill(int(self.asked(name, "__import__('os').getpid()")), signal.SIGKILL)


class Sheet:
    """A page in a tab: its state, its bar, its first panel; every dialog is taken down."""

    def __init__(self, context) -> None:
        self.page, self.dialogs = context.new_page(), []
        self.page.on("dialog", self._dialog)

    def _dialog(self, dialog) -> None:
        self.dialogs.append(dialog.message or dialog.type)
        dialog.accept()

    def state(self) -> str | None:
        node = self.page.query_selector(".jp-NotebookPanel[data-mensura-page]")
        return node.get_attribute("data-mensura-page") if node else None

    def until(self, state: str, seconds: float = 60) -> float:
        """Seconds until the page is in that state."""
        start = time.monotonic()
        self.page.wait_for_selector(
            f'.jp-NotebookPanel[data-mensura-page="{state}"]', timeout=seconds * 1000
        )
        return time.monotonic() - start

    def bar(self) -> str:
        return self.page.locator(".mensura-bar").inner_text()

    def press(self, does: str) -> None:
        self.page.click(f".mensura-bar [data-does={does}]")

    def said(self) -> str:
        return self.page.locator(".mensura-panel .mensura-status").first.inner_text()

    def answers(self) -> bool:
        """Whether a slider of the first panel changes its sentence."""
        self.page.bring_to_front()  # as whoever moves something does
        grip = self.page.locator(".mensura-panel [role=slider]").first
        before, end = self.said(), time.monotonic() + 60
        while self.said() == before and time.monotonic() < end:
            # a page that takes up what another tab saved may put another handle in this one's place
            grip.focus()
            self.page.keyboard.press("ArrowRight")
            again = time.monotonic() + 2
            while self.said() == before and time.monotonic() < again:
                self.page.wait_for_timeout(50)
        return self.said() != before

    def place(self) -> list[int]:
        """How far the page is scrolled, and the cell that is chosen."""
        return self.page.evaluate(
            """() => [
              Math.max(...[...document.querySelectorAll('.jp-NotebookPanel *')]
                .map(node => node.scrollTop)),
              [...document.querySelectorAll('.jp-Cell')]
                .findIndex(cell => cell.classList.contains('jp-mod-active')),
            ]"""
        )

    def own_cell(self, text: str) -> None:
        """A cell of one's own below the second, typed by hand; it is left in edit mode."""
        self.page.locator(".jp-Notebook .jp-Cell").nth(1).locator(".jp-InputPrompt").click()
        for key in ("Escape", "b", "Enter"):
            self.page.keyboard.press(key)
        self.page.keyboard.type(text)

    def no_dialog(self) -> bool:
        return self.dialogs == [] and self.page.locator(".jp-Dialog").count() == 0

    def no_errors(self) -> bool:
        words = self.page.locator(".jp-Notebook").inner_text()
        return "model not found" not in words and "Error displaying" not in words


@pytest.fixture(scope="module")
def desk(tmp_path_factory, tools):
    made = Desk(tmp_path_factory.mktemp("desk"), tools)
    yield made
    made.stop()


@pytest.fixture(scope="module")
def context(chromium):
    made = chromium.new_context(viewport={"width": 1366, "height": 640})
    yield made
    made.close()


@pytest.fixture(scope="module")
def sheet(desk, context):
    """Chapter 05 in a tab; each test leaves it alive."""
    made = Sheet(context)
    made.page.goto(desk.address(NAME))
    return made


@contextmanager
def opened(desk, context, name):
    made = Sheet(context)
    made.page.goto(desk.address(name))
    try:
        yield made
    finally:
        made.page.close()


def stored(desk, name=NAME) -> str:
    return (desk.folder / name).read_text("utf-8")


def test_it_lives_without_a_click_at_its_top(sheet):
    """Nothing is clicked, scrolled or chosen; every panel, question and problem is there."""
    sheet.until("starting", 30)
    assert sheet.until("alive") < 30
    assert sheet.place() == [0, 0]
    assert sheet.page.locator(".mensura-frame").count() >= 5
    assert sheet.no_errors()
    assert sheet.no_dialog()
    assert "live" in sheet.page.get_by_role("status").first.inner_text()
    assert sheet.answers()


def test_a_reload_takes_it_up_as_it_stands(desk, sheet):
    """The same kernel, nothing run again, the panel as it was left, at the top."""
    runs, kernels, said = desk.runs(NAME), desk.kernels(NAME), sheet.said()
    sheet.page.reload()
    sheet.until("alive")
    sheet.page.wait_for_selector(".mensura-panel")
    assert sheet.said() == said
    assert (desk.runs(NAME), desk.kernels(NAME)) == (runs, kernels)
    assert sheet.place() == [0, 0]
    assert sheet.answers()
    assert sheet.no_errors()
    assert sheet.no_dialog()


def test_runs_and_saves_do_not_swell_the_file(desk, sheet):
    """Run by the menu and saved, three times: so after ten at most 1.1 times as large as laid out,
    if each of the others adds as much as one of these did at most."""
    sheet.until("alive")
    laid = (shipped("workbooks") / NAME).stat().st_size
    cells = [one for one in json.loads(stored(desk))["cells"] if one["cell_type"] == "code"]
    count = desk.runs(NAME) - 1

    def last() -> int:
        found = re.findall(r'"execution_count": (\d+)', stored(desk))
        return max(map(int, found), default=0)

    sizes = []
    for _ in range(3):
        count += len(cells)
        sheet.page.click('.lm-MenuBar-item:has-text("Run")')
        sheet.page.click('.lm-Menu-item:has-text("Run All Cells")')
        sheet.page.wait_for_function(
            """last => [...document.querySelectorAll('.jp-CodeCell .jp-InputPrompt')]
              .pop().textContent === `[${last}]:`""",
            arg=count,
        )
        sheet.page.keyboard.press("Control+s")
        end = time.monotonic() + 8
        while last() < count and time.monotonic() < end:
            sheet.page.wait_for_timeout(50)
        assert last() == count
        sizes.append((desk.folder / NAME).stat().st_size)
    assert sheet.no_dialog()
    first, second, third = sizes
    grown = max(third - second, second - first, 0)
    assert third + 7 * grown <= 1.1 * laid


def test_a_second_tab_joins_the_first(desk, context, sheet):
    """One kernel, no second run, no save; when one tab starts afresh the other takes it up."""
    sheet.page.wait_for_timeout(1600)
    runs, changed = desk.runs(NAME), (desk.folder / NAME).stat().st_mtime_ns
    with opened(desk, context, NAME) as second:
        second.until("alive")
        assert second.answers()
        second.page.wait_for_timeout(1600)
        assert (desk.folder / NAME).stat().st_mtime_ns == changed
        assert desk.runs(NAME) == runs
        assert sheet.answers()
        moved = second.said()
        second.press("afresh")
        second.press("yes")
        second.until("starting")
        second.until("alive")
        sheet.page.wait_for_timeout(300)
        sheet.until("alive")
        sheet.page.wait_for_selector(".mensura-panel")
        assert len(desk.kernels(NAME)) >= 1
        assert second.said() == sheet.said() != moved
        assert second.answers()
        assert sheet.answers()
        assert sheet.no_errors()
        assert second.no_dialog()
        assert sheet.no_dialog()


def test_what_was_typed_is_there_after_a_reload(desk, sheet):
    """Typed, loaded anew at once: nobody is asked, the words are there, then in the file."""
    sheet.own_cell("# not saved yet")
    assert "not saved yet" not in stored(desk)
    sheet.page.reload()
    sheet.until("alive")
    assert sheet.page.locator(".jp-Cell", has_text="# not saved yet").count() == 1
    assert sheet.dialogs == []
    end = time.monotonic() + 8
    while "not saved yet" not in stored(desk) and time.monotonic() < end:
        sheet.page.wait_for_timeout(100)
    assert "not saved yet" in stored(desk)
    assert sheet.no_dialog()


def test_f9_gives_the_page_the_room(sheet):
    """The notebook's own bars go and come back, from inside a panel too."""
    high = "document.querySelector('.jp-WindowedPanel-outer').clientHeight"
    bars = "#jp-top-panel, #jp-main-statusbar, .jp-SideBar, .jp-NotebookPanel-toolbar"
    before = sheet.page.evaluate(high)
    sheet.page.locator(".mensura-panel [role=slider]").first.focus()
    sheet.page.keyboard.press("F9")
    sheet.page.wait_for_timeout(400)
    assert sheet.page.locator(bars).locator("visible=true").count() == 0
    assert sheet.page.evaluate(high) > before + 90
    sheet.page.keyboard.press("F9")
    sheet.page.wait_for_timeout(400)
    assert sheet.page.evaluate(high) == before
    assert sheet.page.locator(bars).locator("visible=true").count() >= 4


def test_narrow_windows_lose_the_side_bars(sheet):
    """Below 500 px of width they go by themselves; the bar wraps and nothing of it is cut."""
    sheet.page.set_viewport_size({"width": 400, "height": 640})
    sheet.page.wait_for_timeout(400)
    assert sheet.page.locator(".jp-SideBar").locator("visible=true").count() == 0
    inside = """() => {
      const bar = document.querySelector('.mensura-bar').getBoundingClientRect();
      const below = document.querySelector('.jp-WindowedPanel-outer').getBoundingClientRect();
      return bar.right <= 400 && bar.bottom <= below.top + 1 &&
        [...document.querySelectorAll('.mensura-bar button')].every(button => {
          const box = button.getBoundingClientRect();
          return box.left >= bar.left && box.right <= bar.right && box.bottom <= bar.bottom;
        });
    }"""
    assert sheet.page.evaluate(inside)
    sheet.page.set_viewport_size({"width": 1366, "height": 640})
    sheet.page.wait_for_timeout(400)
    assert sheet.page.locator(".jp-SideBar").locator("visible=true").count() >= 1


#: When a button to stop is there, in milliseconds from now.
NOTE_THE_STOP = """() => {
  const begun = performance.now();
  const seen = new MutationObserver(() => {
    if (document.querySelector('.mensura-bar [data-does=stop]')) {
      window.stopCame = performance.now() - begun;
      seen.disconnect();
    }
  });
  seen.observe(document.body, { subtree: true, childList: true, attributes: true });
}"""


@pytest.fixture(scope="module")
def endless(sheet):
    """The page begins anew with two cells of one's own, of which one does not end."""
    sheet.until("alive")
    sheet.own_cell(ENDLESS)
    sheet.own_cell("1 / 0")
    sheet.page.wait_for_timeout(1800)
    sheet.press("afresh")
    sheet.page.evaluate(NOTE_THE_STOP)
    sheet.press("yes")
    sheet.until("starting")
    return sheet


@pytest.mark.usefixtures("endless")
def test_a_page_from_elsewhere_waits_for_one_click(desk, context):
    """Not a line of it runs before; after it the page lives, and a reload takes it up."""
    book = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell(cell) for cell in FOREIGN],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}},
    )
    nbformat.write(book, desk.folder / "foreign.ipynb")
    with opened(desk, context, "foreign.ipynb") as sheet:
        sheet.until("asleep")
        sheet.page.wait_for_timeout(1500)
        assert sheet.state() == "asleep"
        assert "elsewhere" in sheet.bar()
        assert desk.runs("foreign.ipynb") == 1
        sheet.press("start")
        sheet.until("alive")
        assert sheet.answers()
        assert sheet.no_dialog()


def test_a_page_of_ours_that_was_changed_outside_waits_too(desk, context):
    """The name alone starts nothing: the file is not what JupyterLab has signed."""
    path = desk.folder / DAMAGED
    book = nbformat.read(path, as_version=4)
    book.cells.insert(1, nbformat.v4.new_code_cell("open('crept-in', 'w')"))
    nbformat.write(book, path)
    with opened(desk, context, path.name) as sheet:
        sheet.until("asleep")
        sheet.page.wait_for_timeout(1500)
        assert sheet.state() == "asleep"
        assert not (desk.folder / "crept-in").exists()


def test_a_notebook_of_another_kind_is_left_alone(desk, context):
    """No bar, no run, no state."""
    book = nbformat.v4.new_notebook(
        cells=[nbformat.v4.new_code_cell("mensura = open('ran', 'w')")],
        metadata={"kernelspec": {"name": "python3", "display_name": "Python 3"}},
    )
    nbformat.write(book, desk.folder / "other.ipynb")
    with opened(desk, context, "other.ipynb") as sheet:
        sheet.page.wait_for_selector(".jp-CodeCell")
        sheet.page.wait_for_timeout(2500)
        assert sheet.page.locator(".mensura-bar, [data-mensura-page]").count() == 0
        assert not (desk.folder / "ran").exists()
        assert sheet.no_dialog()


def test_own_cells_that_do_not_end_or_raise(endless):
    """The first is named after 20 s and stopped by a button, the second named; the rest runs."""
    sheet = endless
    sheet.page.wait_for_selector(".mensura-bar [data-does=stop]", timeout=60000)
    assert sheet.page.evaluate("() => window.stopCame") > 18_000
    assert "while not __import__" in sheet.bar()
    sheet.press("stop")
    sheet.until("alive")
    assert "1 / 0" in sheet.bar()
    assert "ZeroDivisionError" in sheet.bar()
    assert "stopped by you" in sheet.bar()
    assert sheet.answers()
    assert sheet.no_dialog()


def test_a_lost_network_is_told_and_found_again(desk, sheet):
    """Offline: gone within 5 s; online: alive by itself, as it stood."""
    runs = desk.runs(NAME)
    sheet.page.context.set_offline(True)
    assert sheet.until("gone", GONE_SECONDS) < GONE_SECONDS
    sheet.page.wait_for_timeout(1000)
    assert sheet.no_dialog()
    sheet.page.context.set_offline(False)
    sheet.until("alive", 15)
    assert sheet.answers()
    assert desk.runs(NAME) == runs


def test_a_server_that_falls_silent_is_told(desk, sheet):
    """It takes every connection and answers none: gone within 5 s; then alive by itself."""
    os.kill(desk.process.pid, signal.SIGSTOP)
    try:
        assert sheet.until("gone", GONE_SECONDS) < GONE_SECONDS
    finally:
        os.kill(desk.process.pid, signal.SIGCONT)
    sheet.until("alive", 15)
    assert sheet.answers()
    assert sheet.no_dialog()


def without_own_cells(desk, sheet) -> None:
    """The endless cell of a test before, if there is one, is taken out by hand."""
    cell = sheet.page.locator(".jp-Cell", has_text="while not __import__")
    if not cell.count():
        return
    cell.first.locator(".jp-InputPrompt").click()
    for key in ("Escape", "d", "d"):
        sheet.page.keyboard.press(key)
    end = time.monotonic() + 8
    while "while not" in stored(desk) and time.monotonic() < end:
        sheet.page.wait_for_timeout(100)
    assert "while not" not in stored(desk)


def test_a_killed_kernel_is_told_and_started_again(desk, sheet):
    """Gone within 5 s, no dialog; one click, and it lives."""
    without_own_cells(desk, sheet)
    desk.kill_kernel(NAME)
    assert sheet.until("gone", GONE_SECONDS) < GONE_SECONDS
    assert "ended" in sheet.bar()
    sheet.page.wait_for_timeout(1500)  # the dialog would come with the kernel that takes its place
    assert sheet.state() == "gone"
    assert sheet.no_dialog()
    sheet.press("start")
    sheet.until("alive")
    assert sheet.answers()
    assert sheet.no_errors()
    assert sheet.no_dialog()


def test_a_killed_server_is_told_and_the_page_goes_on_with_the_next(desk, sheet):
    """Gone within 5 s; what is typed meanwhile stays; with a server at the port again, alive."""
    sheet.page.wait_for_timeout(1600)
    desk.kill()
    assert sheet.until("gone", GONE_SECONDS) < GONE_SECONDS
    assert "mensura open" in sheet.bar()
    sheet.own_cell("# typed without a server")
    sheet.press("start")
    sheet.until("gone", 10)
    sheet.page.wait_for_timeout(1000)
    assert sheet.state() == "gone"
    assert sheet.no_dialog()
    desk.start()
    sheet.page.wait_for_timeout(2000)
    sheet.press("start")
    sheet.until("alive")
    assert sheet.answers()
    assert sheet.no_errors()
    end = time.monotonic() + 8
    while "typed without a server" not in stored(desk) and time.monotonic() < end:
        sheet.page.wait_for_timeout(100)
    assert "typed without a server" in stored(desk)
    assert sheet.no_dialog()


@pytest.fixture(scope="module")
def restarted(desk, sheet):
    """The page closed, another damaged, the server another."""
    sheet.page.close()
    desk.stop()
    (desk.folder / DAMAGED).write_text('{"cells": [', "utf-8")
    desk.start()
    return desk


def test_after_a_restart_no_view_shows_as_an_error(restarted, context):
    """It opens, runs by itself, and no line of error shows."""
    desk = restarted
    with opened(desk, context, NAME) as again:
        again.page.wait_for_selector(".jp-Notebook .jp-CodeCell")
        while again.state() != "alive":
            assert again.no_errors()
            again.page.wait_for_timeout(100)
        assert again.no_errors()
        assert again.place() == [0, 0]
        assert again.answers()
        assert again.no_dialog()


def test_a_damaged_page_says_so_and_offers_the_fresh_one(restarted, context):
    """One sentence, no dialog, the file stays; a click opens the fresh copy, and that one lives."""
    desk = restarted
    with opened(desk, context, DAMAGED) as sheet:
        sheet.until("gone")
        assert "damaged" in sheet.bar()
        assert sheet.no_dialog()
        sheet.press("fresh")
        sheet.until("alive")
        assert sheet.answers()
    assert stored(desk, DAMAGED) == '{"cells": ['
