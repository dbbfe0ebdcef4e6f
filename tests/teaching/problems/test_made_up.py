"""A family and a topic are declared in one place: made-up ones, in a copy, are found everywhere."""

import json
import os
import shutil
import subprocess
import sys
from pathlib import Path

import pytest

import mensura

PACKAGE = Path(mensura.__file__).resolve().parent

#: One family; its topic and its key are filled in.
FAMILY = """
FAMILY_HERE = Family(
    key="{key}",
    topic="{topic}",
    title="A made-up kind: {key}",
    text="A post of {{burr_cm}} cm and {{girth_cm}} cm?",
    given=[Quantity("burr_cm", 2.0, 9.0, 0.5), Quantity("girth_cm", 60.0, 90.0, 0.5)],
    unit="cm",
    answer=lambda q: q.girth_cm + q.burr_cm,
    hints=["One.", "Two.", "Three."],
    solution="It is {{answer}} cm.",
    slips=[
        Slip("less", lambda q: q.girth_cm - q.burr_cm, "Add, do not take away."),
        Slip("times", lambda q: q.girth_cm * q.burr_cm, "Add, do not multiply."),
        Slip("alone", lambda q: q.burr_cm, "The girth is left out."),
    ],
    source="common practice, no source",
    picture="girth",
)
"""

#: What the copy says of them, everywhere where a family or a topic belongs.
ASK = """
import json, sys
from click.testing import CliRunner
from mensura.cli import main
from mensura.teaching.problems import bank
from mensura.teaching.problems.family import TOPICS
from mensura.teaching.problems.standing import by_topic
from mensura.views.problems.pictures import ProblemPicture
from mensura.views.problems.practice import Practice
run = lambda *words: CliRunner().invoke(main, list(words)).stdout
panel = Practice(None, "Q07", "k", "1", sys.argv[1])
panel.build()
of_topic = Practice("made-up", "Q07", "k", "1", sys.argv[1])
of_topic.build()
picture = ProblemPicture(bank.problem("made-up-here", "Q07", "k"))
print(json.dumps({
    "package": bank.__file__,
    "topics": list(TOPICS),
    "families": list(bank.all_families()),
    "of the topic": [one.key for one in bank.families("made-up")],
    "progress": [[one.topic, one.families] for one in by_topic({}, bank.families())],
    "command": run("problems"),
    "command, JSON": run("problems", "--topic", "made-up", "--json"),
    "problem": run("problem", "made-up-there", "--student", "Q07", "--key", "k"),
    "panel's topics": [value for _, value in panel.choices.topics.options],
    "panel's kinds": [value for _, value in panel.choices.kinds.options],
    "topic's kinds": [value for _, value in of_topic.choices.kinds.options],
    "panel's picture": panel.chart.value,
    "words": picture.alt,
    "rows": [words for words, _ in picture.rows],
}))
"""


@pytest.fixture(scope="module")
def told(tmp_path_factory):
    """What a copy with a made-up family, a made-up topic and a made-up name says."""
    place = tmp_path_factory.mktemp("copy")
    copy = place / "mensura"
    shutil.copytree(PACKAGE, copy, ignore=shutil.ignore_patterns("__pycache__"))
    bank = copy / "teaching" / "problems"

    def add(name, before, text):
        path = bank / name
        old = path.read_text("utf-8")
        assert old.count(before) == 1
        path.write_text(old.replace(before, text + before), "utf-8")

    add("family.py", '    "girth": "girth, diameter', '    "made-up": "a made-up topic",\n')
    add(
        "vocabulary.py", '    "girth_cm": Meaning(', '    "burr_cm": Meaning("cm", "burr on it"),\n'
    )
    there = FAMILY.format(key="made-up-there", topic="made-up")
    head = "from mensura.teaching.problems.family import Family, Quantity, Slip\n"
    (bank / "families" / "made_up.py").write_text(f"{head}{there}\nFAMILIES = [FAMILY_HERE]\n")
    here = FAMILY.format(key="made-up-here", topic="girth")
    with (bank / "families" / "girth.py").open("a", encoding="utf-8") as file:
        file.write(f"{here}\nFAMILIES.append(FAMILY_HERE)\n")
    # only the copy is on the path, whatever the installation names
    code = f"import sys; sys.path.insert(0, {str(place)!r})\n{ASK}"
    home = place / "home"
    home.mkdir()
    done = subprocess.run(
        [sys.executable, "-c", code, str(home)],
        cwd=home,
        env={**os.environ, "PYTHONPATH": str(place)},
        capture_output=True,
        text=True,
        check=False,
    )
    assert done.returncode == 0, done.stderr
    found = json.loads(done.stdout)
    assert Path(found["package"]).is_relative_to(place)
    return found


def test_a_family_is_found_everywhere(told):
    """In the bank, by the commands, in the panel's list and its progress."""
    assert told["families"].count("made-up-here") == 1
    assert "  made-up-here" in told["command"]
    assert "made-up-here" in told["panel's kinds"]
    assert "made-up-here" in dict(told["progress"])["girth"]
    assert "burr on it" in told["words"]
    assert told["rows"] == ["burr on it"]


def test_a_topic_is_found_everywhere(told):
    """Where it stands in the one list: before all others."""
    assert told["topics"][0] == "made-up"
    assert told["families"][0] == "made-up-there"
    assert told["of the topic"] == told["topic's kinds"] == ["made-up-there"]
    assert told["progress"][0] == ["made-up", ["made-up-there"]]
    assert told["command"].startswith("made-up: a made-up topic\n  made-up-there")
    assert [row["family"] for row in json.loads(told["command, JSON"])["families"]] == [
        "made-up-there"
    ]
    assert told["problem"].startswith("A post of ")
    assert told["panel's topics"][:3] == ["", "made-up", "girth"]
    assert "made-up 0 of 1; girth 0 of 8" in told["panel's picture"]
