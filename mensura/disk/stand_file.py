"""The trees of plots and the plots themselves, from two CSV files, all their problems at once.

Trees: `plot,tree,diameter_cm` (or `girth_cm`)`,height_m`, and where they are known `species` and
`times`. Plots: `plot,area_m2` or `plot,factor_m2_per_ha`, and where the plot was laid out along
the ground of a slope `slope_deg`. Commas, semicolons or tabs part the columns; a decimal comma is
read beside semicolons or tabs. Further columns, and lines that open with #, are passed over. Cells
are parsed and never evaluated.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import numpy as np

from mensura.checks import LARGEST_CM, FloatArray, shown
from mensura.disk.check_file import FileError, Where, read_bytes, rows_of, text_of
from mensura.disk.codes import LONGEST_CODE, is_code, tidied
from mensura.disk.readings_table import rows_told
from mensura.estimates.angle_count import LARGEST_FACTOR, LEAST_FACTOR
from mensura.estimates.plots import HECTARE_M2, STEEPEST_DEG
from mensura.estimates.stand import IntArray, Plots, Trees
from mensura.estimates.tree_volume import BREAST_M, TALLEST_M
from mensura.tables import NUMBER

#: A million trees have some 30 MB.
MOST_BYTES = 64_000_000
MOST_PLOTS = 100_000
#: A tree counts again from a plot mirrored at an edge, in a corner from two more.
MOST_TIMES = 4

_TREES = "the columns plot,tree,diameter_cm (or girth_cm),height_m"
_PLOTS = "the columns plot,area_m2 or plot,factor_m2_per_ha"
_CODE = f"a code of letters and figures with . - _ inside, at most {LONGEST_CODE}"
#: What a number in each column may be: above, at most, unit; "from" where the least may be.
_BOUNDS: dict[str, tuple[str, float, float, str]] = {
    "diameter_cm": ("above", 0.0, LARGEST_CM, "cm"),
    "girth_cm": ("above", 0.0, float(np.floor(np.pi * LARGEST_CM)), "cm"),
    "height_m": ("above", 0.0, TALLEST_M, "m"),
    "times": ("from", 1.0, float(MOST_TIMES), ""),
    "area_m2": ("above", 0.0, 1e7, "m²"),
    "factor_m2_per_ha": ("from", LEAST_FACTOR, LARGEST_FACTOR, "m²/ha"),
    "slope_deg": ("from", 0.0, STEEPEST_DEG, "degrees"),
}
#: A smaller plot is more likely one in hectares. Our own bound; common practice, no source.
_LEAST_USUAL_M2 = 10.0
#: So many problems are told in full, within so many letters; the others are counted.
_MOST_TOLD, _MOST_LETTERS = 4, 480


@dataclass(frozen=True)
class StandFile:
    """What the two files of a stand hold.

    trees_name, plots_name: of the files; plots: as listed; tree_plot: place among them of each
    tree; diameter_cm, height_m, times: of each; species: of each, "" where none is given; rows: of
    each, its line in the file; from_girths: whether diameters were worked out from girths;
    plot_rows: of each plot, its line in its file.
    """

    trees_name: str
    plots_name: str
    plots: Plots
    tree_plot: IntArray
    diameter_cm: FloatArray
    height_m: FloatArray
    times: FloatArray
    species: tuple[str, ...]
    rows: tuple[int, ...]
    from_girths: bool
    plot_rows: tuple[int, ...]

    @property
    def species_names(self) -> tuple[str, ...]:
        """All species there are, in the order of the alphabet."""
        return tuple(sorted(set(self.species)))

    def odd_notes(self) -> list[str]:
        """What looks like a slip, a sentence each, with file, row and column; nothing is changed.

        No tree at all, areas that look like hectares, heights that do not go with diameters.
        """
        none = [
            f"{shown(self.trees_name)} has a header and no tree: all plots count as zeros. Is it "
            "the right file?"
        ]
        return [*(none if not self.rows else []), *self._small_plots(), *self._odd_heights()]

    def _small_plots(self) -> list[str]:
        """A plot of 500 m² typed in hectares is 0.05."""
        area = self.plots.area_m2
        small = np.flatnonzero(area < _LEAST_USUAL_M2).tolist()
        if not small:
            return []
        first = float(area[small[0]])
        return [
            f"{rows_told([self.plot_rows[at] for at in small])} of {shown(self.plots_name)}, "
            f"column area_m2: {first:g} m² is little for a plot. Is it in hectares? "
            f"{first:g} ha are {first * HECTARE_M2:,.6g} m². Nothing was changed."
        ]

    def _odd_heights(self) -> list[str]:
        """Heights that do not go with diameters.

        A metre of height on a centimetre of diameter is usual; our own bounds are a tenth and four,
        and breast height. Common practice, no source.
        """
        tall, thick = self.height_m, self.diameter_cm
        odd = np.flatnonzero((tall < 0.1 * thick) | (tall > 4.0 * thick) | (tall <= BREAST_M))
        if not odd.size:
            return []
        first = int(odd[0])
        rows = rows_told([self.rows[at] for at in odd.tolist()])
        return [
            f"{rows} of {shown(self.trees_name)}: a height that does not go with the diameter "
            f"({tall[first]:g} m on {thick[first]:.4g} cm). Is it another unit, or a girth for a "
            "diameter? Nothing was changed."
        ]

    def low_notes(self) -> list[str]:
        """That a drawn stem says little of trees with breast height in their upper half."""
        low = np.flatnonzero(self.height_m < 2 * BREAST_M).tolist()
        if not low:
            return []
        return [
            f"{rows_told([self.rows[at] for at in low])} of {shown(self.trees_name)}, column "
            f"height_m: {self.height_m[low[0]]:g} m, so that {BREAST_M} m is in the upper half of "
            "the tree. A taper scaled there says little of the volume. Nothing was changed."
        ]

    def trees(self, volume_m3: FloatArray) -> Trees:
        """The trees, once their volumes are known.

        volume_m3: of each tree.
        """
        names = self.species_names
        at = {name: place for place, name in enumerate(names)}
        places = np.array([at[one] for one in self.species], dtype=np.int64)
        return Trees(
            self.tree_plot, self.diameter_cm, self.height_m, volume_m3, places, names, self.times
        )  # fmt: skip


class StandError(FileError):
    """All that is wrong in one file or two, in one sentence.

    problems: each as a FileError, in their order.

    >>> one = FileError("t.csv", "row 4, column height_m", "is empty", "a number")
    >>> print(StandError([one]))
    t.csv, row 4, column height_m, is empty; expected a number.
    >>> print(StandError([one, one, one]))
    t.csv, row 4, column height_m, is empty (expected a number), t.csv, row 4, column height_m, \
