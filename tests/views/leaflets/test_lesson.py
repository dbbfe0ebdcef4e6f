"""A lesson's leaflet: the plan's order, pieces of the lecturer's own, and none of the notes."""

from __future__ import annotations

import base64
import io
import json
import re

import pytest
from markupsafe import Markup
from PIL import Image

from mensura.teaching.lessons.plan import Plan, Step
from mensura.views.chapters import panels
from mensura.views.leaflets import moving
from mensura.views.leaflets.lesson import MOST_DOTS, lesson_leaflet, made_small
from mensura.views.leaflets.pictures import Sheet
from mensura.views.lessons.check import checked_plan

PLAN = """
title = 'Ovals <b> & "tapes"'
minutes = 20

[[step]]
title = "Today"
text = '''
# Today

An own formula $\\frac{a}{b}$, an own source [Berger2010], <script>alert(1)</script>.
'''
minutes = 2
note = "a secret of the lecturer's"

[[step]]
workbook = "02"
section = "02-predict"
minutes = 2

[[step]]
workbook = "02"
section = "out-of-round-panel"
title = "Turned"
minutes = 5
start = { caliper_direction_deg = 40, tilt_deg = 0 }

[[step]]
workbook = "02"
section = "02-predict"
title = "Asked again"
minutes = 1

[[step]]
workbook = "03"
section = "classroom-road-5"
minutes = 1

[[step]]
picture = "disc.jpg"
alt = "A cut disc, darker on one side"
minutes = 1

[[step]]
notebook = "own.ipynb"
cell = 2
minutes = 1

[[step]]
workbook = "02"
section = "in-the-field"
minutes = 2
"""


@pytest.fixture(scope="module")
def page(tmp_path_factory) -> str:
    folder = tmp_path_factory.mktemp("plan")
    (folder / "ovals.toml").write_text(PLAN, "utf-8")
    photograph = Image.new("RGB", (3000, 1500), "#a07040")
    exif = Image.Exif()
    exif[0x010E] = "taken behind the hut"
    exif[0x0112] = 6  # lies on its side
    photograph.save(folder / "disc.jpg", "JPEG", exif=exif)
    dot = io.BytesIO()
    Image.new("RGB", (4, 4)).save(dot, "PNG")
    outputs = [
        {"output_type": "stream", "text": ["seen in", " a cell\n"]},
        {
            "output_type": "display_data",
            "data": {
                "text/html": "<script>alert(2)</script>",
                "image/png": base64.b64encode(dot.getvalue()).decode(),
                "text/plain": "a dot",
            },
        },
    ]
    cells = [
        {"cell_type": "markdown", "source": "not shown"},
        {"cell_type": "code", "source": "secret_code()", "outputs": outputs},
    ]
    (folder / "own.ipynb").write_text(json.dumps({"cells": cells, "nbformat": 4}), "utf-8")
    plan = checked_plan(folder / "ovals.toml")
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(moving, "POSITIONS", 3)
        return lesson_leaflet(plan, str(folder / "ovals.toml"), "ovals-leaflet").whole()


def test_it_goes_in_the_plans_order(page):
    marks = (
        "<h2>Today</h2>",
        "A stem is 60 cm across one way",
        "<h2>Turned</h2>",
        'class="mensura-recorded"',
        "Line 5: ",
        'alt="A cut disc, darker on one side"',
        "seen in a cell",
        '<section class="field">',
        '<section class="answers">',
        "<h2>Sources</h2>",
    )
    places = [page.index(one) for one in marks]
    assert places == sorted(places)


def test_a_question_that_is_asked_again_in_class_stands_once_on_paper(page):
    assert page.count("A stem is 60 cm across one way") == 1
    assert "Asked again" not in page


def test_a_panel_opens_as_the_plan_has_it(page):
    assert "turned by 40°" in page
    assert "tilt 0°" in page


