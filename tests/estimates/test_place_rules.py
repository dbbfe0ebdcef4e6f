"""Where to measure as data: every rule has its source or the mark, every cost its key."""

import re

import pytest

from mensura.checks import MeasureError
from mensura.estimates.breast_heights import BREAST_HEIGHTS
from mensura.estimates.place_rows import (
    breast_height_rows,
    disagreement_rows,
    place_caution_rows,
    place_rule_rows,
    place_source_rows,
    situation_rows,
)
from mensura.estimates.place_rules import SITUATIONS, situation, situations_with_cost
from mensura.estimates.place_said import COST_KEYS, UNSOURCED, Rule, Said, Situation
from mensura.sources import SOURCES

#: What the field manuals that we know of tell apart; none may be missing.
WANTED = (
    "breast-height",
    "ground",
    "raised-roots",
    "slope",
    "lean-along",
    "lean-side",
    "lean-square",
    "fork-below",
    "fork-at",
    "fork-above",
    "several-stems",
    "swelling",
    "butt-swell",
    "buttress",
    "stilt-roots",
    "wound",
    "moss",
    "climber",
    "furrows",
    "water-or-snow",
    "fallen-living",
    "lying-stem",
    "log-ends",
    "mark",
)
#: Where somebody can be hurt more than by a steel band.
DANGEROUS = (
    "raised-roots",
    "slope",
    "lean-along",
    "lean-side",
    "fork-below",
    "butt-swell",
    "buttress",
    "stilt-roots",
    "wound",
    "water-or-snow",
    "fallen-living",
    "lying-stem",
    "log-ends",
)
ALL = tuple(SITUATIONS.values())
RULES = [(one, rule) for one in ALL for rule in one.rules]
VIEWS = [(differ, view) for one in ALL for differ in one.disagreements for view in differ.views]


def test_no_situation_is_missing():
    """All are there, in the page's order, and each says its own key."""
    assert tuple(SITUATIONS) == WANTED
    assert [one.key for one in ALL] == list(WANTED)
    with pytest.raises(TypeError):
        SITUATIONS["slope"] = ALL[0]


def test_every_rule_has_its_source_or_the_mark():
    """Each rule names works of the bibliography with their place, or says that there is none."""
    for one, rule in RULES + VIEWS:
        if rule.said:
            assert all(said.key in SOURCES for said in rule.said), one
            assert UNSOURCED not in rule.source
            assert rule.source.startswith(f"[{rule.said[0].key}]")
        else:
            assert rule.source == UNSOURCED == "common practice, no source"
    assert sum(bool(rule.said) for _, rule in RULES) > 40


def test_a_view_is_never_without_a_source():
    """Who is said to differ is named; what we only remember is not told as a manual's view."""
    assert [view.words for _, view in VIEWS if not view.said] == []


def test_what_was_not_read_says_so_where_it_is_cited():
    """A work that we know by others' words alone is marked at each place, not only in the list."""
    second_hand = {
        key
        for key in {said.key for one in ALL for said in one.said}
        if re.match(r"(?:Not read|Its annex not read)", SOURCES[key].known)
    }
    assert {"FAONFI", "Herries2010", "KramerAkca1995", "BS5837", "SEOSAW"} <= second_hand
    for one in ALL:
        for said in one.said:
            if said.key in second_hand:
                assert re.search(r"quoted|copied|followed|summarised", said.place), (one.key, said)


def test_rules_of_lists_say_that_they_are():
    """What only lists of big trees or a city's code say is not told as a rule of forestry."""
    seen = 0
    for _, rule in RULES + VIEWS:
        if rule.only_of_lists:
            seen += 1
            assert re.search(r"big trees|lists|city|leaflet", rule.words), rule.words
    assert seen >= 10


@pytest.mark.parametrize("one", ALL, ids=list(SITUATIONS))
def test_a_situation_is_whole(one):
    """Title, place and rules are there; there is a cost or why there is none, never both."""
    assert one.rules
    assert one.where.endswith(".")
    assert 20 < len(one.where) < 180
    assert bool(one.costs) != bool(one.no_cost)
    for rule in (*one.rules, *(view for differ in one.disagreements for view in differ.views)):
        assert rule.words.endswith("."), rule.words
        assert len(rule.words) < 220, rule.words
    for differ in one.disagreements:
        assert differ.about.endswith("?")
        assert len(differ.views) >= 2
        assert len({view.words for view in differ.views}) == len(differ.views)
        assert differ.ours.endswith(".")
    assert not one.caution or one.caution.endswith(".")


def test_a_place_that_only_lists_know_says_so():
    """Where no survey's manual has a rule, the place itself says whose it is."""
    alone = [one for one in ALL if all(rule.only_of_lists for rule in one.rules)]
    assert [one.key for one in alone] == ["raised-roots", "furrows"]
    for one in alone:
        assert re.match(r"As (a list|lists) of big trees ha(s|ve) it", one.where)


#: Works that stand behind a rule though they have another view beside it: the rule is on another
#: matter than the view. Situation and work: the matter.
OTHER_MATTER = {
    ("mark", "ForestryNepal2008"): "which edge of a mark counts, not what mark",
    ("mark", "SEOSAW"): "the season, and a mark that moves",
}


