"""Dependencies: what is declared is used, what is used is declared, the wheel holds all of it."""

from __future__ import annotations

import ast
import importlib.util
import json
import re
import subprocess
import sys
import zipfile
from collections.abc import Iterator
from pathlib import Path

import pytest

import mensura
from mensura.disk.layout import shipped_names
from mensura.places import shipped

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = Path(mensura.__file__).parent

_spec = importlib.util.spec_from_file_location("lowest_versions", ROOT / "tests/lowest_versions.py")
assert _spec
assert _spec.loader
lowest_versions = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(lowest_versions)

#: Distributions that are imported by another name than their own.
IMPORTED_AS = {
    "import-linter": "importlinter",
    "pillow": "PIL",
    "pytest-xdist": "xdist",
}

#: Declared and imported nowhere, for a reason.
STARTED = {"jupyterlab": "started as a program by mensura open"}
TOOLS = {
    "axe-playwright-python": "asked for by importorskip, which is no import statement",
    "build": "makes the wheel in .ci/run",
    "hatchling": "the wheel's builder, started here",
    "import-linter": "started as lint-imports",
    "mypy": "started as a program",
    "nbval": "a part of pytest, by --nbval",
    "pytest-xdist": "a part of pytest, by -n",
    "ruff": "started as a program",
}

#: Imported and declared by those who bring it; it could not be missing without them.
BROUGHT = {
    "jupyter_core": "jupyterlab finds the folders of Jupyter's own files by it",
    "nbformat": "jupyterlab's server reads and signs its notebooks by it",
    "mistune": "jupyterlab's nbconvert reads Markdown by it",
    "IPython": "ipywidgets and jupyterlab's kernel run inside it",
    "traitlets": "the values that ipywidgets observes are traitlets",
}
BROUGHT_TO_TESTS = {
    "jupyter_client": "jupyterlab starts its kernels by it",
    "nbclient": "jupyterlab's nbconvert runs notebooks by it",
    "nbformat": "jupyterlab reads its notebooks by it",
    "jupyter_server": "jupyterlab is an extension of it",
    "tornado": "jupyterlab's server and the kernels run in it",
    "zmq": "jupyter_client speaks to kernels by it",
}


def imported(tree: ast.AST) -> set[str]:
    """Top names of all that a piece of code imports, wherever in it."""
    names: set[str] = set()
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            names |= {one.name for one in node.names}
        elif isinstance(node, ast.ImportFrom) and node.module and not node.level:
            names.add(node.module)
    return {name.partition(".")[0] for name in names}


def third_party(names: set[str]) -> set[str]:
    return names - set(sys.stdlib_module_names) - {"mensura"}


def of_the_package() -> Iterator[set[str]]:
    """What each file of the package and each workbook imports."""
    for path in sorted(PACKAGE.rglob("*.py")):
        yield imported(ast.parse(path.read_text(encoding="utf-8")))
    for path in sorted(shipped("workbooks").rglob("*.ipynb")):
        for cell in json.loads(path.read_text(encoding="utf-8"))["cells"]:
            if cell["cell_type"] == "code":
                yield imported(ast.parse("".join(cell["source"])))


def modules(requirements: list[str]) -> set[str]:
    names = lowest_versions.lowest(requirements)
    return {IMPORTED_AS.get(name, name.replace("-", "_")) for name in names}


def test_every_runtime_dependency_is_used_and_every_import_declared() -> None:
    """In the package and the workbooks; two lists above give the exceptions and their reasons."""
    used = third_party(set().union(*of_the_package()))
    needed = modules(lowest_versions.declared())
    assert needed - used == set(STARTED)
    assert used - needed <= set(BROUGHT)


def test_every_dependency_of_the_tests_is_used_and_every_import_declared() -> None:
    """The same for the folder of tests."""
    files = sorted((ROOT / "tests").rglob("*.py"))
    used = third_party(
        set().union(*(imported(ast.parse(path.read_text(encoding="utf-8"))) for path in files))
    )
    used -= {path.stem for path in files} | {path.parent.name for path in files}  # beside a test
    extra = modules(lowest_versions.declared("test"))
    assert extra - used == modules([f"{name}>=0" for name in TOOLS])
    known = extra | modules(lowest_versions.declared()) | set(BROUGHT) | set(BROUGHT_TO_TESTS)
    assert used - known == set()


def test_every_bound_is_a_lowest_version() -> None:
    """So that the constraints made of them say the same; a bound from above needs a reason here."""
    both = lowest_versions.declared() + lowest_versions.declared("test")
    assert len(lowest_versions.lowest(both)) == len(both)
    told = subprocess.run(
        [sys.executable, str(ROOT / "tests" / "lowest_versions.py")],
        capture_output=True,
        encoding="utf-8",
        check=True,
    )
    assert re.fullmatch(r"([\w-]+==[\w.]+\n)+", told.stdout)
    assert "numpy==" in told.stdout
    with pytest.raises(ValueError, match="states no lowest version"):
        lowest_versions.lowest(["numpy"])


@pytest.fixture(scope="module")
def wheel(tmp_path_factory: pytest.TempPathFactory) -> list[str]:
    """Names of all that is in the wheel."""
    place = tmp_path_factory.mktemp("wheel")
    subprocess.run(
        [sys.executable, "-m", "hatchling", "build", "-t", "wheel", "-d", str(place)],
        cwd=ROOT,
        capture_output=True,
        timeout=60,
        check=True,
    )
    with zipfile.ZipFile(next(place.glob("*.whl"))) as file:
        return file.namelist()


def test_the_wheel_holds_all_of_it(wheel: list[str]) -> None:
    """Every module, the mark that types are given, settings, workbooks and data; and no test."""
    wanted = {
        f"mensura/{path.relative_to(PACKAGE).as_posix()}"
        for path in PACKAGE.rglob("*")
        if path.is_file() and "__pycache__" not in path.parts and "_shipped" not in path.parts
    }
    assert {"mensura/py.typed", "mensura/disk/lab_settings/overrides.json"} <= wanted
    wanted |= {f"mensura/_shipped/workbooks/{name}" for name in shipped_names(shipped("workbooks"))}
    wanted |= {f"mensura/_shipped/data/{path.name}" for path in shipped("data").iterdir()}
    assert wanted <= set(wheel)
    rest = {name for name in set(wheel) - wanted if ".dist-info/" not in name}
    assert rest == set()
