"""What it costs to begin: the import, and a kernel after workbook 02."""

from __future__ import annotations

import json
import statistics
import subprocess
import sys

import nbformat

from mensura.places import shipped

IMPORTS = (
    "import time; a=time.perf_counter(); import numpy; b=time.perf_counter(); import mensura; "
    "c=time.perf_counter(); print(b-a, c-b)"
)


def test_import_is_light():
    """`import mensura` costs little beside numpy (seconds are printed, the share is held)."""
    runs = [
        [float(x) for x in subprocess.check_output([sys.executable, "-c", IMPORTS]).split()]
        for _ in range(5)
    ]
    numpy, ours = (statistics.median(column) for column in zip(*runs, strict=True))
    print(f"\nimport numpy {numpy:.3f} s, mensura {ours:.3f} s over it (goal at most 0.15 s)")
    assert ours <= numpy


MEMORY = """
import json as _json, pathlib as _pathlib
_lines = _pathlib.Path('/proc/self/status').read_text().splitlines()
print(_json.dumps([int(l.split()[1]) / 1024 for l in _lines if l.startswith('VmRSS')]))
"""


def test_kernel_after_workbook_02(run_in_kernel):
    """Resident megabytes of a kernel that has run workbook 02 (printed; Linux only)."""
    path = next(shipped("workbooks").glob("02-*.ipynb"))
    notebook = nbformat.read(path, as_version=4)
    cells = [cell.source for cell in notebook.cells if cell.cell_type == "code"]
    (resident,) = json.loads(run_in_kernel(*cells, MEMORY).splitlines()[-1])
    print(f"\nkernel after workbook 02: {resident:.0f} MB resident (goal 130)")
    assert resident > 0
