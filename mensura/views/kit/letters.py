"""The letters of the pictures: a face that travels with them, since its widths laid them out.

A subset of DejaVu Sans, regular and bold; its licence lies beside it. A page at work asks for the
bytes once, a page that is handed out carries them in its sheet.
"""

from __future__ import annotations

import base64
from functools import lru_cache
from importlib.resources import files

#: What a page calls the face.
FACE = "mensura sans"


@lru_cache(maxsize=1)
def letters() -> tuple[bytes, bytes]:
    """The face, regular and bold, as WOFF.

    >>> [one[:4] for one in letters()]
    [b'wOFF', b'wOFF']
    """
    here = files("mensura.views.kit")
    return here.joinpath("sans.woff").read_bytes(), here.joinpath("sans-bold.woff").read_bytes()


@lru_cache(maxsize=1)
def letters_style() -> str:
    """Rules of a sheet that bring the face along, for a page that needs no network.

    >>> letters_style().count("@font-face")
    2
    """
    rules = []
    for weight, data in zip(("normal", "bold"), letters(), strict=True):
        text = base64.b64encode(data).decode("ascii")
        rules.append(
            f'@font-face {{ font-family: "{FACE}"; font-weight: {weight}; '
            f"src: url(data:font/woff;base64,{text}) }}"
        )
    return "\n".join(rules)
