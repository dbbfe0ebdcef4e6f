"""Ports of this machine: whether one can be served on, and which one can instead.

It is tried and let go again. Between that and the server's own start another program may take it;
then the server says so itself.
"""

from __future__ import annotations

import errno
import os
import socket
from contextlib import suppress

from mensura.disk.writing import reason

#: So many ports are tried behind one that is taken.
_TRIES = 200

_LOOPBACKS = ((socket.AF_INET, "127.0.0.1"), (socket.AF_INET6, "::1"))
_NOT_HERE = {errno.EAFNOSUPPORT, errno.EADDRNOTAVAIL}


def barred(port: int) -> str:
    """Why nothing can be served on a port of this machine, "" if something can.

    port: 1 to 65535.

    >>> with socket.socket() as server:
    ...     server.bind(("127.0.0.1", 0))
    ...     server.listen()
    ...     barred(server.getsockname()[1])
    'in use'
    """
    for family, host in _LOOPBACKS:
        with suppress(_Absent):
            why = _tried(family, host, port)
            if why:
                return why
    return ""


def next_free(port: int) -> int | None:
    """The first port behind one that can be served on, None if there is none near.

    port: 1 to 65535.
    """
    near = range(port + 1, min(port + 1 + _TRIES, 65536))
    return next((one for one in near if not barred(one)), None)


class _Absent(Exception):
    """This machine lacks the family of addresses."""


def _tried(family: int, host: str, port: int) -> str:
    """Why a port of one address cannot be bound, "" if it can."""
    try:
        with socket.socket(family, socket.SOCK_STREAM) as one:
            if os.name == "posix":
                # a port that a server has just left may be taken up again; elsewhere the same
                # setting would let two servers share one
                one.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            one.bind((host, port))
    except OSError as error:
        if error.errno in _NOT_HERE:
            raise _Absent from None
        return "in use" if error.errno == errno.EADDRINUSE else reason(error)
    return ""
