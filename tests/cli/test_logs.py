"""`mensura logs`: figures, tables, the caution, and what is refused."""

from __future__ import annotations

import json
from math import pi
from pathlib import Path

import pytest

from mensura.estimates.log_rows import SCOPE_WORDS
from mensura.estimates.stand_words import CAUTION
from mensura.places import data_file

DEMO = str(data_file("quillmere-logs.csv"))
KEYS = [
    *("log", "length_m", "huber_m3", "smalian_m3", "newton_m3", "quarter_girth_m3"),
    *("by_sections_m3", "u_m3"),
]


@pytest.fixture
def file(tmp_path: Path):
    """A file of logs with this text."""

    def write(text: str) -> str:
        place = tmp_path / "logs.csv"
        place.write_text(text, encoding="utf-8")
        return str(place)

    return write


@pytest.mark.parametrize(
    ("power", "name"), list(enumerate(["cylinder", "paraboloid", "cone", "neiloid"]))
)
def test_closed_forms(answered, file, power: int, name: str) -> None:
    """A frustum of each solid, 44 cm at 20 m from its tip, 8 m long, by girths: to 1e-6."""
    girth = lambda z: pi * 44 * ((20 - z) / 20) ** (power / 2)  # noqa: E731
    rows = "".join(f"A,{z},{girth(z)!r}\n" for z in (0, 2, 4, 6, 8))
    answer = answered("logs", file("log,at_m,girth_cm\n" + rows))
    (log,) = answer["logs"]
    true = pi / 4 * 0.44**2 * 20 / (power + 1) * (1 - 0.6 ** (power + 1))
    assert log["newton_m3"] == pytest.approx(true, rel=1e-6)
    if power < 2:
        assert log["huber_m3"] == pytest.approx(true, rel=1e-6)
        assert log["smalian_m3"] == pytest.approx(true, rel=1e-6)
        assert log["by_sections_m3"] == pytest.approx(true, rel=1e-6)
    else:
        assert log["huber_m3"] < true < log["by_sections_m3"] < log["smalian_m3"]
    solid = log["solids_m3"][name]
    assert solid == pytest.approx(true, rel=1e-6)
    assert log["quarter_girth_m3"] == pytest.approx(log["huber_m3"] * pi / 4, rel=1e-9)
    exact = {one["rule"]: name in one["exact_for"] for one in answer["exactness"]}
    assert exact == {"huber": power < 2, "smalian": power < 2, "newton": True}


def test_the_keys_that_others_rely_on(answered) -> None:
    """And what is not worked out is null, never nought."""
    answer = answered("logs", DEMO)
    assert [set(KEYS) - set(one) for one in answer["logs"]] == [set()] * 8
    bare = {one["log"] for one in answer["logs"] if one["newton_m3"] is None}
    assert bare == {"L5", "L6", "L8"}
    for one in answer["logs"]:
        missing = [one[key] is None for key in ("huber_m3", "newton_m3", "quarter_girth_m3")]
        assert set(missing) == {one["log"] in bare}
        assert one["by_sections_m3"] > one["under_bark"]["by_sections_m3"] > 0
        assert one["u_m3"] > 0
    assert answer["total"]["newton_m3"] is None
    total = sum(one["by_sections_m3"] for one in answer["logs"])
    assert answer["total"]["by_sections_m3"] == pytest.approx(total)
    assert answer["caution"] == CAUTION
    assert answer["errors_made_up"] is True


def test_errors_of_ones_own(answered, run, file, tmp_path: Path) -> None:
    """They are read, told, and change the uncertainty alone."""
    errors = tmp_path / "errors.toml"
    errors.write_text('[[error]]\nof = "length"\nu = 2\nunit = "%"\nfor = "all"\norigin = "ours"\n')
    plain, own = answered("logs", DEMO), answered("logs", DEMO, "--errors", str(errors))
    for one, other in zip(plain["logs"], own["logs"], strict=True):
        assert one["by_sections_m3"] == other["by_sections_m3"]
        assert other["u_m3"] == pytest.approx(0.02 * other["by_sections_m3"])
    total = own["total"]
    assert total["u_m3"] == total["u_common_m3"] == pytest.approx(0.02 * total["by_sections_m3"])
    assert own["errors"] == [{"of": "length", "u": 2, "unit": "%", "for": "all", "origin": "ours"}]
    said = run("logs", DEMO, "--errors", str(errors)).stdout
    assert "made-up" not in said
    assert own["inputs"]["errors"]["file"] == "errors.toml"


def test_what_is_printed(run) -> None:
    """Within 80 letters, the caution first, a figure below each head, lines without one dashed."""
    said = run("logs", DEMO)
    lines = said.stdout.splitlines()
    assert max(map(len, lines)) <= 80
    assert lines[1].startswith("Do not sell or buy timber on these figures")
    answer = json.loads(run("logs", DEMO, "--json").stdout)
    first = answer["logs"][0]
    row = next(one for one in lines if one.startswith("L1 ")).split()
    assert row[1] == f"{first['length_m']:.2f}"
    assert row[2:6] == [f"{first[key]:.4f}" for key in KEYS[2:6]]
    assert row[7:] == [f"{first[key]:.4f}" for key in KEYS[6:]]
    assert "L5, L6, L8 have none" in " ".join(lines)
    total = answer["total"]
    share = 100 * (1 - total["under_bark"]["by_sections_m3"] / total["by_sections_m3"])
    assert f"Bark is {share:.1f} % of the volume by sections." in lines
    assert f"Together: {total['u_common_m3']:.4f} m³ of u is shared" in said.stdout
    heads = [k for k, one in enumerate(lines) if one.startswith("Volumes")]
    assert ["under" in lines[k] for k in heads] == [False, True]


