"""The command: right numbers out, and one sentence for whatever cannot be used."""

from __future__ import annotations

import json
import math
import os
import subprocess
import sys
from pathlib import Path
from typing import Any

import click
import pytest
from click.testing import CliRunner, Result

from mensura import __version__, places
from mensura.cli import compare, main
from mensura.disk import lab
from mensura.places import data_file


def run(*words: str) -> Result:
    return CliRunner().invoke(main, list(words))


def compared(*words: str) -> dict[str, Any]:
    result = run("compare", *words, "--json")
    assert result.exit_code == 0, result.stderr
    assert result.stderr == ""
    answer: dict[str, Any] = json.loads(result.stdout)
    return answer


def refused(*words: str) -> str:
    """The one sentence with which the words are refused."""
    result = run(*words)
    assert result.exit_code == 2, result.output
    assert result.stdout == ""
    sentence = result.stderr
    assert sentence.count("\n") == 1
    assert sentence.endswith(".\n")
    assert "Traceback" not in sentence
    assert "Usage" not in sentence
    return sentence[:-1]


def test_json_has_exactly_these_keys() -> None:
    answer = compared("--axes", "60x48")
    assert list(answer) == [
        "true_area_cm2",
        "taut_girth_cm",
        "reading_cm",
        "tape_area_cm2",
        "tape_over_percent",
        "classroom_over_percent",
        "breakdown",
        "calipers",
    ]
    assert [one["practice"] for one in answer["calipers"]] == [
        "one",
        "two-arithmetic",
        "two-geometric",
        "two-quadratic",
        "many-arithmetic",
    ]
    for one in answer["calipers"]:
        assert list(one) == [
            "practice",
            "directions_deg",
            "readings_cm",
            "area_cm2",
            "over_percent",
            "breakdown",
        ]
    assert [len(one["readings_cm"]) for one in answer["calipers"]] == [1, 2, 2, 2, 18]


def test_numbers_agree_with_a_published_perimeter_and_closed_forms() -> None:
    # an ellipse with half-axes 2 and 1 has the perimeter 8·E(3/4) = 9.688448 [AS1964, table 17.1]
    answer = compared("--axes", "40x20")
    assert answer["taut_girth_cm"] == pytest.approx(96.88448, abs=5e-6)
    assert answer["true_area_cm2"] == pytest.approx(200 * math.pi, rel=1e-12)
    assert answer["classroom_over_percent"] == pytest.approx(25.0, rel=1e-12)  # (1 − r)²/2r
    # a plane tilted by 60° cuts a round stem in an ellipse twice as long as wide
    tilted = compared("--axes", "40x40", "--tilt-deg", "60", "--tilt-direction-deg", "123")
    assert tilted["reading_cm"] == pytest.approx(2 * 96.88448, abs=1e-5)
    assert tilted["taut_girth_cm"] == pytest.approx(40 * math.pi, rel=1e-12)
    # turned by 45°, both widths are the quadratic mean of the axes
    turned = compared("--axes", "60x48", "--caliper-direction-deg", "45")
    assert turned["calipers"][1]["readings_cm"] == pytest.approx([math.sqrt(2952)] * 2, rel=1e-12)
    assert turned["calipers"][1]["directions_deg"] == [45.0, 135.0]


@pytest.mark.parametrize(
    "axes", ["60x48", "60X48", "60×48", " 60 x 48 ", "60.0x4.8e1", "60,0x48", "+60x048"]
)
def test_every_spelling_of_the_axes(axes: str) -> None:
    assert compared("--axes", axes) == compared("--axes", "60x48")


def test_a_decimal_comma_is_read() -> None:
    comma = compared("--axes", "60,5x48", "--tilt-deg", "-2,5")
    assert comma == compared("--axes", "60.5x48", "--tilt-deg", "-2.5")
    assert comma["true_area_cm2"] == pytest.approx(math.pi / 4 * 60.5 * 48, rel=1e-12)


