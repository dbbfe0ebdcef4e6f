"""Prints what is still to be done: figures without a row, with a row to fill in, and wrong ones.

Run `python tests/prose/missing.py 05` for a chapter, or with a part of a place's name.
"""

from __future__ import annotations

import sys
from pathlib import Path

sys.path.insert(0, str(Path(__file__).resolve().parents[1]))

from prose.places import places_of, printed, rows, texts
from prose.rows import judged


def main(names: list[str]) -> int:
    """Print the faults of the places named, or of all; 1 if there are any."""
    found = 0
    for name in names or [""]:
        for place in places_of(name):
            wrong = judged(texts(place), rows(place), printed(place))
            found += len(wrong)
            print(f"== {place}: {len(wrong)}")
            print("\n".join(wrong))
    return int(found > 0)


if __name__ == "__main__":
    sys.exit(main(sys.argv[1:]))
