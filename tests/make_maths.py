"""Make the letters of the leaflets' mathematics: the part of STIX Two Math that a leaflet carries.

    pip download --no-deps -d FOLDER ziamath && unzip -d FOLDER FOLDER/ziamath*.whl
    python tests/make_maths.py FOLDER/ziamath/fonts/STIXTwoMath-Regular.ttf

A browser can lay mathematics out by itself, but stretches a root, a bracket or an integral only
with a face that says how (its MATH table). `maths.woff` in `mensura/views/leaflets` holds what our
formulas need and some more, `maths-licence.txt` its licence, the SIL Open Font License. The face is
named anew, since it is a part only. The same file gives the same bytes.
"""

from __future__ import annotations

import io
import sys
from importlib import import_module
from pathlib import Path
from typing import Any

import matplotlib

LEAFLETS = Path(__file__).resolve().parents[1] / "mensura" / "views" / "leaflets"
FACE = "mensura maths"
#: Where the licence's own words come from; Matplotlib's STIX faces are older, under the same one.
LICENCE = Path(matplotlib.get_data_path()) / "fonts" / "ttf" / "LICENSE_STIX"
LICENCE_BEGINS = "SIL OPEN FONT LICENSE Version 1.1"

#: Letters upright and slanted (a browser writes a name's single letter with the latter), Greek of
#: both kinds, figures, and the signs that a formula of ours or a lecturer's may need.
LETTERS = "".join(
    [
        *map(chr, range(0x20, 0x7F)),
        "\u00a0±·×÷¬°²³½¼¾′″‴…⋯⋮∞",
        *(chr(code) for code in range(0x391, 0x3CA) if code != 0x3A2),
        "ϑϕϵϖϱς",
        *map(chr, range(0x1D434, 0x1D468)),
        "ℎℓ",
        *map(chr, range(0x1D6E2, 0x1D71C)),
        "−∓∗∘∙√∛∝∠∣∥∧∨∩∪∫∮∬∏∑∂∇∆∀∃∅∈∉∋⊂⊃⊆⊇",
        "∼≃≅≈≠≡≤≥≦≧≪≫⩽⩾⊥∴∵∶←↑→↓↔⇐⇒⇔⇑⇓↦⟵⟶⟷⟸⟹⟺",
        "⌈⌉⌊⌋⟨⟩‖ˆˇ˙¨¯˜→\u0302\u0304\u0305\u0307\u0308\u0303\u20d7⏞⏟⏜⏝",
    ]
)


def subset(file: Path) -> bytes:
    """The face with these letters only, and with whatever they grow into, as WOFF.

    file: STIX Two Math, as it is handed out.
    """
    # imported by name: what Matplotlib brings is declared by Matplotlib
    library: Any = import_module("fontTools.subset")
    options = library.Options()
    options.flavor = "woff"
    options.hinting = False
    options.layout_features = ["ssty", "ccmp"]
    options.drop_tables += ["DSIG", "GPOS"]
    options.recalc_timestamp = False
    options.name_IDs = [0, 1, 2, 4, 6, 7, 13, 14]
    font = library.load_font(str(file), options)
    one = library.Subsetter(options)
    one.populate(text=LETTERS)
    one.subset(font)
    for record in font["name"].names:
        told = {1: FACE, 4: FACE, 6: FACE.title().replace(" ", "")}.get(record.nameID)
        if told:
            record.string = told
    out = io.BytesIO()
    library.save_font(font, out, options)
    return out.getvalue()


def licence(file: Path) -> str:
    """Whose the face is, and the licence in full.

    file: STIX Two Math, as it is handed out.
    """
    library: Any = import_module("fontTools.ttLib")
    names = library.TTFont(file)["name"]
    text = LICENCE.read_text("utf-8")
    begins = text.index(LICENCE_BEGINS)
    return (
        f"{names.getDebugName(0)}\n{names.getDebugName(7)}\n\n{FACE} is a part of "
        f"{names.getDebugName(1)}, {names.getDebugName(5)}.\n{names.getDebugName(13)}\n\n"
        + "\n".join(line.rstrip() for line in text[begins:].rstrip().splitlines())
        + "\n"
    )


def make(file: Path, folder: Path = LEAFLETS) -> None:
    """Write both.

    file: STIX Two Math, as it is handed out; folder: where to.
    """
    (folder / "maths.woff").write_bytes(subset(file))
    (folder / "maths-licence.txt").write_text(licence(file), "utf-8", newline="\n")


if __name__ == "__main__":
    make(Path(sys.argv[1]))
