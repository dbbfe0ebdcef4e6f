"""The two games as widgets, without a browser: answers, replies, count, without a kernel."""

from __future__ import annotations

import html
import re

import pytest

from mensura.checks import MeasureError
from mensura.views.chapters.games import PlayedGame, picture_game, wrong_reading_game
from mensura.views.kit.live import draw_view

GAMES = {"reading": wrong_reading_game, "picture": picture_game}


@pytest.fixture(params=GAMES)
def played(request) -> PlayedGame:
    return PlayedGame(GAMES[request.param]())


def said(played: PlayedGame) -> str:
    match = re.fullmatch(r'<p role="status" aria-live="polite">(.*)</p>', played.said.value)
    assert match
    return html.unescape(match.group(1))


def keys(played: PlayedGame, right: bool) -> list[str]:
    """Answers of the present round that hold, or that do not."""
    game, seed = played.game, played.seed
    return [key for _, key in game.choices(seed) if game.reply(seed, key).right == right]


def test_nothing_chosen_asks_for_a_choice(played: PlayedGame) -> None:
    """The button before a choice says what to do, and nothing is counted."""
    played.button.click()
    assert said(played).startswith("Choose ")
    assert played.right == 0
    assert "No round answered yet" in played.count.value


def test_right_and_wrong_answers(played: PlayedGame) -> None:
    """Every answer is replied to with a number; a wrong one may be mended; right counts once."""
    for key in keys(played, right=False):
        played.answer.value = key
        played.button.click()
        assert said(played).startswith("Not ")
        assert re.search(r"\d", said(played))
        assert "Right: 0 of 1 round<" in played.count.value
    for _ in range(2):
        played.answer.value = keys(played, right=True)[0]
        played.button.click()
        assert said(played).startswith("Yes. ")
        assert "Right: 1 of 1 round<" in played.count.value


def test_the_next_round(played: PlayedGame) -> None:
    """Another seed: other words, no choice, no reply, and the count goes on."""
    first = played.head.value, played.answer.options
    played.answer.value = keys(played, right=True)[0]
    played.button.click()
    played.next.click()
    assert played.seed == played.game.seed + 1
    assert (played.head.value, played.answer.options) != first
    assert played.answer.index is None
    assert said(played) == "Round 2."
    assert "Right: 1 of 1 round<" in played.count.value
    played.answer.value = keys(played, right=True)[0]
    played.button.click()
    assert "Right: 2 of 2 rounds" in played.count.value


def test_many_rounds(played: PlayedGame) -> None:
    """Twelve rounds one after another, each with a right and a wrong answer."""
    for number in range(1, 13):
        assert f"Round {number}." in played.head.value
        assert keys(played, right=True)
        assert keys(played, right=False)
        played.next.click()


def test_the_picture_changes_with_the_round() -> None:
    """The picture game shows the drawing of its round, with its words."""
    played = PlayedGame(picture_game(4))
    shown = []
    for _ in range(3):
        picture = played.game.picture(played.seed)
        assert picture is not None
        still = draw_view(picture, None)
        assert played.image.value == still.html
        assert f'alt="{html.escape(still.alt)}"' in played.image.value
        shown.append(played.image.value)
        played.next.click()
    assert len(set(shown)) == 3
    assert PlayedGame(wrong_reading_game()).image.value == ""


@pytest.mark.parametrize("make", GAMES.values())
def test_without_a_kernel(make) -> None:
    """Text, and for the picture game a PNG with words, stand beside the live view."""
    game = make()
    data, metadata = game._repr_mimebundle_()
    assert data["text/plain"].startswith(repr(game))
    assert repr(game) == repr(make())
    assert "application/vnd.jupyter.widget-view+json" in data
    for words, key in game.choices(game.seed):
        assert f"  - {words}" in data["text/plain"]
        assert game.reply(game.seed, key).message not in data["text/plain"]
    if make is picture_game:
        alt = metadata["image/png"]["alt"]
        assert data["image/png"].startswith(b"\x89PNG")
        assert html.escape(alt) in data["text/html"]
        assert data["text/plain"].endswith(alt)
    else:
        assert "image/png" not in data


def test_the_text_is_stable() -> None:
    """What nbval compares: the start of both games, word for word."""
    assert repr(wrong_reading_game(7)).startswith(
        "What went wrong? Oak, stem 17, hand Q03, tape T3: 141.6 cm was read."
    )
    assert repr(picture_game(4)).splitlines() == [
        "Look closely. A round, upright stem, 42 cm thick (made up), is measured with a girth "
        "tape. What is wrong in this picture, if anything?",
        "  - The two ends of the band miss each other.",
        "  - The band hangs loose.",
        "  - A climber is caught under the band.",
        "  - The band lies over a knot.",
        "  - Nothing: the band lies as it should.",
    ]


@pytest.mark.parametrize("seed", [1.5, "seven", None, True])
def test_a_seed_is_a_whole_number(seed) -> None:
    """What is no whole number is refused by name."""
    for make in GAMES.values():
        with pytest.raises(MeasureError, match="seed is"):
            make(seed)
