"""The one sheet: its colours are the look's, each seen on what it stands on, in both themes."""

from __future__ import annotations

import re
from itertools import pairwise
from pathlib import Path

import pytest

import mensura.views
from mensura.views.kit.look import THEMES
from mensura.views.kit.style import DARK, SHEET, colours

THEME = {"light": 0, "dark": 1}
#: What is read, and what else must be told from the ground: each on which grounds.
TEXT = {"ink": ("paper", "button"), "quiet": ("paper",)}
SEEN = dict.fromkeys(("line", "grip", "focus", "tape", "calipers"), ("paper",))
RULES = Path(mensura.views.__file__).parent.joinpath("kit", "style.css").read_text("utf-8")


def luminance(colour: str) -> float:
    """Relative luminance of "#RRGGBB" as WCAG 2 defines it."""
    parts = (int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5))
    red, green, blue = (p / 12.92 if p <= 0.04045 else ((p + 0.055) / 1.055) ** 2.4 for p in parts)
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio of two colours, the same whichever is named first."""
    low, high = sorted((luminance(one), luminance(other)))
    return (high + 0.05) / (low + 0.05)


def test_contrast_is_the_standard_s() -> None:
    """Black on white is 21; the grey that is known to pass by a hair does, the next does not."""
    assert contrast("#000000", "#FFFFFF") == pytest.approx(21)
    assert contrast("#767676", "#FFFFFF") == pytest.approx(4.54, abs=0.005)
    assert contrast("#FFFFFF", "#777777") < 4.5


@pytest.mark.parametrize("theme", THEME)
def test_colours_are_seen(theme: str) -> None:
    """Text has 4.5 to 1 on whatever it stands on, everything else 3 to 1, in both themes."""
    side = THEME[theme]
    for least, names in ((4.5, TEXT), (3.0, SEEN)):
        for name, grounds in names.items():
            for ground in grounds:
                assert contrast(THEMES[name][side], THEMES[ground][side]) >= least, (name, ground)


def test_every_colour_is_tried_above() -> None:
    """A colour that joins the look is text, a line, or the ground of one."""
    grounds = {one for places in (*TEXT.values(), *SEEN.values()) for one in places}
    assert set(THEMES) == {*TEXT, *SEEN, *grounds}


def test_the_rules_name_colours_and_hold_none() -> None:
    """No rule has a colour of its own, but the white sheet that a picture is; none is unknown."""
    plain = re.sub(r"/\*.*?\*/", "", RULES, flags=re.S)
    assert set(re.findall(r"#[0-9A-Fa-f]{3,8}\b", plain)) == {"#FFFFFF"}
    assert not re.search(r"\b(rgba?|hsla?|white|black|grey|gray)\b(?!-)\s*[(;]", plain)
    used = set(re.findall(r"var\(--mensura-(\w+)", plain)) - {"high", "wide"}
    assert used == set(THEMES)


def test_names_are_given_once_a_theme() -> None:
    """Light is the rule; a dark page takes the other of each pair, paper the light one again."""
    light, dark, paper = (
        dict(re.findall(r"--mensura-(\w+): (#\w{6});", part))
        for part in re.split(r"\nbody|\n@media", colours())
    )
    assert light == paper == {name: pair[0] for name, pair in THEMES.items()}
    assert dark == {name: pair[1] for name, pair in THEMES.items()}
    assert colours().count(DARK) == 2
    assert colours() + RULES == SHEET


def test_the_sheet_is_whole() -> None:
    """Every bracket that opens closes, and no rule stands outside of one twice over."""
    plain = re.sub(r"/\*.*?\*/", "", SHEET, flags=re.S)
    depth = [0]
    for sign in re.findall(r"[{}]", plain):
        depth.append(depth[-1] + (1 if sign == "{" else -1))
    assert depth[-1] == 0
    assert min(depth) == 0
    assert max(depth) == 2
    assert all(abs(after - before) == 1 for before, after in pairwise(depth))


def test_sizes_are_the_sheet_s_alone() -> None:
    """No widget brings a width of its own, which a narrow page could not take back."""
    for path in Path(mensura.views.__file__).parent.rglob("*.py"):
        assert "Layout(" not in path.read_text("utf-8"), path.name
