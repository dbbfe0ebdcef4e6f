"""What a command prints as JSON: the answer, and with it who worked it out and from what."""

from __future__ import annotations

import hashlib
import json
import sys
from collections.abc import Container, Mapping, Sequence
from pathlib import Path
from textwrap import wrap
from typing import Any

import click


def version() -> str:
    """The version of this installation of mensura."""
    import mensura

    return mensura.__version__


def told_file(path: str) -> dict[str, str]:
    """A file that was read, as the inputs have it: by name and content, not by where it lies.

    path: of the file.
    """
    file = Path(path)
    return {"file": file.name, "sha256": hashlib.sha256(file.read_bytes()).hexdigest()}


def print_json(answer: Mapping[str, Any], inputs: Mapping[str, Any]) -> None:
    """Prints an answer as JSON, with `mensura_version` and `inputs` at its end.

    answer: by the keys that other programs rely on, units in their names; inputs: every option in
    effect, by the field that it sets, those that nobody typed as well. So whoever finds the answer
    a year later can work it out again. A console that lacks a letter of it gets that escaped.
    """
    whole = {**answer, "mensura_version": version(), "inputs": dict(inputs)}
    text = json.dumps(whole, indent=2, allow_nan=False, ensure_ascii=False)
    try:
        text.encode(getattr(sys.stdout, "encoding", None) or "ascii")
    except UnicodeEncodeError:
        text = json.dumps(whole, indent=2, allow_nan=False)
    click.echo(text)


def look_first(slips: Sequence[str], wide: int = 80) -> list[str]:
    """Lines that stand before any figure: what looks like a slip; none where nothing does.

    slips: in sentences; wide: letters of a line.

    >>> look_first(["Row 3: far more than the readings beside it."])
    ['Look at these first:', '- Row 3: far more than the readings beside it.']
    """
    lines = ["Look at these first:"] if slips else []
    for one in slips:
        # no figure is parted from its %
        told = wrap(f"- {one}".replace(" %", "\u00a0%"), wide, subsequent_indent="  ")
        lines += [line.replace("\u00a0", " ") for line in told]
    return lines


def aligned(rows: Sequence[Sequence[str]], right: Container[int]) -> list[str]:
    """Rows of as many cells each as lines, their columns below each other.

    rows: the head among them; right: places of the columns that stand to the right, figures.

    >>> aligned([["stem", "cm"], ["oak 3", "126.3"]], right=(1,))
    ['stem      cm', 'oak 3  126.3']
    """
    widths = [max(map(len, column)) for column in zip(*rows, strict=True)]
    return [
        "  ".join(
            cell.rjust(width) if place in right else cell.ljust(width)
            for place, (cell, width) in enumerate(zip(row, widths, strict=True))
        ).rstrip()
        for row in rows
    ]
