"""The committed workbooks: run in order, without faults, readable without a kernel, referenced.

A notebook whose outputs are stripped passes every comparison of outputs. So it is held here that
there is something to compare.
"""

from __future__ import annotations

import ast
import base64
import copy
import html
import importlib.util
import re
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import nbformat
import pytest

from mensura.sources import SOURCES
from mensura.teaching.problems.bank import problem

ROOT = Path(__file__).resolve().parents[1]
WORKBOOKS = ROOT / "workbooks"
PATHS = sorted(WORKBOOKS.rglob("*.ipynb"))
LIVE_VIEW = "application/vnd.jupyter.widget-view+json"

#: Fewest outputs of plain printed text in each workbook; more for new ones, never fewer.
LEAST_PRINTED = {
    "01-girth-diameter-area.ipynb": 8,
    "02-out-of-round.ipynb": 10,
    "03-the-proof.ipynb": 11,
    "04-laying-the-tape.ipynb": 11,
    "05-bark.ipynb": 11,
    "06-condition-of-the-tape.ipynb": 12,
    "07-calipers.ipynb": 9,
    "08-problems.ipynb": 13,
}

ANATOMY = (
    "What you will be able to do",
    "Predict",
    "Try it",
    "Why",
    "Check yourself",
    "In the field",
    "Sources",
)

#: Numbers that each workbook prints, known from elsewhere: a lost output cannot pass for equal.
PRINTED = {
    "01-girth-diameter-area.ipynb": [
        "diameter 40.11 cm",  # 126/π
        "area 1263.4 cm²",  # 126²/4π
        "girth +1 %   area +2.01 %",  # 1.01²
        "9.87 times too small",  # π²
        "girth, in       49.47",  # 40π/2.54
    ],
    "02-out-of-round.ipynb": [
        "+1.8764",
        "+2.5000",
        "+1.2500",
        "48        22.4°     29.9°        0.0°",
        "arithmetic 2.00 : girth 3.00 : quadratic 4.00",
        "area by tape too large by 11.44 %",
    ],
    "03-the-proof.ipynb": [
        "30 and 24      170.170         170.690",  # 4aE(1 − b²/a²); 2π√((a² + b²)/2)
        "30 and 15       12.500    18.883     18.750      25.000",
        "all 15 lines verified",
        "a = 30, b = 30:  (a − b)² > 0  says  0 > 0,  and that fails",
        "0.000  3.183  0.000",  # 2·40/(π(3² − 1)), the Reuleaux triangle's third ripple
        "45.0°         0.556     0.556     0.417         0.556",  # 9/(2·810)
        "With a = 2 and b = 1 the left side is 5 and the right side 6",
        "a² + b² ≥ 2ab: weaker.",
    ],
    "04-laying-the-tape.ipynb": [
        "5°     0.191       0.191            0.382",  # 2E(sin²θ)/(π cos θ); 1/cos θ
        "2.0 cm      1.17      1.87",  # two circles of 40 and 2 cm in one band
        "formula 126.83316 cm, tape 126.83316 cm",
        "ends miss by 10.0 cm: +0.397 cm",  # √(G² + h²)
        "pressed in by 1 mm                    -0.63 cm",  # 2π·0.1
    ],
    "05-bark.ipynb": [
        "girth over bark 17.142, by the rule 17.142",  # [Steiner1840]
        "10       19.00",
        "15       27.75",
        "area over bark +2.01 %",  # 1.01²
        "bark, % of the mass 16.0 15.9 16.0 13.3",
    ],
    "06-condition-of-the-tape.ipynb": [
        "stretch 42.86 %",  # 100/70
        "reads  70.00 cm",
        "-0.50 cm on average",  # [CFMP1999]
        "20.5 cm rounded down: area -4.82 %",
        "II          0.5     0.7   0.9            0.9",  # 0.3 + 0.2 L, 0.2 for a hook [UKSI2016]
        "0.4 mm: +0.126 cm",  # 0.04π
    ],
    "07-calipers.ipynb": [
        "+1.0°    39.654    39.654",  # 20 + 20 tan 44.5°
        "10°       +1.54",  # 1/cos 10°
        "a lean of 0.115°",  # arctan 0.5/250
        "calipers that open to 54 cm",
    ],
    "08-problems.ipynb": [
        "4420 cm²",  # 235.7²/4π, as the golden numbers of the bank have it
        "bark_cm  +0.05 cm    19.293 %",  # 100·(1 − (1 − 2π·2.85/176.2)²)
        "2' 7\"                 31    in",  # 2·12 + 7
        "78.5 x 10^-2 m2    0.785    m²",
        "9.87   an area: girth taken for diameter",  # π²
        "1.27   an area or a volume",  # 4/π
        "girth-as-diameter\n    The girth was taken for a diameter.",
        "44200 cm2       It is too large by a factor of 10",
        "0.44 m          m is a length; expected an area",
        "drawn again, the same: True",
    ],
}

ABSOLUTE = re.compile(
    r"(?<![\w.:/])/(?:home|root|tmp|usr|opt|var|work|Users|mnt|private)/|\b[A-Za-z]:\\\\?\w"
)
CITATION = re.compile(r"\[((?:[A-Z][A-Za-z-]*-?[A-Z]?\d{4,6})|[A-Z]{4,})(?:, [^\]]*)?\](?!\()")
LINK = re.compile(r"\]\(([^)\s]+)\)")
PANEL = re.compile(r"\w*PANEL|proof_panel\(\"\w+\"\)|practice\(.*\)")
PROBLEM = re.compile(r"problems_here\(\"([a-z0-9-]+)\", (\d+)(?:, picture=False)?\)")
HEADING = re.compile(r"^#{1,4} +(.+)$", re.MULTILINE)


