"""What is concluded from readings: areas, and how far they are from the truth."""

from mensura.estimates.areas import (
    area_from_diameters_cm2,
    area_from_girth_cm2,
    basal_area_ft2,
    basal_area_m2,
    diameter_from_girth_cm,
    over_percent,
)
from mensura.estimates.bark import (
    bark_area_percent,
    bark_factor,
    tape_on_bark_percent,
    touched_cm,
    touched_parts_cm,
    touched_percent,
    under_bark_diameter_cm,
    under_bark_from_factor_cm,
)
from mensura.estimates.comparison import (
    PRACTICE_WORDS,
    PRACTICES,
    CaliperEstimate,
    Comparison,
    compare,
    nearer_limit_deg,
)
from mensura.estimates.form import form_factors
from mensura.estimates.out_of_round import (
    calipers_limit_deg,
    classroom_over_percent,
    one_reading_over_percent,
    out_of_round_percent,
    tape_over_percent,
    two_readings_over_percent,
)

__all__ = [
    "PRACTICES",
    "PRACTICE_WORDS",
    "CaliperEstimate",
    "Comparison",
    "area_from_diameters_cm2",
    "area_from_girth_cm2",
    "bark_area_percent",
    "bark_factor",
    "basal_area_ft2",
    "basal_area_m2",
    "calipers_limit_deg",
    "classroom_over_percent",
    "compare",
    "diameter_from_girth_cm",
    "form_factors",
    "nearer_limit_deg",
    "one_reading_over_percent",
    "out_of_round_percent",
    "over_percent",
    "tape_on_bark_percent",
    "tape_over_percent",
    "touched_cm",
    "touched_parts_cm",
    "touched_percent",
    "two_readings_over_percent",
    "under_bark_diameter_cm",
    "under_bark_from_factor_cm",
]
