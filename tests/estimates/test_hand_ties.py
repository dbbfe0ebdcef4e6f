"""What ties an instrument to others: hands that read with both, and no wrong code on one line."""

import numpy as np
import pytest

from mensura.estimates.drawn_practical import PracticalClass, drawn_practical
from mensura.estimates.hands import judge_hands
from mensura.estimates.readings import Readings


def all_of(judged):
    """Every verdict, by code and kind."""
    return {(one.name, one.kind): one for one in judged.hands + judged.instruments}


def shared_out(readings, kind, owner, off):
    """Each hand given its own instrument of a kind; off: factor by hand or instrument."""
    girth = kind == "girth"
    instrument, cm = readings.instrument.copy(), readings.reading_cm.copy()
    for at, hand in enumerate(readings.hands):
        mine = (readings.hand == at) & (readings.girth == girth)
        if hand in owner:
            instrument[mine] = readings.instruments.index(owner[hand])
        cm[mine] *= off.get(hand, 1)
    for at, code in enumerate(readings.instruments):
        cm[instrument == at] *= off.get(code, 1)
    return Readings(**{**vars(readings), "instrument": instrument, "reading_cm": cm})


@pytest.mark.parametrize("seed", range(4))
@pytest.mark.parametrize(("kind", "code"), [("girth", "T"), ("diameter", "K")])
@pytest.mark.parametrize("off", [{}, {"2": 0.975}, {"2": 0.975, "Q03": 1.03}, {"Q03": 1.03}])
def test_instruments_nested_in_hands(kind, code, off, seed):
    """Each hand had one tape only: nothing is told of tapes, and why; the calipers are judged."""
    owner = {
        f"Q{i + 1:02d}": f"{code}{one}" for i, one in enumerate((1, 1, 2, 2, 3, 3, 3))
    }  # two hands of the second, of which one may be off as well
    off = {key if key[0] == "Q" else code + key: value for key, value in off.items()}
    judged = all_of(judge_hands(shared_out(drawn_practical(seed).readings, kind, owner, off)))
    for at in "123":
        one = judged[code + at, kind]
        assert one.verdict == "cannot-tell"
        assert f"and no hand with {'an' if code == 'T' else ''}other" in one.why
        assert f"had {code}{at}: hand and instrument cannot be told apart." in one.why
        # as long as its hands agree, both of them together are told
        if at == "2" and "Q03" in off:
            assert one.bias is one.interval is None
            assert "Together" not in one.why
        else:
            together = "read low by" if code + at in off else "agree with the others to"
            assert f"Together they {together}" in one.why
    others = {"T": "K", "K": "T"}[code]
    for at in "123":
        assert [one.verdict for key, one in judged.items() if key[0] == others + at] == ["sound"]
    assert {judged[hand, kind].verdict for hand in ("Q03", "Q04")} == {
        "cannot-tell" if off else "sound"
    }
    if off == {code + "2": 0.975}:  # all of them or what only they had
        assert "together they read off, with what nobody else had" in judged["Q03", kind].why
    assert {judged[hand, kind].verdict for hand in ("Q01", "Q05")} == {"sound"}


@pytest.mark.parametrize("off", [{"T2": 0.975}, {"T2": 0.975, "Q03": 1.02}, {"T1": 0.975}])
def test_instruments_half_nested_in_hands(off):
    """Two hands had one tape only, the rest two others: of those two all is told as ever."""
    readings, rng = drawn_practical(7).readings, np.random.default_rng(2)
    owner = {"Q03": "T2", "Q04": "T2"}
    tapes = [readings.instruments.index(code) for code in ("T1", "T3")]
    visit = np.unique(readings.hand * 1000 + readings.stem, return_inverse=True)[1]
    drawn = rng.choice(tapes, visit.max() + 1)[visit]
    whole = Readings(
        **{**vars(readings), "instrument": np.where(readings.girth, drawn, readings.instrument)}
    )
    judged = all_of(judge_hands(shared_out(whole, "girth", owner, off)))
    assert judged["T2", "girth"].verdict == "cannot-tell"
    assert "had no other tape" in judged["T2", "girth"].why
    assert judged["T1", "girth"].verdict == ("reads-low" if "T1" in off else "sound")
    assert judged["T3", "girth"].verdict == "sound"
    assert {judged[f"K{i}", "diameter"].verdict for i in (1, 2, 3)} == {"sound"}


