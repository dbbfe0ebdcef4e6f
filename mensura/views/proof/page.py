"""A student's proof as one page that needs no network: to keep, to print, to hand in."""

from __future__ import annotations

import html

from mensura.teaching.panels.proof import squares_shown
from mensura.teaching.proof.chain import Chain
from mensura.views.kit.live import draw_still
from mensura.views.proof.drawings import SquaresPicture
from mensura.views.proof.words import markup

#: The half-axes of the page's picture, cm: those with which the panel opens.
PICTURE_CM = (30.0, 24.0)

#: The name of a saved page, without its ending.
PAGE_NAME = "my-proof"


def proof_page(chain: Chain) -> str:
    """A proof as a page of HTML; one that is not finished says so, and where its gap is.

    chain: the student's proof.

    >>> "not finished" in proof_page(Chain())
    True
    """
    title = (
        f"My proof: {chain.theorem}" if chain.proved else f"My proof, not finished: {chain.theorem}"
    )
    still = draw_still(SquaresPicture(), squares_shown(*PICTURE_CM))
    return (
        '<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n'
        '<meta name="viewport" content="width=device-width, initial-scale=1">\n'
        f"<title>{html.escape(title)}</title>\n{_STYLE}\n</head>\n<body>\n<main>\n"
        f"<h1>{markup(title)}</h1>\n"
        f"<p>{markup(_CLAIM)}</p>\n{_conditions(chain)}\n"
        f"<h2>{'The proof' if chain.proved else 'As far as it goes'}</h2>\n{lines_html(chain)}\n"
        f"{_end(chain)}\n<h2>The same in a picture</h2>\n<figure>{still.html}\n"
        f"<figcaption>{markup(_CAPTION)}</figcaption></figure>\n"
        f"<p class='small'>{markup(_NOTE)}</p>\n"
        "</main>\n</body>\n</html>\n"
    )


def lines_html(chain: Chain) -> str:
    """The lines of a proof from what is given to the theorem, each with its sign and reason.

    chain: the student's proof.
    """
    rows = []
    for sign, line, why in chain.lines():
        gap = line == "…"
        kind = " class='gap'" if gap else ""
        rows.append(
            f"<tr{kind}><td class='sign'>{html.escape(sign)}</td>"
            f"<th scope='row' class='line'>{'gap' if gap else markup(line)}</th>"
            f"<td>{markup(why)}</td></tr>"
        )
    head = "<tr><td></td><th scope='col'>line</th><th scope='col'>why it may stand here</th></tr>"
    return f"<table class='proof'><thead>{head}</thead><tbody>{''.join(rows)}</tbody></table>"


def _conditions(chain: Chain) -> str:
    """What was used: the assumptions, in words."""
    used = ["a > 0 and b > 0: they are lengths.", "a ≠ b: the section is not a circle."]
    cited = [line.read_as for line in (*chain.forwards, *chain.backwards) if line.cites_unequal]
    if cited:
        used[1] += f" It is called on once more for {', '.join(cited)}."
    if chain.longer_axis:
        used.append(
            "a > b: let a be the longer half-axis. Nothing is lost by it; else the two change "
            "their names."
        )
    items = "".join(f"<li>{markup(one)}</li>" for one in used)
    return f"<h2>What is used</h2>\n<ul>{items}</ul>"


def _end(chain: Chain) -> str:
    if chain.proved:
        return "<p class='end'><b>Proved.</b> No line is missing.</p>"
    below, above = chain.gap
    return (
        "<p class='end'><b>Not finished.</b> Still to be shown: that "
        f"{markup(above)} follows from {markup(below)}.</p>"
    )


_CLAIM = (
    "For an oval stem with half-axes a and b, in cm, the tape's area A_tape = π(a² + b²)/2 is "
    "larger than the calipers' area A_cal = πab, which is the true one, unless a = b."
)

_CAPTION = (
    f"Two squares, with a = {PICTURE_CM[0]:g} cm and b = {PICTURE_CM[1]:g} cm, cut up: "
    "a² + b² = 2ab + (a − b)². The hatched square is what the tape's area "
    "has too much, times π/2."
)

_NOTE = (
    "A_tape goes by the girth 2π√((a² + b²)/2), an approximation from above: the sign of the error "
    "is right, its size is not. The exact girth makes about three quarters of it."
)

_STYLE = """<style>
body { margin: 0; background: #fff; color: #000;
  font: 18px/1.5 "DejaVu Sans", Verdana, sans-serif; }
main { max-width: 48em; margin: 0 auto; padding: 1em 1.2em 2em; }
h1 { font-size: 1.5em; line-height: 1.25; } h2 { font-size: 1.15em; margin: 1.4em 0 .4em; }
table.proof { border-collapse: collapse; width: 100%; }
.proof th, .proof td { text-align: left; vertical-align: top; padding: .35em .6em .35em 0;
  border-bottom: 1px solid #ddd; font-weight: 400; }
.proof thead th { font-size: .85em; color: #333; }
.proof .sign { width: 1.6em; font-size: 1.15em; }
.proof .line { font-size: 1.15em; white-space: nowrap; }
.proof tr.gap td, .proof tr.gap th { border: 2px dashed #000; border-width: 2px 0;
  padding: .6em .6em .6em 0; font-style: italic; }
figure { margin: 0; } figcaption, .small { font-size: .9em; }
.end { font-size: 1.1em; }
@media (max-width: 40em) { .proof .line { white-space: normal; } }
@media print { body { font-size: 12pt; } main { padding: 0; max-width: none; }
  tr, figure { break-inside: avoid; } h2 { break-after: avoid; }
  figure img { max-width: 15cm !important; } @page { margin: 2cm; } }
</style>"""
