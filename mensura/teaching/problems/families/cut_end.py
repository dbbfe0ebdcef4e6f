"""A section from a photograph: the scale, the edge, and what a tape makes of it.

Photographs are invented (Quillmere Practice Wood). A picture knows no centimetres: they come from
a scale that lies in it, and whatever is wrong with the scale is wrong with every figure.
"""

from __future__ import annotations

from math import hypot, pi, sqrt, tan
from typing import Any

from mensura.estimates.areas import area_from_girth_cm2, over_percent
from mensura.estimates.photo_errors import (
    area_of_widths_percent,
    clicked_area_percent,
    clicked_girth_percent,
    scale_off_plane_percent,
    u_photo_area_percent,
)
from mensura.stems import circle
from mensura.teaching.problems.family import Family, Quantity, Slip


def _scale_px(q: Any) -> float:
    return hypot(q.along_px, q.up_px)


def _by_scale_cm2(q: Any, scale_px: float) -> float:
    """The area with the scale taken for so many px long."""
    return float(q.area_px2 * (q.scale_cm / scale_px) ** 2)


#: The frame round the section, of the problem on a tilted camera.
_FRAME_CM = (40, 30)


def _scales_cm(q: Any) -> tuple[float, float]:
    """Centimetres in a pixel across, and upwards."""
    return _FRAME_CM[0] / float(q.across_px), _FRAME_CM[1] / float(q.frame_up_px)


def _too_wide_percent(q: Any) -> float:
    return float(scale_off_plane_percent(q.camera_to_scale_m, q.nearer_cm))


def _way_left_cm(q: Any) -> float:
    """From the camera to the cut."""
    return float(100 * q.camera_to_scale_m - q.nearer_cm)


def _disc_cm2(q: Any) -> float:
    return float(circle(q.diameter_cm).area_cm2)


def _part_deg(q: Any) -> float:
    """The angle between two points, seen from the middle."""
    return 360 / float(q.click_count)


def _by_girth_cm2(q: Any) -> float:
    return float(area_from_girth_cm2(q.taut_girth_cm))


def _over(q: Any) -> float:
    return float(over_percent(_by_girth_cm2(q), q.true_area_cm2))


def _scale_part(q: Any) -> float:
    """The scale's uncertainty as a share: two marks, each apart."""
    return sqrt(2) * float(q.u_mark_px / q.scale_px)


