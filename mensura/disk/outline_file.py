"""An outline as a CSV file, in the layout in which it is read again."""

from __future__ import annotations

import re
from pathlib import Path

from mensura.stems.outline import Outline

_PLAIN = re.compile(r"[A-Za-z0-9][A-Za-z0-9_-]{0,40}", re.ASCII)


def outline_table(outline: Outline) -> str:
    """The points of an outline, to a thousandth of a millimetre.

    outline: a single one.

    >>> outline_table(Outline([[0, 0], [40, 0], [40, 40.5]])).splitlines()
    ['x_cm,y_cm', '0.0000,0.0000', '40.0000,0.0000', '40.0000,40.5000']
    """
    rows = (f"{x + 0.0:.4f},{y + 0.0:.4f}" for x, y in outline.points_cm)
    return "\n".join(["x_cm,y_cm", *rows, ""])


def stem_of_file(source: str) -> str:
    """How files made from another are called, without ending: as it is, if that is plain.

    source: path of the file.

    >>> stem_of_file("photos/disc-7.jpg"), stem_of_file("photos/my disc.jpg")
    ('disc-7', 'cut')
    """
    stem = Path(source).stem
    return stem if _PLAIN.fullmatch(stem) else "cut"
