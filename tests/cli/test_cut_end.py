"""`mensura cut-end`: the numbers of its outline, what it prints, and what it refuses."""

from __future__ import annotations

import math
from pathlib import Path

import pytest

from mensura.estimates.cut_end import cut_end
from mensura.places import data_file
from mensura.stems import read_outline

DISC = str(data_file("quillmere-disc-07.csv"))


@pytest.fixture(autouse=True)
def elsewhere(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty folder, but for a square with bark."""
    monkeypatch.chdir(tmp_path)
    (tmp_path / "square.csv").write_text("x_cm;y_cm\n0;0\n40;0\n40;40\n0;40\n", "utf-8")
    (tmp_path / "wood.csv").write_text("x_cm,y_cm\n2,2\n38,2\n38,38\n2,38\n", "utf-8")
    (tmp_path / "wide.csv").write_text("x_cm,y_cm\n0,0\n50,0\n50,40\n0,40\n", "utf-8")


def test_a_square_by_hand(answered) -> None:
    found = answered("cut-end", "--outline", "square.csv", "--under-bark", "wood.csv")
    assert found["true_area_cm2"] == 1600
    assert found["taut_girth_cm"] == 160
    assert found["longest_cm"] == pytest.approx(40 * math.sqrt(2))
    assert found["shortest_cm"] == pytest.approx(40)
    assert found["tape_over_percent"] == pytest.approx(100 * (4 / math.pi - 1))
    assert found["under_bark"]["bark_percent"] == pytest.approx(19)
    one = found["calipers"][0]
    assert one["practice"] == "one"
    assert one["over_percent"][45] == pytest.approx(100 * (math.pi / 2 - 1))
    assert found["inputs"]["under_bark"]["file"] == "wood.csv"


def test_it_is_the_cut_of_the_outline(answered) -> None:
    found = answered("cut-end", "--outline", DISC, "--pith-cm", "0,0", "--step-deg", "5")
    beside = cut_end(read_outline(DISC), 5.0, [0, 0]).to_dict()
    assert {name: found[name] for name in beside} == beside


def test_what_is_printed(run) -> None:
    """Both parts of the tape's error, a row a practice, the published span, and the caution."""
    told = run("cut-end", "--outline", DISC, "--pith-cm", "0,0").stdout
    assert "hollows         +0.82 %" in told
    assert "not round       +2.46 %" in told
    assert "18 directions, arithmetic mean" in told
    assert "above 0.47 to 2.37 %" in told
    assert "Pith:" in told
    assert "Timber is sold on figures" in told
    assert max(map(len, told.splitlines())) <= 100
    assert "Pith:" not in run("cut-end", "--outline", DISC).stdout


def test_a_pith_as_people_type_it(answered) -> None:
    places = [
        answered("cut-end", "--outline", "square.csv", "--pith-cm", text)["pith"]
        for text in ("20.5,18", "20.5 cm, 18 cm", "20,5;18")
    ]
    assert [(one["x_cm"], one["y_cm"]) for one in places] == [(20.5, 18.0)] * 3


@pytest.mark.parametrize(
    ("words", "said"),
    [
        ("", "PHOTO and --outline: neither given; expected exactly one of them."),
        ("square.csv", "PHOTO is 'square.csv'; did you mean --outline square.csv?"),
        ("a.jpg --outline square.csv", "PHOTO and --outline: both given; expected exactly one"),
        ("--outline square.csv --scale-cm 3", "--scale-cm is alone; expected PHOTO beside it."),
        ("a.jpg", "--scale-px and --marks-px: neither given; expected one of them"),
        ("a.jpg --scale-cm 50", "--scale-px is missing; expected it beside --scale-cm."),
        ("a.jpg --scale-cm 50 --scale-px 1,2,3", "--scale-px is '1,2,3'; expected four numbers"),
        ("a.jpg --marks-px 1,2,3 --marks-cm 50", "--marks-cm is '50'; expected two sides in cm"),
        ("--outline square.csv --pith-cm 40,3", "--pith-cm is '40,3'; expected a place inside"),
        ("--outline square.csv --pith-cm 40", "--pith-cm is '40'; expected two numbers in cm"),
        ("--outline square.csv --pith-cm a,b", "--pith-cm is 'a'; expected two numbers in cm"),
        (
            "--outline square.csv --under-bark wide.csv",
            "--under-bark, what of it lies outside the bark, is 400 cm²; expected nothing",
        ),
        ("--outline square.csv --under-bark none.csv", "--under-bark: the file 'none.csv' was not"),
        ("--outline square.csv --step-deg 0", "--step-deg is 0 deg; expected"),
    ],
)
def test_refusals(refused, words: str, said: str) -> None:
    assert refused("cut-end", *words.split()).startswith(said)
