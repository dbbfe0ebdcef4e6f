"""The command `mensura stand`: from trees on plots to basal area, stems and volume a hectare."""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

import click

from mensura.cli.errors_option import Told, errors_told, with_errors
from mensura.cli.options import called
from mensura.cli.printing import print_json, told_file
from mensura.cli.progress import Progress
from mensura.cli.refusals import Refusing
from mensura.cli.types import NumberType, WholeType

if TYPE_CHECKING:
    from collections.abc import Sequence

    from mensura.checks import FloatArray
    from mensura.disk.stand_file import StandFile
    from mensura.estimates.card_correction import CardCorrection
    from mensura.estimates.class_correction import ClassCorrection
    from mensura.estimates.input_errors import InputError
    from mensura.estimates.stand_budget import StandBudget
    from mensura.estimates.tree_volume import VolumeRule

NAMES = {"share": "--form-factor", "draws": "--draws"}


@click.command(name="stand", cls=Refusing)
@click.argument("trees", metavar="TREES.csv")
@click.option("--plots", metavar="PLOTS.csv", required=True, help="The plots, those without trees "
              "as well: plot,area_m2 or plot,factor_m2_per_ha, and slope_deg.")  # fmt: skip
@click.option("--form-factor", type=NumberType(""), metavar="F",
              help="Volume over the cylinder's, 0.45 if no rule is given.")  # fmt: skip
@click.option("--equation", metavar="FILE.csv", help="Volume in m³ as a sum of powers of d in cm "
              "and h in m, with the columns coefficient,diameter_power,height_power.")  # fmt: skip
@click.option("--taper", metavar="FILE.csv", help="Volume by a drawn stem, scaled to be as thick "
              "at 1.3 m as the tree, with the columns height_share,diameter_share.")  # fmt: skip
@with_errors
@click.option("--draws", type=WholeType(0, 100_000), default=0, metavar="N",
              help="Check the budget by so many draws of the whole stand, like 10000.")  # fmt: skip
@click.option("--json", "as_json", is_flag=True, help="Print JSON, its keys carrying the units.")
def stand_command(
    trees: str,
    plots: str,
    form_factor: float | None,
    equation: str | None,
    taper: str | None,
    draws: int,
    as_json: bool,
    **errors: Any,
) -> None:
    """Basal area, stems and volume a hectare from the trees of plots, with standard errors.

    Columns of TREES.csv: plot,tree,diameter_cm (or girth_cm),height_m, and species where you have
    it; times, 2 for a tree that counts again from a plot mirrored at the stand's edge.

    Plots have an area on the map, or were angle counts with the gauge's factor in m² a hectare.
    Where slope_deg is given, a plot was laid out along the ground. A plot without trees counts as
    zero. Intervals are 95 %, by Student on plots - 1.

    --equation and --taper may have a column species: rows without one are for all others.

    --card: the readings are corrected by the instrument's card, and the hectare is told as read and
    corrected. By several cards nothing is corrected.

    --practical with --hand and --instrument: what the practical found that hand and that instrument
    off is taken off the readings, and the hectare is told as read and corrected.

    What follows is the budget of the volume: how much of its variance each input brings, and what
    to do better first.
    """
    from dataclasses import replace

    from mensura.cli.stand_report import stand_answer, stand_lines
    from mensura.disk.stand_file import read_stand
    from mensura.estimates.stand import stand
    from mensura.estimates.stand_words import stand_notes, stand_slips

    with called(NAMES):
        rules = _rules(form_factor, equation, taper)
    read = found = read_stand(trees, plots)
    told = _told(found, errors)
    as_read = None
    if told.corrections:
        as_read = stand(found.trees(_volumes(found, rules)), found.plots)
        found, said = _corrected(found, told.corrections)
        told = replace(told, said=(*told.said, *said))
    volumes = _volumes(found, rules)
    counted = found.trees(volumes)
    result = stand(counted, found.plots)
    low = [] if taper is None else found.low_notes()
    # a slip is one of what was typed
    slips = [*read.odd_notes(), *stand_slips(result, counted)]
    notes = [*low, *stand_notes(result, found.plots)]
    words = _words(rules, form_factor is None and equation is None and taper is None)
    budget = _budget(found, volumes, rules, told.errors, draws)
    if as_json:
        inputs: dict[str, Any] = {"trees": told_file(trees), "plots": told_file(plots)}
        inputs["form_factor"] = form_factor
        for name, file in (("equation", equation), ("taper", taper)):
            inputs[name] = None if file is None else told_file(file)
        inputs = {**inputs, **told.inputs, "draws": draws}
        print_json(stand_answer(result, words, slips, notes, budget, told, as_read), inputs)
    else:
        lines = stand_lines(result, found, words, slips, notes, budget, told, as_read)
        click.echo("\n".join(lines))


