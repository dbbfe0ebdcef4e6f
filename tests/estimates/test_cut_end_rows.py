"""Rows of workbook 13: each figure stands under its own head, and parts add up."""

import pytest

from mensura.estimates.cut_end import cut_end
from mensura.estimates.cut_end_rows import (
    bark_rows,
    found_rows,
    practice_rows,
    spoilt_rows,
    standing_rows,
    tape_rows,
)
from mensura.instruments.drawn_photograph import CAMERA_CM, NEARER_CM, spoilt_photographs
from mensura.places import data_file
from mensura.stems.outline_file import read_outline

SQUARE_TAPE = 100 * (4 / 3.141592653589793 - 1)


def of(words: str) -> float:
    """A number as it is written in a cell, from its beginning."""
    return float(words.split(" ")[0].replace("−", "-"))


@pytest.fixture(scope="module")
def cut():
    """The disc of the page."""
    return cut_end(read_outline(data_file("quillmere-disc-15.csv")), 3.0)


def test_two_parts_are_the_tapes_excess(cut) -> None:
    """To the digits that are shown."""
    whole, hollows, rest, _ = (of(row["area over, %"]) for row in tape_rows(cut))
    assert hollows + rest == pytest.approx(whole, abs=0.011)
    assert whole == pytest.approx(cut.tape_over_percent, abs=0.006)


def test_found_stands_beside_known(cut) -> None:
    """The second column only where there is something known, and it is the known one."""
    other = cut_end(read_outline(data_file("quillmere-disc-07.csv")), 45.0)
    rows = found_rows(cut, other)
    assert [row["found"] for row in rows] == [row["found"] for row in found_rows(cut)]
    assert of(rows[1]["as it was drawn"]) == pytest.approx(other.taut_girth_cm, abs=0.006)
    assert "as it was drawn" not in found_rows(cut)[0]


def test_every_practice_has_its_ends(cut) -> None:
    """Least, mean, most in that order; the tape first, the same in all."""
    tape, *rows = practice_rows(cut)
    assert tape["least, %"] == tape["mean, %"] == tape["most, %"]
    assert len(rows) == len(cut.calipers) + len(cut.chosen)
    for row in rows[: len(cut.calipers)]:
        assert of(row["least, %"]) <= of(row["mean, %"]) <= of(row["most, %"])


def test_bark_and_standing(cut) -> None:
    """Over the bark a tape claims more than on the wood; the disc's excess is above the span."""
    bark = read_outline(data_file("quillmere-disc-17.csv"))
    wood = read_outline(data_file("quillmere-disc-17-wood.csv"))
    values = [of(row["value"]) for row in bark_rows(cut_end(bark, 45.0, None, wood).under_bark)]
    assert values[1] == pytest.approx(100 * (1 - wood.area_cm2 / bark.area_cm2), abs=0.06)
    assert values[4] > values[1] > values[3] > 0
    first, second = standing_rows(cut)
    assert (first["this cut is"], first["published, %"]) == ("above", "0.47 to 2.37")
    assert second["published, %"] == "over 3"


def test_what_spoils_a_photograph() -> None:
    """A near scale by similar triangles; a groove spares the girth; put right, all is well."""
    rows = spoilt_rows(spoilt_photographs()[1:])
    less = 1 - NEARER_CM / CAMERA_CM
    assert of(rows[0]["area, %"]) == pytest.approx(100 * (less**2 - 1), abs=0.11)
    assert rows[0]["then area, %"] == ""
    groove = next(row for row in rows if row["photograph"] == "a saw mark")
    assert of(groove["girth, %"]) == pytest.approx(0, abs=0.06)
    assert of(groove["tape's excess, points"]) > 3
    again = [of(row["then area, %"]) for row in rows if row["then area, %"]]
    assert len(again) == 4
    assert max(map(abs, again)) <= 0.1
