"""The house rules: documented names, units in names, one bibliography, a light import, a tidy root.

They walk all of mensura, so that a new module is held to them from its first day.
"""

import ast
import dataclasses
import importlib
import inspect
import pkgutil
import re
import subprocess
import sys
from functools import cache, cached_property
from pathlib import Path

import pytest

import mensura
from mensura.sources import SOURCES, Source, cite

ROOT = Path(__file__).resolve().parents[1]
PACKAGE = Path(mensura.__file__).resolve().parent

#: How a name says its unit.
UNITS = (
    *("mm", "cm", "m", "km", "in", "ft", "px", "pt"),
    *("mm2", "cm2", "m2", "in2", "ft2", "m3", "ft3"),
    *("deg", "rad", "percent", "c", "n"),
    *("ms", "s", "min", "days", "years", "mb", "bytes"),
    *("per_c", "cm_per_m", "per_ha"),
)
UNIT = re.compile(rf"_({'|'.join(UNITS)})$")

#: Names of numbers that have no unit, or whose unit is another argument, each with its reason.
WITHOUT_UNIT = {
    **dict.fromkeys(
        ("off", "on_each", "se", "u", "plots"), "in the unit of what is counted, or a count"
    ),
    "limit_per_diameter": "one length over another",
    # a stand's budget
    **dict.fromkeys(("hours", "hours_a_plot", "hours_a_tree", "takes_hours"), "is its unit"),
    "gain_percent_per_hour": "is its unit",
    **dict.fromkeys(("more_plots", "trees"), "counts"),
    **dict.fromkeys(("averaging_u", "common_u", "drawn_u"), "in the figure's own unit"),
    **dict.fromkeys(("drawn_mean", "drawn_interval"), "in the figure's own unit"),
    **dict.fromkeys(("moved_parts", "area_pull", "residuals"), "in the figure's own unit"),
    **dict.fromkeys(("variance_of", "sampling_variance"), "square of the figure's unit"),
    **dict.fromkeys(("drawn_share", "drawn_share_error", "shares_of"), "ratios"),
    **dict.fromkeys(("form_factor", "bark", "height", "form", "by"), "a share of the quantity"),
    # counts
    "ridges": "a count",
    **dict.fromkeys(("tapes", "hand_times"), "a count, or one time as another"),
    "points": "a count",
    **dict.fromkeys(("most_readings", "stems_to_notice"), "a count"),
    "count": "a count",
    "lobes": "a count",
    "follows": "places in a list",
    "swollen_times": "one length over another",
    **dict.fromkeys(("axis", "side_vector"), "unit directions in space"),
    "digits": "a count",
    **dict.fromkeys(("planted", "found", "half"), "in the figure's own unit"),
    **dict.fromkeys(("need", "scales", "first_scale"), "in the chart's own unit"),
    "figures": "a count",
    "waves": "a count",
    "wander_waves": "a count",
    **dict.fromkeys(("degree", "exact_degree", "pieces", "sections"), "counts"),
    "coefficients": "of a polynomial, each m² for a metre to its power",
    "middle": "a place in a list",
    **dict.fromkeys(("stem_count", "stem_counts"), "counts"),
    "reading_count": "a count",
    "shape": "counts along each axis of an array",
    # labels and keys
    "seed": "a key of a draw",
    "tree": "a label",
    **dict.fromkeys(("row", "partner_row"), "a line of a file"),
    # ratios
    "axis_ratio": "shorter over longer diameter",
    "bark_factor": "diameter over diameter",
    "form_factors": "volume over volume",
    "solid_form_factor": "volume over volume",
    "coverage_factor": "expanded over standard uncertainty",
    "solid": "a name, or an exponent",
    "factor": "times as large, length over length",
    **dict.fromkeys(("friction", "frictions"), "force over force"),
    "pull_share": "pull over pull",
    "height_factor": "diameter over diameter",
    "steepness": "rise over run",
    **dict.fromkeys(
        ("rise", "u_rise", "rise_interval"), "reading over reference, length over length"
    ),
    "correlation": "of two numbers, none",
    **dict.fromkeys(("degrees_of_freedom", "between", "within", "places"), "counts"),
    **dict.fromkeys(("f", "p"), "a ratio of variances, and a share of chances"),
    **dict.fromkeys(("card_digits", "digits_of"), "a count"),
    "drawn_on": "yes or no, for each reading",
    "found_correlation": "of two numbers, none",
    **dict.fromkeys(
        ("degrees_of_freedom_at", "stretch_degrees_of_freedom", "start_degrees_of_freedom"),
        "counts, whole or not",
    ),
    **dict.fromkeys(("rows", "place", "far_reading"), "places in a file or a list"),
    "counts": "of readings",
    **dict.fromkeys(("amount", "amounts", "usual"), "of an ignored rule, which names the unit"),
    "student_factor": "expanded over standard uncertainty",
    **dict.fromkeys(("hand_in_steps", "shared_variance"), "in steps of the reading, squared"),
    "tangent": "unit directions",
    "uniforms": "numbers from 0 to 1",
    "furrow_pattern": "shares of a turn and of a depth",
    **dict.fromkeys(("least", "greatest", "step", "start", "sound"), "in the slider's unit"),
    "parts": "how many of one unit make another",
    "check": "in the setting's or the control's unit, a field of it",
    # of a budget
    **dict.fromkeys(("draws", "readings", "size"), "a count"),
    **dict.fromkeys(("readings_beside_common", "stems_that_outweigh"), "counts, not yet whole"),
    "adds": "in the unit of a chart's scale",
    "heights": "of a histogram, shares of its highest",
    **dict.fromkeys(("others", "more"), "settings that name their units themselves"),
    **dict.fromkeys(("degrees_of_freedom", "hand_degrees_of_freedom"), "a count, whole or not"),
    **dict.fromkeys(("correlation", "correlation_matrix", "matrix"), "numbers from -1 to 1"),
    **dict.fromkeys(("even", "standard"), "shares of 1, and standard deviations"),
    "k": "expanded over standard uncertainty",
    "untilted": "girth over girth",
    "agreement": "yes or no, and a tolerance in the figure's unit",
    **dict.fromkeys(("ranks", "first", "groups", "end", "away"), "places in a list"),
    "number_at": "in the unit of the numbers",
    "within": "standard errors",
    **dict.fromkeys(("estimate", "places", "spreads", "draw", "given"), "in the input's unit"),
    **dict.fromkeys(("sensitivity", "sensitivities", "slopes_of"), "figure's unit over input's"),
    **dict.fromkeys(("contribution", "contributions", "shift", "shifts"), "in the figure's unit"),
    **dict.fromkeys(("u", "expanded", "interval", "interval_errors"), "in the figure's unit"),
    **dict.fromkeys(("tolerance", "as_read", "law_of_figure", "chunk"), "in the figure's unit"),
    "next_terms": "square of the figure's unit",
    **dict.fromkeys(
        ("undergrowth", "brush_share", "hand_share", "common_share"),
        "a share of what it is laid on",
    ),
    **dict.fromkeys(
        ("mean_share", "variance", "rise_mean", "rise_variance", "bias_share", "mean_square_share"),
        "of an area over the true one",
    ),
    **dict.fromkeys(("own_variance", "shared_variance"), "of an area over the true one"),
    **dict.fromkeys(
        ("product_mean", "product_variance", "square_mean"), "of widths over the mean diameter"
    ),
    # of a class's readings
    **dict.fromkeys(("in_spread", "in_mean"), "how often a mean square counts"),
    **dict.fromkeys(
        ("stem", "hand", "instrument", "group", "outer", "inner"), "places in a list of codes"
    ),
    **dict.fromkeys(("stems", "hands", "cells", "repeats", "sides", "apart"), "counts"),
    **dict.fromkeys(
        ("freedom", "stems_freedom", "hands_freedom", "rest_freedom", "stem_freedom"),
        "a count, whole or not",
    ),
    **dict.fromkeys(("each_hand", "stems_each", "hands_each"), "readings that count, a mean"),
    **dict.fromkeys(("chance", "confidence"), "a share of chances"),
    **dict.fromkeys(("keep", "outlying"), "yes or no, for each cell"),
    **dict.fromkeys(("values", "over_stems", "like"), "in the unit of what is given"),
    **dict.fromkeys(("cochran_critical", "double_grubbs_critical"), "squares over squares"),
    **dict.fromkeys(("grubbs_critical", "statistic", "critical"), "of a test, none"),
    **dict.fromkeys(("mandel_h_critical", "h", "h_straggler", "h_outlier"), "deviations over s"),
    **dict.fromkeys(("mandel_k_critical", "k_straggler", "k_outlier"), "s over s"),
    **dict.fromkeys(("against_constant", "against_proportional"), "logarithms of likelihoods"),
    # of a class's practical
    **dict.fromkeys(("hand_count", "tape_count", "caliper_count"), "counts"),
    **dict.fromkeys(("most_repeats", "least_repeats"), "counts"),
    **dict.fromkeys(("stems", "other_count", "rounds", "mates", "of_kind", "most"), "counts"),
    **dict.fromkeys(("agreeing", "rival", "hands", "judged"), "counts"),
    **dict.fromkeys(("taken", "oval_taken", "others_taken"), "counts, not whole"),
    **dict.fromkeys(("visited_share", "chance", "chances", "level"), "shares of 1"),
    **dict.fromkeys(
        ("times", "spread_times", "spreads_times", "inflation"), "a spread over another"
    ),
    **dict.fromkeys(("adds", "slopes", "slope_sd", "matters", "share", "left"), "logarithms"),
    **dict.fromkeys(("log_size", "residual", "scale", "slope", "part"), "logarithms"),
    **dict.fromkeys(("adds_var", "slopes_var", "both_cov", "covariance"), "of logarithms, squared"),
    **dict.fromkeys(("slopes_covariance", "of_cells", "inverse"), "of logarithms, squared"),
    **dict.fromkeys(
        ("lay", "place", "repeat", "turn", "oval"), "of logarithms or radians, squared"
    ),
    **dict.fromkeys(("along", "across"), "cosines and sines"),
    **dict.fromkeys(("weight", "weights", "power", "standardised"), "pure numbers"),
    **dict.fromkeys(
        ("numbers", "right", "precision", "take", "stem_before", "before"), "a sum's own"
    ),
    **dict.fromkeys(("values", "medians"), "in the unit of what is given"),
    **dict.fromkeys(("bias", "needed"), "in the unit that stands beside them"),
    # of a photograph
    **dict.fromkeys(("picture", "photograph", "levels", "threshold"), "grey levels from 0 to 255"),
    **dict.fromkeys(
        ("parting_level", "grey_levels", "read_photograph"), "grey levels from 0 to 255"
    ),
    "filled_shares": "of each dot, from 0 to 1",
    # of a plan of a practical
    **dict.fromkeys(("turn_count", "draws_for", "stems_that_fit", "repeats"), "counts"),
    # of a photograph, and of the problems on timber
    **dict.fromkeys(("click_count", "clicks_for"), "counts"),
    "numbered": "in the unit of the name that is asked for",
    **dict.fromkeys(("minutes", "seconds_a_reading", "class_minutes"), "is its unit"),
    # whatever unit the caller names beside it
    "from_value": "in the unit of what it is set against",
    "value": "its unit is an argument of its own, or it has none",
    **dict.fromkeys(("at", "steps"), "in the unit of what is moved, named beside it"),
    "above": "in the unit named beside it",
    "at_least": "in the unit named beside it",
    "below": "in the unit named beside it",
    "at_most": "in the unit named beside it",
    "number": "in the unit named by its argument",
    "standard_uncertainty": "in the unit of what is unsure",
    "expanded_uncertainty": "in the unit of the standard uncertainty",
    "plain": "in the unit of what it is given",
    "kept": "in the unit of what it is given",
    "array": "its numbers keep their unit",
    "whole": "counts have no unit",
    "diameter": "cm always, as a check named for what it checks",
    "log_length": "m always, as a check named for what it checks",
    "tilt": "deg always, as a check named for what it checks",
    "marks": "in the unit of the tape's scale, which stands beside it",
    "lead": "a difference of two errors, in their unit",
    # of a stand
    **dict.fromkeys(("trees", "samples", "clump_stems"), "counts"),
    **dict.fromkeys(("each_tree_stands_for", "form_factor"), "trees for a tree, a share"),
    **dict.fromkeys(("each", "skew_interval"), "in the unit of what is counted"),
    **dict.fromkeys(("percent", "relative_se"), "is its unit, or one over the other"),
    **dict.fromkeys(("height_share", "diameter_share"), "one length over another"),
    "terms": "coefficients and powers; the class says of what",
    # no measure at all
    "out_of_view": "yes or no, for each point",
    "stand_among": "yes or no, for each point",
    **dict.fromkeys(
        ("to_dict", "practical_dict", "flag_rows", "precision_numbers", "exactness_rows"),
        "names and numbers; its keys carry the units",
    ),
    "faults": "settings by name; the names carry the units",
    "read": "a tape's or calipers' reading; the class says the unit (cm)",
}

