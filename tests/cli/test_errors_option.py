"""The options that tell a command of errors, on a command of no other use."""

import json

import click
import pytest
from click.testing import CliRunner

from mensura.cli.errors_option import NEW_NAME, errors_told, with_errors
from mensura.disk.card_file import card_answer, write_card
from mensura.disk.errors_file import read_errors, written_errors
from mensura.estimates.input_errors import DEFAULTS, InputError
from mensura.instruments import card, check_class
from mensura.places import data_file


@click.command()
@with_errors
def asking(**values):
    """Prints what it was told."""
    told = errors_told(**values, kind="girth", diameter_cm=35.0)
    names = [f"{one.name} {one.u:g} {one.unit} {one.scope}" for one in told.errors]
    saved = None if told.saved is None else told.saved.name
    first = told.remedies[0].hours_a_plot
    print(json.dumps([names, told.supposed, saved, told.inputs, first]))


def run(*words):
    """The command's answer."""
    found = CliRunner().invoke(asking, words, catch_exceptions=False)
    assert found.exit_code == 0, found.output
    return json.loads(found.stdout)


def remedies_of(*words):
    """How many hours the first remedy takes a plot."""
    return run(*words)[4]


@pytest.fixture(autouse=True)
def _here(tmp_path, monkeypatch):
    monkeypatch.chdir(tmp_path)
    one = card([40, 80, 120, 160], [40.1, 80.0, 120.1, 160.1], instrument="T2")
    write_card(tmp_path, "T2", card_answer(one, check_class(one, None)))
    row = {"instrument": "T2", "kind": "girth", "stems": 9}
    row |= {"repeatability_cm": 0.25, "between_hands_cm": 0.5}
    (tmp_path / "p.json").write_text(json.dumps({"hands": [], "precision": [row]}), "utf-8")


def test_nothing_told():
    """Sizes of our own, and it is known that they are."""
    names, supposed, saved, *_ = run()
    assert (len(names), supposed, saved) == (len(DEFAULTS), True, None)


def test_a_new_file_filled_and_given_again(tmp_path):
    """Written once, with what card and practical know; read back it says the same."""
    words = ("--errors-new", "--card", "T2.json", "--practical", "p.json")
    names, supposed, saved, inputs, _ = run(*words)
    assert (saved, supposed) == (NEW_NAME, False)
    assert "hand 0.25 cm tree" in names
    assert "hand 1 % tree" not in names
    assert inputs["card"][0]["file"] == "T2.json"
    again, _, unsaved, *_ = run("--errors", NEW_NAME)
    assert (again, unsaved) == (names, None)
    before = (tmp_path / NEW_NAME).read_bytes()
    refused = CliRunner().invoke(asking, words)
    assert "is there already" in str(refused.exception)
    assert (tmp_path / NEW_NAME).read_bytes() == before


def test_a_name_of_ones_own(tmp_path):
    """--errors says where --errors-new writes."""
    assert run("--errors", "mine.toml", "--errors-new")[2] == "mine.toml"
    assert read_errors(tmp_path / "mine.toml") == DEFAULTS


def test_hours_of_ones_own(tmp_path):
    """The file that is written has the remedies, and what is changed there is taken."""
    run("--errors-new")
    file = tmp_path / NEW_NAME
    text = file.read_text("utf-8")
    assert remedies_of("--errors", NEW_NAME) == 1.0
    file.write_text(text.replace("hours_a_plot = 1.0", "hours_a_plot = 2.5"), "utf-8")
    assert remedies_of("--errors", NEW_NAME) == 2.5


def test_hands_that_shared_the_trees():
    """Four hands halve what lies between them."""
    assert "hand 0.25 cm all" in run("--practical", "p.json", "--hands", "4")[0]


@pytest.mark.parametrize("words", [("--errors", " "), ("--card", ""), ("--practical", "")])
def test_an_empty_name(words):
    """Said in one sentence."""
    found = CliRunner().invoke(asking, words)
    assert found.exit_code == 2
    assert f"{words[0]} is empty; expected the name of a file." in found.output


def test_a_stand_is_told_what_its_own_party_should_do_first(tmp_path):
    """Hours that are changed in the file change the answer, in words and as JSON."""
    from mensura.cli import main

    files = ["stand", str(data_file("quillmere-trees.csv"))]
    files += ["--plots", str(data_file("quillmere-plots.csv"))]
    first = CliRunner().invoke(main, [*files, "--errors-new"])
    assert "Do first: five more plots." in " ".join(first.stdout.split())
    assert "effects of remedies are invented" in " ".join(first.stdout.split())
    file = tmp_path / NEW_NAME
    changed = file.read_text("utf-8").replace("hours_a_plot = 1.0", "hours_a_plot = 900.0")
    file.write_text(changed, "utf-8")
    told = CliRunner().invoke(main, [*files, "--errors", NEW_NAME])
    assert "Do first: five more plots." not in " ".join(told.stdout.split())
    assert "invented; the file" not in " ".join(told.stdout.split())
    answer = json.loads(CliRunner().invoke(main, [*files, "--errors", NEW_NAME, "--json"]).stdout)
    hours = {one["remedy"]: one["hours"] for one in answer["do_first"]}
    assert hours["five more plots"] == 4500.0
    assert sum(one["share_percent"] for one in answer["shares"]) == pytest.approx(100.0)


def test_where_an_origin_is_told_is_true(tmp_path):
    """As the file's remark has it: in JSON always, in a table only of two that are alike."""
    from mensura.cli import main

    said = "where the figure comes from: --json has it, a table only where two are alike"
    assert written_errors().count(said) == len(DEFAULTS)
    ask = ["stand", str(data_file("quillmere-trees.csv"))]
    ask += ["--plots", str(data_file("quillmere-plots.csv")), "--errors", "two.toml"]
    for times in (1, 2):
        some = [InputError("height", 0.5, "m", "all", f"origin {at}") for at in range(times)]
        (tmp_path / "two.toml").write_text(written_errors(some), "utf-8")
        shares = json.loads(CliRunner().invoke(main, [*ask, "--json"]).stdout)["shares"]
        assert "origin 0" in [one["origin"] for one in shares]
        assert ("origin 0" in CliRunner().invoke(main, ask).stdout) == (times == 2)
