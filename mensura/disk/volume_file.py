"""A volume rule that was typed in as data: an equation's terms or a drawn stem's points.

`coefficient,diameter_power,height_power` is Σ c·dᵖ·h^q with d in cm, h in m and the volume in m³;
`height_share,diameter_share` a stem from ground to tip, in shares of any of its diameters: at 1.3 m
it is made as thick as the tree. Both may have a column `species`: rows in which it is empty are for
all others. Cells are parsed and never evaluated.
"""

from __future__ import annotations

from pathlib import Path

from mensura.checks import MeasureError, shown
from mensura.disk.check_file import FileError, Where, read_bytes, rows_of, text_of
from mensura.disk.codes import is_code, tidied
from mensura.disk.stand_file import StandError
from mensura.estimates.tree_volume import Equation, Taper
from mensura.tables import NUMBER

MOST_BYTES = 1_000_000

_EQUATION = ("coefficient", "diameter_power", "height_power")
_TAPER = ("height_share", "diameter_share")
#: What a number in each column may be.
_BOUNDS = {
    "coefficient": (-1e6, 1e6),
    "diameter_power": (-10.0, 10.0),
    "height_power": (-10.0, 10.0),
    "height_share": (0.0, 1.0),
    "diameter_share": (0.0, 3.0),
}


def read_equations(path: Where) -> dict[str, Equation]:
    """Equations by species, in small letters, "" for all that have none of their own.

    path: of a CSV file. Raises FileError, in one sentence with row and column.
    """
    return parse_equations(_text(path), Path(path).name)


def parse_equations(text: str, name: str = "the file") -> dict[str, Equation]:
    """Equations from the text of a CSV file.

    text: of it; name: of the file. Raises FileError as :func:`read_equations` does.

    >>> found = parse_equations("coefficient,diameter_power,height_power\\n3.5e-5,2,1")
    >>> round(found[""].volume_m3(40, 25), 3)
    1.4
    """
    return {
        species: Equation(tuple((c, p, q) for _, (c, p, q) in rows))
        for species, rows in _by_species(text, name, _EQUATION).items()
    }


def read_tapers(path: Where) -> dict[str, Taper]:
    """Drawn stems by species, as :func:`read_equations` has equations.

    path: of a CSV file. Raises FileError, in one sentence with row and column.
    """
    return parse_tapers(_text(path), Path(path).name)


def parse_tapers(text: str, name: str = "the file") -> dict[str, Taper]:
    """Drawn stems from the text of a CSV file.

    text: of it; name: of the file. Raises FileError as :func:`read_tapers` does.

    >>> found = parse_tapers("height_share;diameter_share\\n0;1\\n1;0")
    >>> round(found[""].form_factor(120), 4)
    0.3407
    """
    found = {}
    for species, rows in _by_species(text, name, _TAPER).items():
        last = -1.0
        whose = f" of {species}" if species else ""
        for row, (at, _) in rows:
            if at <= last or (last < 0 and at != 0):
                wanted = "0, the ground, in the first row" if last < 0 else f"more than {last:g}"
                place = f"row {row}, column height_share"
                raise FileError(name, place, f"is {at:g}{whose}", wanted, "height_share", at)
            last = at
        if last != 1:
            place = f"row {rows[-1][0]}, column height_share"
            wanted = "1, the tip, in the last row"
            raise FileError(name, place, f"is {last:g}{whose}", wanted, "height_share", last)
        try:
            shares = tuple(tuple(one) for one in zip(*(pair for _, pair in rows), strict=True))
            found[species] = Taper(shares[0], shares[1])
        except MeasureError as error:
            wrong = f"has no stem that can be used{whose}"
            raise FileError(name, "", wrong, error.expectation) from None
    return found


def _by_species(
    text: str, name: str, columns: tuple[str, ...]
) -> dict[str, list[tuple[int, tuple[float, ...]]]]:
    """Each species' rows of numbers, with their lines in the file."""
    header = f"the columns {','.join(columns)}"
    rows = rows_of(text, name, header)
    (head_row, head), *below = rows
    names = [one.lower() for one in head]
    for one in (*columns, "species"):
        if names.count(one) > 1:
            raise FileError(name, f"row {head_row}", f"names the column {one} twice", "it once")
    missing = [one for one in columns if one not in names]
    if missing:
        got = ", ".join(shown(one) for one in head[:6])
        noun = "column" if len(missing) == 1 else "columns"
        lacks = f"lacks the {noun} {', '.join(missing)}: it has {got}"
        raise FileError(name, f"row {head_row}", lacks, header)
    problems: list[FileError] = []
    found: dict[str, list[tuple[int, tuple[float, ...]]]] = {}
    for row, cells in below:
        if len(cells) != len(head):
            wanted = f"{len(head)} as in the header"
            problems.append(FileError(name, f"row {row}", f"has {len(cells)} cells", wanted))
            continue
        by_name = dict(zip(names, cells, strict=True))
        values = []
        for one in columns:
            cell, (low, high) = by_name[one], _BOUNDS[one]
            value = float(cell.replace(",", ".")) if NUMBER.fullmatch(cell) else None
            if value is None or not low <= value <= high:
                wrong = f"is {shown(cell) if cell else 'empty'}"
                place, wanted = f"row {row}, column {one}", f"a number from {low:g} to {high:g}"
                problems.append(FileError(name, place, wrong, wanted, one, cell))
            values.append(value or 0.0)
        species = tidied(by_name.get("species", ""))
        if species and not is_code(species):
            place = f"row {row}, column species"
            wanted = "a name of letters and figures, or nothing"
            problems.append(FileError(name, place, f"is {shown(species)}", wanted))
        found.setdefault(species.casefold(), []).append((row, tuple(values)))
    if problems:
        raise StandError(problems)
    if not found:
        raise FileError(name, "", "has a header and no row", header)
    return found


def _text(path: Where) -> str:
    file = Path(path)
    return text_of(read_bytes(file, "a CSV file", MOST_BYTES), file.name)