FAMILIES = [
    Family(
        key="scale-that-lies-askew",
        topic="cut-end",
        title="From pixels to a sectional area",
        text="In a photograph of a cut end a scale of {scale_cm} cm lies askew on the wood: from "
        "one end to the other it goes {along_px} px to the right and {up_px} px up. The section's "
        "outline holds {area_px2} px². What is its area, in cm²?",
        given=[
            Quantity("scale_cm", 20, 50, 5, exact=True),
            Quantity("along_px", 900.0, 1500.0, 1.0, exact=True),
            Quantity("up_px", 300.0, 800.0, 1.0, exact=True),
            Quantity("area_px2", 1_200_000, 2_400_000, 1000, exact=True),
        ],
        unit="cm²",
        answer=lambda q: _by_scale_cm2(q, _scale_px(q)),
        steps={
            "scale_px": _scale_px,
            "per_cm_px": lambda q: _scale_px(q) / q.scale_cm,
        },
        hints=[
            "How many pixels is the scale long? And how many of them make a square centimetre?",
            "To the right and up are two sides of a right angle; the scale is the third. An area "
            "goes by the square of the scale.",
            "Take the root of {along_px}² + {up_px}², divide by {scale_cm}, square it, and divide "
            "{area_px2} by that.",
        ],
        solution="The scale is √({along_px}² + {up_px}²) = {scale_px} px long, so a centimetre has "
        "{scale_px}/{scale_cm} = {per_cm_px} px. {area_px2}/{per_cm_px}² = {answer} cm². Lay a "
        "scale only when the saw is off and put away.",
        slips=[
            Slip("only-to-the-right", lambda q: _by_scale_cm2(q, q.along_px),
                 "You took only the way to the right. The scale lies askew and is longer."),
            Slip("sides-added", lambda q: _by_scale_cm2(q, q.along_px + q.up_px),
                 "You added both ways. The scale is the third side of the right angle."),
            Slip("scale-not-squared", lambda q: q.area_px2 * q.scale_cm / _scale_px(q),
                 "A square centimetre has as many pixels as a centimetre, squared."),
            Slip("only-up", lambda q: _by_scale_cm2(q, q.up_px),
                 "You took only the way up. The scale lies askew and is longer."),
            Slip("scale-of-one-centimetre", lambda q: q.area_px2 / _scale_px(q) ** 2,
                 "That takes the whole scale for one centimetre."),
        ],
        source="closed form, the theorem of Pythagoras",
    ),
    Family(
        key="two-scales-of-a-tilted-camera",
        topic="cut-end",
        title="A tilted camera: one scale across, another upwards",
        text="From far away, with a long lens, a camera looks a little from above. A frame of 40 "
        "cm by 30 cm round the cut is {across_px} px wide and {frame_up_px} px high in the "
        "picture; the section's outline holds {area_px2} px². What is its area, in cm²?",
        given=[
            Quantity("across_px", 1600.0, 1660.0, 1.0, exact=True),
            Quantity("frame_up_px", 1104.0, 1140.0, 1.0, exact=True),
            Quantity("area_px2", 1_000_000, 1_500_000, 1000, exact=True),
        ],
        unit="cm²",
        answer=lambda q: q.area_px2 * _scales_cm(q)[0] * _scales_cm(q)[1],
        steps={
            "across_cm": lambda q: 40 / q.across_px,
            "up_cm": lambda q: 30 / q.frame_up_px,
        },
        hints=[
            "Is a pixel as many centimetres wide as it is high here?",
            "Seen from above, heights look shorter and widths do not. A pixel stands for a "
            "rectangle: its width times its height.",
            "A pixel is 40/{across_px} cm wide and 30/{frame_up_px} cm high. Multiply both with "
            "{area_px2}.",
        ],
        solution="A pixel is 40/{across_px} = {across_cm} cm wide and 30/{frame_up_px} = {up_cm} "
        "cm high: {area_px2}·{across_cm}·{up_cm} = {answer} cm². The mean of both scales, squared, "
        "is an approximation that comes near. From near by the scale changes within the picture, "
        "and four corners are needed.",
        slips=[
            Slip("scale-across-for-both", lambda q: q.area_px2 * _scales_cm(q)[0] ** 2,
                 "You took the scale across for both ways. Upwards a pixel is more."),
            Slip("scale-up-for-both", lambda q: q.area_px2 * _scales_cm(q)[1] ** 2,
                 "You took the scale upwards for both ways. Across a pixel is less."),
            Slip("one-scale-only", lambda q: q.area_px2 * _scales_cm(q)[0],
                 "That is one scale. An area needs both, one each way."),
            Slip("sides-changed",
                 lambda q: q.area_px2 * 40 / q.frame_up_px * 40 / q.across_px,
                 "The frame is 40 cm wide but only 30 cm high."),
            Slip("area-of-the-frame",
                 lambda q: 40 * 30 * (q.across_px * q.frame_up_px) / q.area_px2,
                 "Upside down: the section holds fewer pixels than the frame, and so fewer cm²."),
        ],
        source="closed form of a plane seen from far away",
    ),
    Family(
        key="scale-behind-the-cut",
        topic="cut-end",
        title="A scale that does not lie in the plane of the cut",
        text="The scale leans against the stack, {camera_to_scale_m} m from the camera; the cut "
        "end stands out and is {nearer_cm} cm nearer. By how many per cent is its area too large "
        "if it is measured by that scale?",
        given=[
            Quantity("camera_to_scale_m", 0.8, 1.4, 0.05, exact=True),
            Quantity("nearer_cm", 8.0, 20.0, 0.5, exact=True),
        ],
        unit="%",
        answer=lambda q: area_of_widths_percent(_too_wide_percent(q)),
        steps={
            "left_cm": _way_left_cm,
            "times": lambda q: 1 + _too_wide_percent(q) / 100,
        },
        hints=[
            "What is nearer looks larger. How many times larger than beside the scale?",
            "Widths in the picture go with one over the distance; areas with its square.",
            "Divide {camera_to_scale_m} m by itself less {nearer_cm} cm, square it, take 1 away, "
            "and make it per cent.",
        ],
        solution="The cut is {left_cm} cm from the camera, so it looks {times} times as wide as it "
        "would beside the scale. {times}² − 1 is {answer} %. Lay the scale on the cut; what "
        "cannot be laid there is no scale.",
        slips=[
            Slip("width-for-area", _too_wide_percent,
                 "That is what a width is too large by. An area goes by its square."),
            Slip("doubled", lambda q: 2 * _too_wide_percent(q),
                 "You doubled the width's error. That is the first step only: square the ratio."),
            Slip("distance-to-the-cut",
                 lambda q: 100 * ((1 + q.nearer_cm / 100 / q.camera_to_scale_m) ** 2 - 1),
                 "You took the distance for that to the cut. It is that to the scale; the cut is "
                 "nearer."),
            Slip("of-the-measured-area",
                 lambda q: 100 * (1 - (_way_left_cm(q) / 100 / q.camera_to_scale_m) ** 2),
                 "You took it as a share of the measured area. It is one of the true area."),
        ],
        source="closed form of similar triangles",
    ),
    Family(
        key="area-between-the-clicks",
        topic="cut-end",
        title="What a few clicked points leave out",
        text="A section is as good as round, {diameter_cm} cm across. Its edge is marked by "
        "{click_count} points, evenly along it, and the area is taken inside the straight lines "
        "between them. How much of the section is left out, in cm²?",
        given=[
            Quantity("diameter_cm", 30.0, 60.0, 0.5, exact=True),
            Quantity("click_count", 8, 18, 1, exact=True),
        ],
        unit="cm²",
        answer=lambda q: -_disc_cm2(q) * clicked_area_percent(round(q.click_count)) / 100,
        steps={
            "disc_cm2": _disc_cm2,
            "angle_deg": _part_deg,
            "inside_cm2": lambda q: _disc_cm2(q)
            * (1 + clicked_area_percent(round(q.click_count)) / 100),
        },
        hints=[
            "Between two points the line cuts off a sliver. What is the area inside all lines?",
            "It is as many triangles as there are points, each r²/2·sin of the angle between two "
            "of them.",
            "Work out {click_count}/2 times the square of half of {diameter_cm}, times the sine of "
            "360°/{click_count}; take that from 3.1416/4·{diameter_cm}².",
        ],
        solution="The disc has {disc_cm2} cm². With {angle_deg}° from point to point the triangles "
        "make {click_count}/2·r²·sin {angle_deg}° = {inside_cm2} cm². Left out are {answer} cm². "
        "Twice as many points leave out about a quarter of it.",
        slips=[
            Slip("share-of-the-girth",
                 lambda q: -_disc_cm2(q) * clicked_girth_percent(round(q.click_count)) / 100,
                 "That is the share by which the way round is too short. The area loses about four "
                 "times as much."),
            Slip("lines-outside",
                 lambda q: _disc_cm2(q)
                 * (q.click_count / pi * tan(pi / q.click_count) - 1),
                 "Those lines touch the edge from outside. Here the points lie on it, and the "
                 "lines inside."),
            Slip("in-per-cent", lambda q: -clicked_area_percent(round(q.click_count)),
                 "That is in per cent of the section. Asked is the area."),
            Slip("one-sliver",
                 lambda q: -_disc_cm2(q) * clicked_area_percent(round(q.click_count)) / 100
                 / q.click_count,
                 "That is one sliver. There are as many as points."),
            Slip("diameter-as-radius",
                 lambda q: -4 * _disc_cm2(q) * clicked_area_percent(round(q.click_count)) / 100,
                 "The diameter was taken for the radius: that makes it four times too large."),
        ],
        source="closed form of the regular polygon",
    ),
    Family(
        key="tape-against-an-outline",
        topic="cut-end",
        title="What a tape claims beside the outline of the same section",
        text="An outline from a photograph gives a section {true_area_cm2} cm² of wood and bark, "
        "and a taut band round it {taut_girth_cm} cm. By how many per cent does a tape, which "
        "takes it for round, overestimate the area?",
        given=[
            Quantity("true_area_cm2", 1180.0, 1300.0, 1.0, exact=True),
            Quantity("taut_girth_cm", 127.0, 134.0, 0.1, exact=True),
        ],
        unit="%",
        answer=_over,
        fits=lambda q: 2.5 < _over(q) < 14,
        steps={"round_cm2": _by_girth_cm2},
        hints=[
            "Whatever the shape: what area does the tape claim, and what area is there?",
            "A round stem of this girth has G²/4π. No other shape has as much.",
            "Work out {taut_girth_cm}²/12.566, and see by how many per cent it is above "
            "{true_area_cm2}.",
        ],
        solution="The tape claims {taut_girth_cm}²/12.566 = {round_cm2} cm². Over {true_area_cm2} "
        "cm² that is {answer} % too much. It is made of ovalness, corners and hollows that a taut "
        "band spans; an outline that is not smoothed adds more, and that is no wood.",
        slips=[
            Slip("of-the-claimed-area",
                 lambda q: 100 * (1 - q.true_area_cm2 / _by_girth_cm2(q)),
                 "You took it as a share of what the tape claims. It is one of the true area."),
            Slip("of-the-diameter",
                 lambda q: 100 * (sqrt(_by_girth_cm2(q) / q.true_area_cm2) - 1),
                 "That is what the diameter is too large by. Asked is the area."),
            Slip("in-square-centimetres", lambda q: _by_girth_cm2(q) - q.true_area_cm2,
                 "That is in cm². Asked is a share, in per cent."),
            Slip("squared-once-more",
                 lambda q: 100 * ((_by_girth_cm2(q) / q.true_area_cm2) ** 2 - 1),
                 "The girth is squared already: do not square the ratio of the areas again."),
        ],
        source="[Berger2010]",
    ),
    Family(
        key="doubt-of-a-photographed-area",
        topic="cut-end",
        title="How sure is an area from a photograph?",
        text="In a photograph a scale is {scale_px} px long; each of its two marks is placed with "
        "a standard uncertainty of {u_mark_px} px, the one apart from the other. The section is as "
        "good as round, with a radius of {radius_px} px, and its whole edge may lie too far out or "
        "in by {u_edge_px} px, as a standard uncertainty. What is the area's, in per cent?",
        given=[
            Quantity("scale_px", 200.0, 500.0, 10.0, exact=True),
            Quantity("u_mark_px", 0.6, 1.6, 0.1, exact=True),
            Quantity("radius_px", 150.0, 400.0, 10.0, exact=True),
            Quantity("u_edge_px", 0.4, 1.4, 0.1, exact=True),
        ],
        unit="%",
        answer=lambda q: u_photo_area_percent(q.scale_px, q.u_mark_px, q.radius_px, q.u_edge_px),
        steps={
            "scale_percent": lambda q: 100 * _scale_part(q),
            "edge_percent": lambda q: 100 * q.u_edge_px / q.radius_px,
        },
        hints=[
            "A length between two marks: how unsure is it, if each mark is? And what does the edge "
            "do to the radius?",
            "Two marks make √2 of one. Both parts are shares of a width; an area counts a width's "
            "share twice.",
            "The root of (1.4142·{u_mark_px}/{scale_px})² + ({u_edge_px}/{radius_px})², times 200.",
        ],
        solution="The scale is unsure by √2·{u_mark_px} px, {scale_percent} %, the radius by "
        "{edge_percent} %. Their squares add; twice the root is {answer} %. More sections in the "
        "same picture share the scale, and it does not average out.",
        slips=[
            Slip("one-mark",
                 lambda q: 200 * hypot(q.u_mark_px / q.scale_px, q.u_edge_px / q.radius_px),
                 "The scale has two marks, and both are unsure: √2 of one."),
            Slip("width-for-area",
                 lambda q: 100 * hypot(_scale_part(q), q.u_edge_px / q.radius_px),
                 "That is a width's. An area counts its share twice."),
            Slip("plainly-added", lambda q: 200 * (_scale_part(q) + q.u_edge_px / q.radius_px),
                 "The two know nothing of each other: add their squares."),
            Slip("edge-over-the-diameter",
                 lambda q: 200 * hypot(_scale_part(q), q.u_edge_px / q.radius_px / 2),
                 "If the whole edge lies out, the diameter grows on both sides: take the edge over "
                 "the radius."),
            Slip("edge-forgotten", lambda q: 200 * _scale_part(q),
                 "That is the scale's part. The edge has one as well."),
            Slip("scale-forgotten", lambda q: 200 * q.u_edge_px / q.radius_px,
                 "That is the edge's part. The scale has one as well."),
        ],
        source="[GUM1995]",
    ),
]  # fmt: skip
