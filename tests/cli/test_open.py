"""`mensura open`, with the start of JupyterLab itself left out (see disk/test_lab_start.py)."""

from __future__ import annotations

import os
import re
import socket
import webbrowser
from pathlib import Path

import pytest

from mensura import places
from mensura.disk import lab, ports
from mensura.disk.plan_file import add_step
from mensura.disk.plan_place import PLAN_VARIABLE
from mensura.teaching.lessons.plan import Step


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two workbooks as if shipped, and an empty current folder."""
    source = tmp_path / "shipped"
    (source / "lecturer").mkdir(parents=True)
    (source / "01-how round.ipynb").write_text("{}")
    (source / "lecturer" / "lesson.ipynb").write_text("{}")
    monkeypatch.setattr(places, "shipped", lambda _: source)
    (tmp_path / "desk").mkdir()
    monkeypatch.chdir(tmp_path / "desk")
    return source


@pytest.fixture(autouse=True)
def with_a_browser(monkeypatch: pytest.MonkeyPatch) -> None:
    """Whether or not this machine has one."""
    monkeypatch.setattr(webbrowser, "get", lambda: webbrowser.GenericBrowser("none"))


@pytest.fixture
def plans() -> list[str | None]:
    """The plan that each command was told of, None if it was told of none."""
    return []


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch, plans: list[str | None]) -> list[list[str]]:
    """The commands that were started; each ends with exit code 7."""
    commands: list[list[str]] = []

    def start(command: list[str], environment: dict[str, str]) -> int:
        assert environment["JUPYTER_PREFER_ENV_PATH"]
        commands.append(command)
        plans.append(environment.get(PLAN_VARIABLE))
        return 7

    monkeypatch.setattr(lab, "start", start)
    return commands


@pytest.mark.usefixtures("shelf")
def test_open_lays_out_says_so_and_hands_the_exit_code_on(
    run, started: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(lab, "finds_browser", lambda: True)
    result = run("open")
    desk = Path("mensura-workbooks").resolve()
    assert result.exit_code == 7
    assert result.stdout.splitlines() == [
        f"Workbooks: {desk}",
        "Laid out: 01-how round.ipynb.",
        "JupyterLab starts now. In the browser a page starts by itself: nothing to run.",
        "To stop it, press Ctrl-C here and answer y.",
    ]
    assert f"--ServerApp.root_dir={desk}" in started[0]
    assert "--LabApp.default_url=/doc/tree/01-how%20round.ipynb" in started[0]
    assert not [word for word in started[0] if "open_browser" in word or ".port" in word]
    (desk / "01-how round.ipynb").write_text("half a downl")
    said = run("open", "--no-browser", "--port", "0").stdout.splitlines()
    assert said[1] == (
        "01-how round.ipynb is damaged (no notebook can be read in it) and stays as it is; the "
        "fresh one lies beside it as 01-how round-fresh.ipynb."
    )
    assert "--ServerApp.open_browser=False" in started[1]
    assert "--ServerApp.port=0" in started[1]


@pytest.mark.parametrize("user", [0, 1000])
@pytest.mark.usefixtures("shelf")
def test_jupyterlab_is_told_of_the_administrator(
    run, started: list[list[str]], monkeypatch: pytest.MonkeyPatch, user: int
) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: user)
    run("open")
    assert ("--allow-root" in started[0]) == (user == 0)


def test_the_shipped_folder_is_opened_where_it_lies(
    run, shelf: Path, started: list[list[str]]
) -> None:
    said = run("open", str(shelf)).stdout
    assert "nothing was laid out" in said
    assert f"--ServerApp.root_dir={shelf.resolve()}" in started[0]
    assert not (shelf / ".mensura-laid-out.json").exists()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["taken"], "is a file; expected a folder."),
        (["taken/below"], "not a directory; expected a folder of your own that can be written to."),
        ([""], "FOLDER is empty; expected the name of a folder."),
        (["--plan", "a.toml"], "--plan is for lecturers; expected --lecturer with it."),
        (
            ["--lecturer", "--plan", " "],
            "--plan is empty; expected the name of a file, like lesson.toml.",
        ),
        (["a", "b"], """'b' was not understood; did you mean "a b" as one word?"""),
        (["--port", "65536"], "--port is 65536; expected a whole number from 0 to 65535."),
        (["--port", "-1"], "--port is -1; expected a whole number from 0 to 65535."),
        (["--port", "8_8"], "--port is '8_8'; expected a whole number from 0 to 65535."),
        (["--port", "nan"], "--port is 'nan'; expected a whole number from 0 to 65535."),
    ],
)
@pytest.mark.usefixtures("shelf")
def test_open_refuses_in_one_sentence_and_starts_nothing(
    refused, started: list[list[str]], words: list[str], sentence: str
) -> None:
    Path("taken").write_text("mine")
    assert refused("open", *words).endswith(sentence)
    assert started == []
    assert os.listdir() == ["taken"]


def test_an_installation_without_workbooks_says_so(
    refused, monkeypatch: pytest.MonkeyPatch
) -> None:
    def missing(folder: str) -> Path:
        raise FileNotFoundError(f"this installation of mensura has no {folder} folder")

    monkeypatch.setattr(places, "shipped", missing)
    assert refused("open") == "this installation of mensura has no workbooks folder."


@pytest.mark.parametrize(
    "refusal", [OSError(30, "Read-only file system"), PermissionError(13, "Permission denied")]
)
@pytest.mark.usefixtures("shelf")
def test_a_folder_that_cannot_be_written(
    refused, started: list[list[str]], monkeypatch: pytest.MonkeyPatch, refusal: OSError
) -> None:
    """A sentence with the system's own reason, whether or not the folder is there."""
    Path("there").mkdir()

    def forbid(*_: object, **__: object) -> int:
        raise refusal

    monkeypatch.setattr(os, "mkdir", forbid)
    monkeypatch.setattr(os, "open", forbid)
    for folder in ("there", "new"):
        sentence = refused("open", folder)
        assert f": {refusal.strerror.lower()}; expected a folder of your own" in sentence
        assert sentence.startswith("FOLDER: ")
    assert started == []
    assert os.listdir() == ["there"]
    assert os.listdir("there") == []


