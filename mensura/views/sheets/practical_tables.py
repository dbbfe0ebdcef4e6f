"""A practical's tables: slips, everybody's verdict, precision and agreement, row by row.

Each is a table that a screen reader reads as one, and scrolls by itself where a page is narrow.
"""

from __future__ import annotations

from collections.abc import Sequence
from math import isfinite, pi

import numpy as np
from markupsafe import Markup

from mensura.estimates.agreement import Agreement
from mensura.estimates.outliers import MARKS, TESTS
from mensura.estimates.ovality_part import LARGEST_OUT_OF_ROUND_PERCENT
from mensura.estimates.practical import InstrumentPrecision, Practical, TapesAndCalipers
from mensura.estimates.precision import limit_cm
from mensura.estimates.size_law import SizeLaw
from mensura.estimates.suspicious import SLIPS
from mensura.views.sheets.practical_words import VERDICTS, WITH, all_of, bias, counted, interval
from mensura.written import minus, signed

#: More rows than this of slips or of stragglers are counted, and stand in the tables' files.
MOST_ROWS = 40


def table(
    title: str,
    beside: str,
    heads: Sequence[str],
    rows: Sequence[Sequence[str]],
    words: Sequence[int] = (),
) -> Markup:
    """A table.

    title: in bold; beside: after it; heads: of the columns; rows: their cells, the first of each
    its head; words: columns that hold words, the others hold figures.
    """
    head = Markup().join(
        Markup('<th scope="col"{}>{}</th>').format(_kind(at, words), one)
        for at, one in enumerate(heads)
    )
    body = Markup("\n").join(
        Markup("<tr>{}{}</tr>").format(
            Markup('<th scope="row">{}</th>').format(row[0]),
            Markup().join(
                Markup("<td{}>{}</td>").format(_kind(at, words), cell)
                for at, cell in enumerate(row[1:], 1)
            ),
        )
        for row in rows
    )
    return Markup(
        '<div class="sheet" tabindex="0" role="region" aria-label="{}"><table><caption>{} '
        "<span>{}</span></caption><thead><tr>{}</tr></thead><tbody>{}</tbody></table></div>"
    ).format(title, title, beside, head, body)


def _kind(at: int, words: Sequence[int]) -> Markup:
    if at not in words and at:
        return Markup(' class="figure"')
    return Markup(' class="why"') if at and at == max(words) else Markup()


def slips_table(study: Practical, hand: str | None = None) -> Markup:
    """The readings that look like slips; of one hand alone if one is named.

    study: of a class; hand: a code, then no code of anyone else stands in it.
    """
    readings, rows = study.readings, []
    for flag in study.flags:
        whose = readings.hands[readings.hand[flag.at]]
        if hand is not None and whose != hand:
            continue
        clerk = readings.clerks[readings.clerk[flag.at]]
        row = [
            str(flag.row),
            readings.stems[readings.stem[flag.at]],
            readings.instruments[readings.instrument[flag.at]],
            _cm(flag.reading_cm),
            _cm(flag.would_be_cm),
            _cm(flag.agreed_cm),
            SLIPS[flag.slip] + (f" (with row {flag.partner_row})" if flag.partner_row else ""),
        ]
        if hand is None:
            row.insert(2, whose)
            row.append(clerk or "–")
        else:
            row.append("the hand" if clerk in ("", hand) else "somebody else")
        rows.append(row)
    heads = ["row", "stem", "with", "read, cm", "would be, cm", "others, cm", "likely slip"]
    if hand is None:
        heads.insert(2, "hand")
    heads.append("written by")
    if all(row[-1] in ("–", "the hand") for row in rows):
        heads.pop()
        rows = [row[:-1] for row in rows]
    beside = "row: line of the file, its header being 1"
    if len(rows) > MOST_ROWS:
        beside += f"; {len(rows) - MOST_ROWS} more are in the tables' files"
    shown = rows[:MOST_ROWS]
    first = 1 if hand is not None else 2
    words = (*range(1, first + 2), len(heads) - 1, heads.index("likely slip"))
    return table("Likely slips", beside, heads, shown, words)


