"""A workbook's words, or a lecturer's own, as HTML for a page that stands alone.

Markdown is read by mistune, HTML in it is text, mathematics becomes MathML, and nothing is loaded
from anywhere. What only a page at work can do (*the page starts by itself*) is left out, cautions
get their box, and names of Python's are told as words: a student with a leaflet computes by hand.
"""

from __future__ import annotations

import re
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from functools import lru_cache
from typing import Any

from markupsafe import Markup, escape

from mensura.views.leaflets.maths import FORMULA, formula_or_text

#: Paragraphs that begin so speak of a page at work.
AT_WORK = ("**The page starts by itself.**",)
#: A link to a workbook's file leads nowhere from a leaflet; such a paragraph is a signpost only.
SIGNPOSTS = ("Before: [", "Next: [", "**Three problems of the bank")
#: What can be tried on a screen only.
TO_TRY = re.compile(r"\w+ things to try:")
ON_A_SCREEN = "On a screen (on paper, see the settings above):"
#: The section whose opening is a caution, up to the next paragraph that opens in bold.
FIELD = "In the field"
CARE = "**Care first**"
#: Columns of a table in Markdown that stand in a column of the page.
MOST_COLUMNS = 5

# no text holds them: a place where a formula goes
_OPEN, _CLOSE = "\ue000", "\ue001"
_HELD = re.compile(f"{_OPEN}(\\d+){_CLOSE}")
_CODE = re.compile(r"(`+)(?:.|\n)+?\1")
_FAR_APART = re.compile(r"(?:\\qquad\s*)+(?=[^{}]*(?:\{[^{}]*\}[^{}]*)*$)")
_BLANK_LINES = re.compile(r"\n[ \t]*\n")


@dataclass(frozen=True)
class Passage:
    """A run of words of one kind.

    html: as it stands on the page; caution: whether it belongs in the box; wide: whether it needs
    more than a column of the page.
    """

    html: Markup
    caution: bool = False
    wide: bool = False


def passages(words: str, title: str = "") -> Iterator[Passage]:
    """Words under a heading, parted where a caution begins and ends.

    words: in Markdown; title: the heading above them.

    >>> told = passages("**Care first**. Look up.\\n\\n**A good hand** looks.", FIELD)
    >>> [(one.caution, one.html.striptags()) for one in told]
    [(True, 'Care first. Look up.'), (False, 'A good hand looks.')]
    """
    kept = [one for one in _BLANK_LINES.split(words.strip()) if not _at_work(one)]
    runs: list[tuple[tuple[bool, bool], list[str]]] = []
    caution = title.casefold().endswith("caution")
    for chunk in kept:
        opens = chunk.lstrip()
        if opens.startswith(CARE):
            caution = True
        elif title == FIELD and opens.startswith("**"):
            caution = False
        # a sheet to be filled in
        wide = opens.startswith("|") and opens.partition("\n")[0].count("|") > MOST_COLUMNS + 1
        if TO_TRY.match(opens):
            chunk = f"*{ON_A_SCREEN}*\n\n{chunk}"
        if not runs or runs[-1][0] != (caution, wide):
            runs.append(((caution, wide), []))
        runs[-1][1].append(chunk)
    for (boxed, wide), chunks in runs:
        yield Passage(words_html("\n\n".join(chunks)), boxed, wide)


def _at_work(chunk: str) -> bool:
    return chunk.lstrip().startswith((*AT_WORK, *SIGNPOSTS))


def words_html(words: str) -> Markup:
    """Words in Markdown as HTML; whatever in them is no Markdown is text.

    words: as a workbook's cell or a lecturer's plan has them.

    >>> words_html("a *b* <i>c</i>")
    Markup('<p>a <em>b</em> &lt;i&gt;c&lt;/i&gt;</p>\\n')
    """
    formulas: list[Markup] = []

    def hold(found: re.Match[str]) -> str:
        if found["shown"] is None:
            formulas.append(formula_or_text(found["inline"]))
        else:
            # formulas beside each other stand below each other where there is no room
            each = [formula_or_text(one, True) for one in _FAR_APART.split(found["shown"])]
            formulas.append(
                Markup('<span class="formula">{}</span>').format(Markup("\n").join(each))
            )
        return f"{_OPEN}{len(formulas) - 1}{_CLOSE}"

    clean = words.replace(_OPEN, "").replace(_CLOSE, "")
    # what stands between backticks is no mathematics
    parts: list[str] = []
    at = 0
    for code in _CODE.finditer(clean):
        parts += [FORMULA.sub(hold, clean[at : code.start()]), code[0]]
        at = code.end()
    parts.append(FORMULA.sub(hold, clean[at:]))
    text = str(_reader()("".join(parts)))
    return Markup(_HELD.sub(lambda found: formulas[int(found[1])], text))


@lru_cache(maxsize=1)
def _reader() -> Callable[[str], Any]:
    import mistune

    class OnPaper(mistune.HTMLRenderer):
        """Writes what a page that stands alone can hold."""

        def __init__(self) -> None:
            super().__init__(escape=True)

        def link(self, text: str, url: str, title: str | None = None) -> str:
            """An address of the web as a link with its address in print; any other as words."""
            if not re.match(r"https?://", url):
                return text
            told = "" if url in text else f'<span class="address"> ({escape(url)})</span>'
            return f'<a href="{escape(url)}" rel="noreferrer">{text}</a>{told}'

        def image(self, text: str, url: str, title: str | None = None) -> str:
            """A picture from elsewhere is not loaded; its words stand for it."""
            return f"<em>{escape(text)}</em>" if text else ""

        def codespan(self, text: str) -> str:
            """A name of Python's in words, anything else as it is."""
            if re.fullmatch(r"[a-z]+(_[a-z0-9]+)+", text):
                return f"<em>{escape(text.replace('_', ' '))}</em>"
            return f"<code>{escape(text)}</code>"

        def heading(self, text: str, level: int, **attrs: Any) -> str:
            """A heading of a lecturer's own text stands below the page's."""
            return f"<h{min(level + 2, 6)}>{text}</h{min(level + 2, 6)}>\n"

    return mistune.create_markdown(renderer=OnPaper(), plugins=["table"])


def cited(texts: Sequence[str], keys: Sequence[str]) -> list[str]:
    """Keys of sources that stand in brackets in some texts, in the order of the list.

    texts: in Markdown; keys: all there are.

    >>> cited(["so [B2] says; [C3, D4] too"], ["A1", "B2", "C3"])
    ['B2', 'C3']
    """
    found = {
        one.strip()
        for text in texts
        for inside in re.findall(r"\[([^\[\]]+)\]", text)
        for one in re.split(r"[,;]", inside)
    }
    return [key for key in keys if key in found]
