"""`mensura practical`: the lecturer's evening, with the file as a class types it."""

from __future__ import annotations

import json
import re
import warnings
from pathlib import Path

import pytest

from mensura.cli import progress
from mensura.cli.practical import MATTERS
from mensura.estimates.drawn_practical import faulty_practical
from mensura.estimates.hand_verdict import Matters
from mensura.estimates.readings import Readings

HEAD = "stem,hand,instrument,kind,direction_deg,repeat,reading,unit"


def typed(readings: Readings) -> list[str]:
    """The lines of a file with these readings, in cm."""
    lines = []
    for at in range(len(readings)):
        turn = readings.direction_deg[at]
        lines.append(
            f"{readings.stems[readings.stem[at]]},{readings.hands[readings.hand[at]]},"
            f"{readings.instruments[readings.instrument[at]]},"
            f"{'girth' if readings.girth[at] else 'diameter'},"
            f"{'' if turn != turn else f'{turn:.0f}'},{readings.repeat[at]},"
            f"{readings.reading_cm[at]:.1f},cm"
        )
    return lines


def some(*rows: str) -> str:
    return "\n".join((HEAD, *rows)) + "\n"


def sound(hands: int, stems: int = 8, repeats: int = 2, tool: str = "T1") -> list[str]:
    """Readings of hands that agree."""
    return [
        f"{stem},Q0{hand},{tool},girth,,{repeat},"
        f"{70 + 9.3 * stem + 0.1 * ((hand * 7 + stem * 5 + repeat * 3) % 4):.1f},cm"
        for stem in range(1, stems + 1)
        for hand in range(1, hands + 1)
        for repeat in range(1, repeats + 1)
    ]  # fmt: skip


@pytest.fixture(autouse=True)
def unhurried(monkeypatch: pytest.MonkeyPatch) -> None:
    """However busy the machine is, nothing is said of progress."""
    monkeypatch.setattr(progress, "QUIET_S", 1e9)


@pytest.fixture
def saved(tmp_path: Path):
    def save(text: str, name: str = "class.csv") -> str:
        path = tmp_path / name
        path.write_text(text, encoding="utf-8")
        return str(path)

    return save


@pytest.fixture
def class_file(saved) -> str:
    return saved(some(*typed(faulty_practical(3).readings)))


def test_the_evening_in_json(answered, class_file: str) -> None:
    told = answered("practical", class_file)
    off = {
        (one["name"], one["kind"], one["verdict"], one["form"], one["unit"])
        for one in told["hands"] + told["instruments"]
        if one["verdict"] not in ("sound", "cannot-tell")
    }
    assert off == {
        ("Q03", "girth", "reads-low", "share", "%"),
        ("K3", "diameter", "reads-high", "constant", "cm"),
        ("T2", "girth", "reads-low", "share", "%"),
    }
    assert {one["row"]: one["slip"] for one in told["flags"]} == faulty_practical(3).slips
    assert told["problems"] == []
    assert told["inputs"]["file"]["file"] == "class.csv"
    assert told["inputs"]["share_percent"] == 1.0


def test_the_evening_on_the_terminal_is_short(run, class_file: str) -> None:
    said = run("practical", class_file)
    assert said.exit_code == 0
    lines = said.stdout.splitlines()
    assert len(lines) < 50
    assert all(one in said.stdout for one in ("LOW  Q03 with tapes.", "HIGH  K3.", "LOW  T2."))
    assert "row 314" in said.stdout
    assert "likely 66.9" in said.stdout
    assert all(
        any(one.startswith(two) for one in lines) for two in ("  K1  diameter", "  T1  girth")
    )
    assert "* without Q03 with tapes, whose verdict is off" in said.stdout
    assert "* off: Q03 with tapes, K3 and T2" in said.stdout


def test_settings_of_what_matters_are_heard(answered, class_file: str) -> None:
    """Nobody is off by 9 %, nor by 9 cm; an unmarked class is told so in the reason."""
    large = ("--share-percent", "9", "--girth-cm", "9", "--diameter-cm", "9")
    told = answered("practical", class_file, *large)
    assert {one["verdict"] for one in told["hands"]} == {"sound"}
    marked = {one["name"]: one["why"] for one in answered("practical", class_file)["hands"][:7]}
    found = answered("practical", class_file, "--unmarked")
    why = {one["name"]: one["why"] for one in found["hands"] if one["kind"] == "girth"}
    assert "no line was on the stems" in why["Q03"]
    assert not any("no line" in one for one in marked.values())


