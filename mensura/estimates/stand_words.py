"""What has to be said beside the figures of a stand: what they rest on, and what they leave out."""

from __future__ import annotations

from math import cos, log, radians

from mensura.estimates.plots import HECTARE_M2
from mensura.estimates.stand import FEW_PLOTS, Plots, Stand, Trees

#: Stands beside every volume.
CAUTION = (
    "Do not sell or buy timber on these figures: the contract, the local scaling rules and a "
    "licensed scaler come first."
)
#: The same where nothing is told of one stand: beside a panel, an outline.
SOLD_ON_FIGURES = (
    "Timber is sold on figures: the contract, local scaling rules and licensed scalers come first."
)
#: From this standard error on, over the mean, skew plots let Student's interval cover below 93 %:
#: seen on drawn stands in clumps, tests/estimates/test_drawn_stand.py.
SKEW_FROM = 0.25
#: What stands have [BrackWoodBA]; from the next on it looks like a slip, our own bound.
USUAL_M2_PER_HA = (10.0, 60.0)
#: More a hectare is rarely seen. Our own bounds; common practice, no source.
DENSE_M2_PER_HA, DENSE_STEMS_PER_HA = 100.0, 50_000.0
#: Mean height over mean diameter, in metres for each cm, that hardly any stand passes; the upper
#: one for trees thicker than a sapling. Our own bounds; common practice, no source.
STOUT_M_PER_CM, SLENDER_M_PER_CM, _SAPLING_CM = 0.31, 2.0, 5.0
#: Unequal plots: so many times as large, and fewer than so many of them.
_TIMES_AS_LARGE, _FEW_BY_RATIO = 5.0, 10


def stand_notes(found: Stand, plots: Plots) -> list[str]:
    """What has to be said beside a stand's figures, in sentences.

    found: the stand; plots: of it.
    """
    return [
        *_few(found),
        *_zeros(found, plots),
        *_skew(found),
        *_areas(found, plots),
        _edge(found),
        "Standard errors and intervals of a hectare come from how plots differ, if plots lie at "
        "random and are few against the stand. What is the same for all trees, like a worn tape or "
        "a form factor from elsewhere, is not in them: the budget of the volume has it.",
    ]


def stand_slips(found: Stand, trees: Trees) -> list[str]:
    """What no single row shows and still looks like a slip of a unit, in sentences.

    found: the stand; trees: of it.
    """
    return [*_dense(found), *_shape(trees)]


def is_skew(found: Stand) -> bool:
    """Whether a few plots have most of the volume; of fewer than five nothing can be said.

    found: the stand.
    """
    volume = found.per_hectare.volume_m3
    return found.plots >= FEW_PLOTS and volume.value > 0 and volume.se > SKEW_FROM * volume.value


def _dense(found: Stand) -> list[str]:
    """More than nearly any stand has: a slip that no single row shows."""
    area, stems = found.per_hectare.basal_area_m2.value, found.per_hectare.stems.value
    said = []
    if area > DENSE_M2_PER_HA:
        said.append(f"a basal area of {area:,.0f} m²")
    if stems > DENSE_STEMS_PER_HA:
        said.append(f"{stems:,.0f} stems")
    if not said:
        return []
    low, high = USUAL_M2_PER_HA
    usual = f"; published are {low:g} to {high:g} m² (Brack and Wood)" if area > high else ""
    which = "the gauge's factor" if found.counted else "column area_m2 in hectares"
    return [
        f"A hectare with {' and '.join(said)} is more than nearly any stand has{usual}. Look "
        f"at units: {which}, girths in the column diameter_cm, millimetres for centimetres. "
        "Nothing was changed."
    ]


