"""The invented stand: its files are what was drawn, and its truth is within its intervals."""

from __future__ import annotations

import pytest

from mensura.disk.stand_file import read_stand
from mensura.estimates.quillmere_stand import quillmere_stand
from mensura.estimates.stand import stand
from mensura.estimates.tree_volume import FormFactor
from mensura.places import data_file


def test_the_files_are_what_was_drawn():
    found = quillmere_stand()
    assert data_file("quillmere-trees.csv").read_text("utf-8") == found.trees_csv
    assert data_file("quillmere-plots.csv").read_text("utf-8") == found.plots_csv


def test_the_truth_lies_within_the_intervals():
    """And the readings, to a millimetre, are those of the drawn trees by a stretched tape."""
    drawn = quillmere_stand()
    file = read_stand(data_file("quillmere-trees.csv"), data_file("quillmere-plots.csv"))
    assert file.from_girths
    assert 1.025 * file.diameter_cm == pytest.approx(drawn.trees.diameter_cm, abs=0.017)
    volumes = FormFactor(0.45).volume_m3(file.diameter_cm, file.height_m)
    found = stand(file.trees(volumes), file.plots)
    for name, truth in drawn.wood.truth.items():
        one = getattr(found.per_hectare, name)
        assert one.interval[0] < truth < one.interval[1]
        assert one.value != pytest.approx(truth, rel=0.01)
    assert found.empty == ("P09",)
    assert found.by_ratio


def test_nothing_stands_in_the_glade():
    drawn = quillmere_stand()
    assert 8 not in drawn.trees.plot
    middle = drawn.plots.names.index("P09")
    assert drawn.plots.area_m2[middle] == 500
