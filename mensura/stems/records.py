"""Published records of trees, as they were published: the project's copies, read without ado.

Nothing is mended on reading but the unit. A column that carries a wrong name in its source keeps
it here, marked as a label, for the wrong name is the lesson (see data/README.md).
"""

from __future__ import annotations

import csv
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from mensura.checks import FloatArray, kept
from mensura.places import data_file


@dataclass(frozen=True, eq=False)
class OrangeGirths:
    """Girths of five orange trees at seven ages; 35 rows.

    tree: number of the tree, 1 to 5, a label without order; age_days: days since 31 December 1968;
    girth_cm: girth of the trunk, converted from the published millimetres.
    Source: [Draper1998].

    >>> len(orange_girths().girth_cm)
    35
    """

    tree: NDArray[np.int64]
    age_days: FloatArray
    girth_cm: FloatArray

    @property
    def first_cm(self) -> FloatArray:
        """Each tree's girth when it was taken first, tree 1 to 5, in cm."""
        return self._at_cm(float(self.age_days.min()))

    @property
    def last_cm(self) -> FloatArray:
        """Each tree's girth when it was taken last, tree 1 to 5, in cm."""
        return self._at_cm(float(self.age_days.max()))

    def _at_cm(self, age_days: float) -> FloatArray:
        then = self.age_days == age_days
        girths: FloatArray = self.girth_cm[then][np.argsort(self.tree[then])]
        return girths


@dataclass(frozen=True, eq=False)
class CherryTrees:
    """Thirty-one felled black cherry trees, measured at 4 ft 6 in above the ground.

    labelled_girth_in: the column that was published under the name Girth, in inches; it holds
    diameters; height_ft: height of the tree, feet; volume_ft3: volume of timber, cubic feet.
    Source: [Meyer1953]; that height is breast height in the United States [BCFT].

    >>> len(cherry_trees().volume_ft3)
    31
    """

    labelled_girth_in: FloatArray
    height_ft: FloatArray
    volume_ft3: FloatArray


def orange_girths() -> OrangeGirths:
    """The record of the orange trees, in which the girth really is a girth.

    Returns arrays of 35 rows in the published order, read only.

    >>> record = orange_girths()
    >>> record.girth_cm[record.tree == 3].tolist()
    [3.0, 5.1, 7.5, 10.8, 11.5, 13.9, 14.0]
    """
    table = _table("orange-girths.csv", ("tree", "age_days", "girth_mm"))
    return OrangeGirths(
        tree=kept(table["tree"].astype(np.int64)),
        age_days=kept(table["age_days"]),
        girth_cm=kept(table["girth_mm"] / 10),
    )


def cherry_trees() -> CherryTrees:
    """The record of the cherry trees, whose column Girth holds diameters.

    Returns arrays of 31 rows in the published order, read only. The proof that the label is wrong:
    :func:`mensura.estimates.form_factor.form_factors`.

    >>> record = cherry_trees()
    >>> record.labelled_girth_in[:3].tolist(), record.volume_ft3[:3].tolist()
    ([8.3, 8.6, 8.8], [10.3, 10.3, 10.2])
    """
    table = _table("cherry-trees.csv", ("girth_in", "height_ft", "volume_ft3"))
    return CherryTrees(
        labelled_girth_in=kept(table["girth_in"]),
        height_ft=kept(table["height_ft"]),
        volume_ft3=kept(table["volume_ft3"]),
    )


def _table(name: str, columns: tuple[str, ...]) -> dict[str, FloatArray]:
    with data_file(name).open(encoding="utf-8", newline="") as lines:
        rows = list(csv.DictReader(lines))
    return {column: np.array([row[column] for row in rows], dtype=np.float64) for column in columns}
