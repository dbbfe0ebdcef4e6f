"""Two games: what went wrong with this reading, and what is wrong in this picture.

A round is chosen from, answered in words, and followed by the next; the count of rounds answered
right stays in view. Without a kernel a game shows its first round as text, and its picture.
"""

from __future__ import annotations

import html
from abc import abstractmethod
from collections.abc import Mapping
from typing import Any

from mensura.checks import whole
from mensura.teaching.answers.reply import Reply
from mensura.teaching.games import picture_rounds, wrong_readings
from mensura.teaching.games.causes import CAUSES
from mensura.teaching.games.picture_rounds import PictureRound, picture_round
from mensura.teaching.games.wrong_readings import Round, wrong_reading
from mensura.views.kit.frame import framed
from mensura.views.kit.game import Game
from mensura.views.kit.heard import soon
from mensura.views.kit.live import Picture, Still, draw_still, draw_view
from mensura.views.kit.stage import stage
from mensura.views.stills.calipers_on_stem import CalipersDrawing
from mensura.views.stills.tape_on_stem import TapeDrawing

#: A count of rounds beyond this was never played.
MOST_ROUNDS = 10_000


class ChosenGame(Game):
    """A game in which one of some answers in words is chosen.

    seed, edition: as a game has them.
    """

    @abstractmethod
    def drawn(self, seed: int) -> Round | PictureRound:
        """The round of `seed`."""

    def reply(self, seed: int, key: str | None) -> Reply:
        """What is said to the answer `key` in the round of `seed`."""
        return self.drawn(seed).reply(key)

    @property
    def at_work(self) -> Any:
        """Its widget, made anew."""
        return PlayedGame(self).widget


