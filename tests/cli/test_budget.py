"""`mensura budget`: its JSON against a propagation of its own, its table, and what it refuses."""

from __future__ import annotations

import re
from math import pi, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pytest
from scipy.special import ellipe

from mensura.cli import budget as command

WORDS = (
    *("--girth-cm", "126.3", "--resolution-cm", "1", "--tilt-up-to-deg", "6"),
    *("--hand-sd-cm", ".3", "--temperature-range-c", "5", "35", "--material", "steel"),
)
FIGURES = {
    "girth_cm": lambda g: g,
    "diameter_cm": lambda g: g / pi,
    "area_cm2": lambda g: g**2 / 4 / pi,
}


def own_girths(count: int) -> Any:
    """The same budget drawn in a few lines of its own, with another generator."""
    g = np.random.Generator(np.random.SFC64(7))
    told = 126.3 + g.uniform(-0.5, 0.5, count) + 0.3 * g.standard_normal(count)
    tilt = np.radians(6 * g.random(count))
    factor = 2 / pi * ellipe(np.sin(tilt) ** 2) / np.cos(tilt)
    return told * (1 + 11.6e-6 * g.uniform(-15, 15, count)) / factor


def test_against_a_propagation_of_its_own(answered) -> None:
    """u within 1 %, the interval's ends within their sampling error: a density of about 0.06/u at
    2.5 % makes that 0.0027 u for a million draws, twice over."""
    found = answered("budget", *WORDS)
    girths = own_girths(1_000_000)
    for name, figure in FIGURES.items():
        own, told = figure(girths), found[name]
        assert told["u"] == pytest.approx(own.std(), rel=0.01)
        ends = np.quantile(own, [0.025, 0.975])
        assert told["interval"] == pytest.approx(ends, abs=4 * 0.0027 * sqrt(2) * own.std())
        assert told["value"] == pytest.approx(own.mean(), abs=5e-3 * own.std())


def test_the_json_is_whole(answered) -> None:
    """The keys that others rely on, the inputs in order of what they bring, and what was typed."""
    found = answered("budget", *WORDS, "--draws", "20000")
    assert list(found) == [*FIGURES, "mensura_version", "inputs"]
    for name in FIGURES:
        one = found[name]
        assert {"value", "u", "interval", "gum", "inputs", "agree", "shift"} <= set(one)
        assert {"u", "k", "expanded"} <= set(one["gum"])
        assert one["gum"]["expanded"] == pytest.approx(one["gum"]["k"] * one["gum"]["u"])
        parts = [line["contribution"] for line in one["inputs"]]
        assert parts == sorted(parts, reverse=True)
        assert sqrt(sum(part**2 for part in parts)) == pytest.approx(one["gum"]["u"], rel=1e-12)
    kinds = {line["name"]: line["distribution"] for line in found["girth_cm"]["inputs"]}
    assert kinds == {
        "resolution": "rectangular",
        "hand": "normal",
        "tilt": "tilt",
        "temperature": "rectangular",
    }
    assert found["inputs"]["temperature_range_c"] == [5, 35]
    assert (found["inputs"]["seed"], found["inputs"]["draws"]) == (1, 20000)
    assert found["girth_cm"]["value"] < 126.3 - 0.1


def test_the_same_seed_says_the_same(answered) -> None:
    short = (*WORDS, "--draws", "5000")
    first, again = (answered("budget", *short, "--seed", "5") for _ in range(2))
    assert first == again
    assert first["girth_cm"] != answered("budget", *short, "--seed", "6")["girth_cm"]


