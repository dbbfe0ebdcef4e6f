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


def _photograph(place: Path) -> float:
    """A light ellipse on dark ground, 40 by 30 cm at 10 px a cm, its middle at (500, 400)."""
    from PIL import Image, ImageDraw

    picture = Image.new("L", (1000, 800), 60)
    ImageDraw.Draw(picture).ellipse((300, 250, 700, 550), fill=190)
    picture.save(place / "disc.png")
    return math.pi * 20.05 * 15.05  # both ends of the box are painted


def test_a_photograph_with_a_scale_or_four_marks(answered, run, tmp_path: Path) -> None:
    """The same ellipse by both; its pith in px; a piece cut off and one put on by hand."""
    true = _photograph(tmp_path)
    scale = ("cut-end", "disc.png", "--scale-cm", "50", "--scale-px", "100,700,600,700")
    found = answered(*scale, "--pith-px", "550,400")
    assert found["true_area_cm2"] == pytest.approx(true, rel=2e-3)
    assert (found["longest_cm"], found["shortest_cm"]) == pytest.approx((40.1, 30.1), rel=2e-3)
    assert found["pith"]["off_centre_cm"] == pytest.approx(5, abs=0.1)
    assert found["section"] == "lighter"
    assert found["inputs"]["photo"]["file"] == "disc.png"
    marks = "100,100,900,100,900,700,100,700"
    beside = answered("cut-end", "disc.png", "--marks-cm", "80x60", "--marks-px", marks)
    assert beside["true_area_cm2"] == pytest.approx(found["true_area_cm2"], rel=1e-3)
    less = answered(*scale, "--cut-px", "500,200,800,200,800,600,500,600")
    assert less["true_area_cm2"] == pytest.approx(true / 2, rel=1e-2)
    more = answered(*scale, "--add-px", "480,300,520,300,520,200,480,200")
    assert more["longest_cm"] == pytest.approx(found["longest_cm"], rel=1e-3)
    assert more["shortest_cm"] > found["shortest_cm"] + 2
    assert run(*scale).stdout.startswith("Found: what is lighter than grey level")


def test_a_page_and_the_outline_are_saved(run, answered, tmp_path: Path) -> None:
    """The outline over its photograph stands above every figure; the file gives the same cut."""
    _photograph(tmp_path)
    scale = ("disc.png", "--scale-cm", "50", "--scale-px", "100,700,600,700")
    told = run("cut-end", *scale, "--out", "cut").stdout
    assert "Saved:" in told
    page = (tmp_path / "cut" / "disc-cut-end.html").read_text("utf-8")
    over, chart = page.index("found outline"), page.index("its longest width")
    assert over < chart < page.index("True area")
    assert "<svg" not in page  # two in one page would share the names of their marks
    again = answered("cut-end", "--outline", "cut/disc-outline.csv")
    found = answered("cut-end", *scale)
    assert again["true_area_cm2"] == pytest.approx(found["true_area_cm2"], rel=1e-5)
    mine = tmp_path / "cut" / "disc-outline.csv"
    mine.write_text("mine", "utf-8")
    run("cut-end", "--outline", "square.csv", "--out", "cut")
    run("cut-end", *scale, "--out", "cut")
    assert (tmp_path / "cut" / "disc-outline-old.csv").read_text("utf-8") == "mine"
    assert "found outline" not in (tmp_path / "cut" / "square-cut-end.html").read_text("utf-8")


def test_what_has_to_be_looked_at_is_told(answered, run, tmp_path: Path) -> None:
    """A scale across the edge: in the text, in JSON and above the figures of the page."""
    _photograph(tmp_path)
    told = "the scale touches the outline: look there"
    scale = ("cut-end", "disc.png", "--scale-cm", "50", "--scale-px")
    assert answered(*scale, "100,700,600,700")["notes"] == []
    (note,) = answered(*scale, "400,400,900,400")["notes"]
    assert note.startswith(told)
    printed = run(*scale, "400,400,900,400", "--out", "cut").stdout
    assert f"Note: {told}" in printed
    page = (tmp_path / "cut" / "disc-cut-end.html").read_text("utf-8")
    assert page.index(told) < page.index("found outline")
    assert told not in run(*scale, "100,700,600,700").stdout


def test_photographs_that_are_refused(refused, tmp_path: Path) -> None:
    """In one sentence each, under the option's own name."""
    _photograph(tmp_path)
    (tmp_path / "words.jpg").write_text("no picture", "utf-8")
    scale = ("--scale-cm", "50", "--scale-px", "100,700,600,700")
    assert "expected" in refused("cut-end", "words.jpg", *scale)
    assert "expected" in refused("cut-end", "none.jpg", *scale)
    short = refused("cut-end", "disc.png", "--scale-cm", "50", "--scale-px", "9,9,9,9")
    assert short.startswith("--scale-px: the scale is of no length")
    outside = refused("cut-end", "disc.png", "--scale-cm", "50", "--scale-px", "9,9,2000,9")
    assert "lies outside the photograph" in outside
    odd = refused("cut-end", "disc.png", *scale, "--section", "dark")
    assert odd.startswith("--section is 'dark'; ")
    far = refused("cut-end", "disc.png", *scale, "--pith-px", "10,10")
    assert far.startswith("--pith-px, in the cut, is")
    loose = refused("cut-end", "disc.png", *scale, "--add-px", "2,2,60,2,60,60,2,60")
    assert loose.startswith("--add-px: the piece added from (2, 2) does not touch the section")
    marks = ("--marks-cm", "80x60", "--marks-px", "900,100,900,700,100,700,100,100")
    assert refused("cut-end", "disc.png", *marks).startswith("--marks-px: the marks are 600 by 800")


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
