"""The questions of each workbook, kept out of its pages so that the answers are not in view.

A question has a key: the workbook's number and "predict", or the number of the exercise, as in
"02-predict" or "02-1".
"""

from __future__ import annotations

from importlib import import_module

from mensura.checks import MeasureError
from mensura.teaching.lessons.chapters import CHAPTERS
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Prediction


def question(key: str) -> Prediction | Exercise:
    """A workbook's question.

    key: as in "02-predict" or "02-1".
    Raises MeasureError with the keys there are for an unknown one.

    >>> question("02-1").unit
    'cm²'
    """
    number = key.split("-")[0] if isinstance(key, str) else None
    homes = {one.number: one.questions_home for one in CHAPTERS}
    home = homes.get(number) if number else None
    known: dict[str, Prediction | Exercise] = import_module(home).QUESTIONS if home else {}
    if key not in known:
        expected = ", ".join(known) if known else "a key like 02-1, for: " + ", ".join(homes)
        raise MeasureError("key", key, "", f"one of: {expected}")
    return known[key]