is empty (expected a number) and t.csv, row 4, column height_m, is empty (expected a number); \
expected all 3 problems mended.
    """

    def __init__(self, problems: Sequence[FileError]) -> None:
        first = problems[0]
        super().__init__(
            first.file, first.place, first.wrong, first.expectation, first.field, first.value
        )
        self.problems = tuple(problems)
        if len(problems) == 1:
            return
        if len(problems) == 2:
            both = [
                f"{one.file}{f', {one.place},' if one.place else ''} {one.wrong}; expected "
                f"{one.expectation}"
                for one in problems
            ]
            self.says = f"{both[0]}; and {both[1]}."
        else:
            parts: list[str] = []
            for one in problems[:_MOST_TOLD]:
                place = f", {one.place}," if one.place else ""
                part = f"{one.file}{place} {one.wrong} (expected {one.expectation})"
                if parts and sum(map(len, parts)) + len(part) > _MOST_LETTERS:
                    break
                parts.append(part)
            more = len(problems) - len(parts)
            parts += [f"{more:,} more"] if more else []
            told = f"{', '.join(parts[:-1])} and {parts[-1]}"
            self.says = f"{told}; expected all {len(problems):,} problems mended."
        ValueError.__init__(self, self.says)


def read_stand(trees: Where, plots: Where) -> StandFile:
    """A stand from the file of its trees and the file of its plots.

    trees, plots: paths. Raises FileError, in one sentence with row and column, for what cannot be
    used; of several problems, in one file or both, it is a StandError that has them all.

    >>> from mensura.places import data_file
    >>> found = read_stand(data_file("quillmere-trees.csv"), data_file("quillmere-plots.csv"))
    >>> len(found.plots.names), found.species_names
    (12, ('birch', 'oak', 'pine'))
    """
    texts = []
    for path in (trees, plots):
        file = Path(path)
        texts += [file.name or str(file), _text(file)]
    return parse_stand(texts[1], texts[3], texts[0], texts[2])


def parse_stand(
    trees_text: str,
    plots_text: str,
    trees_name: str = "the trees",
    plots_name: str = "the plots",
) -> StandFile:
    """A stand from the texts of its two files.

    trees_text, plots_text: of the files; trees_name, plots_name: of the files, for refusals. Raises
    FileError as :func:`read_stand` does.

    >>> found = parse_stand("plot,tree,girth_cm,height_m\\nA,1,94.25,21", "plot,area_m2\\nA,500")
    >>> round(float(found.diameter_cm[0]), 1)
    30.0
    """
    problems: list[FileError] = []
    plot_table = _Table(plots_text, plots_name, _PLOTS)
    plots, places = _plots(plot_table, problems)
    table = _Table(trees_text, trees_name, _TREES)
    measure = _measure(table)
    table.need("plot", "tree", measure, "height_m")
    columns: dict[str, list[Any]] = {
        one: [] for one in ("plot", "thick", "height_m", "times", "species")
    }
    seen: dict[tuple[str, str], int] = {}
    for row, cells in table.rows(problems):
        tell = table.teller(row, problems)
        code = tidied(cells["plot"])
        if code.casefold() not in places:
            known = _listed([*plots.names] if plots else [], plots_name)
            tell("plot", cells["plot"], known)
        tree = tidied(cells["tree"])
        if not is_code(tree):
            tell("tree", cells["tree"], _CODE)
        elif (key := (code.casefold(), tree.casefold())) in seen:
            again = f"is {shown(tree)} of plot {shown(code)} again, as in row {seen[key]}"
            once = "each tree of a plot once, with times 2 if it counts twice"
            tell("tree", cells["tree"], "", again, once)
        else:
            seen[key] = row
        columns["plot"].append(places.get(code.casefold(), 0))
        columns["thick"].append(_number(cells[measure], measure, tell))
        columns["height_m"].append(_number(cells["height_m"], "height_m", tell))
        times = cells.get("times", "")
        columns["times"].append(_number(times, "times", tell, whole=True) if times else 1.0)
        species = tidied(cells.get("species", ""))
        if species and not is_code(species):
            tell("species", cells["species"], f"{_CODE}, or nothing")
        columns["species"].append(species.casefold())
        table.used.append(row)
    if problems or plots is None:
        raise StandError(problems)
    thick = np.array(columns["thick"], dtype=np.float64)
    girths = measure == "girth_cm"
    return StandFile(
        trees_name,
        plots_name,
        plots,
        np.array(columns["plot"], dtype=np.int64),
        thick / np.pi if girths else thick,
        np.array(columns["height_m"], dtype=np.float64),
        np.array(columns["times"], dtype=np.float64),
        tuple(columns["species"]),
        tuple(table.used),
        girths,
        tuple(row for row, _ in plot_table.below),
    )


def _plots(table: _Table, problems: list[FileError]) -> tuple[Plots | None, dict[str, int]]:
    """The plots, None if any cannot be used, and each one's place by its name in small letters."""
    kinds = [one for one in ("area_m2", "factor_m2_per_ha") if one in table.names]
    if not kinds:
        got = ", ".join(shown(one) for one in table.head[:6])
        wrong = f"has neither the column area_m2 nor the column factor_m2_per_ha: it has {got}"
        raise FileError(table.name, f"row {table.head_row}", wrong, _PLOTS)
    table.need("plot")
    places: dict[str, int] = {}
    rows: dict[str, int] = {}
    names: list[str] = []
    sizes: dict[str, list[float]] = {one: [] for one in kinds}
    slopes: list[float] = []
    kind_of: dict[str, int] = {}
    for row, cells in table.rows(problems):
        tell = table.teller(row, problems)
        code = tidied(cells["plot"])
        if not is_code(code):
            tell("plot", cells["plot"], _CODE)
        elif code.casefold() in rows:
            again = f"is {shown(code)} again, as in row {rows[code.casefold()]}"
            tell("plot", cells["plot"], "", again, "each plot once")
        else:
            rows[code.casefold()] = row
            places[code.casefold()] = len(names)
            names.append(code)
        given = [one for one in kinds if cells[one]]
        if len(given) != 1:
            wrong = "has both an area and a factor" if given else (
                f"has neither an area nor a factor: its {' and '.join(kinds)} "
                f"{'is' if len(kinds) == 1 else 'are'} empty"
            )  # fmt: skip
            tell("", "", "", wrong, "area_m2 of a plot, or factor_m2_per_ha of an angle count")
        for one in given if len(given) == 1 else ():
            kind_of.setdefault(one, row)
            if len(kind_of) == 2 and kind_of[one] == row:
                other = next(each for each in kind_of if each != one)
                tell(one, cells[one], "", f"is given, and {other} in row {kind_of[other]}",
                     "plots of fixed area or angle counts in one file, not both")  # fmt: skip
            sizes[one].append(_number(cells[one], one, tell))
        slope = cells.get("slope_deg", "")
        slopes.append(_number(slope, "slope_deg", tell) if slope else 0.0)
        if len(slopes) > MOST_PLOTS:
            wanted = f"at most {MOST_PLOTS:,} plots"
            raise FileError(table.name, f"row {row}", "is one row too many", wanted)
    if not table.below:
        raise FileError(table.name, "", "has a header and no plot", "at least one plot")
    if problems:
        return None, places
    kind = next(iter(kind_of))
    size = np.array(sizes[kind], dtype=np.float64)
    made: dict[str, Any] = {kind: size, "slope_deg": np.array(slopes)}
    return Plots(tuple(names), **made), places