def test_a_panel_is_printed_at_the_steps_values_and_then_with_its_controls_moved():
    """What the step moves is named first, and each of it is printed moved by itself."""
    panel = panels()["condition"]
    start = {"stretch_percent": 0, "worn_start_cm": 0.5, "temperature_c": 20}
    names = ["worn_start_cm", "stretch_percent"]
    narrow = moving.panel_of_step(panel, start, names)
    opens = panel.start()["stretch_percent"]
    assert list(narrow.settings.values()) == [
        {"worn_start_cm": 0},
        {"stretch_percent": opens},
        {"worn_start_cm": 0, "stretch_percent": opens},
    ]
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(moving, "POSITIONS", 3)
        made = moving.panel_recorded(narrow, Sheet(), start, "moving-1", None, names)
    printed = made.split('class="mensura-printed"')[1].split("<script")[0]
    assert "Set to: worn off its start 0.5\xa0cm; stretch 0\xa0%; " in printed
    assert "temperature 20\xa0°C" in printed
    told = moving.panel_settings(narrow, Sheet(), start)
    assert len(told) == 3
    assert "<b>Worn off its start 0\xa0cm.</b> The rest as above." in told[0]
    assert all(
        panel.status(panel.numbers(**panel.state({**start, **one}))) in Markup(html).unescape()
        for one, html in zip(narrow.settings.values(), told, strict=True)
    )


def test_what_a_step_moves_has_a_setting_whatever_it_is():
    """A tick, a choice and a slider at 0: each goes where it is not; what stays put has none."""
    panel = panels()["condition"]
    for name, one in panel.named.items():
        start = {name: one.ends[0]}
        for values in moving.panel_of_step(panel, start, [name]).settings.values():
            assert set(values) == {name}
            assert values[name] != one.ends[0]
            panel.numbers(**panel.state({**start, **values}))


def test_what_is_the_lecturers_own_is_shown_and_never_markup(page):
    body = page.split("</style>")[1]
    assert "&lt;script&gt;alert(1)&lt;/script&gt;" in body
    assert "alert(2)" not in page
    assert "<title>Ovals &lt;b&gt; &amp; &#34;tapes&#34;</title>" in page
    foot = re.search(r"@bottom-left { content: (.*?) }", page)[1]
    assert "<b>" not in foot
    assert foot.count('"') == 2
    assert "<mfrac>" in body


def test_notes_minutes_and_code_are_left_out(page):
    assert "secret" not in page
    assert "not shown" not in page
    assert page.count("<h2>Today</h2>") == 1
    assert "<h3>Today</h3>" not in page


def test_what_the_words_cite_is_told_in_full(page):
    sources = page.split("<h2>Sources</h2>")[1]
    assert "[Berger2010] M. Berger, 2010" in sources
    assert "[ClarkEtAl2000]" in sources  # cited in the field
    assert sources.count("<li>") == 2


def test_a_text_that_is_a_caution_is_boxed_and_another_is_not():
    for title, boxed in {"Care in the field": 1, "A caution": 1, "Careless hands": 0}.items():
        step = Step(minutes=2, title=title, text="- **Look up** first.")
        made = lesson_leaflet(Plan("Is it safe?", 2, (step,)), "x.toml", "x").whole()
        boxes = re.findall(r'<aside class="caution".*?</aside>', made, re.DOTALL)
        assert len(boxes) == boxed, title
        assert all("Look up" in one for one in boxes)
        assert 'content: "Is it safe\\3f  Demo stems' in made
        assert "<footer>Is it safe? Demo stems" in made


def test_a_photograph_is_small_upright_and_does_not_tell_where_it_was_taken(page):
    data = base64.b64decode(re.search(r'src="data:image/jpeg;base64,([^"]+)"', page)[1])
    photograph = Image.open(io.BytesIO(data))
    assert photograph.size == (MOST_DOTS // 2, MOST_DOTS)
    assert b"hut" not in data
    assert not photograph.getexif()


def test_what_cannot_be_opened_stays_as_it_is():
    assert made_small("image/png", b"\x89PNG\r\n\x1a\n...") == (
        "image/png",
        b"\x89PNG\r\n\x1a\n...",
    )
    shapes = b"<svg xmlns='http://www.w3.org/2000/svg'/>"
    assert made_small("image/svg+xml", shapes) == ("image/svg+xml", shapes)


@pytest.mark.parametrize("name", ["lesson-faults.toml", "lesson-tapes-or-calipers.toml"])
def test_the_lessons_in_data_become_leaflets(name, monkeypatch):
    from mensura.places import shipped

    monkeypatch.setattr(moving, "POSITIONS", 3)
    monkeypatch.setattr(moving, "AROUND", 0)
    path = shipped("data") / name
    plan = checked_plan(path)
    made = lesson_leaflet(plan, str(path), "x").whole()
    assert made.count("<h1>") == 1
    assert '<section class="answers">' in made
    for step in plan.steps:
        if step.note:
            assert step.note.strip().splitlines()[0] not in made
