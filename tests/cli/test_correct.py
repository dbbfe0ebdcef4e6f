"""`mensura correct`: from a reading back to the girth, and what cannot be known from it."""

from __future__ import annotations

import math
import re
from typing import Any

import pytest

from mensura.instruments import UNKNOWABLE

#: Of a circle of 40 cm.
GIRTH = 40 * math.pi


def shares(found: dict[str, Any]) -> dict[str, Any]:
    return {one["fault"]: one["adds_cm"] for one in found["breakdown"]}


def test_a_stretched_band_is_corrected(answered) -> None:
    """70 marks that span 100 cm: girth, circle and area by hand."""
    found = answered("correct", "--reading-cm", "70", "--stretch-percent", repr(100 * 30 / 70))
    assert list(found) == [
        *("girth_cm", "diameter_cm", "area_cm2", "breakdown", "rounding_cm"),
        *("mensura_version", "inputs"),
    ]
    assert found["girth_cm"] == pytest.approx(100, rel=1e-14)
    assert found["diameter_cm"] == pytest.approx(100 / math.pi, rel=1e-14)
    assert found["area_cm2"] == pytest.approx(1e4 / (4 * math.pi), rel=1e-14)
    assert shares(found)["stretch"] == pytest.approx(-30, rel=1e-13)
    assert found["rounding_cm"] == 0


def test_correct_undoes_what_compare_did(answered, compared) -> None:
    """A reading with every fault of the band, back to the taut girth."""
    words = "--stretch-percent 1.5 --worn-start-cm 0.4 --thickness-cm 0.04 --temperature-c 35"
    words += " --material fibreglass --reference-c 15 --pull-n 30 --stiffness-n 20000"
    words += " --reference-pull-n 20"
    told = compared("--axes", "40x40", *words.split())["reading_cm"]
    found = answered("correct", "--reading-cm", repr(told), *words.split())
    assert found["girth_cm"] == pytest.approx(GIRTH, rel=1e-13)
    assert sum(shares(found).values()) == pytest.approx(told - GIRTH, rel=1e-9)


@pytest.mark.parametrize(
    ("words", "half", "said"),
    [
        ((), 0.05, "off either way by up to 0.05 cm"),
        (("--rounding", "down"), 0.1, "too small by up to 0.1 cm"),
    ],
)
def test_rounding_cannot_be_undone(run, answered, words, half, said) -> None:
    """It is told how far it reaches, and the girth stays the reading."""
    words = ("correct", "--reading-cm", "125.6", "--resolution-cm", "0.1", *words)
    found = answered(*words)
    assert (found["girth_cm"], found["rounding_cm"]) == (125.6, half)
    assert said in run(*words).stdout


def test_the_text_tells_what_cannot_be_undone(run) -> None:
    """Each such fault, with its side and its reach."""
    text = run("correct", "--reading-cm", "125.6", "--stretch-percent", "2").stdout
    unwrapped = re.sub(r"\n {32}(?=\S)", " ", text)
    for one in UNKNOWABLE:
        side = "much" if one.raises_reading else "little"
        assert re.search(rf"^  {one.fault} +too {side} +{re.escape(one.reach)}$", unwrapped, re.M)
    rows = [line.split() for line in text.splitlines()]
    assert ["stretch", "-2.5120"] in rows
    assert ["Girth:", "128.11", "cm"] in rows
    assert max(map(len, text.splitlines())) <= 80
    sound = run("correct", "--reading-cm", "125.6").stdout
    assert "Nothing was undone" in sound
    assert "same pull all along" not in sound + text


def test_a_pull_is_undone_as_on_a_smooth_post(run) -> None:
    """What is assumed of the pull stands beside what was undone; 125·(1 + 40/25 000) = 125.20."""
    words = "correct --reading-cm 125 --pull-n 90 --stiffness-n 25000"
    text = run(*words.split()).stdout
    assert "Girth:    125.20 cm" in text
    assert "same pull all along, as on a smooth post. On bark friction takes" in text


def test_a_shrunk_band_is_corrected(answered) -> None:
    """Each mark covers 0.98 cm: 128.23 cm come back to 125.67."""
    found = answered("correct", "--reading-cm", "128.23", "--shrink-percent", "2")
    assert found["girth_cm"] == pytest.approx(128.23 * 0.98)
    assert shares(found) == {"shrinking": pytest.approx(128.23 * 0.02)}


@pytest.mark.parametrize(
    ("words", "sentence"),
    [
        ("", "--reading-cm is missing; expected a girth in cm, as it was read."),
        ("--reading-cm 0", "--reading-cm is 0 cm; expected a finite number above 0"),
        ("--reading-cm -3", "--reading-cm is -3 cm; expected a finite number above 0"),
        ("--reading-cm wide", "--reading-cm is 'wide'; expected a finite number in cm."),
        ("--reading-cm 20001", "--reading-cm is 20001 cm; expected a finite number above 0"),
        ("--reading-cm 5 --worn-start-cm 5", "--reading-cm is 5 cm; expected a reading longer"),
        ("--reading-cm 5 --temperature-c 3", "--material is missing; expected a material, or"),
        ("--reading-cm 5 --stretch-percent -200", "--stretch-percent is -200 %; expected a finite"),
        ("--reading-cm 5 --slack-cm 1", "there is no option '--slack-cm' here; expected"),
        (
            "--reading-cm 5 more",
            "'more' was not understood; expected options only, like --json.",
        ),
    ],
)
def test_correct_refuses_in_one_sentence(refused, words: str, sentence: str) -> None:
    assert refused("correct", *words.split()).startswith(sentence)


def test_a_reading_as_people_type_it(answered, refused) -> None:
    """With its unit; alone it is asked back; a material that is nearly one, too."""
    plain = answered("correct", "--reading-cm", "126.3")
    assert answered("correct", "--reading-cm", "126,3 cm") == plain
    assert answered("correct", "--reading-cm", "126,3", "CM") == plain
    for typed, meant in (("1263 mm", "126.3 cm"), ("50 in", "127 cm")):
        said = refused("correct", "--reading-cm", typed)
        assert said == f"--reading-cm is '{typed}'; did you mean {meant}?"
    assert refused("correct", "--reading-cm", "3 m2").endswith("expected a finite number in cm.")
    assert refused("correct", "--reading-cm", "126.3", "ells").startswith("'ells' was not")
    for words in (["126.3"], ["126.3 cm"], ["126.3", "cm"]):
        said = refused("correct", *words)
        text = " ".join(words)
        assert said == f"'{text}' was not understood; did you mean --reading-cm {text}?"
    assert refused("correct", "disc.csv").endswith("expected options only, like --json.")
    for typed, rest in (
        ("stel", "'stel'; did you mean steel?"),
        ("Steel", "'Steel'; did you mean steel?"),
        ("", "empty; expected one of: cloth, "),
    ):
        said = refused("correct", "--reading-cm", "126", "--material", typed)
        assert said.startswith(f"--material is {rest}")
