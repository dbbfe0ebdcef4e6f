"""A card on the disk: what was written is read again, and nothing else is taken for a card."""

from __future__ import annotations

import json
from pathlib import Path

import numpy as np
import pytest

from mensura.checks import MeasureError
from mensura.disk.card_file import card_answer, card_in, code_of, file_stem, read_card, write_card
from mensura.instruments import Card, card, check_class

TRUE = np.repeat([40.0, 80.0, 120.0, 160.0], 3)


def made(code="T3", kind="tape", worn=0.4, **more) -> Card:
    """A card with all that it may have."""
    noise = 0.08 * np.random.default_rng(4).standard_normal(TRUE.size)
    read = np.round(TRUE / 1.01 + worn + noise, 1)
    return card(TRUE, read, instrument=code, kind=kind, **more)


def kept(folder: Path, one: Card, stem="") -> Path:
    answer = card_answer(one, check_class(one, None))
    path, aside = write_card(folder, stem or one.instrument, answer)
    assert aside == ""
    return path


@pytest.mark.parametrize(
    "one",
    [
        made(),
        made("K1", "calipers", reference_u_cm=0.02, temperature_c=12.0, pull_n=30.0),
        made("hut-12", worn=-0.5, temperature_c=5.0, material="steel", reference_u_percent=0.1),
        card([50, 150], [50.5, 149.8], instrument="T2"),
        card([50, 100, 150], [50.0, 100.0, 150.0]),
    ],
    ids=["tape", "calipers", "start below nought", "two marks", "no spread"],
)
def test_what_was_written_is_read_again(tmp_path: Path, one: Card):
    """To the last digit, a worn start below nought too."""
    path = kept(tmp_path, one, "any")
    assert read_card(path) == one
    assert read_card(path, one.instrument) == one
    if one.instrument:
        assert card_in(tmp_path, one.instrument) == one


def test_the_files_correlation_is_that_of_the_figures_beside_it(tmp_path: Path):
    """Stretch and worn start grow together, scale and zero error against each other.

    By lines drawn with the covariance that numpy's polyfit finds.
    """
    rng = np.random.default_rng(0)
    for kind in ("tape", "calipers"):
        one = made(kind=kind)
        told = json.loads(kept(tmp_path, one, kind).read_text("utf-8"))
        read = [reading for mark in one.marks for reading in mark.readings_cm]
        line, spread = np.polyfit(TRUE, read, 1, cov=True)
        rises, starts = rng.multivariate_normal(line, spread, 100_000).T
        ratios = 1 / rises if kind == "tape" else rises
        assert told["correlation"] == pytest.approx(np.corrcoef(ratios, starts)[0, 1], abs=0.01)
        assert read_card(tmp_path / f"{kind}.json").correlation == one.correlation < 0


def test_a_card_that_is_there_is_put_aside(tmp_path: Path):
    """The same again changes nothing; another one leaves the first, changed or not."""
    first, second = made(), made(worn=0.9)
    path = kept(tmp_path, first)
    assert kept(tmp_path, first) == path
    assert [one.name for one in tmp_path.iterdir()] == ["T3.json"]
    path.write_text(path.read_text("utf-8") + "\n", "utf-8")  # somebody changed it
    changed = path.read_bytes()
    answer = card_answer(second, check_class(second, None))
    assert write_card(tmp_path, "T3", answer) == (path, "T3-old.json")
    assert (tmp_path / "T3-old.json").read_bytes() == changed
    assert card_in(tmp_path, "T3") == second


def test_a_folder_of_cards(tmp_path: Path):
    """By code, by whatever name the file has; a code that is not there, or twice, is told."""
    kept(tmp_path, made("T3"), "bought-in-may")
    kept(tmp_path, made("K1", "calipers"))
    (tmp_path / "other.json").write_text("[]", "utf-8")
    assert card_in(tmp_path, "T3").instrument == "T3"
    assert card_in(tmp_path, "t3") == card_in(tmp_path, "T3")
    with pytest.raises(MeasureError, match="instrument is 'Z9'; expected one of: K1, T3"):
        card_in(tmp_path, "Z9")
    kept(tmp_path, made("T3", worn=0.6), "bought-in-june")
    with pytest.raises(MeasureError, match=r"has two cards of T3, bought-in-june.json and bought"):
        card_in(tmp_path, "T3")
    with pytest.raises(MeasureError, match="expected a folder of cards"):
        card_in(tmp_path / "none", "T3")
    (tmp_path / "T4.json").write_bytes((tmp_path / "K1.json").read_bytes())
    with pytest.raises(MeasureError, match=r"T4.json is the card of 'K1'; expected that of 'T4'"):
        card_in(tmp_path, "T4")


