"""The frame: its mark stands once in everything of ours that a notebook shows."""

from __future__ import annotations

import html
import importlib
import inspect
import pkgutil
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import ipywidgets as w
import pytest
from ipywidgets.widgets.widget import _instances

import mensura.views
from mensura.teaching.proof import ROADS
from mensura.views.chapters import panels
from mensura.views.chapters.asking import ask
from mensura.views.chapters.games import picture_game, wrong_reading_game
from mensura.views.kit import look
from mensura.views.kit.frame import FRAME, LETTERS_TO_BOX, MARK, framed, on_load
from mensura.views.kit.style import SHEET
from mensura.views.problems.practice import Practice, problems_here
from mensura.views.proof.own_line import own_line
from mensura.views.proof.panel import proof_panel

VIEW = "application/vnd.jupyter.widget-view+json"

#: One of everything that a notebook shows as widgets, and its kind in the style sheet.
SHOWN: dict[str, tuple[Callable[[Path], Any], str]] = {
    **{name: (lambda _, one=one: one, "mensura-panel") for name, one in panels().items()},
    **{f"proof, {n}": (lambda _, n=n: proof_panel(n), "mensura-panel") for n in ROADS},
    "prediction": (lambda _: ask("02-predict"), "mensura-ask"),
    "exercise": (lambda _: ask("02-1"), "mensura-ask"),
    "reading game": (lambda _: wrong_reading_game(), "mensura-game"),
    "picture game": (lambda _: picture_game(), "mensura-game"),
    "own line": (own_line, "mensura-own"),
    "practice": (lambda at: Practice(None, "Q07", "quillmere", "1", at), "mensura-practice"),
    "problem": (lambda _: problems_here("girth-to-diameter"), "mensura-practice"),
    "problem, words": (lambda _: problems_here("girth-to-diameter", 1, False), "mensura-practice"),
}


def tree(root: Any) -> Iterator[Any]:
    """A widget and all that stands in it."""
    yield root
    for child in getattr(root, "children", ()):
        yield from tree(child)


@pytest.mark.parametrize("name", SHOWN)
def test_everything_stands_in_one_frame(name: str, tmp_path: Path) -> None:
    """The outermost box is the frame, holds its script and sheet once, and knows its kind."""
    make, kind = SHOWN[name]
    bundle = make(tmp_path)._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    root = _instances[data[VIEW]["model_id"]]
    assert {FRAME, kind} <= set(root._dom_classes)
    everything = list(tree(root))
    assert sum(FRAME in one._dom_classes for one in everything) == 1
    written = [one.value for one in everything if isinstance(one, w.HTML)]
    assert sum(text.count(MARK) for text in written) == 1
    assert sum(text.count("<style>") for text in written) == 1
    assert sum(SHEET in text for text in written) == 1


def test_every_kind_of_ours_is_among_them() -> None:
    """Whatever class gives a notebook widgets is shown above: a new one has to join."""
    giving = set()
    for info in pkgutil.walk_packages(mensura.views.__path__, "mensura.views."):
        for one in vars(importlib.import_module(info.name)).values():
            if inspect.isclass(one) and one.__module__ == info.name:
                own = vars(one).get("_repr_mimebundle_")
                if own:
                    giving.add(one)
    shown = {cls for make, _ in SHOWN.values() for cls in type(make(Path())).__mro__}
    assert {one.__name__ for one in giving - shown} == {"Still", "SourceList"}  # no widgets
    assert len(giving & shown) > 5


def test_scripts_are_written_in_one_place() -> None:
    """Nothing of ours but the frame writes a script into a page, or a sheet of its own."""
    for path in Path(mensura.views.__file__).parent.rglob("*.py"):
        text = path.read_text("utf-8")
        if path.name != "frame.py":
            assert "onload" not in text
            assert "addEventListener" not in text
        if path.name not in ("style.py", "page.py"):  # a page kept on the disk has its own
            assert "<style>" not in text


def test_letters_go_to_the_box_where_it_is_asked_for() -> None:
    """Only a frame that is told so sends letters on."""
    assert LETTERS_TO_BOX not in framed(w.VBox(), "mensura-ask")._dom_classes
    assert LETTERS_TO_BOX in framed(w.VBox(), "mensura-own", letters_to_box=True)._dom_classes
    assert LETTERS_TO_BOX in MARK


def test_a_script_does_not_end_its_attribute() -> None:
    """Quotes, brackets and ampersands of a script come back as they were."""
    from html.parser import HTMLParser

    met: list[Any] = []

    class Reader(HTMLParser):
        def handle_starttag(self, tag: str, attrs: Any) -> None:
            met.append((tag, dict(attrs)))

    script = "if (1 < 2 && 'a' !== \"b\") { go(); }"
    Reader().feed(on_load(script))
    ((tag, attributes),) = met
    assert tag == "img"
    assert attributes["onload"] == script
    assert attributes["alt"] == ""
    assert html.unescape(MARK).count("addEventListener('keydown'") == 1


def test_the_sheet_s_colours_are_the_look_s() -> None:
    """No colour stands in the sheet that is not one of the look's."""
    assert "$" not in SHEET
    colours = set(re.findall(r"#[0-9A-Fa-f]{3,6}\b", SHEET))
    assert colours
    assert colours <= set(look.COLOURS)
    assert SHEET.count("{") == SHEET.count("}")
