"""A photograph from a file: its dots as numbers, refused in one sentence before it can do harm.

The size is read from the file's head before any dot is unpacked, so that a small file that claims
to be an enormous picture is refused and not opened. A phone's turn is undone.
"""

from __future__ import annotations

import warnings
from pathlib import Path

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
#: A smaller picture shows no edge to measure.
LEAST_SIDE_PX = 40


def read_photograph(path: str | Path) -> NDArray[np.uint8]:
    """The dots of a photograph, shape (rows, columns, 3), levels of red, green, blue from 0 to 255.

    path: of a JPEG, PNG, TIFF, WebP or BMP file. It is turned upright if the file says how it was
    held. Raises PhotographError, in one sentence, for whatever cannot be used.
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
                return np.asarray(upright.convert("RGB"))
        except UnidentifiedImageError:
            raise PhotographError(f"{name} is no picture; expected JPEG or PNG.") from None
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
