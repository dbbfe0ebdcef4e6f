"""What could be done better, in the same file as the errors: hours and effects, to be changed.

Each `[[remedy]]` says what is done, how many hours of the whole party it takes, and how large which
errors are afterwards. A file without such blocks is answered with the remedies that come along,
whose figures are invented.
"""

from __future__ import annotations

from collections.abc import Sequence

from mensura.disk import plan_text
from mensura.disk.check_file import Where
from mensura.disk.errors_file import KINDS, WHAT, scopes_of
from mensura.disk.toml_blocks import Block, BlocksError, blocks_of, read_text
from mensura.estimates.input_errors import INPUTS
from mensura.estimates.remedies import REMEDIES, Effect, Remedy

_KEYS = (
    "name", "words", "lessens", "more_plots", "hours", "hours_a_plot", "hours_a_tree", "origin",
)  # fmt: skip
_HOURS = ("hours", "hours_a_plot", "hours_a_tree")
_LESSENS = '{ of = "height", for = "tree", times = 0.7 }'
MOST_HOURS, MOST_PLOTS = 1e4, 1000

_HEAD = """\
# What could be done better, and how long it takes. From this and from the errors above follows what
# to do first. All of these hours and effects are invented: put in what your own party needs.
# Take a block out, and that remedy is not thought of; take all of them out, and these are taken.
"""
_REMARKS = {
    "name": "in a few words",
    "words": "what is done, in a sentence",
    "more_plots": "how many plots it adds, 0 for none",
    "hours": "of the whole party, once",
    "hours_a_plot": "and for each plot, of those that are added where there are some",
    "hours_a_tree": "and for each tree of those plots",
    "lessens": "times 0.7: that error is 0.7 of what it was",
    "origin": "where the figures come from",
}


def read_remedies(path: Where) -> tuple[Remedy, ...]:
    """The remedies that a file of errors holds, or those that come along where it has none.

    path: of the file. Raises FileError, in one sentence with line and key.
    """
    return parse_remedies(*read_text(path, WHAT))


def parse_remedies(text: str, name: str = "the file") -> tuple[Remedy, ...]:
    """The same from the text of a file.

    text: TOML; name: of the file, for refusals. Raises FileError as :func:`read_remedies` does.

    >>> parse_remedies("") == REMEDIES
    True
    """
    blocks, problems = blocks_of(text, name, "remedy", KINDS)
    found: list[Remedy] = []
    named: dict[str, int] = {}
    for block in blocks:
        one = _remedy(block)
        if one is None:
            continue
        if one.name in named:
            block.wrong("name", f"another than in line {named[one.name]}")
        named.setdefault(one.name, block.line)
        found.append(one)
    if problems:
        raise BlocksError(problems)
    return tuple(found) or REMEDIES


def _remedy(block: Block) -> Remedy | None:
    """A block's remedy, or None if something is wrong in it."""
    block.only(_KEYS)
    name, words = block.words("name"), block.words("words", start="")
    effects = _effects(block)
    plots = block.number("more_plots", 0, MOST_PLOTS, start=0)
    if plots != int(plots):
        block.wrong("more_plots", "a whole number")
    hours = [block.number(key, 0.0, MOST_HOURS, "h", start=0) for key in _HOURS]
    origin = block.words("origin", start="")
    if block.good and not any(hours):
        block.wrong("hours", "some time that it takes, at least one of " + ", ".join(_HOURS))
    if block.good and not effects and not plots:
        block.wrong("lessens", f"an error that it lessens, like [{_LESSENS}], or more_plots")
    if not block.good:
        return None
    once, a_plot, a_tree = hours
    return Remedy(name, words, effects, int(plots), once, a_plot, a_tree, origin)


def _effects(block: Block) -> tuple[Effect, ...]:
    told = block.values.get("lessens", [])
    if not isinstance(told, list) or not all(isinstance(one, dict) for one in told):
        block.wrong("lessens", f"a list like [{_LESSENS}]")
        return ()
    found = []
    for one in told:
        if set(one) != {"of", "for", "times"}:
            block.wrong("lessens", f"of, for and times in each, as in {_LESSENS}")
            return ()
        of, scope, times = one["of"], one["for"], one["times"]
        number = isinstance(times, int | float) and not isinstance(times, bool)
        if not isinstance(of, str) or of not in INPUTS:
            block.wrong("lessens", f"of as one of: {', '.join(INPUTS)}")
        elif scope not in scopes_of(of):
            block.wrong("lessens", f"for as {' or '.join(scopes_of(of))}, for {of}")
        elif not number or not 0 <= times <= 1:
            block.wrong("lessens", "times as a number from 0 to 1")
        else:
            found.append(Effect(of, str(scope), float(times)))
    return tuple(found)


def written_remedies(remedies: Sequence[Remedy] = REMEDIES) -> str:
    """The text of those blocks, with a remark at every line; reads back as the same remedies.

    remedies: that are written, one or more.

    >>> parse_remedies(written_remedies()) == REMEDIES
    True
    """
    return "\n".join([_HEAD, *map(_written, remedies)])


def _written(one: Remedy) -> str:
    effects = ", ".join(
        f"{{ of = {_string(each.name)}, for = {_string(each.scope)}, times = {each.times!r} }}"
        for each in one.effects
    )
    values = {
        "name": _string(one.name),
        "words": _string(one.words),
        "more_plots": str(one.more_plots),
        **{key: repr(float(getattr(one, key))) for key in _HOURS},
        "lessens": f"[{effects}]",
        "origin": _string(one.origin),
    }
    lines = [f"{key} = {value}  # {_REMARKS[key]}\n" for key, value in values.items()]
    return "[[remedy]]  # one thing that can be done better\n" + "".join(lines)


def _string(text: str) -> str:
    return plan_text.string(text, lines=False)
