"""What all tests share: one profile for property tests, a real JupyterLab, a real browser.

The browser is Debian's chromium, or whatever MENSURA_BROWSER names, or any Chrome-like browser on
the PATH. Without one the browser tests are skipped, unless MENSURA_BROWSER_REQUIRED is set: then
they fail.
"""

from __future__ import annotations

import asyncio
import json
import os
import shutil
import socket
import subprocess
import sys
import time
import urllib.request
from contextlib import suppress
from functools import cache
from pathlib import Path
from types import SimpleNamespace

import pytest
from hypothesis import settings

from mensura.places import shipped

# the same cases in every run, on fast and slow machines
settings.register_profile("steady", derandomize=True, deadline=None, max_examples=60)
# for another run of tests that are run whole anyway: with the lowest versions of what we use
settings.register_profile("few", parent=settings.get_profile("steady"), max_examples=8)
settings.load_profile("steady")

NAMES = ("chromium", "chromium-browser", "google-chrome", "google-chrome-stable", "msedge")
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
    # tabs of one context are one process: JupyterLab's own code is read and compiled once
    "--process-per-site",
]


#: Files that take longest, longest first: begun last, one of them alone would keep a run waiting.
LONG = (
    "browser/test_page_alive.py",
    "browser/test_workbook_03.py",
    "browser/test_workbook_02.py",
    "browser/test_workbook_08.py",
    "browser/test_kept.py",
    "browser/test_screens.py",
    "browser/test_shapes.py",
    "browser/test_workbook_07.py",
    "browser/test_every_workbook.py",
    "browser/test_workbook_04.py",
    "browser/test_workbook_01.py",
    "views/test_every_panel.py",
    "browser/test_narrow_pictures.py",
    "browser/test_stills.py",
)


def pytest_configure(config):
    # of its own xdist begins with the files of most tests, which are the quick ones
    if hasattr(config.option, "loadscopereorder"):
        config.option.loadscopereorder = False


def pytest_collection_modifyitems(items):
    # a file's items share its path, which is compared once: there are many thousands of them
    here = Path(__file__).parent
    files = {item.path for item in items}
    browser = {path for path in files if here / "browser" in path.parents}
    for item in items:
        if item.path in browser:
            item.add_marker(pytest.mark.browser)
    places = {here / name: place for place, name in enumerate(LONG)}
    items.sort(key=lambda item: places.get(item.path, len(LONG)))


def browser_path() -> str | None:
    named = os.environ.get("MENSURA_BROWSER")
    return named or next((found for name in NAMES if (found := shutil.which(name))), None)


def quiet_home(folder: Path) -> dict[str, str]:
    """Environment in which Jupyter leaves the home folder alone."""
    env = dict(os.environ)
    for name in (
        "JUPYTER_CONFIG_DIR",
        "JUPYTER_DATA_DIR",
        "JUPYTER_RUNTIME_DIR",
        "IPYTHONDIR",
        "MPLCONFIGDIR",
        "JUPYTERLAB_SETTINGS_DIR",
        "JUPYTERLAB_WORKSPACES_DIR",
    ):
        place = folder / name.lower()
        place.mkdir(parents=True, exist_ok=True)
        env[name] = str(place)
    return env


def free_port() -> int:
    with socket.socket() as sock:
        sock.bind(("127.0.0.1", 0))
        return sock.getsockname()[1]


class Lab:
    """A JupyterLab that `mensura open` started in an empty folder."""

    def __init__(self, folder: Path, url: str, token: str) -> None:
        self.folder, self.url, self.token = folder, url, token
        #: An open page of JupyterLab's without a document, for the next one that is opened.
        self.spare = None

    def address(self, notebook: str) -> str:
        return f"{self.url}doc/tree/{notebook}?token={self.token}"

    def asked(self, path: str, method: str = "GET"):
        """What the server answers to a request of its API."""
        request = urllib.request.Request(f"{self.url}api/{path}?token={self.token}", method=method)
        with urllib.request.urlopen(request, timeout=60) as answer:
            text = answer.read()
        return json.loads(text) if text else None

    def end_kernels(self) -> None:
        """Every kernel ends, as when the server is started anew."""
        for session in self.asked("sessions"):
            self.asked(f"sessions/{session['id']}", "DELETE")

    def afresh(self) -> None:
        """No kernel lives, and nothing is kept of what was typed and answered on a page."""
        self.end_kernels()
        (self.folder / "my-pages.json").unlink(missing_ok=True)


def wait_for_server(process, runtime: Path, seconds: float = 90) -> tuple[str, str]:
    """URL and token of the server, from the file that it leaves in its runtime folder."""
    end = time.monotonic() + seconds
    while time.monotonic() < end:
        assert process.poll() is None, f"JupyterLab ended with {process.returncode}"
        for file in runtime.glob("jpserver-*.json"):
            try:
                info = json.loads(file.read_text())
                with urllib.request.urlopen(f"{info['url']}api?token={info['token']}", timeout=5):
                    return info["url"], info["token"]
            except (OSError, ValueError):
                pass
        time.sleep(0.2)
    raise AssertionError("JupyterLab did not answer")


