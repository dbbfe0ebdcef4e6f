"""The committed workbooks: run in order, without faults, readable without a kernel, referenced.

A notebook whose outputs are stripped passes every comparison of outputs. So it is held here that
there is something to compare.
"""

from __future__ import annotations

import ast
import base64
import copy
import html
import importlib
import importlib.util
import re
from collections.abc import Callable, Iterator
from functools import cache
from pathlib import Path
from typing import Any

import nbformat
import pytest

from mensura.sources import SOURCES, cite
from mensura.teaching.lessons.chapters import CHAPTERS, Chapter, neighbours
from mensura.teaching.problems.bank import problem

ROOT = Path(__file__).resolve().parents[1]
WORKBOOKS = ROOT / "workbooks"
PATHS = [WORKBOOKS / one.file for one in CHAPTERS]
LECTURERS = sorted((WORKBOOKS / "lecturer").glob("*.ipynb"))
LIVE_VIEW = "application/vnd.jupyter.widget-view+json"

ANATOMY = (
    "What you will be able to do",
    "Predict",
    "Try it",
    "Why",
    "Check yourself",
    "In the field",
    "Sources",
)

#: Numbers that each chapter shows, known from elsewhere: a lost output cannot pass for equal.
SHOWN = {
    "01": [
        "40.11 1263.4",  # 126/π; 126²/4π
        "+1.00 +2.01",  # 1.01²
        "times too small 9.87",  # π²
        "girth, in 49.47",  # 40π/2.54
    ],
    "02": [
        "tape 170.17 2304.4 +1.8764",
        "quadratic mean 60.00 and 48.00 2318.5 +2.5000",
        "arithmetic mean 60.00 and 48.00 2290.2 +1.2500",
        "60 by 48 cm 22.4 29.9 0.0",
        "0.9800 +0.0102 +0.0153 +0.0204",  # as 2 : 3 : 4
        "40.00 and 40.00 +11.44 +11.44 +11.44",  # a Reuleaux triangle
    ],
    "03": [
        "60 by 48 cm 170.170 170.690 0.520",  # 4aE(1 − b²/a²); 2π√((a² + b²)/2)
        "0.5000 +12.5000 +18.8827 +25.0000 0.7553",
        "→ 3/4 as b → a limit",  # the last of 15 lines, verified
        "30 30 0 no",  # (a − b)² > 0 fails on a round stem
        "2 0.000 3 3.183 4 0.000",  # 2·40/(π(3² − 1)), the Reuleaux triangle's third ripple
        "45.0 57.079 and 57.079 +0.556 +0.556 +0.417",  # 9/(2·810)
        "With a = 2 and b = 1 the left side is 5 and the right side 6",
        "a² + b² ≥ 2ab weaker",
    ],
    "04": [
        "5.0 125.904 +0.240 +0.191 +0.383 0.382",  # 2E(sin²θ)/(π cos θ); 1/cos θ
        "2.00 126.83 +1.17 +0.93 +1.87",  # two circles of 40 and 2 cm in one band
        "126.83316 126.83316",  # the same by its formula
        "10.000 126.061 +0.397",  # √(G² + h²)
        "0.10 0.00 125.04 −0.63",  # 2π·0.1
    ],
    "05": [
        "17.142 17.142",  # [Steiner1840]
        "10 19.00",
        "15 27.75",
        "2.20 +2.01",  # 1.01²
        "16.03 0.916 15.85 0.917 16.00 0.917 13.27 0.931",
    ],
    "06": [
        "100.00 70.00 −30.00 −30.00 −51.00 42.86",  # 100/70
        "20.50 20.00 −4.82",
        "1.26 0.30 0.70 1.40 0.90",  # 0.3 + 0.2 L, 0.2 for a hook [UKSI2016]
        "0.04 63.00 63.13 +0.126",  # 0.04π
    ],
    "07": [
        "−0.346 −0.865 −1.723 39.654",  # 20 + 20 tan 44.5°
        "10.0 40.00 40.62 +0.62 +1.54",  # 1/cos 10°
        "0.115 40.00 39.96",  # arctan 0.5/250
        "calipers that open to 54 cm",
    ],
    "08": [
        "4420 cm²",  # 235.7²/4π, as the golden numbers of the bank have it
        "bark_cm 0.050 19.293 +1.69",  # 100·(1 − (1 − 2π·2.85/176.2)²)
        "2' 7\" 31 in 2",  # 2·12 + 7
        "78.5 x 10^-2 m2 0.785 m² 3",
        "9.87 an area: girth taken for diameter",  # π²
        "1.27 an area or a volume",  # 4/π
        "girth-as-diameter The girth was taken for a diameter.",
        "44200 cm2 It is too large by a factor of 10",
        "0.44 m m is a length; expected an area",
        "235.70 yes",  # drawn again, the same
    ],
    "09": [
        "10.0 +0.77 +0.78 +1.55 +3.11",  # 2E(sin²10°)/(π cos 10°); tan²10°/4; 1/cos²10°
        "one taut band round both 38.49 +33.59",  # 2√550 + π·23.5 + 3 arcsin(3/47), over π
        "sum of the diameters 47.00 +99.19",  # 47²/1109
        "from downhill, slope 20° +0.36 +0.73",  # tan 20° = 0.36397: 1.0036397²
        "USA, forestry 1.37 4.5 feet",
        "another tape 0.72 1.18 3.0",  # 1.96·√(2·0.2² + 2·0.0314² + 2·(0.1² + 0.125²))
        "5 125.00 124.40 −0.60",  # the file's own row
    ],
    "10": [
        "250.00 249.00 −1.00",
        "worn start, cm 1.841 0.043 1.721 1.961",  # a straight line by another library, t = 2.776
        "resolution, cm rectangular 126.300 0.289 1.011 0.292",  # 1/√12; times 1.0112
        "diameter, cm draws 40.02 0.14",  # 125.74/π
        "out of round, % 9.70 tape calipers",  # x²/(1 + x) = 0.00858, as the page reckons
        "T1 2.00 0.00 1.643 0.70 cannot be decided",  # 0.3 + 2·0.2 [UKSI2016]
    ],
    "11": [
        "T2 girth share −2.44 %",  # 100/1.025 − 100
        "Q04 +2.3 0.0 +2.2",  # medians by another program, from the file
        "58 Q01 82.40 two neighbouring figures changed places 28.40",  # as it was drawn
        "532.00 the decimal point slipped 53.20",
        "T1 girth 0.22",  # pooled by hand from the file: 0.217
    ],
    "12": [
        "Smalian 0 0 +50 +100",  # on whole solids [Husch2003], from memory
        "L3 6.0 1.056 1.309 1.140",  # by hand from the file's three girths
    ],
    "13": [
        "a scale nearer than the cut −15.4 −8.0 0.0",  # 138/150, squared
        "a smooth ellipse as much out of round would have +0.42",  # 3/2·(11.18/211.18)²
        "bark in the whole area, % 16.0",  # the two files' points by a cross sum
    ],
}

