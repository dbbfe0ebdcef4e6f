"""Files appear whole or not at all, and a link is never written through."""

from __future__ import annotations

import os
import secrets
from pathlib import Path


def write_whole(path: Path, content: bytes) -> None:
    """Writes a file whole or not at all; a link at `path` is replaced, never followed.

    path: of the file; content: all of it. Raises OSError, and then leaves nothing behind.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     write_whole(Path(place, "a.txt"), b"all of it")
    ...     os.listdir(place)
    ['a.txt']
    """
    draft = path.with_name(f".{secrets.token_hex(8)}.part")
    flags = os.O_WRONLY | os.O_CREAT | os.O_EXCL | getattr(os, "O_BINARY", 0)
    handle = os.open(draft, flags, 0o666)
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(content)
        os.replace(draft, path)
    except BaseException:
        draft.unlink(missing_ok=True)
        raise


def write_new(path: Path, content: bytes) -> bool:
    """Writes a file whole, if nothing of that name is there; returns whether it did.

    path: of the file; content: all of it. The name is taken first, so that of two writers only one
    gets it. Raises OSError, and then leaves nothing behind.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     [write_new(Path(place, "a.txt"), b"mine") for _ in range(2)]
    [True, False]
    """
    try:
        os.close(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o666))
    except FileExistsError:
        return False
    try:
        write_whole(path, content)
    except BaseException:
        path.unlink(missing_ok=True)
        raise
    return True


def reason(error: OSError) -> str:
    """Why the system refused, in its own words.

    error: what it raised.

    >>> reason(FileNotFoundError(2, "No such file or directory"))
    'no such file or directory'
    """
    return (error.strerror or "it cannot be written").lower()
