"""Against what a bias is told: what the others agree on, as long as more of them agree than differ.

Those hands (of one kind of instrument) that lie together are looked for, and their weighted mean is
the reference; whoever lies apart has no weight in it, and nobody has weight in his own. Where as
many agree on something else there is no reference, and nothing is told. Instruments are set against
each other on the stems that the hands read, tapes and calipers together: a girth over π is the mean
of a stem's widths, whatever its shape, if it has no hollows [Cauchy1841].
"""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.hand_cells import BoolArray
from mensura.estimates.hand_model import HandModel
from mensura.estimates.readings import IntArray

#: By how much sound ones may differ, a logarithm: it weighs a well-read hand against a seldom one.
_SOUND_SD = 0.002


@dataclass(frozen=True, eq=False)
class Against:
    """What each hand, then each instrument, adds, less what the others agree on.

    adds, slopes: as in the model, logarithms; adds_var, slopes_var, both_cov: their variances and
    covariance; agreeing: how many agree on what it is set against, itself perhaps; rival: how many
    others agree on something else; others: how many it could be set against; part: which hands and
    instruments of a kind hang together by who read with what, a label; users: how many hands read
    with the instrument, or instruments that the hand read with; decided: whether more of the hands
    of its part agree than differ; tied: for an instrument, whether its hands agree and read with
    another of its kind, and it or such another agrees with the rest, or its kind has no more than
    one part. What is not tied rests on nothing but that hands are alike; sided: for a hand,
    whether the other kind of instrument agrees with it, and not with most hands; contested: for an
    instrument, whether it is with its kind where the other kind sides with several such hands.
    """

    adds: FloatArray
    slopes: FloatArray
    adds_var: FloatArray
    slopes_var: FloatArray
    both_cov: FloatArray
    agreeing: IntArray
    rival: IntArray
    others: IntArray
    part: IntArray
    users: IntArray
    decided: BoolArray
    tied: BoolArray
    sided: BoolArray
    contested: BoolArray