#: The same for the layers that ask, draw and command.
WITHOUT_UNIT_OUTSIDE = {
    **dict.fromkeys(("left", "bottom", "width", "height"), "shares of a picture"),
    **dict.fromkeys(("least", "greatest", "step", "start"), "in the control's unit, a field too"),
    **dict.fromkeys(("answer", "tolerance"), "in the exercise's unit, a field too"),
    **dict.fromkeys(("half_step", "half_round", "other"), "in the typed unit, a field too"),
    **dict.fromkeys(("values", "reach"), "in the unit of the answer that is asked"),
    "as_it_is": "in the unit of what it is given",
    **dict.fromkeys(("seconds", "minutes"), "is its unit"),
    **dict.fromkeys(("by", "at"), "in the unit of the name that is given"),
    **dict.fromkeys(("work", "tolerance_of"), "in the family's unit, a field of it"),
    "numbers": "of a problem, each in the unit of its name",
    "convert": "in the unit that is named by its argument",
    "ends": "quotients of two areas or lengths",
    "check": "in the control's unit, a field too",
    **dict.fromkeys(("low", "high", "between"), "in the unit of the quantity that is drawn"),
    "share": "a number from 0 to 1",
    "nearer": "in the slider's unit",
    **dict.fromkeys(("sides", "sides_of"), "of a proof's line, in the step's unit, a field too"),
    "parsed_number": "in the unit named by its argument",
    "numbers_of": "in the unit named by its argument",
    "read_number": "in the unit that stands beside its box or option",
    "number_in_row": "in the unit that its key names",
}
MEASURING = re.compile(
    r"mensura\.(stems|instruments|estimates|checks|draws|sources|places|written)\b"
)

