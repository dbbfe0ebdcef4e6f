"""One voice: whatever a command refuses, it says where, what, and what would do, in one sentence.

The walk goes over every option and argument of every command, with what nobody can mean; what is
found there is held to one form. Beside it stand refusals of which the walk knows nothing.
"""

from __future__ import annotations

import re
from pathlib import Path

import click
import pytest

from mensura.cli import COMMANDS
from mensura.places import data_file

#: Where and what; then what would do, or the one word that was nearly typed.
ONE = r"[^;]+; (expected [^;]+|did you mean [^;?]+(?=\?$))"
VOICE = re.compile(rf"{ONE}(; and {ONE})?[.?]")

#: Words with which a command would run, but for what is added.
RUNS = {
    "open": ["here", "--port", "0"],
    "plan": [],
    "present": ["lesson.toml"],
    "field-sheet": [
        *("roster.csv", "--stems", "4", "--instruments", "T1,K1", "--key", "alder"),
        "--no-simulation",
    ],
    "leaflet": ["08"],
    "place": ["--diameter-cm", "40", "--fork-at-m", "1.1", "--leg-diameters-cm", "25x22"],
    "compare": ["--axes", "60x48"],
    "correct": ["--reading-cm", "126"],
    "cut-end": ["--outline", "disc.csv"],
    "budget": ["--girth-cm", "126", "--resolution-cm", "1", "--draws", "1000"],
    "tape-card": ["check.csv"],
    "practical": ["readings.csv"],
    "logs": ["logs.csv"],
    "stand": [
        *(str(data_file("quillmere-trees.csv")), "--plots", str(data_file("quillmere-plots.csv")))
    ],
    "proof": ["--after", "a > b", "--line", "a > b"],
    "problems": [],
    "problem": ["girth-to-area", "--student", "Q07", "--key", "alder"],
    "answer": ["girth-to-area", "9", "--student", "Q07", "--key", "alder"],
}

#: What no option takes; a value that one does take is passed over.
NONSENSE = ("", "wide", "nan", "1e999", "-1e9", "9" * 40, "\x1b[2J")


def voiced(sentence: str) -> bool:
    """Whether a refusal has the one form."""
    asks = "did you mean" in sentence
    return VOICE.fullmatch(sentence) is not None and sentence.endswith("?" if asks else ".")


