"""Every figure in the prose: where texts stand, and which typed numbers in them make a claim.

A text is a cell of words in a workbook, or a string in a module. A figure is a number typed in it.
What is no figure is hidden first, by the rules of HIDDEN, each with its reason; there are no
exceptions for single places. Text is never shortened, so that a figure keeps its place in it.
"""

from __future__ import annotations

import ast
import json
import math
import re
from collections.abc import Iterator
from dataclasses import dataclass
from functools import cache
from pathlib import Path

ROOT = Path(__file__).resolve().parents[2]

NUMBER = re.compile(
    r"(?<![\w.{])(?P<sign>(?:(?<=[\s(|>])|^)[+−-])?"
    r"(?P<digits>\d+/\d+(?!\d|\.\d|·)|\d{1,3}(?:[ \u202f]\d{3})+(?:\.\d+)?|\d+(?:\.\d+)?)(?!\d)"
)

#: What is no figure, and why. The first group that is not None is hidden, or the whole match.
HIDDEN: dict[str, tuple[re.Pattern[str], ...]] = {
    "code: it is run or typed, and its result is compared elsewhere": (
        re.compile(r"```.*?```|`[^`]*`", re.DOTALL),
    ),
    "a link or the name of a source": (
        re.compile(r"\[[^\]]*\]\([^)]*\)"),
        re.compile(r"\[[A-Z][A-Za-z0-9-]*(?:, [^\]]*)?\]"),
    ),
    "the number of a page, a question or a step in a list": (
        re.compile(r"\b[Ww]orkbooks? \d\d(?:(?:, | and )\d\d)*|\b\d\d-(?:\d|predict)\b"),
        re.compile(r"^#+ \d\d", re.MULTILINE),
        re.compile(r"^ *\d+\. ", re.MULTILINE),
        re.compile(r"(?:\| \d )+\|$", re.MULTILINE),
        re.compile(r"(?<= )\(\d\)(?= \{)"),
    ),
    "a step of reckoning told in words: test_solutions.py works such sums out": (
        re.compile(
            r"(?:[Tt]imes|[Mm]ultiply (?:both sides )?by|[Dd]ivided? (?:s |the squares )?by"
            r"|and by|[Tt]ake away|[Ll]ess) (?:10 000|100|[1-9])\b(?!\.\d|\d| ?[%°]| [cm]?m\b)"
        ),
        re.compile(r"over (?:10 000|100)\b(?! ?%)"),
    ),
}

#: A formula: names of quantities, operators and numbers; its whole numbers are coefficients.
_A, _Z = r"(?<![A-Za-z])", r"(?![A-Za-z])"
_VARIABLE = (
    rf"(?:\{{[^{{}}]*\}}|[πα-ωΔΘ][a-z]{{0,2}}|{_A}[a-zA-Z]{_Z}|(?<=\d)[a-zA-Z]{{1,2}}{_Z}"
    rf"|{_A}ab{_Z}|[₀-₉])"
)
_NUMBER = r"\d+(?:[ \u202f]\d{3})*(?:\.\d+)?"
_FUNCTION = rf"(?:{_A}(?:sin|cos|tan|arcsin|arccos|arctan){_Z})"
_OPERATOR = r"[+−·×/=<>≥≤≠≈√()²³⁴°]"
_RUN = re.compile(rf"(?:(?:{_VARIABLE}|{_NUMBER}|{_FUNCTION}|{_OPERATOR}) ?)+")
_WORKS = re.compile(r"[+−·×/=<>≥≤≠≈√²³⁴]|\d[πα-ω{a-zA-Z(]|π\d|sin|cos|tan")
_MATHS = re.compile(r"\$\$.*?\$\$|\$[^$]+\$", re.DOTALL)

#: Constants of formulas as they are typed with four figures or more; each is worked out anew.
CONSTANTS = {
    "π": math.pi,
    "2π": 2 * math.pi,
    "4π": 4 * math.pi,
    "π/4": math.pi / 4,
    "4/π": 4 / math.pi,
    "√2": math.sqrt(2),
    "√3": math.sqrt(3),
    "a foot in metres": 12 * 0.0254,
    "a cubic foot in cubic metres": (12 * 0.0254) ** 3,
}


@dataclass(frozen=True)
class Text:
    """One text: where it stands, its words, what of it is data, and the code it belongs to.

    where: as "cell 12" or "line 40"; words: with {…} for what is computed; beside: the numbers of
    the code next to it, or of the call it stands in; statement: the question whose reply it is.
    """

    where: str
    words: str
    beside: str = ""
    statement: str = ""


@dataclass(frozen=True)
class Figure:
    """One figure. start, end: its place in the words; shown: as typed; value: with its sign."""

    start: int
    end: int
    shown: str
    value: float
    signed: bool

    @property
    def step(self) -> float:
        """One unit in the last place that is typed; a fraction is exact."""
        if "/" in self.shown:
            return 1e-9
        decimals = self.shown.partition(".")[2]
        return float(10.0 ** -len(decimals))