#: Annotations that hold a number. Where stems are measured, Any is a number or an array of them,
#: and int too may be one; further out Any is a picture or a control, and int counts.
NUMERIC = re.compile(r"\b(float|int|Any|FloatArray|ArrayLike|NDArray|ndarray)\b")
NUMERIC_OUTSIDE = re.compile(r"\b(float|FloatArray|ArrayLike|NDArray|ndarray)\b")
#: In these the names, and with them the units, stand in keys or elsewhere.
CONTAINERS = re.compile(r"^(dict|Mapping|MutableMapping|Callable|type)\[")
CITATION = re.compile(r"\[((?:[A-Z][A-Za-z-]*-?[A-Z]?\d{4,6})|[A-Z]{4,})(?:, [^\]]*)?\]")


@cache
def modules():
    """Every module of the package, imported."""
    found = [mensura]
    for info in pkgutil.walk_packages(mensura.__path__, "mensura."):
        if not any(part.startswith("_") for part in info.name.split(".")):
            found.append(importlib.import_module(info.name))
    return found


def public_things():
    """(qualified name, object) of each public class, function, method and property."""
    for module in modules():
        for name, thing in vars(module).items():
            ours = getattr(thing, "__module__", None) == module.__name__
            if name.startswith("_") or not ours:
                continue
            if inspect.isclass(thing):
                yield f"{module.__name__}.{name}", thing
                for member, value in vars(thing).items():
                    value = getattr(value, "__func__", value)
                    callables = (property, cached_property)
                    # what another library calls has that library's names
                    theirs = any(
                        member in vars(base)
                        for base in thing.__mro__[1:]
                        if base.__module__.split(".")[0] not in ("mensura", "builtins")
                    )
                    if (
                        not member.startswith("_")
                        and not theirs
                        and (inspect.isfunction(value) or isinstance(value, callables))
                    ):
                        yield f"{module.__name__}.{name}.{member}", value
            elif inspect.isfunction(inspect.unwrap(thing)) if callable(thing) else False:
                yield f"{module.__name__}.{name}", inspect.unwrap(thing)


