"""The frame: it stands once in everything of ours that a notebook shows."""

from __future__ import annotations

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
from mensura.views.chapters.place_game import place_game
from mensura.views.kit.frame import (
    FRAME,
    LETTERS_TO_BOX,
    SCRIPTS,
    frame_class,
    framed,
    module_text,
    waiting_text,
)
from mensura.views.kit.style import SHEET
from mensura.views.lessons import on_screen
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
    "place game": (lambda _: place_game("Q07"), "mensura-game"),
    "own line": (own_line, "mensura-own"),
    "practice": (lambda at: Practice(None, "Q07", "quillmere", "1", at), "mensura-practice"),
    "problem": (lambda _: problems_here("girth-to-diameter"), "mensura-practice"),
    "problem, words": (lambda _: problems_here("girth-to-diameter", 1, False), "mensura-practice"),
    "on a lesson's screen": (lambda _: on_screen("02", "out-of-round-panel"), "mensura-screen"),
}


def tree(root: Any) -> Iterator[Any]:
    """A widget and all that stands in it."""
    yield root
    for child in getattr(root, "children", ()):
        yield from tree(child)


@pytest.mark.parametrize("name", SHOWN)
def test_everything_stands_in_one_frame(name: str, tmp_path: Path) -> None:
    """The outermost box is the frame, holds module and sheet once, and knows its kind."""
    make, kind = SHOWN[name]
    bundle = make(tmp_path)._repr_mimebundle_()
    data = bundle[0] if isinstance(bundle, tuple) else bundle
    root = _instances[data[VIEW]["model_id"]]
    assert {FRAME, kind} <= set(root._dom_classes)
    everything = list(tree(root))
    assert sum(FRAME in one._dom_classes for one in everything) == 1
    (module,) = [one for one in everything if isinstance(one, frame_class())]
    assert root.children[0] is module
    told = [(module_text(), SHEET), (waiting_text("mensuraFrame"), "")]
    assert (module._esm, module._css) in told
    written = [one.value for one in everything if isinstance(one, w.HTML)]
    assert len(written) > 1
    assert not [text for text in written if "<style" in text or "onload" in text]


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
    # no widgets; and a frame with another beside it, held in lessons/test_desk.py
    assert {one.__name__ for one in giving - shown} == {"Still", "SourceList", "LessonDesk"}
    assert len(giving & shown) > 5


def test_scripts_are_written_in_one_place() -> None:
    """No script stands in our Python, nothing rides on an event attribute, no sheet but the one."""
    for path in Path(mensura.views.__file__).parent.rglob("*.py"):
        text = path.read_text("utf-8")
        assert not re.search(r"\bon(load|error|click)\s*=\s*[\\\"']", text)
        assert "addEventListener" not in text
        # a page kept on the disk has its own
        if path.name != "page.py" and path.parent.name != "sheets":
            assert "<style>" not in text


def test_the_module_is_made_of_all_scripts() -> None:
    """Every JavaScript file beside the frame is part of its module, and only the first exports."""
    kit = Path(mensura.views.__file__).parent / "kit"
    others = {"waiting.js"}  # a module of its own
    assert set(SCRIPTS) | others <= {path.name for path in kit.glob("*.js")}
    assert SCRIPTS[0] == "frame.js"
    for name in SCRIPTS:
        text = (kit / name).read_text("utf-8")
        assert text.startswith("// ")
        assert not re.search(r"\beval\b|innerHTML|setTimeout\(look", text)
        last = text.rstrip().splitlines()[-8:]
        assert "\n".join(last[1:]) in module_text()
    assert len(re.findall(r"^export", module_text(), re.M)) == 1
    assert "/*INKS*/" not in module_text()


def test_module_and_sheet_are_sent_once(run_in_kernel: Callable[..., str]) -> None:
    """The first frame of a kernel has them; each one after it has a few lines that wait."""
    printed = run_in_kernel(
        "import ipywidgets as w\n"
        "from mensura.views.kit.frame import framed, module_text\n"
        "boxes = [framed(w.VBox([]), 'mensura-ask') for _ in range(3)]\n"
        "frames = [box.children[0] for box in boxes]\n"
        "print([one._esm == module_text() for one in frames], [bool(one._css) for one in frames],\n"
        "      max(len(one._esm) for one in frames[1:]) < 1000)"
    )
    assert printed == "[True, False, False] [True, False, False] True\n"


def test_the_library_is_loaded_when_a_frame_is_made(run_in_kernel: Callable[..., str]) -> None:
    """To import what makes frames costs no widget library."""
    printed = run_in_kernel(
        "import sys; import mensura.views.kit.frame; print('anywidget' in sys.modules)",
        "mensura.views.kit.frame.frame_class(); print('anywidget' in sys.modules)",
    )
    assert printed.split() == ["False", "True"]
    assert frame_class() is frame_class()


def test_letters_go_to_the_box_where_it_is_asked_for() -> None:
    """Only a frame that is told so sends letters on."""
    assert LETTERS_TO_BOX not in framed(w.VBox(), "mensura-ask")._dom_classes
    assert LETTERS_TO_BOX in framed(w.VBox(), "mensura-own", letters_to_box=True)._dom_classes
    assert LETTERS_TO_BOX in module_text()
