"""Wrong methods are never marked right: what people are known to do, on two hundred draws a family.

The methods stand in known_wrong/, one file a topic, as computations; the families' own slips are
taken as well. A method that is as near as the data allow on every draw is an approximation, and
right: each has its reason there, and the worked solution or the page calls it one.
"""

import importlib.util
import math
from functools import cache
from pathlib import Path

import pytest

from mensura.teaching.answers.reply import reply
from mensura.teaching.problems.bank import all_families, families, problem
from mensura.teaching.problems.family import TOPICS, Given
from mensura.written import rounded

KEYS = list(all_families())


@cache
def known(topic):
    """The module of a topic's wrong methods."""
    name = topic.replace("-", "_")
    path = Path(__file__).with_name("known_wrong") / f"{name}.py"
    spec = importlib.util.spec_from_file_location(f"mensura_known_wrong_{name}", path)
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def approximations(one):
    """The methods that are right to the data's fineness, each with its reason."""
    return getattr(known(one.topic), "APPROXIMATIONS", {}).get(one.key, {})


@cache
def drawn(key):
    """Two hundred problems of a family."""
    return [problem(key, f"L{number}", "oak") for number in range(200)]


def result(method, one):
    """What a method makes of a problem's numbers, None where it makes nothing."""
    try:
        value = method(Given(one.numbers))
    except (ValueError, ArithmeticError):
        return None
    return None if value is None or not math.isfinite(value) else float(value)


def near(one, value):
    """Whether a number is marked right."""
    return abs(value - one.answer) <= max(one.tolerance, 1e-9 * abs(one.answer))


@pytest.mark.parametrize("topic", TOPICS)
def test_every_family_has_its_wrong_methods(topic):
    """No family without, no row without its family, no approximation without its method."""
    module = known(topic)
    assert sorted(module.WRONG) == sorted(one.key for one in families(topic))
    assert all(module.WRONG.values())
    for key, reasons in getattr(module, "APPROXIMATIONS", {}).items():
        assert set(reasons) <= set(module.WRONG[key])
        assert all(len(reason) > 20 for reason in reasons.values())


@pytest.mark.parametrize("key", KEYS)
def test_no_wrong_method_is_marked_right(key):
    """Neither by its whole number nor rounded as the data ask, on any of two hundred draws."""
    family = all_families()[key]
    methods = {**known(family.topic).WRONG[key]}
    methods |= {slip.name: slip.compute for slip in family.slips if not slip.retired}
    found = 0
    for name, method in methods.items():
        if name in approximations(family) or name in SOMETIMES_NO_SLIP.get(key, {}):
            continue
        for one in drawn(key):
            value = result(method, one)
            if value is None:
                continue
            found += 1
            assert not near(one, value), (name, one.numbers)
            told = float(rounded(value, one.figures + 1)) if value else value
            assert not near(one, told), (name, one.numbers)
    assert found >= 400


#: A slip that is none on some draws, and then right with reason.
SOMETIMES_NO_SLIP = {
    "least-error": {"sign-left-on": "where no error is negative, its sign makes no difference"},
}


def test_what_is_near_is_what_is_marked_right():
    """The comparison above is the reply's own: a few draws of every family are really answered."""
    for key in KEYS:
        unit = all_families()[key].unit
        for one in drawn(key)[:2]:
            for method in known(one.family.topic).WRONG[key].values():
                value = result(method, one)
                if value is None or (one.family.exact and not value.is_integer()):
                    continue
                said = reply(one, f"{value:.9f} {unit}".strip() if not one.family.exact
                             else f"{value:.0f}")  # fmt: skip
                assert said.right == near(one, round(value, 9)), (key, one.numbers)


@pytest.mark.parametrize(
    ("key", "name"),
    [(one.key, name) for one in families() for name in approximations(one)],
)
def test_an_approximation_is_right_on_every_draw(key, name):
    """As near as the data allow everywhere, not by luck; and the worked solution says so."""
    family = all_families()[key]
    method = known(family.topic).WRONG[key][name]
    for one in drawn(key):
        assert near(one, result(method, one)), one.numbers
    assert "approximation" in family.solution


def test_cubic_feet_by_the_rule():
    """In hoppus feet's problem a cubic foot is one by the rule: the true volume is no answer."""
    for one in drawn("hoppus-feet")[:50]:
        true = 4 / math.pi * one.answer
        for unit in ("cubic feet", "cu ft", "ft³", "hoppus feet", ""):
            assert reply(one, f"{one.answer:.6f} {unit}").right
            assert reply(one, f"{true:.6f} {unit}").slip == "true-volume"
        assert reply(one, f"{one.answer * 0.3048**3:.8f} m³").right
        assert reply(one, f"{true * 0.3048**3:.8f} m³").slip == "true-volume"
    for one in drawn("quarter-girth")[:50]:
        assert reply(one, f"{one.answer / 0.3048**3:.6f} hoppus ft").right
        assert reply(one, f"{4 / math.pi * one.answer:.6f} m³").slip == "true-volume"
        assert reply(one, f"{one.answer / 0.3048**3:.6f} ft³").right


#: family, a wrong method, and the slip that names its true cause, alone or with another.
TRUE_CAUSE = [
    ("form-factor", "divided by the factor", "divided-by-the-factor"),
    ("zero-below-nothing", "first reading only", "first-reading-only"),
    ("zero-below-nothing", "zero read as mm", "zero-as-mm"),
    ("wood-from-a-bark-factor", "1 − k squared", "bark-squared"),
    ("share-of-bark", "bark once", "squared-too-late"),
    ("turned-reading", "in proportion to the angle", "in-proportion"),
    ("turned-reading", "mean of the diameters", "mean-diameter"),
    ("batten-at-the-tips", "half the height", "half-height"),
    ("doubt-of-a-mean", "no root", "root-not-taken"),
    ("leaning-jaw-area", "cosine only", "cosine-only"),
    ("least-second-reading", "blackboard's root", "blackboard"),
    ("climber-under-the-tape", "half the climber's girth", "half-its-girth"),
    ("tilted-tape", "half of tan²", "half-for-quarter"),
    ("true-from-hoppus", "foot of 0.3 m", "foot-of-30-cm"),
    ("slack-tape", "half the slack", "squared-too-late"),
]


@pytest.mark.parametrize(("key", "method", "slip"), TRUE_CAUSE)
def test_the_true_cause_is_told(key, method, slip):
    """Wherever the reply tells a cause at all, the true one is among those that it tells."""
    family = all_families()[key]
    says = next(one.says for one in family.slips if one.name == slip)
    told = 0
    for one in drawn(key)[:60]:
        value = result(known(family.topic).WRONG[key][method], one)
        if value is None:
            continue
        said = reply(one, f"{value:.9f} {family.unit}".strip())
        assert not said.right
        if said.slip is not None:
            told += 1
            assert says in said.message, (said.message, one.numbers)
    assert told >= 10