def function_of(thing):
    """The function behind a property, or the function itself; None for a class."""
    if isinstance(thing, property):
        return thing.fget
    if isinstance(thing, cached_property):
        return thing.func
    return None if inspect.isclass(thing) else thing


def parameters(thing):
    """(name, annotation) of each parameter of a function or field of a data class."""
    if inspect.isclass(thing):
        if dataclasses.is_dataclass(thing):
            return [(f.name, str(f.type)) for f in dataclasses.fields(thing) if f.name[0] != "_"]
        # a protocol is never made: its members are walked one by one
        if "__init__" not in vars(thing) or getattr(thing, "_is_protocol", False):
            return []
        thing = thing.__init__
    signature = inspect.signature(function_of(thing))
    return [
        (name, str(one.annotation))
        for name, one in signature.parameters.items()
        if name not in ("self", "cls") and not name.startswith("_")
    ]


def lacks_unit(home, name, annotation):
    """Whether a name at home in a module holds a number and neither says nor is spared its unit."""
    inner = bool(MEASURING.match(home))
    if re.search(r"\b(bool_|BoolArray)\b", annotation):
        return False
    if CONTAINERS.match(annotation) or not (NUMERIC if inner else NUMERIC_OUTSIDE).search(
        annotation
    ):
        return False
    spared = WITHOUT_UNIT if inner else WITHOUT_UNIT | WITHOUT_UNIT_OUTSIDE
    return not UNIT.search(name) and name not in spared


