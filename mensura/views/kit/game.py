"""A game on a page: rounds by number, asked in words and perhaps a picture, each choice replied to.

What is at work in a notebook is the game's own business; without a kernel a game shows its first
round as text, and its picture. So does a leaflet, on which a choice is ticked.
"""

from __future__ import annotations

import html
from abc import ABC, abstractmethod
from typing import Any, Protocol

from mensura.checks import whole
from mensura.teaching.answers.reply import Reply
from mensura.views.kit.live import Picture, draw_still


class Asks(Protocol):
    """A round, as far as every game has it."""

    @property
    def question(self) -> str:
        """What is asked."""
        ...


class Game(ABC):
    """A game in a workbook.

    seed: of its first round; each next round has the next seed; edition: of the game when the seed
    was given out. Raises MeasureError for a seed that is no whole number, and for an edition that
    there is not.
    """

    title: str = ""
    latest: int = 1

    def __init__(self, seed: int, edition: int) -> None:
        self.seed = whole(seed, "seed", at_least=-(10**9), at_most=10**9)
        self.edition = whole(edition, "edition", at_least=1, at_most=self.latest)

    @abstractmethod
    def drawn(self, seed: int) -> Asks:
        """The round of `seed`."""

    def question(self, seed: int) -> str:
        """What is asked in the round of `seed`."""
        return self.drawn(seed).question

    @abstractmethod
    def facts(self, seed: int) -> tuple[str, ...]:
        """What is given beside the question in the round of `seed`, a line each."""

    @abstractmethod
    def choices(self, seed: int) -> list[tuple[str, str]]:
        """(words, key) of each answer in the round of `seed`."""

    @abstractmethod
    def reply(self, seed: int, key: str | None) -> Reply:
        """What is said to the answer `key` in the round of `seed`."""

    @property
    @abstractmethod
    def at_work(self) -> Any:
        """The game's widget, made anew, for one notebook."""

    def picture(self, seed: int) -> Picture[None] | None:
        """What is drawn in the round of `seed`, if the game has a picture."""
        return None

    def __repr__(self) -> str:
        lines = [f"{self.title} {self.question(self.seed)}", *self.facts(self.seed)]
        lines += [f"  - {words}" for words, _ in self.choices(self.seed)]
        return "\n".join(lines)

    def _repr_mimebundle_(
        self, include: Any = None, exclude: Any = None
    ) -> tuple[dict[str, Any], dict[str, Any]]:
        data = dict(self.at_work._repr_mimebundle_()) | {"text/plain": repr(self)}
        picture = self.picture(self.seed)
        if picture is None:
            return data, {}
        still = draw_still(picture, None)
        asked = "".join(f"<p>{html.escape(line)}</p>" for line in repr(self).splitlines())
        data |= {"image/png": still.png, "text/html": still.html + asked}
        data["text/plain"] = f"{self!r}\n{still.alt}"
        return data, {"image/png": still.metadata}
