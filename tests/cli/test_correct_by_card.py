"""`mensura correct` through a card: the line's length and its uncertainty, and nothing twice."""

from __future__ import annotations

import math
from pathlib import Path

import numpy as np
import pytest

from mensura.instruments import Tape
from mensura.places import data_file

T5 = str(data_file("quillmere-tape-t5.csv"))


@pytest.fixture
def cards(run, tmp_path: Path) -> Path:
    """A folder with the card of T5, of calipers K1, and of T2, which has two marks."""
    two = tmp_path / "two.csv"
    two.write_text("reference_cm,reading_cm\n50,50.0\n150,148.0\n", "utf-8")
    out = tmp_path / "cards"
    for file, code, more in (
        (T5, "T5", ()),
        (T5, "K1", ("--kind", "calipers")),
        (str(two), "T2", ()),
    ):
        assert run("tape-card", file, "--instrument", code, "--out", str(out), *more).exit_code == 0
    return out


def test_length_and_uncertainty_of_the_line(answered, cards: Path) -> None:
    """numpy's polyfit and its covariance; area and diameter by their derivatives."""
    rows = np.genfromtxt(T5, delimiter=",", skip_header=2, usecols=(1, 2))
    (rise, start), spread = np.polyfit(*rows.T, 1, cov=True)
    found = answered("correct", "--reading-cm", "126.3", "--card", str(cards / "T5.json"))
    girth = (126.3 - start) / rise
    across = np.array([girth, 1.0])
    u = math.sqrt(across @ spread @ across) / rise
    assert found["girth_cm"] == pytest.approx(girth)
    assert found["u_girth_cm"] == pytest.approx(u, rel=1e-3)
    assert found["u_diameter_cm"] == pytest.approx(u / math.pi, rel=1e-3)
    assert found["u_area_cm2"] == pytest.approx(girth * u / (2 * math.pi), rel=1e-3)
    assert found["drawn_on"] is False
    assert found["card"] == {"instrument": "T5", "temperature_c": 20.0, "pull_n": 20.0}
    assert sum(one["adds_cm"] for one in found["breakdown"]) == pytest.approx(126.3 - girth)
    named = answered(
        "correct", "--reading-cm", "126.3", "--cards", str(cards), "--instrument", "T5"
    )
    assert named["girth_cm"] == found["girth_cm"]


def test_the_readings_own_step_is_not_in_it(answered, cards: Path) -> None:
    """It is a matter of the reading: told as how far rounding reaches, and counted there."""
    words = ("correct", "--reading-cm", "126", "--card", str(cards / "T5.json"))
    fine, coarse = answered(*words), answered(*words, "--resolution-cm", "1")
    assert fine["u_girth_cm"] == coarse["u_girth_cm"]
    assert (fine["rounding_cm"], coarse["rounding_cm"]) == (0, 0.5)


def test_what_is_known_beside_the_card(answered, cards: Path) -> None:
    """Temperature from the card's own, and thickness, which on the floor had no part."""
    words = ("--temperature-c", "35", "--material", "steel", "--thickness-cm", "0.04")
    bare = answered("correct", "--reading-cm", "126.3", "--card", str(cards / "T5.json"))
    found = answered("correct", "--reading-cm", "126.3", "--card", str(cards / "T5.json"), *words)
    warm = Tape(temperature_c=35, material="steel", thickness_cm=0.04)
    assert found["girth_cm"] == pytest.approx(warm.way_cm(bare["girth_cm"]))
    shares = {one["fault"]: one["adds_cm"] for one in found["breakdown"]}
    assert set(shares) == {"thickness", "temperature", "stretch", "worn start"}
    assert sum(shares.values()) == pytest.approx(126.3 - found["girth_cm"])


def test_a_worn_start_below_nought(answered, run, tmp_path: Path) -> None:
    """Kept in the card, and undone like any other."""
    file = tmp_path / "t.csv"
    file.write_text("reference_cm,reading_cm\n50,49.3\n100,99.4\n150,149.3\n", "utf-8")
    run("tape-card", str(file), "--instrument", "T6", "--out", str(tmp_path))
    found = answered("correct", "--reading-cm", "99.3", "--card", str(tmp_path / "T6.json"))
    assert found["girth_cm"] == pytest.approx(100, abs=0.1)
    assert found["breakdown"][-1]["adds_cm"] < 0


