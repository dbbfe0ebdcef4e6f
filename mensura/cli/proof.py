"""The command `mensura proof`: a road with its reasons, verified if asked; or a line judged."""

from __future__ import annotations

import re
from collections.abc import Sequence
from typing import Any

import click

from mensura.checks import ChoiceError, MeasureError, alike
from mensura.cli.printing import print_json
from mensura.cli.refusals import Refusing


def _road(words: Sequence[str], _: dict[str, Any]) -> str:
    """A word that stands alone is most often the name of a road; a line, the one to be judged."""
    from mensura.teaching.proof import ROADS

    text = " ".join(words)
    if near := alike(text, ROADS):
        return " or ".join(f"--road {one}" for one in near)
    return f"--line '{text}'" if re.search("[<>=≥≤≠]", text) else ""


@click.command(name="proof", cls=Refusing, stray=_road)
@click.option("--road", metavar="NAME", help="classroom, ellipse, outline or calipers.")
@click.option("--verify", is_flag=True, help="Prove every step again, and say what was verified.")
@click.option("--after", metavar="LINE", help="The line before: 'a^2 + b^2 > 2ab'.")
@click.option("--line", metavar="LINE", help="The line to be judged: '(a - b)^2 > 0'.")
@click.option("--assume", metavar="WORDS", multiple=True, help="Said before: 'a > b' or 'a != b'.")
@click.option("--json", "as_json", is_flag=True, help="Print the verdict as JSON.")
def proof_command(
    road: str | None,
    verify: bool,
    after: str | None,
    line: str | None,
    assume: tuple[str, ...],
    as_json: bool,
) -> int:
    """Print a proof that the tape overestimates the area, or judge a line of your own.

    Without options the classroom's road is printed. With --after and --line the line is judged as
    the next one. The exit code is 0 where it stands (equivalent, weaker, stronger), 1 where it does
    not (leap, unrelated, false), 2 where it cannot be read or is too involved to be decided.
    """
    if line is None and after is None:
        for given, option in ((assume, "--assume"), (as_json, "--json")):
            if given:
                raise click.UsageError(f"{option} needs a line; expected --after and --line too.")
        return _tell("classroom" if road is None else road, verify, named=road is not None)
    for given, option in ((road is not None, "--road"), (verify, "--verify")):
        if given:
            raise click.UsageError(f"{option} is of no use beside a line; expected it alone.")
    if line is None or after is None:
        missing, there = ("--line", "--after") if line is None else ("--after", "--line")
        raise click.UsageError(f"{missing} is missing; expected a line beside {there}.")
    return _judge(line, after, assume, as_json)


def _tell(name: str, verify: bool, named: bool) -> int:
    """Prints a road; 1 if a step of it could not be verified."""
    from mensura.teaching.proof import ROADS, ProofError, road
    from mensura.views.proof.words import road_lines

    if name not in ROADS:
        raise ChoiceError("--road", name, ROADS)
    told = road(name)
    verified = None
    if verify:
        try:
            verified = told.verify()
        except ProofError as error:
            click.echo(f"Not verified. {error}")
            return 1
    lines = road_lines(told, verified)
    if not named:
        others = ", ".join(one for one in ROADS if one != name)
        lines += ["", f"Other roads, by --road: {others}."]
    if verified is not None:
        lines += ["", f"all {len(told.steps)} steps verified"]
    click.echo("\n".join(lines))
    return 0


def _judge(line: str, after: str, assume: tuple[str, ...], as_json: bool) -> int:
    """Prints the verdict on a line; 0 if it stands, 1 if it does not, 2 if it cannot be read."""
    from mensura.teaching.proof.judge import judge
    from mensura.teaching.proof.verdict import UNREADABLE

    try:
        found: Any = judge(line, after, assume)
    except MeasureError as error:
        named = f"--{error.field}" if error.field == "assume" else error.field
        raise click.UsageError(error.sentence(named)) from None
    code = 0 if found.stands else 2 if found.verdict == UNREADABLE else 1
    if as_json:
        words = ("verdict", "why", "counterexample")
        inputs = {"after": after, "line": line, "assume": list(assume)}
        print_json({word: getattr(found, word) for word in words}, inputs)
        return code
    click.echo(f"{found.verdict}: {found.why}")
    if found.remark:
        click.echo(found.remark)
    if found.counterexample:
        numbers = ", ".join(f"{name} = {value:g}" for name, value in found.counterexample.items())
        click.echo(f"Counterexample: {numbers}.")
    return code
