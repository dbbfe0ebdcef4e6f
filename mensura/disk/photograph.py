"""A photograph from a file: its dots as numbers, refused in one sentence before it can do harm.

The size is read from the file's head before any dot is unpacked, so that a small file that claims
to be an enormous picture is refused and not opened. A phone's turn is undone; levels finer than
256 are scaled and not clipped; what is transparent becomes ground.
"""

from __future__ import annotations

import warnings
from pathlib import Path
from typing import Any

import numpy as np
from numpy.typing import ArrayLike, NDArray

from mensura.checks import shown
from mensura.disk.writing import reason
from mensura.instruments.cut_photograph import CutPhotograph
from mensura.instruments.photo_plane import PhotographError

#: More than any phone's picture; what is larger is refused unread.
MOST_BYTES = 60_000_000
MOST_DOTS = 60_000_000
#: Kinds of files that are read.
KINDS = ("JPEG", "PNG", "TIFF", "WEBP", "BMP")
_KINDS_TOLD = "JPEG, PNG, TIFF, WebP or BMP"
#: Levels that a picture finer than 256 of them may use. One that uses less than a quarter of them
#: is stretched; so few dots in a hundred, glints and dead ones, do not count at either end.
_FULL = {"I": 65535.0, "F": 255.0}
_LEAST_USED, _STRAY_PERCENT, _SOME_DOTS = 0.25, 0.1, 1000
#: Less of a picture than this, in parts, shows nothing if the rest is transparent.
_LEAST_OPAQUE = 0.005
#: A smaller picture shows no edge to measure.
LEAST_SIDE_PX = 40


def read_photograph(path: str | Path) -> NDArray[np.uint8]:
    """The dots of a photograph, shape (rows, columns, 3), levels of red, green, blue from 0 to 255.

    path: of a JPEG, PNG, TIFF, WebP or BMP file. It is turned upright if the file says how it was
    held; levels of more than 8 bits are scaled to 255, by their own range where they use little
    of what they could; transparent places are laid on black or white, whichever is less like what
    stands in the middle. Raises PhotographError, in one sentence, for whatever cannot be used.
    """
    name = shown(str(path))
    try:
        file = Path(path)
        size = file.stat().st_size
        if file.is_dir():
            raise PhotographError(f"{name} is a folder; expected a photograph, JPEG or PNG.")
        if size > MOST_BYTES:
            raise PhotographError(
                f"{name} is over {MOST_BYTES // 1_000_000} MB; expected a photograph."
            )
        return _dots(file, name)
    except PhotographError:
        raise
    except (OSError, ValueError) as error:  # ValueError: a path with a NUL in it
        why = reason(error) if isinstance(error, OSError) else "it cannot be read"
        raise PhotographError(
            f"{name} was not read: {why}; expected a photograph, JPEG or PNG."
        ) from None


def read_cut(path: str | Path, scale_cm: float, scale_px: ArrayLike) -> CutPhotograph:
    """A photograph of a cut with the scale that lies on it.

    path: as for :func:`read_photograph`; scale_cm: the scale's length; scale_px: its two ends,
    x1,y1,x2,y2, x to the right and y down. Raises PhotographError.
    """
    return CutPhotograph(read_photograph(path), scale_cm, np.asarray(scale_px, dtype=float))


def _dots(file: Path, name: str) -> NDArray[np.uint8]:
    from PIL import Image, ImageOps, UnidentifiedImageError

    with warnings.catch_warnings():
        # our own bound is tighter and comes first
        warnings.simplefilter("ignore")
        try:
            with Image.open(file, formats=KINDS) as picture:
                wide, high = picture.size
                if wide * high > MOST_DOTS:
                    raise PhotographError(
                        f"{name} claims {wide} × {high} dots; expected a photograph of at most "
                        f"{MOST_DOTS // 1_000_000} million."
                    )
                if min(wide, high) < LEAST_SIDE_PX:
                    raise PhotographError(
                        f"{name} has {wide} × {high} dots; expected a photograph of at least "
                        f"{LEAST_SIDE_PX} each way."
                    )
                upright = ImageOps.exif_transpose(picture)
                return _coloured(upright, name)
        except UnidentifiedImageError:
            raise PhotographError(
                f"{name} is no picture that is read here; expected {_KINDS_TOLD}."
            ) from None
        except Image.DecompressionBombError:
            raise PhotographError(
                f"{name} claims more dots than any photograph; expected at most "
                f"{MOST_DOTS // 1_000_000} million."
            ) from None
        except (OSError, SyntaxError, EOFError, IndexError) as error:
            if isinstance(error, OSError) and error.errno:
                raise
            raise PhotographError(
                f"{name} is a broken picture; expected a whole photograph, JPEG or PNG."
            ) from None


def _coloured(picture: Any, name: str) -> NDArray[np.uint8]:
    """An upright picture of any kind as red, green and blue, with nothing transparent left."""
    clear = picture.info.get("transparency")
    if picture.mode[:1] in _FULL:
        levels = np.asarray(picture)
        grey = _scaled(levels, _FULL[picture.mode[:1]])
        dots = np.repeat(grey[..., None], 3, axis=2)
        if not isinstance(clear, int) or not (levels == clear).any():
            return dots
        alpha = np.where(levels == clear, 0, 255).astype(np.uint8)
    elif clear is None and "a" not in picture.mode.casefold().replace("lab", ""):
        return np.asarray(picture.convert("RGB"))
    else:
        both = np.asarray(picture.convert("RGBA"))
        dots, alpha = both[..., :3], both[..., 3]
    return dots if alpha.min() == 255 else _laid(dots, alpha, name)


def _scaled(levels: NDArray[Any], full: float) -> NDArray[np.uint8]:
    """Fine levels from 0 to 255: by all they may use, or by their own range if that is narrow."""
    high, wide = levels.shape
    some = levels[:: max(high // _SOME_DOTS, 1), :: max(wide // _SOME_DOTS, 1)].astype(np.float64)
    some = some[np.isfinite(some)]
    if not some.size:
        return np.zeros(levels.shape, np.uint8)
    low, top = np.percentile(some, [_STRAY_PERCENT, 100 - _STRAY_PERCENT])
    if (low >= 0 and top <= full and top - low >= _LEAST_USED * full) or top <= low:
        low, top = 0.0, full
    out = (levels.astype(np.float32) - np.float32(low)) * np.float32(255 / (top - low))
    return np.asarray(np.clip(np.nan_to_num(np.rint(out)), 0, 255)).astype(np.uint8)


def _laid(dots: NDArray[np.uint8], alpha: NDArray[np.uint8], name: str) -> NDArray[np.uint8]:
    """A picture laid on black or on white, whichever is less like what is seen in its middle."""
    opaque = alpha >= 128
    if opaque.mean() < _LEAST_OPAQUE:
        raise PhotographError(
            f"{name} is transparent nearly everywhere; expected a photograph in which the cut is "
            "seen."
        )
    high, wide = alpha.shape
    middle = (slice(high // 4, -(-3 * high // 4)), slice(wide // 4, -(-3 * wide // 4)))
    at = middle if opaque[middle].any() else (slice(None), slice(None))
    under = np.float32(0 if np.median(dots[at][opaque[at]]) > 127 else 255)
    share = alpha[..., None].astype(np.float32) / 255
    return np.asarray(np.rint(under + share * (dots - under))).astype(np.uint8)
