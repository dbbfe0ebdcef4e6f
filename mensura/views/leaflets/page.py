"""A leaflet's page: pieces in their order become one file that needs nothing else.

On paper narrow pieces run in two columns and wide ones across both; a heading goes with what
follows it. What is asked is counted, and its answers stand on the last page. The page's own policy
forbids it to load anything, and allows the one script that plays recorded panels.
"""

from __future__ import annotations

import ast
import base64
import hashlib
import html
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import lru_cache
from importlib.resources import files

from markupsafe import Markup

from mensura.disk.sections import Block
from mensura.views.kit.inks import inks_style
from mensura.views.kit.letters import letters_style
from mensura.views.kit.recording import player_script, player_style
from mensura.views.kit.table import in_css
from mensura.views.leaflets.asked import Asked
from mensura.views.leaflets.maths import maths_style
from mensura.views.leaflets.pictures import Sheet
from mensura.views.leaflets.words import FIELD, passages

#: A table whose rows need more signs than this goes across both columns.
WIDEST_LINE = 50
#: A cell with more of them is broken into lines; and so much is between two cells.
BROKEN, BETWEEN = 22, 2
#: Words with fewer signs are not parted into columns.
SHORT = 420
#: A heading and more signs than this may be parted after its first lines.
TOGETHER = 1200

#: How a leaflet begins, for a reader on paper.
HOW_TO_READ = (
    "Where the words say press, tick or move: on a phone or a computer the panels of this page "
    "move, without a network. On paper look at the settings printed beside them."
)
#: Where answers are: by whether they fill more than a page.
ANSWERS = ("Answers stand on the last page.", "Answers stand on the last pages.")
#: So many signs of answers fill a page.
PAGEFUL = 4500
#: The section whose place is the last page, beside the answers.
SOURCES = "Sources"
INVENTED = "Demo stems, trainees and instruments are invented."


@dataclass(frozen=True)
class Piece:
    """Something that stands on the page.

    html: as it is; wide: whether it goes across both columns; heading: whether it is one; words:
    whether it is nothing but words.
    """

    html: Markup
    wide: bool = False
    heading: bool = False
    words: bool = False

    @property
    def short(self) -> bool:
        """Whether it is a few words, that lead to what follows."""
        return self.words and len(self.html.striptags()) < SHORT


