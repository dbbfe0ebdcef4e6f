"""Where would you measure?, without a browser: the picture of every kind, and the game at work."""

from __future__ import annotations

import html
import re
from dataclasses import replace

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.teaching.games.place_deck import EDITION, MOST_ROUNDS, place_round
from mensura.teaching.games.place_kinds import KINDS
from mensura.teaching.games.place_rounds import BROKEN, Placed
from mensura.teaching.games.place_scene import EACH, LEVEL, MEAN, ONE
from mensura.views.chapters.place_game import EXAMPLE, PlayedPlace, place_game
from mensura.views.chapters.place_game.picture import PaperPicture, PlacePicture, PlaceShown
from mensura.views.kit.live import Live
from mensura.views.kit.seat import Seat

#: Two rounds of each kind, most of them drawn both ways round.
ROUNDS = [place_round("Q07", number) for number in range(1, 2 * len(KINDS) + 1)]


@pytest.fixture
def played() -> PlayedPlace:
    return PlayedPlace(place_game("Q07"))


def said(played: PlayedPlace) -> str:
    match = re.match(r'<p role="status" aria-live="polite">(.*?)</p>', played.said.value)
    assert match
    return html.unescape(match.group(1))


# ---- the picture ---------------------------------------------------------------------------


def test_letters_of_every_kind(letters) -> None:
    """Nothing is cut off, nothing overlaps, nothing is too small; no letter moves."""
    for one in ROUNDS:
        live = Live(PlacePicture(one))
        live.paint(PlaceShown(Placed(one.start_m), told=True))
        assert letters.overlaps(live.figure) == [], one.kind.key
        assert letters.cut_off(live.figure) == [], one.kind.key
        assert letters.too_small(live.figure) == [], one.kind.key
        live.close()


def test_a_point_of_the_picture_is_a_place() -> None:
    """There and back, on the axis and beside it, mirrored or not, leaning or not; within ends."""
    assert {one.mirrored for one in ROUNDS} == {True, False}
    for one in ROUNDS:
        picture = PlacePicture(one)
        low, high = one.ends_m
        for place in np.linspace(low, high, 5).round(2):
            x, y = picture.point_px(place)
            assert 0 < x < picture.width_px
            assert 0 < y < picture.height_px
            assert picture.scale_at_m(x, y) == pytest.approx(place, abs=1e-9)
        # square to the axis it is the same place: on an upright stem, anywhere in the row
        if not one.leans:
            assert picture.scale_at_m(3.0, picture.point_px(1.5)[1]) == pytest.approx(1.5)
        assert picture.scale_at_m(200, -400) == high
        assert picture.scale_at_m(200, 4000) == low


def test_bands_lie_where_they_are_put() -> None:
    """Their lines meet the axis at the scale's mark; one a stem, two for a mean, level if level."""
    for one in ROUNDS:
        picture = PlacePicture(one)
        live = Live(picture)
        live.see(PlaceShown(one.right))
        assert not picture.rule.get_segments()
        bands = picture.band.get_segments()[1 if one.right.bands != MEAN else 2 :]
        wanted = {ONE: 1, EACH: 2, MEAN: 2}[one.right.bands]
        assert len(bands) == wanted
        live.see(PlaceShown(one.right, told=True))
        assert len(picture.rule.get_segments()) == wanted
        for band, rule in zip(bands, picture.rule.get_segments(), strict=True):
            assert band == pytest.approx(rule)
        if one.right.bands == ONE:
            middle = np.mean(bands[0], axis=0)
            x = (middle[0] - picture._x0) * picture.px_per_m
            y = picture.height_px - (middle[1] - picture._z0) * picture.px_per_m
            assert picture.scale_at_m(x, y) == pytest.approx(one.right.scale_m, abs=0.011)
        live.see(PlaceShown(replace(one.right, bands=ONE, second_m=None, held=LEVEL)))
        level = picture.band.get_segments()[-1]
        assert level[0][1] == pytest.approx(level[1][1])
        live.close()


