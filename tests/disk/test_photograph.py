"""Photographs from files: upright, in colour, and refused in one sentence before they do harm."""

import struct
import zlib

import numpy as np
import pytest
from PIL import Image
from scipy import ndimage

from mensura.disk.photograph import MOST_DOTS, read_photograph
from mensura.instruments.cut_end_photo import outline_of_photograph
from mensura.instruments.photo_plane import PhotographError


@pytest.fixture
def corner():
    """A picture 60 wide and 50 high, its upper left corner red."""
    dots = np.full((50, 60, 3), 180, np.uint8)
    dots[:20, :20] = (250, 10, 10)
    return dots


def claim(wide, high):
    """A PNG that claims a size and holds next to nothing."""

    def chunk(name, data):
        return (
            struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
        )

    head = struct.pack(">IIBBBBB", wide, high, 8, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 99))


@pytest.mark.parametrize("name", ["cut.png", "cut.tif", "cut.bmp"])
def test_dots_are_read_as_they_are(tmp_path, corner, name) -> None:
    """Rows, columns and colours."""
    Image.fromarray(corner).save(tmp_path / name)
    assert np.array_equal(read_photograph(tmp_path / name), corner)


def test_a_turned_photograph_is_turned_upright(tmp_path, corner) -> None:
    """A phone held upright writes a lying picture and how it was held."""
    exif = Image.Exif()
    exif[0x0112] = 6  # the first row is the right-hand side
    Image.fromarray(corner).save(tmp_path / "cut.jpg", exif=exif, quality=95)
    dots = read_photograph(tmp_path / "cut.jpg")
    assert dots.shape == (60, 50, 3)
    assert dots[5, 44, 0] > 200 > 60 > dots[5, 44, 1]
    assert abs(int(dots[5, 5, 0]) - 180) < 12


def test_grey_palette_and_clear_pictures_become_colours(tmp_path, corner) -> None:
    """Whatever a picture's kind, three levels a dot."""
    for kind in ("L", "P", "RGBA", "1"):
        Image.fromarray(corner).convert(kind).save(tmp_path / "cut.png")
        assert read_photograph(tmp_path / "cut.png").shape == (50, 60, 3)


def soft_disc(blur_px=2.0):
    """How much of each dot a disc of 60 px in 200 fills, its edge soft."""
    rows, columns = np.mgrid[:200, :200]
    sharp = (np.hypot(columns - 100, rows - 100) < 60).astype(float)
    return ndimage.gaussian_filter(sharp, blur_px)


def area_parts(path):
    """The area that is found in a file, in parts of all that the disc fills."""
    found = outline_of_photograph(read_photograph(path), scale_cm=20, scale_px=[20, 20, 120, 20])
    return found.outline.area_cm2 / (soft_disc(0).sum() / 25)


@pytest.mark.parametrize(
    ("ground", "wood"),
    [(0, 48000), (200, 48000), (17990, 48830), (60, 2000), (30000, 31000), (190, 70)],
)
@pytest.mark.parametrize("name", ["cut.png", "cut.tif"])
def test_sixteen_bits_are_scaled_and_not_clipped(tmp_path, name, ground, wood) -> None:
    """Dark scans, flat ones, light and dark cuts: the disc's own area, glints or not."""
    levels = np.rint(ground + (wood - ground) * soft_disc()).astype(np.uint16)
    levels[5:7, 5:7] = 65535
    Image.fromarray(levels).save(tmp_path / name)
    assert area_parts(tmp_path / name) == pytest.approx(1, abs=0.004)


def test_sixteen_bits_well_used_keep_their_levels(tmp_path) -> None:
    """A level of 257 n is n, so that a threshold means what it means in other pictures."""
    grey = np.tile(np.arange(30, 230, 2, dtype=np.uint16), (100, 1))
    Image.fromarray(grey * 257).save(tmp_path / "cut.png")
    assert np.array_equal(read_photograph(tmp_path / "cut.png")[..., 0], grey)
    fine = (soft_disc() * 0.8 + 0.1).astype(np.float32)
    Image.fromarray(fine).save(tmp_path / "cut.tif")
    assert area_parts(tmp_path / "cut.tif") == pytest.approx(1, abs=0.004)


