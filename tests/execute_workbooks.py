"""Run workbooks from top to bottom and store them as they are committed.

    python tests/execute_workbooks.py [NAME.ipynb …]

Kept are the outputs that a reader sees without a kernel (text, HTML, pictures with their words).
Left out are live views, which a notebook opened anew could not find, and what differs from machine
to machine (versions, times).
"""

from __future__ import annotations

import sys
import time
from pathlib import Path

import nbformat
from nbclient import NotebookClient

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
        kept = ("tags", "jupyter")  # jupyter: whether a cell's source is folded away
        cell.metadata = {key: value for key, value in cell.metadata.items() if key in kept}
        for output in cell.get("outputs", []):
            output.get("data", {}).pop(LIVE_VIEW, None)


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


if __name__ == "__main__":
    names = sys.argv[1:] or sorted(path.name for path in WORKBOOKS.glob("[0-9]*.ipynb"))
    for name in names:
        print(f"{name}: {execute(WORKBOOKS / Path(name).name):.1f} s", flush=True)