def _shape(trees: Trees) -> list[str]:
    """Trees that are together stouter or more slender than trees are."""
    if not trees.diameter_cm.size:
        return []
    tall, thick = float(trees.height_m.mean()), float(trees.diameter_cm.mean())
    if tall < STOUT_M_PER_CM * thick:
        what, asks = "stout", "Are they girths in the column diameter_cm, or millimetres?"
    elif tall > SLENDER_M_PER_CM * thick and thick > _SAPLING_CM:
        what, asks = "slender", "Are they diameters in the column girth_cm, or heights in feet?"
    else:
        return []
    return [
        f"The trees are {tall:.3g} m tall on {thick:.3g} cm of diameter on average: hardly any "
        f"stand is so {what}. {asks} Nothing was changed."
    ]


def _few(found: Stand) -> list[str]:
    if found.plots == 1:
        return [
            "One plot cannot say how plots differ: there is no standard error and no interval. "
            "All rests on this plot being like the stand."
        ]
    if found.plots < FEW_PLOTS:
        freedom = found.plots - 1
        noun = "degree" if freedom == 1 else "degrees"
        return [
            f"Only {found.plots} plots: the intervals rest on {freedom} {noun} of freedom and on "
            "plots that scatter like a bell curve, which so few cannot show. Take them as a hint."
        ]
    return []


def _zeros(found: Stand, plots: Plots) -> list[str]:
    if not found.empty:
        return _alike(found)
    some = ", ".join(found.empty[:6]) + (" …" if len(found.empty) > 6 else "")
    one = len(found.empty) == 1
    if len(found.empty) < found.plots:
        noun, it = ("1 plot has", "it counts as zero") if one else (
            f"{len(found.empty):,} plots have", "they count as zeros"
        )  # fmt: skip
        return [f"{noun} no tree, {some}: {it}."]
    said = f"No plot has a tree ({some}): zero was found, and chance cannot be told from it."
    if not found.counted:
        unseen = -log(0.05) * HECTARE_M2 / float(plots.map_area_m2.sum())
        said += (
            f" If trees stand at random, up to {unseen:.3g} a hectare may have been missed (95 %)."
        )
    return [said]


def _alike(found: Stand) -> list[str]:
    if found.plots > 1 and found.per_hectare.volume_m3.se == 0:
        return ["All plots say the same: that their standard error is 0 is chance."]
    return []


def _skew(found: Stand) -> list[str]:
    if not is_skew(found):
        return []
    volume = found.per_hectare.volume_m3
    return [
        f"The standard error is {100 * volume.se / volume.value:.0f} % of the mean: a few plots "
        "have most of the trees, and Student's interval then holds the truth too seldom and ends "
        "too low. The skew interval, as far above the mean as below it in times, comes nearer to "
        "95 %."
    ]


def _areas(found: Stand, plots: Plots) -> list[str]:
    said = []
    steep = float(plots.slope_deg.max())
    if steep > 0:
        which = (
            "A gauge used along the ground of a slope takes in less of the map: its factor is "
            "divided by the slope's cosine"
            if found.counted
            else "Where a slope is given, the area was laid out along the ground and counts times "
            "the slope's cosine"
        )
        said.append(f"{which} (down to {cos(radians(steep)):.3f} here).")
    if found.by_ratio:
        area = plots.map_area_m2
        words = (
            "The plots' areas on the map differ: all trees over all area, the ratio, so that a "
            "small plot weighs less."
        )
        if area.max() > _TIMES_AS_LARGE * area.min() and found.plots < _FEW_BY_RATIO:
            words += " With so few plots of such unequal size its standard error is a little small."
        said.append(words)
    return said


def _edge(found: Stand) -> str:
    if found.counted:
        return (
            "At the stand's edge: no point is moved inward. A tree that counts again from the "
            "point mirrored behind the edge has times 2, which is exact at a straight edge."
        )
    return (
        "At the stand's edge: no plot is moved inward. Its area is the part inside the stand, and "
        "trees at the edge then count a little too little; or a tree that counts again from the "
        "plot mirrored behind the edge has times 2, which is exact at a straight edge."
    )
