"""How unsure each input is, as a file that a lecturer fills in: TOML, with a remark at every line.

Each `[[error]]` says of what it is, how large, in which unit, and for what it is new: "tree" or
"plot", or never, "all". An input that no block names counts as without error. The file is
parsed, never evaluated; all its problems are found at once, each with its line and key.
"""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from pathlib import Path
from typing import Any

from mensura.checks import alike, shown
from mensura.disk import plan_text
from mensura.disk.check_file import FileError, Where, read_bytes
from mensura.disk.writing import reason, write_new
from mensura.estimates.input_errors import DEFAULTS, INPUTS, SCOPES, InputError
from mensura.tables import decoded

#: A larger file is none.
MOST_BYTES = 1_000_000
#: More blocks than anybody fills in.
MOST_ERRORS = 200
#: No input is less sure than this, in each unit, or it is not known at all.
MOST_U = {"%": 100.0, "cm": 100.0, "m": 50.0}
MOST_ORIGIN = 300

_WHAT = "a TOML file as --errors-new writes it"
_KEYS = ("of", "u", "unit", "for", "origin")
_SCOPE_WORDS = {
    "tree": "drawn anew for each tree: averages out over many trees",
    "plot": "drawn anew for each plot: averages out over many plots",
    "all": "one for all trees alike: does not average out, however many are measured",
}
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


class ErrorsFileError(FileError):
    """All that is wrong in a file of errors, the first in a sentence, the others by their lines.

    problems: one or more, in the file's order.

    >>> one = FileError("e.toml", "line 3, key u", "is -1", "a number from 0 to 100", "u", -1)
    >>> print(ErrorsFileError([one, one]))
    e.toml, line 3, key u, is -1 (1 more problem, in line 3); expected a number from 0 to 100.
    """

    def __init__(self, problems: Sequence[FileError]) -> None:
        first, more = problems[0], problems[1:]
        wrong = first.wrong
        if more:
            lines = list(dict.fromkeys(str(_line_of(one)) for one in more))
            noun = "problem" if len(more) == 1 else "problems"
            word = "line" if len(lines) == 1 else "lines"
            listed = ", ".join(lines[:5]) + (" …" if len(lines) > 5 else "")
            wrong += f" ({len(more)} more {noun}, in {word} {listed})"
        self.problems = tuple(problems)
        super().__init__(
            first.file, first.place, wrong, first.expectation, first.field, first.value
        )


# ---- in ------------------------------------------------------------------------------------------


def read_errors(path: Where) -> tuple[InputError, ...]:
    """The errors of inputs that a file holds, in its order.

    path: of the file. Raises FileError, in one sentence with line and key, for what cannot be used;
    of several problems it is an ErrorsFileError that has them all.
    """
    file = Path(path)
    text = decoded(read_bytes(file, _WHAT, MOST_BYTES))
    if text is None:
        raise FileError(file.name, "", "is not text", _WHAT)
    return parse_errors(text, file.name)


def parse_errors(text: str, name: str = "the file") -> tuple[InputError, ...]:
    """The errors of inputs from the text of a file.

    text: TOML; name: of the file, for refusals. Raises FileError as :func:`read_errors` does.

    >>> parse_errors('[[error]]\\nof = "height"\\nu = 0.5\\nunit = "m"\\nfor = "tree"')
    (InputError(name='height', u=0.5, unit='m', scope='tree', origin=''),)
    """
    text = text.removeprefix("\ufeff")
    told = plan_text.read(text)
    if told is None:
        line, wrong, _ = plan_text.fault(text)
        expected = 'lines like u = 0.3 and unit = "%" below [[error]], or # before a remark'
        raise FileError(name, f"line {line}", f"has {wrong}", expected)
    lines = _Lines(text)
    problems: list[FileError] = []
    for key in told:
        if key != "error":
            found = FileError(
                name, f"line {lines.of_key(key)}", f"has {shown(key)} outside of an [[error]]",
                "nothing but blocks that open with [[error]]", "error", key,
            )  # fmt: skip
            problems.append(found)
    blocks = told.get("error", [])
    if not isinstance(blocks, list) or not all(isinstance(one, dict) for one in blocks):
        place = f"line {lines.of_key('error')}"
        raise FileError(name, place, "has error, but not as blocks", "[[error]] before each")
    if not blocks and not problems:
        raise FileError(name, "", "has no [[error]]", _WHAT)
    if len(blocks) > MOST_ERRORS:
        place = f"line {lines.of_block(MOST_ERRORS)}"
        raise FileError(name, place, "is one block too many", f"at most {MOST_ERRORS}")
    errors: list[InputError] = []
    seen: dict[InputError, int] = {}
    for number, block in enumerate(blocks):
        found_here, error = _block(block, number, lines, name)
        problems += found_here
        if error is None:
            continue
        line = lines.of_block(number)
        if error in seen:
            same = f"says the same as the block in line {seen[error]}"
            expected = "each error once, or another origin"
            problems.append(FileError(name, f"line {line}", same, expected, "error", error.name))
        seen.setdefault(error, line)
        errors.append(error)
    if problems:
        raise ErrorsFileError(sorted(problems, key=_line_of))
    return tuple(errors)


