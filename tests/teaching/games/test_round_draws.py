"""The same round for ever: what is added to a game later moves no round that was given out."""

from __future__ import annotations

import dataclasses
import hashlib
import json
from collections import Counter
from types import MappingProxyType
from typing import Any

import pytest

from mensura.checks import MeasureError
from mensura.instruments.fault import LAY, Fault, Setting
from mensura.instruments.lay import Lay
from mensura.instruments.tape import Tape
from mensura.teaching.games import causes, picture_rounds, wrong_readings
from mensura.teaching.games.causes import CAUSES, Cause, Evidence, fits
from mensura.teaching.games.picture_rounds import SIGHTS, PictureRound, Sight, picture_round
from mensura.teaching.games.round_draws import Keyed, Stream, of_edition
from mensura.teaching.games.wrong_readings import Round, wrong_reading
from mensura.views.chapters.games import picture_game, wrong_reading_game

#: Rounds that a digest holds, and the digests of edition 1. They never change: who would change
#: them changes the rounds that classes were given.
HELD = range(200)
PICTURES = "a74f0dd713dc839401a6ad437228bcfd"
READINGS = "17e34b087f3c39f607d9705f1b75d7c9"
#: The same for the second edition of the readings, with shrunk bands.
READINGS_2 = "6a640775c634e9ca444ac9dc334e2fb3"

#: A fault that is none: what it does, a twist does.
FOLDED = (Setting("twist_lift_cm", "cm", "A fold."),)
FOLD = Fault("fold", LAY, FOLDED, "Fold", "It folds.", "too much", "not")
FOLD_CAUSE = Cause(
    FOLD,
    "The band was folded.",
    lambda e: f"A fold of {e.twist_lift_cm:g} cm",
    "No fold is to be seen",
    lambda e: (0.9 * e.twist_lift_cm, 1.1 * e.twist_lift_cm) if e.twist_lift_cm else None,
    lambda size, e: (Lay(twist_lift_cm=size), Tape()),
    lambda draw: {"twist_lift_cm": draw.between("twist_lift_cm", 1.5, 2, 0.1)},
    since=3,
)
FOLD_SIGHT = Sight(
    FOLD,
    "The band is folded.",
    "A fold stands out",
    "from above",
    lambda draw, side: {"twist_lift_cm": draw.between("twist_lift_cm", 1, 2, 0.1)},
    lambda n: f"The fold is {n['twist_lift_cm']:g} cm high",
    since=2,
)


def set_values(one: Any) -> dict[str, Any]:
    """The fields of a value object that differ from their defaults: a later field is not among."""
    return {
        field.name: getattr(one, field.name)
        for field in dataclasses.fields(one)
        if getattr(one, field.name) != field.default
    }


def picture(one: PictureRound) -> list[Any]:
    """What a class was shown, as plain values."""
    laid = {**set_values(one.lay), **set_values(one.calipers)}
    return [one.seed, one.instrument, one.diameter_cm, one.fault, laid, one.choices]


def reading(one: Round) -> list[Any]:
    return [one.seed, one.title, set_values(one.evidence), one.choices, one.drawn]


def digest(rounds: list[list[Any]]) -> str:
    text = json.dumps(rounds, sort_keys=True, ensure_ascii=True)
    return hashlib.blake2b(text.encode(), digest_size=16).hexdigest()


def pictures(edition: int = 1) -> list[list[Any]]:
    return [picture(picture_round(seed, edition)) for seed in HELD]


def readings(edition: int = 1) -> list[list[Any]]:
    return [reading(wrong_reading(seed, edition)) for seed in HELD]


@pytest.fixture
def folded(monkeypatch: pytest.MonkeyPatch) -> None:
    """Both games with a fault added, in their next edition, and not at the end of the list."""
    more_causes = MappingProxyType({"fold": FOLD_CAUSE, **CAUSES})
    more_sights = MappingProxyType({"fold": FOLD_SIGHT, **SIGHTS})
    for module in (causes, wrong_readings):
        monkeypatch.setattr(module, "CAUSES", more_causes)
    monkeypatch.setattr(picture_rounds, "SIGHTS", more_sights)
    monkeypatch.setattr(picture_rounds, "EDITION", 2)
    monkeypatch.setattr(wrong_readings, "EDITION", 3)


def test_pictures_never_change() -> None:
    """Two hundred rounds, every number and every choice, as they were when they were made."""
    assert digest(pictures()) == PICTURES


