"""The command `mensura stand`: its figures on closed forms, its words, its files, its refusals."""

from __future__ import annotations

import json
import re
from pathlib import Path

import numpy as np
import pytest

from mensura.cli.errors_option import SUPPOSED
from mensura.estimates.stand_words import CAUTION
from mensura.places import data_file

TREES, PLOTS = str(data_file("quillmere-trees.csv")), str(data_file("quillmere-plots.csv"))
ASK = ("stand", TREES, "--plots", PLOTS)


@pytest.fixture
def files(tmp_path: Path):
    """Writes the two files and gives the words of the command."""

    def write(trees: str, plots: str, head: str = "plot,tree,diameter_cm,height_m") -> list[str]:
        (tmp_path / "t.csv").write_text(f"{head}\n{trees}\n", "utf-8")
        (tmp_path / "p.csv").write_text(f"{plots}\n", "utf-8")
        return ["stand", str(tmp_path / "t.csv"), "--plots", str(tmp_path / "p.csv")]

    return write


def words(text: str) -> str:
    return " ".join(text.split())


def test_a_stand_in_closed_form(answered, files):
    """Two and three trees of 40 cm and 25 m on 500 m²: 50 stems, 2π m², and 0.5·25 times that."""
    trees = "\n".join(f"{'AABBB'[at]},{at},40,25" for at in range(5))
    ask = files(trees, "plot,area_m2\nA,500\nB,500")
    found = answered(*ask, "--form-factor", "0.5")["per_hectare"]
    assert found["stems"]["value"] == pytest.approx(50, rel=1e-9)
    assert found["stems"]["se"] == pytest.approx(10, rel=1e-9)
    assert found["stems"]["interval"] == pytest.approx([50 - 127.062, 50 + 127.062], abs=1e-3)
    assert found["basal_area_m2"]["value"] == pytest.approx(2 * np.pi, rel=1e-9)
    assert found["volume_m3"]["value"] == pytest.approx(25 * np.pi, rel=1e-9)


def test_girths_and_an_angle_gauge(answered, files):
    """A tree counted at factor 2 is 2 m², however thick; girths are divided by π."""
    head = "plot,tree,girth_cm,height_m"
    ask = files(
        "A,1,94.2477796077,20\nA,2,200,30\nB,1,70,10", "plot,factor_m2_per_ha\nA,2\nB,2", head
    )
    found = answered(*ask, "--form-factor", "0.4")
    assert found["plot_kind"] == "angle-count"
    assert found["per_hectare"]["basal_area_m2"]["value"] == pytest.approx(3, rel=1e-9)
    assert found["per_hectare"]["volume_m3"]["value"] == pytest.approx(0.4 * (20 + 30 + 10))


def test_what_the_demo_prints(run):
    """One caution beside the volume, aligned tables, the empty plot, what to do first."""
    said = run(*ASK).stdout
    assert words(CAUTION) in words(said)
    assert "P09: it counts as zero" in said
    assert "Do first: five more plots" in words(said)
    assert words(SUPPOSED) in words(said)
    assert max(map(len, said.splitlines())) <= 80
    table = said.split("\n\n")[1].splitlines()
    assert [line.split()[0] for line in table[1:]] == ["basal", "stems", "volume"]
    assert len({len(line) for line in table}) == 1
    assert not re.search(r"(?m)^ *%", said)


def test_text_and_json_say_the_same(run, answered):
    found, said = answered(*ASK), run(*ASK).stdout
    volume = found["per_hectare"]["volume_m3"]
    low, high = volume["interval"]
    assert f"{low:.1f} to {high:.1f}" in said
    assert found["caution"] == CAUTION
    assert found["empty_plots"] == ["P09"]
    assert [one["species"] for one in found["species"]] == ["birch", "oak", "pine"]
    parts = sum(one["per_hectare"]["volume_m3"]["value"] for one in found["species"])
    assert parts == pytest.approx(volume["value"], rel=1e-12)
    assert sum(one["share_percent"] for one in found["shares"]) == pytest.approx(100)
    assert found["budget"]["u"] > volume["se"]
    assert found["do_first"][0]["remedy"] in said


