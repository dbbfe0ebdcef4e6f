"""Where the project's own files lie: beside the code in a clone, inside the package in a wheel."""

from __future__ import annotations

from pathlib import Path

_PACKAGE = Path(__file__).resolve().parent


def shipped(folder: str) -> Path:
    """Path of a shipped folder.

    folder: "workbooks" or "data".
    Raises FileNotFoundError if the installation lacks it.

    >>> (shipped("data") / "README.md").is_file()
    True
    """
    for place in (_PACKAGE / "_shipped" / folder, _PACKAGE.parent / folder):
        if place.is_dir():
            return place
    raise FileNotFoundError(
        f"this installation of mensura has no {folder} folder; expected one: install it anew"
    )


def data_file(name: str) -> Path:
    """Path of one of the project's own data files.

    name: file name inside data/, without a folder.
    Raises FileNotFoundError with the list of names if there is no such file.

    >>> data_file("orange-girths.csv").name
    'orange-girths.csv'
    """
    folder = shipped("data")
    names = sorted(path.name for path in folder.iterdir() if path.suffix == ".csv")
    if name not in names:
        raise FileNotFoundError(f"no data file {name!r}; there are: {', '.join(names)}")
    return folder / name
