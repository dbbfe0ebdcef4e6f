"""No outline of a file is slow or heavy: fifty thousand points, smooth, rough or a scribble."""

import json
import subprocess
import sys
import time

import numpy as np
import pytest
import shapely

from mensura.checks import OutlineError
from mensura.estimates import compare, touched_percent
from mensura.instruments import Lay, Tape
from mensura.stems import Ellipse, Outline, from_radii, outline_terms
from mensura.stems.outline_file import MOST_POINTS

CLIMBER_AND_TILT = Lay(climber_cm=2, climber_direction_deg=37, tilt_deg=8, tilt_direction_deg=20)
#: As many nodes as a lay can ask for.
EVERYTHING = Lay(
    climber_cm=2, tilt_deg=8, wander_cm=5, wander_waves=50, overlap_offset_cm=3, slack_cm=1
)


def smooth(points=MOST_POINTS):
    return Ellipse(60, 48).outline_cm(points)


def cpu_s(work, times=5):
    """Processor time of the quickest of several runs: other work on the machine does not count."""
    least = np.inf
    for _ in range(times):
        start = time.process_time()
        work()
        least = min(least, time.process_time() - start)
    return least


@pytest.mark.parametrize("lay", [CLIMBER_AND_TILT, EVERYTHING], ids=["two faults", "all of them"])
def test_faults_cost_at_most_three_more_readings(lay):
    """Read once more from the points on, with the band laid badly: four times the time at most."""
    edge = smooth()
    plain = cpu_s(lambda: Tape().read(Outline(edge)))
    assert cpu_s(lambda: Tape().read(Outline(edge), lay)) < 4 * plain


@pytest.mark.parametrize("points", [14_400, MOST_POINTS])
def test_a_comparison_with_a_climber(points):
    """All that the command compares on an outline, with a climber: four times the time at most."""
    edge = smooth(points)
    plain = cpu_s(lambda: compare(Outline(edge)))
    assert cpu_s(lambda: compare(Outline(edge), Lay(climber_cm=2))) < 4 * plain


#: What is done with fifty thousand points, each in a process of its own.
HEAVY = {
    "two faults": "Tape().read(edge, two)",
    "all faults": "Tape().read(edge, everything)",
    "touched": "touched_percent(edge), touched_percent(noise)",
    "ripples": "outline_terms(edge, 100)",
    "under bark": "noise.under_bark_area_cm2(2.0)",
    "scribble": "scribble()",
}


@pytest.mark.parametrize("what", HEAVY)
def test_memory_stays_below_400_mb(what):
    """The most that a process held: libraries, the outline and all work on it."""
    code = f"""
import json, resource, sys
import numpy as np
from mensura.estimates import touched_percent
from mensura.instruments import Lay, Tape
from mensura.stems import Ellipse, Outline, from_radii, outline_terms
rng = np.random.default_rng(1)
edge = Outline(Ellipse(60, 48).outline_cm({MOST_POINTS}))
noise = from_radii(np.arange({MOST_POINTS}) * 360 / {MOST_POINTS}, 20 + rng.random({MOST_POINTS}))
two = Lay(climber_cm=2, climber_direction_deg=37, tilt_deg=8, tilt_direction_deg=20)
everything = Lay(climber_cm=2, tilt_deg=8, wander_cm=5, wander_waves=50, overlap_offset_cm=3)
def scribble():
    try:
        Outline(rng.random(({MOST_POINTS}, 2)) * 40)
    except ValueError as error:
        return str(error)
    raise AssertionError("a scribble was let in")
{HEAVY[what]}
if sys.platform == "linux":  # the account of resource starts with what the parent had
    peak = next(line for line in open("/proc/self/status") if line.startswith("VmHWM"))
    most = int(peak.split()[1])
else:
    most = resource.getrusage(resource.RUSAGE_SELF).ru_maxrss
print(json.dumps(most / (2**20 if sys.platform == "darwin" else 2**10)))
"""
    if sys.platform == "win32":
        pytest.skip("no account of memory without the module resource")
    done = subprocess.run(
        [sys.executable, "-c", code], capture_output=True, text=True, check=True, timeout=300
    )
    assert 20 < json.loads(done.stdout) < 400


def test_a_scribble_is_refused_without_being_counted_out():
    """Fifty thousand random points cross a hundred million times; the first is enough."""
    edge = np.random.default_rng(1).random((MOST_POINTS, 2)) * 40
    start = time.process_time()
    with pytest.raises(OutlineError, match=r"crosses or touches itself: the edge from point 1 to"):
        Outline(edge)
    assert time.process_time() - start < 20


def test_a_late_crossing_is_found_where_it_is():
    """Only the last edges of a long outline cross, far beyond the first that are tried."""
    edge = smooth(3000)
    edge[[-4, -3]] = edge[[-3, -4]]
    with pytest.raises(OutlineError, match=r"from point 2996 to point 2997 meets .* point 2998"):
        Outline(edge)


def test_as_good_as_few_points():
    """Fifty thousand points of an oval tell the oval's own numbers, with a climber too."""
    large, oval = Outline(smooth()), Ellipse(60, 48)
    for lay in (CLIMBER_AND_TILT, EVERYTHING):
        exact = Tape().read(oval, lay).reading_cm
        assert Tape().read(large, lay).reading_cm == pytest.approx(exact, abs=5e-3)
    assert touched_percent(large) == pytest.approx(100)
    few, many = outline_terms(Outline(smooth(5000)), 40), outline_terms(large, 40)
    assert many.girth_cm == pytest.approx(oval.taut_girth_cm, rel=1e-8)
    assert many.cosine_cm == pytest.approx(few.cosine_cm, abs=1e-4)


@pytest.mark.parametrize(("points", "bark"), [(500, 0.3), (500, 2.0), (500, 9.0), (2000, 1.5)])
def test_bark_in_layers_is_bark_at_once(points, bark):
    """A rough edge, peeled in layers and by GEOS in one go: alike to a ten-thousandth of it all."""
    noise = from_radii(
        np.arange(points) * 360 / points, 20 + np.random.default_rng(2).random(points)
    )
    at_once = shapely.Polygon(noise.outline_cm()).buffer(-bark, quad_segs=64).area
    assert noise.under_bark_area_cm2(bark) == pytest.approx(at_once, abs=1e-4 * noise.area_cm2)