def test_rough_bark_leaves_girth_and_takes_area() -> None:
    words = ("--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "1")
    rough, smooth = compared(*words, "--seed", "7"), compared("--axes", "60x48")
    assert rough["true_area_cm2"] < smooth["true_area_cm2"]
    assert rough["classroom_over_percent"] is None
    assert rough != compared(*words, "--seed", "8")
    assert rough == compared(*words, "--seed", "7")


def test_an_outline_is_read_from_a_file(tmp_path: Path) -> None:
    square = tmp_path / "square.csv"
    square.write_text("x_cm;y_cm\n0;0\n40,0;0\n40;40\n0;40\n")
    answer = compared("--outline", str(square))
    assert (answer["true_area_cm2"], answer["taut_girth_cm"]) == (1600.0, 160.0)
    assert answer["classroom_over_percent"] is None
    assert run("compare", "--outline", str(square)).stdout.startswith("Stem: outline '")


def test_the_shipped_disc_compares() -> None:
    answer = compared("--outline", str(data_file("quillmere-disc-07.csv")))
    assert answer["tape_over_percent"] > 0


def test_the_table_can_be_read_on_a_projector() -> None:
    text = run("compare", "--axes", "60x48").stdout
    assert max(len(line) for line in text.splitlines()) <= 80
    rows = [line.split() for line in text.splitlines()]
    assert ["Tape,", "level", "170.17", "2304.39", "+42.44", "+1.8764"] in rows
    for row in (
        "two at right angles, product 60.00 48.00 2261.95 0.00 0.0000",
        "18 directions, arithmetic mean 18 readings 2304.39 +42.44 +1.8764",
    ):
        assert row.split() in rows
    assert "True area:  2261.95 cm²" in text
    assert "Taut girth: 170.17 cm" in text
    assert "2π√((a²+b²)/2) would claim an error of +2.5000 %" in text
    assert "upper bound" in text
    assert "sound instruments, steady hand, band held by friction where it lies" in text
    table = [line for line in text.splitlines() if line.startswith((" ", "Tape"))]
    assert len(table) == 8
    assert len({len(line) for line in table}) == 1  # the last column ends in one line


@pytest.mark.parametrize("axes", ["40x40", "60x48", "48x60", "33.3x33.3", "1e-3x1e-3"])
@pytest.mark.parametrize("turn", ["0", "-0", "90", "45"])
def test_nothing_is_printed_as_minus_zero(axes: str, turn: str) -> None:
    text = run("compare", "--axes", axes, "--caliper-direction-deg", turn).stdout
    for word in text.replace("°", " ").split():
        assert not (word.startswith(("-0", "+0")) and float(word) == 0)
    assert "nan" not in text


def test_the_blackboard_formula_is_named_for_smooth_ellipses_only() -> None:
    rough = run("compare", "--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "1").stdout
    assert "blackboard" not in rough
    assert "28 ridges" in rough


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (
            ["--axes", "0x48"],
            "--axes, first diameter, is 0 cm; expected a finite number above 0 and at most "
            "2000 cm.",
        ),
        (["--axes", "60x-48"], "--axes, second diameter, is -48 cm; expected a finite"),
        (["--axes", "60x2001"], "--axes, second diameter, is 2001 cm; expected a finite"),
        (["--axes", "nanx48"], "--axes, first diameter, is 'nan' cm; expected a finite"),
        (["--axes", "60xinf"], "--axes, second diameter, is 'inf' cm; expected a finite"),
        (
            ["--axes", "1e999x48"],
            "--axes, first diameter, is '1e999' cm; expected a power of ten within reach (",
        ),
        (["--axes", "6_0x48"], "--axes, first diameter, is '6_0' cm; expected a finite"),
        (["--axes", "٦٠x48"], "--axes, first diameter, is '٦٠' cm; expected a finite"),
        (["--axes", "x48"], "--axes, first diameter, is nothing; expected a finite"),
        (["--axes", "60"], "--axes is '60'; expected two diameters in cm like 60x48."),
        (["--axes", "60x48x3"], "--axes is '60x48x3'; expected two diameters in cm like 60x48."),
        (["--axes", ""], "--axes is nothing; expected two diameters in cm like 60x48."),
        (["--axes", "60\n48"], r"--axes is '60\n48'; expected two diameters in cm like 60x48."),
        ([], "--axes and --outline: neither given; expected exactly one of them."),
        (
            ["--axes", "60x48", "--outline", "a.csv"],
            "--axes and --outline: both given; expected exactly one of them.",
        ),
        (["--axes", "60x48", "--tilt-deg", "90"], "--tilt-deg is 90 deg; expected a finite"),
        (["--axes", "60x48", "--tilt-deg", "-90"], "--tilt-deg is -90 deg; expected a finite"),
        (["--axes", "60x48", "--tilt-deg", "nan"], "--tilt-deg is 'nan' deg; expected a finite"),
        (["--axes", "60x48", "--tilt-deg", "1_0"], "--tilt-deg is '1_0' deg; expected a finite"),
        (
            ["--axes", "60x48", "--tilt-deg", "89.999"],
            "the tape's reading on this stem, laid like this, is ",
        ),
        (
            ["--axes", "60x48", "--tilt-direction-deg", "east"],
            "--tilt-direction-deg is 'east' deg; expected a finite number.",
        ),
        (
            ["--axes", "60x48", "--caliper-direction-deg", "1e400"],
            "--caliper-direction-deg is '1e400' deg; expected a power of ten",
        ),
        (
            ["--axes", "60x48", "--ridges", "28"],
            "--furrow-depth-cm is missing; expected a depth above 0 cm beside --ridges 28.",
        ),
        (["--axes", "60x48", "--furrow-depth-cm", "1"], "--ridges is missing; expected a whole"),
        (
            ["--axes", "60x48", "--ridges", "2", "--furrow-depth-cm", "1"],
            "--ridges is 2; expected 0 or a whole number from 3 to 2000.",
        ),
        (
            ["--axes", "60x48", "--ridges", "2.5", "--furrow-depth-cm", "1"],
            "--ridges is '2.5'; expected a whole number from 0 to 2000.",
        ),
        (
            ["--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "-1"],
            "--furrow-depth-cm is -1 cm; expected a finite number at least 0 cm.",
        ),
        (
            ["--axes", "60x48", "--ridges", "28", "--furrow-depth-cm", "30"],
            "--furrow-depth-cm is 30 cm; expected less than the radius",
        ),
        (["--axes", "60x48", "--seed", "9" * 5000], "--seed is '9999"),
        (["--axes", "60x48", "--seed", "-1"], "--seed is -1; expected a whole number from 0"),
        (
            ["--axes", "1e-13x2000"],
            "--axes, first diameter, is '1e-13' cm; expected 0, or a size from 10^-12 to 10^12 cm.",
        ),
        (["--axes", "60x48", "--tlit-deg", "3"], "there is no option '--tlit-deg' here; expected"),
        (["--axes"], "--axes is nothing; expected a value after it."),
        (
            ["--axes", "60x48", "more"],
            "'more' was not understood; expected options only, like --json.",
        ),
    ],
)
def test_compare_refuses_in_one_sentence(words: list[str], sentence: str) -> None:
    assert refused("compare", *words).startswith(sentence)


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("x_cm,y_cm\n0,0\n40,0\n40,wide\n", "row 4, column y_cm is 'wide'; expected a number"),
        ("x_cm,y_cm\n0,0\n40,40\n40,0\n0,40\n", "the outline crosses or touches itself"),
        ("angle_deg,radius_cm\n0,20\n90,-3\n200,4\n", "row 3, column radius_cm is -3; expected"),
        ("", "the file is empty; expected a header"),
    ],
)
def test_an_outline_is_refused_with_file_row_and_column(
    tmp_path: Path, monkeypatch: pytest.MonkeyPatch, text: str, sentence: str
) -> None:
    monkeypatch.chdir(tmp_path)
    Path("disc.csv").write_text(text)
    assert refused("compare", "--outline", "disc.csv").startswith(
        f"--outline 'disc.csv': {sentence}"
    )