def test_words_tell_the_stem_and_not_the_answer() -> None:
    """The alternative text has all facts and the band's place; the rule's place once it is told."""
    for one in ROUNDS:
        words = PlacePicture(one).describe(PlaceShown(Placed(one.start_m)))
        assert all(fact in words for fact in one.facts)
        assert f"Your band: at {one.start_m:.2f} m on the scale" in words
        assert "rule" not in words
        told = PlacePicture(one).describe(PlaceShown(Placed(one.start_m), told=True))
        assert f"The rule's place: at {one.right.scale_m:.2f} m" in told
        assert PaperPicture(one).describe(None) in words


# ---- the game at work ----------------------------------------------------------------------


def test_slider_box_and_press_do_the_same(played: PlayedPlace) -> None:
    """All three put the band to the same centimetre, and the handles follow the press."""
    row = played.rows["scale_m"]
    assert row.slider.value == played.round.start_m
    row.slider.value = 1.0
    assert played.placed == Placed(1.0)
    row.box.value = "1,5"
    assert played.placed == Placed(1.5)
    x, y = played.picture.point_px(2.0)
    press = {"kind": "pointed", "x": x, "y": y, "first": True, "last": False}
    played.image.hear(press)
    assert played.placed == Placed(2.0)
    # while it is dragged the handles wait
    assert row.slider.value == 1.5
    played.image.hear(press | {"first": False, "last": True})
    assert (row.slider.value, row.box.value) == (2.0, "2")


@pytest.mark.parametrize(
    "told",
    [
        {"kind": "pointed"},
        {"kind": "pointed", "x": "1", "y": 3},
        {"kind": "pointed", "x": float("nan"), "y": 3},
        {"kind": "pointed", "x": -5, "y": 3},
        {"kind": "pointed", "x": 5, "y": 10_000},
    ],
)
def test_what_is_no_point_is_passed_over(played: PlayedPlace, told) -> None:
    """The band stays."""
    before = played.placed
    played.image.hear(told)
    assert played.placed == before


def test_what_is_typed_and_is_no_place_stays_in_its_box(played: PlayedPlace) -> None:
    """It is refused by one sentence beside it, and the picture keeps its band."""
    row, before = played.rows["scale_m"], played.placed
    for text in ("high up", "99", "<b>1</b>"):
        row.box.value = text
        assert row.box.value == text
        assert html.escape(text) in row.note.value
        assert "expected a number from" in row.note.value
        assert played.placed == before
    row.box.value = "1.2"
    assert row.note.value == ""


def test_two_bands_have_two_handles(played: PlayedPlace) -> None:
    """The other comes with the choice and goes with it; a press moves the nearer."""
    assert len(played.places.children) == 1
    played.bands.value = MEAN
    assert len(played.places.children) == 2
    first, second = played.placed.scale_m, played.placed.second_m
    assert second is not None
    x, y = played.picture.point_px(second + 0.1)
    played.image.hear({"kind": "pointed", "x": x, "y": y, "first": True, "last": True})
    assert played.placed == Placed(first, round(second + 0.1, 2), MEAN)
    played.bands.value = ONE
    assert played.placed == Placed(first)
    assert len(played.places.children) == 1


def test_only_the_first_answer_counts(played: PlayedPlace) -> None:
    """A wrong one is replied to and shows the rule's place; a right one after it counts no more."""
    assert "No round answered yet" in played.count.value
    played.button.click()
    assert said(played).startswith(f"{BROKEN}: ")
    assert said(played) == played.round.reply(played.placed).message
    assert "Right: 0 of 1 round<" in played.count.value
    assert "The rule's place" in played.image.alt
    # the rule of the round, as it is told: two bands for a mean, or one
    right = played.round.right
    played.bands.value = right.bands
    for name in ("scale_m", "second_m"):
        if getattr(right, name) is not None:
            played.rows[name].slider.value = round(getattr(right, name), 2)
    played.button.click()
    assert said(played).startswith("Kept: ")
    assert "Right: 0 of 1 round<" in played.count.value
    played.next.click()
    assert said(played) == "Round 2."
    assert "The rule's place" not in played.image.alt
    right = played.round.right
    played.rows["scale_m"].slider.value = round(right.scale_m, 2)
    played.button.click()
    assert "Right: 1 of 2 rounds<" in played.count.value


