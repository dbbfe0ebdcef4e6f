"""Ports of this machine: taken, free, and free again."""

from __future__ import annotations

import errno
import socket

import pytest

from mensura.disk import ports
from mensura.disk.ports import barred, next_free


@pytest.fixture
def served():
    """A port that something listens on."""
    with socket.socket() as server:
        server.bind(("127.0.0.1", 0))
        server.listen()
        yield server.getsockname()[1]


def test_a_port_in_use_and_the_next_free_one(served: int) -> None:
    """The next one is behind it and can be bound."""
    assert barred(served) == "in use"
    free = next_free(served)
    assert free is not None
    assert free > served
    with socket.socket() as mine:
        mine.bind(("127.0.0.1", free))


def test_what_was_tried_is_let_go(served: int) -> None:
    """Asking twice gives the same, and a server can take it afterwards."""
    free = next_free(served)
    assert free is not None
    assert barred(free) == barred(free) == ""


def test_a_port_that_a_server_has_just_left() -> None:
    """Its last connection still lingers in the system; a new server may take it."""
    with socket.socket() as server:
        server.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
        server.bind(("127.0.0.1", 0))
        server.listen()
        port = server.getsockname()[1]
        with socket.create_connection(("127.0.0.1", port)):
            here, _ = server.accept()
            here.close()  # this side ends it first, so its end lingers
    assert barred(port) == ""


def test_the_last_port_has_none_behind_it() -> None:
    assert next_free(65535) is None


def test_a_machine_without_the_newer_addresses(monkeypatch: pytest.MonkeyPatch) -> None:
    """What it lacks bars nothing; any other refusal is told in its own words."""
    system = socket.socket.bind

    def bind(self: socket.socket, place: tuple[str, int]) -> None:
        if place[0] == "::1":
            raise OSError(errno.EADDRNOTAVAIL, "Cannot assign requested address")
        system(self, place)

    monkeypatch.setattr(ports.socket.socket, "bind", bind)
    with socket.socket() as server:
        server.bind(("127.0.0.1", 0))
        port = server.getsockname()[1]
    assert barred(port) == ""