def test_readings_never_change() -> None:
    """Two hundred rounds, every number and every choice, as they were when they were made."""
    assert digest(readings()) == READINGS
    assert digest(readings(2)) == READINGS_2


def test_a_digest_sees_one_number() -> None:
    """The digest itself: a degree in one round of two hundred is another digest."""
    rounds = pictures()
    tilted = next(one for one in rounds if "tilt_deg" in one[4])
    tilted[4]["tilt_deg"] += 1
    assert digest(rounds) != PICTURES


@pytest.mark.usefixtures("folded")
def test_a_fault_added_later_moves_no_picture() -> None:
    """With a row added in edition 2, edition 1 is what it was; edition 2 shows the new one."""
    assert digest(pictures()) == PICTURES
    drawn = Counter(one[3] for one in pictures(2))
    assert set(drawn) == {"fold", "sound", *SIGHTS}
    shown = next(r for r in (picture_round(s, 2) for s in HELD) if r.fault == "fold")
    assert shown.reply("fold").message.startswith("Yes. The fold is ")


@pytest.mark.usefixtures("folded")
def test_a_cause_added_later_moves_no_reading() -> None:
    """A row added in edition 3 leaves 1 and 2 as they were; edition 3 hides the new one too."""
    assert digest(readings()) == READINGS
    assert digest(readings(2)) == READINGS_2
    rounds = [wrong_reading(seed, 3) for seed in range(60)]
    assert "fold" in {one.drawn for one in rounds}
    for one in rounds:
        assert one.drawn in one.accepted
        for key in one.choices:
            assert one.reply(key).message.endswith(".")


@pytest.mark.usefixtures("folded")
def test_rounds_of_a_later_edition_stay_too(monkeypatch: pytest.MonkeyPatch) -> None:
    """A row added in edition 3 moves no round of edition 2."""
    before = pictures(2)
    third = dataclasses.replace(FOLD_SIGHT, fault=dataclasses.replace(FOLD, key="crease"), since=3)
    more = MappingProxyType({"crease": third, **picture_rounds.SIGHTS})
    monkeypatch.setattr(picture_rounds, "SIGHTS", more)
    monkeypatch.setattr(picture_rounds, "EDITION", 3)
    assert pictures(2) == before
    assert pictures(3) != before


def test_what_fits_follows_the_row(monkeypatch: pytest.MonkeyPatch) -> None:
    """An answer is kept for a row, not for its name: another row of that name is asked anew."""
    seen = Evidence(126.0, 127.2, climber_cm=2.0)
    assert fits("climber", seen)
    ruled_out = dataclasses.replace(CAUSES["climber"], sizes=lambda e: None)
    monkeypatch.setattr(causes, "CAUSES", MappingProxyType({**CAUSES, "climber": ruled_out}))
    assert not fits("climber", seen)


def test_lists_are_read_only() -> None:
    """Nobody changes a game for the whole process."""
    for rows in (CAUSES, SIGHTS):
        with pytest.raises(TypeError):
            rows["tilt"] = None  # type: ignore[index]


def test_draws() -> None:
    """A stream gives its numbers in turn; a key gives its own, in whatever order it is asked."""
    stream = Stream(3, "example", 7)
    assert [stream.of("x").share("y") for _ in range(3)] == pytest.approx(
        [0.015068, 0.834971, 0.912315], abs=1e-6
    )
    keyed = Keyed("example", 7)
    first, second = keyed.share("a"), keyed.share("b")
    assert (keyed.share("b"), keyed.share("a")) == (second, first)
    assert first != second
    assert 2 <= keyed.between("c", 2, 3, 0.5) <= 3
    assert keyed.pick("d", "xyz") in "xyz"


def test_the_latest_edition_is_played() -> None:
    """Each game plays the edition of its newest row: none waits unseen, none is promised early."""
    assert max(one.since for one in CAUSES.values()) == wrong_readings.EDITION
    assert max(one.since for one in SIGHTS.values()) == picture_rounds.EDITION
    for game, latest in ((wrong_reading_game, 2), (picture_game, 1)):
        assert game().edition == latest
        assert game(7, 1).edition == 1
        with pytest.raises(MeasureError, match=f"edition is {latest + 1}"):
            game(7, latest + 1)


@pytest.mark.parametrize("edition", [0, -1, 1.5, "one", None, 2])
def test_what_is_no_edition_is_refused(edition: Any) -> None:
    """Editions are counted from 1."""
    with pytest.raises(MeasureError, match="edition"):
        of_edition(CAUSES.values(), edition, 1)
    with pytest.raises(MeasureError, match="edition"):
        picture_round(4, edition)
