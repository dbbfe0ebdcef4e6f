"""What is computed once and kept is given to many: nobody can change it for the others.

The walk finds every cached function and every cached property of the package, private ones too, and
looks through what each gives back, down to the last array, dict and list.
"""

from __future__ import annotations

import importlib
import inspect
import pkgutil
from collections.abc import Callable, Iterator, Mapping, MutableMapping, MutableSequence, MutableSet
from functools import cached_property
from types import MappingProxyType
from typing import Any

import numpy as np
import pytest

import mensura
from mensura.checks import kept
from mensura.estimates import compare
from mensura.estimates.asked_stem import AskedStem
from mensura.estimates.input_errors import DEFAULTS
from mensura.places import shipped
from mensura.stems import COMPARTMENT_7, Ellipse, Outline, RippledOval, RoughBark
from mensura.stems.bark import furrow_pattern, rough_oval

OVAL = Ellipse(44, 40)
ROUGH = RoughBark(OVAL, 24, 1.0)


def section_shown() -> Any:
    from mensura.teaching.panels.proof import ProofShown

    return ProofShown(road_of("outline"), 3, 30.0, 24.0, 20.0, "an ellipse", 12)


def in_letters(write: Callable[[Any], Any]) -> tuple[Any, ...]:
    from mensura.teaching.proof.symbols import letters

    made = write(letters())
    return made if isinstance(made, tuple) else (made,)


def chain() -> Any:
    from mensura.estimates.stand import Plots, Trees
    from mensura.estimates.stand_chain import Chain
    from mensura.estimates.tree_volume import FormFactor

    one = np.array([30.0])
    trees = Trees(np.zeros(1, int), one, one, one, np.zeros(1, int))
    return Chain(trees, Plots(("A",), area_m2=np.array([500.0])), FormFactor(0.45).unchecked_m3)


def evidence() -> tuple[Any, ...]:
    from mensura.teaching.games.causes import CAUSES, Evidence

    return CAUSES["climber"], Evidence(126.0, 127.2, climber_cm=2.0)


