"""The commands `mensura problems`, `problem` and `answer`: the bank, one problem, and its reply."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from typing import TYPE_CHECKING, Any

import click

from mensura.checks import MeasureError, shown
from mensura.cli.printing import print_json
from mensura.cli.refusals import Refusing
from mensura.cli.types import parsed_whole

if TYPE_CHECKING:
    from mensura.teaching.problems.draw import Problem
    from mensura.teaching.problems.family import Family
    from mensura.teaching.problems.standing import Attempt

#: Fields of the bank, in these commands' words.
_CALLED = {
    "family": "FAMILY", "topic": "--topic", "student": "--student", "key": "--key",
    "set": "--set", "try": "--try", "edition": "--edition",
}  # fmt: skip

#: What a command needs, as it may be typed.
_LIKE = {
    "FAMILY": "girth-to-area", "TEXT": '"0,194 m2"', "--student": "--student Q07",
    "--key": "--key alder",
}  # fmt: skip


def _numbers_from(command: Callable[..., Any]) -> Callable[..., Any]:
    """Gives a command the options that a problem's numbers come from."""
    for name, metavar, start, words in (
        ("--edition", "N", None, "As edition N of the family gave them out, as on a paper."),
        ("--try", "N", "1", "1 for the first numbers, 2 for the next."),
        ("--set", "S", "1", "Which set of problems."),
        ("--key", "K", None, "The class's key: other keys, other numbers."),
        ("--student", "CODE", None, "Whose numbers: a code like Q07; this folder's if none."),
    ):
        target = {"--try": "try_number", "--set": "set_name"}.get(name, name[2:])
        command = click.option(name, target, metavar=metavar, default=start, help=words)(command)
    return command


def _topic(words: Sequence[str], _: dict[str, Any]) -> str:
    """A word that stands alone is most often a topic."""
    from mensura.checks import alike
    from mensura.teaching.problems.family import TOPICS

    return " or ".join(f"--topic {one}" for one in alike(" ".join(words), TOPICS))


@click.command(name="problems", cls=Refusing, stray=_topic)
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
@click.argument("family", metavar="FAMILY", nargs=-1)
@click.option("--solution", is_flag=True, help="Answer, slips and worked solution as well.")
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
def problem_command(
    family: tuple[str, ...], solution: bool, as_json: bool, **values: str | None
) -> None:
    """Print one problem of FAMILY with a student's own numbers, the same for ever.

    What the progress in the current folder holds was given out, and is shown as it was.
    """
    one, left = _split(family)
    if one is not None and left:
        raise click.UsageError(
            f"{shown(' '.join(left))} was not understood; expected options only, like --json."
        )
    found = _problem(one, " ".join(family), values)
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
@click.argument("family", metavar="FAMILY", required=False)
@click.argument("text", metavar="TEXT", nargs=-1)
@click.option("--json", "as_json", is_flag=True, help="Print JSON: right, slip, message.")
@click.pass_context
def answer_command(
    ctx: click.Context,
    /,
    family: str | None,
    text: tuple[str, ...],
    as_json: bool,
    **values: str | None,
) -> int:
    """Reply to an answer, TEXT as a person writes it: 0.785, 0,785, "7854 cm²", "31 1/2 in".

    Numbers that the progress in the current folder holds were given out, and are used as they were.
    Exit code 0: right, 1: wrong, 2: it could not be read.
    """
    from mensura.teaching.answers.reply import reply

    words = (*([] if family is None else [family]), *text)
    for word in words:  # -5 is an answer, --stduent is none
        if word[:2] == "--" and word[2:3].isalpha():
            raise click.NoSuchOption(word.partition("=")[0], ctx=ctx)
    one, left = _split(words)
    if one is None:
        left = text
    found = _problem(one, family or "", values, () if left else ("TEXT",))
    typed = " ".join(left)
    said = reply(found, typed)
    if as_json:
        told = {"right": said.right, "slip": said.slip, "message": said.message}
        print_json(told, {**_inputs(found), "text": typed})
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


