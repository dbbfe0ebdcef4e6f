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
    names += sorted(path.name for path in folder.glob("quillmere-*.png"))
    if name not in names:
        raise FileNotFoundError(f"no data file {name!r}; there are: {', '.join(names)}")
    return folder / name


#: How the file of a plan begins and ends; what is between is the plan's name.
_PLAN = ("lesson-", ".toml")


def plan_names() -> tuple[str, ...]:
    """The plans of lessons that come with the project, by name.

    >>> plan_names()
    ('faults', 'tapes-or-calipers')
    """
    before, after = _PLAN
    files = sorted(path.name for path in shipped("data").glob(f"{before}*{after}"))
    return tuple(name.removeprefix(before).removesuffix(after) for name in files)


def plan_file(name: str) -> Path:
    """Path of one of them.

    name: of the plan. Raises FileNotFoundError with the list of names if there is no such plan.

    >>> plan_file("faults").name
    'lesson-faults.toml'
    """
    if name not in plan_names():
        raise FileNotFoundError(f"no plan {name!r}; there are: {', '.join(plan_names())}")
    return shipped("data") / name.join(_PLAN)
