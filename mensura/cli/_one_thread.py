"""Small matrices take one thread: on a desk that is at work, several wait for each other.

A practical of 24 hands was judged in 0.05 s of one processor so, and in 0.8 s of two. It holds for
numpy's matrices alone and is said before numpy loads; whoever said otherwise is heeded.
"""

from __future__ import annotations

import os

_NAME = "OPENBLAS_NUM_THREADS"

if _NAME not in os.environ:
    os.environ[_NAME] = "1"
    try:
        import numpy  # noqa: F401
    finally:
        del os.environ[_NAME]  # what is started from here is not bound by it
