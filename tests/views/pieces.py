"""Whether a picture's parts hold all of it, for tests of every panel and every still."""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.views.kit.look import DENSITY
from mensura.views.kit.parts import WIDEST_PX, Box

#: A letter's extent reaches a little further than its ink.
SLACK_PX = 1.5
#: A button holds no longer name.
LONGEST_NAME = 18


def boxes(picture: Any) -> list[Box]:
    """Every box of a picture's parts, each once."""
    return list(dict.fromkeys(box for part in picture.parts() for box in part.boxes))


def badly_declared(picture: Any) -> list[str]:
    """What is wrong with the parts themselves: none, too wide, over the edge, names."""
    parts, whole = picture.parts(), picture.whole
    names = [part.name for part in parts]
    wrong = [f"{name!r} is no short name" for name in names if not 3 <= len(name) <= LONGEST_NAME]
    if len(set(names)) < len(names) or not names:
        wrong.append(f"names {names}")
    for box in boxes(picture):
        if box.width_px > WIDEST_PX:
            wrong.append(f"{box} is wider than {WIDEST_PX} px")
        inside = (
            whole.left_px <= box.left_px < box.right_px <= whole.right_px
            and whole.low_px <= box.low_px < box.high_px <= whole.high_px
        )
        if not inside:
            wrong.append(f"{box} lies outside")
    return wrong


def parted_letters(live: Any, lettering: list[tuple[str, Any]]) -> list[str]:
    """Texts that lie in no box, or that the edge of a box cuts.

    live: that has been painted; lettering: of its figure, extents in dots.
    """
    wrong = []
    for text, extent in lettering:
        left, low, right, high = (side / DENSITY for side in extent.extents)
        held = False
        for box in boxes(live.picture):
            inside = (
                box.left_px - SLACK_PX <= left
                and right <= box.right_px + SLACK_PX
                and box.low_px - SLACK_PX <= low
                and high <= box.high_px + SLACK_PX
            )
            apart = (
                right <= box.left_px + SLACK_PX
                or box.right_px - SLACK_PX <= left
                or high <= box.low_px + SLACK_PX
                or box.high_px - SLACK_PX <= low
            )
            held = held or inside
            if not (inside or apart):
                wrong.append(f"{text!r} is cut by {box}")
        if not held:
            wrong.append(f"{text!r} is in no part")
    return wrong


def stray_dots(live: Any, dots: Any) -> int:
    """How many dots of ink lie in no box.

    live: whose picture it is; dots: as it was painted.
    """
    height = live.picture.height_px
    outside = np.ones(dots.shape[:2], bool)
    for box in boxes(live.picture):
        rows = slice(
            round((height - box.high_px) * DENSITY), round((height - box.low_px) * DENSITY)
        )
        outside[rows, round(box.left_px * DENSITY) : round(box.right_px * DENSITY)] = False
    inks = dots[outside]
    return int(np.count_nonzero((inks[:, 0] < 250) | (inks[:, 1] < 250) | (inks[:, 2] < 250)))
