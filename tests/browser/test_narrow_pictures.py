"""Every kind of picture on a narrow page: its letters, and what is cut off.

At a phone's width every picture keeps its letters at 11 px, whole or in parts. All are laid on one
plain page with the frame's own script and sheet; on_a_phone.py shows of some chapters that a
notebook's page leaves the room that is taken here.
"""

from __future__ import annotations

from typing import Any

import pytest
from on_a_phone import LEAST_PX, LETTER_PX, LOOK, ROOM_PX

from mensura.instruments.calipers import Calipers
from mensura.instruments.lay import Lay
from mensura.stems import Ellipse
from mensura.teaching.problems import bank
from mensura.views import chapters
from mensura.views.kit.frame import module_text
from mensura.views.kit.live import draw_view
from mensura.views.kit.style import SHEET
from mensura.views.problems.pictures import problem_view
from mensura.views.problems.slip_map import slip_map
from mensura.views.proof.panel import KINDS, new_picture, proof_panel
from mensura.views.stills.calipers_on_stem import CalipersDrawing
from mensura.views.stills.contact import points_and_girth
from mensura.views.stills.fault_sizes import sizes_side_by_side
from mensura.views.stills.growth import orange_growth
from mensura.views.stills.handling import calipers_check, how_to_hold, where_to_measure
from mensura.views.stills.sections import blind_jaws, same_girth
from mensura.views.stills.tape_on_stem import TapeDrawing

#: Of these widths are pages parted, and of the last one not.
SIZES = [(ROOM_PX, 780), (560, 780), (1000, 700)]


def every_picture() -> list[str]:
    """One `<img>` of every kind of picture there is: panels, the proof, stills, games, problems.

    Where it can be had without it no PNG is made: nobody looks at it here.
    """
    shown = [
        draw_view(panel.picture(), panel.numbers(**panel.start())).html
        for panel in chapters.panels().values()
    ]
    kinds = set()
    for way in ("classroom", "ellipse", "outline", "calipers"):
        panel = proof_panel(way)
        for step in range(1, panel.stepper.count + 1):
            numbers = panel.numbers(**panel.state({"step": step}))
            if numbers.present.picture not in kinds:
                kinds.add(numbers.present.picture)
                shown.append(draw_view(new_picture(numbers), numbers).html)
    assert kinds == set(KINDS)
    stills = [how_to_hold(), where_to_measure(), calipers_check(), points_and_girth()]
    stills += [orange_growth(), sizes_side_by_side(), same_girth(Ellipse(60, 48)), blind_jaws()]
    stills += [
        draw_view(one, None)
        for one in (TapeDrawing(44, Lay(climber_cm=3)), CalipersDrawing(44, Calipers()))
    ]
    mine = bank.problem("girth-to-area", "Q07", "quillmere")
    stills += [slip_map(mine), problem_view(mine)]
    return shown + [still.html for still in stills]


@pytest.fixture(scope="module")
def laid_out() -> str:
    """A page that holds them all, as printed in a cell, with what a frame brings."""
    cells = "".join(f'<div class="jp-RenderedHTMLCommon">{one}</div>' for one in every_picture())
    script = module_text().replace("export default frame;", "")
    return (
        f"<style>{SHEET} body {{ margin: 0; }}</style>{cells}"
        f"<script type=module>{script}; watchPictures();</script>"
    )


@pytest.mark.parametrize(("wide", "high"), SIZES)
def test_every_picture(wide: int, high: int, laid_out: str, chromium: Any) -> None:
    """Letters of 11 px at least, nothing beyond the edge, its words said once, dots in every piece;
    parted only where it must be."""
    page = chromium.new_page(viewport={"width": wide, "height": high})
    page.set_content(laid_out)
    page.wait_for_function("document.mensuraPictures")
    page.wait_for_timeout(300)
    shown = page.evaluate(LOOK)
    assert len(shown) >= 29
    for one in shown:
        assert min(one["scales"]) * LETTER_PX >= LEAST_PX - 0.01, one
        assert one["left"] >= 0, one
        assert one["right"] <= wide, one
        assert one["said"], one
        assert one["painted"], one
        assert one["parted"] == (wide < 0.75 * one["own"]), one
    assert any(one["parted"] for one in shown) == (wide < 1000)
    page.close()
