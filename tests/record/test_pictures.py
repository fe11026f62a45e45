"""Pictures: what is one, what is none, and that a small copy carries nothing but pixels."""

from __future__ import annotations

import importlib
import io
import random

import numpy as np
import pytest
from PIL import ExifTags, Image, PngImagePlugin

from oakum.record.files import pictures
from oakum.record.files.pictures import NotAPicture, read_picture, thumbnail

PLACE = ((52, 1), (12, 1), (4242, 100))


def jpeg(size=(1200, 800), *, orientation=1, taken="2024:06:01 10:20:30", offset=None, gps=True):
    """A photograph as a phone writes it: left half red, right half blue; position, time, comment."""
    image = Image.new("RGB", size, "red")
    image.paste("blue", (size[0] // 2, 0, *size))
    exif = Image.Exif()
    exif[ExifTags.Base.Orientation] = orientation
    exif[ExifTags.Base.Make] = "SECRETCAMERA"
    inner = exif.get_ifd(ExifTags.IFD.Exif)
    if taken:
        inner[ExifTags.Base.DateTimeOriginal] = taken
    if offset:
        inner[ExifTags.Base.OffsetTimeOriginal] = offset
    if gps:
        place = exif.get_ifd(ExifTags.IFD.GPSInfo)
        place[ExifTags.GPS.GPSLatitudeRef] = "N"
        place[ExifTags.GPS.GPSLatitude] = tuple(a / b for a, b in PLACE)
    out = io.BytesIO()
    image.save(out, "JPEG", exif=exif, comment=b"SECRETCOMMENT", xmp=b"<x:xmpmeta>SECRETXMP</x:xmpmeta>")
    return out.getvalue()


def png(image, **extra):
    out = io.BytesIO()
    image.save(out, "PNG", **extra)
    return out.getvalue()


def opened(content):
    return Image.open(io.BytesIO(content))


def test_a_photograph_is_read_with_its_size_time_and_warning_of_position():
    picture = read_picture(jpeg(offset="+02:00"))
    assert (picture.media_type, picture.width_px, picture.height_px) == ("image/jpeg", 1200, 800)
    assert picture.taken_at == "2024-06-01T10:20:30+02:00"
    assert picture.has_position


def test_a_camera_without_offset_gives_a_time_without_one():
    assert read_picture(jpeg(gps=False)).taken_at == "2024-06-01T10:20:30"
    assert not read_picture(jpeg(gps=False)).has_position


@pytest.mark.parametrize("taken", [None, "0000:00:00 00:00:00", "yesterday"])
def test_no_time_is_not_known(taken):
    assert read_picture(jpeg(taken=taken)).taken_at is None


def test_the_small_copy_carries_no_metadata_by_a_second_reader_and_by_search_of_the_bytes():
    original = jpeg()
    assert b"SECRETCAMERA" in original and b"SECRETCOMMENT" in original and b"SECRETXMP" in original
    small = thumbnail(original)
    for trace in (b"SECRET", b"Exif", b"GPS", b"xmp", b"Photoshop", b"ICC_PROFILE"):
        assert trace not in small
    again = opened(small)
    assert not again.getexif()
    assert set(again.info) <= {"jfif", "jfif_version", "jfif_unit", "jfif_density"}
    assert [marker for marker, _ in again.applist] == ["APP0"]


def test_png_texts_stay_behind():
    note = PngImagePlugin.PngInfo()
    note.add_text("Comment", "SECRETPLACE")
    small = thumbnail(png(Image.new("RGB", (50, 50), "red"), pnginfo=note))
    assert b"SECRET" not in small


def test_the_small_copy_fits_and_keeps_its_proportions():
    assert opened(thumbnail(jpeg())).size == (480, 320)
    assert opened(thumbnail(jpeg((600, 1200)), longest_px=100)).size == (50, 100)
    assert opened(thumbnail(jpeg((40, 20)))).size == (40, 20)


# Where the red half of the original must be once the picture hangs upright (Exif orientation tag, 1 to 8).
@pytest.mark.parametrize(
    ("orientation", "red_at"),
    [
        (1, "left"),
        (2, "right"),
        (3, "right"),
        (4, "left"),
        (5, "top"),
        (6, "top"),
        (7, "bottom"),
        (8, "bottom"),
    ],
)
def test_a_turned_photograph_hangs_upright(orientation, red_at):
    content = jpeg((400, 300), orientation=orientation)
    small = opened(thumbnail(content))
    picture = read_picture(content)
    assert small.size == (picture.width_px, picture.height_px)
    width, height = small.size
    spots = {
        "left": (width // 8, height // 2),
        "right": (width - width // 8, height // 2),
        "top": (width // 2, height // 8),
        "bottom": (width // 2, height - height // 8),
    }
    for spot, place in spots.items():
        red, _, blue = small.getpixel(place)
        if spot == red_at:
            assert red > 200 > blue


def test_transparency_becomes_white_paper():
    small = opened(thumbnail(png(Image.new("RGBA", (20, 20), (0, 0, 0, 0)))))
    assert small.getpixel((10, 10)) == (255, 255, 255)


def test_an_x_ray_of_sixteen_bits_is_stretched_to_be_seen():
    grey = np.full((40, 60), 3000, dtype=np.uint16)
    grey[:, 30:] = 3400
    small = opened(thumbnail(png(Image.fromarray(grey))))
    assert small.getpixel((5, 20))[0] < 10
    assert small.getpixel((55, 20))[0] > 245


@pytest.mark.parametrize("kind", ["GIF", "TIFF", "WEBP", "BMP", "AVIF"])
def test_other_kinds_are_read(kind):
    out = io.BytesIO()
    Image.new("RGB", (64, 48), "green").save(out, kind)
    assert read_picture(out.getvalue()).width_px == 64
    assert opened(thumbnail(out.getvalue())).size == (64, 48)


@pytest.mark.parametrize(
    ("content", "told"),
    [
        (b"", "is empty"),
        (b"not a picture at all", "no picture that can be read here"),
        (b'<?xml version="1.0"?><svg xmlns="http://www.w3.org/2000/svg"><script/></svg>', "SVG drawing"),
        (b"<!doctype html><img src=x onerror=alert(1)>", "web page"),
        (b"%PDF-1.7\n", "a PDF"),
        (b"PK\x03\x04....", "no picture that can be read here"),
    ],
)
def test_what_is_no_picture_is_refused_as_picture(content, told):
    for read in (read_picture, thumbnail):
        with pytest.raises(NotAPicture, match=told):
            read(content)


def test_an_svg_that_calls_itself_jpeg_is_still_no_picture():
    with pytest.raises(NotAPicture, match="SVG"):
        read_picture(b"  <svg xmlns='http://www.w3.org/2000/svg'></svg>")


def test_a_photograph_that_breaks_off_is_told_so():
    content = jpeg()
    for read in (read_picture, thumbnail):
        with pytest.raises(NotAPicture, match="damaged or breaks off"):
            read(content[: len(content) // 2])


@pytest.mark.parametrize("kind", ["JPEG", "PNG", "GIF", "WEBP", "BMP", "AVIF"])
def test_damage_anywhere_is_told_or_shown_and_never_breaks_the_program(kind):
    chance = random.Random(7)
    out = io.BytesIO()
    Image.effect_noise((60, 40), 60).convert("RGB").save(out, kind)
    for _ in range(40):
        damaged = bytearray(out.getvalue())
        for _ in range(chance.randint(1, 6)):
            damaged[chance.randrange(min(len(damaged), 400))] = chance.randrange(256)
        try:
            assert opened(thumbnail(bytes(damaged))).format == "JPEG"
        except NotAPicture as finding:
            assert "kept" in str(finding)


def test_a_picture_of_too_many_pixels_is_not_opened():
    # 20,000 x 20,000 white pixels are 49 kB as PNG and 400 MB once opened.
    flat = png(Image.new("1", (20_000, 20_000)))
    assert len(flat) < 100_000
    for read in (read_picture, thumbnail):
        with pytest.raises(NotAPicture, match="more than 89 million"):
            read(flat)


@pytest.mark.filterwarnings("ignore::PIL.Image.DecompressionBombWarning")
def test_a_picture_just_above_the_limit_is_told_its_size():
    with pytest.raises(NotAPicture, match="10000 x 10000 pixels"):
        read_picture(png(Image.new("1", (10_000, 10_000))))


HEIC = b"\x00\x00\x00\x18ftypheic\x00\x00\x00\x00mif1heic" + b"\x00" * 100


def test_a_heic_without_its_reader_says_which_extra_to_install_and_that_the_file_is_kept(monkeypatch):
    def none_there(name):
        raise ImportError(name)

    monkeypatch.setattr(pictures.importlib, "import_module", none_there)
    with pytest.raises(NotAPicture, match=r'file itself is kept.*extra "heic"'):
        read_picture(HEIC)


def test_a_heic_with_its_reader_is_read_through_it(monkeypatch):
    calls = []

    class Reader:
        @staticmethod
        def register_heif_opener():
            calls.append("registered")
            Image.register_open(
                "HEIF", lambda fp, name: Image.new("RGB", (32, 24), "navy"), lambda head: True
            )

    monkeypatch.setattr(pictures.importlib, "import_module", lambda name: Reader)
    monkeypatch.setattr(Image, "OPEN", dict(Image.OPEN))
    monkeypatch.setattr(Image, "ID", list(Image.ID))
    picture = read_picture(HEIC)
    assert (picture.media_type, picture.width_px) == ("image/heic", 32)
    assert opened(thumbnail(HEIC)).size == (32, 24)
    assert calls == ["registered", "registered"]
    assert importlib is pictures.importlib
