"""Twelve students drag at once on one machine: by messages, with no browser on it.

Once with the kernels alone, once through the JupyterLab that `mensura open` starts: workbook 02's
panel as shapes, the same panel as pixels (the old way), and a bare echo of a slider into a label,
one after the other in the same kernels. Moves a second and shares of the processor are printed;
held is only that shapes are clearly more than pixels. JupyterHub's proxy is not tried: it is no
part of what is installed here, unless the table says otherwise.
"""

from __future__ import annotations

import asyncio
import json
import os
import runpy
import shutil
import subprocess
import sys
import time
import urllib.request
from concurrent.futures import ThreadPoolExecutor
from itertools import cycle
from pathlib import Path

dragging = runpy.run_path(str(Path(__file__).with_name("dragging.py")))

STUDENTS, SECONDS = 12, 3.3
#: Times as many moves a second as the old way: what is held, and what is aimed at.
LEAST, GOALS = 2.0, {"kernels alone": 4.0, "through the server": 3.0}
WAYS = ("shapes", "old way", "bare echo")

OPEN = """
panel = bench['panels']()['out_of_round']
work = {'shapes': bench['at_work'](panel), 'old way': bench['OldWay'](panel)}
sliders = {name: one.sliders['first_cm'] for name, one in work.items()}
sliders['bare echo'] = bench['echo']()[0]
values = bench['stops'](panel.named['first_cm'], 60)
"""
COMMS = "[{name: one.comm.comm_id for name, one in sliders.items()}, values]"
BUSY = "time.process_time()"


def table(where: str, seen: dict[str, tuple[float, ...]]) -> float:
    """Print what was seen; the old way's cost in shapes, by moves or by processor time.

    On a machine that is busy with something else processor time tells more than moves a second.
    """
    gain = seen["shapes"][0] / seen["old way"][0]
    old, new = (seen[way][1] + seen[way][2] for way in ("old way", "shapes"))
    print(f"\n{STUDENTS} kernels dragged at once, {where}, {os.cpu_count()} processors")
    print(f"{'':12} moves a second   kernels ms a move   server ms a move   whoever drags, ms")
    for way, (moves, kernels, server, own) in seen.items():
        print(f"{way:12} {moves:14.0f} {kernels:19.2f} {server:18.2f} {own:19.2f}")
    echo = seen["bare echo"][0] / seen["old way"][0]
    print(
        f"shapes {gain:.1f} times the old way's moves (goal {GOALS[where]:g}), {old / new:.1f} "
        f"times as cheap (one of both at least {LEAST:g}); a bare echo {echo:.1f} times its moves"
    )
    return max(gain, old / new)


def opened(kernel):
    """What is to be dragged in a kernel that has just been started."""
    kernel.ready()
    kernel.does(OPEN)
    return kernel.asks(COMMS)


def test_the_kernels_alone():
    """Shapes are at least twice as many moves a second as pixels, in twelve kernels at once."""
    kernels = [dragging["Kernel"]() for _ in range(STUDENTS)]
    try:
        with ThreadPoolExecutor(4) as several:
            told = list(several.map(opened, kernels))
        comms, values = [sliders for sliders, _ in told], told[0][1]
        for _ in range(2):  # another program may have been busy meanwhile
            seen = {}
            for way in WAYS:
                own = [one[way] for one in comms]
                before = [one.asks(BUSY) for one in kernels]
                moves, pulled = dragging["pulled"](kernels, own, [values] * STUDENTS, SECONDS)
                took = sum(
                    one.asks(BUSY) - first for one, first in zip(kernels, before, strict=True)
                )
                count = moves * SECONDS
                seen[way] = moves, took / count * 1e3, 0.0, pulled / count * 1e3
            gain = table("kernels alone", seen)
            if gain >= LEAST:
                return
        raise AssertionError(f"{gain:.1f} times as many moves as the old way")
    finally:
        for one in kernels:
            one.ends()


