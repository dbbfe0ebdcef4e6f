"""Errors from cards and from a practical: the figures of those files, and no others."""

import json
from math import hypot, pi, sqrt

import pytest

from mensura.checks import MeasureError
from mensura.disk.card_file import card_answer, write_card
from mensura.disk.check_file import FileError
from mensura.disk.errors_filled import (
    error_of_card,
    errors_of_cards,
    errors_of_practical,
    filled_errors,
    parse_practical,
)
from mensura.estimates.input_errors import DEFAULTS
from mensura.instruments import card, check_class
from mensura.places import data_file

PLACES = [40, 80, 120, 160]
GOOD = card(PLACES, [40.1, 80.0, 120.1, 160.1], instrument="T2", reference_u_percent=0.05)
WILD = card(PLACES, [41.1, 79.0, 121.1, 159.1], instrument="T5")


def saved(tmp_path, one):
    """The card's file."""
    answer = card_answer(one, check_class(one, None))
    return write_card(tmp_path, one.instrument, answer)[0]


def test_a_card_tells_its_own_uncertainty_at_the_stems_girth():
    """By the line's own uncertainties, put together by hand at 35 cm of diameter."""
    true = 35 * pi
    found = error_of_card(GOOD, 35.0)
    both = hypot(true * GOOD.u_rise, GOOD.u_start_cm) ** 2
    both += 2 * true * GOOD.correlation * GOOD.u_rise * GOOD.u_start_cm
    assert found.u == pytest.approx(100 * sqrt(both) / GOOD.rise / true, rel=5e-3)
    assert (found.name, found.unit, found.scope) == ("instrument", "%", "all")
    assert found.u > 0.05  # the reference's own is in it
    assert "outside of its marks" in error_of_card(GOOD, 100.0).origin


def test_of_several_cards_how_far_they_lie_off(tmp_path):
    """Nothing is corrected by them: their corrections and their own u, root of the mean square."""
    paths = [saved(tmp_path, one) for one in (GOOD, WILD)]
    (found,) = errors_of_cards(paths, 35.0)
    at = 35 * pi
    squares = [(at - one.true_cm(at)) ** 2 + one.u_true_cm(at) ** 2 for one in (GOOD, WILD)]
    assert found.u == pytest.approx(100 * sqrt(sum(squares) / 2) / at, rel=5e-3)
    assert found.origin.startswith("2 cards, readings not corrected")
    assert errors_of_cards([], 35.0) == ()
    # the same card twice is one
    (once,) = errors_of_cards([paths[0], paths[0]], 35.0)
    assert once == error_of_card(GOOD, 35.0)


def test_a_card_of_the_other_kind(tmp_path):
    """A tape's card says nothing of diameters, and calipers' nothing of girths."""
    jaws = card([20, 40, 60], [20.1, 40.0, 60.1], instrument="K1", kind="calipers")
    with pytest.raises(FileError, match="is the card of calipers; expected that of a tape, since"):
        errors_of_cards([saved(tmp_path, jaws)], 35.0, "girth")
    with pytest.raises(FileError, match="is the card of a tape; expected that of calipers, since"):
        errors_of_cards([saved(tmp_path, GOOD)], 35.0, "diameter")


def test_calipers_are_asked_at_the_diameter():
    """Their reading is the diameter itself."""
    jaws = card([20, 40, 60], [20.1, 40.0, 60.1], instrument="K1", kind="calipers")
    assert "at a diameter of 35 cm" in error_of_card(jaws, 35.0).origin


def test_a_card_of_two_marks_knows_nothing():
    """A line through two marks always fits."""
    with pytest.raises(FileError, match="has two marks only"):
        error_of_card(card([50, 100], [50, 100]), 30.0, "T1.json")


def test_what_is_found_takes_the_place_of_what_was_supposed():
    """The instrument's by the card; hands, heights and the rest as they were."""
    found = filled_errors(DEFAULTS, [error_of_card(GOOD, 35.0)])
    assert [one.origin for one in found if one.name == "instrument"] == [
        error_of_card(GOOD, 35.0).origin
    ]
    assert found[1:] == tuple(one for one in DEFAULTS if one.name != "instrument")


