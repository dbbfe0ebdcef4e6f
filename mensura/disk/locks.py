"""A file to ourselves for a moment, where that can be had."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from pathlib import Path

from filelock import FileLock, Timeout

#: How long another is waited for, and how often it is looked whether he is done.
WAIT_S, LOOK_S = 0.5, 0.01


@contextmanager
def held(lock_path: Path) -> Iterator[bool]:
    """Holds a lock while the body runs; gives False if another holds it for too long.

    lock_path: of a file of no content. Some drives of a network have no locks, and a folder that is
    read only can hold a file that is not: there the body runs without one.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as place, held(Path(place, ".lock")) as ours:
    ...     ours
    True
    """
    lock = FileLock(lock_path, timeout=WAIT_S, poll_interval=LOOK_S)
    ours = True
    try:
        lock.acquire()
    except Timeout:
        ours = False
    except (OSError, NotImplementedError):
        pass
    try:
        yield ours
    finally:
        with suppress(OSError):
            lock.release()
