"""What bands are made of: ranges that hold their values, and a refusal that lists them."""

import pytest

from mensura.checks import MeasureError
from mensura.instruments import MATERIALS, Tape, material
from mensura.sources import SOURCES
from mensura.stems import circle


@pytest.mark.parametrize("one", MATERIALS.values(), ids=lambda one: one.name)
def test_each_row_is_whole(one):
    """Its expansion lies in its range, or there is none of all three; words and source stand."""
    numbers = (one.expansion_per_c, one.least_per_c, one.most_per_c)
    if one.expansion_per_c is None:
        assert numbers == (None, None, None)
        assert one.source == "common practice, no source"
    else:
        assert 0 < one.least_per_c <= one.expansion_per_c <= one.most_per_c < 2e-4
    assert one.resists
    assert one.suffers
    cited = [word.strip("[].,") for word in one.source.split() if word.startswith("[")]
    assert all(key in SOURCES for key in cited)
    assert material(one.name) is one


def test_cloth_has_no_expansion():
    """No source gives one, so none is made up; a temperature then asks for a number."""
    for name in ("cloth", "reinforced cloth"):
        assert MATERIALS[name].expansion_per_c is None
        with pytest.raises(MeasureError, match=rf"^expansion_per_c .*no source .* for {name}\.$"):
            Tape(material=name, temperature_c=30)
        assert Tape(material=name).read(circle(40)).breakdown == {}
        told = Tape(material=name, temperature_c=30, expansion_per_c=1e-5).read(circle(40))
        assert told.breakdown["temperature"] < 0


def test_stiffness_of_the_sample_bands():
    """2.1e6 kg/cm² on 2 mm² are 42 000 kg; where a size has a number it is said whose it is."""
    assert MATERIALS["steel"].stiffness_n == pytest.approx(42_000 * 9.80665)
    # a textbook's 200 to 210 GPa on the same 2 mm²
    assert 200e9 * 2e-6 < MATERIALS["steel"].stiffness_n < 210e9 * 2e-6
    assert MATERIALS["fibreglass"].stiffness_n == 25_000
    assert "no source" in MATERIALS["fibreglass"].sample
    for one in MATERIALS.values():
        assert (one.stiffness_n is None) == (one.sample == "")
    # a pull of 40 N too much lengthens a steel band by a ten-thousandth, and it reads less
    tape = Tape(pull_n=90, stiffness_n=MATERIALS["steel"].stiffness_n)
    assert tape.read(circle(40)).breakdown["pull"] == pytest.approx(-0.0122, abs=1e-4)


def test_steel_suffers_least_from_warmth():
    """Of the materials with a figure, steel has the smallest: one reason for steel bands."""
    known = {name: one.expansion_per_c for name, one in MATERIALS.items() if one.expansion_per_c}
    assert min(known, key=known.get) == "steel"
    assert max(known, key=known.get) == "plastic"


@pytest.mark.parametrize("name", ["wool", ""])
def test_a_material_that_is_not_there(name):
    """The refusal lists the materials there are."""
    with pytest.raises(MeasureError, match=r"^material is .*one of: cloth, reinforced cloth, fib"):
        material(name)
    with pytest.raises(MeasureError, match="one of: cloth"):
        Tape(material=name)


@pytest.mark.parametrize("name", ["Steel", "steel ", "stel"])
def test_a_material_that_is_nearly_there_is_named(name):
    """Another case, a blank, or a slip of a letter."""
    for make in (material, lambda name: Tape(material=name)):
        with pytest.raises(MeasureError, match=r"did you mean steel\?"):
            make(name)
