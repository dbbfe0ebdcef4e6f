"""Rows of growth and of its noise, as pages show them: figures side by side, and none new."""

from __future__ import annotations

from collections.abc import Sequence

from mensura.estimates.comparison_rows import Row
from mensura.estimates.growth import (
    SAME,
    Again,
    Growth,
    ReadingDoubts,
    growth_parts,
    least_growth,
    stands_out_after_years,
)
from mensura.estimates.shrunk import shrinking_causes
from mensura.estimates.stand_growth import u_mean_growth_cm

#: What the second reading may have in common with the first, in words.
COMBINATIONS: dict[str, Again] = {
    "same tape, hand and season": SAME,
    "another hand": Again(hand=False),
    "another tape": Again(tape=False),
    "another season": Again(season=False),
    "another tape and hand": Again(tape=False, hand=False),
}


def figures(one: Growth) -> list[Row]:
    """A growth by its figures, one a row.

    one: of a stem. Rows: figure (with its unit), value, u, a_year.
    """
    time = one.between_years
    return [
        {"figure": words, "value": value, "u": u, "a_year": value / time}
        for words, value, u in (
            ("girth, cm", one.growth_cm, one.u_growth_cm),
            ("diameter, cm", one.diameter_growth_cm, one.u_diameter_growth_cm),
            ("area, cm²", one.area_growth_cm2, one.u_area_growth_cm2),
        )
    ]


def parts_shared_and_not(
    first_girth_cm: float, second_girth_cm: float, doubts: ReadingDoubts | None = None
) -> list[Row]:
    """What each source makes of a growth, where both readings share it and where they do not.

    first_girth_cm, second_girth_cm: cm; doubts: of each reading. Rows: source, same_cm, other_cm;
    the first two sources are new with each reading in either case.

    >>> [row["source"] for row in parts_shared_and_not(100.0, 105.0)][2]
    "the tape's zero"
    """
    none = Again(tape=False, hand=False, season=False)
    same = growth_parts(first_girth_cm, second_girth_cm, doubts)
    other = growth_parts(first_girth_cm, second_girth_cm, doubts, none)
    return [
        {"source": one.words, "same_cm": one.u_cm(), "other_cm": two.u_cm()}
        for one, two in zip(same, other, strict=True)
    ]


def years_needed(
    girth_cm: float, growth_a_year_cm: float, doubts: ReadingDoubts | None = None
) -> list[Row]:
    """How long to wait, by what the second reading has in common with the first.

    girth_cm: at the first reading, cm; growth_a_year_cm: of girth; doubts: of each reading. Rows:
    second_reading, chance_cm, found_cm, wait_years.

    >>> [round(row["wait_years"], 1) for row in years_needed(100.0, 1.0)]
    [0.9, 1.3, 1.2, 1.0, 1.5]
    """
    rows: list[Row] = []
    for words, again in COMBINATIONS.items():
        least = least_growth(girth_cm, doubts, again)
        rows.append(
            {
                "second_reading": words,
                "chance_cm": least.chance_cm,
                "found_cm": least.found_cm,
                "wait_years": stands_out_after_years(girth_cm, growth_a_year_cm, doubts, again),
            }
        )
    return rows


def many_stems(
    stem_counts: Sequence[int],
    girth_cm: float,
    growth_cm: float,
    grows_apart_cm: float,
    doubts: ReadingDoubts | None = None,
) -> list[Row]:
    """How sure a mean growth is, by the number of stems, with the same tape and hand and without.

    stem_counts: how many stems, one a row; girth_cm, growth_cm: means; grows_apart_cm: standard
    deviation of true growths; doubts: of each reading. Rows: stem_count, same_cm, other_cm.
    """
    both = SAME, COMBINATIONS["another tape and hand"]
    return [
        {
            "stem_count": count,
            **{
                name: u_mean_growth_cm(count, girth_cm, growth_cm, grows_apart_cm, doubts, again)
                for name, again in zip(("same_cm", "other_cm"), both, strict=True)
            },
        }
        for count in stem_counts
    ]


def smaller_than_before(
    girth_cm: float, shrunk_cm: float, doubts: ReadingDoubts | None = None, again: Again = SAME
) -> list[Row]:
    """Causes of a growth below nought, in the order to look for them.

    girth_cm: at the first reading, cm; shrunk_cm: first less second, cm; doubts, again: of the
    readings. Rows: cause, usual_cm, most_cm, can_be_all, assumed, look, source.

    >>> smaller_than_before(125.0, 0.6)[0]["cause"]
    "both readings' own scatter"
    """
    answer = {True: "yes", False: "no", None: "unknown"}
    return [
        {
            "cause": one.words,
            "usual_cm": one.size_cm if one.size_cm is not None else "unknown",
            "most_cm": one.most_cm if one.most_cm is not None else "unknown",
            "can_be_all": answer[one.reaches],
            "assumed": one.assumed,
            "look": one.look,
            "source": one.source,
        }
        for one in shrinking_causes(girth_cm, shrunk_cm, doubts, again)
    ]
