"""Formulas as real mathematics: MathML, which a browser sets by itself, and a face that stretches.

What stands between dollar signs is TeX's notation. latex2mathml turns it into MathML; here names of
functions get the space round them that a printed formula has, and capital Greek stands upright. A
browser without our face would set it too, but its roots and brackets would not grow.
"""

from __future__ import annotations

import base64
import re
from functools import lru_cache
from importlib.resources import files
from xml.etree import ElementTree

from markupsafe import Markup

from mensura.checks import MeasureError

#: What a leaflet calls the face; `maths.woff` is a part of STIX Two Math.
FACE = "mensura maths"

_NAMESPACE = "{http://www.w3.org/1998/Math/MathML}"
#: A lecturer's own formula brings no link and no style along.
_ATTRIBUTES = {"accent", "accentunder", "columnalign", "display", "displaystyle", "fence", "form"}
_ATTRIBUTES |= {"height", "linethickness", "mathvariant", "maxsize", "minsize", "scriptlevel"}
_ATTRIBUTES |= {"separator", "stretchy", "symmetric", "width"}
#: latex2mathml hands on what stands between < and >, as in \text{<b>}: nothing else is taken.
_TAGS = {"math", "mfrac", "mi", "mn", "mo", "mover", "mroot", "mrow", "ms", "mspace", "msqrt"}
_TAGS |= {"mstyle", "msub", "msubsup", "msup", "mtable", "mtd", "mtext", "mtr", "munder"}
_TAGS |= {"munderover", "menclose", "mpadded", "mphantom", "merror", "mmultiscripts", "mprescripts"}
#: How many parts each has.
_PARTS = {"mfrac": 2, "msup": 2, "msub": 2, "msubsup": 3, "mroot": 2}
_PARTS |= {"mover": 2, "munder": 2, "munderover": 3}
_THIN = "0.167em"
_CAPITAL_GREEK = re.compile("[Α-Ω]")

#: A formula in Markdown: displayed, or in a line of text. A sign before a figure is money.
FORMULA = re.compile(
    r"\$\$(?P<shown>.+?)\$\$|(?<![\\$])\$(?=[^\s$])(?P<inline>[^$\n]*?[^\s\\$])\$(?![0-9$])",
    re.DOTALL,
)


def mathml(formula: str, displayed: bool = False) -> Markup:
    """A formula as MathML.

    formula: in TeX's notation; displayed: whether it stands on a line of its own.
    Raises MeasureError for one that cannot be read.

    >>> mathml("r^2")[:64]
    Markup('<math display="inline"><msup><mi>r</mi><mn>2</mn></msup></math>')
    """
    from latex2mathml.converter import convert

    try:
        text = convert(formula.strip(), display="block" if displayed else "inline")
        # its own escapes are HTML's, and an XML reader knows them all by number
        root = ElementTree.fromstring(text)
    except Exception as error:  # each kind of mistake has an exception of its own
        raise MeasureError("formula", formula, "", "mathematics in TeX's notation") from error
    if "\\" in "".join(root.itertext()) or not all(map(_is_whole, root.iter())):
        raise MeasureError("formula", formula, "", "mathematics in TeX's notation")
    for one in root.iter():
        one.tag = one.tag.removeprefix(_NAMESPACE)
        one.attrib = {name: told for name, told in one.attrib.items() if name in _ATTRIBUTES}
    _spaced(root)
    for name in root.iter("mi"):
        if _CAPITAL_GREEK.fullmatch(name.text or ""):
            name.set("mathvariant", "normal")
    _unwrapped(root)
    return Markup(ElementTree.tostring(root, encoding="unicode", short_empty_elements=False))


def _is_whole(one: ElementTree.Element) -> bool:
    """Whether something is mathematics and has all its parts: a fraction both of its own, say."""
    tag = one.tag.removeprefix(_NAMESPACE)
    return tag in _TAGS and len(one) == _PARTS.get(tag, len(one))


def _unwrapped(root: ElementTree.Element) -> None:
    """What is one thing needs no row round it."""
    for parent in root.iter():
        for place, one in enumerate(parent):
            if one.tag == "mrow" and len(one) == 1:
                parent[place] = one[0]


def _is_function(one: ElementTree.Element) -> bool:
    """Whether something is a function's name, perhaps with an exponent: cos, sin²."""
    if one.tag in ("msup", "msub", "msubsup") and len(one):
        return _is_function(one[0])
    return one.tag == "mi" and len(one.text or "") > 1


def _is_operand(one: ElementTree.Element) -> bool:
    return one.tag in ("mi", "mn", "msup", "msub", "msubsup", "mfrac", "msqrt", "mstyle")


def _spaced(root: ElementTree.Element) -> None:
    """A thin space between a function's name and what stands beside it, but for a bracket."""
    for parent in root.iter():
        if parent.tag not in ("mrow", "math", "mstyle"):
            continue
        made: list[ElementTree.Element] = []
        for one in list(parent):
            before = made[-1] if made else None
            beside = before is not None and _is_operand(before) and _is_operand(one)
            if beside and before is not None and (_is_function(before) or _is_function(one)):
                made.append(ElementTree.Element("mspace", {"width": _THIN}))
            made.append(one)
        for one in list(parent):
            parent.remove(one)
        parent.extend(made)


def formula_or_text(formula: str, displayed: bool = False) -> Markup:
    """A formula as MathML; one that cannot be read as it was written, as text.

    formula: in TeX's notation, perhaps a lecturer's own; displayed: as :func:`mathml` has it.

    >>> str(formula_or_text("\\\\frac{1"))
    '<span class="unread">\\\\frac{1</span>'
    """
    try:
        return mathml(formula, displayed)
    except MeasureError:
        return Markup('<span class="unread">{}</span>').format(formula)


@lru_cache(maxsize=1)
def maths_style() -> str:
    """Rules of a sheet that bring the face along.

    >>> maths_style()[:35]
    '@font-face { font-family: "mensura '
    """
    data = files(__package__).joinpath("maths.woff").read_bytes()
    text = base64.b64encode(data).decode("ascii")
    return (
        f'@font-face {{ font-family: "{FACE}"; src: url(data:font/woff;base64,{text}) }}\n'
        f'math {{ font-family: "{FACE}", math; }}'
    )
