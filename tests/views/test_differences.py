"""Where two numbers are shown and how far they are apart beside them, the three agree as printed.

Whoever subtracts what stands there must come to what stands there, at every state of a panel.
"""

from __future__ import annotations

import re
from decimal import Decimal
from typing import Any

import numpy as np
import pytest

from mensura.views.chapters import panels
from mensura.views.kit.panel import Panel

#: "134.84 cm for 132.02 cm: +2.82 cm", "12.00 became 12.10 cm (+0.10 cm)", "12.10 cm: +0.10 cm".
PAIRS = (
    re.compile(r"reads ([\d.]+) cm for ([\d.]+) cm: ([+−]?[\d.]+) cm"),
    re.compile(r"([\d.]+) cm under bark\. The wood has ([\d.]+) cm: ([+−]?[\d.]+) cm"),
)
#: Panels that show shares or doubts, and no two numbers beside what they are apart.
NO_DIFFERENCES = {
    "all_faults", "budget", "cut_end", "detectable", "differences", "hands_and_instruments", "log",
    "plots", "tape_card", "timber_budget", "which_instrument",
}  # fmt: skip
TURNED = re.compile(r"Diameter ([\d.]+) became ([\d.]+) cm \(([+−]?[\d.]+) cm\)")
ROW = re.compile(r"<tr>(.*?)</tr>", re.S)


def number(text: str) -> Decimal:
    return Decimal(text.replace("−", "-").replace("+", ""))


def states(panel: Panel[Any]) -> list[dict[str, Any]]:
    """Sixty states, the same in every run; of what is gone through in steps, all is told."""
    draw = np.random.default_rng(12)
    found = []
    for _ in range(60):
        state = panel.start()
        for one in panel.controls:
            steps = round((one.greatest - one.least) / one.step)
            value = one.least + int(draw.integers(0, steps + 1)) * one.step
            state[one.name] = one.check(round(value, 9))
        if panel.stepper:
            state[panel.stepper.name] = panel.stepper.count
        found.append(state)
    return found


def triples(panel: Panel[Any], state: dict[str, Any]) -> list[tuple[Decimal, Decimal, Decimal]]:
    """All (value, from, apart) that a panel shows in one state."""
    numbers = panel.numbers(**state)
    readout, said = panel.readout(numbers), panel.status(numbers)
    found = [one for form in PAIRS for one in form.findall(said)]
    found += [(b, a, c) for a, b, c in TURNED.findall(readout)]
    rows = [
        [re.sub(r"<[^>]+>", "", cell) for cell in re.findall(r"<t[hd][^>]*>(.*?)</t[hd]>", row)]
        for row in ROW.findall(readout)
    ]
    head = rows[0] if rows else []
    by = {name: index for index, name in enumerate(head)}
    for value, base, apart in (
        ("As read", "True", "Off by"),
        ("Found", "True", "Off by"),
        ("As read", "True", "Error"),
        ("As read", "By the rule", "Error"),
        ("Corrected", "True", "Left over"),
    ):
        if {value, base, apart} <= by.keys():
            found += [
                (row[by[value]], row[by[base]], row[by[apart]])
                for row in rows[1:]
                if len(row) == len(head)
            ]
    if {"Area, cm²", "Error, cm²"} <= by.keys():
        true = next(row[by["Area, cm²"]] for row in rows[1:] if row[0].startswith("True area"))
        found += [
            (row[by["Area, cm²"]], true, row[by["Error, cm²"]])
            for row in rows[1:]
            if len(row) == len(head) and row[by["Error, cm²"]]
        ]
    return [(number(value), number(base), number(apart)) for value, base, apart in found]


@pytest.mark.parametrize("name", sorted(panels()))
def test_what_is_subtracted_comes_out_as_printed(name: str) -> None:
    """In the sentence and in the table."""
    panel = panels()[name]
    shown = [triple for state in states(panel) for triple in triples(panel, state)]
    assert [one for one in shown if one[0] - one[1] != one[2]] == []
    if name not in NO_DIFFERENCES:
        assert len(shown) >= 60
