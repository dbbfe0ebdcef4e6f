"""Where a figure's lettering stands, for tests that nothing overlaps and nothing is cut off."""

from __future__ import annotations

from itertools import combinations
from typing import Any


def lettering(figure: Any) -> list[tuple[str, Any]]:
    """(text, extent in dots) of all that is written on a drawn figure.

    figure: of a picture that has been drawn. Tick labels count only inside their axis's limits.
    """
    texts = list(figure.texts)
    for legend in figure.legends:
        texts += legend.get_texts()
    for axes in figure.axes:
        texts += [*axes.texts, axes.title]
        if not axes.axison:
            continue
        for axis in (axes.xaxis, axes.yaxis):
            low, high = sorted(axis.get_view_interval())
            texts.append(axis.label)
            ticks = zip(axis.get_majorticklocs(), axis.get_majorticklabels(), strict=True)
            texts += [label for place, label in ticks if low <= place <= high]
    renderer = figure.canvas.get_renderer()
    return [
        (text.get_text(), text.get_window_extent(renderer))
        for text in texts
        if text.get_visible() and text.get_text().strip()
    ]


def overlaps(figure: Any, written: list[tuple[str, Any]] | None = None) -> list[tuple[str, str]]:
    """Pairs of texts on a figure whose extents meet.

    figure: of a picture that has been drawn; written: its lettering, if that is known.
    """
    written = lettering(figure) if written is None else written
    return [
        (first, second)
        for (first, a), (second, b) in combinations(written, 2)
        if a.x0 < b.x1 and b.x0 < a.x1 and a.y0 < b.y1 and b.y0 < a.y1
    ]


def cut_off(figure: Any, written: list[tuple[str, Any]] | None = None) -> list[str]:
    """Texts that reach over the figure's edge.

    figure: of a picture that has been drawn; written: its lettering, if that is known.
    """
    written = lettering(figure) if written is None else written
    width, height = figure.canvas.get_width_height()
    return [
        text
        for text, box in written
        if box.x0 < 0 or box.y0 < 0 or box.x1 > width or box.y1 > height
    ]


def texts(figure: Any) -> list[Any]:
    """All artists of a figure that can hold words, whatever they hold now.

    figure: of a picture. To look for them takes longer than to ask each of them something.
    """
    from matplotlib.text import Text

    return list(figure.findobj(Text))


def too_small(figure: Any, least_pt: float = 11, among: list[Any] | None = None) -> list[str]:
    """Texts below a size at which they are read from the back of a room.

    figure: of a picture; least_pt: size that is still large enough; among: its artists that can
    hold words, if they are known.
    """
    return [
        text.get_text()
        for text in (texts(figure) if among is None else among)
        if text.get_text().strip() and text.get_fontsize() < least_pt
    ]
