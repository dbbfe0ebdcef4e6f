"""A plain page that paints records on a canvas and gives the dots back, and how two differ.

The page is served from here and sends its dots as bytes, not as text: some gigabytes go through.
"""

from __future__ import annotations

import base64
import threading
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
    shapes.paint(ink, [0, 0, width, height], scale, inks);
    shapes.artists = all;
    // which dot, and how often it follows itself
    const dots = new Uint32Array(ink.getImageData(0, 0, wide, high).data.buffer);
    if (!window.runs || runs.length < 2 * dots.length) {
      window.runs = new Uint32Array(2 * dots.length);
    }
    let many = 0;
    for (let k = 0, from = 0; k < dots.length; k += 1) {
      if (k + 1 === dots.length || dots[k + 1] !== dots[k]) {
        runs[many] = dots[k];
        runs[many + 1] = k + 1 - from;
        many += 2;
        from = k + 1;
      }
    }
    await fetch(`/dots/${name}/${high}/${wide}`, { method: 'POST', body: runs.subarray(0, many) });
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

            def do_GET(self) -> None:
                body, kind = SERVED.get(self.path, (b"", "text/plain"))
                self.send_response(200)
                self.send_header("Content-Type", kind)
                self.send_header("Content-Length", str(len(body)))
                self.end_headers()
                self.wfile.write(body)

            def do_POST(self) -> None:
                _, _, name, high, wide = self.path.split("/")
                long = int(self.headers["Content-Length"])
                runs = np.frombuffer(self.rfile.read(long), np.uint32)
                flat = np.repeat(runs[::2], runs[1::2])
                dots[name] = flat.view(np.uint8).reshape(int(high), int(wide), 4)
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


def strange(one: Any, other: Any, reach: int = 2, tolerance: int = 16) -> Any:
    """Ink of one that no dots near it in the other explain: row, column and by how much, (n, 3).

    one, other: uint8, shape (h, w, 4); reach: how near, in dots; tolerance: by how much a dot may
    lie outside what is between the least and the greatest there.
    """
    # what agrees where it stands needs no neighbours; a dot's four bytes are looked up as one word
    whole = [np.ascontiguousarray(dots).view(np.uint32)[..., 0] for dots in (one, other)]
    at = np.flatnonzero(np.not_equal(*whole))
    here, there = (words.ravel()[at].view(np.uint8).reshape(-1, 4) for words in whole)
    off = ((np.maximum(here, there) - np.minimum(here, there)) > tolerance).any(axis=-1)
    ink = off & (here[:, :3].min(axis=-1) < 255 - tolerance)
    tall, wide = other.shape[:2]
    (rows, columns), here = np.divmod(at[ink], wide), here[ink]
    low, high = np.full_like(here, 255), np.zeros_like(here)
    for down in range(-reach, reach + 1):
        begins = np.clip(rows + down, 0, tall - 1) * wide
        for right in range(-reach, reach + 1):
            words = whole[1].ravel()[begins + np.clip(columns + right, 0, wide - 1)]
            near = words.view(np.uint8).reshape(-1, 4)
            np.minimum(low, near, out=low)
            np.maximum(high, near, out=high)
    beyond = np.maximum(low - np.minimum(here, low), np.maximum(here, high) - high)
    beyond = beyond[:, :3].max(axis=-1)
    return np.column_stack([rows, columns, beyond])[beyond > tolerance]


def apart(one: Any, other: Any, **how: Any) -> Any:
    """Ink of either that the other does not explain; one, other, how: as :func:`strange`."""
    return np.concatenate([strange(one, other, **how), strange(other, one, **how)])
