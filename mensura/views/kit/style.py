"""One style sheet for everything of ours in a notebook, its colours taken from the look.

The rules stand in `style.css`, which knows colours by their names only. What the names mean on a
light page and on a dark one is a table of the look; here it becomes the sheet's first lines.
"""

from __future__ import annotations

from importlib.resources import files

from mensura.views.kit.look import THEMES

#: How JupyterLab marks a page in a dark theme.
DARK = 'body[data-jp-theme-light="false"]'


def colours() -> str:
    """The look's colours by name, as the sheet knows them: light, dark, and on paper.

    >>> colours().splitlines()[1]
    '  --mensura-ink: #000000;'
    """
    light, dark = (
        "\n".join(f"  --mensura-{name}: {pair[side]};" for name, pair in THEMES.items())
        for side in (0, 1)
    )
    return (
        f":root {{\n{light}\n}}\n{DARK} {{\n{dark}\n}}\n@media print {{ {DARK} {{\n{light}\n}} }}\n"
    )


#: The sheet; the frame brings it to the page.
SHEET = colours() + files(__package__).joinpath("style.css").read_text("utf-8")