def test_draws_agree_with_the_law(answered):
    """2,000 draws: the same share of the sampling within four of its standard errors."""
    found = answered(*ASK, "--draws", "2000")
    first = found["shares"][0]
    assert first["input"] == "sampling"
    off = abs(first["drawn_share_percent"] - first["share_percent"])
    assert 0 < off < 4 * first["drawn_share_error_percent"]


@pytest.mark.parametrize(("plots", "said"), [(1, "One plot cannot"), (4, "Only 4 plots")])
def test_below_five_plots_it_says_what_it_rests_on(run, answered, files, plots, said):
    names = "ABCD"[:plots]
    trees = "\n".join(f"{name},1,{30 + at},20" for at, name in enumerate(names))
    ask = files(trees, "plot,area_m2\n" + "\n".join(f"{name},500" for name in names))
    result = run(*ask)
    assert result.exit_code == 0
    assert said in result.stdout
    one = answered(*ask)["per_hectare"]["volume_m3"]
    assert (one["se"] is None) == (one["interval"] is None) == (plots == 1)


def test_no_tree_on_any_plot(run, answered, files):
    ask = files("", "plot,area_m2\nA,500\nB,500")
    assert "No plot has a tree (A, B)" in run(*ask).stdout
    found = answered(*ask)
    assert found["per_hectare"]["stems"] == {
        "value": 0.0, "se": 0.0, "interval": [0.0, 0.0], "skew_interval": None,
    }  # fmt: skip
    assert (found["shares"], found["budget"]) == ([], None)


def test_clumps_get_a_skew_interval(run, files):
    trees = "\n".join(f"A,{at},30,20" for at in range(12)) + "\nB,1,30,20\nC,1,30,20"
    said = run(*files(trees, "plot,area_m2\nA,500\nB,500\nC,500\nD,500\nE,500")).stdout
    assert "skew interval" in said.splitlines()[2]
    assert "as far above the mean as below it in times" in words(said)
    assert "0 to" in said


def test_an_equation_and_a_taper_typed_in_as_data(answered, files, tmp_path):
    """Both are the form factor in other words; species have their own rows."""
    ask = files("A,1,30,20,oak\nB,1,40,25,pine", "plot,area_m2\nA,500\nB,500",
                "plot,tree,diameter_cm,height_m,species")  # fmt: skip
    plain = answered(*ask, "--form-factor", "0.5")["per_hectare"]["volume_m3"]["value"]
    (tmp_path / "eq.csv").write_text(
        f"coefficient,diameter_power,height_power\n{np.pi / 80000!r},2,1\n", "utf-8"
    )
    (tmp_path / "taper.csv").write_text(
        f"height_share,diameter_share,species\n0,1,oak\n1,0,oak\n0,{0.5**0.5!r},\n1,{0.5**0.5!r},\n",
        "utf-8",
    )
    found = answered(*ask, "--equation", str(tmp_path / "eq.csv"))
    assert found["per_hectare"]["volume_m3"]["value"] == pytest.approx(plain, rel=1e-12)
    assert found["inputs"]["equation"]["file"] == "eq.csv"
    told = answered(*ask, "--taper", str(tmp_path / "taper.csv"))
    oak, pine = (one["per_hectare"]["volume_m3"]["value"] for one in told["species"])
    # an oak of 20 m as a cone, its 30 cm at 1.3 m: a third of a cylinder of 30·20/18.7 cm; a pine
    # as a cylinder is a whole one, in whatever unit it was drawn
    assert (1.5 * oak * (18.7 / 20) ** 2 + pine / 2) == pytest.approx(plain, rel=1e-9)
    assert "at 1.3 m as thick as the tree" in told["volume_by"]


def test_errors_are_written_out_and_read_again(run, answered, tmp_path, monkeypatch):
    """What is written is what was supposed; a changed figure changes the shares."""
    monkeypatch.chdir(tmp_path)
    first = run(*ASK, "--errors-new")
    assert first.stdout.endswith("Saved: errors.toml\n")
    file = tmp_path / "errors.toml"
    same = answered(*ASK, "--errors", str(file))
    assert same["shares"] == answered(*ASK)["shares"]
    text = file.read_text("utf-8")
    assert text.count("u = 5.0") == 1
    file.write_text(text.replace("u = 5.0", "u = 20.0"), "utf-8")
    assert answered(*ASK, "--errors", str(file))["shares"][0]["input"] == "form factor"
    assert run(*ASK, "--errors-new").exit_code == 2


