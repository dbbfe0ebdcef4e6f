"""`mensura stand` and `mensura logs` by cards: one corrects, several cannot, and both say so."""

from __future__ import annotations

import json
from collections.abc import Callable
from math import pi
from pathlib import Path
from typing import Any

import pytest

from mensura.disk.card_file import card_answer, write_card
from mensura.estimates.practical import Practical, study_practical
from mensura.estimates.quillmere_practical import quillmere_practical
from mensura.instruments import card, check_class
from mensura.places import data_file

TREES, PLOTS = str(data_file("quillmere-trees.csv")), str(data_file("quillmere-plots.csv"))
STAND = ("stand", TREES, "--plots", PLOTS)
LOGS = ("logs", str(data_file("quillmere-logs.csv")))
PLACES = [40.0, 80.0, 120.0, 160.0]


@pytest.fixture
def cards(tmp_path: Path) -> Path:
    """T5 reads 2 % short and 1.5 cm too much, T2 6 cm too much; calipers K1 stand 0.5 cm open."""
    made = [
        card(PLACES, [1.5 + 0.98 * one for one in PLACES], instrument="T5"),
        card(PLACES, [6 + one for one in PLACES], instrument="T2"),
        card([20, 40, 60], [20.5, 40.5, 60.5], instrument="K1", kind="calipers"),
        card([50, 100], [50, 100], instrument="T1"),
    ]
    for one in made:
        write_card(tmp_path, one.instrument, card_answer(one, check_class(one, None)))
    return tmp_path


@pytest.fixture
def small(tmp_path: Path) -> Callable[..., list[str]]:
    """The command's words for trees of 20 m with these readings on one plot of 500 m²."""

    def words(*readings: float, column: str = "girth_cm") -> list[str]:
        rows = "".join(f"A,{at},{one!r},20\n" for at, one in enumerate(readings))
        (tmp_path / "t.csv").write_text(f"plot,tree,{column},height_m\n{rows}", "utf-8")
        (tmp_path / "p.csv").write_text("plot,area_m2\nA,500\n", "utf-8")
        return ["stand", str(tmp_path / "t.csv"), "--plots", str(tmp_path / "p.csv")]

    return words


def words(text: str) -> str:
    return " ".join(text.split())


def area(found: dict[str, Any]) -> float:
    return float(found["per_hectare"]["basal_area_m2"]["value"])


def test_one_card_corrects_the_stand(answered, run, cards: Path, small) -> None:
    """Each girth by the line, by hand; as read beside it; the error is what the card leaves."""
    ask = [*small(60.0, 100.0, 140.0), "--card", str(cards / "T5.json")]
    found = answered(*ask)
    hectare = lambda girths: 20 * sum(g * g for g in girths) / (4 * pi) / 1e4  # noqa: E731
    assert area(found["as_read"]) == pytest.approx(hectare([60, 100, 140]))
    assert area(found) == pytest.approx(hectare([(g - 1.5) / 0.98 for g in (60, 100, 140)]))
    (off,) = found["corrections"]
    assert (off["name"], off["by"], off["kind"]) == ("T5", "card", "girth")
    (own,) = [one for one in found["shares"] if one["input"] == "instrument"]
    assert own["origin"].startswith("card of T5, for readings corrected by it, at a girth of")
    said = run(*ask).stdout
    assert said.index("Tape T5, by its card:") < said.index("\nAs read ")
    assert said.index("\nAs read ") < said.index("\nCorrected ")
    assert "outside the marks" not in said
    assert max(map(len, said.splitlines())) <= 80
    assert any(one.startswith("Tape T5, by its card") for one in found["notes"])


def test_calipers_correct_diameters(answered, cards: Path, small) -> None:
    """Half a cm less; and each card only what its instrument reads."""
    found = answered(*small(30.5, column="diameter_cm"), "--card", str(cards / "K1.json"))
    assert area(found) == pytest.approx(20 * pi / 4 * 0.3**2)
    assert area(found["as_read"]) == pytest.approx(20 * pi / 4 * 0.305**2)


