"""Which round of *where would you measure?* belongs to whom: decks that never repeat.

A round belongs to a code and a number and is the same for ever. The kinds of rounds come in decks,
one of each, shuffled anew every time, so that no two neighbours are alike; diameter and scale go
through all their steps before a pair of them comes again, so that no two rounds are alike at all.
"""

from __future__ import annotations

from mensura.checks import whole
from mensura.draws import uniforms
from mensura.teaching.games.place_kinds import KINDS
from mensura.teaching.games.place_rounds import PlaceRound
from mensura.teaching.games.round_draws import Keyed, of_edition

#: The latest edition, which is played, and what the draws are for.
EDITION = 1
PURPOSE = "where would you measure"

#: Rounds of a code; beyond them one could come again.
MOST_ROUNDS = 10_000

#: How many steps of diameter (of 1 mm, from the least) and of the scale's foot (of 1 cm) there are.
#: Both are primes, so that together they come again only after all pairs.
_ACROSS_STEPS, _ACROSS_LEAST_CM = 193, 30.0
_SCALE_STEPS, _SCALE_LEAST_CM = 61, 5


def place_round(code: str, number: int, edition: int = EDITION) -> PlaceRound:
    """The round that belongs to a code and a number.

    code: of a student, or of a page; number: from 1 to MOST_ROUNDS; edition: of the game when the
    code was first played.

    >>> one = place_round("Q07", 1)
    >>> one.reply(one.right).right
    True
    """
    at = whole(number, "number", at_least=1, at_most=MOST_ROUNDS)
    kinds = {one.key: one for one in of_edition(KINDS.values(), edition, EDITION)}
    block, place = divmod(at - 1, len(kinds))
    kind = kinds[_deck(code, edition, tuple(kinds), block)[place]]
    draw = Keyed(PURPOSE, edition, code, at)
    across_cm = (
        _ACROSS_LEAST_CM + _step(code, edition, kind.key, "across", block, _ACROSS_STEPS) / 10
    )
    scale_cm = _SCALE_LEAST_CM + _step(code, edition, kind.key, "scale", block, _SCALE_STEPS)
    scene = kind.scene(draw.of(kind.key), round(across_cm, 1))
    lowest = min(scene.stem.ground_m(side) for side in ("uphill", "downhill"))
    nought_m = round(lowest - scale_cm / 100, 4)
    return PlaceRound(code, at, kind, scene, nought_m, draw.share("mirrored") < 0.5)


def _deck(code: str, edition: int, keys: tuple[str, ...], block: int) -> list[str]:
    """One of each kind, shuffled; the first is never the last of the deck before."""
    dealt = _shuffled(code, edition, keys, block)
    if block and dealt[0] == _shuffled(code, edition, keys, block - 1)[-1]:
        dealt[0], dealt[1] = dealt[1], dealt[0]
    return dealt


def _shuffled(code: str, edition: int, keys: tuple[str, ...], block: int) -> list[str]:
    shares = uniforms(len(keys), PURPOSE, edition, code, "deck", block)
    return [key for _, key in sorted(zip(shares.tolist(), keys, strict=True))]


def _step(code: str, edition: int, kind: str, what: str, visit: int, steps: int) -> int:
    """A step that comes again only after all others did: a start and a stride of the code's own."""
    start, stride = uniforms(2, PURPOSE, edition, code, kind, what)
    return (int(start * steps) + visit * (1 + int(stride * (steps - 1)))) % steps