def test_areas_in_hectares_are_told_and_kept(run, answered, files):
    """0.05 for 500 m²: the rows, in text and JSON, nothing changed; true plots in silence."""
    ask = files("A,1,40,25\nB,1,40,25", "plot,area_m2\nA,0.05\nB,500\n")
    found = answered(*ask)
    said = (
        "Row 2 of 'p.csv', column area_m2: 0.05 m² is little for a plot. Is it in hectares? 0.05 "
        "ha are 500 m². Nothing was changed."
    )
    assert said in found["notes"]
    assert said in words(run(*ask).stdout)
    both = files("A,1,40,25\nB,1,40,25", "plot,area_m2\nA,0.05\nB,0.05\n")
    dense = answered(*both)
    assert dense["per_hectare"]["stems"]["value"] == pytest.approx(200_000)
    told = [
        one for one in dense["notes"] if one.startswith("A hectare with a basal area of 25,133")
    ]
    assert len(told) == 1
    assert "200,000 stems is more than" in told[0]
    assert not [one for one in answered(*ASK)["notes"] if "Nothing was changed" in one]


def test_girths_in_the_column_of_diameters_are_told_first(run, answered, tmp_path: Path) -> None:
    """Quillmere's girths so headed: 235 m² and stout trees, told before any figure."""
    place = tmp_path / "t.csv"
    text = Path(TREES).read_text("utf-8")
    place.write_text(text.replace("girth_cm", "diameter_cm"), "utf-8")
    ask = ("stand", str(place), "--plots", PLOTS)
    found = answered(*ask)
    dense, stout = found["look_first"]
    assert dense.startswith("A hectare with a basal area of 235 m² is more than nearly any stand")
    assert "published are 10 to 60 m² (Brack and Wood)" in dense
    assert "hardly any stand is so stout. Are they girths in the column diameter_cm" in stout
    assert found["notes"][:2] == found["look_first"]
    lines = run(*ask).stdout.splitlines()
    assert lines[1] == "Look at these first:"
    assert lines[2].startswith("- A hectare with a basal area of 235 m²")
    said = "\n".join(lines)
    assert said.index("so stout") < said.index("A hectare has") < said.index("- 1 plot has no tree")
    assert answered(*ASK)["look_first"] == []
    assert "Look at these first" not in run(*ASK).stdout


def test_100_m2_and_the_shape_of_trees(answered, files) -> None:
    """A hair below each bound nothing is told, a hair above it is."""

    def told(diameter: float, height: float, area: float) -> str:
        ask = files(f"A,1,{diameter!r},{height!r}", f"plot,area_m2\nA,{area!r}")
        return " ".join(answered(*ask)["look_first"])

    area = np.pi / 4 * 0.4**2 * 100  # m² a plot so that a tree of 40 cm is 100 m²/ha
    assert "basal area of 100 m²" in told(40, 25, area * 0.999)
    assert told(40, 25, area * 1.001) == ""
    assert "so stout" in told(40, 12.3, 500.0)
    assert told(40, 12.5, 500.0) == ""
    assert "so slender" in told(10, 20.1, 500.0)
    assert told(10, 19.9, 500.0) == ""
    assert told(4, 9.0, 500.0) == ""


def test_no_tree_below_the_header_is_told(run, answered, files):
    """The figures are noughts, and a note asks whether that is the right file."""
    ask = files("", "plot,area_m2\nA,500\nB,500")
    said = "'t.csv' has a header and no tree: all plots count as zeros. Is it the right file?"
    assert answered(*ask)["notes"][0] == said
    assert said in words(run(*ask).stdout)


def test_the_draws_interval_says_what_it_lacks(run, answered):
    """Student's part is in the law's interval alone; what the draws' is to be held against."""
    found = answered(*ASK, "--draws", "4000")["budget"]
    (said,) = [one for one in found["notes"] if "Student's" in one]
    low, high = (found["value"] + sign * 1.95996 * found["u"] for sign in (-1, 1))
    assert f"{low:.1f} to {high:.1f}." in said
    assert found["drawn_interval"] == pytest.approx([low, high], rel=0.03)
    assert found["interval"][0] < low - 4
    assert words(said) in words(run(*ASK, "--draws", "4000").stdout)
    assert not [one for one in answered(*ASK)["budget"]["notes"] if "Student's" in one]


