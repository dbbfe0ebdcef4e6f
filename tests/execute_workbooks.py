"""Run workbooks from top to bottom and store them as they are committed.

    python tests/execute_workbooks.py [--names] [NAME.ipynb …]

Kept are the outputs that a reader sees without a kernel (text, HTML, pictures with their words).
Left out are live views, which a notebook opened anew could not find, and what differs from machine
to machine (versions, times). Every section keeps its name, and a new one gets one; with --names
nothing is run, and only names are given.
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import nbformat
from nbclient import NotebookClient

from mensura.disk.sections import NAMES, with_names

WORKBOOKS = Path(__file__).resolve().parent.parent / "workbooks"
LIVE_VIEW = "application/vnd.jupyter.widget-view+json"


def tidy(notebook) -> None:
    """Leave out live views and whatever depends on the machine."""
    notebook.metadata = {
        "kernelspec": {
            "display_name": "Python 3 (ipykernel)",
            "language": "python",
            "name": "python3",
        },
        "language_info": {"name": "python", "file_extension": ".py", "mimetype": "text/x-python"},
    }
    for count, cell in enumerate(notebook.cells, 1):
        cell["id"] = f"cell-{count:02d}"
        # jupyter: whether a cell's source is folded away
        kept = ("tags", "jupyter", NAMES)
        cell.metadata = {key: value for key, value in cell.metadata.items() if key in kept}
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(LIVE_VIEW, None)
    with_names(notebook.cells)


def execute(path: Path) -> float:
    """Run one workbook in place; returns the seconds it took."""
    notebook = nbformat.read(path, as_version=4)
    start = time.perf_counter()
    NotebookClient(notebook, kernel_name="python3", timeout=120).execute(cwd=str(path.parent))
    seconds = time.perf_counter() - start
    tidy(notebook)
    nbformat.validate(notebook)
    nbformat.write(notebook, path)
    return seconds


def give_names(path: Path) -> None:
    """Name the sections of one workbook that have no name; nothing else of it changes."""
    notebook = nbformat.read(path, as_version=4)
    with_names(notebook.cells)
    nbformat.write(notebook, path)


def stored() -> list[Path]:
    """All workbooks: the chapters, and the pages for lecturers."""
    return [*sorted(WORKBOOKS.glob("[0-9]*.ipynb")), *sorted(WORKBOOKS.glob("lecturer/*.ipynb"))]


if __name__ == "__main__":
    only_names = "--names" in sys.argv
    given = [name for name in sys.argv[1:] if name != "--names"]
    known = {path.name: path for path in stored()}
    names = [Path(name).name for name in given] or list(known)
    for name in names:
        if only_names:
            give_names(known[name])
            continue
        print(f"{name}: {execute(known[name]):.1f} s", flush=True)