def test_the_table_says_what_the_json_says(run, answered) -> None:
    """Both ways stand in one table, with the inputs, the shift and whether they agree."""
    words = ("budget", *WORDS, "--draws", "100000")
    text, found = run(*words).stdout, answered(*words)

    def row(name: str) -> list[str]:
        (line,) = [one for one in text.splitlines() if one.strip().startswith(name)]
        return re.findall(r"[−+]?\d+\.?\d*$|[−+]?\d+\.\d+(?=\s)|yes|no|too close", line)[-3:]

    girths = found["girth_cm"], found["diameter_cm"], found["area_cm2"]
    for name, key in (("u, all together", "gum"), ("u: standard deviation", "u")):
        for told, one in zip(row(name), girths, strict=True):
            exact = one["gum"]["u"] if key == "gum" else one[key]
            assert float(told) == pytest.approx(exact, rel=0.01)
    words = {True: "yes", False: "no", None: "too close"}
    assert row("The two agree") == [words[one["agree"]] for one in girths]
    assert "tilt adds on average, taken off" in text
    assert "100,000 draws, seed 1 (JCGM 101)" in text
    assert "from 0 to 6 deg, each alike" in text
    assert "nan" not in text
    assert max(map(len, text.splitlines())) <= 100


def test_too_few_draws_tell_nothing(run, answered) -> None:
    """A thousand draws of a hand alone leave open what a million settle: null, and a sentence."""
    words = ("budget", "--girth-cm", "126.3", "--hand-sd-cm", ".3")
    few, many = answered(*words, "--draws", "1000"), answered(*words)
    assert few["girth_cm"]["agree"] is None
    assert many["girth_cm"]["agree"] is True
    assert "Too close to tell with 1,000 draws" in run(*words, "--draws", "1000").stdout
    surely = run("budget", "--girth-cm", "126.3", "--resolution-cm", "1").stdout
    assert "Too close" not in surely
    assert "equally coarse" not in surely


def test_why_one_figure_agrees_and_another_not(run, answered) -> None:
    """The girth's u of .5 is held against 0.005, the diameter's of .16 too: a share thrice as
    large."""
    words = ("budget", *WORDS, "--hand-sd-cm", ".4")
    found, text = answered(*words), run(*words).stdout
    assert (found["girth_cm"]["agree"], found["diameter_cm"]["agree"]) == (False, True)
    shares = [100 * found[name]["tolerance"] / found[name]["gum"]["u"] for name in FIGURES]
    assert [float(one) for one in re.findall(r"([\d.]+) % of a u", text)] == pytest.approx(
        shares, abs=0.06
    )


def test_averaged_readings_are_told(run, answered) -> None:
    """The step in two rows, what is assumed the same in all readings, and nothing of that where
    there is one."""
    words = ("budget", *WORDS, "--draws", "5000")
    text, one = run(*words, "--readings", "10").stdout, run(*words).stdout
    assert text.startswith("Girth, mean of 10 readings, 126.3 cm:")
    assert "step, what averages" in text
    assert "step, what stays" in text
    assert "Assumed the same in all 10 readings, so not averaged: tilt, temperature." in text
    assert "averages" not in one
    still = run("budget", "--girth-cm", "126", "--resolution-cm", "1", "--readings", "4").stdout
    assert "the step does not average" in still
    parts = {
        each["name"]: each for each in answered(*words, "--readings", "10")["girth_cm"]["inputs"]
    }
    both = parts["resolution"]["u"] ** 2 + 10 * parts["rounding"]["u"] ** 2
    assert both == pytest.approx(1 / 12)
    assert max(map(len, text.splitlines())) <= 100


def test_progress_is_told_where_it_takes_long(run, monkeypatch: pytest.MonkeyPatch) -> None:
    """On stderr, and not where it is quick; the answer on stdout is the same."""
    words = ("budget", *WORDS, "--draws", "200000", "--json")
    quick = run(*words)
    monkeypatch.setattr(command, "PATIENCE_S", 0.0)
    slow = run(*words)
    assert (quick.stderr, slow.stdout) == ("", quick.stdout)
    assert slow.stderr.splitlines()[-1] == "0.2 of 0.2 million draws"