def _blank(words: str, start: int, end: int) -> str:
    return words[:start] + "\0" * (end - start) + words[end:]


def _is_coefficient(run: str, at: re.Match[str]) -> bool:
    """Whether a number in a formula is one of its coefficients, and not a value in it."""
    digits = at["digits"].replace(" ", "").replace("\u202f", "")
    if "." in digits or run[at.end() : at.end() + 1] == "°":
        return False
    digits = max(digits.split("/"), key=len)
    small = len(digits) < 3 or re.fullmatch(r"1(?:00)+0?", digits)
    before, after = run[: at.start()].rstrip(), run[at.end() :].strip()
    joined = run[at.end() : at.end() + 1].isalpha()
    alone = before.endswith(("=", "≈")) and not joined and after[:1] not in tuple("+−·×/π(abr√")
    return bool(small) and not alone


def _is_coefficient_in_maths(maths: str, at: re.Match[str]) -> bool:
    digits, after = at["digits"], maths[at.end() :].lstrip(" $\\,;")
    if "/" in digits:  # an exponent over a divisor, as in G^2/4π, is no fraction
        return maths[: at.start()].endswith(("^", "_")) or after[:1].isalpha()
    if "." in digits or len(digits) > 2 or after.startswith(("°", "%")):
        return False
    return not (re.search(r"(?:=|\\approx)\s*$", maths[: at.start()]) and not after)


def is_constant(at: re.Match[str]) -> bool:
    """Whether a number is a constant of CONSTANTS, right in every figure that is typed."""
    whole, point, decimals = at["digits"].partition(".")
    if not point or len((whole + decimals).lstrip("0")) < 4:
        return False
    return any(f"{one:.{len(decimals)}f}" == at["digits"] for one in CONSTANTS.values())


_LEFT = re.compile(rf"((?:(?:π|{_NUMBER}|{_FUNCTION}|[+−·×/√()²³⁴°]) ?)+)= ?$")


def worked_out_left_of(words: str, at: re.Match[str]) -> float | None:
    """What the sum written left of a number comes to, where there is one without variables."""
    left = _LEFT.search(words[: at.start()])
    if not left or not re.search(r"[+−·×/√²³⁴π]", left[1]):
        return None
    text = left[1].strip()
    for old, new in (
        ("\u202f", ""),
        ("−", "-"),
        ("·", "*"),
        ("×", "*"),
        ("²", "**2"),
        ("³", "**3"),
        ("⁴", "**4"),
        ("°", "*pi/180"),
    ):
        text = text.replace(old, new)
    text = re.sub(r"(?<=\d) (?=\d{3}\b)", "", text)
    text = re.sub(r"√(\d+)", r"sqrt(\1)", text).replace("√", "sqrt")
    text = re.sub(r"(sin|cos|tan|arctan) ([\d.]+(?:\*pi/180)?)", r"\1(\2)", text)
    text = re.sub(r"(?<=[\d)π])(?=[π(])", "*", text).replace("π", "pi")
    names = {name: getattr(math, name) for name in ("sin", "cos", "tan", "sqrt", "pi")}
    try:
        return float(eval(text, {"__builtins__": {}}, names | {"arctan": math.atan}))
    except (SyntaxError, TypeError, NameError, ValueError, ZeroDivisionError):
        return None


def value_of(digits: str) -> float:
    """The size of a number as typed: 12.5, 12 000 or 3/8."""
    above, stroke, below = re.sub(r"[ \u202f]", "", digits).partition("/")
    return float(above) / (float(below) if stroke else 1.0)


def figures(words: str) -> list[Figure]:
    """The figures of a text, in order: what no rule hides and no written sum gives."""
    plain = words
    for rules in HIDDEN.values():
        for rule in rules:
            for found in rule.finditer(plain):
                plain = _blank(plain, *found.span())
    shielded: set[int] = set()
    for maths in _MATHS.finditer(plain):
        for at in NUMBER.finditer(maths[0]):
            if _is_coefficient_in_maths(maths[0], at):
                shielded.add(maths.start() + at.start("digits"))
        for at in re.finditer(r"(?<=frac)\d\d|(?<=frac)\d", maths[0]):
            shielded.add(maths.start() + at.start())
    for run in _RUN.finditer(_MATHS.sub(lambda one: "\0" * len(one[0]), plain)):
        body = run[0]
        skip = len(body) - len(re.sub(r"^[aA] (?=\d)", "", body))
        if not re.search(_VARIABLE, body[skip:]) or not _WORKS.search(body[skip:]):
            continue
        for at in NUMBER.finditer(body):
            if _is_coefficient(body, at):
                shielded.add(run.start() + at.start("digits"))
    kept = []
    for at in NUMBER.finditer(plain):
        if at.start("digits") in shielded or at["digits"] == "0" or is_constant(at):
            continue
        value = value_of(at["digits"])
        one = Figure(at.start(), at.end(), at["digits"], value, bool(at["sign"]))
        worked = worked_out_left_of(plain, at)
        if worked is not None and abs(abs(worked) - value) <= one.step / 2 * (1 + 1e-9):
            continue
        if at["sign"] in ("−", "-"):
            one = Figure(at.start(), at.end(), at["digits"], -value, True)
        kept.append(one)
    return kept