@pytest.fixture(scope="session")
def problems_of():
    """Function: 48 problems of a family (24 students, two keys), each drawn once a session."""
    from mensura.teaching.problems.bank import problem

    @cache
    def drawn(key: str):
        return tuple(
            problem(key, f"Q{number:02d}", secret)
            for secret in ("alder", "birch")
            for number in range(1, 25)
        )

    return drawn


@pytest.fixture(scope="session")
def leaflet_of(tmp_path_factory):
    """Function: the leaflet of a workbook, made once a run, each slider at three places.

    Round its panels' settings only 02 is recorded. Whichever process makes one, the others have it.
    """
    from mensura.views.leaflets import moving
    from mensura.views.leaflets.workbook import workbook_leaflet

    place = tmp_path_factory.getbasetemp()
    if os.environ.get("PYTEST_XDIST_WORKER"):
        place = place.parent

    @cache
    def made(number: str, problems: bool = False):
        kept = place / f"leaflet-{number}{'-problems' * problems}.html"
        if kept.exists():
            return kept.read_bytes().decode("utf-8")
        with pytest.MonkeyPatch.context() as patch:
            patch.setattr(moving, "POSITIONS", 3)
            patch.setattr(moving, "AROUND", 3 if number == "02" else 0)
            page = workbook_leaflet(number, problems).whole()
        own = kept.with_suffix(f".{os.getpid()}")
        own.write_bytes(page.encode("utf-8"))
        own.replace(kept)
        return page

    return made


@pytest.fixture
def run_in_kernel():
    """Function that runs cells in a fresh kernel and returns all that they printed."""
    from jupyter_client.manager import start_new_kernel

    def run(*cells: str, seconds: float = 120) -> str:
        printed: list[str] = []

        def hear(message) -> None:
            if message["header"]["msg_type"] == "stream":
                printed.append(message["content"]["text"])

        manager, client = start_new_kernel(kernel_name="python3")
        try:
            for cell in cells:
                reply = client.execute_interactive(cell, timeout=seconds, output_hook=hear)
                content = reply["content"]
                assert content["status"] == "ok", "\n".join(content.get("traceback", []))
        finally:
            client.stop_channels()
            manager.shutdown_kernel(now=True)
        return "".join(printed)

    return run


@pytest.fixture(scope="session")
def tools():
    """What a test needs that starts a server of its own."""
    return SimpleNamespace(
        free_port=free_port, quiet_home=quiet_home, wait_for_server=wait_for_server
    )


@pytest.fixture(scope="session")
def lab(tmp_path_factory):
    place = tmp_path_factory.mktemp("lab")
    folder = place / "class"
    env = quiet_home(place / "home")
    # another installation may be named, a wheel's say: its `mensura open` is tried instead
    python = os.environ.get("MENSURA_PYTHON", sys.executable)
    command = [python, "-P", "-m", "mensura", "open", str(folder), "--no-browser"]
    command += ["--port", str(free_port())]
    log = (place / "log.txt").open("w")
    process = subprocess.Popen(
        command, cwd=place, env=env, stdout=log, stderr=subprocess.STDOUT, start_new_session=True
    )
    try:
        url, token = wait_for_server(process, Path(env["JUPYTER_RUNTIME_DIR"]))
        yield Lab(folder, url, token)
    finally:
        process.terminate()
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()
        log.close()


@pytest.fixture(scope="session")
def one_browser():
    """The browser of this process, begun once, and the event loop that talks to it."""
    path = browser_path()
    if path is None:
        message = "no Chrome-like browser found; install chromium or set MENSURA_BROWSER"
        if os.environ.get("MENSURA_BROWSER_REQUIRED"):
            pytest.fail(message)
        pytest.skip(message)
    from playwright.sync_api import sync_playwright

    with sync_playwright() as tool:
        browser = tool.chromium.launch(executable_path=path, args=FLAGS)
        loop = asyncio.get_running_loop()
        yield browser, loop
        asyncio._set_running_loop(loop)
        browser.close()


@pytest.fixture(scope="module")
def chromium(one_browser):
    """The browser, for a file of tests: between two of them no test finds its loop running."""
    browser, loop = one_browser
    asyncio._set_running_loop(loop)
    yield browser
    asyncio._set_running_loop(None)


