"""`mensura stand` after a practical: what is taken off, what is only said, what is refused."""

from __future__ import annotations

import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest

from mensura.disk.card_file import card_answer, write_card
from mensura.disk.stand_file import read_stand
from mensura.estimates.practical import Practical, study_practical
from mensura.estimates.quillmere_practical import quillmere_practical
from mensura.estimates.timber_chain import timber_chain
from mensura.instruments import card, check_class
from mensura.places import data_file

TREES, PLOTS = str(data_file("quillmere-trees.csv")), str(data_file("quillmere-plots.csv"))
WHO = ("--hand", "Q03", "--instrument", "T2")


@pytest.fixture(scope="module")
def study() -> Practical:
    return study_practical(quillmere_practical().readings)


@pytest.fixture
def ask(study: Practical, tmp_path: Path) -> Callable[..., list[str]]:
    """The command's words with a practical's file, some of its keys changed."""

    def words(*more: str, **changed: Any) -> list[str]:
        path = tmp_path / "p.json"
        path.write_text(json.dumps({**study.to_dict(), **changed}), "utf-8")
        return ["stand", TREES, "--plots", PLOTS, "--practical", str(path), *more]

    return words


def words(text: str) -> str:
    return " ".join(text.split())


def test_the_command_goes_the_workbooks_way(answered, ask, study: Practical) -> None:
    """From the file the same two hectares, corrections and shares as from the study itself."""
    found = answered(*ask(*WHO, "--form-factor", "0.45"))
    chain = timber_chain(study, read_stand(TREES, PLOTS), "Q03", "T2")
    for key, one in (("as_read", chain.as_read), ("", chain.corrected)):
        told = (found[key] if key else found)["per_hectare"]
        assert told["volume_m3"]["value"] == pytest.approx(one.per_hectare.volume_m3.value)
        assert told["basal_area_m2"]["se"] == pytest.approx(one.per_hectare.basal_area_m2.se)
    assert found["corrections"] == [one.to_dict() for one in chain.corrections]
    assert [one["origin"] for one in found["shares"]] == [
        "" if one.error is None else one.error.origin for one in chain.budget.shares
    ]
    assert found["budget"]["u"] == pytest.approx(chain.budget.u)
    species = [one["per_hectare"]["volume_m3"]["value"] for one in found["as_read"]["species"]]
    assert sum(species) == pytest.approx(chain.as_read.per_hectare.volume_m3.value)
    assert (found["inputs"]["hand"], found["inputs"]["instrument"]) == ("Q03", "T2")


def test_both_hectares_are_printed_and_why(run, ask) -> None:
    """As read, corrected, who was found sound and what was undone; what the others share."""
    said = run(*ask(*WHO)).stdout
    assert "Hand Q03: nothing was taken off; ±" in said
    assert "Tape T2: it reads 2.46 % low, and that was undone;" in words(said)
    assert "It reads low by 2.5 % (95 %:" in words(said)
    assert said.index("\nAs read ") < said.index("\nCorrected ")
    assert "the 2 other tapes, no card" in said
    drawn = run(*ask(*WHO, "--draws", "100")).stdout
    assert max(map(len, [*said.splitlines(), *drawn.splitlines()])) <= 80


def test_a_practical_alone_takes_nothing_off_and_says_so(run, answered, ask) -> None:
    """Who was off, that nothing was done about it, and whom the hands' error leaves out."""
    said = words(run(*ask()).stdout)
    assert (
        "The practical found off: hand Q04 (reads 2.06 % high) and tape T2 (reads 2.46 % low). "
        "Nothing was taken off these readings"
    ) in said
    assert "How far hands lie apart is taken without Q04." in said
    found = answered(*ask())
    assert (found["corrections"], found["as_read"]) == ([], None)
    plain = answered("stand", TREES, "--plots", PLOTS)
    assert found["per_hectare"] == plain["per_hectare"]
    hand = next(one for one in found["shares"] if (one["input"], one["new_for"]) == ("hand", "all"))
    assert 0.3 < hand["u_of_input"] < 0.6
    assert any("Nothing was taken off" in one for one in found["notes"])


