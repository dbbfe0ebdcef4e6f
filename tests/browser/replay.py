"""A plain page that paints records on a canvas and gives the dots back, and how two differ.

The page is served from here and sends its dots as bytes, not as text: some gigabytes go through.
"""

from __future__ import annotations

import base64
import json
import threading
import zlib
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from importlib.resources import files
from typing import Any

import numpy as np

from mensura.views.kit import look

#: What the page can ask for, by address.
SERVED = {
    "/": (b"<!doctype html><title>shapes</title>", "text/html"),
    **{
        f"/{name}": (files("mensura.views.kit").joinpath(name).read_bytes(), kind)
        for name, kind in (
            ("shapes.js", "text/javascript"),
            ("fonts.js", "text/javascript"),
            ("sans.woff", "font/woff"),
            ("sans-bold.woff", "font/woff"),
        )
    },
}

START = """async () => {
  const { Shapes } = await import('/shapes.js');
  const { loadLetters } = await import('/fonts.js');
  const bytes = async (name) => (await fetch(name)).arrayBuffer();
  const there = await loadLetters(await bytes('/sans.woff'), await bytes('/sans-bold.woff'));
  if (!there) { throw new Error('no letters'); }
  window.Shapes = Shapes;
  window.canvas = document.createElement('canvas');
  window.ink = canvas.getContext('2d', { willReadFrequently: true });
}"""

# each job: record or change, which kinds of operation are painted, whether to begin anew
REPLAY = """async ([jobs, scale, inks]) => {
  for (const [name, data, kinds, anew] of jobs) {
    if (anew) { window.shapes = new Shapes(); }
    if (data) {
      const bytes = Uint8Array.from(atob(data), (one) => one.charCodeAt(0));
      await shapes.apply(new DataView(bytes.buffer));
    }
    const all = shapes.artists;
    if (kinds) {
      shapes.artists = new Map([...all].map(
        ([key, ops]) => [key, ops.filter((op) => kinds.includes(op.kind))]));
    }
    const [width, height] = shapes.size;
    const wide = Math.round(width * scale), high = Math.round(height * scale);
    if (canvas.width !== wide || canvas.height !== high) {
      canvas.width = wide;
      canvas.height = high;
    }
    const t0 = performance.now();
    shapes.paint(ink, [0, 0, width, height], scale, inks);
    shapes.artists = all;
    const t1 = performance.now();
    const dots = ink.getImageData(0, 0, wide, high).data;
    const t2 = performance.now();
    const small = new Blob([dots]).stream().pipeThrough(new CompressionStream('deflate'));
    const body = await new Response(small).blob();
    await fetch(`/dots/${name}/${high}/${wide}`, { method: 'POST', body });
    const t3 = performance.now();
    window.T = window.T || [0,0,0]; T[0]+=t1-t0; T[1]+=t2-t1; T[2]+=t3-t2;
  }
}"""


class Replay:
    """The page; `paint` gives dots.

    browser: in which it is opened.
    """

    def __init__(self, browser: Any) -> None:
        self.dots: dict[str, Any] = {}
        dots = self.dots

        class Answer(BaseHTTPRequestHandler):
            protocol_version = "HTTP/1.1"

            def do_GET(self) -> None:  # noqa: N802
                body, kind = SERVED.get(self.path, (b"", "text/plain"))
                self.send_response(200)
                self.send_header("Content-Type", kind)
                self.send_header("Content-Length", str(len(body)))
                self.end_headers()
                self.wfile.write(body)

            def do_POST(self) -> None:  # noqa: N802
                _, _, name, high, wide = self.path.split("/")
                long = int(self.headers["Content-Length"])
                flat = np.frombuffer(zlib.decompress(self.rfile.read(long)), np.uint8)
                dots[name] = flat.reshape(int(high), int(wide), 4)
                self.send_response(200)
                self.send_header("Content-Length", "0")
                self.end_headers()

            def log_message(self, *_: Any) -> None:
                pass

        self._server = ThreadingHTTPServer(("127.0.0.1", 0), Answer)
        threading.Thread(target=self._server.serve_forever, daemon=True).start()
        self.page = browser.new_page()
        self.page.goto(f"http://127.0.0.1:{self._server.server_port}/")
        self.page.evaluate(START)

    def close(self) -> None:
        """Close page and server."""
        self.page.close()
        self._server.shutdown()
        self._server.server_close()

    def paint(self, jobs: list[tuple[bytes, str, bool]], scale: float = look.DENSITY) -> list[Any]:
        """Dots of each job, uint8, shape (height, width, 4).

        jobs: a record or a change, b"" for none; the kinds of operation that are painted, "" for
        all; whether it begins a new picture. scale: dots for a shown pixel.
        """
        told = [
            [str(k), base64.b64encode(data).decode(), kinds, anew]
            for k, (data, kinds, anew) in enumerate(jobs)
        ]
        self.page.evaluate(REPLAY, [told, scale, look.INKS])
        return [self.dots.pop(str(k)) for k in range(len(jobs))]


# ---- how two differ ------------------------------------------------------------------------------


def _within(dots: Any, reach: int, most: Any) -> Any:
    """Greatest, or least, in a square round each dot; shape (h, w, c)."""
    out = dots
    for axis in (0, 1):
        pad = [(0, 0)] * 3
        pad[axis] = (reach, reach)
        wide = np.pad(out, pad, mode="edge")
        n = out.shape[axis]

        def cut(some: Any, start: int, count: int, axis: int = axis) -> Any:
            return some[start : start + count] if axis == 0 else some[:, start : start + count]

        two = most(cut(wide, 0, n + 2 * reach - 1), cut(wide, 1, n + 2 * reach - 1))
        width = 2
        while 2 * width <= 2 * reach + 1:
            size = two.shape[axis] - width
            two = most(cut(two, 0, size), cut(two, width, size))
            width *= 2
        rest = 2 * reach + 1 - width
        out = most(cut(two, 0, n), cut(two, rest, n)) if rest else cut(two, 0, n)
    return out


def strange(one: Any, other: Any, reach: int = 2, tolerance: int = 48) -> Any:
    """Dots of one that no dots near it in the other explain: bool, shape (h, w).

    one, other: uint8, shape (h, w, 3); reach: how near, in dots; tolerance: by how much a dot may
    lie outside what is between the least and the greatest there.
    """
    low, high = _within(other, reach, np.minimum), _within(other, reach, np.maximum)
    off = np.maximum(low - np.minimum(one, low), np.maximum(one, high) - high)
    return ((off > tolerance) & (one.min(axis=-1) < 255 - tolerance)[..., None]).any(axis=-1)


def apart(one: Any, other: Any, **how: Any) -> Any:
    """Dots of either that the other does not explain; one, other, how: as :func:`strange`."""
    return strange(one, other, **how) | strange(other, one, **how)


def inks_json() -> str:
    """The inks as the page takes them."""
    return json.dumps(look.INKS)