def test_several_cards_correct_nothing(answered, run, cards: Path) -> None:
    """The figures of the readings, the reason, and an instrument as unsure as cards lie off."""
    ask = (*STAND, "--card", str(cards / "T5.json"), "--card", str(cards / "T2.json"))
    found = answered(*ask)
    assert found["per_hectare"] == answered(*STAND)["per_hectare"]
    assert (found["corrections"], found["as_read"]) == ([], None)
    (own,) = [one for one in found["shares"] if one["input"] == "instrument"]
    # six cm in some 90 on one of the two: 6/√2/90
    assert 4 < own["u_of_input"] < 6
    assert "2 cards: nobody knows which reading is by which" in words(run(*ask).stdout)
    logs = (*LOGS, *ask[4:])
    assert answered(*logs)["total"]["by_sections_m3"] == pytest.approx(
        answered(*LOGS)["total"]["by_sections_m3"]
    )
    assert "nothing was corrected" in words(run(*logs).stdout)


def test_readings_outside_the_marks_are_told(run, answered, cards: Path, small) -> None:
    """With their rows, in text and JSON, and corrected all the same."""
    ask = [*small(60.0, 30.0, 170.0), "--card", str(cards / "T5.json")]
    said = "Rows 3, 4 of 't.csv': outside the marks of the card of tape T5, 40 to 160 cm (30 cm)."
    assert said in words(run(*ask).stdout)
    assert any(one.startswith(said) for one in answered(*ask)["notes"])


def test_one_card_corrects_logs(run, answered, cards: Path, tmp_path: Path) -> None:
    """By hand on a cylinder; one line what it took off, one what the volume was as read."""
    place = tmp_path / "logs.csv"
    place.write_text("log,at_m,girth_cm\nA,0,99.5\nB,0,99.5\nA,4,99.5\nB,2,0\n", "utf-8")
    ask = ("logs", str(place), "--card", str(cards / "T5.json"))
    found = answered(*ask)
    true = 100.0
    log = found["logs"][0]
    assert log["by_sections_m3"] == pytest.approx(4 * true**2 / (4 * pi) / 1e4)
    assert found["logs"][1]["by_sections_m3"] == pytest.approx(1 * true**2 / (4 * pi) / 1e4)
    as_read = found["as_read"]["logs"][0]["by_sections_m3"]
    assert as_read == pytest.approx(4 * 99.5**2 / (4 * pi) / 1e4)
    assert found["as_read"]["total"]["by_sections_m3"] > as_read
    assert found["corrections"][0]["taken_off"] < 0
    said = run(*ask).stdout
    assert "Tape T5, by its card: at a girth of" in said
    assert "m³ as read and 0.3979 m³ corrected, +1.01 %; all figures below" in words(said)
    assert "Volumes corrected, m³" in said
    assert answered(*LOGS)["as_read"] is None


def test_a_practicals_correction_reaches_logs(answered, tmp_path: Path, study: Practical) -> None:
    """Logs whose errors are those after a correction are corrected."""
    path = practical(tmp_path, study)
    found = answered(*LOGS, "--practical", path, "--hand", "Q03", "--instrument", "T2")
    (low,) = [one for one in found["corrections"] if one["name"] == "T2"]
    before, after = (one["total"]["by_sections_m3"] for one in (found["as_read"], found))
    assert after / before == pytest.approx((1 + low["taken_off"] / 100) ** -2)


@pytest.fixture(scope="module")
def study() -> Practical:
    return study_practical(quillmere_practical().readings)


def practical(place: Path, study: Practical, **changed: Any) -> str:
    path = place / "evening.json"
    path.write_text(json.dumps({**study.to_dict(), **changed}), "utf-8")
    return str(path)


