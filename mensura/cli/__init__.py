"""The command `mensura`: open the workbooks, compare instruments on one stem, correct a reading.

Thin: words in, words out. A new command is a module of this folder, of the class Refusing, and a
place in COMMANDS; help, and the tests of all commands, follow from there.
"""

from __future__ import annotations

import click

import mensura.cli._one_thread  # noqa: F401  before all that loads numpy
from mensura.cli.budget import budget_command
from mensura.cli.compare import compare_command
from mensura.cli.correct import correct_command
from mensura.cli.cut_end import cut_end_command
from mensura.cli.field_sheet import field_sheet_command
from mensura.cli.leaflet import leaflet_command
from mensura.cli.logs import logs_command
from mensura.cli.open import open_command
from mensura.cli.place import place_command
from mensura.cli.plan import plan_command
from mensura.cli.practical import practical_command
from mensura.cli.present import present_command
from mensura.cli.printing import version
from mensura.cli.problems import answer_command, problem_command, problems_command
from mensura.cli.proof import proof_command
from mensura.cli.refusals import OneSentence
from mensura.cli.stand import stand_command
from mensura.cli.tape_card import tape_card_command

#: All there are, in the order in which a lesson meets them.
COMMANDS: tuple[click.Command, ...] = (
    open_command,
    plan_command,
    present_command,
    leaflet_command,
    place_command,
    compare_command,
    correct_command,
    tape_card_command,
    budget_command,
    field_sheet_command,
    practical_command,
    stand_command,
    logs_command,
    cut_end_command,
    proof_command,
    problems_command,
    problem_command,
    answer_command,
)


def _say_version(ctx: click.Context, _: click.Parameter, asked: bool) -> None:
    if asked:
        click.echo(f"mensura {version()}")
        ctx.exit()


@click.group(
    name="mensura",
    cls=OneSentence,
    invoke_without_command=True,
    context_settings={"help_option_names": ["--help"], "max_content_width": 100},
)
@click.option(
    "--version",
    is_flag=True,
    is_eager=True,
    expose_value=False,
    callback=_say_version,
    help="Show the version and exit.",
)
@click.pass_context
def main(ctx: click.Context) -> None:
    """Girth tapes and calipers on stems: how far can each reading be trusted?"""
    if ctx.invoked_subcommand is None:
        click.echo(ctx.get_help())


for _one in COMMANDS:
    main.add_command(_one)
