"""Random numbers for teaching that never change: a keyed hash, not a generator with a state.

The same key gives the same number on every machine and in every year, so a ridge of bark, or later
a problem's numbers, can be drawn again from its seed alone.
"""

from __future__ import annotations

import hashlib

import numpy as np

from mensura.checks import FloatArray


def uniforms(count: int, *key: object) -> FloatArray:
    """`count` numbers in [0, 1) that depend on the key alone.

    count: how many; key: words and numbers that name the draw (purpose first, then seed).
    Method: BLAKE2b of the key and a counter (RFC 7693), eight bytes a number, no unit.

    >>> [round(float(u), 6) for u in uniforms(3, "example", 7)]
    [0.015068, 0.834971, 0.912315]
    """
    name = "|".join(str(part) for part in key)
    digests = b"".join(
        hashlib.blake2b(f"{name}|{block}".encode(), digest_size=64).digest()
        for block in range((count + 7) // 8)
    )
    words = np.frombuffer(digests, dtype=">u8")[:count]
    return (words >> np.uint64(11)).astype(np.float64) * 2.0**-53