def options() -> list[tuple[str, click.Option]]:
    return [
        (command.name or "", one)
        for command in COMMANDS
        for one in command.params
        if isinstance(one, click.Option)
    ]


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty folder, and nothing that starts there."""
    from mensura.disk import lab

    monkeypatch.chdir(tmp_path)
    (tmp_path / "roster.csv").write_text("hand\nQ01\nQ02\n", "utf-8")
    (tmp_path / "disc.csv").write_text("x_cm,y_cm\n0,0\n40,0\n40,40\n0,40\n", "utf-8")
    (tmp_path / "wide.csv").write_text("x_cm,y_cm\n0,0\n41,0\n40,40\n0,40\n", "utf-8")
    monkeypatch.setattr(lab, "start", lambda *_: 0)


def test_every_command_is_walked() -> None:
    assert set(RUNS) == {one.name for one in COMMANDS}


@pytest.mark.parametrize(
    ("command", "option"), options(), ids=lambda one: getattr(one, "name", one)
)
def test_every_option_refuses_in_one_voice(
    run, refused, command: str, option: click.Option
) -> None:
    """Nonsense, nothing at all, a value where none belongs, and the name misspelt."""
    name = option.opts[0]
    words = [command, *RUNS[command]]
    said = [refused(*words, name[:-1] + "q"), refused(*words, f"{name}-q")]
    if option.is_flag:
        said.append(refused(*words, f"{name}=3"))
    else:
        said.append(refused(*words, name))
        for text in NONSENSE:
            result = run(*words, name, text)
            if result.exit_code == 2 and not result.stdout:
                said.append(refused(*words, name, text))
    assert len(said) >= 3
    assert [one for one in said if not voiced(one)] == []
    assert all(name.rstrip("s")[:6] in one or "--" in one for one in said[:2])


@pytest.mark.parametrize("command", sorted(RUNS))
def test_every_command_refuses_too_little_and_too_much_in_one_voice(refused, run, command) -> None:
    """Nothing where something is needed, and words that stand alone."""
    said = []
    if run(command).exit_code == 2:
        said.append(refused(command))
    if command != "answer":
        said.append(refused(command, *RUNS[command], "x", "y"))
        said.append(refused(command, *RUNS[command], "x; y"))
    assert [one for one in said if not voiced(one.replace("x; y", "x, y"))] == []
    assert len(said) >= 1


@pytest.mark.parametrize(
    "words",
    [
        ["saw"],
        ["help"],
        ["--port", "9000", "open"],
        ["compare", "--axes", "60x48", "--slack-cm", "15 mm"],
        ["proof", "--after", "a > b", "--line", "a > b", "--assume", "a"],
        ["compare", "--axes", "60x48", "--outline", "a.csv"],
        ["compare", "--outline", "none.csv"],
        ["compare", "--outline", "."],
        ["compare", "--axes", "60x48", "--ridges", "28"],
        ["compare", "--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "30"],
        ["compare", "--axes", "60x48", "--furrow-depth-cm", "1"],
        ["compare", "--axes", "60x48", "--temperature-c", "30"],
        ["compare", "--axes", "60x48", "--tilt-deg", "89.999"],
        ["correct", "--reading-cm", "126", "--material", "stel"],
        ["correct", "--reading-cm", "126", "--card", "none.json"],
        ["correct", "--reading-cm", "126", "--cards", ".", "--instrument", "T3"],
        ["correct", "--reading-cm", "126", "--cards", "."],
        ["correct", "--reading-cm", "126", "--instrument", "T3"],
        ["correct", "--reading-cm", "126", "--card", "a", "--cards", "b"],
        ["cut-end", "--outline", "none.csv"],
        ["cut-end", "--outline", "disc.csv", "--under-bark", "."],
        ["cut-end", "--outline", "disc.csv", "--under-bark", "wide.csv"],
        ["cut-end", "--outline", "disc.csv", "--pith-cm", "40,3"],
        ["cut-end", "--outline", "disc.csv", "--pith-cm", "40"],
        ["cut-end", "--outline", "disc.csv", "--step-deg", "0"],
        ["place"],
        ["place", "--diameter-cm", "40", "--fork-at-m", "1.1"],
        ["place", "--diameter-cm", "40", "--leg-diameters-cm", "25x22"],
        ["place", "--diameter-cm", "40", "--leg-gap-cm", "3"],
        ["place", "--diameter-cm", "40", "--fork-at-m", "1", "--leg-diameters-cm", "45x22"],
        ["place", "--diameter-cm", "40", "--fork-at-m", "1", "--leg-diameters-cm", "25,22"],
        ["place", "--diameter-cm", "40", "--lean-deg", "60", "--side", "left"],
        ["place", "--diameter-cm", "40", "--lean-deg", "89.9"],
        ["place", "--diameter-cm", "40", "--taper-cm-per-m", "20", "--height-m", "9"],
        ["tape-card", "none.csv"],
        ["practical", "none.csv"],
        ["stand", "none.csv", "--plots", "none.csv"],
        ["stand", "."],
        ["practical", "."],
        ["logs", "none.csv"],
        ["logs", "."],
        ["logs", "roster.csv"],
        ["correct", "--reading-cm", "126", "--pull-n", "50", "--material", "cloth"],
        ["proof", "--assume", "a > b"],
        ["proof", "--line", "a > b"],
        ["problem", "girth-to-aera", *RUNS["problem"][1:]],
        ["problem", "girth-to-aera"],
        ["answer", "oak", "9"],
    ],
    ids=lambda words: " ".join(words[:4]),
)
def test_other_refusals_in_the_same_voice(refused, words: list[str]) -> None:
    """What hangs on two options, on a file, or on a name."""
    assert voiced(refused(*words))


@pytest.mark.parametrize("fault", ["taken", "made"])
def test_a_folder_that_cannot_be_used_in_the_same_voice(
    refused, tmp_path: Path, fault: str
) -> None:
    """A file in its place, and one on the way to it."""
    (tmp_path / "taken").write_text("mine")
    assert voiced(refused("open", "taken" if fault == "taken" else "taken/below"))


@pytest.mark.parametrize(
    ("sentence", "good"),
    [
        ("--axes is empty; expected two diameters in cm like 60x48.", True),
        ("--road is 'elipse'; did you mean ellipse?", True),
        ("Missing argument 'TEXT'.", False),
        ("--axes is empty, expected two diameters.", False),
        ("--road is 'elipse'; did you mean ellipse.", False),
        ("Error: --axes; expected it", False),
    ],
)
def test_the_form_tells_voices_apart(sentence: str, good: bool) -> None:
    assert voiced(sentence) == good