def numbers_in(node: ast.AST) -> str:
    """The numbers of a piece of code, but for those in its strings, parted by blanks."""
    return " ".join(
        repr(one.value)
        for one in ast.walk(node)
        if isinstance(one, ast.Constant) and isinstance(one.value, int | float)
    )


def notebook_texts(book: dict) -> Iterator[Text]:
    """The cells of words of a workbook; beside each, the code before and after it."""
    cells = book["cells"]
    code = ["".join(c["source"]) if c["cell_type"] == "code" else None for c in cells]
    for number, cell in enumerate(cells):
        if cell["cell_type"] == "markdown":
            before = next((c for c in reversed(code[:number]) if c), "")
            after = next((c for c in code[number:] if c), "")
            words = re.sub(r"[ \t]+", " ", "".join(cell["source"]))
            beside = " ".join(numbers_in(ast.parse(c)) for c in (before, after))
            yield Text(f"cell {number}", words, beside)


#: Where the data of a question stand: these are what it gives, and a wrong choice says no truth.
_STATEMENTS = {"Prediction": 0, "Exercise": 0, "Choice": 0}


def module_texts(source: str) -> Iterator[Text]:
    """The strings of a module with its placeholders; docstrings and data of questions left out."""
    tree = ast.parse(source)
    skipped: set[int] = set()
    for node in ast.walk(tree):
        body = getattr(node, "body", None)
        if isinstance(body, list):
            # docstrings, of names too: a string that stands by itself
            skipped |= {
                id(one.value)
                for one in body
                if isinstance(one, ast.Expr) and isinstance(one.value, ast.Constant)
            }
    yield from _strings(tree, skipped, "", "")


def _strings(node: ast.AST, skipped: set[int], beside: str, statement: str) -> Iterator[Text]:
    if isinstance(node, ast.Constant | ast.JoinedStr):
        words = words_of(node)
        if id(node) not in skipped and " " in words:
            yield Text(f"line {node.lineno}", words, beside, statement.replace(words, ""))
        return
    data: list[ast.AST] = []
    if isinstance(node, ast.Call):
        name = getattr(node.func, "id", getattr(node.func, "attr", ""))
        beside = beside or numbers_in(node)
        if name in _STATEMENTS and node.args:
            right = any(k.arg == "right" for k in node.keywords)
            if name != "Choice" or not right:
                data.append(node.args[0])
            statement += " " + words_of(node.args[0])
            if name == "Prediction":
                choices = [c for c in ast.walk(node) if isinstance(c, ast.Call) and c.args]
                statement += " " + " ".join(words_of(c.args[0]) for c in choices)
        text = next((k.value for k in node.keywords if k.arg == "text"), None)
        if name in ("Family", "renew") and text is not None:
            data.append(text)
            statement += " " + words_of(text)
    for child in ast.iter_child_nodes(node):
        inner = child.value if isinstance(child, ast.keyword) else child
        if inner not in data:
            yield from _strings(inner, skipped, beside, statement)


def words_of(node: ast.AST) -> str:
    """A string of a module, with {name} for what it computes; nothing for what is no string."""
    if isinstance(node, ast.Constant):
        return node.value if isinstance(node.value, str) else ""
    if isinstance(node, ast.JoinedStr):
        return "".join(
            words_of(part) if isinstance(part, ast.Constant) else "{…}" for part in node.values
        )
    return ""


@cache
def notebook(name: str) -> dict:
    """A workbook as stored. name: its file."""
    return dict(json.loads((ROOT / "workbooks" / name).read_text(encoding="utf-8")))


def output_words(book: dict) -> str:
    """All that a workbook prints, on one line."""
    parts = []
    for cell in book["cells"]:
        for one in cell.get("outputs", []):
            text = one.get("text") or one.get("data", {}).get("text/plain", "")
            parts.append("".join(text))
    return re.sub(r"\s+", " ", " ".join(parts))


def sentence(words: str, figure: Figure) -> str:
    """The sentence that a figure stands in."""
    start = max(words.rfind(mark, 0, figure.start) for mark in (". ", "? ", "\n", "| "))
    ends = [words.find(mark, figure.end) for mark in (". ", "? ", "\n")]
    end = min([one for one in ends if one >= 0] or [len(words)])
    return " ".join(words[start + 1 : end + 1].split())