def test_a_large_common_error_is_told(run, answered, tmp_path):
    """A form factor unsure by a fifth: the note, with how often the interval holds the truth."""
    errors = tmp_path / "errors.toml"
    line = '[[error]]\nof = "form factor"\nu = {}\nunit = "%"\nfor = "all"\norigin = "ours"\n'
    errors.write_text(line.format(20), "utf-8")
    said = "leaves the figure unsure by 20 %."
    assert said in words(run(*ASK, "--errors", str(errors)).stdout)
    (note,) = [one for one in answered(*ASK, "--errors", str(errors))["budget"]["notes"]
               if said in one]  # fmt: skip
    assert "95 times in a hundred, 92 times" in note
    errors.write_text(line.format(9.9), "utf-8")
    assert "truths above its upper end" not in words(run(*ASK, "--errors", str(errors)).stdout)


def test_help_says_units_and_where_a_taper_fits(run):
    said = words(run("stand", "--help").stdout)
    assert "Volume in m³ as a sum of powers of d in cm and h in m" in said
    assert "scaled to be as thick at 1.3 m as the tree" in said


def test_what_cannot_be_used_is_refused(refused, run, files, tmp_path):
    """One sentence each, with file, row and column; all problems of both files."""
    bad = files("A,1,30,20\nQ,2,30,20", "plot,area_m2\nA,500")
    assert refused(*bad) == (
        "t.csv, row 3, column plot, is 'Q'; expected a plot that p.csv lists: A."
    )
    bad = files("A,1,x,20", "plot,area_m2\nA,500\nB,")
    told = refused(*bad)
    assert told.startswith("p.csv, row 3, has neither an area nor a factor")
    assert "; and t.csv, row 2, column diameter_cm, is 'x'; expected" in told
    good = files("A,1,10,8,\nA,2,30,20,oak", "plot,area_m2\nA,500",
                 "plot,tree,diameter_cm,height_m,species")  # fmt: skip
    (tmp_path / "eq.csv").write_text(
        "coefficient,diameter_power,height_power,species\n-0.1,0,0,\n4e-5,2,1,\n", "utf-8"
    )
    assert refused(*good, "--equation", str(tmp_path / "eq.csv")) == (
        "t.csv, row 2, has a volume of -0.068 m³ by the equation; expected an equation that is not "
        "below 0 for any tree."
    )
    (tmp_path / "oak.csv").write_text(
        "coefficient,diameter_power,height_power,species\n4e-5,2,1,oak\n", "utf-8"
    )
    assert refused(*good, "--equation", str(tmp_path / "oak.csv")) == (
        "t.csv, row 2, column species, is empty; expected a species that has a rule for its volume:"
        " oak."
    )
    (tmp_path / "cone.csv").write_text("height_share,diameter_share\n0,1\n1,0\n", "utf-8")
    low = files("A,1,30,20\nA,2,2,1.2", "plot,area_m2\nA,500")
    assert refused(*low, "--taper", str(tmp_path / "cone.csv")) == (
        "t.csv, row 3, column height_m, is 1.2 m, where the taper has no thickness at 1.3 m; "
        "expected trees above 1.3 m, and a taper that is thick there."
    )
    low = files("A,1,30,20\nA,2,2,2.5", "plot,area_m2\nA,500")
    said = "Row 3 of 't.csv', column height_m: 2.5 m, so that 1.3 m is in the upper half"
    assert said in words(run(*low, "--taper", str(tmp_path / "cone.csv")).stdout)
    assert said not in words(run(*low).stdout)
    both = (*good, "--form-factor", "0.5", "--taper", "x.csv")
    assert refused(*both) == (
        "--taper is given beside --form-factor; expected one rule for the volume."
    )
    assert refused(*good, "--draws", "50").startswith("--draws is 50; expected a whole number")


def test_names_in_a_file_come_out_harmless(run, files):
    """A species is a code; a long or odd file name is quoted."""
    ask = files(
        "A,1,30,20,\x1b[2J", "plot,area_m2\nA,500", "plot,tree,diameter_cm,height_m,species"
    )
    result = run(*ask)
    assert result.exit_code == 2
    assert "\x1b" not in result.stderr
    assert (
        json.loads(run(*ASK, "--json").stdout)["inputs"]["trees"]["file"] == "quillmere-trees.csv"
    )
