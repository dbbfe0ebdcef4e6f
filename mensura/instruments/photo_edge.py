"""The edge of the one large thing in a photograph, to a small part of a dot.

First roughly, on a reduced picture: a level parts light from dark, the largest region that is not
ground is taken, its holes are filled. Then finely: across the rough edge the picture is sampled
along its normals, smoothed along the edge and not across it, and the edge lies where the light
passes the middle between wood and ground *there*, so that uneven light does not move it.
"""

from __future__ import annotations

from dataclasses import dataclass
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mensura.checks import FloatArray
from mensura.instruments.photo_corners import sharpened_px
from mensura.instruments.photo_plane import PhotographError

#: The rough look needs no more dots than this along the longer side.
_ROUGH_PX = 1000
#: Two levels closer than this, in grey levels, are not told apart.
_LEAST_CONTRAST = 10.0
#: A region smaller than this share of the picture is no cut end; one larger leaves no ground.
_LEAST_SHARE, _MOST_SHARE = 0.005, 0.97
#: How far the fine look reaches to each side, first and then again, in px.
_REACHES_PX = (14, 9)
#: Along the edge the picture is smoothed this little to look for corners and this much elsewhere;
#: the levels of wood and ground are smoothed by that, in px.
_ALONG_PX, _LEVELS_PX = (2.5, 7.0), 40.0


@dataclass(frozen=True, eq=False)
class FoundEdge:
    """An edge that was found.

    edge_px: shape (n, 2), x and y in the photograph; threshold: level between section and ground,
    in grey levels from 0 to 255; darker: whether the section is darker than its ground.
    """

    edge_px: Any
    threshold: float
    darker: bool


def grey_levels(picture: NDArray[Any]) -> NDArray[np.uint8]:
    """A picture in grey levels from 0 to 255.

    picture: shape (rows, columns) or (rows, columns, 3), levels from 0 to 255.

    >>> grey_levels(np.full((2, 2, 3), 200, np.uint8)).tolist()
    [[200, 200], [200, 200]]
    """
    levels = np.asarray(picture)
    if levels.ndim == 3 and levels.shape[2] >= 3:
        red, green, blue = (levels[..., one].astype(np.uint16) for one in range(3))
        return np.asarray((77 * red + 150 * green + 29 * blue) >> 8).astype(np.uint8)
    if levels.ndim == 2 and levels.size:
        return np.asarray(np.clip(levels, 0, 255)).astype(np.uint8)
    raise PhotographError("the picture has no rows and columns of grey or of red, green and blue.")


def parting_level(levels: ArrayLike) -> float:
    """The level that parts a picture into two kinds as unlike as can be, in grey levels.

    levels: any shape, from 0 to 255. Of all levels that with the greatest variance between the
    two kinds [Otsu1979].

    >>> parting_level([10, 10, 12, 200, 202])
    106.0
    """
    count = np.bincount(np.clip(np.asarray(levels), 0, 255).astype(np.uint8).ravel(), minlength=256)
    below = np.cumsum(count).astype(np.float64)
    total = np.cumsum(count * np.arange(256.0))
    above = below[-1] - below
    with np.errstate(divide="ignore", invalid="ignore"):
        apart = total / below - (total[-1] - total) / above
        between = np.where((below > 0) & (above > 0), below * above * apart**2, 0.0)
    best = np.flatnonzero(between >= between.max() * (1 - 1e-12))
    return float(best.mean().round() + 0.5) if best.size % 2 else float(best.mean() + 0.5)


def found_edge(
    picture: NDArray[Any], threshold: float | None = None, darker: bool | None = None
) -> FoundEdge:
    """The edge of the largest thing in a picture.

    picture: as for :func:`grey_levels`; threshold: level between section and ground, found if
    None; darker: whether the section is darker than the ground, told by the frame if None.
    Raises PhotographError where nothing or everything is found, or it leaves the frame.
    """
    from scipy import ndimage

    grey = grey_levels(picture)
    step = max(int(np.ceil(max(grey.shape) / _ROUGH_PX)), 1)
    rough = ndimage.gaussian_filter(_reduced(grey, step), 1.5)
    level = parting_level(rough) if threshold is None else float(threshold)
    frame = np.concatenate([rough[0], rough[-1], rough[:, 0], rough[:, -1]])
    if darker is None:
        darker = bool(np.median(frame) > level)
    region = _region(rough, level, darker)
    if threshold is None:
        _check_contrast(rough, region)
        region = _evened(rough, region, darker)
    edge = _traced(region) * step - 0.5
    edge = _smoothed(_spaced(edge, 1.0), 3.0 * step)
    little, much = (_fine(grey, edge, threshold, darker, along) for along in _ALONG_PX)
    return FoundEdge(sharpened_px(little, much), level, darker)


