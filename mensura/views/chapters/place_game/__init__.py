"""A game: where would you measure? The band is put on a drawn stem, by pointer or by keyboard.

One presses on the picture, or moves the slider beside it, which does the same; says how many bands
there are and, on a leaning stem, how they are held; and is told the rule that was kept or broken,
who says so, and what it costs on this stem. Then the rule's place is drawn as well, and the band
may be tried elsewhere: what counts is the first answer. The rounds are the student's own, by code.
"""

from __future__ import annotations

import html
from collections.abc import Mapping
from dataclasses import replace
from typing import Any

from mensura.checks import MeasureError, TypedError, shown, whole
from mensura.teaching.answers.reply import Reply
from mensura.teaching.controls import Control
from mensura.teaching.games.place_deck import EDITION, MOST_ROUNDS, place_round
from mensura.teaching.games.place_rounds import Placed, PlaceRound
from mensura.teaching.games.place_scene import BANDS, HELD, MEAN, ONE, SQUARE
from mensura.teaching.problems.draw import checked_code
from mensura.typed import read_number
from mensura.views.chapters.place_game.picture import PaperPicture, PlacePicture, PlaceShown
from mensura.views.kit.canvas import canvas_class
from mensura.views.kit.frame import framed
from mensura.views.kit.game import Game
from mensura.views.kit.handles import SliderRow, written_value
from mensura.views.kit.heard import soon
from mensura.views.kit.keeping import keeping
from mensura.views.kit.live import Live, Picture
from mensura.views.kit.stage import stage

#: Whose rounds are shown while nobody has given a code.
EXAMPLE = "page"

#: How far the other of two bands lies from the first when it is taken out, in m.
APART_M = 0.4


class WherePlaced(Game):
    """Where would you measure? A stem in its ground, the band to be put on.

    code: whose rounds, None for whoever sits here; seed: number of the first round; edition: of
    the game. Raises MeasureError for what is no code, no number of a round, no edition.
    """

    title = "Where would you measure?"
    latest = EDITION

    def __init__(self, code: str | None, seed: int, edition: int) -> None:
        super().__init__(seed, edition)
        whole(seed, "seed", at_least=1, at_most=MOST_ROUNDS)
        self.code = None if code is None else checked_code(code)

    def drawn(self, seed: int) -> PlaceRound:
        """The round of a number; an example's while nobody's code is named.

        seed: the number.
        """
        return place_round(self.code or EXAMPLE, seed, self.edition)

    def facts(self, seed: int) -> tuple[str, ...]:
        """What is to be seen in the round of `seed`, told on the scale."""
        return ("Told on the scale beside the stem:", *self.drawn(seed).facts)

    def choices(self, seed: int) -> list[tuple[str, str]]:
        """Places in words, for paper, where no band can be moved: those of the round of `seed`."""
        one = self.drawn(seed)
        spots = [(spot.how, spot) for spot in (*one.scene.kept, *one.scene.broken)]
        return [(f"{how[0].upper()}{how[1:]}.", how) for how, _ in sorted(spots, key=_first)]

    def reply(self, seed: int, key: str | None) -> Reply:
        """What is said to the place `key` of `choices` in the round of `seed`."""
        one = self.drawn(seed)
        if key is None:
            return Reply(False, "Choose a place first.", readable=False)
        for spot in (*one.scene.kept, *one.scene.broken):
            if spot.how == key:
                return one.reply(one.placed_at(spot))
        raise MeasureError("choice", key, "", "one of the places that are offered")

    def picture(self, seed: int) -> Picture[None]:
        """The stem of the round of `seed`, without a band: on paper it is drawn in by hand."""
        return PaperPicture(self.drawn(seed))

    @property
    def at_work(self) -> Any:
        """Its widget, made anew."""
        return PlayedPlace(self).widget


def _first(told: tuple[str, Any]) -> str:
    return told[0]