@pytest.fixture(params=PATHS, ids=lambda path: path.stem)
def path(request: pytest.FixtureRequest) -> Path:
    """One workbook after the other."""
    return Path(request.param)


@pytest.fixture
def book(path: Path) -> Any:
    """That workbook, as stored."""
    return nbformat.read(path, as_version=4)


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


def printed(book: Any) -> list[str]:
    """Every text that a new run is compared with and that a number can stand in."""
    return [
        output.text
        for output in outputs(book)
        if output.output_type == "stream" and output.name == "stdout" and output.text.strip()
    ]


def listed_sources(book: Any) -> list[str]:
    """The texts of the lists of sources."""
    return [
        output["data"]["text/plain"]
        for output in outputs(book)
        if output.get("data", {}).get("text/html", "").startswith("<ul>")
    ]


def pictures(book: Any) -> list[Any]:
    return [output for output in outputs(book) if "image/png" in output.get("data", {})]


def test_both_workbooks_are_there() -> None:
    """The walk over the folder finds what all below is held for."""
    assert {path.name for path in PATHS} >= set(LEAST_PRINTED)
    assert set(LEAST_PRINTED) == set(PRINTED)


def test_executed_from_top_to_bottom(path: Path, book: Any) -> None:
    """Each code cell was run, once, in order, in a fresh kernel; none is empty."""
    nbformat.validate(book)
    cells = code_cells(book)
    assert [cell.execution_count for cell in cells] == list(range(1, len(cells) + 1))
    for cell in cells:
        assert cell.source.strip()
        for output in cell.outputs:
            assert output.get("execution_count", cell.execution_count) == cell.execution_count


def test_no_fault_and_no_warning_is_stored(book: Any) -> None:
    """Nothing was raised, nothing was said on standard error."""
    kinds = [output.output_type for output in outputs(book)]
    assert kinds
    assert "error" not in kinds
    assert [output.text for output in outputs(book) if output.get("name") == "stderr"] == []


def test_no_live_view_is_stored(book: Any) -> None:
    """A live view that is opened anew finds no kernel: the picture and its words stand instead."""
    assert [output for output in outputs(book) if LIVE_VIEW in output.get("data", {})] == []
    assert "widgets" not in book.metadata
    shown = [output for output in outputs(book) if output.output_type == "execute_result"]
    assert shown
    for output in shown:
        assert output.data["text/plain"].strip()
        assert not re.search(r"^<[\w.]+.* at 0x|^\w+Box\(", output.data["text/plain"])


def test_pictures_carry_their_words(book: Any) -> None:
    """Each picture is a PNG with an alternative text that says what it shows, and its size."""
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
        assert output.data["image/png"].replace("\n", "") in output.data["text/html"]
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


def test_enough_is_compared(path: Path, book: Any) -> None:
    """A workbook without outputs would pass every comparison: so many must be there."""
    assert len(printed(book)) >= LEAST_PRINTED.get(path.name, 8)


def test_known_numbers_are_among_what_is_compared(path: Path, book: Any) -> None:
    """Numbers known from elsewhere stand in the printed outputs."""
    text = "\n".join(printed(book))
    assert [number for number in PRINTED.get(path.name, []) if number not in text] == []


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
        for match in PROBLEM.finditer(
            "\n".join(cell.source for cell in code_cells(nbformat.read(path, as_version=4)))
        )
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
    """A student reads a cell at a glance: at most ten lines, none over a page's width."""
    for cell in code_cells(book)[1:]:
        lines = cell.source.splitlines()
        assert len(lines) <= 10, cell.source
        assert max(map(len, lines)) <= 100


def test_links_to_files_resolve(path: Path, book: Any) -> None:
    """Each link that is not a web address leads to a file beside the workbook."""
    links = [link for link in LINK.findall(prose(book)) if not re.match(r"https?://|#", link)]
    assert [link for link in links if not (path.parent / link.split("#")[0]).is_file()] == []


def test_workbooks_lead_to_each_other() -> None:
    """From each workbook there is a link to another one: none stands alone."""
    for path in PATHS:
        linked = LINK.findall(prose(nbformat.read(path, as_version=4)))
        assert {other.name for other in PATHS if other != path} & set(linked), path.name


def test_no_place_of_one_machine_is_stored(path: Path) -> None:
    """No absolute path, neither in prose, nor in code, nor in an output."""
    text = re.sub(r'"image/png": "[^"]*"', "", path.read_text("utf-8"))
    text = re.sub(r"base64,[A-Za-z0-9+/=]+", "", text)
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
            assert reference == SOURCES[key]


def test_what_is_cited_is_listed(book: Any) -> None:
    """Each cited key is listed under Sources, or its standing is said there in words."""
    listed = {
        key for text in listed_sources(book) for key in re.findall(r"^\[([\w-]+)\] ", text, re.M)
    }
    tail = prose(book).rpartition("## Sources")[2]
    said = set(CITATION.findall(tail))
    assert set(CITATION.findall(prose(book))) - listed - said == set()


def test_tidying_twice_changes_nothing(path: Path, book: Any, tidy: Callable) -> None:
    """A stored workbook is already as tidy() leaves it, to the last byte."""
    once = copy.deepcopy(book)
    tidy(once)
    twice = copy.deepcopy(once)
    tidy(twice)
    assert once == twice
    assert once == book
    assert nbformat.writes(once).rstrip("\n") == path.read_text("utf-8").rstrip("\n")


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


def test_stored_files_are_plain(path: Path) -> None:
    """They end in one newline, hold no other line ends, and no traces of a merge."""
    raw = path.read_bytes()
    assert b"\r" not in raw
    assert raw.endswith(b"}\n")
    assert not re.search(rb"<{7}|>{7}|={7}\n", raw)
