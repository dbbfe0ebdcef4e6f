"""Where students read: the workbooks, and the modules whose words are shown to them.

Each place has one file of rows beside this one. The name of a place is that of its file.
"""

from __future__ import annotations

import importlib
from collections.abc import Sequence

from prose.figures import ROOT, Text, module_texts, notebook, notebook_texts, output_words
from prose.rows import Row

from mensura.teaching.lessons.chapters import CHAPTERS

_TEACHING = "mensura/teaching"
_ROADS = [one.stem for one in sorted((ROOT / _TEACHING / "proof").glob("road_*.py"))]

#: The file of rows of each place, and its file in the project.
PLACES: dict[str, str] = (
    {f"chapter_{one.number}": f"workbooks/{one.file}" for one in CHAPTERS}
    | {
        f"questions_{one.stem}": str(one.relative_to(ROOT))
        for one in sorted((ROOT / _TEACHING / "lessons/questions").glob("*.py"))
        if one.stem != "__init__"
    }
    | {
        f"problems_{one.stem}": str(one.relative_to(ROOT))
        for home in ("families", "parts")
        for one in sorted((ROOT / _TEACHING / "problems" / home).glob("*.py"))
        if one.stem != "__init__"
    }
    | {
        f"games_{one.stem}": str(one.relative_to(ROOT))
        for one in sorted((ROOT / _TEACHING / "games").glob("*.py"))
        if one.stem != "__init__"
    }
    | {
        f"road_{name.removeprefix('road_')}": f"{_TEACHING}/proof/{name}.py"
        for name in ("outline_tape", "outline_widths", *_ROADS)
    }
    | {
        f"stills_{one.stem}": str(one.relative_to(ROOT))
        for one in sorted((ROOT / "mensura/views/stills").glob("*.py"))
        if one.stem != "__init__"
    }
    | {
        "wording": "mensura/cli/report.py",
        "faults": "mensura/instruments/faults.py",
        "faults_lay": "mensura/instruments/lay_faults.py",
        "faults_correction": "mensura/instruments/correction.py",
    }
)


def texts(place: str) -> list[Text]:
    """The texts of a place. place: one of PLACES."""
    file = ROOT / PLACES[place]
    if file.suffix == ".ipynb":
        return list(notebook_texts(notebook(file.name)))
    return list(module_texts(file.read_text(encoding="utf-8")))


def printed(place: str) -> str:
    """What a place prints by itself, on one line; nothing for a module."""
    file = ROOT / PLACES[place]
    return output_words(notebook(file.name)) if file.suffix == ".ipynb" else ""


def rows(place: str) -> Sequence[Row]:
    """The rows of a place; none where it has no file of them."""
    if not (ROOT / "tests/prose" / f"{place}.py").exists():
        return ()
    found: Sequence[Row] = importlib.import_module(f"prose.{place}").ROWS
    return found


def places_of(name: str) -> list[str]:
    """The places that a name stands for: "05" for chapter_05, or a part of a place's name."""
    return [one for one in PLACES if one in (name, f"chapter_{name}")] or [
        one for one in PLACES if name in one
    ]
