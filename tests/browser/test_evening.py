"""A lecturer's evening in a real browser: sheets, report and note, with nothing for axe to find."""

from __future__ import annotations

import pytest
from click.testing import CliRunner

from mensura.cli import main
from mensura.places import data_file

axe_tool = pytest.importorskip("axe_playwright_python.sync_playwright")


@pytest.fixture(scope="module")
def evening(tmp_path_factory):
    """The folder in which a practical's sheets and its report lie."""
    place = tmp_path_factory.mktemp("evening")
    (place / "roster.csv").write_text("hand\nQ01\nQ02\nQ03\n", "utf-8")
    for words in (
        ["practical", str(data_file("quillmere-practical.csv"))],
        ["field-sheet", str(place / "roster.csv"), "--stems", "6", "--instruments", "T1,T2,K1",
         "--key", "alder", "--no-simulation"],
    ):  # fmt: skip
        result = CliRunner().invoke(main, [*words, "--out", str(place)])
        assert result.exit_code == 0, result.output
    return place


@pytest.mark.parametrize("name", ["practical", "note-Q04", "field-sheets"])
@pytest.mark.parametrize(("wide", "scheme"), [(1100, "light"), (400, "dark")])
def test_axe_finds_nothing_and_nothing_asks_the_network(evening, chromium, name, wide, scheme):
    context = chromium.new_context(
        viewport={"width": wide, "height": 800}, color_scheme=scheme, offline=True
    )
    page = context.new_page()
    asked: list[str] = []
    page.on("request", lambda request: asked.append(request.url))
    page.goto((evening / f"{name}.html").as_uri())
    assert page.get_by_role("heading", level=1).count() >= 1
    found = axe_tool.Axe().run(page).response["violations"]
    assert [one["id"] for one in found] == []
    assert [url for url in asked if not url.startswith(("file:", "data:"))] == []
    # tables too wide for a telephone move in their own frames
    assert page.evaluate("document.documentElement.scrollWidth") <= wide
    context.close()