#: At most so many lines of Python are seen in a chapter, and in one cell of it.
LINES, LINES_A_CELL = 30, 6

#: At most so many words of prose are read in a chapter, counted between blanks.
WORDS = 1500

#: What every chapter says first of work outdoors, in the same words.
CARE = (
    "**Care first** (*common practice, no source*). Keep out of a felling or hauling site; where "
    "somebody fells, the site's own distance holds. Never go in a storm, nor after one before the "
    "stand is cleared; leave at the first thunder: steel tapes and calipers are metal. Nobody "
    "works alone: somebody knows where you are and until when; take a phone that works there, "
    "first aid and, where the site asks, a helmet. Know the irritant plants; look for ticks "
    "afterwards. Local rules come first."
)

#: What lines text up by hand; a table does it for a cell.
ALIGNING = {"format", "ljust", "rjust", "center", "zfill", "expandtabs"}

ABSOLUTE = re.compile(
    r"(?<![\w.:/])/(?:home|root|tmp|usr|opt|var|work|Users|mnt|private)/|\b[A-Za-z]:\\\\?\w"
)
CITATION = re.compile(r"\[((?:[A-Z][A-Za-z-]*-?[A-Z]?\d{3,6})|[A-Z]{4,})(?:, [^\]]*)?\](?!\()")
LINK = re.compile(r"\]\(([^)\s]+)\)")
PANEL = re.compile(r"\w*PANEL|proof_panel\(\"\w+\"\)|\w+_panel\(\w+\)|practice\(.*\)")
PROBLEM = re.compile(r"problems_here\(\"([a-z0-9-]+)\", (\d+)(?:, picture=False)?\)")
HEADING = re.compile(r"^#{1,4} +(.+)$", re.MULTILINE)