class Page:
    """A leaflet in the making.

    title: of the page; source: where it is from, for its foot; name: of its file, without ending.
    """

    def __init__(self, title: str, source: str, name: str) -> None:
        self.title, self.source, self.name = title, source, name
        self.sheet = Sheet()
        self.pieces: list[Piece] = []
        self.answers: list[Markup] = []
        self.texts: list[str] = []
        self._asked = self._moving = 0
        self._field: list[Piece] | None = None
        self._sources = False
        self.tail: list[Piece] = []  # sources stand after the answers

    # ---- pieces --------------------------------------------------------------------------------

    def heading(self, text: str, level: int = 2) -> None:
        """A heading below the page's own.

        text: in plain words; level: 2 or more.
        """
        self.end_field()
        level = min(max(level, 2), 4)
        html = Markup(f"<h{level}>{{}}</h{level}>\n").format(text)
        self._sources = text == SOURCES
        if text == FIELD:
            self._field = []
        self._put(Piece(html, heading=True))

    def words(self, words: str, title: str = "") -> None:
        """Words, their cautions in a box.

        words: in Markdown; title: the heading above them.
        """
        self.texts.append(words)
        for one in passages(words, title):
            if not one.caution:
                if one.wide:
                    self._put(Piece(one.html, wide=True))
                else:
                    # what leads to the next piece stays with it
                    for part in _last_apart(one.html):
                        self._put(Piece(part, words=True))
                continue
            box = Markup('<aside class="caution" aria-label="Caution">{}</aside>').format(one.html)
            self._put(Piece(box, wide=True))

    def block(self, block: Block, title: str = "") -> None:
        """A piece of a workbook's section.

        block: words, a table or a picture; title: the heading above it.
        """
        if block.kind == "words":
            self.words(block.words, title)
        elif block.kind == "picture":
            picture = self.sheet.stored(block.shown["text/html"])
            self._put(Piece(Markup("<figure>{}</figure>").format(picture), wide=True))
        elif "text/html" in block.shown:
            table = Markup(block.shown["text/html"])  # a workbook of ours made it
            listed = table.startswith("<ul>")
            kind = "references" if listed else "sheet"
            html = Markup(f'<div class="{kind}">{{}}</div>').format(table)
            self._put(Piece(html, wide=not listed and _signs_wide(table) > WIDEST_LINE))
        else:
            self._put(Piece(Markup("<blockquote>{}</blockquote>").format(_quoted(block))))

    def put(self, html: Markup, wide: bool = False) -> None:
        """Anything else.

        html: as it is; wide: whether it goes across both columns.
        """
        self._put(Piece(html, wide))

    def ask(self, make: Callable[[int], Asked]) -> None:
        """Something that is asked; its answer goes to the last page.

        make: takes the number by which it is counted, and gives it.
        """
        self._asked += 1
        one = make(self._asked)
        self._put(Piece(one.html, one.wide))
        if one.answer:
            self.answers.append(one.answer)

    def next_recording(self) -> str:
        """A name for the next recording."""
        self._moving += 1
        return f"moving-{self._moving}"

    def _put(self, piece: Piece) -> None:
        here = self.tail if self._sources else self.pieces
        (here if self._field is None else self._field).append(piece)

    def end_field(self) -> None:
        """Whatever stands under *In the field* so far becomes one framed piece."""
        if self._field is None:
            return
        inside, self._field = _arranged(self._field), None
        framed = Markup('<section class="field">{}</section>').format(inside)
        self._put(Piece(framed, wide=True))

    # ---- the file ------------------------------------------------------------------------------

    def whole(self) -> str:
        """The whole page."""
        self.end_field()
        script = player_script() if self._moving else ""
        digest = base64.b64encode(hashlib.sha256(script.encode("utf-8")).digest()).decode("ascii")
        runs = f"sha256-{digest}" if script else "none"
        policy = (
            "default-src 'none'; img-src data:; font-src data:; style-src 'unsafe-inline'; "
            f"script-src '{runs}'; base-uri 'none'; form-action 'none'"
        )
        ran = Markup('<script type="module">{}</script>').format(Markup(script))
        return str(
            _PAGE.format(
                policy=policy,
                title=self.title,
                style=Markup(_style(self.title, self.source)),
                shared=self.sheet.shared,
                lead=f"{HOW_TO_READ if self._moving else ''} {ANSWERS[self._long]}".lstrip(),
                body=_arranged(self.pieces),
                answers=self._answers(),
                tail=_arranged(self.tail),
                long=" long" if self._long else "",
                source=sentence(self.source),
                invented=INVENTED,
                script=ran if script else "",
            )
        )

    @property
    def _long(self) -> bool:
        """Whether the answers fill more than a page."""
        return sum(len(one.striptags()) for one in self.answers) > PAGEFUL

    def _answers(self) -> Markup:
        if not self.answers:
            return Markup()
        return Markup(
            '<section class="answers"><h2>Answers</h2><ol class="flow">{}</ol></section>'
        ).format(Markup("\n").join(self.answers))


def _signs_wide(table: str) -> int:
    """How many signs a table's rows need: words of a head may stand below each other.

    >>> _signs_wide("<tr><th>under bark, cm</th></tr><tr><td>44.00</td></tr>")
    7
    """
    needs: dict[int, int] = {}
    for number, row in enumerate(re.findall("<tr>(.*?)</tr>", table, re.DOTALL)):
        for place, cell in enumerate(re.findall("<t[hd][^>]*>(.*?)</t[hd]>", row, re.DOTALL)):
            text = html.unescape(cell)
            long = max(map(len, [text] if number else text.split()), default=0)
            needs[place] = max(needs.get(place, 0), min(long, BROKEN))
    return sum(needs.values()) + BETWEEN * len(needs)


