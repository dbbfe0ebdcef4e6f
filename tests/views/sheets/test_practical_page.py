"""A practical's page and notes: the right words to the right hand, escaped, from nowhere else."""

import re
import warnings
from dataclasses import replace
from html import unescape
from html.parser import HTMLParser

import numpy as np
import pytest

from mensura.estimates.drawn_practical import (
    Planted,
    PracticalClass,
    drawn_practical,
    faulty_practical,
)
from mensura.estimates.hand_habits import Habit
from mensura.estimates.hand_verdict import Matters
from mensura.estimates.practical import study_practical
from mensura.estimates.precision import WHERE_NO_REPEAT
from mensura.views.sheets.practical_page import hand_note, practical_page

SMALL = PracticalClass(hand_count=4, stem_count=10, tape_count=2, caliper_count=2)


def words(page):
    text = re.sub("<[^>]*>", " ", page.partition("</style>")[2])
    return " ".join(unescape(text).split())


def labels(page):
    return " ".join(unescape(one) for one in re.findall('aria-label="([^"]*)"', page))


@pytest.fixture(scope="module")
def faulty():
    return study_practical(faulty_practical(3).readings)


@pytest.fixture(scope="module")
def page(faulty):
    return practical_page(faulty, "readings.csv")


def test_verdicts_come_first(page):
    """Who, which instrument, by how much, how sure, what to practise: before any other heading."""
    first = words(page.partition("</section>")[0])
    for told in (
        "Q03 with tapes reads low by 2.0 %",
        "K3 reads high by 0.85 cm",
        "T2 reads low by 2.4 %",
        "95 % interval −2.2 to −1.7 %",
        "Most likely pull",
        "Pull as hard as is written on the band.",
        "Close the jaws, read, and set the zero",
        "3 likely slips",
    ):
        assert told in first
    sound = first.partition("Sound:")[2]
    assert "with tapes Q01, Q02, Q04, Q05, Q06 and Q07" in sound
    assert "Q03" not in sound.partition(";")[0]
    assert "T2" not in sound


def test_every_slip_with_its_row(page, faulty):
    """The row, what was read, and what it would have been."""
    text = words(page)
    assert len(faulty.flags) == 3
    for flag in faulty.flags:
        assert f" {flag.row} " in text
        read = f"{flag.reading_cm:.2f}".rstrip("0").rstrip(".")
        would_be = f"{flag.would_be_cm:.2f}".rstrip("0").rstrip(".")
        assert f"{read} {would_be}" in text


def test_precision_and_agreement(page, faulty):
    """Repeatability, limits and their intervals, as the study has them."""
    text = words(page)
    for one in faulty.precision:
        assert one.precision is not None
        assert f"{one.precision.repeatability_cm:.2f}" in text
    single = faulty.agreement.single
    for value in (single.mean_cm, single.lower_cm, *single.upper_interval_cm):
        assert f"{value:+.2f}".replace("-", "−") in text
    assert "intermediate precision" in text
    minus = f"{faulty.agreement.sound.single.mean_cm:+.2f}".replace("-", "−")
    assert f"Without Q03 with tapes, K3 and T2, which are off, it is {minus}" in text
    assert "* without Q03 with tapes" in text
    assert text.count("oval is fitted along with the spreads") == 2  # the table, the notes
    assert "the sound ones look off" in text


def test_pictures_say_the_same(page, faulty):
    """Each picture in words; who is off is named by its chart."""
    said = labels(page)
    assert "Q03 reads low by 2.0 %" in said
    assert "K3 reads high by 0.85 cm" in said
    assert "limits of agreement" in said
    assert "Mandel's h and k with T1" in said
    assert page.count("<svg") == page.count('role="img"') >= 10


class Stack(HTMLParser):
    """Whether every tag that is opened is closed, in order; whatever would load or run."""

    def __init__(self, text):
        super().__init__()
        self.open, self.ids, self.loads = [], [], []
        self.feed(text)
        self.close()

    def handle_starttag(self, tag, attrs):
        told = dict(attrs)
        self.ids += [told["id"]] if "id" in told else []
        self.loads += [v for k, v in attrs if k in ("src", "srcset", "action") or k[:2] == "on"]
        if tag in ("script", "link", "iframe", "object"):
            self.loads.append(tag)
        if tag not in ("meta", "br", "img"):
            self.open.append(tag)

    def handle_endtag(self, tag):
        assert self.open.pop() == tag


@pytest.mark.parametrize("which", ["page", "note"])
def test_well_formed_and_from_nowhere(which, page, faulty):
    """Tags close, no id comes twice, nothing is loaded or run."""
    found = Stack(page if which == "page" else hand_note(faulty, "Q03"))
    assert found.open == []
    assert found.loads == []
    assert len(found.ids) == len(set(found.ids))


def test_a_note_names_nobody_else(faulty):
    """In words, labels and pictures there is one hand's code only."""
    for hand in faulty.readings.hands:
        note = hand_note(faulty, hand)
        body = note.partition("</style>")[2]
        assert hand in body
        assert set(re.findall(r"Q\d\d", body)) == {hand}