def test_an_outline_file_that_is_none(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.chdir(tmp_path)
    missing = (
        "--outline: the file 'no.csv' was not read: no such file or directory; expected a CSV file."
    )
    assert refused("compare", "--outline", "no.csv") == missing
    assert refused("compare", "--outline", ".").endswith(
        "was not read: is a directory; expected a CSV file."
    )
    assert refused("compare", "--outline", "\x1b[2J") == (
        r"--outline: the file '\x1b[2J' was not read: no such file or directory; "
        "expected a CSV file."
    )
    os.mkfifo("pipe")  # would be waited for, for ever
    assert refused("compare", "--outline", "pipe") == (
        "--outline 'pipe' is no file; expected a CSV file."
    )


def test_unknown_commands_and_options() -> None:
    known = "answer or compare or correct or open or problem or problems or proof"
    assert refused("opne") == f"there is no command 'opne'; expected {known}."
    assert refused("--speed") == (
        "there is no option '--speed' here; expected one of --version, --help."
    )
    assert refused("\x1b[2J\n").startswith(r"there is no command '\x1b[2J\n'; expected")


def test_version_and_help() -> None:
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


def test_ctrl_c_is_clean(monkeypatch: pytest.MonkeyPatch) -> None:
    def stop(*_: object) -> None:
        raise KeyboardInterrupt

    monkeypatch.setattr(compare, "_check_finite", stop)
    result = run("compare", "--axes", "60x48")
    assert (result.exit_code, result.stdout, result.stderr.strip()) == (130, "", "stopped.")


def test_an_unexpected_system_error_is_one_sentence(monkeypatch: pytest.MonkeyPatch) -> None:
    def fail(*_: object) -> None:
        raise OSError(5, "Input/output error", "tape")

    monkeypatch.setattr(compare, "_check_finite", fail)
    assert refused("compare", "--axes", "60x48") == "'tape': input/output error."


def test_errors_pass_through_to_a_caller_who_asks_for_them() -> None:
    with pytest.raises(click.UsageError, match="neither given"):
        main.main(["compare"], standalone_mode=False)


# mensura open, with the start of JupyterLab itself left out (see views/test_lab_start.py)


@pytest.fixture
def shelf(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """Two workbooks as if shipped, and an empty current folder."""
    source = tmp_path / "shipped"
    (source / "lecturer").mkdir(parents=True)
    (source / "01-how round.ipynb").write_text("{}")
    (source / "lecturer" / "00-key.ipynb").write_text("{}")
    monkeypatch.setattr(places, "shipped", lambda _: source)
    (tmp_path / "desk").mkdir()
    monkeypatch.chdir(tmp_path / "desk")
    return source


@pytest.fixture
def started(monkeypatch: pytest.MonkeyPatch) -> list[list[str]]:
    """The commands that were started; each ends with exit code 7."""
    commands: list[list[str]] = []

    def start(command: list[str], environment: dict[str, str]) -> int:
        assert environment["JUPYTER_PREFER_ENV_PATH"]
        commands.append(command)
        return 7

    monkeypatch.setattr(lab, "start", start)
    return commands


@pytest.mark.usefixtures("shelf")
def test_open_lays_out_says_so_and_hands_the_exit_code_on(started: list[list[str]]) -> None:
    result = run("open")
    desk = Path("mensura-workbooks").resolve()
    assert result.exit_code == 7
    assert result.stdout.splitlines() == [
        f"Workbooks: {desk}",
        "Laid out: 01-how round.ipynb, lecturer/00-key.ipynb.",
        "JupyterLab starts now. In the browser choose the menu Run, Run All Cells.",
        "To stop it, press Ctrl-C here and answer y.",
    ]
    assert f"--ServerApp.root_dir={desk}" in started[0]
    assert "--LabApp.default_url=/doc/tree/01-how%20round.ipynb" in started[0]
    assert not [word for word in started[0] if "open_browser" in word or ".port" in word]
    (desk / "01-how round.ipynb").write_text("mine")
    said = run("open", "--no-browser", "--port", "0").stdout.splitlines()
    assert said[1] == (
        "01-how round.ipynb was changed by you and stays as it is; the fresh one lies beside it "
        "as 01-how round-fresh.ipynb."
    )
    assert "--ServerApp.open_browser=False" in started[1]
    assert "--ServerApp.port=0" in started[1]


@pytest.mark.parametrize("user", [0, 1000])
@pytest.mark.usefixtures("shelf")
def test_jupyterlab_is_told_of_the_administrator(
    started: list[list[str]], monkeypatch: pytest.MonkeyPatch, user: int
) -> None:
    monkeypatch.setattr(os, "geteuid", lambda: user)
    run("open")
    assert ("--allow-root" in started[0]) == (user == 0)


def test_the_shipped_folder_is_opened_where_it_lies(shelf: Path, started: list[list[str]]) -> None:
    said = run("open", str(shelf)).stdout
    assert "nothing was laid out" in said
    assert f"--ServerApp.root_dir={shelf.resolve()}" in started[0]
    assert not (shelf / ".mensura-laid-out.json").exists()


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        (["taken"], "is a file; expected a folder."),
        (["taken/below"], "not a directory."),
        ([""], "FOLDER is nothing; expected the name of a folder."),
        (["a", "b"], "'b' was not understood; expected options only, like --json."),
        (["--port", "65536"], "--port is 65536; expected a whole number from 0 to 65535."),
        (["--port", "-1"], "--port is -1; expected a whole number from 0 to 65535."),
        (["--port", "8_8"], "--port is '8_8'; expected a whole number from 0 to 65535."),
        (["--port", "nan"], "--port is 'nan'; expected a whole number from 0 to 65535."),
    ],
)
@pytest.mark.usefixtures("shelf")
def test_open_refuses_in_one_sentence_and_starts_nothing(
    started: list[list[str]], words: list[str], sentence: str
) -> None:
    Path("taken").write_text("mine")
    assert refused("open", *words).endswith(sentence)
    assert started == []
    assert os.listdir() == ["taken"]