def _split(words: Sequence[str]) -> tuple[Family | None, Sequence[str]]:
    """The family that the first words name, unquoted perhaps, and what is left behind it."""
    from mensura.teaching.problems import bank

    longest = max(key.count("-") for key in bank.all_families()) + 1
    for count in range(min(len(words), longest), 0, -1):
        try:
            return bank.family("-".join(words[:count])), words[count:]
        except MeasureError:
            continue
    return None, ()


def _problem(
    family: Family | None, named: str, values: dict[str, str | None], missing: Sequence[str] = ()
) -> Problem:
    """The problem that is meant, or one sentence with all that is missing or wrong.

    family: if it was found; named: how it was called; values: of the options, by name; missing:
    what else is.
    """
    from mensura.teaching.problems import bank
    from mensura.teaching.problems.draw import MOST_TRIES
    from mensura.teaching.problems.family import MOST_EDITIONS

    values = dict(values)
    own = _own_code()
    whose = own if values["student"] is None else ""
    values["student"] = values["student"] if values["student"] is not None else whose or None
    needed = [f"--{name}" for name in ("student", "key") if values[name] is None]
    lacking = [*([] if named or family else ["FAMILY"]), *missing, *needed]
    wrong = ""
    if family is None and "FAMILY" not in lacking:
        try:
            family = bank.family(named)
        except MeasureError as error:
            wrong = error.sentence("FAMILY")
    if lacking or wrong:
        told = [part for part in (_lacking(lacking), wrong) if part]
        raise click.UsageError("; and ".join(told))
    assert family is not None
    one, student, key = family, str(values["student"]), str(values["key"])
    set_name = str(values["set_name"])
    number = _count(str(values["try_number"]), "try", MOST_TRIES)
    edition = values["edition"]
    log = _log() if edition is None else ()
    if edition is not None:
        state = _count(edition, "edition", MOST_EDITIONS)
        found: Problem = _refusing(
            lambda: bank.problem(one.key, student, key, set_name, number, state)
        )
    else:
        found = _refusing(lambda: _given_out(log, own, one, student, key, set_name, number))
    if whose:
        click.echo(f"Student {whose}, as my-code.txt in this folder has it.", err=True)
    _tell_of_capitals(found, log)
    return found


def _lacking(names: Sequence[str]) -> str:
    """All that is missing, in one clause, with how it may be typed; "" for nothing."""
    if not names:
        return ""
    like = " ".join(_LIKE[name] for name in names)
    if len(names) == 1:
        return f"{names[0]} is missing; expected it, as in {like}"
    listed = f"{', '.join(names[:-1])} and {names[-1]}"
    return f"{listed} are missing; expected them, as in {like}"


def _given_out(
    log: tuple[Attempt, ...],
    own: str,
    family: Family,
    student: str,
    key: str,
    set_name: str,
    number: int,
) -> Problem:
    """The problem as the log knows it; codes that it knows in other letters are asked back.

    own: the folder's own code, which is as its student gave it, or "".
    """
    from mensura.teaching.problems.codes import ask_back
    from mensura.teaching.problems.standing import given_out

    made = given_out(log, family, student, key, set_name, number)
    ask_back("student", made.student, [own, *(attempt.student for attempt in log)])
    ask_back("key", made.key, (attempt.key for attempt in log))
    return made


def _tell_of_capitals(found: Problem, log: tuple[Attempt, ...]) -> None:
    """Where nothing is known that could be held against, says that capital letters count."""
    from mensura.teaching.problems.codes import in_capitals

    large, small = in_capitals(found.student), found.key.lower()
    if large and not any(one.student == found.student for one in log):
        click.echo(f"Capital letters count: {large} has other numbers.", err=True)
    if small != found.key and not any(one.key == found.key for one in log):
        click.echo(f"Capital letters count: the key {small} has other numbers.", err=True)


def _count(text: str, field: str, most: int) -> int:
    """A whole number from 1 on, as it was typed behind an option."""
    number: int = _refusing(lambda: parsed_whole(_CALLED[field], text, at_least=1, at_most=most))
    return number


def _own_code() -> str:
    """The student's own code in the current folder, "" if there is none."""
    from mensura.disk.own_code import OwnCodeFile

    return OwnCodeFile().read().code or ""


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