@pytest.mark.usefixtures("shelf")
def test_a_folder_of_somebody_else(
    refused, started: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """It is told before anything is laid out."""
    Path("theirs").mkdir()
    monkeypatch.setattr(os, "access", lambda *_: False)
    assert refused("open", "theirs").endswith(
        "cannot be written to; expected a folder of your own that can be written to."
    )
    assert started == []


@pytest.mark.usefixtures("shelf", "started")
def test_a_home_that_cannot_be_written_is_told(run, monkeypatch: pytest.MonkeyPatch) -> None:
    """The workbooks open all the same."""
    monkeypatch.setattr(lab, "homes_for_this_sitting", lambda _: {"IPYTHONDIR": "elsewhere"})
    said = run("open", "--no-browser").stdout.splitlines()
    assert said[-4] == (
        "Your home folder cannot be written: JupyterLab's settings are kept for this sitting only."
    )


@pytest.mark.usefixtures("shelf")
def test_a_port_in_use_is_told_at_once(refused, run, started: list[list[str]]) -> None:
    """With the next free one; nothing is laid out. Free again it is taken."""
    with socket.socket() as server:
        server.bind(("127.0.0.1", 0))
        server.listen()
        port = server.getsockname()[1]
        said = refused("open", "--port", str(port))
        free = re.fullmatch(rf"--port {port} is in use; expected a free one, like (\d+)\.", said)
        assert free
        assert int(free[1]) > port
        assert started == []
        assert os.listdir() == []
        assert run("open").exit_code == 7  # JupyterLab looks for a free one itself
    assert run("open", "--port", str(port)).exit_code == 7
    assert f"--ServerApp.port={port}" in started[-1]


@pytest.mark.usefixtures("shelf")
def test_a_port_that_may_not_be_served_on(
    refused, started: list[list[str]], monkeypatch: pytest.MonkeyPatch
) -> None:
    """The system's reason is told."""

    def forbid(*_: object) -> None:
        raise PermissionError(13, "Permission denied")

    monkeypatch.setattr(ports.socket.socket, "bind", forbid)
    assert refused("open", "--port", "80") == (
        "--port 80 cannot be served on: permission denied; expected a free one."
    )
    assert started == []


@pytest.mark.usefixtures("shelf", "started")
def test_without_a_browser_the_address_is_opened_by_hand(
    run, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Whether there is none or none was wanted; else nothing is said of it."""
    assert "token=" not in run("open").stdout
    assert run("open", "--no-browser").stdout.splitlines()[-1] == (
        "No browser is opened: open the address with token= that JupyterLab prints below."
    )

    def none() -> None:
        raise webbrowser.Error("could not locate runnable browser")

    monkeypatch.setattr(webbrowser, "get", none)
    assert run("open").stdout.splitlines()[-1].startswith("No browser was found on this machine: ")


# ---- the lecturer's mode -------------------------------------------------------------------------


@pytest.mark.usefixtures("shelf")
def test_a_lecturer_gets_the_lesson_page_and_the_plan(
    run, started: list[list[str]], plans: list[str | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Laid out, opened first; server and kernels are told of the plan, and so is he."""
    monkeypatch.setattr(lab, "finds_browser", lambda: True)
    said = run("open", "--lecturer").stdout.splitlines()
    desk = Path("mensura-workbooks").resolve()
    plan = desk / "lesson.toml"
    assert said[1:3] == [
        "Laid out: 01-how round.ipynb, lecturer/lesson.ipynb.",
        f"Lesson: {plan}, made with the first step that you put into it.",
    ]
    assert plans == [str(plan)]
    assert "--LabApp.default_url=/doc/tree/lecturer/lesson.ipynb" in started[0]
    assert f"--LabApp.extra_labextensions_path={lab.LAB_LECTURER}" in started[0]
    assert not plan.exists()
    add_step(plan, Step(3, "02", "predict"))
    add_step(plan, Step(4.5, "02", "try-it"))
    assert f"Lesson: {plan}, 2 steps, 7.5 of 50 minutes." in run("open", "--lecturer").stdout


@pytest.mark.usefixtures("shelf")
def test_a_class_is_told_of_no_plan(
    run, started: list[list[str]], plans: list[str | None], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Not even where the command is given in a terminal of a lecturer's JupyterLab."""
    monkeypatch.setenv(PLAN_VARIABLE, "of-another-sitting.toml")
    run("open")
    assert plans == [None]
    assert not [word for word in started[0] if str(lab.LAB_LECTURER) in word]
    assert not Path("mensura-workbooks", "lecturer").exists()


@pytest.mark.usefixtures("shelf", "started")
def test_the_plan_may_lie_elsewhere(run, plans: list[str | None]) -> None:
    """Where the command is given, not in the folder of the workbooks; an empty file is a plan."""
    Path("my plans").mkdir()
    plan = Path("my plans", "tapes.toml")
    plan.write_text("")
    said = run("open", "--lecturer", "--plan", str(plan)).stdout
    assert f"Lesson: {plan.resolve()}, no steps, 0 of 50 minutes." in said
    assert plans == [str(plan.resolve())]


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        (
            'title = "Bark"\nminutes = 50\n[[step]]\nminutes = 2,5\n',
            "lesson.toml, line 4: a decimal comma; expected a point, as in 2.5.",
        ),
        (
            'title = "Bark"\nminutes = 0\n',
            "lesson.toml, line 2: minutes is 0; expected a number above 0 and at most 1000.",
        ),
    ],
)
@pytest.mark.usefixtures("shelf")
def test_a_plan_that_cannot_be_read_opens_nothing(
    refused, started: list[list[str]], text: str, sentence: str
) -> None:
    """Told at once with its line; nothing is laid out, and the plan stays as it is."""
    Path("mine").mkdir()
    plan = Path("mine", "lesson.toml")
    plan.write_text(text)
    assert refused("open", "mine", "--lecturer") == sentence
    assert started == []
    assert os.listdir("mine") == ["lesson.toml"]
    assert plan.read_text() == text


def test_a_plan_that_could_not_be_kept(refused, shelf: Path, started: list[list[str]]) -> None:
    """No folder for it, a folder in its place, or the workbooks' own source."""
    assert refused("open", "--lecturer", "--plan", "nowhere/a.toml").startswith(
        f"--plan: there is no folder {str(Path('nowhere').resolve())[:20]!r}"[:-1]
    )
    Path("taken").mkdir()
    assert refused("open", "--lecturer", "--plan", "taken").startswith("taken: is a directory;")
    assert refused("open", str(shelf), "--lecturer").endswith(
        "holds the workbooks' own source, where no plan is kept; expected --plan with a file "
        "elsewhere."
    )
    assert started == []
    assert os.listdir() == ["taken"]