def _reduced(grey: NDArray[np.uint8], step: int) -> FloatArray:
    high, wide = (size // step * step for size in grey.shape)
    blocks = grey[:high, :wide].reshape(high // step, step, wide // step, step)
    return np.asarray(blocks.mean(axis=(1, 3), dtype=np.float32))


def _region(rough: FloatArray, level: Any, darker: bool) -> NDArray[np.bool_]:
    """The largest region on the section's side of the level, its holes filled."""
    from scipy import ndimage

    side = rough < level if darker else rough > level
    share = side.mean()
    word = "darker" if darker else "lighter"
    if share > _MOST_SHARE:
        raise PhotographError(
            f"everything in the photograph is {word} than the threshold; expected a cut end with "
            "ground all round it."
        )
    labels, count = ndimage.label(side)
    if not count:
        raise PhotographError(
            f"nothing in the photograph is {word} than the threshold; expected a cut end that "
            "stands out from the ground."
        )
    sizes = np.bincount(labels.ravel())
    sizes[0] = 0
    region = _filled(labels == sizes.argmax())
    if region.mean() < _LEAST_SHARE:
        raise PhotographError(
            "nothing as large as a cut end was found in the photograph; expected one that stands "
            "out from the ground and fills at least a tenth of the picture's width."
        )
    sides = [region[0].any(), region[-1].any(), region[:, 0].any(), region[:, -1].any()]
    if region.mean() > _MOST_SHARE or (all(sides) and region.mean() > 0.5):
        raise PhotographError(
            "everything in the photograph was found; expected a cut end with ground all round it."
        )
    if any(sides):
        names = [n for n, at in zip(("upper", "lower", "left", "right"), sides, strict=True) if at]
        raise PhotographError(
            f"the outline leaves the photograph at its {' and '.join(names)} edge; expected the "
            "whole cut end with ground all round it."
        )
    return region


def _filled(region: NDArray[np.bool_]) -> NDArray[np.bool_]:
    """A region with its holes: all but what hangs together with the frame."""
    from scipy import ndimage

    beyond, _ = ndimage.label(np.pad(~region, 1, constant_values=True))
    return np.asarray((beyond != beyond[0, 0])[1:-1, 1:-1])


def _check_contrast(rough: FloatArray, region: NDArray[np.bool_]) -> None:
    apart = abs(float(rough[region].mean() - rough[~region].mean()))
    if apart < _LEAST_CONTRAST:
        raise PhotographError(
            f"nothing stands out in the photograph: its two kinds of places are {apart:.2g} grey "
            f"levels apart; expected a cut end at least {_LEAST_CONTRAST:g} levels from the ground."
        )


def _evened(rough: FloatArray, region: NDArray[np.bool_], darker: bool) -> NDArray[np.bool_]:
    """The region again, by a level that follows wood and ground across the picture."""
    from scipy import ndimage

    for _ in range(2):
        wide = max(np.sqrt(region.sum()) / 4, 4.0)
        wood, ground = (_spread(rough, part, wide) for part in (region, ~region))
        near = _spread(region.astype(np.float32), np.ones_like(region), wide) > 1e-3
        level = (wood + ground) / 2
        side = (rough < level if darker else rough > level) & near
        labels, count = ndimage.label(side)
        if not count:
            return region
        sizes = np.bincount(labels.ravel(), weights=region.ravel())
        sizes[0] = 0
        again = _filled(labels == sizes.argmax())
        if again[0].any() or again[-1].any() or again[:, 0].any() or again[:, -1].any():
            return region
        region = again
    return region


def _spread(rough: FloatArray, part: NDArray[np.bool_], wide: float) -> FloatArray:
    """What is seen in a part of the picture, spread smoothly over all of it."""
    from scipy import ndimage

    step = max(int(wide / 5), 1)
    high, across = (-(-size // step) * step for size in rough.shape)
    grown = ((0, high - rough.shape[0]), (0, across - rough.shape[1]))
    seen = np.pad(np.where(part, rough, np.float32(0)), grown)
    counts = np.pad(part.astype(np.float32), grown)
    seen, counts = (
        ndimage.gaussian_filter(
            one.reshape(high // step, step, across // step, step).mean(axis=(1, 3)), wide / step
        )
        for one in (seen, counts)
    )
    small = seen / np.maximum(counts, 1e-9)
    rows, columns = ((np.arange(size) + 0.5) / step - 0.5 for size in rough.shape)
    for axis, at in ((0, rows), (1, columns)):
        low = np.clip(np.floor(at).astype(int), 0, max(small.shape[axis] - 2, 0))
        high_ = np.minimum(low + 1, small.shape[axis] - 1)
        part_ = np.clip(at - low, 0, 1).astype(np.float32)
        part_ = part_[:, None] if axis == 0 else part_[None]
        small = small.take(low, axis) * (1 - part_) + small.take(high_, axis) * part_
    return np.asarray(small)


def _traced(region: NDArray[np.bool_]) -> FloatArray:
    """The way round a region along the borders of its dots, shape (n, 2), x and y."""
    dots = np.pad(region, 1)
    inner = dots[1:-1, 1:-1]
    ways: dict[tuple[int, int], list[tuple[int, int]]] = {}
    for beyond, start, way in (
        (dots[:-2, 1:-1], (0, 0), (0, 1)),
        (dots[1:-1, 2:], (0, 1), (1, 0)),
        (dots[2:, 1:-1], (1, 1), (0, -1)),
        (dots[1:-1, :-2], (1, 0), (-1, 0)),
    ):
        for row, column in np.argwhere(inner & ~beyond).tolist():
            ways.setdefault((row + start[0], column + start[1]), []).append(way)
    first = min(ways)
    place, way, path = first, (0, 1), []
    while True:
        path.append(place)
        place = (place[0] + way[0], place[1] + way[1])
        if place == first:
            return np.array(path, dtype=np.float64)[:, ::-1]
        # where two dots touch by a corner only, turn so as to stay with the same dot
        right = (way[1], -way[0])
        way = right if right in ways[place] else ways[place][0]


def _spaced(edge_px: FloatArray, apart_px: float) -> FloatArray:
    """The same closed line through evenly spaced points."""
    closed = np.vstack([edge_px, edge_px[:1]])
    passed = np.concatenate([[0.0], np.cumsum(np.hypot(*np.diff(closed, axis=0).T))])
    count = max(round(passed[-1] / apart_px), 8)
    at = np.arange(count) * passed[-1] / count
    return np.stack([np.interp(at, passed, closed[:, k]) for k in (0, 1)], axis=-1)


def _smoothed(edge_px: FloatArray, along_px: float) -> FloatArray:
    from scipy import ndimage

    return np.asarray(ndimage.gaussian_filter1d(edge_px, along_px, axis=0, mode="wrap"))


def _fine(
    grey: NDArray[np.uint8],
    edge_px: FloatArray,
    threshold: float | None,
    darker: bool,
    along_px: float,
) -> FloatArray:
    """The edge moved along its normals to where the light passes the middle."""
    from scipy import ndimage

    for reach in _REACHES_PX:
        edge_px = _spaced(edge_px, 1.0)
        ahead = np.roll(edge_px, -1, axis=0) - np.roll(edge_px, 1, axis=0)
        ahead = _smoothed(ahead, 2.0)
        ahead /= np.maximum(np.hypot(*ahead.T), 1e-9)[:, None]
        # traced with the section on the right hand, y down: outwards is to the left
        out = np.stack([ahead[:, 1], -ahead[:, 0]], axis=-1)
        offsets = np.arange(-reach, reach + 0.01, 0.5)
        places = edge_px[:, None] + offsets[:, None] * out[:, None]
        light = ndimage.map_coordinates(
            grey, places[..., ::-1].transpose(2, 0, 1), np.float32, order=1, mode="nearest"
        )
        if threshold is None:
            wide = min(_LEVELS_PX, len(edge_px) / 12)
            # the outer four px at each end stand for wood and ground there
            both = np.stack([light[:, :8].mean(axis=1), light[:, -8:].mean(axis=1)], axis=-1)
            level = _smoothed(both, wide).mean(axis=1)
        else:
            level = np.full(len(edge_px), threshold)
        over = (light - level[:, None]) * (1 if darker else -1)
        along = min(along_px, len(edge_px) / 40)
        over = ndimage.gaussian_filter(over, (along, 2.0), mode=("wrap", "nearest"))
        edge_px = edge_px + _crossing(over, offsets)[:, None] * out
    return _spaced(edge_px, 1.0)


def _crossing(over: FloatArray, offsets: FloatArray) -> FloatArray:
    """Where each row rises through 0, nearest to the middle; 0 where it does not."""
    rises = (over[:, :-1] < 0) & (over[:, 1:] >= 0)
    near = np.where(rises, np.abs(offsets[:-1] + 0.25), np.inf)
    at = near.argmin(axis=1)
    rows = np.arange(len(over))
    low, high = over[rows, at], over[rows, at + 1]
    with np.errstate(divide="ignore", invalid="ignore"):
        step = offsets[at] + (offsets[1] - offsets[0]) * (-low / (high - low))
    return np.where(np.isfinite(near[rows, at]), step, 0.0)
