"""Likely causes: on the side that was found, growing as the bias did, the hand's or the band's."""

import dataclasses

import pytest

from mensura.estimates import Planted, drawn_practical, judge_hands
from mensura.estimates.hand_causes import form_of, likely_causes
from mensura.instruments.faults import FAULTS, fault


def accused(planted):
    """The one verdict on a practical with one fault."""
    (one,) = judge_hands(drawn_practical(4, (planted,)).readings).accused
    return one


@pytest.mark.parametrize(
    ("planted", "is_hand", "first", "never"),
    [
        (Planted("T2", "girth", share_percent=-2.5), False, "stretch", "shrinking"),
        (Planted("T2", "girth", share_percent=2.5), False, "shrinking", "stretch"),
        (Planted("T1", "girth", off_cm=2.0), False, "worn start", "stretch"),
        (Planted("K1", "diameter", off_cm=0.8), False, "zero error", "beam slope"),
        (Planted("K1", "diameter", share_percent=-2.5), False, "jaw lean", "zero error"),
        (Planted("Q03", "girth", share_percent=3.0), True, "tilt", "slack"),
        (Planted("Q03", "girth", off_cm=2.5), True, "slack", "tilt"),
        (Planted("Q03", "girth", off_cm=-2.5), True, "height", "slack"),
        (Planted("Q03", "diameter", share_percent=3.0), True, "beam slope", "jaw lean"),
    ],
)
def test_the_likely_cause(planted, is_hand, first, never):
    """What is planted as such a fault would be, is named first; its opposite is not named."""
    causes = [one.fault for one in likely_causes(accused(planted), is_hand)]
    assert causes[0] == first
    assert never not in causes


def test_forms_are_the_closed_ones():
    """By geometry: a tilt is 1/cos, a stretch a factor; slack and a zero error add to any stem."""
    shares = ("tilt", "stretch", "shrinking", "temperature")
    constants = ("slack", "twist", "worn start", "thickness", "height", "pressing")
    assert {form_of(fault(key)) for key in shares} == {"share"}
    assert {form_of(fault(key)) for key in constants} == {"constant"}
    assert form_of(fault("jaw lean", "calipers")) == "share"
    assert form_of(fault("zero error", "calipers")) == "constant"


def test_every_cause_is_a_fault_of_the_list():
    """Words and reasons are the list's own, and there is something to practise."""
    one = accused(Planted("Q03", "girth", share_percent=3.0))
    rows = {row.key: row for row in FAULTS}
    for kind in ("girth", "diameter"):
        for verdict in ("reads-high", "reads-low", "spreads"):
            judged = dataclasses.replace(one, kind=kind, verdict=verdict, form="unclear")
            for is_hand in (True, False):
                for cause in likely_causes(judged, is_hand):
                    assert cause.fault in rows
                    assert cause.practise.endswith(".")


def test_nothing_is_guessed_of_the_sound():
    """No cause where nothing was found."""
    judged = judge_hands(drawn_practical(4).readings)
    assert all(likely_causes(one, True) == () for one in judged.hands)
