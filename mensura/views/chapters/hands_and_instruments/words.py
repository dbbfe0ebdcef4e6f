"""What the panel on hands and instruments says: one sentence, and both answers in one table."""

from __future__ import annotations

import html
from collections.abc import Sequence

from mensura.estimates.hand_verdict import Judged
from mensura.teaching.panels.hands_and_instruments import HandsShown
from mensura.views.kit.table import row_html, table_html
from mensura.written import signed

#: Verdicts as they stand in a sentence.
VERDICTS = {
    "sound": "sound",
    "reads-high": "reads high",
    "reads-low": "reads low",
    "spreads": "spreads",
    "cannot-tell": "cannot tell",
}
ASSUMED = (
    "<p>An invented class: six hands, three tapes, every hand on every stem; sound hands differ by "
    "0.2 %, lay the tape otherwise on each stem by 0.3 %, and read again to 0.2 cm (assumptions of "
    "ours). The quick look is a median of differences from medians. It holds hand and tape apart "
    "only roughly: a tape that is off pulls the other tapes the other way. The model weighs hands, "
    "tapes and stems together.</p>"
)


def amount(one: Judged) -> str:
    """A bias as the model tells it, with its unit.

    one: of the verdicts.
    """
    if one.bias is None:
        return ""
    return f"{signed(one.bias, 1 if one.unit == '%' else 2)} {one.unit}"


def verdict_word(one: Judged) -> str:
    """What stands at a row: the verdict, and how much where it is off.

    one: of the verdicts.
    """
    if one.verdict in ("reads-high", "reads-low"):
        return f"{VERDICTS[one.verdict]}, {amount(one)}"
    if one.verdict == "spreads" and one.spread_times:
        return f"spreads {one.spread_times:.1f} times"
    return VERDICTS[one.verdict]


def _listed(many: Sequence[str]) -> str:
    return " and ".join([", ".join(many[:-1]), many[-1]] if len(many) > 1 else many)


def quick_word(n: HandsShown) -> str:
    """Who is farthest off by the quick look at `n`."""
    looks = dict(zip(n.hands, n.hand_look_percent, strict=True))
    looks |= dict(zip(n.tapes, n.tape_look_percent, strict=True))
    most = max(looks, key=lambda code: abs(looks[code]))
    return f"farthest off by the quick look is {most}, {signed(looks[most], 1)} %"


def status(n: HandsShown) -> str:
    """One sentence: what the model says of `n`, or, while it is not asked, the quick look."""
    if not n.judged:
        return f"The model is not asked; {quick_word(n)}."
    off = [f"{one.name} {verdict_word(one)}{_form(one)}" for one in n.accused]
    vague = [one.name for one in n.judged if one.verdict == "cannot-tell"]
    said = _listed(off) if off else "nobody is off"
    if len(vague) == len(n.judged):
        said = "it cannot tell of anyone"
    elif vague:
        said += f"; it cannot tell of {_listed(vague)}"
    return f"The model: {said}; {quick_word(n)}."


def _form(one: Judged) -> str:
    if one.verdict == "spreads":
        return ""
    return {"share": " (a share)", "constant": " (a constant)"}.get(one.form, " (form unclear)")


def readout(n: HandsShown) -> str:
    """The table below the picture: the quick look at `n` and the model's verdicts, row by row."""
    looks = [*n.hand_look_percent, *n.tape_look_percent]
    by = {one.name: one for one in n.judged}
    body = ""
    for code, look in zip((*n.hands, *n.tapes), looks, strict=True):
        one = by.get(code)
        if one is None:
            cells = ["not asked", "", ""]
        else:
            span = ""
            if one.interval is not None:
                digits = 1 if one.unit == "%" else 2
                low, high = (signed(end, digits) for end in one.interval)
                span = f"{low} to {high} {one.unit}"
            cells = [VERDICTS[one.verdict], amount(one), span]
        body += row_html(code, f"{signed(look, 2)} %", *cells)
    heads = ("", "Quick look", "Model's verdict", "Bias", "95 %")
    said = "".join(
        f"<li>{one.name}: {html.escape(one.why)}</li>" for one in n.judged if one.verdict != "sound"
    )
    why = f"<ul>{said}</ul>" if said else ""
    better = "share" if n.share_left_cm < n.constant_left_cm else "constant"
    form = (
        f"<p>{n.looked_at}, by the quick look: a share of {signed(n.share_percent, 1)} % leaves "
        f"{n.share_left_cm:.2f} cm on average, a constant of {signed(n.constant_cm, 2)} cm leaves "
        f"{n.constant_left_cm:.2f} cm: the {better} lies nearer. With nobody off neither means "
        "anything.</p>"
    )
    return table_html(heads, body) + why + form + ASSUMED