def test_case_does_not_count(tmp_path: Path):
    """t3 is T3, on the disk too; two files that differ by case alone are not chosen from."""
    kept(tmp_path, made("T3"))
    small = made("", worn=0.9)
    path, aside = write_card(tmp_path, "t3", card_answer(small, check_class(small, None)))
    assert (path.name, aside) == ("T3.json", "T3-old.json")
    assert sorted(one.name for one in tmp_path.iterdir()) == ["T3-old.json", "T3.json"]
    assert card_in(tmp_path, "t3").instrument == "T3"  # by its file's name
    assert card_in(tmp_path, "T3").start_cm == small.start_cm
    assert read_card(tmp_path / "T3-old.json", "t3").instrument == "T3"
    (tmp_path / "t3.json").write_bytes(path.read_bytes())
    if len(list(tmp_path.iterdir())) == 3:  # where the disk tells case
        with pytest.raises(MeasureError, match=r"has T3.json and t3.json, which differ only by c"):
            card_in(tmp_path, "T3")
    (tmp_path / "t3.json").unlink()
    kept(tmp_path, made("k1", "calipers"), "one")
    kept(tmp_path, made("K1", "calipers"), "two")
    with pytest.raises(MeasureError, match=r"has two cards of K1, one.json and two.json"):
        card_in(tmp_path, "K1")


def spoilt(**changes):
    def spoil(told):
        return {key: value for key, value in (told | changes).items() if value != "gone"}

    return spoil


@pytest.mark.parametrize(
    ("spoil", "said"),
    [
        (spoilt(mensura_card=2), "T3.json is a card of a newer kind (2); expected kind 1, or a ne"),
        (spoilt(mensura_card="gone"), "T3.json is no tape's card; expected a card as `mensura"),
        (spoilt(mensura_card=True), "T3.json, mensura_card, is True; expected 1."),
        (spoilt(kind="rod"), "T3.json, kind, is 'rod'; expected tape or calipers."),
        (spoilt(instrument="../../x"), "T3.json, instrument, is '../../x'; expected a code of let"),
        (spoilt(worn_start_cm=0.2), "T3.json, worn_start_cm, is 0.2; expected 0.4"),
        (spoilt(rise="gone"), "T3.json, rise, is missing; expected a number from 0.001 to 1000."),
        (spoilt(rise=1.5), "T3.json, rise, is 1.5; expected 0.989"),
        (spoilt(rise_u=-1), "T3.json, rise_u, is -1; expected a number from 0 to 1000."),
        (spoilt(rise_u=None), "T3.json, rise_u, is missing; expected a number, as beside it."),
        (spoilt(correlation=-3), "T3.json, correlation, is -3; expected a number from 0 to 1."),
        (spoilt(correlation=-0.9), "T3.json, correlation, is -0.9; expected a number from 0 to"),
        (spoilt(degrees_of_freedom=90), "T3.json, degrees_of_freedom, is 90; expected 10, two fe"),
        (spoilt(resolution_cm="0.1"), "T3.json, resolution_cm, is '0.1'; expected a number from"),
        (spoilt(marks=[]), "T3.json, marks, is missing; expected a list of two marks or more."),
        (spoilt(marks=[1, 2]), "T3.json, mark 1, is missing; expected an object with reference_cm"),
        (spoilt(temperature_c=1e6), "T3.json, temperature_c, is 1000000; expected a number from"),
        (lambda told: [told], "T3.json is no tape's card; expected a card as"),
    ],
)
def test_what_is_no_card(tmp_path: Path, spoil, said):
    """Newer, damaged, or not hanging together: one sentence, with what is wrong in it."""
    path = kept(tmp_path, made())
    path.write_text(json.dumps(spoil(json.loads(path.read_text("utf-8")))), "utf-8")
    with pytest.raises(MeasureError) as refused:
        read_card(path)
    assert str(refused.value).startswith(said)
    assert str(refused.value).endswith(".")


@pytest.mark.parametrize("text", ["", "{", "{} {}", '{"mensura_card": NaN}', "[" * 100_000, "\xff"])
def test_what_is_no_json(tmp_path: Path, text):
    """Torn files, and worse."""
    path = tmp_path / "T3.json"
    path.write_bytes(text.encode("latin-1"))
    with pytest.raises(MeasureError, match=r"T3.json is damaged, or no JSON; expected a card"):
        read_card(path)


def test_another_instruments_card(tmp_path: Path):
    """Told whose it is."""
    path = kept(tmp_path, made())
    with pytest.raises(MeasureError, match=r"T3.json is the card of 'T3'; expected that of 'T5'"):
        read_card(path, "T5")
    bare = kept(tmp_path, card([50, 150], [50.5, 149.8]), "bare")
    with pytest.raises(MeasureError, match="is the card of an instrument without a code"):
        read_card(bare, "T5")


@pytest.mark.parametrize(
    "code", ["", "..", "a/b", "T 3", "con", "LPT1", "é", "x" * 25, "-t", "a.b"]
)
def test_codes_by_which_no_file_can_be_named(code):
    """Nothing typed becomes a path."""
    with pytest.raises(MeasureError, match=r"^instrument is"):
        code_of(code)
    assert code_of("hut-12") == "hut-12"
    assert file_stem("", "con.csv") == file_stem("", "a b.csv") == "card"
