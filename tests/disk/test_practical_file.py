"""What a practical printed, read again: as the study itself, and refused where it is damaged."""

from __future__ import annotations

import json
from typing import Any

import pytest

from mensura.disk.check_file import FileError
from mensura.disk.errors_filled import errors_of_told
from mensura.disk.practical_file import found_of, parse_told, read_practical
from mensura.estimates.class_correction import class_found, corrections_of, errors_after
from mensura.estimates.practical import Practical, study_practical
from mensura.estimates.quillmere_practical import quillmere_practical

VERDICT = {
    "name": "T2", "kind": "girth", "verdict": "reads-low", "bias": -2.5,
    "interval": [-2.7, -2.3], "unit": "%", "why": "It reads low.",
}  # fmt: skip
ROW = {
    "instrument": "T1", "kind": "girth", "stems": 9,
    "repeatability_cm": 0.2, "between_hands_cm": 0.6,
}  # fmt: skip


@pytest.fixture(scope="module")
def study() -> Practical:
    return study_practical(quillmere_practical().readings)


def practical(**more: Any) -> str:
    return json.dumps({"hands": [], "instruments": [], "precision": [ROW], **more})


def test_the_file_says_what_the_study_says(study: Practical, tmp_path) -> None:
    """One rule for both: the same verdicts, so the same corrections and the same errors."""
    path = tmp_path / "p.json"
    path.write_text(json.dumps(study.to_dict()), "utf-8")
    found = found_of(read_practical(path))
    assert found == class_found(study)
    for hand, tool, kind in (("Q03", "T2", "girth"), ("Q04", "K1", "diameter")):
        off = corrections_of(found, hand, tool, kind)
        assert off == corrections_of(study, hand, tool, kind)
        assert errors_after(found, off) == errors_after(study, off)


def test_who_is_off_is_left_out_of_how_far_hands_lie_apart(study: Practical) -> None:
    """Q04 alone makes it more than twice as large; the origin says who is left out."""
    told = study.to_dict()
    _, between = errors_of_told(parse_told(json.dumps(told)), "girth")
    assert between.origin.endswith("without Q04, found off")
    for row in told["precision"]:
        row["without_off"] = None
    _, all_hands = errors_of_told(parse_told(json.dumps(told)), "girth")
    assert all_hands.origin.endswith("with Q04, found off")
    assert all_hands.u > 2 * between.u
    (row,) = [one for one in study.precision if one.instrument == "T3"]
    assert row.without_off is not None
    _, by_one = errors_of_told(parse_told(json.dumps(study.to_dict())), "girth", "T3")
    assert by_one.u == pytest.approx(row.without_off.between_hands_cm, rel=5e-3)


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"bias": "2"}, "instruments, T2, bias, is '2'; expected a number from -99 to 1000"),
        ({"bias": -100}, "instruments, T2, bias, is -100"),
        ({"bias": int("9" * 400)}, "instruments, T2, bias, is"),
        ({"interval": [1]}, "interval, is [1]; expected two numbers, the lower first"),
        ({"interval": [2, 1]}, "interval, is [2, 1]"),
        ({"unit": "mm"}, "unit, is 'mm'; expected one of: %, cm"),
        ({"verdict": "odd"}, "verdict, is 'odd'; expected one of: sound, reads-high"),
        ({"kind": ["girth"]}, "kind, is ['girth']"),
        ({"name": "=cmd()"}, "instruments, name, is '=cmd()'; expected a code like T3"),
        ({"why": "\x1b[2J"}, "why, is '\\x1b[2J'"),
        ({"spreads": True, "spread_percent": -1}, "spread_percent, is -1"),
    ],
)
def test_a_verdict_that_cannot_be_used(changed: dict[str, Any], says: str) -> None:
    """Said with the file, the code and the key."""
    text = practical(instruments=[{**VERDICT, **changed}])
    with pytest.raises(FileError) as caught:
        found_of(parse_told(text, "p.json"))
    assert says in str(caught.value)
    assert str(caught.value).isprintable()


@pytest.mark.parametrize(
    ("changed", "says"),
    [
        ({"hands": 3}, "is no practical"),
        ({"instruments": ["T2"]}, "is no practical"),
        ({"cards_used": "T1"}, "cards_used, is 'T1'; expected a list of codes"),
        ({"cards_used": [1]}, "cards_used, is 1; expected a code"),
        ({"precision": [{**ROW, "without_off": 1}]}, "without_off, is 1"),
        ({"precision": [{**ROW, "hands_off": 1}]}, "hands_off, is 1"),
        ({"precision": [{**ROW, "hands_off": ["<b>"]}]}, "hands_off, is '<b>'"),
    ],
)
def test_a_practical_that_cannot_be_used(changed: dict[str, Any], says: str) -> None:
    with pytest.raises(FileError) as caught:
        found_of(parse_told(practical(**changed), "p.json"))
    assert says in str(caught.value)


def test_of_whom_nothing_is_known() -> None:
    """null stands for a bias that nothing tells; what it would be told in does not matter then."""
    text = practical(instruments=[{**VERDICT, "bias": None, "interval": None, "unit": None}])
    assert found_of(parse_told(text)).instruments[0].bias is None