def _told(found: StandFile, errors: dict[str, Any]) -> Told:
    """The errors of the inputs, for trees as thick as those that count most."""
    import numpy as np

    kind = "girth" if found.from_girths else "diameter"
    thick = found.diameter_cm
    middle = float(np.sqrt(np.square(thick).mean())) if thick.size else 30.0
    return errors_told(**errors, kind=kind, diameter_cm=middle)


def _corrected(
    found: StandFile, corrections: Sequence[CardCorrection | ClassCorrection]
) -> tuple[StandFile, list[str]]:
    """The trees without what is known to be too much in their readings, and what to say of it."""
    from dataclasses import replace

    import numpy as np

    from mensura.cli.brought_back import brought_back_cm

    around, what = (np.pi, "girth") if found.from_girths else (1.0, "diameter")
    read = found.diameter_cm * around
    left, said = brought_back_cm(read, found.rows, found.trees_name, what, corrections)
    return replace(found, diameter_cm=left / around), said


def _budget(
    found: StandFile,
    volumes: FloatArray,
    rules: dict[str, VolumeRule],
    errors: tuple[InputError, ...],
    draws: int,
) -> StandBudget | None:
    """The budget of the volume a hectare; none where there is no volume."""
    from mensura.estimates.stand_budget import stand_budget
    from mensura.estimates.stand_budget_draws import drawn_stand_budget
    from mensura.estimates.stand_chain import Chain
    from mensura.estimates.tree_volume import rule_of_trees

    if not volumes.sum() > 0:
        return None
    chain = Chain(
        found.trees(volumes), found.plots, rule_of_trees(rules, found.species),
        girth=found.from_girths,
    )  # fmt: skip
    if not draws:
        return stand_budget(chain, errors)
    with called(NAMES):
        return drawn_stand_budget(chain, errors, draws, told=Progress().part("Drawing"))


def _rules(
    form_factor: float | None, equation: str | None, taper: str | None
) -> dict[str, VolumeRule]:
    """The one rule that was asked for, by species."""
    from mensura.disk.volume_file import read_equations, read_tapers
    from mensura.estimates.tree_volume import FormFactor

    asked = {"--form-factor": form_factor, "--equation": equation, "--taper": taper}
    given = [name for name, value in asked.items() if value is not None]
    if len(given) > 1:
        told = f"{given[1]} is given beside {given[0]}; expected one rule for the volume."
        raise click.UsageError(told)
    if equation is not None:
        return dict(read_equations(equation))
    if taper is not None:
        return dict(read_tapers(taper))
    return {"": FormFactor() if form_factor is None else FormFactor(form_factor)}


def _words(rules: dict[str, VolumeRule], unasked: bool) -> str:
    """How the volume was found, as it is printed."""
    told = [f"{name}: {rule.words}" if name else rule.words for name, rule in rules.items()]
    tail = ", invented, for want of one of yours (--form-factor)" if unasked else ""
    return "; ".join(told) + tail


def _volumes(found: StandFile, rules: dict[str, VolumeRule]) -> FloatArray:
    """Of each tree; its refusals with the rows of the file."""
    import numpy as np

    from mensura.checks import MeasureError
    from mensura.disk.check_file import FileError
    from mensura.disk.stand_file import StandError
    from mensura.estimates.tree_volume import volumes_m3

    try:
        return volumes_m3(rules, found.species, found.diameter_cm, found.height_m)
    except MeasureError:
        problems = []
        for at, row in enumerate(found.rows):
            one = slice(at, at + 1)
            try:
                volumes_m3(rules, found.species[one], found.diameter_cm[one], found.height_m[one])
            except MeasureError as error:
                if error.field == "species":
                    where, wrong = ", column species", f"is {error.value or 'empty'}"
                    wanted = f"a species that has a rule for its volume: {', '.join(rules)}"
                elif error.field == "height_m":
                    where = ", column height_m"
                    wrong = (
                        f"is {found.height_m[at]:g} m, where the taper has no thickness at 1.3 m"
                    )
                    wanted = "trees above 1.3 m, and a taper that is thick there"
                else:
                    where = ""
                    low = float(np.ravel(error.value)[0])  # type: ignore[call-overload]
                    wrong = f"has a volume of {low:.3g} m³ by the equation"
                    wanted = "an equation that is not below 0 for any tree"
                problems.append(FileError(found.trees_name, f"row {row}{where}", wrong, wanted))
        raise StandError(problems) from None