#: Arguments for each cached function that takes some.
CALLS: dict[str, Callable[[], tuple[Any, ...]]] = {
    "mensura.disk.sections._sections_of": lambda: (shipped("workbooks") / "05-bark.ipynb", "05"),
    "mensura.views.kit.frame.waiting_text": lambda: ("mensuraFrame",),
    "mensura.estimates.balanced_class._normal": lambda: (7, "hands", 9),
    "mensura.estimates.critical_values._pair_law": lambda: (6,),
    "mensura.estimates.fault_costs._costs": lambda: (COMPARTMENT_7,),
    "mensura.estimates.place_costs._costs": lambda: (40.0, 1.0, 1.3, ()),
    "mensura.estimates.limit_draws._times": lambda: (19.0, 0),
    "mensura.estimates.stem_scatter._single": lambda: (0.8,),
    "mensura.estimates.stem_scatter._several": lambda: (np.array([0.8, 0.9]).tobytes(), (2,)),
    "mensura.instruments.band_curve._tight": lambda: (
        44.0,
        40.0,
        (2.0, 0.0, 0.0, 0.0, 1.0),
        9.0,
        99,
    ),
    "mensura.estimates.budget._tilt_law": lambda: (6.0,),
    "mensura.stems.band_path._gauss": lambda: (7,),
    "mensura.stems.band_path._summing": lambda: (7,),
    "mensura.stems.band_path._tangents_rad": lambda: (22.0, 20.0, 1.5, 0.4),
    "mensura.stems.bark.furrow_pattern": lambda: (28, 7),
    "mensura.stems.bark.rough_oval": lambda: (44.0, 40.0, 28, 1.0, 7),
    "mensura.teaching.games.causes._fits": evidence,
    "mensura.teaching.problems.families.laying._climber_adds_cm": lambda: (40.0, 2.0),
    "mensura.teaching.problems.parts.leaning._lean_for_deg": lambda: (0.01,),
    "mensura.teaching.panels.bark._contact": lambda: (ROUGH,),
    "mensura.teaching.panels.cut_end.disc_named": lambda: ("disc 17, thick bark",),
    "mensura.teaching.panels.differences._class": lambda: (7,),
    "mensura.teaching.panels.hands_and_instruments._judged": lambda: ((), 5, 1, 7, True),
    "mensura.teaching.panels.out_of_round._widths": lambda: (ROUGH,),
    "mensura.teaching.panels.out_of_round._curves": lambda: (20.0,),
    "mensura.teaching.panels.plots._stand": lambda: ("in clumps",),
    "mensura.teaching.panels.timber_budget._budget": lambda: (3, 4, 25.0, DEFAULTS),
    "mensura.teaching.panels.timber_budget._chain": lambda: (3, 4, 25.0),
    "mensura.teaching.panels.proof.outline_named": lambda: ("a square",),
    "mensura.teaching.proof.certificates_fourier._over_turn": lambda: in_letters(
        lambda s: s.sin(s.phi) ** 2
    ),
    "mensura.teaching.proof.certificates_integral._developed": lambda: in_letters(
        lambda s: (s.a + s.b, s.sp.Symbol("x"))
    ),
    "mensura.teaching.proof.symbols.simplified": lambda: in_letters(lambda s: (s.a**2 - s.a) / s.a),
    "mensura.teaching.proof.symbols.worked_out": lambda: in_letters(lambda s: s.turn(s.t, s.t)),
    "mensura.teaching.proof.symbols.is_zero": lambda: in_letters(lambda s: s.a - s.a * s.b / s.b),
    "mensura.teaching.proof.notation.read_line": lambda: ("2ab ≤ a² + b²",),
    "mensura.teaching.proof.outline_tape._ripples": lambda: (30.0, 24.0),
    "mensura.teaching.proof.quantities._ring": lambda: ((0, 1),),
    "mensura.teaching.proof.roads.road": lambda: ("outline",),
    "mensura.views.kit.numerals._outline": lambda: (40,),
    "mensura.views.kit.numerals._letter": lambda: ("4",),
    "mensura.views.kit.numerals._advance_px": lambda: ("4",),
    "mensura.views.kit.svg.laid_out": lambda: ("oak", False),
}
#: Whose cached properties are read.
OWNERS: dict[str, Callable[[], Any]] = {
    "mensura.estimates.asked_stem.AskedStem": lambda: AskedStem(40.0, lean_deg=10.0),
    "mensura.estimates.stand_chain.Chain": chain,
    "mensura.stems.bark.RoughBark": lambda: RoughBark(OVAL, 24, 1.0),
    "mensura.stems.rippled.RippledOval": lambda: RippledOval(OVAL, 0.1),
    "mensura.stems.outline.Outline": lambda: Outline(OVAL.outline_cm()),
    "mensura.teaching.panels.proof.ProofShown": section_shown,
    "mensura.teaching.problems.draw.Problem": lambda: problem_of("girth-to-area"),
    "mensura.teaching.problems.family.Quantity": lambda: problem_of("girth-to-area").family.given[
        0
    ],
    "mensura.teaching.proof.outlined.Outlined": lambda: section_shown().outlined,
    "mensura.teaching.proof.steps.Step": lambda: road_of("classroom").steps[3],
    "mensura.teaching.proof.steps.Road": lambda: road_of("classroom"),
    "mensura.views.kit.panel.Panel": lambda: panel_of("laying"),
}


def road_of(name: str) -> Any:
    from mensura.teaching.proof.roads import road

    return road(name)


def problem_of(key: str) -> Any:
    from mensura.teaching.problems.bank import problem

    return problem(key, "Q07", "alder")


def panel_of(name: str) -> Any:
    from mensura.views.chapters import panels

    return panels()[name]


def modules() -> Iterator[Any]:
    for info in pkgutil.walk_packages(mensura.__path__, "mensura."):
        if info.name != "mensura.__main__":
            yield importlib.import_module(info.name)


def classes_of(module: Any) -> list[type]:
    return [
        one
        for one in vars(module).values()
        if inspect.isclass(one) and one.__module__ == module.__name__
    ]


def cached_functions() -> dict[str, Any]:
    """Every function of the package that keeps its results, by its qualified name."""
    return {
        f"{module.__name__}.{name}": one
        for module in modules()
        for home in (module, *classes_of(module))
        for name, one in vars(home).items()
        if hasattr(one, "cache_info") and one.__module__ == module.__name__
    }


def cached_properties() -> dict[str, str]:
    """Every property that is kept, by its qualified name, with its class's."""
    return {
        f"{module.__name__}.{home.__name__}.{name}": f"{module.__name__}.{home.__name__}"
        for module in modules()
        for home in classes_of(module)
        for name, one in vars(home).items()
        if isinstance(one, cached_property)
    }


