"""What a class does: it predicts, it computes, and it is told why."""

from mensura.teaching.answers.reply import KnownSlip, Reply
from mensura.teaching.lessons.exercise import Exercise
from mensura.teaching.lessons.predict import Choice, Prediction

__all__ = ["Choice", "Exercise", "KnownSlip", "Prediction", "Reply"]
