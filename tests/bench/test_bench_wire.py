"""What a move sends, and what a kernel keeps of five hundred.

Bytes are counted as the kernel sends them: every message of the move, envelopes and signatures
included, from busy to idle. They hang on no machine, so they are held.
"""

from __future__ import annotations

import runpy
from pathlib import Path

import pytest

dragging = runpy.run_path(str(Path(__file__).with_name("dragging.py")))

#: Bytes of the largest move: in workbook 02, and in any panel.
MOST_02, MOST = 12_000, 20_000
#: What a kernel may grow by in so many moves, kB.
MOVES, MOST_GROWN_KB = 500, 5_000

OPEN = """
work = {name: bench['at_work'](panel) for name, panel in bench['every_panel']().items()}
"""
COMMS = """{name: {control.name: [one.sliders[control.name].comm.comm_id,
    bench['stops'](control, 10)] for control in one.panel.controls}
    for name, one in work.items()}"""
LAST_LINES = """
for one in work.values():
    if one.panel.stepper:
        one.set(step=one.panel.stepper.count)
"""


@pytest.fixture(scope="module")
def kernel():
    one = dragging["Kernel"]()
    try:
        one.ready()
        one.does(OPEN)
        yield one
    finally:
        one.ends()


def test_bytes_of_a_move(kernel):
    """At most 12 kB in workbook 02 and 20 kB in the worst panel, with everything."""
    worst: dict[str, tuple[int, str, int]] = {}
    kernel.does(LAST_LINES)  # a road's last line stands under all its others
    for name, sliders in kernel.asks(COMMS).items():
        for control, (comm, values) in sliders.items():
            seen = list(kernel.moves(comm, values))
            assert all(many >= 4 for _, many in seen), (name, control, seen)
            usual = sorted(much for much, _ in seen)[len(seen) // 2]
            worst[name] = max(worst.get(name, (0, "", 0)), (max(seen)[0], control, usual))
    print("\nBytes of a move, with everything: largest, and the median of that control")
    for name, (much, control, usual) in worst.items():
        print(f"{name + ', ' + control:40} {much:6} {usual:6}")
    assert worst["out_of_round"][0] <= MOST_02
    assert max(worst.values())[0] <= MOST


def test_five_hundred_moves_leave_little(kernel):
    """A kernel grows by less than 5 MB, in the panel that sends most and in that of workbook 02."""
    if kernel.asks("bench['kilobytes']()") < 0:
        pytest.skip("nothing counts memory so here")
    for name, control in (("out_of_round", "first_cm"), ("bark", "second_cm")):
        comm, values = kernel.asks(COMMS)[name][control]
        for _ in kernel.moves(comm, values * 8):  # what is kept of looks and numbers is kept now
            pass
        before = kernel.asks("bench['kilobytes']()")
        for _ in kernel.moves(comm, (values * MOVES)[:MOVES]):
            pass
        grown = kernel.asks("bench['kilobytes']()") - before
        print(
            f"\n{MOVES} moves of {name}, {control}: grown by {grown} kB (at most {MOST_GROWN_KB})"
        )
        assert grown < MOST_GROWN_KB
