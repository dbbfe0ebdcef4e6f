"""Formulas: all of them are read, mean what was written, and find their letters in the face."""

from __future__ import annotations

import io
import math
import re
from functools import cache
from importlib import import_module
from importlib.resources import files
from xml.etree import ElementTree

import pytest

from mensura.checks import MeasureError
from mensura.disk.sections import all_sections
from mensura.views.leaflets.maths import FORMULA, formula_or_text, mathml

GREEK = {"π": math.pi, "α": 0.2, "β": 0.3, "θ": 0.4, "φ": 0.5, "ε": 0.07, "Δ": 1.7, "μ": 0.9}
#: Names of letters, each of its own size.
SIZES = {letter: 1.1 + 0.37 * place for place, letter in enumerate("abcdeghknprstuwxyzEGLPRT")}


@cache
def formulas() -> frozenset[tuple[str, bool]]:
    """Every formula of the workbooks, and whether it is displayed."""
    return frozenset(
        (found["shown"] or found["inline"], bool(found["shown"]))
        for one in all_sections()
        for block in one.blocks
        for found in FORMULA.finditer(block.words)
    )


def test_every_formula_of_the_workbooks_is_read():
    assert len(formulas()) > 110
    for formula, displayed in formulas():
        text = str(mathml(formula, displayed))
        assert text.startswith("<math ")
        assert "\\" not in text


# ---- read back: an evaluator of MathML, written for this test only ------------------------------


def value_of(one: ElementTree.Element) -> float:
    """What a piece of MathML comes to, letters having the sizes above."""
    if one.tag == "mn":
        return float(one.text or "")
    if one.tag == "mi":
        return (GREEK | SIZES)[one.text or ""]
    if one.tag == "mfrac":
        return value_of(one[0]) / value_of(one[1])
    if one.tag == "msqrt":
        return math.sqrt(row(list(one)))
    if one.tag == "msup":
        return value_of(one[0]) ** value_of(one[1])
    if one.tag == "msub":
        return SIZES[one[0].text or ""] + 0.01 * ord((one[1].text or "")[0])
    if one.tag == "msubsup":
        return value_of(_sub(one)) ** value_of(one[2])
    return row(list(one))


def _sub(one: ElementTree.Element) -> ElementTree.Element:
    made = ElementTree.Element("msub")
    made.extend(one[:2])
    return made


def row(parts: list[ElementTree.Element]) -> float:
    """Sum of products; a function takes what stands beside it, up to a sign."""
    words: list[str] = []
    values: dict[str, float] = {}

    def put(value: float) -> str:
        values[f"v{len(values)}"] = value
        return f"v{len(values) - 1}"

    at = 0
    while at < len(parts):
        one = parts[at]
        at += 1
        power, base = None, one
        if one.tag == "msup" and (one[0].text or "") in ("cos", "sin", "tan", ")"):
            base, power = one[0], value_of(one[1])
        if one.tag in ("mspace", "mtext"):
            continue
        if base.tag == "mi" and base.text in ("cos", "sin", "tan"):
            inside = 1.0
            while at < len(parts) and parts[at].tag in ("mi", "mn", "mspace"):
                if parts[at].tag == "mi" and parts[at].text in ("cos", "sin", "tan"):
                    break
                if parts[at].tag != "mspace":
                    inside *= value_of(parts[at])
                at += 1
            words.append(put(getattr(math, base.text)(inside) ** (power or 1)))
        elif base.tag == "mo" and base.text == ")":
            words.append(f")**{power}" if power else ")")
        elif one.tag == "mo":
            words.append({"−": "-", ".": "", ",": ""}.get(one.text or "", one.text or ""))
        else:
            words.append(put(value_of(one)))
    text = ""
    for word in filter(None, words):
        joins = text and (text[-1].isdigit() or text[-1] == ")") and word[0] not in ")+-/"
        text += ("*" if joins else "") + word
    return float(eval(text, {}, values))  # our own workbooks' formula, in a test


def side(formula: str, place: int) -> float:
    """One side of an equation, read back from its MathML."""
    root = ElementTree.fromstring(str(mathml(formula, True)))
    parts = list(root[0]) if len(root) == 1 and root[0].tag == "mrow" else list(root)
    sides: list[list[ElementTree.Element]] = [[]]
    for one in parts:
        if one.tag == "mo" and one.text in ("=", "≈", "≤"):
            sides.append([])
        else:
            sides[-1].append(one)
    return row(sides[place])


A, B, R, SMALL_R = (SIZES[one] for one in "abRr")
W1, W2 = (SIZES["w"] + 0.01 * ord(one) for one in "12")
C0 = SIZES["c"] + 0.01 * ord("0")
R2, R4 = (SIZES["r"] + 0.01 * ord(one) for one in "24")
THETA, BETA = GREEK["θ"], GREEK["β"]


