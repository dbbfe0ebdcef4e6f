"""Pages that a student keeps: each under a name that is free, and never over another file."""

from __future__ import annotations

import secrets
from itertools import count
from os import PathLike
from pathlib import Path

from mensura.checks import MeasureError
from mensura.disk.writing import reason, write_new, write_whole

#: A folder, as it may be given.
Folder = str | PathLike[str]

#: A folder that holds so many pages of one name is asked to be tidied first.
MOST_PAGES = 10_000


def writable_folder(folder: Folder) -> Path:
    """A folder in which pages can be saved, made if it is missing; for whoever takes long over one.

    folder: where. Raises MeasureError, in one sentence, for one that cannot be used.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     writable_folder(Path(place, "leaflets")).name, list(Path(place, "leaflets").iterdir())
    ('leaflets', [])
    """
    place = Path(folder)
    try:
        place.mkdir(parents=True, exist_ok=True)
        trial = place / f".{secrets.token_hex(8)}.part"
        write_whole(trial, b"")
        trial.unlink(missing_ok=True)
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "it is no name of a folder"
        expected = "a folder that can be written to"
        raise MeasureError("folder", str(folder), "", expected, why) from None
    return place


def save_page(name: str, content: bytes, folder: Folder = ".") -> Path:
    """Saves a page as `name.html`, or as `name-2.html` and so on if that is there.

    name: without its ending; content: all of it; folder: where, as it is; nothing in it is
    overwritten. Returns the path. Raises MeasureError, in one sentence, for a folder that cannot
    be used.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     [save_page("my-proof", b"<p>a &gt; b</p>", place).name for _ in range(2)]
    ['my-proof.html', 'my-proof-2.html']
    """
    place = Path(folder)
    expected = "a folder that can be written to"
    if not place.is_dir():
        raise MeasureError("folder", str(folder), "", expected)
    for number in count(1):
        if number > MOST_PAGES:
            break
        tail = "" if number == 1 else f"-{number}"
        path = place / f"{name}{tail}.html"
        try:
            if write_new(path, content):
                return path
        except OSError as error:
            raise MeasureError("folder", str(folder), "", expected, reason(error)) from None
    raise MeasureError("folder", str(folder), "", f"fewer than {MOST_PAGES} pages named {name}")