def _line_of(problem: FileError) -> int:
    return int(problem.place.split(",")[0].removeprefix("line "))


class _Lines:
    """On which line each block and key of a text stands.

    text: TOML that can be read.
    """

    def __init__(self, text: str) -> None:
        self.top: dict[str, int] = {}
        self.blocks: list[int] = []
        self.keys: list[dict[str, int]] = []
        for one in plan_text.statements(text):
            first = one.path[0] if one.path else ""
            self.top.setdefault(first, one.line)
            if one.kind == "array" and one.path == ("error",):
                self.blocks.append(one.line)
                self.keys.append({})
            elif first == "error" and len(one.path) > 1 and self.keys:
                self.keys[-1].setdefault(one.path[1], one.line)

    def of_key(self, key: str) -> int:
        """Where a name at the top first stands."""
        return self.top.get(key, 1)

    def of_block(self, place: int, key: str = "") -> int:
        """Where a block's key stands, or the block itself; place: from 0."""
        if place >= len(self.blocks):  # error = [{…}, {…}]
            return self.of_key("error")
        return self.keys[place].get(key, self.blocks[place])


def _block(
    block: Mapping[str, Any], place: int, lines: _Lines, name: str
) -> tuple[list[FileError], InputError | None]:
    """What is wrong in one block, and its error if nothing is."""
    problems: list[FileError] = []

    def wrong(key: str, expected: str, known: Sequence[str] = ()) -> None:
        value = block.get(key)
        where = f"line {lines.of_block(place, key)}, key {key},".rstrip(",")
        is_what = "is missing" if key not in block else f"is {_told(value)}"
        near = alike(value, known)
        asked = f"{' or '.join(near)}, or another {expected}" if near else expected
        problems.append(FileError(name, where, is_what, asked, key, value))

    for key in block:
        if key not in _KEYS:
            near = alike(key, _KEYS)
            where = f"line {lines.of_block(place, key)}"
            expected = " or ".join(near) if near else f"one of: {', '.join(_KEYS)}"
            says = f"has the key {shown(key)}"
            problems.append(FileError(name, where, says, expected, "error", key))
    of, unit, scope = block.get("of"), block.get("unit"), block.get("for")
    units = INPUTS[of][1] if isinstance(of, str) and of in INPUTS else ()
    if not units:
        wrong("of", f"one of: {', '.join(INPUTS)}", tuple(INPUTS))
    elif unit not in units:
        wrong("unit", f"{' or '.join(units)}, for {of}")
    scopes = scopes_of(of) if units else SCOPES
    if scope not in scopes:
        tail = f", for {of}" if len(scopes) < len(SCOPES) else ""
        wrong("for", f"{', '.join(scopes[:-1])} or {scopes[-1]}{tail}", scopes)
    u, origin = block.get("u"), block.get("origin", "")
    most = MOST_U.get(unit, 100.0) if isinstance(unit, str) else 100.0
    if isinstance(u, bool) or not isinstance(u, int | float) or not 0 <= u <= most:
        told = f" {unit}" if unit in units else ""
        wrong("u", f"a number from 0 to {most:g}{told}")
    if not isinstance(origin, str) or len(origin) > MOST_ORIGIN or not origin.isprintable():
        wrong("origin", f"words between quotation marks, at most {MOST_ORIGIN} letters")
    if problems:
        return problems, None
    return [], InputError(
        str(of), float(u if isinstance(u, int | float) else 0), str(unit), str(scope), str(origin)
    )


def scopes_of(name: object) -> tuple[str, ...]:
    """For what an input's error may be new: a plot's area is the same for all its trees.

    name: of the input.

    >>> scopes_of("plot area"), scopes_of("hand")
    (('all', 'plot'), ('all', 'plot', 'tree'))
    """
    return SCOPES[:2] if name == "plot area" else SCOPES


def _told(value: object) -> str:
    if isinstance(value, str):
        return shown(value) if value else "empty"
    return shown(value)


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
            (f"origin = {_string(one.origin)}", "where the figure comes from, as it is printed"),
        ]
        wide = max(len(code) for code, _ in lines[:4])
        body = "".join(f"{code.ljust(wide)}  # {remark}\n" for code, remark in lines)
        blocks.append(f"[[error]]  # one error of one input\n{body}")
    return "\n".join(blocks)


def write_errors(
    path: Where, errors: Sequence[InputError] = DEFAULTS, notes: Sequence[str] = ()
) -> Path:
    """Writes a new file of errors; one that is there stays as it is.

    path: of the file; errors, notes: as for :func:`written_errors`. Returns the path. Raises
    FileError if something of that name is there already, or nothing can be written there.
    """
    file = Path(path)
    name = file.name or str(file)
    try:
        made = write_new(file, written_errors(errors, notes).encode("utf-8"))
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