class Workbook:
    """One notebook open in the browser."""

    def __init__(self, page, messages: list[str], away=None) -> None:
        self.page, self.messages, self.away = page, messages, away

    def close(self) -> None:
        """Gives the page back before the tests of this file are over."""
        self.away(self.page)

    def run_all(self, seconds: float = 90) -> None:
        """Wait until the page lives; one that does not start by itself is started by its button."""
        page = self.page
        page.wait_for_selector(".jp-NotebookPanel[data-mensura-page]", timeout=seconds * 1000)
        if page.locator(".jp-NotebookPanel").get_attribute("data-mensura-page") == "asleep":
            # a page whose kernel still lives may come to life between the look and the click
            page.wait_for_function(
                "() => { const start = document.querySelector('.mensura-bar [data-does=start]');"
                " if (start) start.click();"
                " return document.querySelector('.jp-NotebookPanel').dataset.mensuraPage"
                " !== 'asleep'; }",
                timeout=seconds * 1000,
            )
        page.wait_for_selector(
            '.jp-NotebookPanel[data-mensura-page="alive"]', timeout=seconds * 1000
        )


@pytest.fixture(scope="module")
def fresh_lab(lab):
    """The lab, and in it nothing of what tests of other files did on its pages."""
    lab.afresh()
    return lab


#: So long a menu or a document takes at most to come or go, ms.
SOON_MS = 8000


def by_menu(page, item: str) -> None:
    """Chooses an item of JupyterLab's menu of files."""
    page.click('.lm-MenuBar-item:has-text("File")', timeout=SOON_MS)
    page.click(f'.lm-Menu-item:has-text("{item}")', timeout=SOON_MS)


def turned_to(page, name: str) -> None:
    """Opens a document in a page of JupyterLab's that is there: its code is not loaded anew."""
    by_menu(page, "Open from Path")
    page.fill(".jp-Dialog input", name, timeout=SOON_MS)
    page.keyboard.press("Enter")
    page.wait_for_selector(".jp-NotebookPanel", timeout=30_000)
    # without a document JupyterLab unfolds its list of files, which a page that is loaded has not
    unfolded = page.locator(".jp-SideBar .lm-TabBar-tab.lm-mod-current")
    for _ in range(unfolded.count()):
        unfolded.first.click(timeout=SOON_MS)
    page.wait_for_selector("#jp-left-stack", state="hidden", timeout=SOON_MS)


def put_away(page) -> bool:
    """Closes the document of a page; whether the page can show another one."""
    with suppress(Exception):
        if page.is_closed() or page.locator(".jp-NotebookPanel").count() != 1:
            return False
        page.set_viewport_size({"width": 1366, "height": 900})
        if page.evaluate("devicePixelRatio") != 1:
            return False
        by_menu(page, "Close Tab")
        # what was typed and not saved goes with the page in any case
        page.wait_for_function(
            """() => {
              document.querySelector('.jp-Dialog .jp-mod-warn')?.click();
              return !document.querySelector('.jp-NotebookPanel, .jp-Dialog');
            }""",
            timeout=SOON_MS,
        )
        return True
    return False


def opening(lab, chromium):
    """Gives a function that opens a workbook by name; at the end, closes whatever it opened.

    A page stays open for the next workbook: to load JupyterLab takes longer than most of them.
    """
    heard = {}

    def away(page) -> None:
        for event, hearer in heard.pop(page, {}).items():
            page.remove_listener(event, hearer)
        if lab.spare or not put_away(page):
            page.context.close()
        else:
            lab.spare = page

    def opener(name: str, width: int = 1366, height: int = 900, ratio: int = 1) -> Workbook:
        messages: list[str] = []
        spare, lab.spare = (lab.spare, None) if ratio == 1 else (None, lab.spare)
        if spare and not spare.is_closed():
            page = spare
            page.set_viewport_size({"width": width, "height": height})
        else:
            spare = None
            context = chromium.new_context(
                viewport={"width": width, "height": height}, device_scale_factor=ratio
            )
            page = context.new_page()

        def hear(message) -> None:
            if message.type == "error":
                messages.append(f"{message.text} {message.location.get('url', '')}")

        def fail(error) -> None:
            messages.append(str(error))

        heard[page] = {"console": hear, "pageerror": fail}
        for event, hearer in heard[page].items():
            page.on(event, hearer)
        if spare:
            turned_to(page, name)
        else:
            page.goto(lab.address(name))
        return Workbook(page, messages, away)

    yield opener
    for page in list(heard):
        away(page)


@pytest.fixture
def open_workbook(fresh_lab, chromium):
    """Function that opens a workbook by name and returns it."""
    yield from opening(fresh_lab, chromium)


@pytest.fixture(scope="module")
def open_once(fresh_lab, chromium):
    """The same for a whole module: what is opened stays open until its last test."""
    yield from opening(fresh_lab, chromium)


def shipped_workbooks() -> list[str]:
    return sorted(path.name for path in shipped("workbooks").glob("[0-9]*.ipynb"))
