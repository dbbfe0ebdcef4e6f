"""Take the README's picture: the out-of-round panel, live in a browser.

    python tests/take_pictures.py

Starts `mensura open` in a scratch folder, runs workbook 02, sets the panel to a telling state and
stores data/panel.png.
"""

from __future__ import annotations

import importlib.util
import io
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import sync_playwright

HERE = Path(__file__).resolve().parent

_spec = importlib.util.spec_from_file_location("shared", HERE / "conftest.py")
assert _spec is not None
assert _spec.loader is not None
shared = importlib.util.module_from_spec(_spec)
_spec.loader.exec_module(shared)


def take(target: Path) -> None:
    """Store a picture of the panel."""
    with tempfile.TemporaryDirectory() as scratch, sync_playwright() as tool:
        place = Path(scratch)
        env = shared.quiet_home(place / "home")
        command = [sys.executable, "-m", "mensura", "open", str(place / "class"), "--no-browser"]
        command += ["--port", str(shared.free_port())]
        process = subprocess.Popen(
            command, env=env, cwd=place, stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL
        )
        try:
            url, token = shared.wait_for_server(process, Path(env["JUPYTER_RUNTIME_DIR"]))
            browser = tool.chromium.launch(executable_path=shared.browser_path(), args=shared.FLAGS)
            page = browser.new_page(viewport={"width": 1366, "height": 1600})
            name = next(name for name in shared.shipped_workbooks() if name.startswith("02"))
            page.goto(f"{url}doc/tree/{name}?token={token}")
            shared.Workbook(page, []).run_all()
            panel = page.locator(".mensura-panel").first
            panel.get_by_role("checkbox").check()
            page.wait_for_timeout(1500)
            panel.scroll_into_view_if_needed()
            raw = panel.screenshot()
            browser.close()
        finally:
            process.terminate()
            process.wait(20)
    image = Image.open(io.BytesIO(raw)).convert("RGB")
    image.quantize(128, dither=Image.Dither.NONE).save(target, optimize=True)


if __name__ == "__main__":
    take(HERE.parent / "data" / "panel.png")
