"""What is measured: cross-sections of stems, exactly."""

from mensura.stems.bark import RoughBark, with_bark
from mensura.stems.compartment import COMPARTMENT_7, StandingStem, standing_sections
from mensura.stems.ellipse import Ellipse, circle, classroom_girth_cm, ellipse_girth_cm
from mensura.stems.outline import Outline, from_radii
from mensura.stems.outline_file import parse_outline, read_outline
from mensura.stems.records import CherryTrees, OrangeGirths, cherry_trees, orange_girths
from mensura.stems.rippled import RippledOval, fourth_ripple_cm
from mensura.stems.ripples import OutlineTerms, outline_terms
from mensura.stems.section import Section, widths_cm
from mensura.stems.several import SeveralStems
from mensura.stems.shapes import reuleaux, with_bump
from mensura.stems.side_view import (
    SideView,
    band_line_m,
    leg_lines_m,
    place_of_point_m,
    side_view,
    stick_m,
)
from mensura.stems.sight import out_of_view
from mensura.stems.standing import Buttress, Fork, StemInSpace, Swelling
from mensura.stems.wrapped import belt_cm, with_even_bark

__all__ = [
    "COMPARTMENT_7",
    "Buttress",
    "CherryTrees",
    "Ellipse",
    "Fork",
    "OrangeGirths",
    "Outline",
    "OutlineTerms",
    "RippledOval",
    "RoughBark",
    "Section",
    "SeveralStems",
    "SideView",
    "StandingStem",
    "StemInSpace",
    "Swelling",
    "band_line_m",
    "belt_cm",
    "cherry_trees",
    "circle",
    "classroom_girth_cm",
    "ellipse_girth_cm",
    "fourth_ripple_cm",
    "from_radii",
    "leg_lines_m",
    "orange_girths",
    "out_of_view",
    "outline_terms",
    "parse_outline",
    "place_of_point_m",
    "read_outline",
    "reuleaux",
    "side_view",
    "standing_sections",
    "stick_m",
    "widths_cm",
    "with_bark",
    "with_bump",
    "with_even_bark",
]