class PlayedPlace:
    """The game at work in one notebook.

    game: what is played.
    """

    #: When another student sits down her rounds are taken up, by `_follow`.
    follows_the_seat = True

    def __init__(self, game: WherePlaced) -> None:
        import ipywidgets as w

        self.game = game
        self.seat = keeping().seat
        self.live: Live[PlaceShown] | None = None
        self._setting = False
        self.image = canvas_class()()
        self.image.pointed = self._pointed
        self.head, self.words, self.said, self.count = (w.HTML() for _ in range(4))
        control = Control("scale_m", "your band, on the scale", "m", 0.0, 9.0, 0.01, 1.0, "")
        other = replace(control, name="second_m", label="the other band, on the scale")
        self.rows = {one.name: self._row(one) for one in (control, other)}
        self.bands = w.RadioButtons(options=[(words, key) for key, words in BANDS.items()])
        self.held = w.RadioButtons(options=[(words, key) for key, words in HELD.items()])
        self.bands.observe(lambda change: self._moved(bands=change["new"]), "value")
        self.held.observe(lambda change: self._moved(held=change["new"]), "value")
        self.button = w.Button(description="Measure here")
        self.next = w.Button(description="Next round")
        self.button.on_click(lambda pressed: soon(self.reply, pressed))
        self.next.on_click(lambda _: self.go_on())
        row = w.HBox([self.button, self.next, self.count])
        row.add_class("mensura-buttons")
        hint = w.HTML("<p>Press on the picture, or move the slider.</p>")
        self.said.add_class("mensura-replied")
        rows = [one.widget for one in self.rows.values()]
        self.places = w.VBox(rows)
        moved = [self.head, hint, self.places, self.bands, self.held, row]
        box = stage(moved, [self.image, self.words, self.said])
        box.add_class("mensura-where")
        self._begin()
        name = f"{game.title} {game.code or ''} {game.edition}.{game.seed}"
        # all widgets are there, so that all are watched
        self.widget = framed(box, "mensura-game", name=name, keeper=self)
        self._show()
        if game.code is None:
            self.seat.watch(self._follow)

    def _row(self, control: Control) -> SliderRow:
        name = control.name
        return SliderRow(
            control,
            lambda value: self._moved(**{name: value}),
            lambda text: self._typed(name, text),
        )

    # ---- whose round -------------------------------------------------------------------------

    def _seated(self) -> str:
        return self.game.code or self.seat.code or EXAMPLE

    def _follow(self) -> None:
        """Another student sits here: her rounds, from where she was."""
        if self._seated() != self.code:
            keeping().begin_anew(self, self._begin)

    def _begin(self) -> None:
        self.code, self.right = self._seated(), 0
        self._go_to(1)
        self._say("")

    def _go_to(self, number: int) -> None:
        self.number = number
        self.round = place_round(self.code, self.game.seed + number - 1, self.game.edition)
        self._counted = self._replied = False
        self._told = self._dragging = False
        self.placed = Placed(self.round.start_m)
        if self.live is not None:
            self.live.close()
        self.picture = PlacePicture(self.round)
        self.live = Live(self.picture)
        one = self.round
        self.head.value = (
            f"<p><b>{html.escape(self.game.title)}</b> Round {number}. "
            f"{html.escape(one.question)}</p>"
        )
        facts = "".join(f"<li>{html.escape(line)}</li>" for line in one.facts)
        self.words.value = f"<p>Told on the scale beside the stem:</p><ul>{facts}</ul>"
        self.held.layout.display = None if one.leans else "none"
        self._show()
        self._tell_count()

    # ---- what is moved -----------------------------------------------------------------------

    def _moved(self, **values: Any) -> None:
        """A handle was moved: to a place on the stem, to the cm."""
        if self._setting:
            return
        for name in ("scale_m", "second_m"):
            if name in values:
                low, high = self.round.ends_m
                values[name] = min(max(round(values[name], 2), low), high)
        if values.get("bands") == MEAN and self.placed.second_m is None:
            low, high = self.round.ends_m
            second = self.placed.scale_m + APART_M
            values["second_m"] = round(second if second <= high else second - 2 * APART_M, 2)
        if "bands" in values and values["bands"] != MEAN:
            values["second_m"] = None
        placed = replace(self.placed, **values)
        if placed != self.placed:
            self.placed = placed
            self._show()

    def _pointed(self, x_px: float, y_px: float, first: bool, last: bool) -> None:
        """Somebody presses on the picture: the band, or the nearer of two, comes there."""
        self._dragging = not last
        at = self.picture.scale_at_m(x_px, y_px)
        if first:
            second = self.placed.second_m
            near = second is not None and abs(second - at) < abs(self.placed.scale_m - at)
            self._drags = "second_m" if near else "scale_m"
        self._moved(**{self._drags: at})
        if last:
            self._follow_band()

    _drags, _dragging = "scale_m", False

    def _typed(self, name: str, text: str) -> None:
        if self._setting:
            return
        low, high = self.round.ends_m
        try:
            value = read_number(text)
        except TypedError:
            value = None
        if value is None or not low <= value <= high:
            at = getattr(self.placed, name)
            note = (
                f"{shown(text)} is not shown: expected a number from {low:g} to {high:g} m. "
                f"The picture still shows {written_value(at)} m."
            )
            alert = f'<p role="alert" class="mensura-note">{html.escape(note)}</p>'
            self.rows[name].note.value = alert
            return
        self.rows[name].note.value = ""
        self._moved(**{name: value})

    def _show(self) -> None:
        """The picture first, then the handles."""
        if self.live is None:
            return
        self.image.show(self.live, PlaceShown(self.placed, self._told))
        rows = [one.widget for one in self.rows.values()]
        self.places.children = rows if self.placed.bands == MEAN else rows[:1]
        if not self._dragging:
            self._follow_band()

    def _follow_band(self) -> None:
        """The handles stand where the picture has the band; while it is dragged they wait."""
        self._setting = True
        try:
            low, high = self.round.ends_m
            for name, row in self.rows.items():
                at = getattr(self.placed, name)
                if (row.slider.min, row.slider.max) != (low, high):
                    # in one message: a page that is told the ends first answers with the old place
                    with row.slider.hold_sync():
                        row.slider.min, row.slider.max = 0.0, 9.0
                        row.slider.value = low if at is None else at
                        row.slider.min, row.slider.max = low, high
                if at is not None:
                    row.show(at)
            self.bands.value, self.held.value = self.placed.bands, self.placed.held
        finally:
            self._setting = False

    # ---- what is answered --------------------------------------------------------------------

    def reply(self) -> None:
        """Say what is to be said to where the band lies; the first answer of a round counts."""
        told = self.round.reply(self.placed)
        if not self._replied:
            self._replied, self._counted = True, told.right
            self.right += told.right
        self._told = True
        self._show()
        self._say(told.message, self.round.caution)
        self._tell_count()

    def go_on(self) -> None:
        """The next round."""
        if self.game.seed + self.number > MOST_ROUNDS:
            self._say("That was the last round.")
            return
        self._go_to(self.number + 1)
        self._say(f"Round {self.number}.")

    def _say(self, sentence: str, caution: str = "") -> None:
        told = f'<p role="status" aria-live="polite">{html.escape(sentence)}</p>'
        care = f"<p><b>With care.</b> {html.escape(caution)}</p>" if caution else ""
        self.said.value = told + care

    def _tell_count(self) -> None:
        over = self.number - (not self._replied)
        rounds = "round" if over == 1 else "rounds"
        told = f"Right: {self.right} of {over} {rounds}" if over else "No round answered yet"
        self.count.value = f'<p class="mensura-count">{told}</p>'

    # ---- what is kept ------------------------------------------------------------------------

    def kept(self) -> dict[str, Any]:
        """Whose round, which, how many were right, where the band lies, if it was replied to."""
        return {
            "code": self.code,
            "round": self.number,
            "right": self.right,
            "counted": self._counted,
            "replied": self._replied,
            "placed": vars(self.placed).copy(),
        }

    def restore(self, kept: Mapping[str, Any]) -> None:
        """Put back what was kept; a band that cannot lie there is left out.

        kept: as :meth:`kept` gives it.
        """
        if kept["code"] != self.code:
            return
        number = whole(kept["round"], "round", at_least=1, at_most=MOST_ROUNDS - self.game.seed + 1)
        right = whole(kept["right"], "right", at_least=0, at_most=number)
        self._go_to(number)
        self.right = right
        one = kept["placed"]
        placed = Placed(one["scale_m"], one["second_m"], one["bands"], one["held"])
        try:
            self.placed = self.round.checked(placed)
        except (MeasureError, TypeError):
            self.placed = Placed(self.round.start_m, None, ONE, SQUARE)
        self._say("")
        if kept["replied"] is True:
            told = self.round.reply(self.placed)
            self._replied = self._told = True
            self._counted = kept["counted"] is True
            self._say(told.message, self.round.caution)
        self._show()
        self._tell_count()


def place_game(code: str | None = None, seed: int = 1, edition: int = EDITION) -> WherePlaced:
    """Where would you measure? A stem is drawn in its ground, and the band is put on.

    code: whose rounds they are, None for whoever sits here; seed: number of the first; edition: of
    the game when the code was first played. The same number of the same code and edition is the
    same round for ever.

    >>> place_game("Q07").reply(1, None).message
    'Choose a place first.'
    """
    return WherePlaced(code, seed, edition)