def test_how_it_is_held_is_asked_where_it_matters(played: PlayedPlace) -> None:
    """On leaning stems, and on no other."""
    for _ in range(len(KINDS)):
        assert (played.held.layout.display != "none") is played.round.leans
        played.next.click()


def test_a_caution_stands_beside_the_reply(played: PlayedPlace) -> None:
    """Where the situation is replied to, and not before."""
    for _ in range(len(KINDS)):
        caution = played.round.caution
        assert caution
        assert "With care" not in played.said.value
        played.button.click()
        assert f"<b>With care.</b> {html.escape(caution)}" in played.said.value
        played.next.click()


def test_the_rounds_are_whoever_sits_here(monkeypatch) -> None:
    """Without a code of its own the game follows the seat, and begins anew for another student."""
    sits = Seat(code="Q08")
    page = type("Page", (), {"seat": sits, "begin_anew": lambda _, keeper, begin: begin()})()
    with monkeypatch.context() as patched:
        patched.setattr("mensura.views.chapters.place_game.keeping", lambda: page)
        patched.setattr("mensura.views.chapters.place_game.framed", lambda box, *_, **__: box)
        one = PlayedPlace(place_game())
        fixed = PlayedPlace(place_game("Q07"))
        assert (one.code, one.round.code) == ("Q08", "Q08")
        one.button.click()
        one.next.click()
        sits.take("Q09")
        assert (one.code, one.number, one.right) == ("Q09", 1, 0)
        assert "No round answered yet" in one.count.value
        sits.leave()
        assert one.code == EXAMPLE
        assert fixed.code == "Q07"


def test_what_was_kept_of_another_is_left_out(played: PlayedPlace) -> None:
    """Of another code nothing is taken; a band that cannot lie there is put to the start."""
    played.go_on()
    kept = played.kept()
    other = PlayedPlace(place_game("Q08"))
    before = other.kept()
    other.restore(kept)
    assert other.kept() == before
    again = PlayedPlace(place_game("Q07"))
    again.restore(kept | {"placed": {"scale_m": 99, "second_m": None, "bands": "one", "held": "x"}})
    assert (again.number, again.placed) == (2, Placed(again.round.start_m))


def test_on_paper_and_without_a_kernel() -> None:
    """Places in words to choose from, of which those that keep a rule are right; a picture."""
    game = place_game("Q07")
    data, metadata = game._repr_mimebundle_()
    assert data["text/plain"].startswith(repr(game))
    assert repr(game) == repr(place_game("Q07"))
    assert "application/vnd.jupyter.widget-view+json" in data
    assert data["image/png"].startswith(b"\x89PNG")
    assert data["text/plain"].endswith(metadata["image/png"]["alt"])
    for number in range(1, len(KINDS) + 1):
        keys = [key for _, key in game.choices(number)]
        assert len(keys) >= 2, game.drawn(number).kind.key
        rights = [game.reply(number, key).right for key in keys]
        assert set(rights) == {True, False}
    with pytest.raises(MeasureError, match="choice"):
        game.reply(1, "on the roof")


@pytest.mark.parametrize("wrong", [0, MOST_ROUNDS + 1, 1.5, "one"])
def test_a_round_is_a_number(wrong) -> None:
    """What is none is refused by name; so is an edition that there is not, and what is no code."""
    with pytest.raises(MeasureError, match="seed"):
        place_game("Q07", wrong)
    with pytest.raises(MeasureError, match="edition"):
        place_game("Q07", 1, EDITION + 1)
    with pytest.raises(MeasureError, match="student"):
        place_game("<b>", 1)
