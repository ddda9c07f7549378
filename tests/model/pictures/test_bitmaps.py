"""PNG and JPEG pictures are taken whole; what breaks off, lies about its size or holds something else is not.

The good ones are encoded by another library, and changed by hand.
"""

import io
import struct
import zlib
from collections.abc import Callable, Sequence

import pytest
from PIL import Image

from proposal.errors import Problem
from proposal.model.pictures.picture import published_picture, wrong_picture

SIZE = (37, 21)
PNG_SIGNATURE = b"\x89PNG\r\n\x1a\n"
BREAKS_OFF = "one that breaks off"


def encoded(form: str, mode: str = "RGB", **options: object) -> bytes:
    """Return a picture with some detail in it."""
    noise = bytes((x * 7 + y * 13 + x * y) % 256 for y in range(SIZE[1]) for x in range(SIZE[0]))
    picture = Image.frombytes("L", SIZE, noise)
    picture = picture.convert("RGB").convert(mode) if mode in ("CMYK", "P") else picture.convert(mode)
    buffer = io.BytesIO()
    picture.save(buffer, form, **options)
    return buffer.getvalue()


def messages(file: str, data: bytes) -> list[str]:
    problems: list[Problem] = []
    wrong_picture(file, data, problems)
    return [str(problem) for problem in problems]


def found(file: str, data: bytes) -> str:
    (message,) = messages(file, data)
    return message.rpartition("; found ")[2]


def chunk(name: bytes, content: bytes) -> bytes:
    return struct.pack(">I", len(content)) + name + content + struct.pack(">I", zlib.crc32(name + content))


def header(width: int, height: int, bits: int = 8, colour: int = 0, interlace: int = 0) -> bytes:
    return chunk(b"IHDR", struct.pack(">IIBBBBB", width, height, bits, colour, 0, 0, interlace))


def png(*chunks: bytes) -> bytes:
    return b"".join((PNG_SIGNATURE, *chunks, chunk(b"IEND", b"")))


def pixels(lengths: Sequence[int]) -> bytes:
    """Return compressed lines of some lengths, each with the byte of its filter before it."""
    return zlib.compress(b"".join(bytes(1 + length) for length in lengths))


GREY = png(header(3, 2), chunk(b"IDAT", pixels([3, 3])))


@pytest.mark.independent
@pytest.mark.parametrize("mode", ["1", "L", "P", "LA", "RGB", "RGBA", "I;16"])
def test_a_png_picture_of_any_colours_is_taken(mode: str) -> None:
    data = encoded("PNG", mode)
    assert messages("images/a.png", data) == []
    assert published_picture("images/a.PNG", data) == data


@pytest.mark.independent
@pytest.mark.parametrize(
    ("mode", "options"),
    [
        ("L", {}),
        ("RGB", {"quality": 95, "subsampling": 0}),
        ("RGB", {"quality": 10, "subsampling": 2}),
        ("RGB", {"progressive": True}),
        ("RGB", {"progressive": True, "subsampling": 1, "optimize": True}),
        ("CMYK", {}),
        ("RGB", {"restart_marker_rows": 1}),
        ("RGB", {"comment": "<script>top.ran=true</script>", "exif": b"Exif\0\0MM\0*\0\0\0\x08\0\0\0\0\0\0"}),
    ],
)
@pytest.mark.parametrize("file", ["images/a.jpg", "images/a.JPEG"])
def test_a_jpeg_picture_of_any_form_is_taken(mode: str, options: dict[str, object], file: str) -> None:
    data = encoded("JPEG", mode, **options)
    assert messages(file, data) == []
    assert published_picture(file, data) == data


@pytest.mark.independent
def test_a_plain_area_is_as_small_as_a_jpeg_picture_gets_and_is_taken() -> None:
    for options in ({}, {"progressive": True}, {"progressive": True, "optimize": True, "quality": 1}):
        buffer = io.BytesIO()
        Image.new("RGB", (4000, 3000), "white").save(buffer, "JPEG", **options)
        assert messages("images/a.jpg", buffer.getvalue()) == []


def test_smaller_pictures_that_a_camera_adds_are_taken() -> None:
    data = encoded("JPEG")
    assert messages("images/a.jpg", data + data) == []
    assert messages("images/a.jpg", data + bytes(9)) == []
    assert found("images/a.jpg", data + data[:-30]) == BREAKS_OFF


@pytest.mark.parametrize(("width", "height"), [(1, 1), (5, 3), (8, 8), (13, 9), (64, 1)])
def test_an_interlaced_picture_is_taken(width: int, height: int) -> None:
    # ISO/IEC 15948, clause 8.2: the pass of each pixel of a square of eight.
    square = ("16462646", "77777777", "56565656", "77777777", "36463646", "77777777", "56565656", "77777777")
    lengths = []
    for one in "1234567":
        for y in range(height):
            in_line = sum(square[y % 8][x % 8] == one for x in range(width))
            if in_line:
                lengths.append(in_line * 3)
    good = png(header(width, height, colour=2, interlace=1), chunk(b"IDAT", pixels(lengths)))
    assert messages("images/a.png", good) == []
    short = png(header(width, height, colour=2, interlace=1), chunk(b"IDAT", pixels(lengths[:-1])))
    assert messages("images/a.png", short) != []