class PlayedGame:
    """A game at work in one notebook: its round, its count, its widgets.

    game: what is played.
    """

    def __init__(self, game: ChosenGame) -> None:
        import ipywidgets as w

        self.game, self.seed = game, game.seed
        self.round, self.right, self._counted, self._replied = 1, 0, False, False
        self.head, self.image, self.words, self.said, self.count = (w.HTML() for _ in range(5))
        self.answer = w.RadioButtons(options=[], index=None)
        self.button = w.Button(description="Answer")
        self.next = w.Button(description="Next round")
        # the choice may still be on its way
        self.button.on_click(lambda pressed: soon(self.reply, pressed))
        self.next.on_click(lambda _: self.go_on())
        row = w.HBox([self.button, self.next, self.count])
        row.add_class("mensura-buttons")
        parts = [self.head, self.words, self.answer, row, self.said]
        # one looks and chooses without scrolling: the choices stand beside the picture
        pictured = game.picture(self.seed) is not None
        box = stage(parts, [self.image]) if pictured else w.VBox(parts)
        self._show()
        self._say("")
        name = f"{game.title} {game.edition}.{game.seed}"
        self.widget = framed(box, "mensura-game", name=name, keeper=self)

    def reply(self) -> None:
        """Say what is to be said to the answer that is chosen, and count a right one once."""
        told = self.game.reply(self.seed, self.answer.value)
        if told.right and not self._counted:
            self._counted = True
            self.right += 1
        self._replied = self._replied or told.readable
        self._say(told.message)
        self._tell_count()

    def go_on(self) -> None:
        """The next round."""
        self._go_to(self.round + 1)
        self._say(f"Round {self.round}.")

    def _go_to(self, number: int) -> None:
        self.round, self.seed = number, self.game.seed + number - 1
        self._counted = self._replied = False
        self._show()

    # ---- what is kept ------------------------------------------------------------------------

    def kept(self) -> dict[str, Any]:
        """Round and count, what is chosen, and whether it was replied to."""
        told = {"round": self.round, "right": self.right, "counted": self._counted}
        return told | {"choice": self.answer.value, "replied": self._replied}

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept; a choice that its round does not offer is left out.

        kept: as :meth:`kept` gives it.
        """
        number = whole(kept["round"], "round", at_least=1, at_most=MOST_ROUNDS)
        right = whole(kept["right"], "right", at_least=0, at_most=number)
        self._go_to(number)
        self.right, self._counted = right, kept["counted"] is True
        if kept["choice"] in [key for _, key in self.game.choices(self.seed)]:
            self.answer.value = kept["choice"]
        self._say("")
        if kept["replied"] is True:
            self.reply()
        self._tell_count()

    # ---- what is seen ------------------------------------------------------------------------

    def _show(self) -> None:
        game, seed = self.game, self.seed
        self.head.value = (
            f"<p><b>{html.escape(game.title)}</b> Round {self.round}. "
            f"{html.escape(game.question(seed))}</p>"
        )
        picture = game.picture(seed)
        self.image.value = draw_view(picture, None).html if picture else ""
        facts = "".join(f"<li>{html.escape(line)}</li>" for line in game.facts(seed))
        self.words.value = f"<ul>{facts}</ul>" if facts else ""
        self.answer.options = game.choices(seed)
        self.answer.index = None
        self._tell_count()

    def _say(self, sentence: str) -> None:
        self.said.value = f'<p role="status" aria-live="polite">{html.escape(sentence)}</p>'

    def _tell_count(self) -> None:
        # the round at hand counts once it was replied to
        over = self.round - (not self._replied)
        rounds = "round" if over == 1 else "rounds"
        told = f"Right: {self.right} of {over} {rounds}" if over else "No round answered yet"
        self.count.value = f'<p class="mensura-count">{told}</p>'


class WrongReading(ChosenGame):
    """What went wrong: a reading and its circumstances, the cause hidden.

    seed: of its first round; edition: of the game.
    """

    title = "What went wrong?"
    latest = wrong_readings.EDITION

    def facts(self, seed: int) -> tuple[str, ...]:
        """What is known of the first measurement in the round of `seed`."""
        return self.drawn(seed).lines

    def choices(self, seed: int) -> list[tuple[str, str]]:
        """The causes offered in the round of `seed`."""
        return [(CAUSES[key].text, key) for key in self.drawn(seed).choices]

    def drawn(self, seed: int) -> Round:
        """The round of `seed`: a reading and its circumstances."""
        return wrong_reading(seed, self.edition)


class WrongPicture(ChosenGame):
    """What is wrong in this picture: one fault, or none, in how an instrument lies.

    seed: of its first round; edition: of the game.
    """

    title = "Look closely."
    latest = picture_rounds.EDITION

    def facts(self, seed: int) -> tuple[str, ...]:
        """Nothing: in the round of `seed` all is in the picture."""
        return ()

    def choices(self, seed: int) -> list[tuple[str, str]]:
        """The faults offered in the round of `seed`."""
        one = self.drawn(seed)
        return [(one.text(key), key) for key in one.choices]

    def picture(self, seed: int) -> Picture[None] | None:
        """What is drawn in the round of `seed`."""
        return round_picture(self.drawn(seed))

    def drawn(self, seed: int) -> PictureRound:
        """The round of `seed`: what is to be seen."""
        return picture_round(seed, self.edition)


def round_picture(shown: PictureRound) -> Picture[None]:
    """The drawing of a round, with words that say where everything lies, not what is wrong.

    shown: the round.
    """
    if shown.instrument == "calipers":
        return CalipersDrawing(shown.diameter_cm, shown.calipers)
    return TapeDrawing(shown.diameter_cm, shown.lay)


def draw_round(shown: PictureRound) -> Still:
    """The drawing of a round for keeping.

    shown: the round.
    """
    return draw_still(round_picture(shown), None)


def wrong_reading_game(seed: int = 7, edition: int = wrong_readings.EDITION) -> WrongReading:
    """What went wrong? A reading and its circumstances are given; the cause is to be found.

    seed: of the first round; edition: of the game when the seed was given out. The same seed of
    the same edition is the same round for ever.

    >>> wrong_reading_game(7).reply(7, None).message
    'Choose a cause first.'
    """
    return WrongReading(seed, edition)


def picture_game(seed: int = 4, edition: int = picture_rounds.EDITION) -> WrongPicture:
    """What is wrong in this picture? A tape or calipers on a stem, drawn with one fault or none.

    seed: of the first round; edition: of the game when the seed was given out. The same seed of
    the same edition is the same round for ever.

    >>> picture_game(4).reply(4, None).message
    'Choose an answer first.'
    """
    return WrongPicture(seed, edition)
