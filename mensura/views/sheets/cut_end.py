"""A cut end as one page: the outline over its photograph first, then the chart and the figures.

Whoever looks at the page sees what was found before any figure that rests on it.
"""

from __future__ import annotations

from collections.abc import Sequence
from importlib.resources import files

from markupsafe import Markup

from mensura.estimates.cut_end import CutEnd
from mensura.views.kit.letters import letters_style
from mensura.views.kit.live import Still
from mensura.views.sheets.frame import framed
from mensura.views.stills.cut_end import cut_end_chart

JUDGE = (
    "Does the line run on the edge all the way round? If it does not, take no figure from this "
    "page: set the threshold, draw what is missing, or photograph the cut again."
)

_SHEET = """
figure { margin: 1em 0; max-width: none; }
figure img { max-width: 100%; height: auto; }
pre { font-size: .8rem; line-height: 1.35; overflow-x: auto; }
@media print { figure, pre { break-inside: avoid; } }
"""


def cut_end_page(
    title: str,
    cut: CutEnd,
    lines: Sequence[str],
    photograph: Still | None = None,
    notes: Sequence[str] = (),
) -> str:
    """The page, whole.

    title: of the cut, as its file is called; cut: what was found; lines: the figures, as the
    command prints them; photograph: with the found outline over it, None for an outline from a
    file; notes: what has to be looked at in it, without their full stops.

    >>> from mensura.estimates.cut_end import cut_end
    >>> from mensura.stems import Outline
    >>> square = cut_end(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]))
    >>> "<h1>A &lt;b&gt;</h1>" in cut_end_page("A <b>", square, [])
    True
    """
    sheet = files(__package__).joinpath("sheet.css").read_text("utf-8")
    judged = " ".join([JUDGE, *(f"Note: {note}." for note in notes)])
    first = _figure(photograph, judged) if photograph is not None else Markup()
    return framed(
        title,
        "\n".join((letters_style(), sheet, _SHEET)),
        Markup("<h1>{}</h1>\n{}\n{}\n<pre>{}</pre>").format(
            title,
            first,
            _figure(cut_end_chart(cut), "What each way of measuring makes of this cut."),
            "\n".join(lines),
        ),
        "cut",
    )


def _figure(still: Still, says: str) -> Markup:
    # pictures that stand in the page itself would call their marks by the same names
    return Markup("<figure><figcaption>{}</figcaption>{}</figure>").format(says, Markup(still.html))