def test_a_card_beside_the_same_instrument_of_a_practical(
    run, answered, refused, cards: Path, small, study: Practical
) -> None:
    """First the card, then the practical, if that used the card; else it is refused."""
    who = ("--hand", "Q03", "--instrument", "T2", "--card", str(cards / "T2.json"))
    ask = [*small(106.0), "--practical", practical(cards, study, cards_used=["T2"]), *who]
    found = answered(*ask)
    by_card, _, by_class = found["corrections"]
    assert (by_card["by"], by_card["name"], by_class["name"]) == ("card", "T2", "T2")
    ratio = area(found) / area(found["as_read"])
    # 6 cm off 106 by the card, then the share
    assert ratio == pytest.approx((100 / 106 / (1 + by_class["taken_off"] / 100)) ** 2)
    said = words(run(*ask).stdout)
    assert "these must have been" not in said
    assert said.index("Tape T2, by its card") < said.index("Tape T2: it reads")
    practical(cards, study)
    assert refused(*ask) == (
        "T2.json is the card of T2; expected one that the practical used: it used none."
    )


def test_a_card_beside_a_practical_of_nobody(run, cards: Path, study: Practical) -> None:
    """The card corrects; who was found off is told, and that no more was taken off."""
    said = words(
        run(*STAND, "--practical", practical(cards, study), "--card", str(cards / "T5.json")).stdout
    )
    assert "But for the card, nothing was taken off these readings: name who" in said
    assert "Corrected standard error" in said


def test_a_file_of_errors_behind_a_card_says_so(run, cards: Path, monkeypatch) -> None:
    """Given again without the card it corrects nothing, which is said; with it, it is not."""
    monkeypatch.chdir(cards)
    run(*STAND, "--errors-new", "--card", "T5.json")
    text = (cards / "errors.toml").read_text("utf-8")
    assert "# The instrument's error is that of readings corrected by a card: give this" in text
    assert "--card 'T5.json'" in text
    said = "none were corrected here: give --card as well"
    assert said in words(run(*STAND, "--errors", "errors.toml").stdout)
    assert said not in words(run(*STAND, "--errors", "errors.toml", "--card", "T5.json").stdout)


def test_what_is_refused(refused, cards: Path, small) -> None:
    """Of the other kind, of two marks, and a reading of which nothing is left."""
    by = lambda name: ("--card", str(cards / f"{name}.json"))  # noqa: E731
    assert refused(*STAND, *by("K1")) == (
        "K1.json is the card of calipers; expected that of a tape, since girths were read."
    )
    assert refused(*small(30.5, column="diameter_cm"), *by("T5")).startswith(
        "T5.json is the card of a tape; expected that of calipers"
    )
    assert refused(*STAND, *by("T1")).startswith("T1.json has two marks only; expected a card")
    assert refused(*small(60.0, 5.0), *by("T2")) == (
        "t.csv, row 3, has a girth of 5 cm, of which the correction leaves nothing; expected "
        "girths above what hand and instrument read too much."
    )
    place = cards / "bark.csv"
    place.write_text("log,at_m,girth_cm,bark_cm\nA,0,50,5\nA,2,12,1.8\n", "utf-8")
    assert refused("logs", str(place), *by("T2")) == (
        "bark.csv, row 3, column bark_cm, is 1.8 cm, and the diameter 1.91 cm once it is "
        "corrected; expected less than half."
    )


def test_the_card_of_no_tree(answered, cards: Path, small) -> None:
    """An empty file is no reason to fail."""
    found = answered(*small(), "--card", str(cards / "T5.json"))
    assert area(found) == area(found["as_read"]) == 0


def test_a_wrong_practical_is_told_how_one_is_made(refused, cards: Path) -> None:
    assert refused(*STAND, "--practical", str(cards / "T5.json")) == (
        "T5.json is no practical; expected a file of `mensura practical class.csv --json > "
        "evening.json`."
    )
