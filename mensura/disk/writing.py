"""Files appear whole or not at all, and a link is never written through."""

from __future__ import annotations

import os
import secrets
from collections.abc import Iterator
from itertools import count
from pathlib import Path, PurePath
from typing import TypeVar

#: For os.open: no link is followed, no pipe is waited for, no byte is changed on the way.
NO_LINK = getattr(os, "O_NOFOLLOW", 0) | getattr(os, "O_NONBLOCK", 0) | getattr(os, "O_BINARY", 0)

P = TypeVar("P", bound=PurePath)


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


def numbered(path: P, word: str) -> Iterator[P]:
    """Names beside a file's own, without end: with a word, then with the word and a number.

    path: of the file; word: what is put behind its name.

    >>> names = numbered(PurePath("a.txt"), "old")
    >>> next(names).name, next(names).name
    ('a-old.txt', 'a-old-2.txt')
    """
    for number in count(1):
        tail = f"-{word}" if number == 1 else f"-{word}-{number}"
        yield path.with_name(f"{path.stem}{tail}{path.suffix}")


def put_aside(path: Path) -> str:
    """Puts a file, or whatever stands there, under a free name beside its own; returns that name.

    path: of the file. Raises OSError if it cannot be moved.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place:
    ...     _ = Path(place, "a.txt").write_text("mine")
    ...     put_aside(Path(place, "a.txt")), os.listdir(place)
    ('a-old.txt', ['a-old.txt'])
    """
    free = next(one for one in numbered(path, "old") if not os.path.lexists(one))
    os.rename(path, free)
    return free.name


def reason(error: OSError) -> str:
    """Why the system refused, in its own words.

    error: what it raised.

    >>> reason(FileNotFoundError(2, "No such file or directory"))
    'no such file or directory'
    """
    return (error.strerror or "it cannot be written").lower()
