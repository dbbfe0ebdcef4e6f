"""Trees, plots and volume rules from CSV files: what is read, and every problem told at once."""

from __future__ import annotations

import numpy as np
import pytest

from mensura.disk.check_file import FileError
from mensura.disk.stand_file import StandError, parse_stand
from mensura.disk.volume_file import parse_equations, parse_tapers

TREES = "plot,tree,diameter_cm,height_m,species\nA,1,30,20,oak\nb,2,40.5,25,Pine\n"
EQUATION = "coefficient,diameter_power,height_power\n"
PLOTS = "plot,area_m2\nA,500\nB,300\n"


def says(trees: str = TREES, plots: str = PLOTS) -> str:
    with pytest.raises(FileError) as error:
        parse_stand(trees, plots, "t.csv", "p.csv")
    return str(error.value)


def test_plain_files():
    found = parse_stand(TREES, PLOTS)
    assert found.tree_plot.tolist() == [0, 1]
    assert found.diameter_cm.tolist() == [30.0, 40.5]
    assert found.species == ("oak", "pine")
    assert found.rows == (2, 3)
    assert found.plots.map_area_m2.tolist() == [500.0, 300.0]
    assert not found.from_girths


def test_semicolons_decimal_commas_remarks_capitals_and_a_mark():
    trees = (
        "\ufeff# ours\r\nPLOT;Tree;Girth_cm;height_m;times\r\n\r\na;1;94,25;20,5;2\r\nA;2;60;9;\r\n"
    )
    plots = "plot;factor_m2_per_ha;slope_deg\nA;2;\nB;1,5;25"
    found = parse_stand(trees, plots)
    assert found.from_girths
    assert found.diameter_cm == pytest.approx(np.array([94.25, 60]) / np.pi)
    assert found.times.tolist() == [2.0, 1.0]
    assert found.plots.map_factor_m2_per_ha == pytest.approx([2, 1.5 / np.cos(np.radians(25))])


def test_a_height_that_does_not_go_with_its_diameter_is_told():
    """A diameter in mm, a height in feet, nothing at breast height; a usual tree is not."""
    assert parse_stand(TREES, PLOTS).odd_notes() == []
    odd = "A,3,305,20,\nA,4,12,66,\nA,5,3,1.2,\nA,6,80,30,\n"
    (told,) = parse_stand(TREES + odd, PLOTS, "t.csv").odd_notes()
    assert told.startswith("Rows 4, 5, 6 of 't.csv': a height that does not go with the diameter")
    assert "(20 m on 305 cm)" in told


@pytest.mark.parametrize(("plots", "told"), [
    ("A,500\nB,0.04", "Row 3 of 'p.csv', column area_m2: 0.04 m² is little"),
    ("A,0.05\n# ours\nB,0.04", "Rows 2, 4 of 'p.csv', column area_m2: 0.05 m² is little"),
    ("A,500\nB,12.5", ""),
])  # fmt: skip
def test_an_area_that_looks_like_hectares_is_told(plots, told):
    """By its rows; nothing is changed. An angle count has no area."""
    found = parse_stand(TREES, f"plot,area_m2\n{plots}\n", "t.csv", "p.csv")
    notes = found.odd_notes()
    assert len(notes) == bool(told)
    assert all(one.startswith(told) for one in notes)
    assert found.plots.area_m2[1] == float(plots.split(",")[-1])
    counted = parse_stand(TREES, "plot,factor_m2_per_ha\nA,2\nB,2", "t.csv", "p.csv")
    assert counted.odd_notes() == []


def test_no_tree_is_no_problem():
    found = parse_stand("plot,tree,diameter_cm,height_m\n", PLOTS)
    assert found.tree_plot.size == 0
    assert found.species_names == ()
    (told,) = found.odd_notes()
    assert told.startswith("'the trees' has a header and no tree: all plots count as zeros.")


def test_both_kinds_of_column_where_one_is_filled():
    found = parse_stand(TREES, "plot,area_m2,factor_m2_per_ha\nA,500,\nB,300,\n")
    assert not found.plots.counted


@pytest.mark.parametrize(
    ("trees", "told"),
    [
        ("A,1,30,20,", ""),
        (
            "Q,1,30,20,",
            "t.csv, row 2, column plot, is 'Q'; expected a plot that p.csv lists: A, B",
        ),
        ("A,1,x,20,", "row 2, column diameter_cm, is 'x'; expected a number above 0 and at most"),
        ("A,1,0,20,", "column diameter_cm, is 0 cm; expected a number above 0"),
        ("A,1,30,,", "column height_m, is empty; expected a number above 0 and at most 120 m."),
        ("A,1,30,200,", "column height_m, is 200 m; expected"),
        ("A,,30,20,", "column tree, is empty; expected a code"),
        ("A,=cmd(),30,20,", "column tree, is '=cmd()'; expected a code"),
        ("A,1,30,20,<b>", "column species, is '<b>'; expected a code"),
        ("A,1,30,20", "row 2, has 4 cells; expected 5 as in the header."),
        ("A,1,30,5,20,", "has 6 cells; expected 5 as in the header (a decimal comma needs"),
        ("A,1,30,20,\na,1,31,20,", "row 3, column tree, is '1' of plot 'a' again, as in row 2;"),
        ("A,1,1e999,20,", "column diameter_cm, is inf cm; expected"),
    ],
)
def test_a_row_of_a_tree_that_cannot_be_used(trees, told):
    text = f"plot,tree,diameter_cm,height_m,species\n{trees}\n"
    if told:
        assert told in says(text)
    else:
        assert parse_stand(text, PLOTS).rows == (2,)


