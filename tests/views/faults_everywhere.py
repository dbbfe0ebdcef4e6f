"""Where each fault is to be found, looked up where it is shown: no list here repeats the rows."""

from __future__ import annotations

from mensura.instruments.fault import INSTRUMENTS, JAWS, PLACES
from mensura.instruments.faults import FAULTS


def found(place: str, instrument: str) -> set[str]:
    """Names of the instrument's faults that a place shows today."""
    from mensura.instruments.typical import typical_sizes_cm
    from mensura.teaching.games.causes import CAUSES
    from mensura.teaching.games.picture_rounds import SIGHTS
    from mensura.views.chapters import all_faults, calipers, condition, laying

    tape = instrument == "tape"
    if place == "chapter panel":
        shown = (laying, condition) if tape else (calipers,)
        return {key for panel in shown for key in panel.DRAWN}
    if place == "all faults":
        # the rows of the picture itself, between the girth or the width and the reading
        picture = all_faults.AllFaultsPicture()
        from mensura.views.kit.live import Live

        Live(picture).paint(all_faults.numbers(**all_faults.SOUND))
        axes = (picture.read if tape else picture.width_read).axes
        return {label.get_text() for label in axes.get_yticklabels()[1:-1]}
    if place == "typical sizes":
        words = typical_sizes_cm(instrument)
        return {
            row.key
            for row in FAULTS
            if row.of in INSTRUMENTS[instrument]
            and row.typical
            and {one.words for one in row.typical if one.words} & set(words)
        }
    if place == "what each costs":
        from mensura.estimates.fault_costs import fault_costs
        from mensura.views.stills.fault_costs import CostsPicture

        costs = fault_costs()
        # in the chart's own rows, and in the words beside it
        rows = CostsPicture(costs).rows
        alt = CostsPicture(costs).describe(costs)
        return {
            one.fault
            for one, row in zip(costs, rows, strict=True)
            if one.instrument == instrument and one.words in row.words and row.words in alt
        }
    if place == "what went wrong":
        return set(CAUSES) if tape else set()
    return {key for key, one in SIGHTS.items() if (one.fault.of == JAWS) != tape}


def wanting() -> list[str]:
    """Each fault that is missing where it belongs, or there without belonging there."""
    lines = []
    for place, kinds in PLACES.items():
        for instrument, own in INSTRUMENTS.items():
            here = found(place, instrument)
            rows = {row.key: row for row in FAULTS if row.of in own and row.of in kinds}
            belong = {key for key, row in rows.items() if row.belongs_in(place)}
            lines += [f"{key}: not in {place} of the {instrument}" for key in belong - here]
            lines += [f"{key}: left out of {place}, but there" for key in here - belong]
    return sorted(lines)
