"""Make the pictures' letters: the part of DejaVu Sans that a page is sent.

    python tests/make_letters.py

Pictures are laid out by the widths of DejaVu Sans, which comes with Matplotlib; a page that had
another face would miss the places. `sans.woff` and `sans-bold.woff` in `mensura/views/kit` hold the
same glyphs without the many that no picture needs, and `sans-licence.txt` their licence. The
same library gives the same bytes. Needs fontTools, which comes with Matplotlib too.
"""

from __future__ import annotations

import io
import shutil
from importlib import import_module
from pathlib import Path
from typing import Any

import matplotlib

KIT = Path(__file__).resolve().parents[1] / "mensura" / "views" / "kit"
TTF = Path(matplotlib.get_data_path()) / "fonts" / "ttf"

#: File in the kit → face that comes with Matplotlib.
FACES = {"sans.woff": "DejaVuSans.ttf", "sans-bold.woff": "DejaVuSans-Bold.ttf"}
LICENCE = {"sans-licence.txt": "LICENSE_DEJAVU"}

#: What a picture may say: ASCII, Latin-1, Greek, and signs of mathematics as we write them.
LETTERS = "".join(
    [
        *map(chr, range(0x20, 0x7F)),
        *map(chr, range(0xA0, 0x100)),
        *(chr(code) for code in range(0x391, 0x3CA) if code != 0x3A2),
        "ϑϕ̄ıŒœŠšŽžŁłŐőŰűĀāĒēĪīŌōŪū",
        "‐‑‒–—―‘’‚“”„†‡•…‰′″‹›⁄",
        "⁰ⁱ⁴⁵⁶⁷⁸⁹⁺⁻⁼⁽⁾ⁿ₀₁₂₃₄₅₆₇₈₉₊₋₌₍₎ᵃᵇᵖˣʸʷᵢⱼₐₑₓ",
        "€℃ℓ№™",
        "⅓⅔⅕⅖⅗⅘⅙⅚⅛⅜⅝⅞",
        "←↑→↓↔↕↖↗↘↙↦⇐⇑⇒⇓⇔",
        "∀∂∃∅∆∇∈∉∎∏∑−∓∕∗∘∙√∛∝∞∠∣∥∧∨∩∪∫∴∵∶∼≃≅≈≠≡≤≥≦≧≪≫⊂⊃⊆⊇⊥⋅⋯",
        "■□▲△▶▷▼▽◀◁●○◆◇★☆☐☑☒✓✔✗✘⟨⟩⟵⟶⟷⟸⟹⟺⩽⩾",
    ]
)


def subset(name: str) -> bytes:
    """A face with our letters only, as WOFF.

    name: of its file among Matplotlib's.
    """
    # imported by name: what Matplotlib brings is declared by Matplotlib
    library: Any = import_module("fontTools.subset")
    options = library.Options()
    options.flavor = "woff"
    options.hinting = False  # a page draws at any size; its places are finer than dots
    options.layout_features = ["kern", "mark", "mkmk", "ccmp"]
    options.drop_tables += ["FFTM", "MATH"]
    options.recalc_timestamp = False
    options.name_IDs = [0, 1, 2, 13, 14]  # whose it is, and under which licence
    font = library.load_font(str(TTF / name), options)
    one = library.Subsetter(options)
    one.populate(text=LETTERS)
    one.subset(font)
    out = io.BytesIO()
    library.save_font(font, out, options)
    return out.getvalue()


def known(data: Path | bytes) -> dict[int, tuple[str, int]]:
    """Code → glyph and its advance width, of a font.

    data: its file, or what is in it.
    """
    library: Any = import_module("fontTools.ttLib")
    font = library.TTFont(io.BytesIO(data) if isinstance(data, bytes) else data)
    wide = font["hmtx"].metrics
    return {code: (glyph, wide[glyph][0]) for code, glyph in font.getBestCmap().items()}


def make(folder: Path = KIT) -> None:
    """Write all of it.

    folder: where to.
    """
    for file, name in FACES.items():
        (folder / file).write_bytes(subset(name))
    for file, name in LICENCE.items():
        shutil.copyfile(TTF / name, folder / file)


if __name__ == "__main__":
    make()
