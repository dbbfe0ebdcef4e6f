"""Every picture that is no panel's: of which parts it consists, so that a narrow page can show it.

What is printed, played and practised with; panels are walked in `test_every_panel.py`.
"""

from __future__ import annotations

from collections.abc import Callable
from typing import Any

import pytest

from mensura.estimates.fault_costs import fault_costs
from mensura.estimates.place_costs import place_costs
from mensura.estimates.quillmere_practical import quillmere_practical
from mensura.instruments.calipers import Calipers
from mensura.instruments.cut_photograph import made_up_photograph
from mensura.instruments.drawn_photograph import spoilt_photographs
from mensura.instruments.lay import Lay
from mensura.instruments.typical import typical_sizes_cm
from mensura.stems import Ellipse
from mensura.stems.records import orange_girths
from mensura.stems.shapes import reuleaux
from mensura.teaching.panels.cut_end import DISCS, disc_named
from mensura.teaching.problems import bank
from mensura.teaching.problems.standing import by_topic
from mensura.views.kit.live import Live, Picture
from mensura.views.problems.pictures import ProblemPicture
from mensura.views.problems.progress_picture import ProgressPicture, Shown
from mensura.views.problems.slip_map import SlipMap
from mensura.views.stills import handling, sections
from mensura.views.stills.calipers_on_stem import CalipersDrawing
from mensura.views.stills.contact import ContactPicture
from mensura.views.stills.cut_end import CutEndChart
from mensura.views.stills.fault_costs import CostsPicture
from mensura.views.stills.fault_sizes import SizesPicture
from mensura.views.stills.first_look import FirstLook
from mensura.views.stills.found_outline import FoundOutlinePicture
from mensura.views.stills.growth import GrowthPicture
from mensura.views.stills.growth_and_noise import GrowthAndNoise, noises
from mensura.views.stills.photographs import Photographs, spoilt_panes, threshold_panes
from mensura.views.stills.place_costs import PlaceCostsPicture
from mensura.views.stills.situations import Situations
from mensura.views.stills.tape_on_stem import TapeDrawing

#: The sizes of stem that the game draws, least and greatest.
DIAMETERS_CM = (32.0, 44.0)
LAYS = {
    "sound": Lay(),
    "tilt": Lay(tilt_deg=20, tilt_direction_deg=-70),
    "overlap": Lay(overlap_offset_cm=-10),
    "slack": Lay(slack_cm=7),
    "climber": Lay(climber_cm=4, climber_direction_deg=40),
    "low": Lay(height_off_m=-0.4, taper_cm_per_m=2),
}
TOPICS = by_topic({}, bank.families())
SIZES, COSTS = typical_sizes_cm(), fault_costs()
PLACE_COSTS = place_costs()
NOISES = noises()
CLASS = quillmere_practical().readings
PHOTOGRAPH = spoilt_photographs()[4]
MADE_UP = made_up_photograph(disc_named("disc 02, oval").cut.outline)

#: Name → (how the picture is made, what it shows).
PICTURES: dict[str, tuple[Callable[[], Picture[Any]], Any]] = {
    "how to hold": (handling.HowToHold, None),
    "where to measure": (handling.WhereToMeasure, None),
    "calipers check": (handling.CalipersCheck, None),
    "same girth": (lambda: sections._SameGirth(Ellipse(60, 48)), None),
    "taut band": (lambda: sections._TautBand(reuleaux(40)), None),
    "blind jaws": (lambda: sections._BlindJaws(reuleaux(40)), None),
    "contact": (ContactPicture, None),
    "situations": (Situations, None),
    "growth": (lambda: GrowthPicture(orange_girths()), orange_girths()),
    "growth and noise": (lambda: GrowthAndNoise(NOISES), NOISES),
    "sizes": (lambda: SizesPicture(SIZES), SIZES),
    "first look": (lambda: FirstLook(CLASS), CLASS),
    "found outline": (
        lambda: FoundOutlinePicture(
            PHOTOGRAPH.picture,
            PHOTOGRAPH.put_right(),
            PHOTOGRAPH.scale_px,
            PHOTOGRAPH.corrections,
            PHOTOGRAPH.name,
        ),
        None,
    ),
    "two thresholds": (lambda: Photographs(threshold_panes(MADE_UP, 168), 2), None),
    "nothing by a threshold": (lambda: Photographs(threshold_panes(MADE_UP, 252), 2), None),
    "spoilt": (lambda: Photographs(spoilt_panes(spoilt_photographs()[1:]), 3), None),
    "costs": (lambda: CostsPicture(COSTS), COSTS),
    "place costs": (lambda: PlaceCostsPicture(PLACE_COSTS), PLACE_COSTS),
    **{
        f"cut, {name}": (lambda name=name: CutEndChart(disc_named(name).cut), disc_named(name).cut)
        for name in DISCS
    },
    "progress": (lambda: ProgressPicture(TOPICS), Shown(TOPICS, "girth-to-area")),
    "slip map": (lambda: SlipMap(bank.problem("girth-to-area", "Q07", "quillmere")), None),
    "problem": (lambda: ProblemPicture(bank.problem("girth-to-area", "Q07", "quillmere")), None),
    **{
        f"tape, {name}, {size:g} cm": (lambda lay=lay, size=size: TapeDrawing(size, lay), None)
        for name, lay in LAYS.items()
        for size in DIAMETERS_CM
    },
    **{
        f"calipers, {size:g} cm": (
            lambda size=size: CalipersDrawing(size, Calipers(jaw_lean_deg=6, beam_slope_deg=14)),
            None,
        )
        for size in DIAMETERS_CM
    },
}


@pytest.mark.parametrize("name", PICTURES)
def test_parts_hold_all_of_it(name: str, letters: Any, pieces: Any) -> None:
    """No part is too wide for a phone, none cuts a letter, and nothing lies outside all of them."""
    make, numbers = PICTURES[name]
    live = Live(make())
    dots = live.paint(numbers)
    assert pieces.badly_declared(live.picture) == []
    assert pieces.parted_letters(live, letters.lettering(live.figure)) == []
    assert pieces.stray_dots(live, dots) == 0
    live.close()


def test_letters_outside_all_parts_are_found(letters: Any, pieces: Any) -> None:
    """The checks themselves: a picture of one part too wide, too low and cutting its title."""
    live = Live(handling.WhereToMeasure())
    dots = live.paint(None)
    live.picture.parts = lambda: (  # type: ignore[method-assign]
        handling.Part("wide", (live.picture.whole.cut_x(600)[0].cut_y(200)[1],)),
    )
    assert any("wider" in line for line in pieces.badly_declared(live.picture))
    wrong = pieces.parted_letters(live, letters.lettering(live.figure))
    assert any("'Round the stem' is in no part" in line for line in wrong)
    assert any("'log, wedged'" in line for line in wrong)
    assert pieces.stray_dots(live, dots) > 1000