def _quoted(block: Block) -> Markup:
    """Text that a cell shows, without Python's quotation marks."""
    told = block.shown.get("text/plain", "")
    try:
        value = ast.literal_eval(told)
    except (SyntaxError, ValueError):
        value = told
    return Markup("<p>{}</p>").format(value)


def _arranged(pieces: list[Piece]) -> Markup:
    """Pieces in columns and across them.

    A heading, and the few words that lead to something, stay with what follows: across the page
    before something wide, and in one column before anything else.
    """
    out: list[Markup] = []
    narrow: list[Piece] = []
    waiting: list[Piece] = []  # headings that nothing has followed yet, and what leads on

    def flush() -> None:
        if narrow:
            text = Markup("\n").join(one.html for one in narrow)
            # a line or two are not parted into columns
            plain = not any(f"<{tag}" in text for tag in ("div", "figure", "table"))
            kind = "flow short" if plain and len(text.striptags()) < SHORT else "flow"
            out.append(Markup('<div class="{}">{}</div>\n').format(kind, text))
            narrow.clear()

    for one in pieces:
        if one.heading:
            if waiting and waiting[-1].words:
                narrow.append(_together(waiting))
                waiting.clear()
            waiting.append(one)
        elif one.short and not (waiting and waiting[-1].words):
            waiting.append(one)
        elif one.wide:
            flush()
            lead = Markup('<div class="leads">{}</div>').format(_joined(waiting)) if waiting else ""
            out.append(Markup('<div class="wide">{}{}</div>\n').format(lead, one.html))
            waiting.clear()
        elif one.short:
            # several short ones: the last of them leads
            narrow.append(_together(waiting))
            waiting[:] = [one]
        else:
            narrow.append(_together([*waiting, one]) if waiting else one)
            waiting.clear()
    if waiting:
        narrow.append(_together(waiting))
    flush()
    return Markup().join(out)


def _joined(pieces: Sequence[Piece]) -> Markup:
    return Markup("\n").join(one.html for one in pieces)


def _together(pieces: Sequence[Piece]) -> Piece:
    """Pieces that no break parts, where they are not too long for that."""
    html = _joined(pieces)
    if len(pieces) == 1 or len(html.striptags()) > TOGETHER:
        return Piece(html)
    return Piece(Markup('<section class="together">{}</section>').format(html))


def _last_apart(html: Markup) -> list[Markup]:
    """Words, and the last paragraph of them by itself, if they end with one.

    >>> _last_apart(Markup("<ul><li>one</li></ul>\\n<p>two</p>\\n"))
    [Markup('<ul><li>one</li></ul>\\n'), Markup('<p>two</p>\\n')]
    """
    before, opening, last = html.rpartition("<p>")
    if not before.strip() or not html.rstrip().endswith("</p>"):
        return [html]
    return [Markup(before), Markup(opening + last)]


def sentence(text: str) -> str:
    """A text with a full stop, unless it ends with a sign of its own.

    text: a title, say.

    >>> sentence("What is wrong?"), sentence("A tape")
    ('What is wrong?', 'A tape.')
    """
    return text if text.endswith((".", "?", "!")) else f"{text}."


def _style(title: str, source: str) -> str:
    own = files(__package__).joinpath("leaflet.css").read_text("utf-8")
    foot = f"{sentence(source)} {INVENTED}"
    feet = "".join(map(in_css, foot))
    pages = (
        f'@page {{ @bottom-left {{ content: "{feet}" }} '
        '@bottom-right { content: counter(page) " / " counter(pages) } }'
    )
    return f"{_shared_style()}\n{own}\n{pages}"


@lru_cache(maxsize=1)
def _shared_style() -> str:
    return "\n".join([letters_style(), maths_style(), inks_style(), player_style()])


_PAGE = Markup("""<!DOCTYPE html>
<html lang="en" data-mensura-follows-system>
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="{policy}">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>
{style}
</style>
</head>
<body>
{shared}
<main>
<h1>{title}</h1>
<p class="lead">{lead}</p>
{body}
<div class="end{long}">
{answers}
{tail}
</div>
</main>
<footer>{source} {invented}</footer>
{script}
</body>
</html>
""")