@pytest.fixture(params=PATHS, ids=lambda path: path.stem)
def path(request: pytest.FixtureRequest) -> Path:
    """One workbook after the other."""
    return Path(request.param)


@cache
def stored(path: Path) -> Any:
    """A workbook as stored, read once; whoever changes it takes a copy."""
    return nbformat.read(path, as_version=4)


@pytest.fixture
def book(path: Path) -> Any:
    """That workbook, as stored."""
    return stored(path)


@pytest.fixture(params=[*PATHS, *LECTURERS], ids=lambda path: path.stem)
def any_path(request: pytest.FixtureRequest) -> Path:
    """One page after the other, the lecturer's among them."""
    return Path(request.param)


@pytest.fixture
def any_book(any_path: Path) -> Any:
    """That page, as stored."""
    return stored(any_path)


@pytest.fixture(scope="module")
def tidy() -> Callable[[Any], None]:
    """What is done to a workbook before it is stored."""
    place = Path(__file__).with_name("execute_workbooks.py")
    spec = importlib.util.spec_from_file_location("mensura_execute_workbooks", place)
    assert spec
    assert spec.loader
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    made: Callable[[Any], None] = module.tidy
    return made


def code_cells(book: Any) -> list[Any]:
    return [cell for cell in book.cells if cell.cell_type == "code"]


def outputs(book: Any) -> Iterator[Any]:
    for cell in code_cells(book):
        yield from cell.outputs


def prose(book: Any) -> str:
    return "\n\n".join(cell.source for cell in book.cells if cell.cell_type == "markdown")


def shown(book: Any) -> str:
    """Every text that a new run is compared with, but for pictures' words; blanks count once."""
    texts = [
        output.get("text") or output["data"]["text/plain"]
        for output in outputs(book)
        if "image/png" not in output.get("data", {})
    ]
    return " ".join(" ".join(texts).split())


def by_hand(source: str) -> list[str]:
    """What a cell prints, formats or lines up itself."""
    found = []
    for node in ast.walk(ast.parse(source)):
        match node:
            case ast.JoinedStr():
                found.append("an f-string")
            case ast.Call(func=ast.Name(id="print" | "format" as name)):
                found.append(name)
            case ast.Attribute(attr=name) if name in ALIGNING:
                found.append(name)
            case ast.BinOp(left=ast.Constant(value=str()), op=ast.Mod() | ast.Mult()):
                found.append("a string with an operator")
    return found


def listed_sources(book: Any) -> list[str]:
    """The texts of the lists of sources."""
    return [
        output["data"]["text/plain"]
        for output in outputs(book)
        if output.get("data", {}).get("text/html", "").startswith("<ul>")
    ]


def pictures(book: Any) -> list[Any]:
    return [output for output in outputs(book) if "image/png" in output.get("data", {})]


def shapes(output: Any) -> str:
    """The SVG that stands in a picture's HTML."""
    (found,) = re.findall("data:image/svg\\+xml;base64,([A-Za-z0-9+/=]+)", output.data["text/html"])
    return base64.b64decode(found).decode("utf-8")


