"""What workbook 11 shows of a class: at first sight, and as it was judged."""

import csv
import statistics
from collections import defaultdict

import pytest

from mensura.checks import ChoiceError
from mensura.disk.readings_file import read_readings
from mensura.estimates import class_rows
from mensura.estimates.practical import study_practical
from mensura.estimates.quillmere_practical import quillmere_practical
from mensura.places import data_file

FILE = data_file("quillmere-practical.csv")


@pytest.fixture(scope="module")
def study():
    """Of the file."""
    found = read_readings(FILE)
    return study_practical(found.readings, found.figures)


@pytest.fixture(scope="module")
def lines():
    """The file's rows, by the standard library."""
    text = FILE.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(text[1:]))


@pytest.mark.parametrize("kind", ["girth", "diameter"])
def test_the_first_look_from_the_file(study, lines, kind):
    """Each hand with each instrument, by medians of the standard library."""
    mine = [one for one in lines if one["kind"] == kind]
    stems, cells = defaultdict(list), defaultdict(list)
    for one in mine:
        stems[one["stem"]].append(float(one["reading"]))
    for one in mine:
        middle = statistics.median(stems[one["stem"]])
        over = 100 * (float(one["reading"]) / middle - 1)
        cells[one["hand"], one["instrument"]].append(over)
    for row in class_rows.first_look(study.readings, kind):
        for name, value in row.items():
            if name != "hand":
                found = float(value.replace("−", "-"))
                by_hand = statistics.median(cells[row["hand"], name.partition(",")[0]])
                assert found == pytest.approx(by_hand, abs=0.0501)


def test_two_faults_hide_each_other(study):
    """Q04 with T2 lies in the middle, two per cent above what the others read with it."""
    rows = {row["hand"]: row for row in class_rows.first_look(study.readings, "girth")}
    assert abs(float(rows["Q04"]["T2, %"].replace("−", "-"))) < 0.3
    assert all(row["T2, %"].startswith("−1.") or row["T2, %"].startswith("−2.")
               for hand, row in rows.items() if hand != "Q04")  # fmt: skip


def test_a_kind_that_there_is_not():
    with pytest.raises(ChoiceError):
        class_rows.first_look(quillmere_practical().readings, "height")


def test_everybody_stands_in_one_of_both(study):
    """Six hands with two kinds, five instruments; nobody twice."""
    accused, sound = class_rows.accused_rows(study), class_rows.sound_rows(study)
    names = [(row["who"], row["reads"]) for row in accused + sound]
    assert len(names) == len(set(names)) == 6 * 2 + 5
    assert {row["verdict"] for row in sound} <= {"sound", "cannot-tell"}


def test_what_the_hand_practises_is_not_what_the_tape_needs(study):
    """A tilt, a stretch and a zero error, each with the one who has it."""
    rows = {row["who"]: row["most likely"] for row in class_rows.practise_rows(study)}
    assert rows == {"Q04": "tilt", "T2": "stretch", "K1": "zero error"}


def test_slips_stand_in_the_line_that_they_name(study, lines):
    """The figure in that line of the file; what it would have been was what was drawn."""
    were = quillmere_practical().would_be_cm
    for row in class_rows.slip_rows(study):
        one = lines[row["line"] - 3]
        assert (float(one["reading"]), one["hand"]) == (row["read_cm"], row["hand"])
        assert row["would_be_cm"] == pytest.approx(were[row["line"] - 1], rel=0.01)


@pytest.mark.parametrize("tape", ["T1", "T3"])
def test_repeatability_from_the_file(study, lines, tape):
    """Pooled over hands and stems, by the standard library, where no figure was set aside."""
    cells = defaultdict(list)
    for one in lines:
        if one["instrument"] == tape:
            cells[one["stem"], one["hand"]].append(float(one["reading"]))
    squares = sum(statistics.variance(cell) * (len(cell) - 1) for cell in cells.values())
    by_hand = (squares / sum(len(cell) - 1 for cell in cells.values())) ** 0.5
    rows = {row["instrument"]: row["repeatability_cm"] for row in class_rows.precision_rows(study)}
    assert rows[tape] == pytest.approx(by_hand, rel=0.03)


def test_an_oval_makes_single_readings_lie_far_apart(study):
    """One reading, the same with its oval's part taken out, a pair's mean: the first far wider."""
    single, left, pair = class_rows.limits_rows(study)
    assert single["wide_cm"] > 2 * left["wide_cm"]
    assert single["wide_cm"] > 2 * pair["wide_cm"]
    for row in (single, left, pair):
        assert row["upper_cm"] - row["lower_cm"] == pytest.approx(row["wide_cm"])
        assert row["upper_cm"] + row["lower_cm"] == pytest.approx(2 * row["mean_cm"])
