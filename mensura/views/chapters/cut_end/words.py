"""What the cut-end panel says: which is nearer here, and what each practice makes of the disc."""

from __future__ import annotations

import html

from mensura.estimates.comparison import PRACTICE_WORDS
from mensura.estimates.cut_end import CHOSEN_WORDS
from mensura.estimates.published_ovals import standings
from mensura.estimates.stand_words import SOLD_ON_FIGURES
from mensura.teaching.panels.cut_end import CutEndShown
from mensura.views.kit.table import row_html, table_html
from mensura.written import signed

CAUTION = (
    "<p>The outline is taken for the truth; the discs are invented. Assumed: sound instruments and "
    f"a steady hand. {SOLD_ON_FIGURES}</p>"
)


def status(n: CutEndShown) -> str:
    """One sentence that says which instrument is nearer now.

    n: what the panel shows.
    """
    verdict = {
        "tape": "the tape is nearer", "calipers": "the calipers are nearer", "": "equally near",
    }[n.nearer]  # fmt: skip
    return (
        f"Calipers begun at {n.direction_deg}°, {PRACTICE_WORDS[n.practice]}: "
        f"{signed(n.now_percent)} %. Tape: {signed(n.disc.cut.tape_over_percent)} %. Now {verdict}."
    )


def readout(n: CutEndShown) -> str:
    """The tables below the picture: the cut, the tape's two parts, every practice.

    n: what the panel shows.
    """
    cut = n.disc.cut
    ends = cut.ends
    body = row_html(
        "Tape", signed(cut.tape_over_percent), signed(cut.tape_over_percent),
        "any direction", "any direction", "",
    )  # fmt: skip
    for one in cut.calipers:
        body += row_html(
            "Calipers, " + PRACTICE_WORDS[one.practice],
            signed(n.over_percent[one.practice]),
            signed(one.mean_over_percent),
            f"{signed(one.least_over_percent)} at {one.least_deg:g}°",
            f"{signed(one.most_over_percent)} at {one.most_deg:g}°",
            f"{one.nearer_percent:.0f} of 100",
        )
    for chosen in cut.chosen:
        words = "Calipers, " + CHOSEN_WORDS[chosen.practice]
        body += row_html(words, signed(chosen.over_percent), "", "", "", "")
    names = (
        "Error of the area, %", "Here", "Mean", "Least", "Most", "Nearer than the tape",
    )  # fmt: skip
    wood = cut.under_bark
    bark = (
        f" Bark is {wood.bark_percent:.1f} % of the area; tape and calipers lie on it."
        if wood
        else ""
    )
    lines = [
        f"True area {cut.true_area_cm2:.1f} cm², taut girth {cut.taut_girth_cm:.2f} cm; longest "
        f"width {ends.longest_cm:.2f} cm at {ends.longest_deg:.0f}°, shortest "
        f"{ends.shortest_cm:.2f} cm at {ends.shortest_deg:.0f}°.{bark}",
        f"The tape's {signed(cut.tape_over_percent)} % has two parts: "
        f"{signed(cut.hollows_percent)} % are hollows that it spans and counts as wood, "
        f"{signed(cut.not_round_percent)} % that a circle of its girth has more. A smooth ellipse "
        f"as much out of round ({cut.out_of_round_percent:.1f} %) would have "
        f"{signed(cut.ellipse_over_percent)} %.",
        _published(n),
    ]
    told = "".join(f"<p>{html.escape(line)}</p>" for line in lines)
    return table_html(names, body) + told + CAUTION


def _published(n: CutEndShown) -> str:
    """Where the disc stands in the one published span of areas."""
    one = standings(n.disc.cut.tape_over_percent)[0]
    span = one.published
    return (
        f"Published, for {span.found}: {span.least_percent:g} to {span.most_percent:g} %. This "
        f"disc's tape is {one.place} that."
    )