def test_the_lecturer_has_pages() -> None:
    """What is held of any page is held of theirs."""
    assert [path.name for path in LECTURERS] == ["lesson.ipynb"]


def test_the_lesson_page_leads_to_every_chapter() -> None:
    """By its heading, in order."""
    links = re.findall(r"\[(\d\d [^\]]+)\]\(\.\./([^)]+)\)", prose(stored(LECTURERS[0])))
    assert links == [(one.heading, one.file) for one in CHAPTERS]


def test_every_chapter_has_numbers_to_show() -> None:
    """What is held below is held for each chapter, and for no other."""
    assert list(SHOWN) == [one.number for one in CHAPTERS]
    assert all(SHOWN.values())


def test_executed_from_top_to_bottom(any_path: Path, any_book: Any) -> None:
    """Each code cell was run, once, in order, in a fresh kernel; none is empty."""
    nbformat.validate(any_book)
    cells = code_cells(any_book)
    assert [cell.execution_count for cell in cells] == list(range(1, len(cells) + 1))
    for cell in cells:
        assert cell.source.strip()
        for output in cell.outputs:
            assert output.get("execution_count", cell.execution_count) == cell.execution_count


def test_no_fault_and_no_warning_is_stored(any_book: Any) -> None:
    """Nothing was raised, nothing was said on standard error."""
    kinds = [output.output_type for output in outputs(any_book)]
    assert kinds
    assert "error" not in kinds
    assert [output.text for output in outputs(any_book) if output.get("name") == "stderr"] == []


def test_no_live_view_is_stored(any_book: Any) -> None:
    """A live view that is opened anew finds no kernel: the picture and its words stand instead."""
    assert [output for output in outputs(any_book) if LIVE_VIEW in output.get("data", {})] == []
    assert "widgets" not in any_book.metadata
    shown = [output for output in outputs(any_book) if output.output_type == "execute_result"]
    assert shown
    for output in shown:
        assert output.data["text/plain"].strip()
        assert not re.search(r"^<[\w.]+.* at 0x|^\w+Box\(", output.data["text/plain"])


def test_pictures_carry_their_words(book: Any) -> None:
    """Each picture is a PNG with an alternative text that says what it shows, and its size; for a
    page that shows HTML it is an SVG of that size with these words."""
    found = pictures(book)
    assert found
    for output in found:
        assert base64.b64decode(output.data["image/png"])[:8] == b"\x89PNG\r\n\x1a\n"
        about = output.metadata["image/png"]
        # a problem's own text stands beside its picture, which repeats the numbers only
        short = re.match(r"Problem \d|Practice\.", output.data["text/plain"])
        assert len(about["alt"]) > (50 if short else 100)
        assert len(set(about["alt"].split())) > (8 if short else 15)
        assert about["alt"] in output.data["text/plain"]
        # JupyterLab leaves the words of a bare PNG away: it reads them here
        alt = re.search(r'<img alt="([^"]+)"', output.data["text/html"])
        assert alt
        assert html.unescape(alt[1]) == about["alt"]
        drawn = shapes(output)
        assert html.unescape(re.findall(' aria-label="(.*?)"', drawn)[0]) == about["alt"]
        size = [int(re.findall(f' {side}="(\\d+)"', drawn)[0]) for side in ("width", "height")]
        assert size == [about["width"], about["height"]]
        assert about["width"] <= 900
        assert about["height"] > 100
    words = [output.metadata["image/png"]["alt"] for output in found]
    assert len(set(words)) == len(words)


def test_pictures_are_stored_at_double_density(book: Any) -> None:
    """Twice the pixels of the size at which they are shown, so that they are sharp."""
    for output in pictures(book):
        raw = base64.b64decode(output.data["image/png"])
        width, height = (int.from_bytes(raw[at : at + 4], "big") for at in (16, 20))
        about = output.metadata["image/png"]
        assert (width, height) == (2 * about["width"], 2 * about["height"])


