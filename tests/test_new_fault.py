"""A fault that is made up, in a copy of the package: one row, and it is everywhere it belongs.

What has to be written for it is three pieces of text: the row in the list of faults, the field of
the lay, and what it adds. The copy runs in a process of its own.
"""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

import mensura

PACKAGE = Path(mensura.__file__).resolve().parent
TESTS = Path(__file__).resolve().parent

ROW = """
    Fault(
        "fold",
        LAY,
        (
            Setting(
                "fold_cm", "cm", "Height of a fold in the band.", _LENGTH,
                slider=Slider("fold, height", 0, 3, 0.1, 1, "cm"),
            ),
        ),
        "Fold",
        "A fold takes twice its height.",
        "too much",
        "not",
        (Typical({"fold_cm": 0.5}, "fold 0.5 cm high", "for a fold of 0.5 cm"),),
        left_out_of=REASONS,
    ),
"""
REASONS = {
    "chapter panel": "nobody has drawn it yet in this made-up world",
    "what went wrong": "nobody has thought of its circumstances yet, so none",
    "wrong picture": "nobody has drawn it yet in this made-up world",
}
#: (file, behind what, what is written there).
TOUCHED = [
    ("instruments/lay_faults.py", "LAY_FAULTS: tuple[Fault, ...] = (\n", ROW),
    ("instruments/lay.py", "    knot_cm: Any = 0.0\n", "    fold_cm: Any = 0.0\n"),
    (
        "instruments/lay.py",
        "_BY_ITSELF: dict[str, Callable[[Lay, Any], Any]] = {\n",
        '    "fold": lambda lay, taut: 2 * lay.fold_cm,\n',
    ),
]

ASKED = """
import importlib.util, json, sys
from click.testing import CliRunner
import mensura
from mensura.cli import main
from mensura.instruments import UNKNOWABLE, Lay, Tape, typical_sizes_cm
from mensura.stems import circle
from mensura.teaching.panels import all_faults as panel
from mensura.views.chapters.all_faults import ALL_FAULTS_PANEL, AllFaultsPicture, readout, status
from mensura.views.kit.live import Live
from mensura.estimates.fault_costs import fault_cost_rows, fault_costs
from mensura.views.stills.fault_costs import faults_on_one_scale
from mensura.views.stills.fault_sizes import sizes_side_by_side

def beside(path):
    spec = importlib.util.spec_from_file_location("beside", path)
    module = importlib.util.module_from_spec(spec)
    sys.modules["beside"] = module
    spec.loader.exec_module(module)
    return module

def run(*words):
    done = CliRunner().invoke(main, list(words))
    return [done.exit_code, done.stdout, done.stderr]

shown = panel.numbers(**(panel.SOUND | {"fold_cm": 0.5}))
picture = AllFaultsPicture()
Live(picture).paint(shown)
print(json.dumps({
    "package": mensura.__file__,
    "faults": Lay(fold_cm=0.5, knot_cm=1).faults,
    "breakdown": Tape().read(circle(40), Lay(fold_cm=0.5)).breakdown,
    "compare": run("compare", "--axes", "40x40", "--fold-cm", "0,5", "--json"),
    "refused": run("compare", "--axes", "40x40", "--fold-cm", "-1"),
    "help": run("compare", "--help"),
    "correct": run("correct", "--reading-cm", "126"),
    "controls": [[c.name, c.label, c.group] for c in panel.CONTROLS],
    "bars": [one.get_text() for one in picture.read.axes.get_yticklabels()],
    "adds": dict(zip(panel.TAPE_FAULTS, map(float, shown.adds_cm))),
    "status": status(shown),
    "readout": readout(shown),
    "alt": picture.describe(shown),
    "typical": typical_sizes_cm(),
    "sizes": sizes_side_by_side().alt,
    "costs": faults_on_one_scale().alt,
    "cost_rows": [one for one in fault_cost_rows(fault_costs()) if "fold" in one["fault"]],
    "unknowable": {one.fault: [one.raises_reading, one.reach] for one in UNKNOWABLE},
    "wanting": beside(sys.argv[1]).wanting(),
    "games": [beside(sys.argv[2]).digest(rounds()) for rounds in
              (beside(sys.argv[2]).pictures, beside(sys.argv[2]).readings)],
}))
"""


