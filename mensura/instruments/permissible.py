"""What the law lets a new tape err: the maximum permissible error of its accuracy class."""

from __future__ import annotations

from typing import Any

import numpy as np
from numpy.typing import ArrayLike

from mensura.checks import MeasureError, number, plain

#: Accuracy class → (a, b, c): a + bL mm on a length of L metres, rounded up to the next whole one,
#: and c more if it starts or ends at an end surface, such as a hook [UKSI2016].
CLASSES: dict[str, tuple[float, float, float]] = {
    "I": (0.1, 0.1, 0.1),
    "II": (0.3, 0.2, 0.2),
    "III": (0.6, 0.4, 0.3),
}


def permissible_error_mm(
    accuracy_class: str, length_m: ArrayLike, end_surface: bool = False
) -> Any:
    """By how much a new tape of a class may be off, either way, in mm.

    accuracy_class: one of CLASSES; length_m: what is measured, above 0, at most 1000 m; whole
    metres count, rounded up; end_surface: whether it starts at a hook or another end surface.
    Raises MeasureError. Source: [UKSI2016].

    >>> permissible_error_mm("II", 1.26), permissible_error_mm("II", 2.0, end_surface=True)
    (0.7, 0.9)
    """
    if accuracy_class not in CLASSES:
        raise MeasureError("accuracy_class", accuracy_class, "", "one of: " + ", ".join(CLASSES))
    a, b, c = CLASSES[accuracy_class]
    metres = np.ceil(np.asarray(number(length_m, "length_m", "m", above=0.0, at_most=1000.0)))
    return plain(a + b * metres + (c if end_surface else 0.0))
