"""A lesson given in a browser, for the tests: `mensura present` on a plan, and what is seen."""

from __future__ import annotations

import os
import signal
import subprocess
import sys
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from mensura.views.kit import look

ALIVE = '.jp-NotebookPanel[data-mensura-page="alive"]'

#: What is wrong with the sizes of the screen on show: one sentence each. Words are at least 24 px
#: high; pictures of the workbooks have letters of 11 pt at their own width, and so many are wanted.
FAULTS = """([most, letters]) => {
  const box = document.querySelector('.jp-WindowedPanel-outer');
  const bad = [];
  const all = document.querySelectorAll('.mensura-on, .mensura-on *, .jp-WindowedPanel-outer');
  for (const one of all) {
    const style = getComputedStyle(one);
    const seen = one.getBoundingClientRect().width > 1 && one.checkVisibility();
    if (!seen) continue;
    const high = /auto|scroll/.test(style.overflowY) && one.scrollHeight > one.clientHeight + 1;
    const wide = /auto|scroll/.test(style.overflowX) && one.scrollWidth > one.clientWidth + 1;
    if (high || wide) bad.push(`scrolls: ${one.className}`);
  }
  const walker = document.createTreeWalker(box, NodeFilter.SHOW_TEXT);
  const range = document.createRange();
  for (let text = walker.nextNode(); text; text = walker.nextNode()) {
    if (!text.data.trim()) continue;
    const on = text.parentElement;
    range.selectNodeContents(text);
    const at = range.getBoundingClientRect();
    if (at.width < 2 || at.height < 2 || !on.checkVisibility()) continue;
    if (on.closest('mjx-container') || getComputedStyle(on).clipPath !== 'none') continue;
    const size = parseFloat(getComputedStyle(on).fontSize) * (on.currentCSSZoom || 1);
    if (!on.closest('sub, sup') && size < 23.9) bad.push(`${size} px: ${text.data.slice(0, 40)}`);
    const wide = at.left < -1 || at.right > innerWidth + 1;
    const high = at.top < -1 || at.bottom > innerHeight + 1;
    if (wide || high) bad.push(`cut: ${text.data.slice(0, 40)}`);
  }
  for (const one of box.querySelectorAll('img.mensura-large[width]')) {
    const at = one.getBoundingClientRect();
    const size = (LETTER * at.width) / Number(one.getAttribute('width'));
    if (at.width && size < letters - 0.1) bad.push(`letters of ${size} px in a picture`);
  }
  return bad.slice(0, most);
}""".replace("LETTER", str(look.TEXT_PT * look.SHOWN_DPI / 72))

#: Height of letters in pictures that each size of window asks for.
LETTERS_PX = {(1280, 720): 16, (1024, 768): 13, (1920, 1080): 24}


