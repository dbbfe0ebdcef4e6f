"""A practical as lines of plain text: who is off, the likely slips, how closely a class reads.

Short: the page for the lecturer has the rest.
"""

from __future__ import annotations

from collections.abc import Sequence
from textwrap import wrap

from mensura.checks import shown
from mensura.cli.printing import aligned
from mensura.disk.readings_file import ReadingsFile
from mensura.disk.readings_table import alike_problems, alike_words
from mensura.estimates.agreement import Agreement
from mensura.estimates.hand_causes import likely_causes
from mensura.estimates.hand_habits import Habit
from mensura.estimates.hand_verdict import Judged
from mensura.estimates.hand_words import listed
from mensura.estimates.practical import InstrumentPrecision, Practical, TapesAndCalipers
from mensura.estimates.practical_rows import flag_rows
from mensura.estimates.precision import LIMIT_FACTOR
from mensura.estimates.suspicious import SLIPS
from mensura.written import rounded, signed

_WIDE = 80
#: So many of a kind are told one by one.
_MOST = 12
_SIDE = {"reads-high": "HIGH", "reads-low": "LOW", "spreads": "SPREADS"}
_WITH = {"girth": "with tapes", "diameter": "with calipers"}


#: What is asked of so many hands or fewer is asked one by one.
_FEW_ASKED = 3
_ASKED_ALIKE = {
    "drift": "over the day their readings drifted: tiring, a habit that grew, or learning?",
    "last-figures": "too many readings end in one figure: is the last figure read, or rounded?",
    "too-equal": "too many repeats are the same figure: was it taken off and laid anew?",
}


def practical_lines(
    study: Practical, found: ReadingsFile, said: Sequence[str] = (), above: Sequence[str] = ()
) -> list[str]:
    """A study in short.

    study: of a class; found: the file it was read from; said: what else has to be, in sentences;
    above: what has to be known before the verdicts are read.
    """
    readings = study.readings
    lines = [
        f"{shown(found.name)}: {_counted(len(readings), 'reading')} of "
        f"{_counted(len(readings.stems), 'stem')} by {_counted(len(readings.hands), 'hand')} with "
        f"{listed(readings.instruments)}"
    ]
    if study.cards_used:
        lines.append(f"Corrected by card: {listed(study.cards_used)}")
    lines += ["", *_problem_lines(found)]
    lines += [line for one in above for line in wrap(one, _WIDE)] + ([""] if above else [])
    lines += [*_verdict_lines(study), *_slip_lines(study, found)]
    lines += [*_precision_lines(study), *_agreement_lines(study)]
    lines += _asking_lines(study.habits)
    for note in (*said, *study.notes):
        lines += wrap(note, _WIDE)
    return lines[:-1] if lines and not lines[-1] else lines


def _counted(count: int, noun: str) -> str:
    return f"{count:,} {noun}{'' if count == 1 else 's'}"


def _problem_lines(found: ReadingsFile) -> list[str]:
    if not found.problems:
        return []
    out = f"; {found.left_out:,} of {found.rows:,} rows left out" if found.left_out else ""
    lines = [f"Problems of the file: {len(found.problems):,}{out}"]
    groups = alike_problems(found.problems)
    lines += [f"  {alike_words(one)}" for one in groups[:_MOST]]
    return [*lines, *_more(sum(map(len, groups[_MOST:])) + _MOST), ""]


def _more(count: int) -> list[str]:
    return [f"  {count - _MOST:,} more, all of them in --json and --out"] if count > _MOST else []


def _asking_lines(habits: Sequence[Habit]) -> list[str]:
    """Questions for hands: few one by one, many of one kind in one sentence."""
    lines: list[str] = []
    for habit, alike in _ASKED_ALIKE.items():
        asked = [one for one in habits if one.habit == habit]
        if len(asked) <= _FEW_ASKED:
            for one in asked:
                said = f"ASK {one.name} {_WITH[one.kind]}: {one.question}"
                lines += wrap(said, _WIDE, subsequent_indent="  ")
            continue
        by_kind = [
            f"{listed([one.name for one in asked if one.kind == kind])} {with_}"
            for kind, with_ in _WITH.items()
            if any(one.kind == kind for one in asked)
        ]
        said = f"ASK {'; '.join(by_kind)}: {alike} Each one's figures: --json and --out."
        lines += wrap(said, _WIDE, subsequent_indent="  ")
    return [*lines, ""] if lines else []


def _verdict_lines(study: Practical) -> list[str]:
    hands, tools = study.judged.hands, study.judged.instruments
    accused = study.judged.accused
    lines: list[str] = []
    for one in accused:
        is_hand = any(one is hand for hand in hands)
        lines += _said(one, is_hand)
    if not accused and any(one.verdict == "sound" for one in (*hands, *tools)):
        lines.append("Of those that can be told, nobody and nothing is off by as much as matters.")
    sound = [*_named(hands), *(one.name for one in tools if one.verdict == "sound")]
    if sound:
        lines += wrap(f"Sound: {', '.join(sound)}", _WIDE, subsequent_indent="  ")
    dark: dict[str, list[str]] = {}
    for one in (*hands, *tools):
        if one.verdict == "cannot-tell":
            whose = f"{one.name} {_WITH[one.kind]}" if any(one is hand for hand in hands) else ""
            dark.setdefault(one.why, []).append(whose or one.name)
    for why, codes in dark.items():
        lines += wrap(f"CANNOT TELL  {listed(codes)}. {why}", _WIDE, subsequent_indent="  ")
    return [*lines, ""] if lines else []


