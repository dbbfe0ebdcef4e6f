"""The published records: read as published, converted where the name says so, safe from change."""

import dataclasses

import numpy as np
import pytest

from mensura.places import data_file, shipped
from mensura.stems import cherry_trees, orange_girths


def test_orange_girths():
    """Five trees at seven ages, millimetres made centimetres."""
    record = orange_girths()
    assert record.tree.dtype == np.int64
    assert sorted(set(record.tree.tolist())) == [1, 2, 3, 4, 5]
    assert record.age_days[:7].tolist() == [118, 484, 664, 1004, 1231, 1372, 1582]
    assert record.girth_cm[0] == 3.0
    assert record.girth_cm.max() == 21.4
    assert {len(column) for column in vars(record).values()} == {35}


def test_a_trunk_does_not_shrink():
    """Within each tree the girth never falls with age."""
    record = orange_girths()
    for tree in range(1, 6):
        assert (np.diff(record.girth_cm[record.tree == tree]) >= 0).all()


def test_cherry_trees():
    """Thirty-one trees, sorted by the column that is wrongly called Girth."""
    record = cherry_trees()
    assert {len(column) for column in vars(record).values()} == {31}
    assert (record.labelled_girth_in[0], record.labelled_girth_in[-1]) == (8.3, 20.6)
    assert (np.diff(record.labelled_girth_in) >= 0).all()
    assert (record.height_ft.min(), record.height_ft.max()) == (63, 87)
    assert (record.volume_ft3.min(), record.volume_ft3.max()) == (10.2, 77.0)


@pytest.mark.parametrize("load", [orange_girths, cherry_trees])
def test_records_cannot_be_changed(load):
    """Neither a column nor a number of a record can be overwritten."""
    record = load()
    name = dataclasses.fields(record)[0].name
    with pytest.raises(dataclasses.FrozenInstanceError):
        setattr(record, name, None)
    with pytest.raises(ValueError, match="read-only"):
        getattr(record, name)[0] = 0


def test_every_file_and_column_is_explained():
    """data/README.md names every data file and each of its columns."""
    text = (shipped("data") / "README.md").read_text("utf-8")
    files = sorted(shipped("data").glob("*.csv"))
    assert files
    for file in files:
        lines = [line for line in file.read_text("utf-8").splitlines() if line[0] != "#"]
        chapter = text.split(f"## {file.name}")[1].split("\n## ")[0]
        for column in lines[0].split(","):
            assert f"| `{column}` |" in chapter
        assert f"| `{file.name}` | {len(lines) - 1} |" in text


def test_a_data_file_that_is_not_there():
    """The refusal lists the files that are."""
    with pytest.raises(FileNotFoundError, match=r"there are: .*cherry-trees\.csv"):
        data_file("missing.csv")


def test_first_and_last_girths_of_the_orange_trees():
    """One a tree, in the trees' order: the ends of each tree's own row of the record."""
    record = orange_girths()
    for tree in range(1, 6):
        girths = record.girth_cm[record.tree == tree]
        assert record.first_cm[tree - 1] == girths.min() == girths[0]
        assert record.last_cm[tree - 1] == girths[-1] == girths.max()