def test_known_numbers_are_among_what_is_compared(path: Path, book: Any) -> None:
    """Numbers known from elsewhere stand in the stored outputs."""
    text = shown(book)
    assert [numbers for numbers in SHOWN[path.name[:2]] if numbers not in text] == []


def test_anatomy(path: Path, book: Any) -> None:
    """The parts of a workbook, in their order."""
    text = prose(book)
    title = HEADING.search(text)
    assert title
    assert text.startswith("# ")
    assert title[1].startswith(path.name[:2] + " ")
    places = []
    for part in ANATOMY:
        found = re.search(rf"^(?:#+ +{part}\b|\*\*{part})", text, re.MULTILINE)
        assert found, part
        places.append(found.start())
    assert places == sorted(places)


def test_it_asks_before_it_shows(book: Any) -> None:
    """A prediction comes before the panel, and two to four exercises come after it."""
    sources = [cell.source for cell in code_cells(book)]
    panel = next(k for k, source in enumerate(sources) if PANEL.fullmatch(source.strip()))
    asked = [k for k, source in enumerate(sources) if re.match(r'ask\("\d\d-[a-z]', source)]
    checks = [k for k, source in enumerate(sources) if re.match(r'ask\("\d\d-\d', source)]
    assert asked
    assert max(asked) < panel
    assert 2 <= len(checks) <= 4
    assert min(checks) > panel


def test_it_ends_with_problems_of_the_bank(book: Any) -> None:
    """Two to four of them behind the questions, counted from 1; and their text is stored."""
    cells = code_cells(book)
    asked = max(k for k, cell in enumerate(cells) if re.match(r'ask\("\d\d-\d', cell.source))
    found = [(k, PROBLEM.fullmatch(cell.source.strip())) for k, cell in enumerate(cells)]
    problems = [(k, match) for k, match in found if match]
    assert 2 <= len(problems) <= 4
    assert [int(match[2]) for _, match in problems] == list(range(1, len(problems) + 1))
    assert min(k for k, _ in problems) > asked
    for k, match in problems:
        (output,) = cells[k].outputs
        made = problem(match[1], "page", "quillmere", "page", int(match[2]))
        assert made.text in output.data["text/plain"]
        if "picture=False" not in match[0]:
            assert html.escape(made.text) in output.data["text/html"]
        assert made.solution not in output.data["text/plain"]


def test_no_problem_stands_on_two_pages() -> None:
    """Each kind of problem is met at the end of one chapter at most."""
    keys = [
        match[1]
        for path in PATHS
        for match in PROBLEM.finditer("\n".join(cell.source for cell in code_cells(stored(path))))
    ]
    assert len(keys) >= 2 * len(PATHS)
    assert len(set(keys)) == len(keys)


def test_looking_keeps_nothing() -> None:
    """A workbook that is run leaves no student's progress in the folder of the workbooks."""
    assert [path.name for path in WORKBOOKS.rglob("*.jsonl")] == []


def test_the_first_code_cell_imports_and_nothing_else_does(book: Any) -> None:
    """Imports stand together, once, at the top, and each is used below."""
    first, *rest = code_cells(book)
    statements = ast.parse(first.source).body
    assert all(isinstance(one, ast.Import | ast.ImportFrom) for one in statements)
    for cell in rest:
        assert not re.search(r"^\s*(import|from) ", cell.source, re.MULTILINE)
        assert not re.search(r"^\s*[%!]", cell.source, re.MULTILINE)
    names = {alias.asname or alias.name for one in statements for alias in one.names}
    below = {
        node.id
        for cell in rest
        for node in ast.walk(ast.parse(cell.source))
        if isinstance(node, ast.Name)
    }
    assert names - below == set()


def test_cells_are_short(book: Any) -> None:
    """A student reads a cell at a glance, and all of a chapter's code in a minute."""
    seen = [cell.source.splitlines() for cell in code_cells(book)[1:]]
    assert max(map(len, seen)) <= LINES_A_CELL
    assert sum(map(len, seen)) <= LINES
    assert max(len(line) for lines in seen for line in lines) <= 100