def _said(one: Judged, is_hand: bool) -> list[str]:
    whose = f"{one.name} {_WITH[one.kind]}" if is_hand else one.name
    lines = wrap(f"{_SIDE[one.verdict]}  {whose}. {one.why}", _WIDE, subsequent_indent="  ")
    causes = likely_causes(one, is_hand)
    if causes:
        words = f"Most likely: {causes[0].words.lower()}. {causes[0].practise}"
        lines += wrap(words, _WIDE, initial_indent="  ", subsequent_indent="  ")
    return lines


def _named(hands: Sequence[Judged]) -> list[str]:
    """Codes of the sound hands, each once where it is sound with all that it read with."""
    kinds: dict[str, set[str]] = {}
    for one in hands:
        kinds.setdefault(one.name, set()).add(one.verdict)
    named = (
        one.name if kinds[one.name] == {"sound"} else f"{one.name} {_WITH[one.kind]}"
        for one in hands
        if one.verdict == "sound"
    )  # fmt: skip
    return list(dict.fromkeys(named))


def _slip_lines(study: Practical, found: ReadingsFile) -> list[str]:
    rows = flag_rows(study)
    if not rows:
        return []
    lines = [f"Likely slips: {len(rows):,}. Nothing is changed."]
    table = []
    for one, flag in list(zip(rows, study.flags, strict=True))[:_MOST]:
        typed = found.figures[flag.at]
        decimals = max(1, len(typed.replace(",", ".").partition(".")[2]))
        table.append(
            [
                f"  row {one['row']}", one["hand"], one["instrument"], f"stem {one['stem']}",
                f"{typed} {one['unit']}", f"likely {one['would_be']:.{decimals}f}",
                SLIPS[one["slip"]],
            ]
        )  # fmt: skip
    return [*lines, *aligned(table, right=(4, 5)), *_more(len(rows)), ""]


def _precision_lines(study: Practical) -> list[str]:
    rows = [one for one in study.precision if one.precision is not None]
    if not rows:
        return []
    off = any(one.off for one in rows)
    table = [["", "cm of", "again", "another hand", "", ""]]
    if off:
        table = [
            ["", "", "", "another", "another", "", ""],
            ["", "cm of", "again", "hand", "hand*", "", ""],
        ]
    table += [_precision_row(one, off) for one in rows]
    lines = [
        f"Two readings of one stem differ by less than ({LIMIT_FACTOR} standard deviations, 95 %)",
        *(f"  {line}".rstrip() for line in aligned(table, right=(2, 3, 4) if off else (2, 3))),
    ]
    if off:
        whom = []
        for kind, with_ in _WITH.items():
            names = {name for one in rows if one.kind == kind for name in one.off}
            whom += [f"{listed(sorted(names))} {with_}"] if names else []
        lines.append(f"  * without {listed(whom)}, whose verdict is off")
    return [*lines, ""]


def _precision_row(one: InstrumentPrecision, off: bool) -> list[str]:
    found, less = one.precision, one.without_off if one.off else one.precision
    assert found is not None
    out = 0 if one.outliers is None else int(one.outliers.outlying.sum())
    left = f"{out} outlying left out" if out else ""
    residual = "from the residual" if found.stands_for == "residual" else ""
    cells = [
        one.instrument,
        one.kind,
        _cm(found.repeatability_limit_cm),
        _cm(found.reproducibility_limit_cm),
    ]
    if off:
        cells.append("–" if less is None else _cm(less.reproducibility_limit_cm))
    return [*cells, left, residual]


def _cm(value: float) -> str:
    return "–" if value != value else rounded(value, 2)


def _agreement_lines(study: Practical) -> list[str]:
    found = study.agreement
    if found is None:
        return []
    table = [["", "mean", "from", "to"], ["", "cm", "cm", "cm"], *_limit_rows(found)]
    lines = ["Girth over π less calipers, cm of diameter: limits of agreement (95 of 100)"]
    if found.sound is not None:
        table += [["without those that are off*", "", "", ""], *_limit_rows(found.sound)]
    lines += [f"  {line}".rstrip() for line in aligned(table, right=(1, 2, 3))]
    if found.off:
        none = "" if found.sound is not None else "; too little is left to tell it without them"
        mark = "* off: " if found.sound is not None else "Off: "
        words = f"{mark}{listed(found.off)}{none}"
        lines += wrap(words, _WIDE, initial_indent="  ", subsequent_indent="  ")
    return [*lines, ""]


def _limit_rows(found: TapesAndCalipers) -> list[list[str]]:
    rows: list[tuple[str, Agreement]] = [("one caliper reading", found.single)]
    if found.left is not None:
        rows.append(("the same, out-of-roundness taken out", found.left))
    if found.pair is not None:
        rows.append(("mean of two at right angles", found.pair))
    return [
        [name, signed(one.mean_cm, 2), signed(one.lower_cm, 2), signed(one.upper_cm, 2)]
        for name, one in rows
    ]