def verdicts_table(study: Practical, hands: bool) -> Markup:
    """Everybody's verdict, or every instrument's.

    study: of a class; hands: whether of hands.
    """
    rows = []
    for one in study.judged.hands if hands else study.judged.instruments:
        spread = "–" if one.spread_percent is None else f"{one.spread_percent:.2f} %"
        rows.append(
            [
                one.name,
                WITH[one.kind].removeprefix("with ") if hands else one.kind,
                VERDICTS[one.verdict],
                bias(one),
                interval(one),
                spread,
                str(one.stems),
                str(one.readings),
                "–" if one.verdict == "sound" else one.why,
            ]
        )
    heads = ["hand" if hands else "instrument", "with" if hands else "reads", "verdict", "bias"]
    heads += ["95 % interval", "spread", "stems", "readings", "why"]
    return table(
        "Hands" if hands else "Instruments",
        "bias: what it reads less what the others agree on; spread: of one reading",
        heads,
        rows,
        (1, 2, 8),
    )


def precision_table(study: Practical) -> Markup:
    """Repeatability and the part between hands, one row an instrument.

    study: of a class.
    """
    rows = []
    for one in study.precision:
        found = one.precision
        if found is None or one.table is None:
            rows.append([one.instrument, one.kind, *["–"] * 7, "nothing can be told"])
            continue
        rest = {
            "repeats": f"{counted(found.repeats, 'repeat')} (degrees of freedom)",
            "residual": "the residual: nothing was read twice alike",
        }.get(found.stands_for, "nothing: too few readings")
        if found.repeatability_law is not None:
            rest += f"; {law(found.repeatability_law)}"
        rows.append(
            [
                one.instrument,
                one.kind,
                f"{len(one.hand_codes)} / {one.stems} / {int(one.table.count.sum())}",
                _sd(found.repeatability_cm),
                _sd(float(limit_cm(found.repeatability_cm))),
                _sd(found.between_hands_cm),
                _sd(found.reproducibility_cm),
                _with_outliers(one),
                _without_off(one),
                rest,
            ]
        )
    heads = ["instrument", "reads", "hands / stems / readings", "repeatability s, cm"]
    heads += ["two readings differ by at most, cm", "between hands s, cm", "both together s, cm"]
    heads += ["the same with outliers, cm", "both s without hands that are off*, cm", "rests on"]
    beside = "s: standard deviation; at most: in 95 of 100 cases, 2.8 s"
    whom = [
        f"{all_of(names)} {with_}"
        for kind, with_ in WITH.items()
        if (names := sorted({w for one in study.precision if one.kind == kind for w in one.off}))
    ]
    beside += f"; * without {all_of(whom)}" if whom else ""
    if not whom:
        heads.pop(8)
        rows = [row[:8] + row[9:] for row in rows]
    return table("Precision", beside, heads, rows, (1, len(heads) - 1))


def law(found: SizeLaw) -> str:
    """How a spread goes with size, in words.

    found: the law.
    """
    if found.kind == "constant":
        return "the same on small and large stems"
    if found.kind == "proportional":
        return f"grows with size: {100 * found.rise:.2f} % of it"
    least, most = (float(found.at_cm(end)) for end in (found.least_cm, found.greatest_cm))
    return (
        f"grows from {_sd(least)} cm at {found.least_cm:.0f} cm to {_sd(most)} cm at "
        f"{found.greatest_cm:.0f} cm"
    )


def _with_outliers(one: InstrumentPrecision) -> str:
    if one.outliers is None or one.with_outliers is None or not one.outliers.outlying.any():
        return "none"
    both = one.with_outliers
    return f"{_sd(both.repeatability_cm)} and {_sd(both.reproducibility_cm)}"


def _without_off(one: InstrumentPrecision) -> str:
    if not one.off:
        return "–"
    less = one.without_off
    if less is None:
        return "cannot be told"
    return f"{_sd(less.between_hands_cm)} and {_sd(less.reproducibility_cm)}"


