"""What the panel on tape against calipers says: one sentence, the limits, and what they hold."""

from __future__ import annotations

from mensura.estimates.ovality_part import OF_A_PAIR
from mensura.teaching.panels.differences import LEAST_TIMES, MOST_TIMES, DifferencesShown
from mensura.views.kit.table import row_html, table_html
from mensura.written import signed

#: What the spread consists of, by what it is called at its bar.
PARTS = {
    "between_stems_cm": "between stems",
    "between_hands_cm": "between hands",
    "rest_cm": "the rest",
    "spread_cm": "together, s",
}
ASSUMED = (
    "<p>An invented class: stems are exact ellipses, each from "
    f"{LEAST_TIMES:g} to {MOST_TIMES:g} times as much out of round as set; sound hands differ by "
    "0.2 %. The limits hold for single readings by hands of this kind, if differences spread "
    "normally and as much on large stems as on small ones; their intervals are an approximation. "
    "The parts are variances: their squares add up to that of s. A part whose variance comes out "
    "below nought is shown as 0. The curve of the oval is an approximation too, that of a stem of "
    "mean size.</p>"
)


def oval_word(n: DifferencesShown) -> str:
    """What was done about the stems' shape in `n`, in a few words."""
    if n.pair:
        return "a pair's mean is nearly free of the oval"
    if n.taken_out:
        return "the oval's part is taken out"
    if n.asked_out:
        return "the oval's part is not known and stays in"
    return "the oval's part is left in"


def status(n: DifferencesShown) -> str:
    """One sentence: mean and limits of the differences of `n`, and what of the oval is in them."""
    one = n.agreement
    what = "a pair's mean" if n.pair else "one caliper reading"
    low, high = (signed(end, 2) for end in (one.lower_cm, one.upper_cm))
    return (
        f"Tape less {what}: {signed(one.mean_cm, 2)} cm on average, 95 % of differences from {low} "
        f"to {high} cm; {oval_word(n)}."
    )


def oval_said(n: DifferencesShown) -> str:
    """What the class's readings know of the stems' shape in `n`, in a sentence or two."""
    if n.pair:
        return OF_A_PAIR
    count, all_of_them = int(n.known.sum()), n.known.size
    if not count:
        why = (
            "all hold the calipers alike, so that nobody knows how wide a stem is in other "
            "directions"
            if n.directions != "as each one stands"
            else "too few other hands read a stem in other directions"
        )
        return f"Of no difference the oval's part is known: {why}."
    said = (
        f"What the other hands read of the stem gives the oval's part of {count} of {all_of_them} "
        "differences; with fewer than three directions there is only a range."
    )
    if n.taken_out:
        said += (
            f" Taken out of those it leaves s = {n.agreement.spread_cm:.2f} cm; left in all, s = "
            f"{n.left_in.spread_cm:.2f} cm. The others' own spread has come in with it."
        )
    return said


def trend_said(n: DifferencesShown) -> str:
    """Whether the differences of `n` grow with the stems, in a sentence; nothing if they do not."""
    if n.trend is None or not n.trend.grows:
        return ""
    low, high = (signed(100 * end, 1) for end in n.trend.rise_interval)
    return (
        f" They change with the stems' size, by {signed(100 * n.trend.rise, 1)} % of it (95 %: "
        f"{low} to {high} %): limits in cm are then too wide on small stems and too narrow on "
        "large ones."
    )


def readout(n: DifferencesShown) -> str:
    """The table below the picture: mean and limits of `n` with their intervals, and the parts."""
    one = n.agreement
    rows = (
        ("Upper limit", one.upper_cm, one.upper_interval_cm),
        ("Mean", one.mean_cm, one.mean_interval_cm),
        ("Lower limit", one.lower_cm, one.lower_interval_cm),
    )
    body = "".join(
        row_html(title, signed(value, 2), signed(ends[0], 2), signed(ends[1], 2))
        for title, value, ends in rows
    )
    body += row_html(
        "s of a difference", f"{one.spread_cm:.2f}", *(f"{x:.2f}" for x in one.spread_interval_cm)
    )
    parts = "".join(
        row_html(f"s {name}", f"{getattr(one, key):.2f}", "", "")
        for key, name in list(PARTS.items())[:-1]
    )
    heads = ("Tape less calipers", "cm", "95 % from", "to")
    return (
        table_html(heads, body + parts) + f"<p>{one.stems} stems, {one.hands} hands, {one.cells} "
        f"differences. {oval_said(n)}{trend_said(n)}</p>" + ASSUMED
    )