def test_only_the_imports_are_folded_away(any_book: Any) -> None:
    """What is counted above is what is seen: no other cell hides its source."""
    folded = [bool(cell.metadata.get("jupyter")) for cell in code_cells(any_book)]
    assert folded == [True] + [False] * (len(folded) - 1)


def test_no_cell_formats_by_hand(book: Any) -> None:
    """A cell says what is shown; how it is lined up is the table's business."""
    assert [found for cell in code_cells(book) for found in by_hand(cell.source)] == []


@pytest.mark.parametrize(
    "source",
    [
        'print("girth")',
        'table(girth=f"{g} cm")',
        '"{:>9}".format(girth_cm)',
        'format(girth_cm, ".2f")',
        '"girth".rjust(9)',
        '"%5.2f" % girth_cm',
        '" " * 3 + name',
    ],
)
def test_formatting_by_hand_would_be_found(source: str) -> None:
    """The rule itself; plain expressions and tables pass."""
    assert by_hand(source)
    assert by_hand("table(girth_cm=[1.0], digits=3)\narea_cm2 % 3 + 2 * width_cm") == []


def test_tables_are_tables(book: Any) -> None:
    """Wherever something was set side by side, a page has a real table with heads."""
    tables = [
        output.data["text/html"]
        for output in outputs(book)
        if "<table" in output.get("data", {}).get("text/html", "")
    ]
    assert len(tables) >= 5
    for text in tables:
        assert '<th scope="col"' in text
        assert '<th scope="row"' in text


def test_links_to_files_resolve(any_path: Path, any_book: Any) -> None:
    """Each link that is not a web address leads to a file beside the workbook."""
    links = [link for link in LINK.findall(prose(any_book)) if not re.match(r"https?://|#", link)]
    assert [link for link in links if not (any_path.parent / link.split("#")[0]).is_file()] == []


@pytest.mark.parametrize("one", CHAPTERS, ids=lambda one: one.number)
def test_chapters_lead_to_each_other(one: Chapter) -> None:
    """Each begins with its heading, and ends with links to the one before and the one after."""
    text = prose(stored(WORKBOOKS / one.file))
    assert text.startswith(f"# {one.heading}\n")
    before, after = neighbours(one.number)
    for word, other in (("Before", before), ("Next", after)):
        links = re.findall(rf"\b{word}: \[([^\]]+)\]\(([^)]+)\)", text)
        assert links == ([(other.heading, other.file)] if other else [])


def test_the_front_page_lists_the_chapters() -> None:
    """The table of the README has each chapter's heading, in order, and says what it does."""
    rows = re.findall(r"^\| (\d\d .+?) \| (.+) \|$", (ROOT / "README.md").read_text("utf-8"), re.M)
    assert [heading for heading, _ in rows] == [one.heading for one in CHAPTERS]
    assert all(len(what) > 40 for _, what in rows)


@pytest.mark.parametrize("one", CHAPTERS, ids=lambda one: one.number)
def test_a_chapter_shows_what_is_declared(one: Chapter) -> None:
    """Its panels, roads and questions, those that its row names and no others."""
    book = stored(WORKBOOKS / one.file)
    source = "\n".join(cell.source for cell in code_cells(book))
    homes = re.findall(
        r"from mensura\.views\.chapters\.(\w+) import (?:\w*PANEL|\w+_panel)\b", source
    )
    assert sorted(homes) == sorted(one.panels)
    roads = re.findall(r"^proof_panel\(\"(\w+)\"\)$", source, re.MULTILINE)
    assert roads == list(one.roads)
    asked = re.findall(r"^ask\(\"([^\"]+)\"\)$", source, re.MULTILINE)
    assert sorted(asked) == sorted(importlib.import_module(one.questions_home).QUESTIONS)


def test_a_chapter_is_short(book: Any) -> None:
    """No more words than a class reads in an hour."""
    words = [
        len(re.findall(r"\w+", cell.source)) for cell in book.cells if cell.cell_type == "markdown"
    ]
    assert 500 < sum(words) <= WORDS


