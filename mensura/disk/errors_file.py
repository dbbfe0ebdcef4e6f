"""How unsure each input is, as a file that a lecturer fills in: TOML, with a remark at every line.

Each `[[error]]` says of what it is, how large, in which unit, and for what it is new: "tree" or
"plot", or never, "all". An input that no block names counts as without error. The file is
parsed, never evaluated; all its problems are found at once, each with its line and key.
"""

from __future__ import annotations

from collections.abc import Sequence
from pathlib import Path

from mensura.disk import plan_text
from mensura.disk.check_file import FileError, Where
from mensura.disk.toml_blocks import Block, BlocksError, blocks_of, read_text
from mensura.disk.writing import reason, write_new
from mensura.estimates.input_errors import DEFAULTS, INPUTS, SCOPES, InputError

#: No input is less sure than this, in each unit, or it is not known at all.
MOST_U = {"%": 100.0, "cm": 100.0, "m": 50.0}

#: Blocks that such a file may have; those of remedies are for `remedies_file.py`.
KINDS = ("error", "remedy")
WHAT = "a TOML file as --errors-new writes it"
_KEYS = ("of", "u", "unit", "for", "origin")
_SCOPE_WORDS = {
    "tree": "drawn anew for each tree: averages out over many trees",
    "plot": "drawn anew for each plot: averages out over many plots",
    "all": "one for all trees alike: does not average out, however many are measured",
}
_ORIGIN = "where the figure comes from: --json has it, a table only where two are alike"
_HEAD = """\
# How unsure each input of a volume is. Change the figures, save, and give this file to --errors.
# Lines that open with # are remarks: nothing reads them.
#
# Each block opens with [[error]]. An input may have several blocks: a tape's own error is the same
# for all trees, a hand's is new for each. Take a block out, and that input counts as without error.
# u is a standard uncertainty: two readings in three lie within it, nineteen in twenty within twice.
# For nineteen in twenty within +/- 3 %, u is 1.5. What is known to be off is corrected first: u is
# what nobody knows.
"""


# ---- in ------------------------------------------------------------------------------------------


def read_errors(path: Where) -> tuple[InputError, ...]:
    """The errors of inputs that a file holds, in its order.

    path: of the file. Raises FileError, in one sentence with line and key, for what cannot be used;
    of several problems it is a BlocksError that has them all.
    """
    return parse_errors(*read_text(path, WHAT))


def parse_errors(text: str, name: str = "the file") -> tuple[InputError, ...]:
    """The errors of inputs from the text of a file.

    text: TOML; name: of the file, for refusals. Raises FileError as :func:`read_errors` does.

    >>> parse_errors('[[error]]\\nof = "height"\\nu = 0.5\\nunit = "m"\\nfor = "tree"')
    (InputError(name='height', u=0.5, unit='m', scope='tree', origin=''),)
    """
    blocks, problems = blocks_of(text, name, "error", KINDS)
    if not blocks and not problems:
        raise FileError(name, "", "has no [[error]]", WHAT)
    errors: dict[InputError, int] = {}
    for block in blocks:
        error = _error(block)
        if error is None:
            continue
        if error in errors:
            same = f"says the same as the block in line {errors[error]}"
            block.says(same, "each error once, or another origin")
        errors.setdefault(error, block.line)
    if problems:
        raise BlocksError(problems)
    return tuple(errors)


def _error(block: Block) -> InputError | None:
    """A block's error, or None if something is wrong in it."""
    block.only(_KEYS)
    of, unit, scope = (block.values.get(key) for key in ("of", "unit", "for"))
    units = INPUTS[of][1] if isinstance(of, str) and of in INPUTS else ()
    if not units:
        block.wrong("of", f"one of: {', '.join(INPUTS)}", tuple(INPUTS))
    elif unit not in units:
        block.wrong("unit", f"{' or '.join(units)}, for {of}")
    check_scope(block, "for", of if units else "", scope)
    told = str(unit) if unit in units else ""
    u = block.number("u", 0.0, MOST_U.get(told, 100.0), told)
    origin = block.words("origin", start="")
    return InputError(str(of), u, str(unit), str(scope), origin) if block.good else None


def check_scope(block: Block, key: str, name: object, scope: object) -> None:
    """Keeps it as a problem of a block if an input's error cannot be new for that.

    block: where it stands; key: of the block; name: of the input, "" if it is not known; scope: as
    it was given.
    """
    scopes = scopes_of(name)
    if scope not in scopes:
        tail = f", for {name}" if len(scopes) < len(SCOPES) else ""
        block.wrong(key, f"{', '.join(scopes[:-1])} or {scopes[-1]}{tail}", scopes)


def scopes_of(name: object) -> tuple[str, ...]:
    """For what an input's error may be new: a plot's area is the same for all its trees.

    name: of the input.

    >>> scopes_of("plot area"), scopes_of("hand")
    (('all', 'plot'), ('all', 'plot', 'tree'))
    """
    return SCOPES[:2] if name == "plot area" else SCOPES


# ---- out -----------------------------------------------------------------------------------------


def written_errors(errors: Sequence[InputError] = DEFAULTS, notes: Sequence[str] = ()) -> str:
    """The text of a file of errors, with a remark at every line; reads back as the same errors.

    errors: one or more; notes: further sentences for its head.

    >>> parse_errors(written_errors()) == DEFAULTS
    True
    """
    blocks = [_HEAD + "".join(f"# {' '.join(one.split())}\n" for one in notes)]
    for one in errors:
        words, units = INPUTS[one.name]
        lines = [
            (f"of = {_string(one.name)}", f"{words}"),
            (f"u = {one.u!r}", f"standard uncertainty, in {_unit_words(one.unit)}"),
            (f"unit = {_string(one.unit)}", f"may be {' or '.join(units)}"),
            (f"for = {_string(one.scope)}", _SCOPE_WORDS[one.scope]),
            (f"origin = {_string(one.origin)}", _ORIGIN),
        ]
        wide = max(len(code) for code, _ in lines[:4])
        body = "".join(f"{code.ljust(wide)}  # {remark}\n" for code, remark in lines)
        blocks.append(f"[[error]]  # one error of one input\n{body}")
    return "\n".join(blocks)


def write_errors(
    path: Where,
    errors: Sequence[InputError] = DEFAULTS,
    notes: Sequence[str] = (),
    below: str = "",
) -> Path:
    """Writes a new file of errors; one that is there stays as it is.

    path: of the file; errors, notes: as for :func:`written_errors`; below: further text, as
    `remedies_file.written_remedies` gives it. Returns the path. Raises FileError if something of
    that name is there already, or nothing can be written there.
    """
    file = Path(path)
    name = file.name or str(file)
    try:
        text = written_errors(errors, notes) + (f"\n{below}" if below else "")
        made = write_new(file, text.encode("utf-8"))
    except (OSError, ValueError) as error:
        why = reason(error) if isinstance(error, OSError) else "it is no name of a file"
        raise FileError(name, "", f"was not written, {why}", "a file that can be") from None
    if not made:
        wanted = "a name that is free, since what is there is never overwritten"
        raise FileError(name, "", "is there already", wanted, "path", str(file))
    return file


def _unit_words(unit: str) -> str:
    return "per cent of the quantity itself" if unit == "%" else unit


def _string(text: str) -> str:
    return plan_text.string(text, lines=False)
