"""mensura: stems, the instruments that read them, and how far each reading can be trusted.

The public names below load when they are first used, so that `import mensura` stays light.
"""

from __future__ import annotations

from typing import TYPE_CHECKING, Any

__version__ = "0.1.0"

_HOMES = {
    "mensura.checks": ("MeasureError", "OutlineError"),
    "mensura.stems": (
        "CherryTrees",
        "Ellipse",
        "OrangeGirths",
        "Outline",
        "RoughBark",
        "Section",
        "cherry_trees",
        "circle",
        "classroom_girth_cm",
        "ellipse_girth_cm",
        "from_radii",
        "orange_girths",
        "parse_outline",
        "read_outline",
        "reuleaux",
        "widths_cm",
        "with_bark",
    ),
    "mensura.instruments": (
        "CaliperReading",
        "Calipers",
        "CorrectedGirth",
        "Lay",
        "Tape",
        "TapeReading",
        "correct_girth",
        "mean_cm",
    ),
    "mensura.estimates": (
        "Comparison",
        "allowed_u_girth_cm",
        "area_from_diameters_cm2",
        "area_from_girth_cm2",
        "bark_area_percent",
        "bark_factor",
        "basal_area_from_girths_m2_per_ha",
        "basal_area_m2",
        "basal_area_m2_per_ha",
        "calipers_limit_deg",
        "circular_plot_area_m2",
        "circular_plot_radius_m",
        "compare",
        "diameter_from_girth_cm",
        "expanded_uncertainty",
        "form_factors",
        "frustum_from_girths_m3",
        "frustum_m3",
        "frustum_mid_diameter_cm",
        "hoppus_sold_ft",
        "hoppus_true_m3",
        "huber_from_girth_m3",
        "huber_m3",
        "mapped_area_m2",
        "newton_from_girths_m3",
        "newton_m3",
        "over_percent",
        "quadratic_mean_diameter_cm",
        "quarter_girth_hoppus_ft",
        "quarter_girth_m3",
        "quarter_girth_over_percent",
        "quarter_girth_under_bark_m3",
        "rule_over_percent",
        "scatter_over_percent",
        "slope_distance_m",
        "slope_plot_radius_m",
        "smalian_from_girths_m3",
        "smalian_m3",
        "solid_form_factor",
        "solid_m3",
        "solid_radius_cm",
        "stems_per_ha",
        "tape_on_bark_percent",
        "touched_cm",
        "touched_parts_cm",
        "touched_percent",
        "u_area_exact_percent",
        "u_area_from_diameter_percent",
        "u_area_percent",
        "u_diameter_from_girth_cm",
        "u_mean_cm",
        "u_mean_of_readings_cm",
        "u_resolution_cm",
        "u_volume_from_girth_percent",
        "u_volume_percent",
        "under_bark_diameter_cm",
        "under_bark_from_factor_cm",
    ),
    "mensura.places": ("data_file",),
}
_HOME_OF = {name: home for home, names in _HOMES.items() for name in names}

__all__ = ["__version__", *sorted(_HOME_OF)]

if TYPE_CHECKING:
    from mensura.checks import MeasureError as MeasureError
    from mensura.checks import OutlineError as OutlineError
    from mensura.estimates import *  # noqa: F403
    from mensura.instruments import *  # noqa: F403
    from mensura.places import data_file as data_file
    from mensura.stems import *  # noqa: F403


def __getattr__(name: str) -> Any:
    if name not in _HOME_OF:
        raise AttributeError(f"module 'mensura' has no attribute {name!r}")
    from importlib import import_module

    value = getattr(import_module(_HOME_OF[name]), name)
    globals()[name] = value
    return value


def __dir__() -> list[str]:
    return __all__