def test_an_installation_without_workbooks_says_so(monkeypatch: pytest.MonkeyPatch) -> None:
    def missing(folder: str) -> Path:
        raise FileNotFoundError(f"this installation of mensura has no {folder} folder")

    monkeypatch.setattr(places, "shipped", missing)
    assert refused("open") == "this installation of mensura has no workbooks folder."


# real processes


def really(*words: str, **more: Any) -> subprocess.CompletedProcess[str]:
    return subprocess.run(
        [sys.executable, "-m", "mensura", *words],
        capture_output=True,
        encoding="utf-8",
        timeout=60,
        check=False,
        **more,
    )


def test_the_module_runs_as_the_command() -> None:
    done = really("compare", "--axes", "60x48", "--json")
    assert (done.returncode, done.stderr) == (0, "")
    assert json.loads(done.stdout) == compared("--axes", "60x48")


def test_the_module_refuses_with_exit_code_two() -> None:
    done = really("compare", "--axes", "60x0")
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.startswith("--axes, second diameter, is 0 cm; expected")
    assert done.stderr.count("\n") == 1


def test_a_terminal_without_our_letters_gets_no_traceback() -> None:
    plain = {**os.environ, "PYTHONIOENCODING": "latin-1", "PYTHONUTF8": "0", "LC_ALL": "C"}
    done = subprocess.run(
        [sys.executable, "-m", "mensura", "compare", "--axes", "60x48"],
        capture_output=True,
        env=plain,
        timeout=60,
        check=False,
    )
    assert (done.returncode, done.stderr) == (0, b"")
    assert b"would claim an error of +2.5000 %" in done.stdout


def test_starting_up_loads_nothing_heavy() -> None:
    heavy = ("matplotlib", "ipywidgets", "shapely", "pandas", "sympy", "scipy", "jupyterlab")
    code = f"import sys, mensura.cli; print([m for m in {heavy} if m in sys.modules])"
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, timeout=60, check=True
    )
    assert done.stdout == "[]\n"