@pytest.mark.parametrize(
    ("formula", "place", "by_hand"),
    [
        (
            r"G \approx 2\pi\sqrt{\frac{a^2+b^2}{2}},",
            1,
            2 * math.pi * math.sqrt((A**2 + B**2) / 2),
        ),
        (r"a^2 + b^2 = 2ab + (a-b)^2", 1, 2 * A * B + (A - B) ** 2),
        (
            r"L = 2\sqrt{(R+r)^2-(R-r)^2} + R\,(\pi + 2\beta) + r\,(\pi - 2\beta) .",
            1,
            2 * math.sqrt((R + SMALL_R) ** 2 - (R - SMALL_R) ** 2)
            + R * (math.pi + 2 * BETA)
            + SMALL_R * (math.pi - 2 * BETA),
        ),
        (
            r"w_1^2 w_2^2 = 16a^2b^2 + 4\,(a^2-b^2)^2 \sin^2 2\theta ,",
            1,
            16 * A**2 * B**2 + 4 * (A**2 - B**2) ** 2 * math.sin(2 * THETA) ** 2,
        ),
        (r"w_1^2 w_2^2 = 16a^2b^2 + 4\,(a^2-b^2)^2 \sin^2 2\theta ,", 0, W1**2 * W2**2),
    ],
)
def test_a_formula_means_what_was_written(formula, place, by_hand):
    """Read back from MathML and worked out, it comes to what the formula gives by hand."""
    squeezed = {re.sub(r"\s", "", one) for one, _ in formulas()}
    assert re.sub(r"\s", "", formula) in squeezed  # it stands in a workbook
    assert side(formula, place) == pytest.approx(by_hand, rel=1e-12)


def test_two_formulas_beside_each_other_both_mean_what_was_written():
    """The widths of workbook 02: sum and product at right angles."""
    both = next(one for one, _ in formulas() if "w_1+w_2" in one)
    first, second = (one.strip(" ,.\n") for one in both.split(r"\qquad"))
    assert side(first, 0) == pytest.approx((W1 + W2) / 4)
    assert side(first, 1) == pytest.approx(C0 + R4 * math.cos(4 * THETA))
    assert side(second, 0) == pytest.approx(W1 * W2 / 4)
    told = (C0 + R4 * math.cos(4 * THETA)) ** 2 - R2**2 * math.cos(2 * THETA) ** 2
    assert side(second, 1) == pytest.approx(told)


# ---- what cannot be read, what would harm -------------------------------------------------------


@pytest.mark.parametrize("formula", [r"\frac{1", r"\nosuch{a}", "a^", r"\frac{1}"])
def test_what_cannot_be_read_is_shown_as_it_was_written(formula):
    with pytest.raises(MeasureError):
        mathml(formula)
    assert "<math" not in formula_or_text(formula)
    assert formula.replace("<", "&lt;") in formula_or_text(formula)


def test_a_formula_brings_no_link_no_style_and_no_markup():
    for formula in (
        r"\href{javascript:alert(1)}{x}",
        r"\class{big}{x}",
        r"\style{color:red}{x}",
        r"\text{<script>alert(1)</script>}",
        r"\color{red}{x}",
    ):
        made = str(formula_or_text(formula))
        assert not re.search(r"<script|<a |\b(href|style|class=\"big|onclick)\s*=", made)


# ---- the face ------------------------------------------------------------------------------------


def face():
    library = import_module("fontTools.ttLib")
    data = files("mensura.views.leaflets").joinpath("maths.woff").read_bytes()
    return library.TTFont(io.BytesIO(data))


def test_every_sign_of_every_formula_is_in_the_face_as_a_browser_sets_it():
    """A name's single letter is set slanted, which is another letter of the face."""
    known = set(face().getBestCmap())
    slanted = {chr(ord("a") + k): 0x1D44E + k for k in range(26)} | {"h": 0x210E}
    slanted |= {chr(ord("A") + k): 0x1D434 + k for k in range(26)}
    slanted |= {chr(ord("α") + k): 0x1D6FC + k for k in range(25)}
    for formula, displayed in formulas():
        for one in ElementTree.fromstring(str(mathml(formula, displayed))).iter():
            text = one.text or ""
            assert {ord(sign) for sign in text} <= known, formula
            if one.tag == "mi" and len(text) == 1 and "mathvariant" not in one.attrib:
                assert slanted.get(text, ord(text)) in known, formula


def test_the_face_says_how_roots_brackets_and_sums_grow_and_is_named_anew():
    font = face()
    variants = font["MATH"].table.MathVariants
    grows = variants.VertGlyphCoverage.glyphs
    names = font.getBestCmap()
    for sign in "√()[]{}|∫∑":
        assert names[ord(sign)] in grows, sign
    assert font["name"].getDebugName(1) == "mensura maths"
    licence = files("mensura.views.leaflets").joinpath("maths-licence.txt").read_text("utf-8")
    assert font["name"].getDebugName(0) in licence
    assert "SIL OPEN FONT LICENSE Version 1.1" in licence
    assert "Reserved Font Name" in licence