#: Tells a problem of a row: column, cell, what would do, and in words what is wrong, what would do.
Teller = Callable[..., None]


class _Table:
    """The rows of one file below its header."""

    def __init__(self, text: str, name: str, header: str) -> None:
        self.name, self.header = name, header
        (self.head_row, self.head), *self.below = rows_of(text, name, header)
        self.names = [one.lower() for one in self.head]
        self.used: list[int] = []
        for one in ("plot", "tree", "species", *_BOUNDS):
            if self.names.count(one) > 1:
                place = f"row {self.head_row}"
                raise FileError(name, place, f"names the column {one} twice", "it once")

    def need(self, *columns: str) -> None:
        """Refuses a header that lacks any of some columns."""
        missing = [one for one in columns if one not in self.names]
        if missing:
            got = ", ".join(shown(one) for one in self.head[:6])
            noun = "column" if len(missing) == 1 else "columns"
            lacks = f"lacks the {noun} {', '.join(missing)}: it has {got}"
            raise FileError(self.name, f"row {self.head_row}", lacks, self.header)

    def rows(self, problems: list[FileError]) -> Any:
        """Each row's line and its cells by name; one that cannot be parted is told."""
        for row, cells in self.below:
            if len(cells) != len(self.head):
                noun = "cell" if len(cells) == 1 else "cells"
                wanted = f"{len(self.head)} as in the header"
                if len(cells) > len(self.head):
                    wanted += " (a decimal comma needs semicolons between columns)"
                found = FileError(self.name, f"row {row}", f"has {len(cells)} {noun}", wanted)
                problems.append(found)
                continue
            yield row, dict(zip(self.names, cells, strict=True))

    def teller(self, row: int, problems: list[FileError]) -> Teller:
        """What tells a problem of a row."""

        def tell(column: str, cell: str, wanted: str, wrong: str = "", instead: str = "") -> None:
            place = f"row {row}" + (f", column {column}" if column else "")
            said = wrong or f"is {shown(cell) if cell else 'empty'}"
            problems.append(
                FileError(self.name, place, said, instead or wanted, column or "file", cell)
            )

        return tell