class Given:
    """A plan's lesson, served and looked at.

    folder: with the plan; env: in which it is presented; port: where; wait: for the server.
    """

    def __init__(self, plan: Path, env: dict[str, str], port: int, wait: Any) -> None:
        self.plan, self.env, self.port, self.wait = plan, env, port, wait
        self.process: Any = None
        self.messages: list[str] = []
        self.expected_loss = False

    # ---- the server --------------------------------------------------------------------------

    def present(self) -> None:
        """Starts the lesson as a lecturer does."""
        for old in Path(self.env["JUPYTER_RUNTIME_DIR"]).glob("jpserver-*.json"):
            old.unlink()
        python = os.environ.get("MENSURA_PYTHON", sys.executable)
        command = [python, "-P", "-m", "mensura", "present", str(self.plan), "--no-browser"]
        with (self.plan.parent / "log.txt").open("a") as log:
            self.process = subprocess.Popen(
                [*command, "--port", str(self.port)],
                cwd=self.plan.parent,
                env=self.env,
                stdout=log,
                stderr=subprocess.STDOUT,
                start_new_session=True,
            )
        self.url, self.token = self.wait(self.process, Path(self.env["JUPYTER_RUNTIME_DIR"]))

    def stop(self) -> None:
        """Ends the server, and its kernels with it."""
        if self.process and self.process.poll() is None:
            self.process.terminate()
            try:
                self.process.wait(20)
            except subprocess.TimeoutExpired:
                self.process.kill()

    @property
    def folder(self) -> Path:
        """Where the lesson lies."""
        return self.plan.with_name(f"{self.plan.stem}-lesson")

    def kill_kernel(self) -> None:
        """The kernel dies, by its own process, as when it runs out of memory."""
        kernel = self.page.evaluate("() => fetch('/api/kernels').then(told => told.json())")
        assert len(kernel) == 1
        listed = subprocess.run(
            ["ps", "-ww", "-eo", "pid,args"], capture_output=True, text=True, check=True
        )
        found = [
            int(line.split(None, 1)[0])
            for line in listed.stdout.splitlines()
            if f"kernel-{kernel[0]['id']}.json" in line
        ]
        assert found, (kernel, listed.stdout)
        for one in found:
            os.kill(one, signal.SIGKILL)

    # ---- the page ------------------------------------------------------------------------------

    def open(self, browser: Any, width: int = 1280, height: int = 720) -> None:
        """Opens the lesson in a browser of its own, until its first screen is seen."""
        self.context = browser.new_context(viewport={"width": width, "height": height})
        self.page = self.context.new_page()
        self.listen(self.page)
        self.page.goto(f"{self.url}doc/tree/lesson.ipynb?token={self.token}")
        self.seen()

    def listen(self, page: Any) -> None:
        """Whatever a page says on its console as an error is heard."""

        def hear(message: Any) -> None:
            if message.type == "error" and not self.expected_loss:
                self.messages.append(f"{message.text} {message.location.get('url', '')}")

        page.on("console", hear)
        page.on("pageerror", lambda error: self.messages.append(str(error)))

    def seen(self, seconds: float = 60) -> None:
        """Waits until a screen is seen."""
        self.page.wait_for_selector(".jp-Cell.mensura-on", timeout=seconds * 1000)

    def alive(self, seconds: float = 90) -> None:
        """Waits until all of the lesson lives."""
        self.page.wait_for_selector(ALIVE, timeout=seconds * 1000)

    def press(self, *keys: str) -> None:
        """Presses keys, one after the other, and gives each its frame."""
        for key in keys:
            self.page.keyboard.press(key)
            self.page.wait_for_timeout(70)

    def go(self, number: int) -> None:
        """To a screen by its number, by the list."""
        self.press("g", *str(number), "Enter")
        self.page.wait_for_timeout(200)

    @property
    def at(self) -> str:
        """The place in the lesson, as its words say it."""
        return str(self.page.locator(".mensura-lesson-count").inner_text())

    @property
    def title(self) -> str:
        """Of the screen."""
        return str(self.page.locator("h1.mensura-lesson-title").inner_text())

    @property
    def told(self) -> str:
        """What is said of the page itself."""
        return str(self.page.locator(".mensura-lesson-told").text_content())

    def until(self, holds: str, seconds: float = 30) -> None:
        """Waits until something holds in the page.

        holds: an expression in JavaScript.
        """
        self.page.wait_for_function(holds, timeout=seconds * 1000)

    def faults(self, width: int, height: int) -> list[str]:
        """What is wrong with the screen on show at a size of the window."""
        found: list[str] = self.page.evaluate(FAULTS, [6, LETTERS_PX[width, height]])
        return found

    def screens(self, most: int = 200) -> Iterator[str]:
        """Each screen from here on, by Page Down alone, as its place is told; what a screen has to
        unfold is unfolded on the way.

        most: turns of one screen before it counts as the last.
        """
        yield self.at
        still = 0
        while still < most:
            before = self.at
            self.press("PageDown")
            still = still + 1 if self.at == before else 0
            if not still:
                yield self.at