def test_pages_tables_and_a_copy_are_saved_and_the_file_is_as_it_was(
    run, class_file: str, tmp_path: Path
) -> None:
    before = Path(class_file).read_bytes()
    out = tmp_path / "evening"
    said = run("practical", class_file, "--out", str(out), "--corrected")
    assert said.exit_code == 0, said.stderr
    names = {one.name for one in out.iterdir()}
    assert {"practical.html", "note-Q01.html", "note-Q07.html", "hands.csv", "flags.csv"} <= names
    # letters of the font spell anything
    note = re.sub(r"base64,[\w+/=]+", "", (out / "note-Q02.html").read_text("utf-8"))
    assert "Q02" in note
    assert not any(f"Q0{one}" in note for one in (1, 3, 4, 5, 6, 7))
    assert Path(class_file).read_bytes() == before
    copy = (tmp_path / "class-corrected.csv").read_text("utf-8-sig").splitlines()
    changed = [row for row, (one, two) in enumerate(
        zip(copy, before.decode().splitlines(), strict=True), 1) if one != two]  # fmt: skip
    assert changed == sorted(faulty_practical(3).slips)
    assert run("practical", class_file, "--out", str(out)).exit_code == 0
    assert (out / "practical-2.html").exists()


def test_cards_are_applied_and_those_missing_are_told(
    run, answered, class_file: str, tmp_path: Path
) -> None:
    check = tmp_path / "check.csv"
    rows = "".join(f"{one},{one * 0.975:.1f}\n" for one in (40, 80, 120, 160, 200))
    check.write_text(f"reference_cm,reading_cm\n{rows}")
    cards = str(tmp_path / "cards")
    assert run("tape-card", str(check), "--instrument", "T2", "--out", cards).exit_code == 0
    told = answered("practical", class_file, "--cards", cards)
    assert told["cards_used"] == ["T2"]
    assert told["cards_missing"] == ["K1", "K2", "K3", "T1", "T3"]
    assert {one["name"]: one["verdict"] for one in told["instruments"]}["T2"] == "sound"


def test_a_card_that_cannot_be_read_is_refused(refused, class_file: str, tmp_path: Path) -> None:
    (tmp_path / "T2.json").write_text("{}")
    assert "T2.json" in refused("practical", class_file, "--cards", str(tmp_path))
    assert refused("practical", class_file, "--cards", str(tmp_path / "none")).startswith("--cards")


def test_every_problem_is_told_and_the_rest_is_judged(run, answered, saved, tmp_path: Path) -> None:
    bad = [
        "=cmd(),Q01,T1,girth,,1,90,cm",
        "<script>alert(1)</script>,Q01,T1,girth,,1,90,cm",
        "1,../../etc,T1,girth,,1,90,cm",
        "9,Q01,T1,girth,,1,,cm",
        "1,Q01,T1,width,,3,90,yards",
    ]
    file = saved(some(*sound(4), *bad))
    told = answered("practical", file)
    assert [one["row"] for one in told["problems"]] == [66, 67, 68, 70, 70]
    assert told["rows"] == {"read": 69, "left_out": 4, "no_reading_yet": 1}
    assert told["readings"] == 64
    assert "1 row has no reading yet: nobody has read stem 9." in told["notes"]
    said = run("practical", file)
    assert said.exit_code == 0
    assert "Problems of the file: 5; 4 of 69 rows left out" in said.stdout
    assert "row 66 " not in said.stdout.replace("row 66 and 1 more, column stem", "")
    assert "row 70, column unit, is 'yards'; expected cm" in said.stdout
    assert "1 row has no reading yet: nobody has read stem 9." in said.stdout
    run("practical", file, "--out", str(tmp_path / "evening"))
    page = (tmp_path / "evening" / "practical.html").read_text("utf-8")
    assert "column unit, is &#39;yards&#39;; expected cm" in page
    assert "<script>alert" not in page


def test_a_half_typed_file_says_what_the_verdicts_rest_on(
    run, answered, saved, tmp_path: Path
) -> None:
    """Above the verdicts on terminal and page, in JSON, and as a count in a table."""
    empty = [one.rsplit(",", 2)[0] + ",,cm" for one in sound(4, stems=18)[64:]]
    file = saved(some(*sound(4), *empty))
    rests = "Only 64 of 144 rows could be used: the verdicts rest on those alone."
    told = answered("practical", file)
    assert told["problems"] == []
    assert told["rows"] == {"read": 144, "left_out": 0, "no_reading_yet": 80}
    assert told["notes"][0] == rests
    assert "80 rows have no reading yet: nobody has read stems" in told["notes"][1]
    out = tmp_path / "evening"
    said = run("practical", file, "--out", str(out)).stdout
    assert said.index(rests) < said.index("80 rows have no reading yet") < said.index("Sound:")
    page = (out / "practical.html").read_text("utf-8")
    assert page.index(rests) < page.index("Whom to speak to,")
    assert "no reading yet,80" in (out / "rows.csv").read_text("utf-8-sig")
    assert "rests on those alone" not in run("practical", saved(some(*sound(4)))).stdout