ROW = {
    "instrument": "T1", "kind": "girth", "stems": 9,
    "repeatability_cm": 0.2, "between_hands_cm": 0.6,
}  # fmt: skip


def practical(*rows, **more):
    """What a practical prints, as far as it is read."""
    return json.dumps({"hands": [], "precision": [{**ROW, **one} for one in rows], **more})


def test_a_practicals_hands_pooled_by_stems():
    """√((9·0.04 + 18·0.16)/27) by hand; each instrument alone where it is named."""
    text = practical({}, {"instrument": "T2", "stems": 18, "repeatability_cm": 0.4})
    own, between = parse_practical(text)
    assert own.u == pytest.approx(sqrt((9 * 0.04 + 18 * 0.16) / 27), rel=5e-3)
    assert (own.unit, own.scope, between.u, between.scope) == (
        "cm",
        "tree",
        pytest.approx(0.6),
        "all",
    )
    assert parse_practical(text, instrument="t2")[0].u == pytest.approx(0.4)
    assert "T1, T2" in own.origin


def test_hands_that_share_the_trees():
    """Four hands: what lies between them is halved, a hand's own readings are not."""
    own, between = parse_practical(practical({}), hands=4)
    assert (own.u, between.u) == (pytest.approx(0.2), pytest.approx(0.3))
    assert "4 hands share" in between.origin


def test_a_practical_with_one_hand_tells_nothing_between():
    """null stands for what is not known."""
    (own,) = parse_practical(practical({"between_hands_cm": None}))
    assert own.scope == "tree"


@pytest.mark.parametrize(
    ("text", "says"),
    [
        ("", "is damaged, or no JSON"),
        ("[1]", "is no practical"),
        ('{"mensura_card": 1}', "is no practical"),
        ('{"hands": [], "precision": [NaN]}', "is damaged"),
        (practical({"kind": "diameter"}), "has no girths"),
        (practical({"repeatability_cm": None}), "tells no repeatability"),
        (practical({"repeatability_cm": -1}), "repeatability_cm, is -1"),
        (practical({"repeatability_cm": "1"}), "repeatability_cm, is '1'"),
        (practical({"stems": True}), "stems, is True"),
        (practical({"stems": 0}), "stems, is 0"),
        (practical({"instrument": "\x1b[2J"}), "precision, instrument, is '\\x1b[2J'"),
        ("[" * 100_000, "is damaged"),
    ],
)
def test_what_is_no_practical(text, says):
    """One sentence with the file's name, nothing hidden in it."""
    with pytest.raises(FileError) as caught:
        parse_practical(text, "p.json")
    assert says in str(caught.value)
    assert str(caught.value).startswith("p.json")
    assert str(caught.value).isprintable()


def test_an_instrument_that_was_not_there():
    """It asks back."""
    with pytest.raises(MeasureError, match="instrument is 'T9'"):
        parse_practical(practical({}), instrument="T9")


def test_the_invented_practical_as_the_command_prints_it(tmp_path):
    """The keys are those of the study itself, whatever it will be called one day."""
    from mensura.disk.readings_file import read_readings
    from mensura.estimates.practical import study_practical

    found = read_readings(data_file("quillmere-practical.csv"))
    study = study_practical(found.readings, found.figures)
    path = tmp_path / "p.json"
    path.write_text(json.dumps(study.to_dict()), "utf-8")
    own, between = errors_of_practical(path, "diameter", "K1")
    told = next(one.precision for one in study.precision if one.instrument == "K1")
    assert own.u == pytest.approx(told.repeatability_cm, rel=5e-3)
    assert between.u == pytest.approx(told.between_hands_cm, rel=5e-3)
    # as a console of Windows saves it
    path.write_text(json.dumps(study.to_dict()), "utf-16")
    assert errors_of_practical(path, "diameter", "K1") == (own, between)
