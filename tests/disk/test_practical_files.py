"""A practical's tables and pages on the disk: safe in a spreadsheet, nothing overwritten."""

from __future__ import annotations

import csv
import io
from dataclasses import replace
from pathlib import Path

import pytest

from mensura.checks import MeasureError
from mensura.disk.practical_files import note_names, save_all, tidy_tables
from mensura.disk.readings_table import Problem
from mensura.estimates.drawn_practical import drawn_practical, faulty_practical
from mensura.estimates.practical import Practical, study_practical


@pytest.fixture(scope="module")
def study() -> Practical:
    return study_practical(faulty_practical(3).readings)


def rows(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(io.StringIO(text)))


def test_tables_hold_what_was_found(study: Practical) -> None:
    tables = {name: rows(text) for name, text in tidy_tables(study).items()}
    off = {(one["name"], one["verdict"]) for one in tables["hands"] + tables["instruments"]}
    assert {("Q03", "reads-low"), ("K3", "reads-high"), ("T2", "reads-low")} <= off
    assert len(tables["hands"]) == len(study.judged.hands)
    assert [int(one["row"]) for one in tables["flags"]] == [one.row for one in study.flags]
    named = [(one["calipers"], one["without_off"]) for one in tables["agreement"]]
    calipers = ("single", "pair", "without ovality")
    assert named == [(one, off) for off in ("no", "yes") for one in calipers]
    off = [one for one in tables["precision"] if one["without_off"] == "yes"]
    assert [one["instrument"] for one in off] == ["T1", "T2", "T3"]
    single = tables["agreement"][0]
    assert study.agreement is not None
    assert float(single["lower_cm"]) == pytest.approx(study.agreement.single.lower_cm)
    assert len(tables["stems"]) == 20


def test_every_row_is_as_long_as_its_header_and_no_cell_is_a_formula(study: Practical) -> None:
    """Also with codes and cells that somebody meant to be one."""
    judged = replace(study.judged, hands=(replace(study.judged.hands[0], name="=cmd()"),))
    bad = (
        Problem(7, "reading", "=HYPERLINK(1)", "a number"),
        Problem(8, "stem", "@x\ny", "a code"),
    )
    tables = tidy_tables(replace(study, judged=judged), bad)
    for text in tables.values():
        lines = list(csv.reader(io.StringIO(text)))
        assert {len(one) for one in lines} == {len(lines[0])}
        for cell in (cell for row in lines for cell in row):
            assert not cell.startswith(("=", "+", "@", "\t", "\r"))
            assert not cell.startswith("-") or float(cell) < 0
    assert rows(tables["hands"])[0]["name"] == "'=cmd()"
    assert [one["value"] for one in rows(tables["problems"])] == ["'=HYPERLINK(1)", "'@x y"]


def test_a_study_of_little_has_all_its_tables() -> None:
    empty = drawn_practical(2).readings
    none = replace(empty, **{one: getattr(empty, one)[:0] for one in (
        "stem", "hand", "instrument", "clerk", "girth", "direction_deg", "repeat", "reading_cm",
        "row")})  # fmt: skip
    tables = tidy_tables(study_practical(none))
    assert set(tables) == set(tidy_tables(study_practical(empty)))
    assert all(text.count("\r\n") == 1 for text in tables.values())


def test_codes_never_become_paths() -> None:
    names = note_names(["Q07", "../../etc", "a/b", "CON", "Zoë", "x" * 60, "=1"])
    assert names[0] == "note-Q07"
    assert len(set(names)) == 7
    assert all("/" not in one and ".." not in one and one.isascii() for one in names)


def test_nothing_is_overwritten_and_files_of_a_run_belong_together(tmp_path: Path) -> None:
    (tmp_path / "b-2.csv").write_text("mine")
    files = {"a.html": "one", "b.csv": "two"}
    first = save_all(files, tmp_path / "new" / "folder")
    assert [one.read_text("utf-8-sig") for one in first] == ["one", "two"]
    save_all(files, tmp_path)
    assert [one.name for one in save_all(files, tmp_path)] == ["a-3.html", "b-3.csv"]
    assert (tmp_path / "b-2.csv").read_text() == "mine"
    assert not (tmp_path / "a-2.html").exists()


def test_a_folder_that_is_none_is_refused(tmp_path: Path) -> None:
    (tmp_path / "taken").write_text("mine")
    with pytest.raises(MeasureError, match="folder"):
        save_all({"a.csv": "x"}, tmp_path / "taken")
