"""The commands `mensura problems`, `problem` and `answer`: the bank, one problem, and its reply."""

from __future__ import annotations

from collections.abc import Callable
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import MeasureError
from mensura.cli.printing import print_json
from mensura.cli.refusals import Refusing
from mensura.cli.types import parsed_whole

if TYPE_CHECKING:
    from mensura.teaching.problems.draw import Problem
    from mensura.teaching.problems.standing import Attempt

#: Fields of the bank, in these commands' words.
_CALLED = {
    "family": "FAMILY", "topic": "--topic", "student": "--student", "key": "--key",
    "set": "--set", "try": "--try", "edition": "--edition",
}  # fmt: skip


def _numbers_from(command: Callable[..., Any]) -> Callable[..., Any]:
    """Gives a command the options that a problem's numbers come from."""
    for name, metavar, start, words in (
        ("--edition", "N", None, "As edition N of the family gave them out, as on a paper."),
        ("--try", "N", "1", "1 for the first numbers, 2 for the next."),
        ("--set", "S", "1", "Which set of problems."),
        ("--key", "K", None, "The class's key: other keys, other numbers."),
        ("--student", "CODE", None, "Whose numbers: a code like Q07."),
    ):
        target = {"--try": "try_number", "--set": "set_name"}.get(name, name[2:])
        command = click.option(name, target, metavar=metavar, default=start, help=words)(command)
    return click.argument("family", metavar="FAMILY")(command)


@click.command(name="problems", cls=Refusing)
@click.option("--topic", metavar="T", help="Only those of one topic.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON: family, topic, title of each.")
def problems_command(topic: str | None, as_json: bool) -> None:
    """List the families of problems: each is one method, with numbers for every student."""
    from mensura.teaching.problems.bank import families
    from mensura.teaching.problems.family import TOPICS

    found = _refusing(lambda: families(topic))
    if as_json:
        rows = [{"family": one.key, "topic": one.topic, "title": one.title} for one in found]
        print_json({"families": rows}, {"topic": topic})
        return
    width = max(len(one.key) for one in found)
    for name, words in TOPICS.items():
        of_topic = [one for one in found if one.topic == name]
        if of_topic:
            click.echo(f"{name}: {words}")
            for one in of_topic:
                click.echo(f"  {one.key.ljust(width)}  {one.title}")


@click.command(name="problem", cls=Refusing)
@_numbers_from
@click.option("--solution", is_flag=True, help="Answer, slips and worked solution as well.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def problem_command(
    family: str,
    student: str | None,
    key: str | None,
    set_name: str,
    try_number: str,
    edition: str | None,
    solution: bool,
    as_json: bool,
) -> None:
    """Print one problem of FAMILY with a student's own numbers, the same for ever.

    What the progress in the current folder holds was given out, and is shown as it was.
    """
    found = _problem(family, student, key, set_name, try_number, edition)
    if as_json:
        print_json(found.to_dict(solution), {**_inputs(found), "solution": solution})
        return
    click.echo(found.text)
    if solution:
        click.echo(f"\nSolution: {found.solution}\n\nSlips:")
        width = max(len(slip.name) for slip in found.slips)
        for slip in found.slips:
            number = f"{slip.value:.6g} {found.family.unit}".strip()
            click.echo(f"  {slip.name.ljust(width)}  {number}: {slip.says}")


@click.command(name="answer", cls=Refusing, context_settings={"ignore_unknown_options": True})
@_numbers_from
@click.argument("text", metavar="TEXT")
@click.option("--json", "as_json", is_flag=True, help="Print JSON: right, slip, message.")
def answer_command(
    family: str,
    student: str | None,
    key: str | None,
    set_name: str,
    try_number: str,
    edition: str | None,
    text: str,
    as_json: bool,
) -> int:
    """Reply to an answer, TEXT as a person writes it: 0.785, 0,785, "7854 cm²", "31 1/2 in".

    Numbers that the progress in the current folder holds were given out, and are used as they were.
    Exit code 0: right, 1: wrong, 2: it could not be read.
    """
    from mensura.teaching.answers.reply import reply

    found = _problem(family, student, key, set_name, try_number, edition)
    said = reply(found, text)
    if as_json:
        told = {"right": said.right, "slip": said.slip, "message": said.message}
        print_json(told, {**_inputs(found), "text": text})
    else:
        click.echo(f"{said.slip}: {said.message}" if said.slip else said.message)
    return 0 if said.right else 1 if said.readable else 2


def _inputs(found: Problem) -> dict[str, Any]:
    """What the problem's numbers come from."""
    return {
        "family": found.family.key,
        "student": found.student,
        "key": found.key,
        "set": found.set_name,
        "try": found.try_number,
        "edition": found.edition,
    }


def _problem(
    family: str,
    student: str | None,
    key: str | None,
    set_name: str,
    try_number: str,
    edition: str | None,
) -> Problem:
    from mensura.teaching.problems import bank
    from mensura.teaching.problems.codes import ask_back
    from mensura.teaching.problems.draw import MOST_TRIES
    from mensura.teaching.problems.family import MOST_EDITIONS
    from mensura.teaching.problems.standing import given_out

    for option, value in (("--student", student), ("--key", key)):
        if value is None:
            example = "Q07" if option == "--student" else "alder"
            raise click.UsageError(f"{option} is missing; expected it, as in {option} {example}.")
    number = _count(try_number, "try", MOST_TRIES)
    one = _refusing(lambda: bank.family(family))
    if edition is not None:
        state = _count(edition, "edition", MOST_EDITIONS)
        found: Problem = _refusing(
            lambda: bank.problem(one.key, str(student), str(key), set_name, number, state)
        )
        return found
    log = _log()

    def work() -> Problem:
        made = given_out(log, one, str(student), str(key), set_name, number)
        ask_back("student", made.student, (attempt.student for attempt in log))
        ask_back("key", made.key, (attempt.key for attempt in log))
        return made

    found = _refusing(work)
    return found


def _count(text: str, field: str, most: int) -> int:
    """A whole number from 1 on, as it was typed behind an option."""
    number: int = _refusing(lambda: parsed_whole(_CALLED[field], text, at_least=1, at_most=most))
    return number


def _log() -> tuple[Attempt, ...]:
    """The attempts in the current folder; what cannot be read is told, and passed over."""
    from mensura.disk.progress_file import ProgressError, ProgressFile

    try:
        return ProgressFile().read().attempts
    except ProgressError as error:
        click.echo(f"{error} Numbers are drawn anew.", err=True)
        return ()


def _refusing(work: Callable[[], Any]) -> Any:
    """Does it, and calls what is refused by the command's own words."""
    try:
        return work()
    except MeasureError as error:
        raise click.UsageError(error.sentence(_CALLED.get(error.field, error.field))) from None