@pytest.mark.parametrize("wood", [5, 60, 170, 250])
@pytest.mark.parametrize("under", [0, 120, 255])
@pytest.mark.parametrize("kind", ["RGBA", "LA"])
def test_what_is_transparent_is_ground(tmp_path, kind, wood, under) -> None:
    """Whatever colour hides under it, and whether the cut is light or dark."""
    share = soft_disc()
    grey = np.where(share > 0.002, wood, under).astype(np.uint8)
    alpha = np.rint(255 * share).astype(np.uint8)
    bands = [grey, alpha] if kind == "LA" else [grey] * 3 + [alpha]
    Image.fromarray(np.dstack(bands)).save(tmp_path / "cut.png")
    assert area_parts(tmp_path / "cut.png") == pytest.approx(1, abs=0.004)


def test_one_colour_may_be_the_transparent_one(tmp_path) -> None:
    """A grey level that stands for nothing is laid on, with 8 bits and with 16."""
    disc = soft_disc(0.3) > 0.5
    for levels, clear in ((np.uint8([160, 150]), 150), (np.uint16([41000, 40000]), 40000)):
        Image.fromarray(np.where(disc, *levels)).save(tmp_path / "cut.png", transparency=clear)
        assert area_parts(tmp_path / "cut.png") == pytest.approx(1, abs=0.006)
    clear = np.zeros((60, 60, 4), np.uint8)
    Image.fromarray(clear).save(tmp_path / "cut.png")
    with pytest.raises(PhotographError, match="transparent nearly everywhere; expected"):
        read_photograph(tmp_path / "cut.png")


def test_what_is_no_photograph_is_refused(tmp_path, corner) -> None:
    """A table, an empty file, a folder, no file, half a picture, a stamp: one sentence each."""
    (tmp_path / "table.jpg").write_text("x_cm,y_cm\n1,2\n")
    (tmp_path / "empty.png").write_bytes(b"")
    (tmp_path / "folder").mkdir()
    Image.fromarray(corner).save(tmp_path / "stamp.png")
    Image.fromarray(corner[:20, :20]).save(tmp_path / "stamp.png")
    noise = np.random.default_rng(1).integers(0, 255, (200, 200, 3), dtype=np.uint8)
    Image.fromarray(noise).save(tmp_path / "whole.png")
    Image.fromarray(noise).save(tmp_path / "cut.gif")
    half = (tmp_path / "whole.png").read_bytes()
    (tmp_path / "half.png").write_bytes(half[: len(half) // 2])
    for name, says in (
        ("table.jpg", "is no picture"),
        ("cut.gif", "is no picture that is read here; expected JPEG, PNG, TIFF, WebP or BMP."),
        ("empty.png", "is no picture"),
        ("folder", "is a folder"),
        ("none.jpg", "no such file"),
        ("nul\0.jpg", "cannot be read"),
        ("half.png", "is a broken picture"),
        ("stamp.png", "20 × 20 dots"),
    ):
        with pytest.raises(PhotographError, match=says) as told:
            read_photograph(f"{tmp_path}/{name}")
        assert str(told.value).count("expected") == 1
        assert "\n" not in str(told.value)


@pytest.mark.parametrize("side", [8000, 60_000, 2**31 - 1])
def test_a_bomb_is_refused_by_its_head(tmp_path, side) -> None:
    """A hundred bytes that claim to be huge are not opened."""
    assert side**2 > MOST_DOTS
    (tmp_path / "bomb.png").write_bytes(claim(side, side))
    with pytest.raises(PhotographError, match="claims"):
        read_photograph(tmp_path / "bomb.png")
