"""Moves as a page sends them, by messages and without a browser: one in flight for each kernel.

Like a page, a `Puller` sends the next value once the kernel has said that it is idle again, and it
does as little as can be with what comes: it counts bytes and looks for that word. One process pulls
all kernels, so it must be cheap itself.
"""

from __future__ import annotations

import json
import time
from collections.abc import Iterable, Iterator, Sequence
from itertools import cycle
from pathlib import Path
from typing import Any

from jupyter_client.manager import KernelManager
from jupyter_client.session import Session

HERE = Path(__file__).parent
SETUP = f"""
import runpy, time
bench = runpy.run_path({str(HERE / "in_kernel.py")!r})
"""
DELIMITER = b"<IDS|MSG>"


def update(session: Session, comm: str, value: float) -> dict[str, Any]:
    """The message by which a page moves a slider; comm: the slider's."""
    data = {"method": "update", "state": {"value": value}, "buffer_paths": []}
    return session.msg("comm_msg", {"comm_id": comm, "data": data})


class Kernel:
    """A kernel of its own with the bench's things in it, spoken to without a server between."""

    def __init__(self) -> None:
        self.manager = KernelManager(kernel_name="python3")
        self.manager.start_kernel()
        self.client = self.manager.client()
        self.client.start_channels()

    def ready(self) -> None:
        """Wait until it answers, and give it the bench's things."""
        self.client.wait_for_ready(timeout=60)
        self.does(SETUP)

    def does(self, code: str, seconds: float = 120) -> str:
        """Run code; what it printed."""
        printed: list[str] = []

        def hear(message: Any) -> None:
            if message["header"]["msg_type"] == "stream":
                printed.append(message["content"]["text"])

        reply = self.client.execute_interactive(code, timeout=seconds, output_hook=hear)
        content = reply["content"]
        assert content["status"] == "ok", "\n".join(content.get("traceback", []))
        return "".join(printed)

    def asks(self, expression: str) -> Any:
        """What an expression is worth in the kernel, as JSON has it."""
        told = self.does(f"bench['told']({expression})")
        return json.loads(told.strip().splitlines()[-1])

    def sends(self, comm: str, value: float) -> None:
        """Move a slider; the answer comes later."""
        session = self.client.session
        session.send(self.client.shell_channel.socket, update(session, comm, value))

    def heard(self) -> tuple[int, bool]:
        """Take one message that has come: its bytes, and whether the kernel is idle by it."""
        frames = self.client.iopub_channel.socket.recv_multipart()
        at = frames.index(DELIMITER)
        idle = b'"status"' in frames[at + 2] and b"idle" in frames[at + 5]
        return sum(len(one) for one in frames), idle

    def moves(self, comm: str, values: Iterable[float]) -> Iterator[tuple[int, int]]:
        """Move a slider through values; for each, bytes and messages that came."""
        for value in values:
            self.sends(comm, value)
            much, many, idle = 0, 0, False
            while not idle:
                assert self.client.iopub_channel.socket.poll(60_000), "the kernel says nothing"
                size, idle = self.heard()
                much, many = much + size, many + 1
            yield much, many

    def ends(self) -> None:
        """No more of it."""
        self.client.stop_channels()
        self.manager.shutdown_kernel(now=True)


def pulled(kernels: Sequence[Kernel], comms: Sequence[str], ways: Sequence[Any], seconds: float):
    """Drag in all kernels at once.

    comms: the slider of each; ways: its values, gone through again and again. Returns moves a
    second of all together, and seconds of the processor that this process took.
    """
    import zmq

    poller = zmq.Poller()
    by_socket, each = {}, [cycle(way) for way in ways]
    for k, kernel in enumerate(kernels):
        socket = kernel.client.iopub_channel.socket
        poller.register(socket, zmq.POLLIN)
        by_socket[socket] = k
    own, start = time.process_time(), time.perf_counter()
    for k, kernel in enumerate(kernels):
        kernel.sends(comms[k], next(each[k]))
    moves, going = 0, len(kernels)
    while going:
        for socket, _ in poller.poll(60_000):
            k = by_socket[socket]
            _, idle = kernels[k].heard()
            if idle:
                if time.perf_counter() - start < seconds:
                    moves += 1
                    kernels[k].sends(comms[k], next(each[k]))
                else:
                    going -= 1
    return moves / seconds, time.process_time() - own
