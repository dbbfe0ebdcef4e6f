"""Draws by key: the same for ever, even, and apart from one another."""

import hashlib
import subprocess
import sys

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st
from scipy import stats

from mensura.draws import uniforms


@given(st.integers(0, 200), st.text(max_size=9), st.integers())
def test_numbers_in_the_unit_interval(count, word, seed):
    """As many as asked for, from 0 up to but not including 1."""
    drawn = uniforms(count, word, seed)
    assert drawn.shape == (count,)
    assert ((drawn >= 0) & (drawn < 1)).all()


@given(st.integers(0, 60), st.integers(0, 60), st.integers())
def test_a_longer_draw_begins_like_a_shorter(one, other, seed):
    """Asking for more does not change what was drawn before."""
    few, many = sorted((one, other))
    assert np.array_equal(uniforms(many, "bark", seed)[:few], uniforms(few, "bark", seed))


def test_stays_what_it_is():
    """The numbers follow from BLAKE2b (RFC 7693) written out by hand here, and no state."""
    digest = hashlib.blake2b(b"example|7|0", digest_size=64).digest()
    by_hand = [(int.from_bytes(digest[i : i + 8], "big") >> 11) / 2**53 for i in range(0, 64, 8)]
    assert uniforms(8, "example", 7).tolist() == by_hand
    assert uniforms(3, "example", 7) == pytest.approx([0.015068, 0.834971, 0.912315], abs=5e-7)


def test_another_process_draws_the_same():
    """Neither the hash seed of a process nor its order of draws matters."""
    code = "from mensura.draws import uniforms; print(uniforms(5, 'bark', 28, 7).tolist())"
    again = subprocess.run([sys.executable, "-c", code], capture_output=True, text=True, check=True)
    assert again.stdout.strip() == str(uniforms(5, "bark", 28, 7).tolist())


def test_every_part_of_the_key_counts():
    """Another word, number or order is another draw."""
    keys = [("bark", 7), ("bark", 8), ("reading", 7), ("bark", 7, 0), (7, "bark"), ("bark",)]
    assert len({uniforms(1, *key)[0] for key in keys}) == len(keys)


def test_draws_are_even_and_unrelated():
    """A hundred thousand numbers: even by Kolmogorov's test, neighbours unrelated."""
    drawn = uniforms(100_000, "even", 1)
    assert stats.kstest(drawn, "uniform").pvalue > 0.01
    assert abs(np.corrcoef(drawn[:-1], drawn[1:])[0, 1]) < 0.01
    assert abs(np.corrcoef(drawn, uniforms(100_000, "even", 2))[0, 1]) < 0.01
