"""The questions of each workbook, kept out of its pages so that the answers are not in view.

A question has a key: the workbook's number and "predict", or the number of the exercise, as in
"02-predict" or "02-1".
"""

from __future__ import annotations

from importlib import import_module

from mensura.checks import MeasureError
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Prediction

#: Which module holds which workbook's questions.
_HOMES = {
    "01": "mensura.teaching.lessons.questions.girth",
    "02": "mensura.teaching.lessons.questions.out_of_round",
    "03": "mensura.teaching.lessons.questions.proof",
    "04": "mensura.teaching.lessons.questions.laying",
    "05": "mensura.teaching.lessons.questions.bark",
    "06": "mensura.teaching.lessons.questions.condition",
    "07": "mensura.teaching.lessons.questions.calipers",
    "08": "mensura.teaching.lessons.questions.problems",
}


def question(key: str) -> Prediction | Exercise:
    """A workbook's question.

    key: as in "02-predict" or "02-1".
    Raises MeasureError with the keys there are for an unknown one.

    >>> question("02-1").unit
    'cm²'
    """
    home = _HOMES.get(key.split("-")[0]) if isinstance(key, str) else None
    known: dict[str, Prediction | Exercise] = import_module(home).QUESTIONS if home else {}
    if key not in known:
        expected = ", ".join(known) if known else "a key like 02-1, for: " + ", ".join(_HOMES)
        raise MeasureError("key", key, "", f"one of: {expected}")
    return known[key]