def test_care_comes_first(book: Any) -> None:
    """The part on the field begins with the care that every chapter asks for."""
    field = prose(book).partition("\n## In the field\n")[2]
    assert " ".join(field.split()).startswith(CARE)


def test_no_place_of_one_machine_is_stored(any_path: Path) -> None:
    """No absolute path, neither in prose, nor in code, nor in an output, nor in a picture's SVG."""
    text = re.sub(r'"image/png": "[^"]*"', "", any_path.read_text("utf-8"))
    text = re.sub(r"base64,[A-Za-z0-9+/=]+", "", text)
    text += "".join(shapes(output) for output in pictures(nbformat.read(any_path, as_version=4)))
    assert ABSOLUTE.findall(text) == []
    assert str(Path.home()) + "/" not in text


@pytest.mark.parametrize(
    "text", ["see /home/ann/stems.csv", 'File "/usr/lib/python3/x.py"', r"C:\\Users\\ann"]
)
def test_a_place_of_one_machine_would_be_found(text: str) -> None:
    """The rule itself; and what only looks like a path is no path."""
    assert ABSOLUTE.search(text)
    assert not ABSOLUTE.search("girth/π, https://example.org/home/x, 1/2, a/b, wood: 3")


def test_citations_have_sources(book: Any) -> None:
    """Each key in brackets stands in the bibliography; each listed below is cited above."""
    cited = set(CITATION.findall(prose(book)))
    assert len(cited) >= 5
    assert cited - set(SOURCES) == set()
    listed = {
        key for text in listed_sources(book) for key in re.findall(r"^\[([\w-]+)\] ", text, re.M)
    }
    assert listed
    assert listed - cited == set()
    for text in listed_sources(book):
        for key, reference in re.findall(r"^\[([\w-]+)\] (.+)$", text, re.MULTILINE):
            assert reference == cite(key)


def test_what_is_cited_is_listed(book: Any) -> None:
    """Each cited key is listed under Sources, or its standing is said there in words."""
    listed = {
        key for text in listed_sources(book) for key in re.findall(r"^\[([\w-]+)\] ", text, re.M)
    }
    tail = prose(book).rpartition("## Sources")[2]
    said = set(CITATION.findall(tail))
    assert set(CITATION.findall(prose(book))) - listed - said == set()


def test_tidying_twice_changes_nothing(any_path: Path, any_book: Any, tidy: Callable) -> None:
    """A stored workbook is already as tidy() leaves it, to the last byte."""
    once = copy.deepcopy(any_book)
    tidy(once)
    twice = copy.deepcopy(once)
    tidy(twice)
    assert once == twice
    assert once == any_book
    assert nbformat.writes(once).rstrip("\n") == any_path.read_text("utf-8").rstrip("\n")


def test_tidying_takes_out_what_must_not_be_stored(book: Any, tidy: Callable) -> None:
    """A live view, widget state, a foreign kernel's name and times do not survive it."""
    wild = copy.deepcopy(book)
    wild.metadata["widgets"] = {"state": {}}
    wild.metadata["kernelspec"] = {"display_name": "my own", "name": "mine", "language": "python"}
    wild.metadata["language_info"]["version"] = "3.99.0"
    cell = next(cell for cell in code_cells(wild) if cell.outputs and "data" in cell.outputs[0])
    cell.outputs[0].data[LIVE_VIEW] = {"model_id": "0"}
    cell.metadata["execution"] = {"iopub.status.idle": "2026-01-01T00:00:00"}
    cell["id"] = "0badcafe"
    assert wild != book
    tidy(wild)
    assert wild == book


def test_stored_files_are_plain(any_path: Path) -> None:
    """They end in one newline, hold no other line ends, and no traces of a merge."""
    raw = any_path.read_bytes()
    assert b"\r" not in raw
    assert raw.endswith(b"}\n")
    assert not re.search(rb"<{7}|>{7}|={7}\n", raw)
