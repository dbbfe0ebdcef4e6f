"""Rows of workbook 13: a cut by tape and calipers, its bark, its standing, and spoilt pictures."""

from __future__ import annotations

from collections.abc import Sequence

from mensura.estimates.areas import over_percent
from mensura.estimates.comparison import PRACTICE_WORDS
from mensura.estimates.comparison_rows import Row
from mensura.estimates.cut_end import CHOSEN_WORDS, CutEnd, cut_end
from mensura.estimates.cut_end_parts import UnderBark
from mensura.estimates.published_ovals import standings
from mensura.instruments.drawn_photograph import SpoiltPhotograph
from mensura.written import signed


def found_rows(found: CutEnd, known: CutEnd | None = None) -> list[Row]:
    """What an outline says of a cut.

    found: from the outline; known: the same cut by an outline that is known, None if none is.

    >>> from mensura.stems.outline import Outline
    >>> square = cut_end(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]))
    >>> found_rows(square)[0]
    {'figure': 'true area, cm²', 'found': '1600.0'}
    """
    figures = [
        ("true area, cm²", 1, [one.true_area_cm2 for one in _both(found, known)]),
        ("taut girth, cm", 2, [one.taut_girth_cm for one in _both(found, known)]),
        ("longest width, cm", 2, [one.ends.longest_cm for one in _both(found, known)]),
        ("shortest width, cm", 2, [one.ends.shortest_cm for one in _both(found, known)]),
        ("out of round, %", 1, [one.out_of_round_percent for one in _both(found, known)]),
    ]
    heads = ("found", "as it was drawn")
    return [
        {"figure": words}
        | {head: f"{value:.{digits}f}" for head, value in zip(heads, values, strict=False)}
        for words, digits, values in figures
    ]


def _both(found: CutEnd, known: CutEnd | None) -> Sequence[CutEnd]:
    return (found,) if known is None else (found, known)


def tape_rows(cut: CutEnd) -> list[Row]:
    """The tape's overestimate of the area in its two parts, beside what an oval would have.

    cut: worked out.

    >>> from mensura.stems.outline import Outline
    >>> square = cut_end(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]))
    >>> [row["area over, %"] for row in tape_rows(square)]
    ['+27.32', '+0.00', '+27.32', '+0.00']
    """
    parts = (
        ("the tape in all", cut.tape_over_percent),
        ("hollows that it spans", cut.hollows_percent),
        ("what a circle of its girth has more", cut.not_round_percent),
        ("a smooth ellipse as much out of round would have", cut.ellipse_over_percent),
    )
    return [{"part": words, "area over, %": signed(value)} for words, value in parts]


def practice_rows(cut: CutEnd) -> list[Row]:
    """Every practice in every direction: the error of the area, in per cent.

    cut: worked out. "nearer than the tape": in so many of a hundred directions.

    >>> from mensura.stems.outline import Outline
    >>> square = cut_end(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]))
    >>> practice_rows(square)[1]["least, %"]
    '−21.46 at 0°'
    """
    tape = signed(cut.tape_over_percent)
    rows: list[Row] = [
        {
            "instrument": "tape, any direction",
            "mean, %": tape,
            "least, %": tape,
            "most, %": tape,
            "nearer than the tape": "",
        }
    ]
    for one in cut.calipers:
        rows.append(
            {
                "instrument": "calipers, " + PRACTICE_WORDS[one.practice],
                "mean, %": signed(one.mean_over_percent),
                "least, %": f"{signed(one.least_over_percent)} at {one.least_deg:.0f}°",
                "most, %": f"{signed(one.most_over_percent)} at {one.most_deg:.0f}°",
                "nearer than the tape": f"{one.nearer_percent:.0f} of 100",
            }
        )
    for chosen in cut.chosen:
        rows.append(
            {
                "instrument": "calipers, " + CHOSEN_WORDS[chosen.practice],
                "mean, %": signed(chosen.over_percent),
                "least, %": "",
                "most, %": "",
                "nearer than the tape": "",
            }
        )
    return rows


def bark_rows(under: UnderBark | None) -> list[Row]:
    """The wood of a cut beside its bark.

    under: None where no wood is drawn, which leaves one row that says so.

    >>> bark_rows(None)
    [{'figure': 'no outline of the wood is drawn', 'value': ''}]
    """
    if under is None:
        return [{"figure": "no outline of the wood is drawn", "value": ""}]
    figures = (
        ("true area of the wood, cm²", f"{under.true_area_cm2:.1f}"),
        ("bark in the whole area, %", f"{under.bark_percent:.1f}"),
        ("mean thickness of the bark, cm", f"{under.mean_bark_cm:.2f}"),
        ("tape on the wood, area over the wood's, %", signed(under.tape_over_percent)),
        ("tape on the bark, area over the wood's, %", signed(under.over_bark_percent)),
    )
    return [{"figure": words, "value": value} for words, value in figures]


def standing_rows(cut: CutEnd) -> list[Row]:
    """Where a cut stands among published figures.

    cut: worked out.

    >>> from mensura.stems.outline import Outline
    >>> square = cut_end(Outline([[0, 0], [40, 0], [40, 40], [0, 40]]))
    >>> [row["this cut is"] for row in standing_rows(square)]
    ['above', 'within']
    """
    return [
        {
            "figure": one.published.figure,
            "this cut, %": signed(one.value_percent),
            "published, %": _span(one.published.least_percent, one.published.most_percent),
            "this cut is": one.place,
            "found on": one.published.found,
        }
        for one in standings(cut.tape_over_percent)
    ]


def _span(least: float, most: float) -> str:
    return f"over {least:g}" if most == float("inf") else f"{least:g} to {most:g}"


def spoilt_rows(photographs: Sequence[SpoiltPhotograph]) -> list[Row]:
    """What each spoilt photograph does to the figures, in per cent of what is true.

    photographs: each as it was drawn. The tape's excess in points: what is claimed less what is
    true; "put right": the area after marks or a correction, blank where no remedy helps but
    another photograph.

    >>> from mensura.instruments.drawn_photograph import spoilt_photographs
    >>> spoilt_rows(spoilt_photographs()[4:5])[0]["girth, %"]
    '+0.0'
    """
    rows: list[Row] = []
    for one in photographs:
        true, found = cut_end(one.true, 5.0), cut_end(one.found().outline, 5.0)
        again = one.put_right()
        right = None if again is None else over_percent(again.outline.area_cm2, true.true_area_cm2)
        girth = over_percent(found.taut_girth_cm, true.taut_girth_cm)
        rows.append(
            {
                "photograph": one.name,
                "area, %": signed(float(over_percent(found.true_area_cm2, true.true_area_cm2)), 1),
                "girth, %": signed(float(girth), 1),
                "tape's excess, points": signed(
                    found.tape_over_percent - true.tape_over_percent, 1
                ),
                "what to do": one.remedy,
                "then area, %": "" if right is None else signed(float(right), 1),
            }
        )
    return rows