def test_alike_problems_do_not_hide_another(run, saved) -> None:
    """A decimal comma in every row but the last, which has a fault of its own."""
    commas = [one.replace(".", ",") for one in sound(6)]
    said = run("practical", saved(some(*sound(4, tool="T2"), *commas, "1,Q01,T1,width,,9,9,cm")))
    assert "row 66 and 95 more: '79,6' has a decimal comma where commas part" in said.stdout
    assert "row 162, column kind, is 'width'" in said.stdout
    assert "all of them in" not in said.stdout


def test_many_are_asked_in_one_sentence_and_few_by_their_instrument(run, saved) -> None:
    """Six hands that read whole centimetres; then one of them."""

    def whole(row: str, hands: str) -> str:
        cells = row.split(",")
        cells[6] = f"{float(cells[6]):.0f}.0" if cells[1] in hands else cells[6]
        return ",".join(cells)

    rows = sound(6, stems=30)
    said = run("practical", saved(some(*(whole(row, "Q01 Q02 Q03 Q04 Q05 Q06") for row in rows))))
    asking = [one for one in said.stdout.splitlines() if one.startswith("ASK")]
    assert len([one for one in asking if "Q06" in one]) == 1
    assert "too many readings end in one figure" in " ".join(said.stdout.split())
    said = run("practical", saved(some(*(whole(row, "Q02") for row in rows))))
    assert "ASK Q02 with tapes: 30 of 30 readings end in 0" in said.stdout


@pytest.mark.parametrize("figure", ["99.0", "40"])
def test_of_equal_readings_nothing_is_asked_and_no_warning_is_printed(run, saved, figure) -> None:
    """All equal, also within tapes and within calipers only."""
    same = [one.rsplit(",", 2)[0] + f",{figure},cm" for one in sound(6, stems=18)]
    other = [one.replace("T1,girth", "K1,diameter").replace(f",{figure},", ",31,") for one in same]
    for rows in (same, [*same, *other]):
        with warnings.catch_warnings():
            warnings.simplefilter("error")
            said = run("practical", saved(some(*rows)))
        assert (said.exit_code, said.stderr) == (0, "")
        assert "ASK" not in said.stdout


@pytest.mark.parametrize(
    ("rows", "sentence"),
    [
        (sound(1), "Only one hand read: whether it is off, nobody else's readings tell."),
        (sound(4, repeats=1), "No hand read a stem twice with T1: the residual stands for"),
        ([one.rsplit(",", 2)[0] + ",99,cm" for one in sound(4)], "All 64 readings are 99 cm:"),
        (sound(3) + [one.replace("T1", "T2").replace("Q01", "Q09") for one in sound(1)],
         "Only Q09 read with T2: hand and instrument cannot be told apart."),
        (["1,Q01,T1,girth,,1,99,cm"], "No stem was read twice with T1: nothing can be told"),
    ],
)  # fmt: skip
def test_what_cannot_be_told_is_said_in_one_sentence(run, saved, rows, sentence: str) -> None:
    said = run("practical", saved(some(*rows)))
    assert (said.exit_code, said.stderr) == (0, "")
    assert sentence in " ".join(said.stdout.split())


@pytest.mark.parametrize(
    ("text", "sentence"),
    [
        ("", "class.csv is empty; expected the columns stem,hand"),
        (HEAD, "class.csv has no reading; expected a row"),
        (some("1,Q01,T1,girth,,1,,cm"), "class.csv has an empty column reading"),
        (some(*["1,Q01,T1,width,,1,9,cm"] * 3),
         "class.csv has no reading that can be used: 3 problems, the first in row 2, column kind"),
    ],
)  # fmt: skip
def test_a_file_of_which_nothing_is_left_is_refused(refused, saved, text, sentence) -> None:
    assert refused("practical", saved(text)).startswith(sentence)


def test_other_refusals(refused, class_file: str, tmp_path: Path) -> None:
    large = tmp_path / "large.csv"
    with large.open("wb") as file:
        file.truncate(200_000_000)
    assert refused("practical", str(large)).startswith("large.csv is over 64 MB; expected")
    assert refused("practical", class_file, "--share-percent", "0").startswith("--share-percent")
    assert refused("practical", class_file, "--out", class_file).startswith("--out")


def test_what_takes_long_says_how_far_it_is(
    run, class_file: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    """On stderr, so that JSON stays JSON; and rising."""
    monkeypatch.setattr(progress, "QUIET_S", -1.0)
    said = run("practical", class_file, "--json")
    json.loads(said.stdout)
    told = [float(one.split()[1]) for one in said.stderr.splitlines()]
    assert len(told) > 4
    assert told == sorted(told)


def test_the_command_begins_with_what_the_model_begins_with() -> None:
    """Whoever gives no option is judged as the study judges of its own."""
    plain = Matters()
    assert {field: start for field, _, start, *_ in MATTERS} == {
        field: getattr(plain, field) for field, *_ in MATTERS
    }
