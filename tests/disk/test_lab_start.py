"""`mensura open` really starts JupyterLab, shows the shipped workbooks, and stops when told."""

from __future__ import annotations

import json
import os
import re
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any
from urllib.error import HTTPError
from urllib.request import Request, urlopen

import pytest

from mensura import __version__
from mensura.disk.lab import (
    LAB_PAGE,
    LAB_SETTINGS,
    first_workbook,
    homes_for_this_sitting,
    lab_command,
    wait_for,
)
from mensura.disk.layout import RECORD_NAME, class_names
from mensura.places import shipped

START_SECONDS = 60
ISOLATED = (
    "HOME",
    "IPYTHONDIR",
    "JUPYTERLAB_SETTINGS_DIR",
    "JUPYTERLAB_WORKSPACES_DIR",
    "JUPYTER_CONFIG_DIR",
    "JUPYTER_DATA_DIR",
    "JUPYTER_RUNTIME_DIR",
    "MPLCONFIGDIR",
)


@dataclass
class Running:
    """A started `mensura open`."""

    process: subprocess.Popen[bytes]
    folder: Path
    home: Path
    said: Path
    shown_url: str
    token: str

    def ask(self, path: str) -> Any:
        """The answer of the server's HTTP interface."""
        address = re.match(r"http://[^/]+", self.shown_url)
        assert address
        request = Request(address[0] + path, headers={"Authorization": f"token {self.token}"})
        with urlopen(request, timeout=20) as answer:
            return json.load(answer)


@pytest.fixture(scope="module")
def running(tmp_path_factory: pytest.TempPathFactory) -> Iterator[Running]:
    place = tmp_path_factory.mktemp("start")
    homes = {name: str(place / "home" / name.lower()) for name in ISOLATED}
    for home in homes.values():
        Path(home).mkdir(parents=True)
    said, log = place / "said", place / "log"
    with said.open("wb") as out, log.open("wb") as err:
        process = subprocess.Popen(
            [sys.executable, "-m", "mensura", "open", "stems", "--no-browser", "--port", "0"],
            cwd=place,
            env={**os.environ, **homes},
            stdin=subprocess.DEVNULL,
            stdout=out,
            stderr=err,
        )
        try:
            end = time.monotonic() + START_SECONDS
            found = None
            while not found:
                text = log.read_text("utf-8", "replace")
                assert process.poll() is None, text
                assert time.monotonic() < end, text
                found = re.search(r"(http://127\.0\.0\.1:\d+/\S*)\?token=(\w+)", text)
                time.sleep(0.1)
            yield Running(process, place / "stems", place / "home", said, found[1], found[2])
        finally:
            if process.poll() is None:
                process.kill()
            process.wait(30)


def test_every_shipped_workbook_is_served(running: Running) -> None:
    names = class_names(shipped("workbooks"))
    assert [name for name in names if name.endswith(".ipynb")]
    for name in names:
        answer = running.ask(f"/api/contents/{name}?content=0")
        assert (answer["path"], answer["writable"]) == (name, True)
    listed = {entry["name"] for entry in running.ask("/api/contents")["content"]}
    assert listed == {name.split("/")[0] for name in names}


def test_it_says_where_the_workbooks_are_before_it_starts(running: Running) -> None:
    said = running.said.read_text("utf-8").splitlines()
    assert said[0] == f"Workbooks: {running.folder.resolve()}"
    assert said[1].startswith("Laid out: ")
    assert "starts by itself" in said[2]
    assert said[-1].startswith("No browser is opened: open the address")
    assert len(said) == 5


def test_the_first_workbook_is_on_show(running: Running) -> None:
    first = first_workbook(class_names(shipped("workbooks")))
    assert first
    assert running.shown_url.endswith(f"/doc/tree/{first}")


def test_no_widget_state_is_saved_and_no_news_are_fetched(running: Running) -> None:
    def defaults(plugin: str) -> dict[str, Any]:
        properties = running.ask(f"/lab/api/settings/{plugin}")["schema"]["properties"]
        return {name: each["default"] for name, each in properties.items() if "default" in each}

    assert defaults("@jupyter-widgets/jupyterlab-manager:plugin")["saveState"] is False
    tracker = defaults("@jupyterlab/notebook-extension:tracker")
    assert (tracker["windowingMode"], tracker["autoStartDefaultKernel"]) == ("none", True)
    kernels = defaults("@jupyterlab/apputils-extension:kernels-settings")
    assert kernels["commsOverSubshells"] == "disabled"
    news = defaults("@jupyterlab/apputils-extension:notification")
    assert (news["fetchNews"], news["checkForUpdates"]) == ("false", False)


def told(running: Running) -> dict[str, Any]:
    """What the server hands to the page."""
    first = first_workbook(class_names(shipped("workbooks")))
    address = re.match(r"http://[^/]+", running.shown_url)
    assert address
    request = Request(
        f"{address[0]}/doc/tree/{first}", headers={"Authorization": f"token {running.token}"}
    )
    with urlopen(request, timeout=20) as answer:
        page = answer.read().decode()
    found = re.search(r'id="jupyter-config-data"[^>]*>(.*?)</script>', page, re.S)
    assert found
    config: dict[str, Any] = json.loads(found[1])
    return config


