"""A stage: what is moved beside what it changes, both in sight at once.

It is never higher than what is seen of the page. Where there is room, the controls stand left, in
a column that scrolls of its own, and right of them the picture with its sentence; on a narrow page
the picture comes first and the controls scroll beneath it. Which page gets which is the sheet's to
say (`style.css`); here stands only what belongs together.
"""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any


def stage(controls: Sequence[Any], seen: Sequence[Any], more: Sequence[Any] = ()) -> Any:
    """A box of widgets, ready for its frame.

    controls: what is moved, chosen or typed; seen: the picture, and what must be in sight with it;
    more: what may lie below.

    >>> import ipywidgets as w
    >>> [len(box.children) for box in stage([w.Text()], [w.HTML()]).children]
    [2]
    """
    import ipywidgets as w

    moved, shown = w.VBox(list(controls)), w.VBox(list(seen))
    both = w.HBox([moved, shown])
    named = [(moved, "controls"), (shown, "seen"), (both, "stage"), (seen[0], "picture")]
    for box, name in (*named, *((one, "more") for one in more)):
        box.add_class(f"mensura-{name}")
    return w.VBox([both, *more])