def _measure(table: _Table) -> str:
    given = [one for one in ("diameter_cm", "girth_cm") if one in table.names]
    if len(given) == 2:
        place = f"row {table.head_row}"
        wrong = "has both the column diameter_cm and the column girth_cm"
        raise FileError(table.name, place, wrong, "one of them")
    return given[0] if given else "diameter_cm"


def _number(cell: str, column: str, tell: Teller, whole: bool = False) -> float:
    """A number within its column's bounds; what is none is told, and counts as the least."""
    how, low, high, unit = _BOUNDS[column]
    tail = f" {unit}" if unit else ""
    noun = "a whole number" if whole else "a number"
    wanted = f"{noun} {how} {low:g} {'to' if how == 'from' else 'and at most'} {high:g}{tail}"
    if not NUMBER.fullmatch(cell):
        tell(column, cell, wanted)
        return max(low, 1.0)
    value = float(cell.replace(",", "."))
    good = low <= value <= high and not (how == "above" and value == low)
    if not good or (whole and value != round(value)):
        tell(column, cell, "", f"is {value:g}{tail}", wanted)
        return max(low, 1.0)
    return value


def _listed(names: Sequence[str], file: str) -> str:
    if not names:
        return f"a plot that {file} lists"
    some = ", ".join(names[:6]) + (f" … {names[-1]}" if len(names) > 6 else "")
    return f"a plot that {file} lists: {some}"


def _text(file: Path) -> str:
    return text_of(read_bytes(file, "a CSV file", MOST_BYTES), file.name)
