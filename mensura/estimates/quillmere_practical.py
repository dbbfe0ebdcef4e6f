"""The invented practical of workbook 11: what was planted in data/quillmere-practical.csv.

Six hands, 18 stems, three tapes and two pairs of calipers of Quillmere Practice Wood, a made-up
training forest. A class guesses before it looks here.
"""

from __future__ import annotations

from mensura.estimates.comparison_rows import Row
from mensura.estimates.drawn_practical import (
    SLIPS,
    DrawnPractical,
    Planted,
    PracticalClass,
    drawn_practical,
)

#: Names the draw.
SEED = 11
#: Every stem by every hand, a tape laid three times.
CLASS = PracticalClass(
    hand_count=6, stem_count=18, tape_count=3, caliper_count=2, least_repeats=3, visited_share=1.0
)
#: Tape T2 has stretched by so much, and so counts too few centimetres.
STRETCH_PERCENT = 2.5
PLANTED = (
    Planted("Q04", "girth", share_percent=2.0),
    Planted("T2", "girth", share_percent=100 / (1 + STRETCH_PERCENT / 100) - 100),
    Planted("K1", "diameter", off_cm=0.8),
)


def quillmere_practical() -> DrawnPractical:
    """The practical as it was drawn; the file holds the same readings.

    >>> practical = quillmere_practical()
    >>> len(practical.readings), [one.who for one in practical.planted]
    (492, ['Q04', 'T2', 'K1'])
    """
    return drawn_practical(SEED, PLANTED, SLIPS, CLASS)


def planted_rows() -> list[Row]:
    """What was planted, one fault a row, for a page's table.

    Rows: who, reads (girth or diameter), form, planted (with its unit).

    >>> planted_rows()[1]
    {'who': 'T2', 'reads': 'girth', 'form': 'share', 'planted': '−2.44 %'}
    """
    rows: list[Row] = []
    for one in PLANTED:
        share = one.off_cm == 0
        amount = f"{one.share_percent:+.2f} %" if share else f"{one.off_cm:+.2f} cm"
        rows.append(
            {
                "who": one.who,
                "reads": one.kind,
                "form": "share" if share else "constant",
                "planted": amount.replace("-", "−"),
            }
        )
    return rows