class Line:
    """A kernel of a server, spoken to through its websocket as JupyterLab does."""

    def __init__(self, socket, session) -> None:
        self.socket, self.session = socket, session

    @classmethod
    async def to_new_kernel(cls, url: str, token: str) -> Line:
        from jupyter_client.session import Session
        from tornado.httpclient import HTTPRequest
        from tornado.websocket import websocket_connect

        ask = urllib.request.Request(
            f"{url}api/kernels?token={token}", data=b'{"name": "python3"}', method="POST"
        )
        reply = await asyncio.to_thread(lambda: urllib.request.urlopen(ask, timeout=90).read())
        kernel = json.loads(reply)["id"]
        session = Session()
        address = url.replace("http", "ws", 1) + f"api/kernels/{kernel}/channels"
        socket = await websocket_connect(
            HTTPRequest(f"{address}?session_id={session.session}&token={token}"),
            subprotocols=["v1.kernel.websocket.jupyter.org"],
            max_message_size=64 * 2**20,
        )
        return cls(socket, session)

    async def sends(self, message, channel: str = "shell") -> None:
        from jupyter_server.services.kernels.connection.base import serialize_msg_to_ws_v1

        packed = serialize_msg_to_ws_v1(message, channel, pack=self.session.pack)
        await self.socket.write_message(packed, binary=True)

    async def heard(self) -> tuple[str, list[bytes]]:
        from jupyter_server.services.kernels.connection.base import deserialize_msg_from_ws_v1

        data = await self.socket.read_message()
        assert data is not None, "the server hung up"
        return deserialize_msg_from_ws_v1(data)

    async def asks(self, code: str, expression: str):
        """Run code; what an expression is worth then, as JSON has it."""
        text = f"{code}\nbench['told']({expression})"
        message = self.session.msg("execute_request", {"code": text, "silent": False})
        await self.sends(message)
        printed, own = "", message["header"]["msg_id"]
        while True:
            channel, (head, parent, _, content, *_) = await self.heard()
            if json.loads(parent).get("msg_id") != own or channel != "iopub":
                continue
            kind, told = json.loads(head)["msg_type"], json.loads(content)
            assert kind != "error", "\n".join(told.get("traceback", []))
            if kind == "stream":
                printed += told["text"]
            if kind == "status" and told["execution_state"] == "idle":
                return json.loads(printed.strip().splitlines()[-1])

    async def pulled(self, comm: str, values, until: float) -> int:
        """Drag until then, one message in flight; how many moves were answered."""
        moves = 0
        for value in cycle(values):
            await self.sends(dragging["update"](self.session, comm, value))
            while True:
                _, (head, _, _, content, *_) = await self.heard()
                if b'"status"' in head and b"idle" in content:
                    break
            if time.perf_counter() >= until:
                return moves
            moves += 1
        return moves


async def through_the_server(url: str, token: str, busy) -> dict[str, tuple[float, ...]]:
    lines = await asyncio.gather(*(Line.to_new_kernel(url, token) for _ in range(STUDENTS)))
    told = await asyncio.gather(*(one.asks(dragging["SETUP"] + OPEN, COMMS) for one in lines))
    seen = {}
    for way in WAYS:
        before = [await one.asks("", BUSY) for one in lines]
        own, server = time.process_time(), busy()
        until = time.perf_counter() + SECONDS
        drags = (one.pulled(t[0][way], t[1], until) for one, t in zip(lines, told, strict=True))
        count = sum(await asyncio.gather(*drags))
        own, server = time.process_time() - own, busy() - server
        took = sum([await one.asks("", BUSY) for one in lines]) - sum(before)
        each = (one / count * 1e3 for one in (took, server, own))
        seen[way] = count / SECONDS, *each
    for one in lines:
        one.socket.close()
    return seen


def test_through_the_server(tmp_path, tools):
    """The same through JupyterLab's own server: at least twice as many moves a second."""
    env = tools.quiet_home(tmp_path / "home")
    command = [sys.executable, "-P", "-m", "mensura", "open", str(tmp_path / "class")]
    command += ["--no-browser", "--port", str(tools.free_port())]
    with (tmp_path / "log.txt").open("w") as log:
        process = subprocess.Popen(
            command, cwd=tmp_path, env=env, stdout=log, stderr=log, start_new_session=True
        )
    try:
        runtime = Path(env["JUPYTER_RUNTIME_DIR"])
        url, token = tools.wait_for_server(process, runtime)
        (told,) = runtime.glob("jpserver-*.json")
        server = json.loads(told.read_text(encoding="utf-8"))["pid"]
        seen = asyncio.run(through_the_server(url, token, lambda: busy_seconds(server)))
        gain = table("through the server", seen)
        if shutil.which("configurable-http-proxy") is None:
            print("through JupyterHub's proxy: not tried, no configurable-http-proxy is installed")
        assert gain >= LEAST
    finally:
        process.terminate()
        try:
            process.wait(20)
        except subprocess.TimeoutExpired:
            process.kill()


def busy_seconds(pid: int) -> float:
    """Seconds of the processor that another process took; not told where there is no /proc."""
    try:
        text = Path(f"/proc/{pid}/stat").read_text(encoding="ascii")
    except OSError:
        return float("nan")
    fields = text.rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