def test_no_rule_names_a_work_that_has_it_otherwise():
    """Whose own view stands on the other side of a difference is not told as one of ours."""
    met = set()
    for one in ALL:
        named = {said.key for rule in one.rules for said in rule.said}
        for differ in one.disagreements:
            assert set(differ.follows) <= set(range(len(differ.views)))
            with_us = {s.key for at in differ.follows for s in differ.views[at].said}
            against = {s.key for view in differ.others for s in view.said} - with_us
            met |= {(one.key, key) for key in named & against}
    assert met == set(OTHER_MATTER)


def test_who_says_so_begins_with_the_place():
    """Where nobody says where, no work that tells something else stands in for it."""
    rows = {row["stem"]: row["who says so"] for row in situation_rows()}
    for one in ALL:
        assert rows[one.title].startswith(UNSOURCED) is not bool(one.rules[0].said)
    assert "SEOSAW" in rows[SITUATIONS["climber"].title]


def test_every_cost_key_is_known_and_used():
    """No situation names a cost that is not worked out, and no cost is without its situation."""
    used = {key for one in ALL for key in one.costs}
    assert used == set(COST_KEYS)
    assert len(COST_KEYS) == len(set(COST_KEYS))
    for key in COST_KEYS:
        assert situations_with_cost(key)
    assert situations_with_cost("no such cost") == ()


def test_cautions_stand_where_the_danger_is():
    """Leaning, washed out, dead, fallen and steep: each has its own caution."""
    assert [key for key in DANGEROUS if not SITUATIONS[key].caution] == []
    rows = place_caution_rows()
    assert len(rows) == sum(bool(one.caution) for one in ALL) >= len(DANGEROUS)


def test_the_known_disagreements_are_told_side_by_side():
    """Slope, ground, lean, low forks, several stems, swellings: all have two views or more."""
    for key in ("ground", "slope", "lean-side", "fork-below", "several-stems", "swelling"):
        assert SITUATIONS[key].disagreements, key
    slope = SITUATIONS["slope"].disagreements[0]
    assert {said.key for said in slope.views[0].said} == {"DeYoung2016", "ForestryNepal2008"}
    assert "Luoma2017" in {said.key for said in slope.views[1].said}


def test_a_situation_is_found_by_its_key():
    """An unknown key is refused with the choices."""
    assert situation("moss") is SITUATIONS["moss"]
    with pytest.raises(MeasureError, match=r"situation.*slope"):
        situation("hill")
    with pytest.raises(MeasureError):
        situation_rows(["hill"])


def test_a_source_that_is_not_in_the_bibliography_is_refused():
    """A rule cannot be made with an invented key, nor a situation without cost and reason."""
    with pytest.raises(KeyError):
        Said("Nobody1900", "p. 1")
    with pytest.raises(ValueError, match="cost"):
        Situation("a", "A stem", "Here.", (Rule("Do."),))
    with pytest.raises(ValueError, match="cost"):
        Situation("a", "A stem", "Here.", (Rule("Do."),), costs=("moss",), no_cost="None.")


def test_breast_heights_are_told_with_their_source():
    """Each has a source; metres agree with feet; 1.20 to 1.50 m, none twice."""
    assert len(BREAST_HEIGHTS) >= 10
    for one in BREAST_HEIGHTS:
        assert one.said
        told = one.as_told.replace(",", ".")
        if match := re.fullmatch(r"([\d.]+) feet", told):
            metres = float(match[1]) * 0.3048
        elif match := re.fullmatch(r"(\d+) ft (\d+) in", told):
            metres = (12 * int(match[1]) + int(match[2])) * 0.0254
        elif match := re.fullmatch(r"([\d.]+) (m|metres|cm)", told):
            metres = float(match[1]) * {"m": 1.0, "metres": 1.0, "cm": 0.01}[match[2]]
        assert one.height_m == pytest.approx(metres, abs=1e-9), one
        assert 1.2 <= one.height_m <= 1.5
    assert len({one.where for one in BREAST_HEIGHTS}) == len(BREAST_HEIGHTS)
    heights = [float(row["in m"]) for row in breast_height_rows()]
    assert heights == sorted(heights)


def test_rows_hold_everything_once():
    """Tables have a row for each situation, rule and view, in the order of the data."""
    assert [row["stem"] for row in situation_rows()] == [one.title for one in ALL]
    assert [row["rule"] for row in place_rule_rows()] == [rule.words for _, rule in RULES]
    rows = disagreement_rows()
    assert [row["what it says"] for row in rows] == [view.words for _, view in VIEWS]
    firsts = [row["what we do"] for row in rows if row["what we do"]]
    assert firsts == [differ.ours for one in ALL for differ in one.disagreements]
    assert [row["stem"] for row in situation_rows(["moss", "mark"])] == [
        SITUATIONS["moss"].title,
        SITUATIONS["mark"].title,
    ]


def test_every_work_that_is_cited_is_listed():
    """The list of works names each key once, sorted, and how the work is known."""
    rows = place_source_rows()
    keys = [row["key"] for row in rows]
    assert keys == sorted(set(keys), key=str.lower)
    assert set(keys) >= {said.key for one in ALL for said in one.said}
    assert all(row["how it is known"] for row in rows)


def test_no_two_rules_of_a_situation_say_the_same():
    """A sentence stands once in its situation, and the same work once behind a rule."""
    for one in ALL:
        words = [rule.words for rule in one.rules]
        assert len(set(words)) == len(words)
        for rule in one.rules:
            assert len(set(rule.said)) == len(rule.said)