def asked_of_a_copy(place: Path, reasons: dict[str, str]) -> dict[str, Any]:
    """What a copy of the package with the made-up fault answers."""
    copy = place / "mensura"
    shutil.copytree(PACKAGE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    for name, behind, text in TOUCHED:
        file = copy / name
        old = file.read_text("utf-8")
        assert old.count(behind) == 1
        new = text.replace("REASONS", json.dumps(reasons))
        file.write_text(old.replace(behind, behind + new), "utf-8")
    helper = TESTS / "views" / "faults_everywhere.py"
    games = TESTS / "teaching" / "games" / "test_round_draws.py"
    done = subprocess.run(
        [sys.executable, "-P", "-c", ASKED, str(helper), str(games)],
        cwd=place,
        env=os.environ | {"PYTHONPATH": str(place)},
        capture_output=True,
        text=True,
        timeout=300,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    answer: dict[str, Any] = json.loads(done.stdout)
    assert Path(answer["package"]).is_relative_to(place)
    return answer


@pytest.fixture(scope="module")
def folded(tmp_path_factory: pytest.TempPathFactory) -> dict[str, Any]:
    """What a copy with the fault answers, its row giving a reason wherever it is left out."""
    return asked_of_a_copy(tmp_path_factory.mktemp("copy"), REASONS)


def test_a_new_fault_is_in_the_reading(folded: dict[str, Any]) -> None:
    """In the lay's own order, the first; in the breakdown with its share."""
    assert folded["faults"] == ["fold", "knot"]
    assert folded["breakdown"] == {"fold": 1.0}


def test_a_new_fault_is_in_the_commands(folded: dict[str, Any]) -> None:
    """An option with help and bound, a row of the breakdown, and of what cannot be undone."""
    code, out, _ = folded["compare"]
    assert code == 0
    told = json.loads(out)
    assert told["breakdown"] == [{"fault": "fold", "adds_cm": 1.0}]
    assert told["inputs"]["fold_cm"] == 0.5
    assert "--fold-cm N" in folded["help"][1]
    assert "Height of a fold in the band." in folded["help"][1]
    assert folded["refused"][0] == 2
    assert folded["refused"][2].startswith("--fold-cm is -1 cm; expected a finite number at least")
    assert folded["unknowable"]["fold"] == [True, "1 cm for a fold of 0.5 cm"]
    assert "1 cm for a fold of 0.5 cm" in folded["correct"][1]


def test_a_new_fault_is_in_the_panel_with_all(folded: dict[str, Any]) -> None:
    """A control, a bar and its share in picture, table, status and alternative text."""
    assert ["fold_cm", "fold, height", "Lay"] in folded["controls"]
    assert folded["bars"][1] == "fold"
    assert folded["adds"]["fold"] == 1.0
    assert "Largest share: fold, +1.00 cm." in folded["status"]
    assert ">fold</th><td>+1.00" in folded["readout"]
    assert "in cm: fold +1.00" in folded["alt"]


def test_a_new_fault_has_its_typical_size(folded: dict[str, Any]) -> None:
    """Among the sizes side by side, and in their picture's words."""
    assert folded["typical"]["fold 0.5 cm high"] == pytest.approx(1.0)
    assert "fold 0.5 cm high +1.00" in folded["sizes"]


def test_a_new_fault_has_its_cost(folded: dict[str, Any]) -> None:
    """A row on the class's own stems: 1 cm of girth each, what it does to their area, how many
    stems show it, and against what; and a mark in the chart with its words."""
    (row,) = folded["cost_rows"]
    assert row["reading_adds_cm"] == pytest.approx(1.0)
    assert row["area_adds_percent"] == pytest.approx(1.45, abs=0.05)
    # 2 · (3.645 · 0.5)² and a hair for the step
    assert row["stems_read_twice"] == 7
    assert row["against"] == "the same tape laid anew, as it should lie"
    assert "fold 0.5 cm high +1.4" in folded["costs"]


def test_a_new_fault_moves_no_round(folded: dict[str, Any]) -> None:
    """Both games give the rounds that they gave."""
    from importlib.util import module_from_spec, spec_from_file_location

    spec = spec_from_file_location("editions", TESTS / "teaching" / "games" / "test_round_draws.py")
    assert spec
    assert spec.loader
    editions = module_from_spec(spec)
    spec.loader.exec_module(editions)
    assert folded["games"] == [editions.PICTURES, editions.READINGS]


def test_a_new_fault_with_reasons_is_wanting_nowhere(folded: dict[str, Any]) -> None:
    """The check of all places is content with it."""
    assert folded["wanting"] == []


def test_a_new_fault_without_a_reason_is_missed(tmp_path: Path) -> None:
    """Without reasons the same check names the drawing and the games that lack it, no others."""
    answer = asked_of_a_copy(tmp_path, {})
    assert answer["wanting"] == [
        "fold: not in chapter panel of the tape",
        "fold: not in what went wrong of the tape",
        "fold: not in wrong picture of the tape",
    ]