def python_files():
    """Every Python file of the package."""
    return sorted(PACKAGE.rglob("*.py"))


def docstrings(path):
    """Every docstring of a file, the module's own among them."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.Module | ast.ClassDef | ast.FunctionDef | ast.AsyncFunctionDef):
            yield ast.get_docstring(node) or ""


def test_the_walk_finds_the_package():
    """The walk sees plain functions, methods, properties and data classes; else all below pass."""
    found = dict(public_things())
    for name in (
        "mensura.checks.number",
        "mensura.stems.ellipse.Ellipse",
        "mensura.stems.ellipse.Ellipse.taut_girth_cm",
        "mensura.stems.bark.RoughBark.points_cm",
        "mensura.stems.bark.furrow_pattern",
        "mensura.instruments.tape.Tape.read",
        "mensura.estimates.comparison.compare",
    ):
        assert name in found
    assert parameters(found["mensura.instruments.lay.Lay"])[:2] == [
        ("tilt_deg", "Any"),
        ("tilt_direction_deg", "Any"),
    ]


def test_everything_public_is_documented():
    """Each module, class, function, method and property has a docstring."""
    bare = [module.__name__ for module in modules() if not (module.__doc__ or "").strip()]
    for name, thing in public_things():
        doc = thing.__doc__ if inspect.isclass(thing) else function_of(thing).__doc__
        generated = inspect.isclass(thing) and (doc or "").startswith(f"{thing.__name__}(")
        if not (doc or "").strip() or generated:
            bare.append(name)
    assert bare == []


def test_every_parameter_is_named_in_its_docstring():
    """A docstring speaks of each parameter, a data class's of each field, by name."""
    missing = [
        f"{name}: {parameter}"
        for name, thing in public_things()
        for parameter, _ in parameters(thing)
        if not re.search(rf"\b{re.escape(parameter)}\b", thing.__doc__ or "")
    ]
    assert missing == []


def test_every_number_says_its_unit():
    """Numeric parameters and fields end in a unit, or are listed above with a reason."""
    unclear = [
        f"{name}: {parameter}"
        for name, thing in public_things()
        if not issubclass(thing if inspect.isclass(thing) else object, Exception)
        for parameter, annotation in parameters(thing)
        if lacks_unit(name, parameter, annotation)
    ]
    assert unclear == []


def test_every_result_says_its_unit():
    """What gives back a number ends in a unit, or is listed above with a reason."""
    unclear = []
    for name, thing in public_things():
        function = function_of(thing)
        if function is None:
            continue
        result = str(inspect.signature(function).return_annotation)
        if lacks_unit(name, name.rpartition(".")[2], result):
            unclear.append(f"{name} -> {result}")
    assert unclear == []


def test_public_functions_are_annotated():
    """The two rules above read annotations, so none may be missing."""
    empty = str(inspect.Parameter.empty)
    bare = [
        f"{name}: {parameter}"
        for name, thing in public_things()
        for parameter, annotation in parameters(thing)
        if annotation == empty
    ]
    bare += [
        name
        for name, thing in public_things()
        if (function := function_of(thing)) is not None
        and inspect.signature(function).return_annotation is inspect.Signature.empty
    ]
    assert bare == []


@pytest.mark.parametrize("name", ["girth", "length", "area_sq", "tilt_degrees", "mean", "cm"])
def test_names_without_a_unit_would_be_found(name):
    """The rule itself: these names would not pass, neither for a stem nor in a picture."""
    assert lacks_unit("mensura.stems.ellipse.Ellipse", name, "Any")
    assert lacks_unit("mensura.views.figure", name, "float | None")
    assert not lacks_unit("mensura.stems.ellipse.Ellipse", f"{name}_cm", "Any")


