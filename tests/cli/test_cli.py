"""The command: what is in it, its help and its version, and that it starts as a program."""

from __future__ import annotations

import json
import re
import shutil
import subprocess
import sys
import tomllib
from pathlib import Path
from typing import Any

import click
import pytest

import mensura
from mensura import __version__
from mensura.cli import COMMANDS, main

ROOT = Path(__file__).resolve().parents[2]
PACKAGE = Path(mensura.__file__).parent


def really(*words: str, **more: Any) -> subprocess.CompletedProcess[str]:
    """The command as a process of its own."""
    return subprocess.run(
        [sys.executable, "-m", "mensura", *words],
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
        **more,
    )


def test_unknown_commands_and_options(refused) -> None:
    known = (
        "one of: answer, budget, compare, correct, cut-end, field-sheet, leaflet, logs, open, "
        "place, plan, practical, present, problem, problems, proof, stand, tape-card"
    )
    assert refused("saw") == f"there is no command 'saw'; expected {known}."
    assert refused("opne") == "there is no command 'opne'; did you mean open?"
    assert refused("Compare") == "there is no command 'Compare'; did you mean compare?"
    assert refused("--speed") == (
        "there is no option '--speed' here; expected one of: --version, --help."
    )
    assert refused("--verison") == "there is no option '--verison' here; did you mean --version?"
    assert refused("\x1b[2J\n").startswith(r"there is no command '\x1b[2J\n'; expected")


def test_version_and_help(run) -> None:
    assert run("--version").stdout == f"mensura {__version__}\n"
    bare, asked = run(), run("--help")
    assert bare.stdout == asked.stdout
    assert (bare.exit_code, asked.exit_code) == (0, 0)
    assert "compare" in asked.stdout
    assert "open" in asked.stdout
    for command in ("open", "compare", "correct"):
        text = run(command, "--help").stdout
        options = [each.opts[0] for each in main.commands[command].params if each.opts[0][0] == "-"]
        assert options
        assert all(f"  {option}" in text for option in options)


def test_the_module_runs_as_the_command(compared) -> None:
    done = really("compare", "--axes", "60x48", "--json")
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout) == compared("--axes", "60x48")


def test_the_module_refuses_with_exit_code_two() -> None:
    done = really("compare", "--axes", "60x0")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("--axes, second diameter, is 0 cm; expected")
    assert done.stderr.count("\n") == 1


def test_starting_up_loads_nothing_heavy() -> None:
    heavy = ("matplotlib", "ipywidgets", "shapely", "pandas", "sympy", "scipy", "jupyterlab")
    code = f"import sys, mensura.cli; print([m for m in {heavy} if m in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout == "[]\n"


def test_the_version_stands_in_one_place() -> None:
    """That of the project file is told by the installation, and by the command in one line."""
    project = tomllib.loads((ROOT / "pyproject.toml").read_text(encoding="utf-8"))["project"]
    assert mensura.__version__ == project["version"]
    done = really("--version")
    assert (done.stdout, done.returncode) == (f"mensura {project['version']}\n", 0)
    sources = [path.read_text(encoding="utf-8") for path in PACKAGE.rglob("*.py")]
    assert not [text for text in sources if f'"{project["version"]}"' in text]


@pytest.mark.parametrize("command", COMMANDS, ids=lambda one: one.name)
def test_every_command_is_helped_and_told_of(run, command: click.Command) -> None:
    """Its help lists its options and a sentence; the list of commands and the README have it."""
    told = run(command.name, "--help").stdout
    assert all(f"  {one.opts[0]}" in told for one in command.params if one.opts[0][0] == "-")
    assert f"  {command.name}" in run("--help").stdout
    readme = (ROOT / "README.md").read_text(encoding="utf-8")
    assert re.search(rf"`mensura {command.name}\b", readme)


MADE_UP = '''"""A command that nobody needs."""

import click

from mensura.cli.refusals import Refusing


@click.command(name="weigh", cls=Refusing)
def weigh_command() -> None:
    """Weigh a stem by eye."""
    click.echo("heavy")
'''


def test_a_new_command_is_a_module_and_a_place_in_the_list(tmp_path: Path) -> None:
    """In a copy: help, the list of known commands and the refusals follow from COMMANDS."""
    copy = tmp_path / "mensura"
    shutil.copytree(PACKAGE, copy, ignore=shutil.ignore_patterns("__pycache__", "_shipped"))
    (copy / "cli" / "weigh.py").write_text(MADE_UP, encoding="utf-8")
    home = copy / "cli" / "__init__.py"
    text = home.read_text(encoding="utf-8")
    for before, after in (
        ("import click\n", "import click\nfrom mensura.cli.weigh import weigh_command\n"),
        ("    answer_command,\n)", "    answer_command,\n    weigh_command,\n)"),
    ):
        assert text.count(before) == 1
        text = text.replace(before, after)
    home.write_text(text, encoding="utf-8")
    asked = ("--help", "weigh", "weigh it", "saw")
    said = {words: really(*words.split(), cwd=tmp_path) for words in asked}
    assert re.search(r"^  weigh +Weigh a stem by eye\.$", said["--help"].stdout, re.M)
    assert said["weigh"].stdout == "heavy\n"
    assert (said["weigh it"].returncode, said["weigh it"].stdout) == (2, "")
    assert said["weigh it"].stderr.startswith("'it' was not understood")
    assert "tape-card, weigh." in said["saw"].stderr
