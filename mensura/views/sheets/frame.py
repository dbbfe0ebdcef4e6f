"""The frame of every page to print: title, style and body in one file, nothing loaded.

No script, no network: the page's own rules forbid both, whatever a code or a name may hold.
"""

from __future__ import annotations

from markupsafe import Markup


def framed(title: str, style: str, body: Markup, kind: str) -> str:
    """A whole page.

    title: in plain text; style: rules of CSS, our own; body: what stands in it; kind: class of the
    body, by which the rules differ.

    >>> "<title>A &lt;b&gt;</title>" in framed("A <b>", "", Markup("<h1>A</h1>"), "card")
    True
    """
    return str(_PAGE.format(title=title, style=Markup(style), body=body, kind=kind))


_PAGE = Markup("""<!DOCTYPE html>
<html lang="en">
<head>
<meta charset="utf-8">
<meta http-equiv="Content-Security-Policy" content="default-src 'none'; img-src data:; \
font-src data:; style-src 'unsafe-inline'; base-uri 'none'; form-action 'none'">
<meta name="viewport" content="width=device-width, initial-scale=1">
<title>{title}</title>
<style>
{style}
</style>
</head>
<body class="{kind}">
<main>
{body}
</main>
</body>
</html>
""")