def test_public_names_are_all_there():
    """Each name that mensura promises loads from its home, and is documented by it."""
    assert sorted(mensura.__all__) == sorted(set(mensura.__all__))
    for name in mensura.__all__:
        assert getattr(mensura, name) is not None
    rooms = [importlib.import_module(f"mensura.{room}").__all__ for room in mensura._ROOMS]
    of_rooms = [name for room in rooms for name in room]
    assert len(of_rooms) == len(set(of_rooms))  # no room hides a name of another
    assert set(mensura.__all__) == {*of_rooms, *mensura._SINGLE, "__version__"}
    assert dir(mensura) == mensura.__all__
    with pytest.raises(AttributeError, match=r"mensura.*nothing_like_it"):
        _ = mensura.nothing_like_it


def test_cited_sources_exist():
    """Each key in brackets in a docstring stands in the bibliography."""
    files = [*python_files(), *sorted((ROOT / "tests").rglob("*.py"))]
    cited = {
        (path.name, match)
        for path in files
        for doc in docstrings(path)
        for match in CITATION.findall(doc)
    }
    assert {key for _, key in cited} >= {"AS1964", "SREF", "OEIS-A060708"}
    assert {(file, key) for file, key in cited if key not in SOURCES} == set()


def test_every_source_is_cited():
    """No entry of the bibliography without a place that leans on it."""
    texts = [path.read_text("utf-8") for path in python_files() if path.name != "sources.py"]
    for folder, ending in (("tests", "py"), ("tests", "md"), ("workbooks", "ipynb")):
        texts += [
            path.read_text("utf-8")
            for path in sorted((ROOT / folder).rglob(f"*.{ending}"))
            if path != Path(__file__).resolve()
        ]
    everything = "\n".join(texts)
    assert [k for k in SOURCES if not re.search(rf"\[{re.escape(k)}[\],]", everything)] == []


@pytest.mark.parametrize("layer", ["stems", "instruments", "estimates"])
def test_every_formula_is_listed_with_its_check(layer):
    """The table of outside checks names each public formula of the three measuring layers."""
    table = (ROOT / "tests" / "outside" / "README.md").read_text("utf-8")
    chapter = table.split(f"## {layer}\n")[1].split("\n## ")[0]
    names = importlib.import_module(f"mensura.{layer}").__all__
    assert [name for name in names if f"`{name}`" not in chapter] == []


def test_listed_test_files_exist():
    """The table names no test file that is not there."""
    table = (ROOT / "tests" / "outside" / "README.md").read_text("utf-8")
    named = set(re.findall(r"`((?:tests/\w+/)?test_\w+\.py)`", table))
    assert len(named) > 8
    for name in named:
        assert (ROOT / (name if "/" in name else f"tests/outside/{name}")).is_file()


def test_sources_are_in_order_and_whole():
    """Keys are sorted, each part of a reference is there, and an unknown key is refused."""
    assert list(SOURCES) == sorted(SOURCES, key=str.lower)
    for key, source in SOURCES.items():
        parts = dataclasses.asdict(source)
        assert list(parts) == ["author", "year", "title", "place", "known"]
        for name, part in parts.items():
            assert len(part) > 3, (key, name)
            assert part == part.strip(), (key, name)
            assert not part.endswith((". ", ",", ":")), (key, name)
        assert re.match(r"1[5-9]\d\d|20\d\d|year not known to us$", source.year), key
        typed = re.search(r"\d{4}$", key)
        assert not typed or typed[0] in source.year + source.place or key.startswith("OEIS"), key
        assert re.search(r"\b(?:[Rr]ead|memory|scans|named|quoted)\b", source.known), key
        assert cite(key) == str(source)
        assert ".." not in cite(key), key
    with pytest.raises(KeyError):
        cite("Nobody1900")


def test_a_source_without_a_part_is_refused():
    """Author, year, title, place and how it is known: none can be left out."""
    with pytest.raises(TypeError, match="place"):
        Source(author="A. Nobody", year="1900", title="Nothing", known="Read")


def test_import_is_light():
    """`import mensura` loads no heavy library, and neither do its names until they are used."""
    code = (
        "import sys, mensura; mensura.__all__; "
        "print(*{'sympy', 'pandas', 'shapely', 'matplotlib', 'ipywidgets', 'scipy.stats'}"
        " & set(sys.modules))"
    )
    loaded = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True
    )
    assert loaded.stdout.strip() == ""


