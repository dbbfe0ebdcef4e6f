"""What a class does: it predicts, it computes, and it is told why."""

from mensura.teaching.lessons.exercise import Exercise, Reply, Slip
from mensura.teaching.lessons.predict import Choice, Prediction

__all__ = ["Choice", "Exercise", "Prediction", "Reply", "Slip"]