def changeable(thing: Any, path: str = "", seen: set[int] | None = None) -> Iterator[str]:
    """Where in a result something can be changed: arrays, dicts, lists and sets, at any depth."""
    seen = set() if seen is None else seen
    if id(thing) in seen:
        return
    seen.add(id(thing))
    if isinstance(thing, np.ndarray):
        if thing.flags.writeable:
            yield path or "itself"
        return
    if isinstance(thing, MutableMapping | MutableSequence | MutableSet):
        yield path or "itself"
    if isinstance(thing, Mapping):
        for key, value in thing.items():
            yield from changeable(value, f"{path}[{key!r}]", seen)
    elif isinstance(thing, tuple | list | set | frozenset):
        for place, value in enumerate(thing):
            yield from changeable(value, f"{path}[{place}]", seen)
    elif type(thing).__module__.startswith("mensura") and hasattr(thing, "__dict__"):
        for name, value in vars(thing).items():
            yield from changeable(value, f"{path}.{name}", seen)
    elif type(thing).__module__.startswith("matplotlib"):
        for name in ("vertices", "codes"):
            yield from changeable(getattr(thing, name), f"{path}.{name}", seen)


FUNCTIONS, PROPERTIES = cached_functions(), cached_properties()


def test_the_walk_finds_what_is_kept() -> None:
    """Public and private ones, functions and properties; else all below pass for nothing."""
    assert {"mensura.stems.bark.furrow_pattern", "mensura.stems.band_path._gauss"} <= set(FUNCTIONS)
    assert "mensura.teaching.problems.bank.all_families" in FUNCTIONS
    assert {"mensura.stems.bark.RoughBark.points_cm", "mensura.stems.outline.Outline._hull"} <= set(
        PROPERTIES
    )
    # every sample is of something that is there
    assert set(CALLS) <= set(FUNCTIONS)
    assert set(OWNERS) == set(PROPERTIES.values())


@pytest.mark.parametrize("name", FUNCTIONS)
def test_what_a_function_keeps_cannot_be_changed(name: str) -> None:
    """Called with a sample of its arguments: a new one that takes some needs a row in CALLS."""
    assert list(changeable(FUNCTIONS[name](*CALLS.get(name, tuple)()))) == []


@pytest.mark.parametrize("name", PROPERTIES)
def test_what_a_property_keeps_cannot_be_changed(name: str) -> None:
    """Read from a sample of its class: a new class needs a row in OWNERS."""
    owner = OWNERS[PROPERTIES[name]]()
    assert list(changeable(getattr(owner, name.rpartition(".")[2]))) == []


@pytest.mark.parametrize(
    ("thing", "where"),
    [
        (np.zeros(3), ["itself"]),
        ((1, {"a": kept(np.zeros(2))}), ["[1]"]),
        ({"a": [np.zeros(2)]}, ["itself", "['a']", "['a'][0]"]),
        (Ellipse(np.array([4.0, 5.0]), 3), [".first_cm"]),
        (frozenset({1}), []),
        (MappingProxyType({"a": (kept(np.zeros(2)), "b")}), []),
    ],
)
def test_what_could_be_changed_would_be_found(thing: Any, where: list[str]) -> None:
    """The rule itself, on things that can be changed and on things that cannot."""
    assert list(changeable(thing)) == where


def test_nobody_smooths_the_bark_of_the_next() -> None:
    """A pattern and a rough oval refuse to be written to; the next stem is as rough as the last."""
    area = RoughBark(Ellipse(60, 48), 28, 1.0, 7).area_cm2
    with pytest.raises(ValueError, match="read-only"):
        furrow_pattern(28, 7)[1][:] = 0
    with pytest.raises(ValueError, match="read-only"):
        rough_oval(60.0, 48.0, 28, 1.0, 7).outline_cm()[:] = 0
    with pytest.raises(ValueError, match="read-only"):
        Outline([[0, 0], [4, 0], [0, 3]]).points_cm[0] = 9
    assert RoughBark(Ellipse(60, 48), 28, 1.0, 7).area_cm2 == area
    assert compare(rough_oval(60.0, 48.0, 28, 1.0, 7)).true_area_cm2 == area


def test_the_bank_stays_as_it_is() -> None:
    """Neither the bank nor a family in it can be emptied for the rest of the session."""
    from mensura.teaching.problems.bank import all_families

    families = all_families()
    with pytest.raises(AttributeError):
        families.clear()  # type: ignore[attr-defined]
    with pytest.raises(AttributeError):
        next(iter(families.values())).hints.clear()  # type: ignore[attr-defined]
    assert len(all_families()) > 50
