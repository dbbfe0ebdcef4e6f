"""A proof is data: steps that say what they follow from, and certificates that hold them to it.

`verify` proves each step again, exactly. Numbers are for looking at (`sides`); they prove nothing.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable
from dataclasses import dataclass
from typing import Any, ClassVar

from mensura.checks import LARGEST_CM, number

THEREFORE, ENOUGH = "therefore", "enough"

#: The sign of each direction, as it stands before a line.
SIGNS = {THEREFORE: "⇒", ENOUGH: "⇐"}

#: What a step may be drawn as.
PICTURES = (
    *("stem", "squares", "bounds", "curve", "arc"),
    *("hull", "spectrum", "width", "turn", "random"),
)

#: The turn off the axes, or the place on the curve, at which `sides` looks where a line needs one.
SIDES_DEG = 30.0


class ProofError(Exception):
    """A step that does not follow: its key and what is amiss."""


class Certificate(ABC):
    """What holds a step to account: it checks exactly, and says in words what it checked.

    grounds: whether it shows a line of itself, from an assumption, with nothing left to be shown.
    """

    grounds: ClassVar[bool] = False

    @abstractmethod
    def check(self, step: Step) -> str:
        """What was verified, in words. step: the step that it belongs to. Raises ProofError."""


@dataclass(frozen=True)
class Step:
    """One line of a proof, and why it may stand there.

    key: its name, "classroom-3"; line: as read; statement: makes the relation from the letters;
    premises: the earlier steps that it follows from, none for what is given or still to be shown;
    direction: THEREFORE, or ENOUGH for "it is enough to show"; reason: plain words; assumption:
    the assumption used, or ""; picture: its kind, one of PICTURES; certificates: what verifies it;
    unit: of both sides; numbers: both sides from a, b in cm and an angle in degrees, or None.
    """

    key: str
    line: str
    statement: Callable[[Any], Any]
    premises: tuple[Step, ...]
    direction: str
    reason: str
    picture: str
    certificates: tuple[Certificate, ...]
    assumption: str = ""
    unit: str = ""
    numbers: Callable[[float, float, float], tuple[float, float]] | None = None

    @property
    def follows_from(self) -> tuple[str, ...]:
        """Keys of the steps that it follows from."""
        return tuple(one.key for one in self.premises)

    @property
    def to_be_shown(self) -> bool:
        """Whether it is reached backwards: shown only once the last line below it is."""
        return self.direction == ENOUGH

    @property
    def sign(self) -> str:
        """⇒, ⇐, or "" for what is given and for the theorem itself."""
        return SIGNS[self.direction] if self.premises else ""

    def relation(self) -> Any:
        """The line as a relation of sympy, made when asked."""
        from mensura.teaching.proof.letters import letters

        return self.statement(letters())

    def sides(
        self, a_cm: float, b_cm: float, turn_deg: float = SIDES_DEG
    ) -> tuple[float, float] | None:
        """Both sides as numbers in the step's unit; None where a line has no numbers.

        a_cm, b_cm: half-axes in cm, above 0, at most 1000; turn_deg: the angle θ or t, where the
        line has one. Raises MeasureError.
        """
        a, b = (
            float(number(value, name, "cm", above=0, at_most=LARGEST_CM / 2))
            for value, name in ((a_cm, "a_cm"), (b_cm, "b_cm"))
        )
        angle = float(number(turn_deg, "turn_deg", "deg"))
        if self.numbers is None:
            return None
        left, right = self.numbers(a, b, angle)
        return float(left), float(right)

    def verify(self) -> tuple[str, ...]:
        """What was verified, in words, one per certificate. Raises ProofError if it fails."""
        self._check_direction()
        if not self.certificates:
            raise ProofError(f"{self.key}: no certificate stands behind it.")
        return tuple(self._checked(one) for one in self.certificates)

    def _checked(self, certificate: Certificate) -> str:
        """What a certificate says; a line whose form it cannot even read does not follow."""
        try:
            return certificate.check(self)
        except ProofError as error:
            told = str(error)
            raise ProofError(told if told.startswith(self.key) else f"{self.key}: {told}") from None
        except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError) as error:
            raise ProofError(f"{self.key}: not a line of that form ({error}).") from error

    def _check_direction(self) -> None:
        waiting = [one.key for one in self.premises if one.to_be_shown]
        if self.direction == THEREFORE and waiting:
            raise ProofError(f"{self.key}: {waiting[0]} is still to be shown; nothing follows yet.")
        if self.direction == ENOUGH and self.premises and len(waiting) != 1:
            raise ProofError(f"{self.key}: enough for what? No line is still to be shown.")
        if self.direction not in SIGNS:
            raise ProofError(f"{self.key}: {self.direction!r} is no direction.")


@dataclass(frozen=True)
class Road:
    """A proof from what is given to what it says.

    name: "classroom"; title: a heading; says: the conclusion, with its conditions; steps: in order.
    """

    name: str
    title: str
    says: str
    steps: tuple[Step, ...]

    def verify(self) -> dict[str, tuple[str, ...]]:
        """What was verified for each step, by key. Raises ProofError.

        Each step is verified, those borrowed from another road too; then, that the chain leaves no
        gap: what is to be shown is reached from what is given.
        """
        found: dict[str, tuple[str, ...]] = {}
        own = {one.key: one for one in self.steps}
        for place, step in enumerate(self.steps):
            for premise in step.premises:
                before = self.steps[:place]
                if premise.key in own and not any(premise is one for one in before):
                    raise ProofError(f"{step.key}: {premise.key} does not stand above it.")
                if premise.key not in own:
                    _verify_borrowed(premise, set(own))
            found[step.key] = step.verify()
        gap = self._gap()
        if gap:
            raise ProofError(f"{gap}: never shown; the chain has a gap.")
        return found

    def _gap(self) -> str:
        """Key of a line that was never shown, or ""."""
        shown = {one.key for one in self.steps if not one.to_be_shown}
        for step in reversed(self.steps):
            if not step.to_be_shown:
                continue
            if any(one.grounds for one in step.certificates):
                shown.add(step.key)
            if step.key in shown:
                shown.update(step.follows_from)
        return next((one.key for one in self.steps if one.key not in shown), "")


def _verify_borrowed(step: Step, done: set[str]) -> None:
    """Verifies a step of another road and all that it rests on."""
    if step.key in done:
        return
    done.add(step.key)
    for premise in step.premises:
        _verify_borrowed(premise, done)
    step.verify()