def test_a_note_says_what_is_the_hands_and_what_is_not(faulty):
    """Its bias and what to practise; the stretched tape is said to be none of its doing."""
    note = words(hand_note(faulty, "Q03"))
    assert "With tapes: you read low by 2.0 %" in note
    assert "With calipers: sound" in note
    assert "Pull as hard as is written on the band." in note
    assert "T2 reads low by 2.4 %. That is the instrument, not you" in note
    assert "With tapes: sound" in words(hand_note(faulty, "Q01"))
    with pytest.raises(KeyError):
        hand_note(faulty, "Q99")


def test_a_slip_of_a_clerk_is_not_the_hands(faulty):
    """A note tells a slip, and that somebody else wrote it, without saying who."""
    flag = faulty.flags[0]
    readings = faulty.readings
    clerk = np.zeros(len(readings), np.int64)
    clerk[flag.at] = 1
    study = replace(faulty, readings=replace(readings, clerks=("", "Q77"), clerk=clerk))
    hand = readings.hands[readings.hand[flag.at]]
    note = words(hand_note(study, hand))
    assert "somebody else" in note
    assert "Q77" not in note
    assert "Q77" in words(practical_page(study, "readings.csv"))


def test_questions_are_no_accusations(faulty):
    """A habit is asked of the hand that has it, on the page and on its own note only."""
    habit = Habit("Q02", "girth", "last-figures", "9 of 20 readings end in 5: read?", 1e-4)
    study = replace(faulty, habits=(habit,))
    text = words(practical_page(study, "readings.csv"))
    assert "1 question to ask" in text
    assert "Q02 with tapes: 9 of 20 readings end in 5: read?" in text
    assert "harmless causes" in text
    assert "end in 5" in words(hand_note(study, "Q02"))
    assert "end in 5" not in words(hand_note(study, "Q03"))


def test_what_could_not_be_done():
    """Repeats that are not there, one hand only: said, counted at the top, and the page stands."""
    once = replace(SMALL, most_repeats=1)
    study = study_practical(drawn_practical(5, of=once).readings)
    assert WHERE_NO_REPEAT in words(practical_page(study, "once"))
    alone = study_practical(drawn_practical(5, of=replace(SMALL, hand_count=1)).readings)
    text = words(practical_page(alone, "alone"))
    assert "Only one hand read" in text
    assert "on what could not be done" in text
    assert "Cannot be told" in text
    assert "Nobody and nothing" not in text
    assert "these readings cannot tell" in words(hand_note(alone, "Q01"))


def test_a_sound_class_hears_so():
    """Nobody is named as off; everybody is named as sound."""
    study = study_practical(drawn_practical(7).readings)
    assert not study.judged.accused
    assert "Nobody and nothing has to be spoken of." in words(practical_page(study, "x"))


def test_nothing_read():
    """A class without a reading that can be used gets a page that says so."""
    readings = drawn_practical(5, of=SMALL).readings
    study = study_practical(replace(readings, reading_cm=np.zeros(len(readings))))
    text = words(practical_page(study, "x"))
    assert "These readings do not tell who or what was off." in text
    assert "There is no reading above 0 cm" in text
    assert "could not be judged" in words(hand_note(study, "Q01"))


CODES = ("<script>alert(1)</script>", '"><b onmouseover="x">', "=cmd()", "$\\frac{1$ 木")


def test_codes_are_text():
    """Markup, formulas and mathematics in codes and in a file's name stand as they are."""
    fault = Planted("Q01", "girth", share_percent=-4.0)
    readings = drawn_practical(5, (fault,), of=SMALL).readings
    codes = dict(zip(readings.hands, CODES, strict=True))
    readings = replace(
        readings,
        hands=tuple(codes.values()),
        stems=tuple(f"<i>{one}" for one in readings.stems),
        instruments=tuple(f"{one}<img src=x>" for one in readings.instruments),
    )
    study = study_practical(readings)
    with warnings.catch_warnings():
        warnings.simplefilter("error")
        page = practical_page(study, "<svg onload=x>.csv")
        notes = [hand_note(study, one) for one in CODES]
    for text in (page, *notes):
        found = Stack(text)
        assert found.open == []
        assert found.loads == []
        assert "<i>" not in text
    for one in CODES:
        assert one in words_kept(page)
    assert "<script>alert(1)</script> with tapes" in words_kept(page.partition("Sound:")[0])


def words_kept(page):
    """Text of a page with what was escaped in it."""
    return " ".join(unescape(one) for one in re.split("<[^>]*>", page.partition("</style>")[2]))


def test_settings_are_told(faulty):
    """What was large enough to matter, and whether a line was on the stems."""
    page = practical_page(faulty, "x", Matters(share_percent=1.5, marked=False))
    text = words(page)
    assert "1.5 % of the reading" in text
    assert "No line was on the stems" in text
    assert "±1.5 %" in labels(page)


def test_many_hands_and_readings_stay_a_page():
    """Forty hands: every verdict is on the page, pictures are counted, points are thinned."""
    many = PracticalClass(hand_count=40, stem_count=8)
    study = study_practical(drawn_practical(5, of=many).readings)
    page = practical_page(study, "x")
    assert len(page) < 3_000_000
    text = words(page)
    assert all(f"Q{one:02d} tapes" in text for one in range(1, 41))
    assert "that are not off are left out" in text
