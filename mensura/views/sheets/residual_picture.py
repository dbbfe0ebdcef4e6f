"""What a check's readings leave over: how far each lies off the line, along the instrument."""

from __future__ import annotations

from typing import Any

import numpy as np

from mensura.instruments.tape_card import Card, columns_cm
from mensura.views.kit import look
from mensura.views.kit.live import Picture


class ResidualPicture(Picture[Card]):
    """Readings less the line, against the reference, with one spread on either side.

    card: of the instrument.
    """

    width_px, height_px = 620, 210

    def __init__(self, card: Card) -> None:
        super().__init__()
        self.card = card

    def draw(self, figure: Any) -> None:
        """The chart on `figure`; nothing moves."""
        true, left = _left(self.card)
        spread = self.card.residual_sd_cm or 0.0
        high = max(1.25 * float(np.abs(left).max()), 1.35 * spread, 0.01)
        axes = look.place(figure, 92, 46, 426, 154)
        axes.set(xlim=(0, 1.06 * true.max()), ylim=(-high, high))
        axes.locator_params(axis="y", nbins=5)
        axes.set_xlabel("reference, cm", labelpad=1)
        axes.set_ylabel("off the line, cm")
        axes.axhline(0, color=look.TRUTH, lw=1.4)
        if spread:
            for side in (-spread, spread):
                axes.axhline(side, color=look.QUIET, lw=1.0, ls=(0, (5, 3)))
            axes.annotate(
                "one spread", (1, spread), (6, 0 if spread > 0.15 * high else 10),
                xycoords=("axes fraction", "data"), textcoords="offset points", va="center",
                color=look.QUIET, annotation_clip=False,
            )  # fmt: skip
        axes.annotate(
            "the line", (1, 0), (6, 0), xycoords=("axes fraction", "data"),
            textcoords="offset points", va="center", annotation_clip=False,
        )  # fmt: skip
        tape = self.card.kind == "tape"
        colour, mark = (look.TAPE, "o") if tape else (look.CALIPERS, "s")
        axes.plot(true, left, ls="none", marker=mark, ms=6, mfc="none", mec=colour, mew=1.4)

    def show(self, numbers: Card) -> None:
        """Nothing moves: the chart holds the card given at the start, not `numbers`."""

    def describe(self, numbers: Card) -> str:
        """The chart in words.

        numbers: the card.
        """
        true, left = _left(numbers)
        worst = int(np.abs(left).argmax())
        return (
            f"How far {left.size} readings lie off the line: from {left.min():+.2f} to "
            f"{left.max():+.2f} cm, the worst at {true[worst]:g} cm."
        )


def _left(card: Card) -> tuple[Any, Any]:
    true, read = columns_cm(card.marks)
    return true, read - card.rise * true - card.start_cm