def test_two_marks_and_beyond_the_marks(run, answered, cards: Path) -> None:
    """null where nothing is known, and a word where the line is only drawn on."""
    words = ("correct", "--reading-cm", "170", "--card", str(cards / "T2.json"))
    found = answered(*words)
    assert found["girth_cm"] == pytest.approx(50 + 120 / 0.98)
    assert found["u_girth_cm"] is found["u_diameter_cm"] is found["u_area_cm2"] is None
    assert found["drawn_on"] is True
    text = run(*words).stdout
    assert "The card has two marks only" in text
    assert "the line is only drawn on there" in text


def test_the_text(run, cards: Path) -> None:
    """The girth with the card's u, and whose the rest is."""
    text = run("correct", "--reading-cm", "126.3", "--card", str(cards / "T5.json")).stdout
    assert text.startswith("Reading   126.30 cm, by tape T5\nGirth     126.717 cm, u 0.02")
    assert "u is the card's part alone" in text


def test_a_folder_that_is_not_there(refused) -> None:
    """The option, the folder, why, and what would do."""
    assert refused("correct", "--reading-cm", "126", "--cards", "nodir", "--instrument", "T5") == (
        "--cards is 'nodir', no such file or directory; expected a folder of cards."
    )


def test_a_card_with_a_slip_says_so(run, answered, tmp_path: Path) -> None:
    """Its own note, first in the text; the numbers are the card's as it is."""
    file = tmp_path / "t.csv"
    rows = "40,40.2\n70,70.1\n100,1006\n130,129.6\n160,159.4\n190,189\n"
    file.write_text(f"reference_cm,reading_cm\n{rows}", "utf-8")
    assert run("tape-card", str(file), "--out", str(tmp_path)).exit_code == 0
    words = ("correct", "--reading-cm", "500", "--cards", str(tmp_path), "--instrument", "t")
    (said,) = answered(*words)["warnings"]
    assert said.startswith("At the mark of 100 cm, reading_cm: 1006 cm and the figure beside it")
    assert "it would be 100.6 cm. Nothing was changed." in said
    assert "LOOK AGAIN  At the mark of 100 cm" in run(*words).stdout


@pytest.mark.parametrize(
    ("words", "said"),
    [
        (["--card", "{}/K1.json"], "--card is 'calipers'; expected the card of a tape."),
        (
            ["--card", "{}/T5.json", "--instrument", "T6"],
            "T5.json is the card of 'T5'; expected that of 'T6'.",
        ),
        (["--card", "{}/none.json"], "none.json was not read, no such file or directory; expect"),
        (["--card", "{}/T5.html"], "T5.html is damaged, or no JSON; expected a card as"),
        (["--cards", "{}", "--instrument", "T7"], "--instrument is 'T7'; expected one of: K1, T2"),
        (["--cards", "{}"], "--instrument is missing; expected a code like T3 by --cards."),
        (["--cards", "{}/none", "--instrument", "T5"], "--cards is '"),
        (["--instrument", "T5"], "--card is missing; expected it, or --cards, by --instrument."),
        (["--card", "a", "--cards", "b"], "--card and --cards were both given; expected one"),
        (
            ["--card", "{}/T5.json", "--stretch-percent", "1"],
            "--stretch-percent is 1; expected 0 beside a card, which has its own.",
        ),
        (
            ["--card", "{}/T5.json", "--reference-c", "10"],
            "--reference-c is 10 °C; expected 20 °C, at which the card holds.",
        ),
        (["--card", "{}/T5.json", "--reading-cm", "0.1"], "--reading-cm is 0.1 cm; expected a"),
    ],
)
def test_refusals(refused, cards: Path, words: list[str], said: str) -> None:
    """A card of another instrument, none, two at once, what the card has already."""
    words = [one.format(cards) for one in words]
    assert refused("correct", "--reading-cm", "126", *words).startswith(said)
