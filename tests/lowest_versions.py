"""Prints each dependency at the lowest version that pyproject.toml allows: constraints for pip.

    python tests/lowest_versions.py > lowest.txt
    python -m venv old && old/bin/pip install -c lowest.txt . pytest hypothesis

What it prints is all that is promised of old versions; the quick tests are run with them.
"""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

PROJECT = Path(__file__).resolve().parents[1] / "pyproject.toml"


def lowest(requirements: list[str]) -> dict[str, str]:
    """Distribution → lowest version; ValueError for a requirement that states none.

    >>> lowest(["numpy>=1.26", "click >= 8.1"])
    {'numpy': '1.26', 'click': '8.1'}
    """
    found = {}
    for one in requirements:
        stated = re.fullmatch(r"([A-Za-z0-9._-]+)\s*>=\s*([0-9][0-9a-z.]*)", one)
        if stated is None:
            raise ValueError(f"{one!r} states no lowest version alone, like 'numpy>=1.26'")
        found[stated[1]] = stated[2]
    return found


def declared(extra: str | None = None) -> list[str]:
    """What the project requires, or what one of its extras does."""
    project = tomllib.loads(PROJECT.read_text(encoding="utf-8"))["project"]
    listed: list[str] = (
        project["optional-dependencies"][extra] if extra else project["dependencies"]
    )
    return listed


if __name__ == "__main__":
    for name, version in lowest(declared()).items():
        print(f"{name}=={version}")