def test_a_log_alone_without_bark_or_middle(run, file) -> None:
    """Short, and no sum of one."""
    said = run("logs", file("log,at_m,diameter_cm\nA1,0,44\nA1,5,36\n")).stdout
    assert "1 log, 2 diameters" in said
    assert "Volumes as read, m³" in said
    assert "log A1 has none." in said
    assert "together" not in said
    assert "under bark" not in said
    assert "Bark is" not in said


def test_many_logs_are_cut_in_the_table_and_whole_in_json(run, answered, file) -> None:
    """The sum is of all of them."""
    rows = "".join(f"A{k},0,44\nA{k},5,36\n" for k in range(100))
    place = file("log,at_m,diameter_cm\n" + rows)
    said = run("logs", place).stdout
    assert "60 more, all of them in --json" in said
    assert f"{100 * pi / 80000 * (44**2 + 36**2) * 5:.4f}" in said
    assert len(answered("logs", place)["logs"]) == 100


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("log,at_m,girth_cm\nA,0,140\n", ("row 2", "one point only")),
        ("log,at_m,girth_cm\nA,0,140\nA,3,130\nA,2,120\n", ("row 4, column at_m", "more than 3 m")),
        ("log,at_m,girth_cm\nA,0,140\nA,3,x\nB,0,y\n", ("row 3 and 1 more", "'x' or 'y'")),
        ("log,at_m\nA,0\n", ("row 1", "lacks the column girth_cm or diameter_cm")),
        ("", ("is empty",)),
    ],
)
def test_refusals(refused, file, text: str, words: tuple[str, ...]) -> None:
    """One sentence, with row and column."""
    said = refused("logs", file(text))
    assert said.startswith("logs.csv")
    assert [one for one in words if one not in said] == []


def test_errors_that_cannot_be_used(refused, file, tmp_path: Path) -> None:
    """None there, and nothing named."""
    assert "none.toml" in refused("logs", DEMO, "--errors", str(tmp_path / "none.toml"))
    assert refused("logs", DEMO, "--errors", " ").startswith("--errors is empty")


def test_a_reading_in_another_unit_is_told_and_kept(run, answered, file) -> None:
    """145, 1393 (mm), 124: the volume of what was typed, and a note in text and JSON."""
    place = file("log,at_m,girth_cm\nL1,0,145\nL1,2.5,1393\nL1,5,124\n")
    answer = answered("logs", place)
    assert answer["logs"][0]["by_sections_m3"] == pytest.approx(38.966, abs=1e-3)
    (said,) = [one for one in answer["notes"] if "Nothing was changed" in one]
    assert said.startswith("Row 3 of 'logs.csv', column girth_cm: far more than the readings")
    text = run("logs", place).stdout
    assert said in " ".join(text.split())
    assert answer["look_first"] == [said]
    assert text.splitlines()[1] == "Look at these first:"
    assert text.index("far more than") < text.index("Volumes")
    assert max(map(len, text.splitlines())) <= 80
    assert not [one for one in answered("logs", DEMO)["notes"] if "Nothing was changed" in one]
    assert "Nothing was changed" not in run("logs", DEMO).stdout


def test_a_new_file_of_errors(run, answered, tmp_path: Path, monkeypatch) -> None:
    """Written, named, read again to the same figures, never written over."""
    monkeypatch.chdir(tmp_path)
    first = run("logs", DEMO, "--errors-new")
    assert first.stdout.endswith("Saved: errors.toml\n")
    text = (tmp_path / "errors.toml").read_text("utf-8")
    same = answered("logs", DEMO, "--errors", "errors.toml")
    plain = answered("logs", DEMO)
    assert same["total"] == plain["total"]
    assert (same["errors_made_up"], plain["errors_made_up"], plain["saved"]) == (False, True, None)
    assert run("logs", DEMO, "--errors-new").exit_code == 2
    assert (tmp_path / "errors.toml").read_text("utf-8") == text
    other = answered("logs", DEMO, "--errors", "mine.toml", "--errors-new")
    assert (other["saved"], other["inputs"]["errors_new"]) == ("mine.toml", True)
    assert (tmp_path / "mine.toml").read_text("utf-8") == text


def test_where_each_error_is_new_is_said(run, answered, file, tmp_path: Path) -> None:
    """In help, below the table, in JSON: and it is so, on a cylinder of three sections."""
    assert SCOPE_WORDS in " ".join(run("logs", DEMO).stdout.split())
    assert SCOPE_WORDS in answered("logs", DEMO)["notes"]
    told = " ".join(run("logs", "--help").stdout.split())
    assert '"tree" is new at each point of a log for instrument and hand, and one for a' in told
    place = file("log,at_m,diameter_cm\nA,0,40\nA,2,40\nA,4,40\n")
    errors = tmp_path / "errors.toml"
    shares = {}
    for name in ("instrument", "hand", "shape", "length"):
        errors.write_text(
            f'[[error]]\nof = "{name}"\nu = 1\nunit = "%"\nfor = "tree"\norigin = "ours"\n', "utf-8"
        )
        (log,) = answered("logs", place, "--errors", str(errors))["logs"]
        shares[name] = 100 * log["u_m3"] / log["by_sections_m3"]
    # twice 1 % of a diameter, averaged with weights 1/4, 1/2, 1/4, or one for the log
    at_a_point = 2 * (1 / 16 + 1 / 4 + 1 / 16) ** 0.5
    assert shares == pytest.approx(
        {"instrument": at_a_point, "hand": at_a_point, "shape": 2.0, "length": 1.0}
    )