def test_the_page_is_told_which_pages_are_ours(running: Running) -> None:
    """By the server, in the page itself, where no file of the folder can add to it."""
    config = told(running)
    names = [one for one in class_names(shipped("workbooks")) if one.endswith(".ipynb")]
    assert json.loads(config["mensura"]) == {"lesson": "", "pages": names, "version": __version__}
    loaded = [one["name"] for one in config["federated_extensions"]]
    assert "mensura-page" in loaded
    assert "@jupyter-widgets/jupyterlab-manager" in loaded


def test_pages_as_laid_out_are_trusted_and_others_are_not(running: Running) -> None:
    name = first_workbook(class_names(shipped("workbooks")))
    assert name

    def trusted(path: str) -> set[bool]:
        cells = running.ask(f"/api/contents/{path}?content=1")["content"]["cells"]
        return {cell["metadata"]["trusted"] for cell in cells if cell["cell_type"] == "code"}

    assert trusted(name) == {True}
    text = (running.folder / name).read_text("utf-8")
    assert text.count("import numpy as np") >= 1
    other = running.folder / "other.ipynb"
    other.write_text(text.replace("import numpy as np", "import numpy"), "utf-8")
    try:
        assert trusted(other.name) == {False}
    finally:
        other.unlink()


def test_every_file_of_the_extension_is_served(running: Running) -> None:
    """Scripts as scripts, or a browser refuses to run them."""
    kinds = {".js": "javascript", ".css": "css", ".html": "html"}
    files = [one for one in (LAB_PAGE / "mensura-page" / "static").iterdir() if one.is_file()]
    assert {"remoteEntry.js", "plugins.js", "page.css"} <= {one.name for one in files}
    address = re.match(r"http://[^/]+", running.shown_url)
    assert address
    for file in files:
        with urlopen(
            f"{address[0]}/lab/extensions/mensura-page/static/{file.name}", timeout=20
        ) as answer:
            kind = answer.headers["Content-Type"]
            assert answer.read() == file.read_bytes()
        assert kind.split(";")[0].endswith(kinds[file.suffix])


def test_language_servers_are_off(running: Running) -> None:
    with pytest.raises(HTTPError, match="404"):
        running.ask("/lsp/status")


def test_it_stops_when_told_and_leaves_nothing_behind(running: Running) -> None:
    running.process.terminate()
    assert running.process.wait(30) == 0
    laid = {path.name for path in running.folder.iterdir()}
    tops = {name.split("/")[0] for name in class_names(shipped("workbooks"))}
    assert laid == tops | {RECORD_NAME}
    assert os.listdir(running.home / "home") == []
    assert os.listdir(running.home / "jupyterlab_settings_dir") == []
    assert sorted(os.listdir(LAB_SETTINGS)) == ["overrides.json", "page_config.json"]


def test_the_command_says_what_it_was_asked(tmp_path: Path) -> None:
    plain = lab_command(tmp_path)
    assert "--LabApp.default_url=/lab" in plain
    assert not [word for word in plain if re.search("browser|port=|allow-root", word)]
    asked = lab_command(tmp_path, "01-ü?.ipynb", browser=False, port=8899, root=True)
    assert set(asked) - set(plain) == {
        "--LabApp.default_url=/doc/tree/01-%C3%BC%3F.ipynb",
        "--ServerApp.open_browser=False",
        "--ServerApp.port=8899",
        "--allow-root",
    }


def test_a_command_that_is_waited_for_hands_its_exit_code_on() -> None:
    killed = "import os, signal; os.kill(os.getpid(), signal.SIGTERM)"
    assert wait_for([sys.executable, "-c", killed], os.environ) == 128 + 15
    assert wait_for([sys.executable, "-c", "raise SystemExit(5)"], os.environ) == 5


def test_a_home_that_can_be_written_is_used(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Nothing is set and nothing left there."""
    monkeypatch.setattr(Path, "home", lambda: tmp_path)
    assert homes_for_this_sitting({}) == {}
    assert list(tmp_path.iterdir()) == []


@pytest.mark.parametrize(
    "refusal", [PermissionError(13, "Permission denied"), RuntimeError("no home")]
)
def test_a_home_that_cannot_be_written(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, refusal: Exception
) -> None:
    """JupyterLab's own files go to a temporary folder; what the user has set stands."""

    def none() -> Path:
        if isinstance(refusal, RuntimeError):
            raise refusal
        return tmp_path / "not" / "there"

    monkeypatch.setattr(Path, "home", none)
    monkeypatch.setattr(tempfile, "tempdir", str(tmp_path))
    found = homes_for_this_sitting({"IPYTHONDIR": "mine"})
    assert set(found) == set(ISOLATED) - {"HOME", "IPYTHONDIR"}
    assert all(Path(folder).is_dir() for folder in found.values())
    assert len(set(found.values())) == len(found)
    assert all(Path(folder).is_relative_to(tmp_path) for folder in found.values())
