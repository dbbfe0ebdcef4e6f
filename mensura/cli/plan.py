"""The command `mensura plan`: what a lesson can be made of, a plan to start from, and its check."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from pathlib import Path
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import ChoiceError, MeasureError, shown
from mensura.cli.refusals import Refusing

if TYPE_CHECKING:
    from mensura.disk.sections import Section
    from mensura.teaching.lessons.plan import Plan


def _file(words: Sequence[str], values: dict[str, Any]) -> str:
    """A name with a blank in it is one word only in quotation marks."""
    return f'"{" ".join([values["file"] or "", *words]).strip()}" as one word'


@click.command(name="plan", cls=Refusing, stray=_file)
@click.argument("file", metavar="[FILE]", required=False)
@click.option("--workbook", metavar="NN", help="List one workbook's sections only, as in 02.")
@click.option("--kind", metavar="K", help="List one kind only: text, picture, panel, question …")
@click.option("--new", metavar="FILE", help="Write a plan to start from, as in oval-stems.toml.")
@click.option("--like", metavar="PLAN", help="With --new: start from tapes-or-calipers or faults.")
def plan_command(
    file: str | None, workbook: str | None, kind: str | None, new: str | None, like: str | None
) -> None:
    """Check the plan in FILE and say how long it takes; without FILE, list what a plan can name.

    A plan is a short TOML file: a lesson's steps, each with its minutes. Start one with --new.
    """
    lists = workbook is not None or kind is not None
    if sum((file is not None, lists, new is not None)) > 1:
        told = "FILE" if file is not None else "--workbook" if workbook is not None else "--kind"
        also = "--new" if new is not None else "--workbook or --kind"
        raise click.UsageError(f"{told} stands beside {also}; expected one of them.")
    if like is not None and new is None:
        raise click.UsageError("--like is for a new plan; expected --new FILE with it.")
    if new is not None:
        _start(new, like)
    elif file is not None:
        _check(file)
    else:
        _list(_number(workbook), _kind(kind))


# ---- a new plan --------------------------------------------------------------------------------


def _start(new: str, like: str | None) -> None:
    from mensura.disk.plan_start import start_plan
    from mensura.places import plan_names

    if like is not None and like not in plan_names():
        raise click.UsageError(ChoiceError("--like", like, plan_names()).sentence("--like"))
    if not new.strip():
        raise click.UsageError("--new is empty; expected a file's name, like oval-stems.toml.")
    if Path(new).suffix.casefold() != ".toml":
        rest = "expected a name that ends in .toml."
        if new.isprintable() and not set(new) & set("\"'?;") and Path(new).name:
            rest = f"did you mean {new.rstrip('.')}.toml?"
        raise click.UsageError(f"--new is {shown(new)}; {rest}")
    try:
        start_plan(new, like or "")
    except MeasureError as error:
        raise click.UsageError(f"--new: {error.sentence('--new')}") from None
    name = new if new.isprintable() else ascii(new)
    word = f'"{name}"' if " " in name else name
    click.echo(f"Written: {name}. Open it in any editor; each step says what it is for.")
    click.echo(f"mensura plan {word} checks it, mensura present {word} gives the lesson.")


# ---- how long a plan takes ---------------------------------------------------------------------


def _check(file: str) -> None:
    from mensura.disk.sections import title_of
    from mensura.views.lessons.check import checked_plan

    if not file.strip():
        raise click.UsageError("FILE is empty; expected the name of a plan, like lesson.toml.")
    try:
        plan = checked_plan(file)
    except MeasureError as error:
        raise click.UsageError(str(error)) from None
    click.echo(f"{plan.title}\n")
    rows = [("step", "minutes", "until", "", "shows")]
    until = 0.0
    for place, one in enumerate(plan.steps, 1):
        until += one.minutes
        spare = "spare" if one.spare else ""
        rows.append((f"{place}", f"{one.minutes:g}", f"{until:g}", spare, title_of(one)))
    wide = [max(len(row[column]) for row in rows) for column in range(4)]
    for step, minutes, end, spare, title in rows:
        left = f"{step:>{wide[0]}}  {minutes:>{wide[1]}}  {end:>{wide[2]}}"
        left += f"  {spare:<{wide[3]}}" if wide[3] else ""
        click.echo(f"  {left}  {_printable(title)}")
    click.echo("\n" + "\n".join(_sums(plan)))


def _sums(plan: Plan) -> Iterator[str]:
    """How long it takes, and what may be left out."""
    count = "1 step takes" if len(plan.steps) == 1 else f"{len(plan.steps)} steps take"
    over = round(plan.takes_min - plan.minutes, 6)
    fits = (
        "just right" if not over else f"{abs(over):g} too many" if over > 0 else f"{-over:g} left"
    )
    yield f"{count} {plan.takes_min:g} of {plan.minutes:g} minutes: {fits}."
    spare = [f"{place}" for place, one in enumerate(plan.steps, 1) if one.spare]
    if spare:
        word = "step" if len(spare) == 1 else "steps"
        listed = " and ".join([", ".join(spare[:-1]), spare[-1]] if spare[1:] else spare)
        without = f"{plan.spare_min:g} minutes; then it takes {plan.takes_min - plan.spare_min:g}"
        yield f"May be left out: {word} {listed}, {without}."
    else:
        yield "Nothing may be left out: no step is marked spare = true."


# ---- what a plan can name ----------------------------------------------------------------------


def _number(workbook: str | None) -> str | None:
    """The workbook that was meant: 2 is 02."""
    from mensura.teaching.lessons.chapters import CHAPTERS

    known = [one.number for one in CHAPTERS]
    if workbook is None or workbook in known:
        return workbook
    if workbook.isdecimal() and workbook.isascii() and workbook.zfill(2) in known:
        return workbook.zfill(2)
    raise click.UsageError(
        MeasureError("--workbook", workbook, "", _of(known)).sentence("--workbook")
    )


def _of(words: Sequence[str]) -> str:
    return "one of: " + ", ".join(words)


def _kind(kind: str | None) -> str | None:
    """The kind that was meant: of proof step, proof-step and "proof steps"."""
    from mensura.disk.sections import KINDS

    if kind is None or kind in KINDS:
        return kind
    one = kind.casefold().removesuffix("s").replace("-", " ")
    if one in KINDS:
        return one
    words = [each.replace(" ", "-") for each in KINDS]
    raise click.UsageError(ChoiceError("--kind", kind, words).sentence("--kind"))


def _list(workbook: str | None, kind: str | None) -> None:
    from mensura.disk.sections import KINDS, sections
    from mensura.teaching.lessons.chapters import CHAPTERS

    chosen = [one for one in CHAPTERS if workbook in (None, one.number)]
    found = {
        one: [each for each in sections(one.number) if kind in (None, each.kind)] for one in chosen
    }
    if not any(found.values()):
        raise click.UsageError(
            f"--kind {kind} is not in workbook {workbook}; expected another kind."
        )
    width = max(len(one.name) for those in found.values() for one in those)
    for chapter, those in found.items():
        if not those:
            continue
        click.echo(chapter.heading)
        for each in KINDS:
            of_kind = [one for one in those if one.kind == each]
            if of_kind:
                click.echo(f"  {each}")
            for one in of_kind:
                click.echo(f"    {one.name.ljust(width)}  {_told(one)}")
                for line in _controls(one):
                    click.echo(f"      {line}")
        click.echo("")
    first, last = _example(found)
    click.echo(f'In a plan: workbook = "{first}" and section = "{last}".')


def _example(found: dict[Any, list[Section]]) -> tuple[str, str]:
    told = [one for those in found.values() for one in those]
    one = next((each for each in told if each.kind == "panel"), told[0])
    return one.workbook, one.name


def _told(one: Section) -> str:
    """What a section is, on one line: of a proof's step, the line itself."""
    if one.kind != "proof step":
        return one.title
    from mensura.teaching.proof.roads import road

    return road(one.thing).steps[one.step - 1].line


def _controls(one: Section) -> list[str]:
    """A panel's controls, one a line: name, label, what each may be."""
    if one.kind not in ("panel", "proof"):
        return []
    from mensura.views.lessons.check import controls_of, reach

    movers = controls_of(one)
    width = max(len(name) for name in movers)
    return [f"{name.ljust(width)}  {each.label}: {reach(each)}" for name, each in movers.items()]


def _printable(text: str) -> str:
    return text if text.isprintable() else ascii(text)[1:-1]