def test_inputs_may_know_of_each_other(run, answered) -> None:
    words = ("budget", *WORDS, "--draws", "5000", "--correlation", "hand", "resolution", "0.5")
    alone, joined = answered(*words[:-4]), answered(*words)
    assert joined["girth_cm"]["gum"]["u"] > 1.1 * alone["girth_cm"]["gum"]["u"]
    assert "Correlation of hand and reading's step: 0.5." in run(*words).stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("--girth-cm 0 --resolution-cm 1", "--girth-cm is 0 cm; expected a finite number above 0"),
        ("--girth-cm 126 --hand-sd-cm -1", "--hand-sd-cm is -1 cm; expected a finite number at le"),
        ("--girth-cm 126 --draws 50000001", "--draws is 50000001; expected a whole number from 10"),
        ("--girth-cm 126 --temperature-range-c 5 35", "--material is missing; expected a material"),
        ("--girth-cm 126", "--resolution-cm is missing; expected something that is unsure"),
        ("--resolution-cm 1", "--girth-cm is missing; expected a girth in cm"),
        ("126.3 cm", "'126.3 cm' was not understood; did you mean --girth-cm 126.3 cm?"),
        ("--girth-cm 126 --instrument T3", "--card is missing; expected it, or --cards"),
        ("--girth-cm 126 --cards . ", "--instrument is missing; expected a code like T3"),
        ("--girth-cm 126 --card a --cards b", "--card and --cards were both given; expected one"),
    ],
)
def test_what_cannot_be_is_refused(refused, words: str, said: str) -> None:
    assert refused("budget", *words.split()).startswith(said)


@pytest.fixture
def cards(run, tmp_path: Path) -> Path:
    """A folder with the card of T3, made by the command from a check in a file."""
    check = tmp_path / "t3.csv"
    marks, read = (50, 80, 100, 120, 150, 180, 200), (50.9, 80.8, 100.3, 120.4, 150, 179.9, 199.6)
    rows = [f"{mark},{reading}" for mark, reading in zip(marks, read, strict=True)]
    check.write_text("\n".join(["reference_cm,reading_cm", *rows]) + "\n", encoding="utf-8")
    words = (str(check), "--instrument", "T3", "--reference-u-cm", "0.05")
    done = run("tape-card", *words, "--out", str(tmp_path / "cards"))
    assert done.exit_code == 0, done.stderr
    return tmp_path / "cards"


def test_a_card_is_applied(answered, run, cards: Path) -> None:
    """By its file or by its code; its correction is made, its line and its reference are inputs."""
    short = ("budget", "--girth-cm", "126.3", "--hand-sd-cm", ".3", "--draws", "20000")
    by_file = answered(*short, "--card", str(cards / "T3.json"))
    by_code = answered(*short, "--cards", str(cards), "--instrument", "T3")
    assert by_file["girth_cm"] == by_code["girth_cm"]
    corrected = answered("correct", "--reading-cm", "126.3", "--card", str(cards / "T3.json"))[
        "girth_cm"
    ]
    assert by_file["girth_cm"]["as_read"] == pytest.approx(corrected)
    parts = {one["name"]: one for one in by_file["girth_cm"]["inputs"]}
    assert parts["card"]["distribution"] == "student"
    assert parts["card"]["degrees_of_freedom"] == 5
    assert parts["reference"]["contribution"] == pytest.approx(0.05)
    assert by_file["drawn_on"] is False
    far = ("budget", "--girth-cm", "400", "--hand-sd-cm", ".3", "--draws", "1000")
    assert "only drawn on there" in run(*far, "--card", str(cards / "T3.json")).stdout


def test_a_card_of_another_instrument_is_refused(refused, cards: Path) -> None:
    short = ("budget", "--girth-cm", "126.3", "--hand-sd-cm", ".3")
    said = refused(*short, "--card", str(cards / "T3.json"), "--instrument", "T4")
    assert "is the card of 'T3'; expected that of 'T4'" in said
    said = refused(*short, "--cards", str(cards), "--instrument", "T4")
    assert said.startswith("--instrument is 'T4'")
    assert "nowhere.json" in refused(*short, "--card", str(cards / "nowhere.json"))


def test_the_readme_runs(run) -> None:
    """The line that the README shows gives a table."""
    readme = (Path(__file__).resolve().parents[2] / "README.md").read_text(encoding="utf-8")
    (line,) = re.findall(r"^mensura (budget [^\n]*)$", readme, re.M)
    assert run(*line.split()).exit_code == 0