def against_others(model: HandModel, matters: float) -> Against:
    """Each hand and instrument set against the others.

    model: fitted; matters: how far apart two may lie and still agree, but for chance, a logarithm.
    """
    hands, count = model.cells.hands, model.cells.judged
    part, users = _parts(model)
    kind = model.kind
    rows = np.eye(count)  # what is set against each other, as sums of the model's numbers
    contrasts = np.eye(count)
    differ = np.zeros(hands)
    agreeing, rival, others = (np.zeros(count, np.int64) for _ in range(3))
    decided = np.ones(count, np.bool_)
    cov, steep = model.covariance[:count, :count], model.covariance[count:, count:]

    def set_against(members: IntArray, allowed: IntArray) -> Agreed:
        values, own = rows[members] @ model.adds, rows[members]
        grows = own @ model.slopes, own @ steep @ own.T
        usable = np.isin(members, allowed)
        found = agreed(values, own @ cov @ own.T, matters, usable, *grows)
        for place, one in enumerate(members):
            mean = found.weight.copy()
            mean[place] = 0.0
            if not np.sum(mean) > 0:
                # nobody agrees: against all others, a figure that no verdict rests on
                mean = usable.astype(float)
                mean[place] = 0.0
            if np.sum(mean) > 0:
                contrasts[one] = own[place] - (mean / np.sum(mean)) @ own
            agreeing[one] = int(np.sum(found.together))
            rival[one] = found.rival
            others[one] = int(np.sum(usable)) - int(usable[place])
        return found

    for label in np.unique(part[:hands]):
        members = np.flatnonzero(part[:hands] == label)
        found = set_against(members, members)
        weight = found.weight
        decided[part == label] = np.sum(found.together) > found.rival
        differ[members] = _differ(model.adds[members], cov[np.ix_(members, members)], weight)
        # an instrument is told with the hands of its part at their middle
        if np.sum(weight) > 0:
            mine = hands + np.flatnonzero(part[hands:] == label)
            rows[np.ix_(mine, members)] += weight / np.sum(weight)
    members = np.arange(hands, count)
    one_part = np.array([np.unique(part[kind == one]).size == 1 for one in (0, 1)])[kind]
    # whose hands do not agree is known by no figure, unless all of its kind share those hands
    shared = members[(users[members] > 1) & (decided | one_part)[members]]
    weight = set_against(members, shared if shared.size else members).weight
    tied = one_part.copy()
    tied[:hands] = True
    for one in members[~one_part[members]]:
        own = part[members] == part[one]
        tied[one] = decided[one] and np.sum(own) > 1 and np.any(weight[own] > 0)
    full = np.kron(np.eye(2), contrasts)
    spread = full @ model.covariance @ full.T
    # what the others agree on is known as well as so many hands, each a little off, agree
    known = contrasts[:, :hands] ** 2
    np.fill_diagonal(known, 0.0)
    spread[:count, :count] += np.diag(known @ differ)
    adds = contrasts @ model.adds
    sided, contested = np.zeros(count, np.bool_), np.zeros(count, np.bool_)
    for label in np.unique(part[:hands]):
        mates = np.flatnonzero(part[:hands] == label)
        mine = hands + np.flatnonzero(part[hands:] == label)
        theirs = members[(users[members] > 1) & (decided & (kind != kind[mates[0]]))[members]]
        levels = [_level(model, rows[one], matters) for one in (mine, theirs)]
        if not decided[mates[0]] or levels[0] is None or levels[1] is None:
            continue
        gap = levels[0] - levels[1]
        error = np.sqrt(gap @ cov @ gap + gap[:hands] ** 2 @ differ)
        far = abs(gap @ model.adds) - 2 * error >= matters
        own = np.abs(adds[mates])
        sided[mates] = far & (np.abs(gap @ model.adds + adds[mates]) <= matters) & (own >= matters)
        if np.sum(sided[mates]) > 1:
            for one, level in zip((mine, theirs), levels, strict=True):
                contested[one] |= np.abs((rows[one] - level) @ model.adds) <= matters
    return Against(
        adds=adds,
        slopes=contrasts @ model.slopes,
        adds_var=np.diag(spread)[:count],
        slopes_var=np.diag(spread)[count:],
        both_cov=np.diag(spread[:count, count:]),
        agreeing=agreeing,
        rival=rival,
        others=others,
        part=part,
        users=users,
        decided=decided,
        tied=tied,
        sided=sided,
        contested=contested,
    )


@dataclass(frozen=True, eq=False)
class Agreed:
    """Who agrees.

    weight: of each in the middle; together: who lies with the most; rival: how many of the rest
    lie together elsewhere.
    """

    weight: FloatArray
    together: BoolArray
    rival: int


def agreed(
    values: FloatArray,
    covariance: FloatArray,
    matters: float,
    allowed: BoolArray,
    slopes: FloatArray | None = None,
    slopes_covariance: FloatArray | None = None,
) -> Agreed:
    """The largest group that lies together, and what its members weigh.

    values, covariance: of what is compared, logarithms; matters: so far apart they still agree,
    beyond twice the standard error of their difference; allowed: who may give a reference;
    slopes, slopes_covariance: how each grows otherwise than the reading: a share and a constant do
    not agree because they are alike on a stem of mean size.

    >>> found = agreed(np.array([0.0, 0.001, 0.03]), np.eye(3) * 1e-6, 0.01, np.ones(3, bool))
    >>> found.together.tolist(), found.rival
    ([True, True, False], 1)
    """
    near, apart = _near(values, covariance, matters)
    if slopes is not None and slopes_covariance is not None:
        near &= _near(slopes, slopes_covariance, matters / 2)[0]
    near &= allowed[:, None] & allowed[None, :]
    votes = near.sum(axis=1)
    if not votes.any():
        return Agreed(np.zeros(values.size), np.zeros(values.size, np.bool_), 0)
    # of groups as large the closest one
    off = np.where(near, np.abs(values[:, None] - values[None, :]), 0.0).sum(axis=1)
    best = int(np.lexsort((off, -votes))[0])
    together: BoolArray = near[best]
    elsewhere = near[np.ix_(~together, ~together)]
    rival = int(elsewhere.sum(axis=1).max()) if elsewhere.size else 0
    sure = np.median(apart[together], axis=0)
    middle = float(np.median(values[together]))
    weight = together.astype(float)
    for _ in range(8):
        reach = matters + 3 * np.minimum(sure, matters)
        far = np.clip(np.abs(values - middle) / reach, 0.0, 1.0)
        weight = (1 - far**2) ** 2 * allowed / (sure**2 + _SOUND_SD**2)
        if not np.sum(weight) > 0:
            return Agreed(together.astype(float), together, rival)
        middle = float(np.sum(weight * values) / np.sum(weight))
    return Agreed(weight, together, rival)


