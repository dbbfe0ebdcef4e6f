"""JSON: whatever a command answers carries who worked it out, and from what."""

from __future__ import annotations

import hashlib
import json
import os
import subprocess
import sys
from pathlib import Path

import pytest

import mensura
from mensura.cli import COMMANDS, main
from mensura.places import data_file

WHO = ["--student", "Q07", "--key", "alder"]

#: One answer of each command that gives JSON.
ASKED = {
    "compare": [
        *("compare", "--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "1"),
        *("--tilt-deg", "3", "--height-off-m", "0.2", "--taper-cm-per-m", "1"),
    ],
    "correct": ["correct", "--reading-cm", "126", "--temperature-c", "30", "--material", "steel"],
    "cut-end": [
        *("cut-end", "--outline", str(data_file("quillmere-disc-07.csv"))),
        *("--pith-cm", "0,0", "--step-deg", "5"),
    ],
    "place": [
        *("place", "--diameter-cm", "40", "--lean-deg", "10", "--slope-deg", "20"),
        *("--taper-cm-per-m", "1", "--fork-at-m", "1.4", "--leg-diameters-cm", "25x22", "--plumb"),
    ],
    "tape-card": ["tape-card", str(data_file("quillmere-tape-t5.csv")), "--class", "II"],
    "budget": ["budget", "--girth-cm", "126.3", "--resolution-cm", "1", "--draws", "10000"],
    "practical": ["practical", str(data_file("quillmere-practical.csv"))],
    "logs": ["logs", str(data_file("quillmere-logs.csv"))],
    "stand": [
        *("stand", str(data_file("quillmere-trees.csv"))),
        *("--plots", str(data_file("quillmere-plots.csv"))),
    ],
    "proof": ["proof", "--after", "a > b", "--line", "2a > 2b", "--assume", "a > b"],
    "problems": ["problems", "--topic", "bark"],
    "problem": ["problem", "girth-to-area", *WHO, "--try", "2", "--solution"],
    "answer": ["answer", "girth-to-area", *WHO, "3 cm2"],
}

#: Options whose input goes by another name, and those that only choose what is printed.
NAMES = {"set_name": "set", "try_number": "try", "axes": "axes_cm"}
NO_INPUT = {"as_json", "no_browser", "help"}


def told(run, *words: str) -> dict[str, object]:
    result = run(*words, "--json")
    assert result.exit_code in (0, 1)
    answer: dict[str, object] = json.loads(result.stdout)
    return answer


def test_every_command_with_json_is_asked() -> None:
    """A new one must find its place above."""
    with_json = {one.name for one in COMMANDS if "as_json" in {each.name for each in one.params}}
    assert with_json == set(ASKED)


@pytest.mark.parametrize("words", ASKED.values(), ids=ASKED)
def test_every_answer_carries_version_and_inputs(run, words: list[str]) -> None:
    """At its end; and no option of the command is missing from the inputs."""
    answer = told(run, *words)
    assert list(answer)[-2:] == ["mensura_version", "inputs"]
    assert answer["mensura_version"] == mensura.__version__
    options = {one.name for one in main.commands[words[0]].params} - NO_INPUT
    if words[0] == "compare":
        options -= {"outline"}  # instead of the axes
    if words[0] == "proof":
        options -= {"road", "verify"}  # of no use beside a line
    assert {NAMES.get(one, one) for one in options} == set(answer["inputs"])


@pytest.mark.parametrize("name", ["compare", "correct", "place"])
def test_an_answer_can_be_worked_out_again_from_its_inputs(run, name: str) -> None:
    """All of them given as options, with their units in their names: the same answer."""
    answer = told(run, *ASKED[name])
    words = [name]
    for field, value in answer["inputs"].items():
        if field == "axes_cm":
            words += ["--axes", "x".join(map(repr, value))]
        elif value is True:
            words.append(f"--{field.replace('_', '-')}")
        elif value is False:
            continue
        elif value is not None:
            words += [f"--{field.replace('_', '-')}", str(value)]
    assert told(run, *words) == answer


def test_a_problem_can_be_drawn_again_from_its_inputs(run) -> None:
    """Family, student, key, set and try are all that its numbers come from."""
    answer = told(run, *ASKED["problem"])
    given = dict(answer["inputs"])
    words = ["problem", given.pop("family"), "--solution"]
    assert given.pop("solution") is True
    words += [word for name, value in given.items() for word in (f"--{name}", str(value))]
    assert told(run, *words) == answer


def test_an_outline_is_told_by_name_and_content(run, tmp_path: Path) -> None:
    """Not by where it lies; another content has another digest."""
    place = tmp_path / "disc.csv"
    place.write_bytes(data_file("quillmere-disc-07.csv").read_bytes())
    result = run("compare", "--outline", str(place), "--json")
    digest = hashlib.sha256(place.read_bytes()).hexdigest()
    inputs = json.loads(result.stdout)["inputs"]
    assert inputs["outline"] == {"file": "disc.csv", "sha256": digest}
    assert "axes_cm" not in inputs
    assert str(tmp_path) not in result.stdout
    place.write_bytes(place.read_bytes() + b"\n# the same points\n")
    again = told(run, "compare", "--outline", str(place))
    assert again["inputs"]["outline"]["sha256"] != digest
    assert again["true_area_cm2"] == json.loads(result.stdout)["true_area_cm2"]


@pytest.mark.parametrize("encoding", ["ascii", "cp1252", "utf-8"])
def test_json_loses_no_letter_on_any_console(run, encoding: str) -> None:
    """What a console cannot write is escaped; read again, it is the same answer."""
    done = subprocess.run(
        [sys.executable, "-m", "mensura", *ASKED["problem"], "--json"],
        capture_output=True,
        env={**os.environ, "PYTHONIOENCODING": encoding, "PYTHONUTF8": "0"},
        timeout=60,
        check=True,
    )
    answer = told(run, *ASKED["problem"])
    assert json.loads(done.stdout.decode(encoding)) == answer
    assert "²" in str(answer)