def test_the_root_is_tidy():
    """The top of the repository holds what a visitor looks for, and nothing else."""
    if not (ROOT / ".git").exists():
        pytest.skip("not a git checkout")
    listed = subprocess.run(
        ["git", "ls-files"], cwd=ROOT, capture_output=True, text=True, check=True
    )
    top = {line.split("/")[0] for line in listed.stdout.splitlines()}
    assert {name for name in top if not name.startswith(".")} == {
        "DEVELOPERS.md",
        "README.md",
        "data",
        "mensura",
        "pyproject.toml",
        "tests",
        "workbooks",
    }


#: What holds a sentence for people, and what takes a text apart or looks for words in it.
SENTENCES = {"message", "says", "sentence", "format_message", "why", "because"}
TAKES_APART = {
    *("startswith", "endswith", "removeprefix", "removesuffix", "partition", "rpartition"),
    *("split", "rsplit", "find", "rfind", "index", "rindex", "count", "replace", "translate"),
    *("lower", "upper", "casefold"),
}
PATTERNS = {"search", "match", "fullmatch", "sub", "subn", "split", "findall", "finditer"}


#: Where it is done still: click says what was left over in words alone; lines of a proof.
READ_BACK_STILL = {"cli/__init__.py", "teaching/proof/chain.py", "teaching/proof/steps.py"}


def sentences_read_back(tree):
    """Lines where a program takes a sentence for people apart, or looks for words in it.

    A sentence is str() of a caught error, an attribute or call named in SENTENCES, or a name that
    was given one of them in the same function.
    """
    for function in ast.walk(tree):
        if not isinstance(function, ast.FunctionDef | ast.AsyncFunctionDef):
            continue
        nodes = list(ast.walk(function))
        errors = {node.name for node in nodes if isinstance(node, ast.ExceptHandler)}
        named = set()

        def told(node, errors=errors, named=named):
            if isinstance(node, ast.Name):
                return node.id in named
            if isinstance(node, ast.Attribute):
                return node.attr in SENTENCES and isinstance(node.ctx, ast.Load)
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Name):
                of = [one.id for one in node.args if isinstance(one, ast.Name)]
                return node.func.id == "str" and bool(errors & set(of))
            return isinstance(node, ast.Call) and told(node.func)

        for node in nodes:
            if isinstance(node, ast.Assign) and told(node.value):
                named |= {one.id for one in node.targets if isinstance(one, ast.Name)}
        for node in nodes:
            if isinstance(node, ast.Call) and isinstance(node.func, ast.Attribute):
                of = node.func.value
                pattern = node.func.attr in PATTERNS and any(map(told, node.args))
                if (node.func.attr in TAKES_APART and told(of)) or pattern:
                    yield node.lineno
            elif isinstance(node, ast.Compare) and isinstance(node.ops[0], ast.In | ast.NotIn):
                if told(node.comparators[0]):
                    yield node.lineno
            elif isinstance(node, ast.Subscript) and told(node.value):
                yield node.lineno


def test_no_code_reads_back_what_people_are_told():
    """What a program wants to know of an error or a reply is a field of it, not its English."""
    found = [
        f"{path.relative_to(PACKAGE)}:{line}"
        for path in python_files()
        if path.relative_to(PACKAGE).as_posix() not in READ_BACK_STILL
        for line in sentences_read_back(ast.parse(path.read_text("utf-8")))
    ]
    assert found == []


@pytest.mark.parametrize(
    "line",
    [
        'error.message.startswith("the file ")',
        'str(error).partition(" ")',
        're.sub(r"point (\\d+)", "row", error.message)',
        '"cite" in verdict.why',
        'told = str(error); told.split(". ")',
        "said.message[0]",
        'error.sentence("--axes").lower()',
    ],
)
def test_a_sentence_read_back_would_be_found(line):
    """The rule itself, on lines of each kind; saying a sentence on is no fault."""
    body = "def f():\n    try: g()\n    except ValueError as error:\n        "
    assert list(sentences_read_back(ast.parse(body + line))) == [4]
    assert not list(sentences_read_back(ast.parse(body + 'say(f"Well: {error.message}")')))
    assert not list(sentences_read_back(ast.parse(body + "say(str(error), name.split())")))
