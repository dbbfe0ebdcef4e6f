"""The practical of workbook 11: its file is what was drawn, and its faults are to be found."""

import numpy as np
import pytest

from mensura.disk.readings_file import read_readings
from mensura.estimates.hands import judge_hands
from mensura.estimates.quillmere_practical import (
    PLANTED,
    STRETCH_PERCENT,
    planted_rows,
    quillmere_practical,
)
from mensura.estimates.suspicious import suspicious
from mensura.places import data_file

FILE = "quillmere-practical.csv"


@pytest.fixture(scope="module")
def found():
    """The file, read."""
    return read_readings(data_file(FILE))


def test_the_file_holds_what_was_drawn(found):
    """Column by column, in the same order, without a problem; the opening says what it is."""
    drawn = quillmere_practical().readings
    assert not found.problems
    assert "invented" in data_file(FILE).read_text(encoding="utf-8").splitlines()[0].lower()
    for codes in ("stems", "hands", "instruments"):
        assert getattr(found.readings, codes) == getattr(drawn, codes)
    for column in ("stem", "hand", "instrument", "girth", "direction_deg", "repeat", "reading_cm"):
        np.testing.assert_array_equal(getattr(found.readings, column), getattr(drawn, column))


def test_it_is_what_the_page_says():
    """18 stems, six hands, a tape laid three times, calipers read twice at right angles."""
    one = quillmere_practical().readings
    assert (len(one.stems), len(one.hands), len(one.instruments)) == (18, 6, 5)
    assert one.repeat[one.girth].max() == 3
    cell = one.stem * 6 + one.hand
    assert set(np.bincount(cell[one.girth])) == {0, 3}
    first, second = (one.direction_deg[~one.girth & (one.repeat == k)] for k in (1, 2))
    np.testing.assert_array_equal(second - first, 90.0)


def test_three_faults_are_found_and_nobody_else(found):
    """By name, with their form, and each interval holds what was planted."""
    accused = {(one.name, one.kind): one for one in judge_hands(found.readings).accused}
    assert set(accused) == {(one.who, one.kind) for one in PLANTED}
    for planted in PLANTED:
        one = accused[planted.who, planted.kind]
        size = planted.share_percent or planted.off_cm
        assert one.form == ("share" if planted.share_percent else "constant")
        assert one.verdict == ("reads-high" if size > 0 else "reads-low")
        assert one.interval[0] < size < one.interval[1]


def test_three_figures_written_wrong_are_flagged(found):
    """Those and no others; the opening line puts each a line further down."""
    slips = quillmere_practical().slips
    flags = suspicious(found.readings, found.figures)
    assert {one.row - 1: one.slip for one in flags} == slips


def test_what_is_planted_is_said_in_its_own_terms():
    """A tape stretched by 2.5 % reads 100 cm as 97.56: 2.44 % too little."""
    rows = {row["who"]: row["planted"] for row in planted_rows()}
    assert rows == {"Q04": "+2.00 %", "T2": "−2.44 %", "K1": "+0.80 cm"}
    assert pytest.approx(-0.0243902, abs=1e-7) == 100 / (100 + STRETCH_PERCENT) - 1
