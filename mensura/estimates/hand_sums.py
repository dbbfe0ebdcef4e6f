"""The sums of a large, thin least-squares problem: a cell touches eight numbers, a group a few.

Which products fall on which place of the normal equations is worked out once; a round then adds up
products, in time and memory that grow with the cells. The numbers of a stem come in a block of
their own and are taken out first, so that what is inverted is as large as hands and instruments.
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.readings import IntArray

#: Numbers that belong to one stem.
BLOCK = 4
#: Up to so many entries, what lies between stems and the rest is kept as a full table.
_FULL = 2_000_000


def _summed(places: IntArray, numbers: FloatArray, length: int) -> FloatArray:
    return np.bincount(places, numbers, length).astype(np.float64, copy=False)


def _inverse(square: FloatArray) -> FloatArray:
    return np.linalg.inv(square).astype(np.float64, copy=False)


@dataclass(frozen=True, eq=False)
class Solved:
    """The solution, stems' numbers and the others'.

    stems: a row a stem; others: the rest; covariance: of the rest; inverse: of each stem's block;
    taken: by kind, how many of the figures the stems' own numbers take up; oval_taken: how many of
    them the second and third do; others_taken: how much of a figure each of the others does.
    """

    stems: FloatArray
    others: FloatArray
    covariance: FloatArray
    inverse: FloatArray
    taken: FloatArray
    oval_taken: float
    others_taken: FloatArray


class NormalSums:
    """Places of all products, and one round's solution.

    columns: of each cell, the numbers it touches, rising, those of stems first; group: of each
    cell; kind: of each group, 0 or 1; stem_count, other_count: stems, and numbers that are no
    stem's.
    """

    def __init__(
        self,
        columns: IntArray,
        group: IntArray,
        kind: IntArray,
        stem_count: int,
        other_count: int,
    ) -> None:
        self.columns, self.group, self.kind = columns, group, kind
        self.stem_count, self.other_count = stem_count, other_count
        self.base = BLOCK * stem_count
        self.left, self.right = np.triu_indices(columns.shape[1])
        # a group's sum touches what any of its cells touches
        width = self.base + other_count
        entries, inverse = np.unique(group[:, None] * width + columns, return_inverse=True)
        self.entry_of = inverse.reshape(columns.shape)
        self.entry_group, self.entry_column = entries // width, entries % width
        sizes = np.bincount(self.entry_group, minlength=kind.size)
        place = np.arange(entries.size)
        last = np.cumsum(sizes)[self.entry_group]
        self.pair_left = np.repeat(place, last - place)
        begin = np.cumsum(last - place) - (last - place)
        self.pair_right = np.arange(self.pair_left.size) - np.repeat(begin - place, last - place)
        row = np.concatenate([columns[:, self.left].ravel(), self.entry_column[self.pair_left]])
        column = np.concatenate(
            [columns[:, self.right].ravel(), self.entry_column[self.pair_right]]
        )
        self._places(row, column)
        # the products of the second kind that fall into the stems' blocks
        of_cell = np.repeat(kind[group] == 1, self.left.size)
        second = np.concatenate([of_cell, kind[self.entry_group[self.pair_left]] == 1])
        self.of_second = np.flatnonzero(second & (self.place < self.outer_from))

    def _places(self, row: IntArray, column: IntArray) -> None:
        """Where each product is added: blocks of stems, the others' table, or between them."""
        base, others = self.base, self.other_count
        inner, outer = column < base, row >= base
        place = np.empty(row.size, np.int64)
        at = row[inner]
        place[inner] = at * BLOCK + column[inner] % BLOCK
        self.outer_from = base * BLOCK
        place[outer] = self.outer_from + (row[outer] - base) * others + column[outer] - base
        between = ~(inner | outer)
        self.between_from = self.outer_from + others * others
        keys, inverse = np.unique(
            row[between] * others + column[between] - base, return_inverse=True
        )
        place[between] = self.between_from + inverse
        self.between_row, self.between_column = keys // others, keys % others
        self.place, self.length = place, self.between_from + keys.size

    def solve(
        self,
        numbers: FloatArray,
        right: FloatArray,
        precision: FloatArray,
        take: FloatArray,
        stem_before: FloatArray,
        before: FloatArray,
    ) -> Solved:
        """One weighted least-squares solution.

        numbers: of each cell, at its columns; right: what each cell should come to; precision: of
        each cell, one over its own variance; take: of each group, what its shared variance takes
        out of the square of its sum; stem_before, before: what is believed of a stem's numbers and
        of the others beforehand, one over variance about nought.
        """
        weighted = numbers * precision[:, None]
        entry = np.bincount(self.entry_of.ravel(), weighted.ravel(), self.entry_group.size)
        products = np.concatenate(
            [
                (weighted[:, self.left] * numbers[:, self.right]).ravel(),
                -(take[self.entry_group] * entry)[self.pair_left] * entry[self.pair_right],
            ]
        )
        sums = _summed(self.place, products, self.length)
        blocks = self._blocks(sums[: self.outer_from])
        sides = _summed(self.columns.ravel(), (weighted * right[:, None]).ravel(),
                            self.base + self.other_count)  # fmt: skip
        of_group = np.bincount(self.group, precision * right, self.kind.size)
        sides -= np.bincount(
            self.entry_column, entry * (take * of_group)[self.entry_group], sides.size
        )
        inverse = _inverse(blocks + np.diag(stem_before))
        outer = sums[self.outer_from : self.between_from].reshape(2 * (self.other_count,))
        outer = np.triu(outer) + np.triu(outer, 1).T + np.diag(before)
        others, covariance, stems = self._eliminate(
            inverse, outer, sums[self.between_from :], sides
        )
        second = self._blocks(
            _summed(self.place[self.of_second], products[self.of_second], self.outer_from)
        )
        parts = (blocks - second, second)
        own = [np.einsum("sij,sji->i", inverse, part) for part in parts]
        taken = np.array([np.sum(one) for one in own])
        ovals, theirs = float(np.sum(own[1][1:3])), 1 - np.diag(covariance) * before
        return Solved(stems, others, covariance, inverse, taken, ovals, theirs)

    def _blocks(self, sums: FloatArray) -> FloatArray:
        upper = sums.reshape(self.stem_count, BLOCK, BLOCK)
        return upper + np.triu(upper, 1).transpose(0, 2, 1)

    def _eliminate(
        self, inverse: FloatArray, outer: FloatArray, between: FloatArray, sides: FloatArray
    ) -> tuple[FloatArray, FloatArray, FloatArray]:
        """The others' numbers, their covariance, then the stems'."""
        count, base = self.other_count, self.base
        first = sides[:base].reshape(-1, BLOCK)
        own = np.einsum("sij,sj->si", inverse, first)
        if base * count <= _FULL:
            side = np.zeros((base, count))
            side[self.between_row, self.between_column] = between
            solved = (inverse @ side.reshape(-1, BLOCK, count)).reshape(base, count)
            rest = outer - side.T @ solved
        else:
            from scipy.sparse import bsr_matrix, csr_matrix

            thin = csr_matrix((between, (self.between_row, self.between_column)), (base, count))
            places = np.arange(self.stem_count + 1)
            blocks = bsr_matrix((inverse, places[:-1], places), shape=(base, base)).tocsr()
            solved = blocks @ thin
            rest = outer - (thin.T @ solved).toarray()
        covariance = _inverse((rest + rest.T) / 2)
        others: FloatArray = covariance @ (sides[base:] - solved.T @ sides[:base])
        return others, covariance, own - (solved @ others).reshape(-1, BLOCK)