@pytest.mark.parametrize(
    ("file", "data", "message"),
    [
        ("images/a.png", b"", "wanted a PNG picture; found an empty file"),
        ("images/a.png", encoded("JPEG"), "wanted a PNG picture; found a JPEG picture"),
        ("images/a.jpg", encoded("PNG"), "wanted a JPEG picture; found a PNG picture"),
        ("images/a.png", encoded("GIF", "P"), "wanted a PNG picture; found a GIF picture"),
        ("images/a.jpeg", encoded("BMP"), "wanted a JPEG picture; found a BMP picture"),
        ("images/a.png", encoded("TIFF"), "wanted a PNG picture; found a TIFF picture"),
        ("images/a.png", b"RIFF\x24\0\0\0WEBPVP8 ", "wanted a PNG picture; found a WebP picture"),
        ("images/a.jpg", b"<script>top.ran=true</script>", "wanted a JPEG picture; found something else"),
        ("images/a.png", b"<svg/>", "wanted a PNG picture; found something else"),
        ("images/a.svg", encoded("PNG"), "wanted a text in UTF-8; found a picture"),
        ("images/a.svg", b"GIF89a", "wanted an SVG drawing; found a GIF picture"),
        ("images/a.svg", b" \n", "wanted an SVG drawing; found an empty file"),
    ],
)
def test_a_picture_is_what_its_name_says(file: str, data: bytes, message: str) -> None:
    assert messages(file, data) == [f"{file}: {message}"]


def test_a_picture_that_breaks_off_anywhere_is_refused() -> None:
    for file, data in (
        ("images/a.png", encoded("PNG")),
        ("images/a.jpg", encoded("JPEG")),
        ("images/a.jpg", encoded("JPEG", progressive=True)),
    ):
        assert messages(file, data) == []
        for end in range(12, len(data)):
            assert messages(file, data[:end]) != [], end


def with_damage(data: bytes, at: int) -> bytes:
    return data[:at] + bytes([data[at] ^ 0x10]) + data[at + 1 :]


def test_a_png_picture_with_a_byte_changed_anywhere_is_refused() -> None:
    data = encoded("PNG")
    for at in range(len(data)):
        assert messages("images/a.png", with_damage(data, at)) != [], at


def grey(*chunks: bytes) -> Callable[[], bytes]:
    return lambda: png(header(3, 2), *chunks)


WRONG_PNG = {
    "a bomb that the header tells": (
        lambda: png(header(30_000, 30_000), chunk(b"IDAT", zlib.compress(bytes(900_000)))),
        "wanted at most 20000 pixels a side and 50 million in all; found 30000 × 30000 pixels",
    ),
    "a bomb that is long": (
        lambda: png(header(2_147_483_647, 1), chunk(b"IDAT", b"")),
        "wanted at most 20000 pixels a side and 50 million in all; found 2147483647 × 1 pixels",
    ),
    "a bomb that the header does not tell": (
        lambda: grey(chunk(b"IDAT", zlib.compress(bytes(200_000_000))))(),
        "wanted as many pixels as the header of a PNG picture tells; found more",
    ),
    "no width": (
        lambda: png(header(0, 2), chunk(b"IDAT", pixels([0, 0]))),
        "wanted a picture with a width and a height; found 0 × 2 pixels",
    ),
    "a header that tells more": (
        lambda: png(header(3, 3), chunk(b"IDAT", pixels([3, 3]))),
        "wanted the 12 bytes of pixels that the header tells; found 8",
    ),
    "a header that tells less": (
        lambda: png(header(3, 1), chunk(b"IDAT", pixels([3, 3]))),
        "wanted as many pixels as the header of a PNG picture tells; found more",
    ),
    "a header that tells other colours": (
        lambda: png(header(3, 2, 8, 2), chunk(b"IDAT", pixels([3, 3]))),
        "wanted the 20 bytes of pixels that the header tells; found 8",
    ),
    "colours that there are not": (
        lambda: png(header(3, 2, 4, 2), chunk(b"IDAT", pixels([3, 3]))),
        "wanted a PNG picture in a form that the standard has; found another",
    ),
    "two headers": (
        grey(header(3, 2), chunk(b"IDAT", pixels([3, 3]))),
        "wanted one header at the beginning of a PNG picture; found IHDR",
    ),
    "no header": (
        lambda: png(chunk(b"IDAT", pixels([3, 3]))),
        "wanted one header at the beginning of a PNG picture; found IDAT",
    ),
    "no pixels": (grey(), "wanted the 8 bytes of pixels that the header tells; found 0"),
    "no palette": (
        lambda: png(header(3, 2, 8, 3), chunk(b"IDAT", pixels([3, 3]))),
        "wanted a palette in a PNG picture that uses one; found none",
    ),
    "pixels that are not compressed": (
        grey(chunk(b"IDAT", b"<script>top.ran=true</script>")),
        "wanted a whole PNG picture; found pixels that were damaged",
    ),
    "more behind the pixels": (
        grey(chunk(b"IDAT", pixels([3, 3]) + b"<script>")),
        "wanted as many pixels as the header of a PNG picture tells; found more",
    ),
    "pixels in two places": (
        grey(chunk(b"IDAT", pixels([3, 3])[:4]), chunk(b"tEXt", b"a\0b"), chunk(b"IDAT", pixels([3, 3])[4:])),
        "wanted the pixels of a PNG picture in one piece; found them parted",
    ),
    "a part that nobody knows": (
        grey(chunk(b"ABCD", b""), chunk(b"IDAT", pixels([3, 3]))),
        "wanted a PNG picture without parts that must not be passed over; found ABCD",
    ),
    "one that moves": (
        grey(chunk(b"acTL", struct.pack(">II", 2, 0)), chunk(b"IDAT", pixels([3, 3]))),
        "wanted a picture that stands still; found one that moves",
    ),
    "a page after its end": (
        lambda: GREY + b"<script>top.ran=true</script>",
        "wanted nothing after the end of a PNG picture; found 29 bytes",
    ),
    "a part longer than the file": (
        lambda: PNG_SIGNATURE + header(3, 2) + b"\xff\xff\xff\xffIDAT" + bytes(50),
        f"wanted a whole PNG picture; found {BREAKS_OFF}",
    ),
}


