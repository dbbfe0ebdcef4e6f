"""The invented stand of Quillmere Practice Wood: twelve plots, one of them empty, and the truth.

It is drawn, and so what truly stands there is known. Three plots lie on a slope and were laid out
along the ground, the edge cuts one, and in a glade nothing grows.
"""

from __future__ import annotations

from dataclasses import dataclass, replace

import numpy as np

from mensura.checks import FloatArray
from mensura.estimates.drawn_stand import DrawnStand, drawn_stand, thrown_plots
from mensura.estimates.quillmere_practical import STRETCH_PERCENT
from mensura.estimates.stand import Plots, Trees

#: Of the generators: the wood's and the plots'.
_SEED, _PLOTS_SEED = 708, 46
#: Area as laid out, and slope of the ground.
_AREAS_M2 = (*(500.0,) * 10, 310.0, 500.0)
_SLOPES_DEG = (0.0, 0.0, 0.0, 12.0, 18.0, 25.0, *(0.0,) * 6)
#: Which plot lies in the glade.
_GLADE = 8


@dataclass(frozen=True)
class QuillmereStand:
    """The plots, their trees, and what truly stands there.

    wood: every tree of it; plots: as measured; trees: of the plots, as they truly are; girth_cm: as
    hand Q03 read each with tape T2 of the practical, which has stretched: to 1 mm.
    """

    wood: DrawnStand
    plots: Plots
    trees: Trees
    girth_cm: FloatArray

    @property
    def plots_csv(self) -> str:
        """The file of the plots."""
        lines = ["# Invented plots of Quillmere Practice Wood: nobody laid them out."]
        lines.append("plot,area_m2,slope_deg")
        rows = zip(self.plots.names, self.plots.area_m2, self.plots.slope_deg, strict=True)
        lines += [f"{name},{area:g},{slope:g}" for name, area, slope in rows]
        return "\n".join(lines) + "\n"

    @property
    def trees_csv(self) -> str:
        """The file of the trees."""
        lines = [
            "# Invented trees of Quillmere Practice Wood, as hand Q03 would read them with tape T2."
        ]
        lines.append("plot,tree,girth_cm,height_m,species")
        numbers: dict[int, int] = {}
        for at, plot in enumerate(self.trees.plot.tolist()):
            numbers[plot] = numbers.get(plot, 0) + 1
            species = self.trees.species_names[self.trees.species[at]]
            lines.append(
                f"{self.plots.names[plot]},{numbers[plot]},{self.girth_cm[at]:.1f},"
                f"{self.trees.height_m[at]:.1f},{species}"
            )
        return "\n".join(lines) + "\n"


def quillmere_stand() -> QuillmereStand:
    """The stand behind data/quillmere-trees.csv and data/quillmere-plots.csv, always the same.

    >>> found = quillmere_stand()
    >>> len(found.plots.names), round(found.wood.stems_per_ha)
    (12, 401)
    """
    wood = drawn_stand(_SEED, side_m=300.0, stems_per_ha=400.0, clump_stems=6.0, clump_radius_m=9.0)
    slopes = np.array(_SLOPES_DEG)
    on_map = np.array(_AREAS_M2) * np.cos(np.radians(slopes))
    count = len(_AREAS_M2)
    _, caught = thrown_plots(wood, count, _PLOTS_SEED, on_map)
    # where the glade is, nothing stands: those trees are taken out of the wood itself
    lost = caught.plot == _GLADE
    marks = set(zip(caught.diameter_cm[lost], caught.height_m[lost], strict=True))
    keep = np.array([one not in marks for one in zip(wood.diameter_cm, wood.height_m, strict=True)])
    wood = replace(
        wood,
        **{
            name: getattr(wood, name)[keep]
            for name in ("x_m", "y_m", "diameter_cm", "height_m", "volume_m3", "species")
        },
    )
    _, trees = thrown_plots(wood, count, _PLOTS_SEED, on_map)
    plots = Plots(
        tuple(f"P{place:02d}" for place in range(1, count + 1)),
        area_m2=np.array(_AREAS_M2),
        slope_deg=slopes,
    )
    read_cm = trees.diameter_cm * np.pi / (1 + STRETCH_PERCENT / 100)
    return QuillmereStand(wood, plots, trees, np.round(read_cm, 1))
