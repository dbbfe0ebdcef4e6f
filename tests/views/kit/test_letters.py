"""The letters that a page is sent: every one that a picture draws, as wide as Agg lays it out."""

from __future__ import annotations

import importlib.util
import re
import sys
import unicodedata
from functools import cache
from importlib.resources import files
from pathlib import Path
from types import ModuleType

import pytest

from mensura.views.kit.live import Live
from mensura.views.kit.record import TEXT, unpacked

TESTS = Path(__file__).resolve().parents[2]
KIT = files("mensura.views.kit")


@cache
def beside(path: Path) -> ModuleType:
    """A module of these tests that is none of them."""
    name = f"mensura_tests_{path.stem}"
    if name not in sys.modules:
        spec = importlib.util.spec_from_file_location(name, path)
        assert spec
        assert spec.loader
        sys.modules[name] = importlib.util.module_from_spec(spec)
        spec.loader.exec_module(sys.modules[name])
    return sys.modules[name]


letters = beside(TESTS / "make_letters.py")


def face(name: str) -> dict[int, tuple[str, int]]:
    """Code → glyph and width, of a face that is sent."""
    found: dict[int, tuple[str, int]] = letters.known(KIT.joinpath(name).read_bytes())
    return found


@pytest.mark.parametrize("name", letters.FACES)
def test_the_faces_are_what_the_script_makes(name: str) -> None:
    """Made anew they hold the same letters, each as wide as in the whole face."""
    kept = face(name)
    assert kept == letters.known(letters.subset(letters.FACES[name]))
    whole = letters.known(letters.TTF / letters.FACES[name])
    assert {chr(code) for code in kept} >= set(letters.LETTERS)
    assert {code: wide for code, (_, wide) in kept.items()} == {
        code: whole[code][1] for code in kept
    }


def test_no_letter_is_asked_for_twice() -> None:
    """And every one has a name: none is a slip of the keyboard."""
    assert len(set(letters.LETTERS)) == len(letters.LETTERS)
    assert all(unicodedata.name(one, "") for one in letters.LETTERS)


def test_they_are_small() -> None:
    """Both together; a page carries them. No brotli is needed to read them."""
    data = [KIT.joinpath(name).read_bytes() for name in letters.FACES]
    assert sum(map(len, data)) < 60_000
    assert all(one[:4] == b"wOFF" for one in data)


def test_their_licence_travels_along() -> None:
    """The words that every copy must carry."""
    text = KIT.joinpath("sans-licence.txt").read_text("utf-8")
    assert text == (letters.TTF / "LICENSE_DEJAVU").read_text("utf-8")
    assert "permission notice shall" in text


def test_every_picture_is_written_in_them() -> None:
    """Every letter of every picture at every control's ends, and its weight."""
    known = {bold: set(map(chr, face(name))) for bold, name in enumerate(letters.FACES)}
    missing, written = set(), 0
    for case in beside(TESTS / "views" / "every_picture.py").cases():
        live, styles = Live(case.make()), {}
        for numbers in case.shown.values():
            # whole at first, then what looks other than before
            told = unpacked(live.changes(numbers)[0] if styles else live.record(numbers))
            styles |= told.styles
            for ops in told.artists.values():
                for op, _ in ops:
                    if op[0] == TEXT:
                        written += 1
                        bold = styles[op[1]].get("bold", 0)
                        missing |= {(case.name, one) for one in set(op[2]) - known[bold]}
        live.close()
    assert missing == set()
    assert written > 3000


def test_what_we_write_is_in_them() -> None:
    """Numbers, units and signs of the proofs, on panels to come as well."""
    known = set(map(chr, face("sans.woff")))
    assert set("0123456789.,−+±×÷·=≠≈≤≥<>%‰°²³½¼¾⅓⅔⅛⅜⅝⅞√∛π∑∫∞∆Σ⇒⇐⇔→←↑↓ØµαβθφΔ") <= known
    assert set("“”‘’–—…✓✗′″ₐ₀₁₂₃₄⁰¹⁴⁵⁶⁷⁸⁹⁻⁺ⁿ") <= known


def test_the_painter_asks_for_them_by_name() -> None:
    """The face that fonts.js registers is the first that shapes.js writes with."""
    given = re.search(r"new FontFace\('([^']+)'", KIT.joinpath("fonts.js").read_text("utf-8"))
    asked = re.search(r"LETTERS = '\"([^\"]+)\"", KIT.joinpath("shapes.js").read_text("utf-8"))
    assert given
    assert asked
    assert given[1] == asked[1] == "mensura sans"