def _near(
    values: FloatArray, covariance: FloatArray, matters: float
) -> tuple[BoolArray, FloatArray]:
    """Which lie together two by two, and the standard error of their difference."""
    own = np.diag(covariance)
    apart = np.sqrt(np.maximum(own[:, None] + own[None, :] - 2 * covariance, 0.0))
    off = np.abs(values[:, None] - values[None, :])
    return np.asarray(off <= matters + 2 * np.minimum(apart, matters)), apart


def _level(model: HandModel, rows: FloatArray, matters: float) -> FloatArray | None:
    """What most of some instruments agree on, as a sum of the model's numbers; None if none do."""
    if not len(rows):
        return None
    count = model.cells.judged
    own = rows @ model.covariance[:count, :count] @ rows.T
    found = agreed(rows @ model.adds, own, matters, np.ones(len(rows), np.bool_))
    if np.sum(found.together) <= found.rival or not np.sum(found.weight) > 0:
        return None
    return np.asarray(found.weight / np.sum(found.weight) @ rows)


def _differ(values: FloatArray, covariance: FloatArray, weight: FloatArray) -> FloatArray:
    """By how much sound hands differ, a variance: theirs, and as if three more had been seen."""
    if not np.sum(weight) > 0:
        return np.full(values.size, _SOUND_SD**2)
    share = weight / np.max(weight)
    about = np.eye(values.size) - share / np.sum(share)
    off, own = about @ values, np.diag(about @ covariance @ about.T)
    beyond = np.sum(share * (off**2 - own))
    return np.full(values.size, max((beyond + 3 * _SOUND_SD**2) / (np.sum(share) + 2), 0.0))


def _parts(model: HandModel) -> tuple[IntArray, IntArray]:
    """Which hands and instruments hang together, and how many each met.

    Who read one stem only with an instrument, and more with others, ties nothing: a wrong code on
    one line would tell which of two is off.
    """
    from scipy.sparse import coo_matrix
    from scipy.sparse.csgraph import connected_components

    cells, good = model.cells, model.weight > 0
    hands, tools = cells.hands, cells.instrument_of.size
    of_hand, of_tool = model.columns
    stem = cells.stem[cells.cell]
    met = np.unique((of_hand * tools + of_tool)[good] * cells.stem_count + stem[good])
    pairs, stems = np.unique(met // cells.stem_count, return_counts=True)
    hand, tool = pairs // tools, pairs % tools
    users = np.concatenate([np.bincount(hand, minlength=hands), np.bincount(tool, minlength=tools)])
    most = np.zeros(hands, np.int64)
    np.maximum.at(most, hand, stems)
    ties = (stems > 1) | (most[hand] < 2)
    shape = (hands + tools, hands + tools)
    links = coo_matrix((np.ones(np.sum(ties)), (hand[ties], hands + tool[ties])), shape=shape)
    part = connected_components(links, directed=False)[1].astype(np.int64)
    return part, users