def outliers_table(study: Practical) -> Markup:
    """Cells that stand out, by test; nothing where none does.

    study: of a class.
    """
    rows = []
    for one in study.precision:
        if one.outliers is None or one.table is None:
            continue
        told = one.outliers
        for at in sorted(range(told.mark.size), key=lambda cell: -int(told.mark[cell])):
            if not told.mark[at]:
                continue
            rows.append(
                [
                    one.instrument,
                    one.hand_codes[one.table.hand[at]],
                    one.stem_codes[one.table.stem[at]],
                    MARKS[told.mark[at]],
                    f"{TESTS[told.test[at]]}: {_what(TESTS[told.test[at]])}",
                    f"{told.statistic[at]:.3f}",
                    f"{told.critical[at]:.3f}",
                ]
            )
    if not rows:
        return Markup("<p>No hand stands out on any stem.</p>")
    rows.sort(key=lambda row: row[3] != "outlier")
    more = len(rows) - MOST_ROWS
    beside = "outlier: chance gives it on fewer than 1 stem of 100; straggler: of 20"
    beside += f"; {more} more are in the tables' files" if more > 0 else ""
    heads = ["instrument", "hand", "stem", "mark", "test", "statistic", "critical"]
    return table("Stand out on a stem", beside, heads, rows[:MOST_ROWS], (1, 2, 3, 4))


def _what(test: str) -> str:
    return "its repeats scatter" if test == "Cochran" else "its mean is far off"


def agreement_table(study: Practical) -> Markup:
    """Tapes less calipers, as diameters.

    study: of a class that had both.
    """
    found = study.agreement
    if found is None:
        return Markup()
    named: list[tuple[str, Agreement | None]] = [("one caliper reading", found.single)]
    named.append(("mean of a pair at right angles", found.pair))
    named.append(("one reading, the oval's part taken out", found.left))
    if found.sound is not None:
        less = found.sound
        kinds = (less.single, less.pair, less.left)
        more = [(f"{name}*", one) for (name, _), one in zip(named, kinds, strict=True)]
        named += more
    rows = [_agreement_row(name, one) for name, one in named if one is not None]
    heads = ["tape against", "mean difference, cm", "95 %", "lower limit, cm", "95 %"]
    heads += ["upper limit, cm", "95 %", "stems / hands"]
    beside = "girth over π less diameter"
    beside += f"; * without {all_of(found.off)}" if found.sound is not None else ""
    return table("Tapes less calipers", beside, heads, rows)


def ovality_words(found: TapesAndCalipers) -> str:
    """What the stems' out-of-roundness alone explains of the differences.

    found: tapes against calipers.
    """
    part = found.ovality
    known, count = int(np.isfinite(part.figure_cm).sum()), int(part.figure_cm.size)
    said = (
        f"For {known} of {count} differences other hands' readings of the stem tell how much of it "
        "is out-of-roundness"
    )
    if known < count:
        said += (
            ". For the rest they tell only from where to where it lies, if no stem is more than "
            f"{LARGEST_OUT_OF_ROUND_PERCENT:g} % longer than wide (an assumption)"
        )
    if found.left is not None:
        said += (
            f". With it taken out one difference spreads by {_sd(found.left.spread_cm)} cm instead "
            f"of {_sd(found.single.spread_cm)} cm"
        )
    return said + ". Two ripples a round are an approximation; the exact ellipse is a hair off it."


def _agreement_row(name: str, one: Agreement) -> list[str]:
    row = [name]
    for value, ends in (
        (one.mean_cm, one.mean_interval_cm),
        (one.lower_cm, one.lower_interval_cm),
        (one.upper_cm, one.upper_interval_cm),
    ):
        row += [signed(value), " to ".join(signed(end) for end in ends)]
    return [*row, f"{one.stems} / {one.hands}"]


def _cm(value: float) -> str:
    return f"{value:.2f}".rstrip("0").rstrip(".") if isfinite(value) else "–"


def _sd(value: float) -> str:
    if not isfinite(value):
        return "–"
    return minus(f"{value:.2f}" if value >= 0.1 or value == 0 else f"{value:.3f}")


def sizes_words(study: Practical) -> str:
    """The stems' sizes in words.

    study: of a class.
    """
    sizes = list(study.judged.sizes_cm.values())
    if not sizes:
        return ""
    least, most = min(sizes), max(sizes)
    return (
        f"Stems of {least:.0f} to {most:.0f} cm diameter (girth {pi * least:.0f} to "
        f"{pi * most:.0f} cm)"
    )