def test_a_practical_that_found_nobody_off(run, ask, study: Practical) -> None:
    sound = {
        key: [{**one, "verdict": "sound"} for one in study.to_dict()[key]]
        for key in ("hands", "instruments")
    }
    told = words(run(*ask(**sound)).stdout)
    assert "The practical found no hand and no tape off that read girths." in told


def test_who_does_not_fit_is_refused(refused, ask, study: Practical) -> None:
    """Each in one sentence with the option's name."""
    said = refused(*ask("--hand", "Q77", "--instrument", "T2"))
    assert said == "--hand is 'Q77'; expected one of: Q01, Q02, Q03, Q04, Q05, Q06."
    said = refused(*ask("--hand", "Q03", "--instrument", "K1"))
    assert said == "--instrument is 'K1'; expected one that reads girths, as here: T1, T2, T3."
    hands = [
        {**one, "bias": None, "interval": None, "verdict": "cannot-tell"}
        if one["name"] == "Q03"
        else one
        for one in study.to_dict()["hands"]
    ]
    said = refused(*ask(*WHO, hands=hands))
    assert said == "--hand is 'Q03'; expected a code of which the practical can tell how it reads."
    said = refused(*ask("--hand", "Q03"))
    assert said == "--hand is given without --instrument; expected both."
    said = refused("stand", TREES, "--plots", PLOTS, *WHO)
    assert said == "--hand is given without --practical; expected both."
    assert refused(*ask("--hand", " ", "--instrument", "T2")).startswith("--hand is empty;")
    assert refused(*ask(*WHO, "--hands", "3")).startswith("--hands is 3 beside --hand;")
    assert refused(*ask(*WHO, "--errors-new")).startswith("--errors-new is given beside --hand;")


def test_a_reading_of_which_nothing_is_left(refused, ask, study: Practical) -> None:
    """A constant larger than the thinnest tree's girth; its row is named."""
    tools = [
        {**one, "bias": 60.0, "interval": [59, 61], "unit": "cm", "verdict": "reads-high"}
        for one in study.to_dict()["instruments"]
    ]
    said = refused(*ask(*WHO, instruments=tools))
    assert said.startswith("quillmere-trees.csv, row ")
    assert "of which the correction leaves nothing" in said


def test_cards_count_where_the_practical_used_them(
    run, answered, refused, ask, tmp_path: Path
) -> None:
    """T1's card at hand: its own error in place of the supposed one. One not used is refused."""
    for code in ("T1", "T2"):
        one = card([40, 80, 120, 160], [40.1, 80.0, 120.1, 160.1], instrument=code)
        write_card(tmp_path, code, card_answer(one, check_class(one, None)))
    by_card = (*WHO, "--card", str(tmp_path / "T1.json"))
    origins = [one["origin"] for one in answered(*ask(*by_card, cards_used=["T1"]))["shares"]]
    assert "card of T1" in origins
    assert "the other tape, no card" in origins
    said = refused(*ask(*by_card))
    assert said == (
        "T1.json is the card of T1; expected one that the practical used: it used none."
    )
    told = words(run(*ask(*WHO, cards_used=["T2"])).stdout)
    assert "the readings with T2 were corrected by its card first: these must have been" in told


def test_calipers_and_diameters(answered, ask, tmp_path: Path) -> None:
    """K1 stands 0.78 cm open: two trees of 30.78 cm by it are 30 cm."""
    (tmp_path / "t.csv").write_text(
        "plot,tree,diameter_cm,height_m\nA,1,30.78,20\nB,1,30.78,20\n", "utf-8"
    )
    (tmp_path / "l.csv").write_text("plot,area_m2\nA,500\nB,500\n", "utf-8")
    asked = ask("--hand", "Q01", "--instrument", "K1")
    asked[1], asked[3] = str(tmp_path / "t.csv"), str(tmp_path / "l.csv")
    found = answered(*asked)
    off = found["corrections"][1]
    assert (off["unit"], off["kind"]) == ("cm", "diameter")
    assert off["taken_off"] == pytest.approx(0.78, abs=0.1)
    ratio = (
        found["per_hectare"]["basal_area_m2"]["value"]
        / found["as_read"]["per_hectare"]["basal_area_m2"]["value"]
    )
    assert ratio == pytest.approx(((30.78 - off["taken_off"]) / 30.78) ** 2)
