"""A proof is data: steps that say what they follow from, and certificates that hold them to it.

`verify` proves each step again, exactly. Numbers are for looking at (`sides`); they prove nothing.
"""

from __future__ import annotations

from abc import ABC, abstractmethod
from collections.abc import Callable, Mapping
from dataclasses import dataclass
from functools import cached_property
from types import MappingProxyType
from typing import TYPE_CHECKING, Any, ClassVar

from mensura.checks import LARGEST_CM, number

if TYPE_CHECKING:
    from mensura.teaching.proof.outlined import Outlined

THEREFORE, ENOUGH = "therefore", "enough"

#: The sign of each direction, as it stands before a line.
SIGNS = {THEREFORE: "⇒", ENOUGH: "⇐"}

#: What a step may be drawn as.
PICTURES = (
    *("stem", "exact stem", "squares", "bounds", "curve", "arc"),
    *("hull", "spectrum", "width", "turn", "random"),
)

#: The turn off the axes, or the place on the curve, at which `sides` looks where a line needs one.
SIDES_DEG = 30.0


class ProofError(Exception):
    """A step that does not follow.

    says: what is amiss, a sentence; key: the step's, or "" where only its form was looked at.
    """

    def __init__(self, says: str, key: str = "") -> None:
        self.says, self.key = says, key
        super().__init__(f"{key}: {says}" if key else says)


@dataclass(frozen=True)
class Checked:
    """What a certificate verified.

    kind: in a word or two, as "identity"; says: what was found, in words.

    >>> print(Checked("identity", "left less right is 0, exactly"))
    identity: left less right is 0, exactly
    """

    kind: str
    says: str

    def __str__(self) -> str:
        return f"{self.kind}: {self.says}"


class Certificate(ABC):
    """What holds a step to account: it checks exactly, and says in words what it checked.

    grounds: whether it shows a line of itself, from an assumption, with nothing left to be shown.
    """

    grounds: ClassVar[bool] = False

    @abstractmethod
    def check(self, step: Step) -> Checked:
        """What was verified. step: the step that it belongs to. Raises ProofError."""


@dataclass(frozen=True)
class Step:
    """One line of a proof, and why it may stand there.

    key: its name, "classroom-3"; line: as read; statement: makes the relation from the letters;
    premises: the earlier steps that it follows from, none for what is given or still to be shown;
    direction: THEREFORE, or ENOUGH for "it is enough to show"; reason: plain words; assumption:
    the assumption used, or ""; picture: its kind, one of PICTURES; certificates: what verifies it;
    unit: of both sides; numbers: both sides from a, b in cm and an angle in degrees, or None;
    outlined: both sides for any outline, or None; constant_width: whether it speaks of a hull of
    constant width, and is true of no other. Raises ProofError for a picture that is not there.
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
    outlined: Callable[[Outlined], tuple[float, float]] | None = None
    constant_width: bool = False

    def __post_init__(self) -> None:
        if self.picture not in PICTURES:
            raise ProofError(f"there is no picture {self.picture!r}.", self.key)

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
        from mensura.teaching.proof.symbols import letters

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

    def sides_of(self, outlined: Outlined) -> tuple[float, float] | None:
        """Both sides as numbers for any outline, in the step's unit; None without numbers.

        outlined: the outline, how many ripples are summed, how the calipers are turned.
        """
        if self.outlined is None:
            return None
        left, right = self.outlined(outlined)
        return float(left), float(right)

    def verify(self) -> tuple[Checked, ...]:
        """What was verified, one for each certificate. Raises ProofError if it fails.

        A step never changes, so what was once verified is kept with it.
        """
        return self._verified

    @cached_property
    def _verified(self) -> tuple[Checked, ...]:
        self._check_direction()
        if not self.certificates:
            raise ProofError("no certificate stands behind it.", self.key)
        return tuple(self._checked(one) for one in self.certificates)

    def _checked(self, certificate: Certificate) -> Checked:
        """What a certificate says; a line whose form it cannot even read does not follow."""
        try:
            return certificate.check(self)
        except ProofError as error:
            # a premise that fails is named behind the step that leans on it
            told = error.says if error.key in ("", self.key) else str(error)
            raise ProofError(told, self.key) from None
        except (ArithmeticError, AttributeError, LookupError, TypeError, ValueError) as error:
            raise ProofError(f"not a line of that form ({error}).", self.key) from error

    def _check_direction(self) -> None:
        waiting = [one.key for one in self.premises if one.to_be_shown]
        if self.direction == THEREFORE and waiting:
            raise ProofError(f"{waiting[0]} is still to be shown; nothing follows yet.", self.key)
        if self.direction == ENOUGH and self.premises and len(waiting) != 1:
            raise ProofError("enough for what? No line is still to be shown.", self.key)
        if self.direction not in SIGNS:
            raise ProofError(f"{self.direction!r} is no direction.", self.key)


@dataclass(frozen=True)
class Road:
    """A proof from what is given to what it says.

    name: "classroom"; title: a heading; says: the conclusion, with its conditions; steps: in order;
    varies: names of what its numbers hang on, of a_cm, b_cm, turn_deg, outline and terms.
    Raises ProofError if two steps have one key, or if only some lines with numbers have those of
    any outline.
    """

    name: str
    title: str
    says: str
    steps: tuple[Step, ...]
    varies: tuple[str, ...] = ("a_cm", "b_cm")

    def __post_init__(self) -> None:
        keys = [one.key for one in self.steps]
        double = next((key for key in keys if keys.count(key) > 1), "")
        if double:
            raise ProofError("two steps have this key.", double)
        bare = [one.key for one in self.steps if one.numbers and not one.outlined]
        if self.of_outlines and bare:
            raise ProofError("it has no numbers for the outline that is chosen.", bare[0])

    @property
    def of_outlines(self) -> bool:
        """Whether its lines speak of any outline, not of an ellipse alone."""
        return any(one.outlined for one in self.steps)

    def verify(self) -> Mapping[str, tuple[Checked, ...]]:
        """What was verified for each step, by key. Raises ProofError.

        Each step is verified, those borrowed from another road too; then, that the chain leaves no
        gap: what is to be shown is reached from what is given. Neither changes, so it is done once.
        """
        return self._verified

    @cached_property
    def _verified(self) -> Mapping[str, tuple[Checked, ...]]:
        found: dict[str, tuple[Checked, ...]] = {}
        own = {one.key: one for one in self.steps}
        for place, step in enumerate(self.steps):
            for premise in step.premises:
                before = self.steps[:place]
                if premise.key in own and not any(premise is one for one in before):
                    raise ProofError(f"{premise.key} does not stand above it.", step.key)
                if premise.key not in own:
                    _verify_borrowed(premise, set(own))
            found[step.key] = step.verify()
        gap = self._gap()
        if gap:
            raise ProofError("never shown; the chain has a gap.", gap)
        return MappingProxyType(found)

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