def test_two_tapes_of_some_hands_two_of_the_others():
    """What two hands alone had is told as long as those hands agree."""
    readings, rng = drawn_practical(5).readings, np.random.default_rng(2)
    visit = np.unique(readings.hand * 1000 + readings.stem, return_inverse=True)[1]
    second = rng.integers(0, 2, visit.max() + 1)[visit]
    # T1 to T4, of which the first two hands have T2 and T4, and calipers as they were
    tape = np.where(readings.hand < 2, 1 + 2 * second, 2 * second)
    codes = tuple(code for code in readings.instruments if code[0] == "K")
    codes += ("T1", "T2", "T3", "T4")
    assert readings.instruments[: len(codes) - 4] == codes[:-4]
    instrument = np.where(readings.girth, len(codes) - 4 + tape, readings.instrument)
    mixed = Readings(**{**vars(readings), "instruments": codes, "instrument": instrument})
    sound = all_of(judge_hands(mixed))
    assert {sound[f"T{i}", "girth"].verdict for i in (1, 2, 3, 4)} == {"sound"}
    differ = all_of(judge_hands(shared_out(mixed, "girth", {}, {"Q01": 1.03})))
    assert differ["T2", "girth"].verdict == differ["T4", "girth"].verdict == "cannot-tell"
    assert differ["T2", "girth"].why == (
        "The hands that read with T2 had no tape that other hands had: "
        "hand and instrument cannot be told apart."
    )
    assert differ["T1", "girth"].verdict == "sound"
    off = all_of(judge_hands(shared_out(mixed, "girth", {}, {"T2": 0.975})))
    assert off["T2", "girth"].verdict == "reads-low"
    assert off["T4", "girth"].verdict == "sound"


def test_one_wrong_code_ties_nothing():
    """A line with another tape's code does not tell which of hand and tape is off."""
    owner = {f"Q{i + 1:02d}": f"T{one}" for i, one in enumerate((1, 1, 2, 2, 3, 3, 3))}
    readings = shared_out(drawn_practical(5).readings, "girth", owner, {"T2": 0.975, "Q03": 1.03})
    mine = np.flatnonzero((readings.hand == 2) & readings.girth)[3]
    instrument = readings.instrument.copy()
    instrument[mine] = readings.instruments.index("T1")
    judged = all_of(judge_hands(Readings(**{**vars(readings), "instrument": instrument})))
    assert judged["T2", "girth"].verdict == judged["Q04", "girth"].verdict == "cannot-tell"
    assert judged["T2", "girth"].why == (
        "Hands that read with T2 had another tape on one stem at most, where a wrong code would "
        "mislead: hand and instrument cannot be told apart."
    )


@pytest.mark.parametrize("seed", range(3))
@pytest.mark.parametrize(("kind", "other"), [("girth", "calipers"), ("diameter", "tapes")])
@pytest.mark.parametrize("factor", [1.025, 0.975])
def test_the_other_kind_sides_with_three_of_seven(factor, kind, other, seed):
    """Four hands off alike: neither they nor the three sound ones are told sound or off."""
    off = dict.fromkeys(("Q01", "Q03", "Q04", "Q06"), factor)
    readings = drawn_practical(seed, of=PracticalClass(stem_count=30)).readings
    judged = all_of(judge_hands(shared_out(readings, kind, {}, off)))
    for hand in readings.hands:
        one = judged[hand, kind]
        assert one.verdict == "cannot-tell"
        assert ("beside most hands" in one.why) == (hand not in off)
        sides = f"the {other} side with " + ("those that do not" if hand in off else "it")
        assert f"{sides}: nothing here tells which is off." in one.why
        assert judged[hand, "diameter" if kind == "girth" else "girth"].verdict == "sound"


@pytest.mark.parametrize("seed", range(3))
def test_two_calipers_that_side_with_three_of_seven(seed):
    """They are not off because there are three tapes; a tape off among four is told still."""
    off = dict.fromkeys(("Q01", "Q03", "Q04", "Q06"), 1.025)
    for tapes, tape in ((3, {}), (4, {"T2": 0.95})):
        of = PracticalClass(caliper_count=2, tape_count=tapes)
        readings = drawn_practical(seed, of=of).readings
        judged = judge_hands(shared_out(readings, "girth", {}, {**off, **tape})).instruments
        for one in judged:
            if one.name in tape:
                assert one.verdict == "reads-low"
            else:
                assert one.verdict == "cannot-tell"
                assert one.why.startswith("Tapes and calipers differ as the hands do")


@pytest.mark.parametrize("kind", ["girth", "diameter"])
def test_the_other_kind_sides_with_most(kind):
    """Three of seven off alike, and the other kind agrees with the four: the three are told."""
    off = dict.fromkeys(("Q01", "Q03", "Q04"), 1.025)
    judged = all_of(judge_hands(shared_out(drawn_practical(2).readings, kind, {}, off)))
    for hand in ("Q01", "Q02", "Q03", "Q04", "Q05", "Q06", "Q07"):
        assert judged[hand, kind].verdict == ("reads-high" if hand in off else "sound")


def test_one_hand_with_the_other_kind_puts_nobody_else_in_doubt():
    """All tapes read low and one hand high: it may be sound; the six agree with one another."""
    off = {"T1": 0.975, "T2": 0.975, "T3": 0.975, "Q03": 1.025}
    judged = all_of(judge_hands(shared_out(drawn_practical(2).readings, "girth", {}, off)))
    assert judged["Q03", "girth"].verdict == "cannot-tell"
    assert "the calipers side with it" in judged["Q03", "girth"].why
    assert judged["Q01", "girth"].verdict == "sound"