@pytest.mark.parametrize(
    ("plots", "told"),
    [
        ("plot,area_m2\nA,\nB,300", "p.csv, row 2, has neither an area nor a factor"),
        ("plot,area_m2,factor_m2_per_ha\nA,500,2\nB,300,", "row 2, has both an area and a factor"),
        ("plot,area_m2,factor_m2_per_ha\nA,500,\nB,,2", "is given, and area_m2 in row 2; expected"),
        ("plot,radius_m\nA,12", "row 1, has neither the column area_m2 nor the column factor"),
        ("plot,area_m2\nA,500\na,300\nB,1", "row 3, column plot, is 'a' again, as in row 2;"),
        ("plot,area_m2\nA,-1\nB,300", "row 2, column area_m2, is -1 m²; expected a number above 0"),
        ("plot,factor_m2_per_ha\nA,0.01\nB,2", "is 0.01 m²/ha; expected a number from 0.05 to 100"),
        ("plot,area_m2,slope_deg\nA,500,80\nB,300,0", "column slope_deg, is 80 degrees; expected"),
        ("plot,area_m2\n", "p.csv has a header and no plot; expected at least one plot"),
        ("", "p.csv is empty; expected the columns plot,area_m2 or"),
        ("plot,plot,area_m2\nA,A,3", "row 1, names the column plot twice; expected it once."),
    ],
)
def test_plots_that_cannot_be_used(plots, told):
    assert told in says(plots=plots)


@pytest.mark.parametrize(
    ("trees", "told"),
    [
        ("plot,tree,height_m\nA,1,20", "row 1, lacks the column diameter_cm: it has 'plot',"),
        ("plot,tree,girth_cm,diameter_cm,height_m\nA,1,94,30,20", "has both the column diameter"),
        ("", "t.csv is empty; expected the columns plot,tree,"),
        ('plot,tree,girth_cm,height_m\nA,1,"' + "9" * 200_000 + ",3", "never ends; expected"),
    ],
)
def test_a_header_that_cannot_be_used(trees, told):
    assert told in says(trees)


def test_all_problems_of_both_files_at_once():
    """Two in full; of many the first in full, the others counted; each is a problem of its own."""
    trees = "plot,tree,diameter_cm,height_m\nA,1,x,20\n"
    plots = "plot,area_m2\nA,500\nB,\n"
    two = says(trees, plots)
    assert "p.csv, row 3, has neither" in two
    assert "; and t.csv, row 2, column diameter_cm, is 'x'; expected" in two
    many = trees + "".join(f"Q,{at},30,20\n" for at in range(2, 30))
    with pytest.raises(StandError) as error:
        parse_stand(many, plots, "t.csv", "p.csv")
    assert len(error.value.problems) == 30
    told = str(error.value)
    assert told.endswith("; expected all 30 problems mended.")
    assert len(told) < 600
    assert "26 more" in told


@pytest.mark.parametrize(
    ("text", "told"),
    [
        (EQUATION + "", "has a header and no row"),
        ("coefficient,diameter_power\n1,2", "row 1, lacks the column height_power"),
        (
            "coefficient,diameter_power,height_power\n1,2,1+1",
            "row 2, column height_power, is '1+1'",
        ),
        (
            "coefficient,diameter_power,height_power,species\n1,2,1,=a()",
            "column species, is '=a()'",
        ),
        (EQUATION + "1,2", "row 2, has 2 cells; expected 3"),
    ],
)
def test_an_equation_that_cannot_be_read(text, told):
    with pytest.raises(FileError, match=r"^eq\.csv") as error:
        parse_equations(text, "eq.csv")
    assert told in str(error.value)


@pytest.mark.parametrize(
    ("rows", "told"),
    [
        ("0.1,1\n1,0", "row 2, column height_share, is 0.1; expected 0, the ground"),
        (
            "0,1\n0.5,0.6\n0.4,0.5\n1,0",
            "row 4, column height_share, is 0.4; expected more than",
        ),
        ("0,1\n0.9,0", "row 3, column height_share, is 0.9; expected 1, the tip"),
        ("0,0\n1,0", "has no stem that can be used; expected a stem that is thick somewhere"),
        ("0,9\n1,0", "row 2, column diameter_share, is '9'; expected a number from 0 to 3"),
    ],
)
def test_a_taper_that_cannot_be_read(rows, told):
    with pytest.raises(FileError, match=r"^stem\.csv") as error:
        parse_tapers(f"height_share,diameter_share\n{rows}\n", "stem.csv")
    assert told in str(error.value)


def test_rules_by_species():
    found = parse_equations(
        "species;coefficient;diameter_power;height_power\nOak;3,5e-5;2;1\nOak;0,01;0;0\n;4e-5;2;1"
    )
    assert set(found) == {"oak", ""}
    assert len(found["oak"].terms) == 2