def test_the_small_picture_that_is_changed_by_hand_is_good() -> None:
    assert messages("images/a.png", GREY) == []
    with Image.open(io.BytesIO(GREY)) as picture:
        picture.load()
        assert picture.size == (3, 2)


@pytest.mark.parametrize("name", WRONG_PNG)
def test_a_png_picture_that_is_wrong_is_refused(name: str) -> None:
    made, message = WRONG_PNG[name]
    assert messages("images/a.png", made()) == [f"images/a.png: {message}"]


def jpeg_of_size(width: int, height: int, marker: int = 0xC0) -> bytes:
    """Return a JPEG picture whose header tells another size, or another form."""
    data = bytearray(encoded("JPEG"))
    at = data.index(b"\xff\xc0")
    data[at + 1] = marker
    data[at + 5 : at + 9] = struct.pack(">HH", height, width)
    return bytes(data)


def without_frame() -> bytes:
    data = encoded("JPEG")
    at = data.index(b"\xff\xc0")
    return data[:at] + data[at + 2 + int.from_bytes(data[at + 2 : at + 4], "big") :]


WRONG_JPEG = {
    "a bomb": (
        lambda: jpeg_of_size(65_000, 65_000),
        "wanted at most 20000 pixels a side and 50 million in all; found 65000 × 65000 pixels",
    ),
    "a header that tells more": (
        lambda: jpeg_of_size(7000, 7000),
        "wanted as many pixels as the header of a JPEG picture tells; found too few",
    ),
    "no height": (
        lambda: jpeg_of_size(9, 0),
        "wanted a picture with a width and a height; found 9 × 0 pixels",
    ),
    "a form without loss": (
        lambda: jpeg_of_size(*SIZE, 0xC3),
        "wanted a baseline or progressive JPEG picture; found one of another form",
    ),
    "a form of arithmetic codes": (
        lambda: jpeg_of_size(*SIZE, 0xC9),
        "wanted a baseline or progressive JPEG picture; found one of another form",
    ),
    "no header": (without_frame, "wanted the header of a JPEG picture before its pixels; found none"),
    "a page after its end": (
        lambda: encoded("JPEG") + b"<script>top.ran=true</script>",
        "wanted nothing after the end of a JPEG picture; found 29 bytes",
    ),
    "an archive after its end": (
        lambda: encoded("JPEG") + b"PK\x03\x04" + bytes(9),
        "wanted nothing after the end of a JPEG picture; found 13 bytes",
    ),
    "a part longer than the file": (
        lambda: b"\xff\xd8\xff\xe0\xff\xff" + bytes(9),
        f"wanted a whole JPEG picture; found {BREAKS_OFF}",
    ),
    "something between its parts": (
        lambda: b"\xff\xd8\xff\xe0\0\x02<script>top.ran=true</script>\xff\xd9",
        "wanted a whole JPEG picture; found a part that was damaged",
    ),
    "nothing in it": (
        lambda: b"\xff\xd8\xff\xd9",
        "wanted as many pixels as the header of a JPEG picture tells; found too few",
    ),
}


@pytest.mark.parametrize("name", WRONG_JPEG)
def test_a_jpeg_picture_that_is_wrong_is_refused(name: str) -> None:
    made, message = WRONG_JPEG[name]
    assert messages("images/a.jpg", made()) == [f"images/a.jpg: {message}"]


def test_a_picture_of_any_bytes_ends_in_a_message_or_in_none() -> None:
    # Every byte of a picture changed in turn must not end in anything else.
    data = encoded("JPEG", "RGB", progressive=True)
    for at in range(len(data)):
        assert len(messages("images/a.jpg", with_damage(data, at))) <= 1
