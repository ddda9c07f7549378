"""Whether a PNG or JPEG picture is whole, and of the size that its header says.

The formats: PNG (ISO/IEC 15948:2004), JPEG (ITU-T T.81, 1992).
"""

import zlib
from struct import Struct

from proposal.quantities.messages import printable

MOST_PIXELS = 50_000_000
LONGEST_SIDE_PX = 20_000

_PNG = b"\x89PNG\r\n\x1a\n"
_JPEG = b"\xff\xd8\xff"
_OTHERS = (
    (b"GIF8", "a GIF picture"),
    (b"BM", "a BMP picture"),
    (b"II*\0", "a TIFF picture"),
    (b"MM\0*", "a TIFF picture"),
    (b"%PDF", "a PDF"),
    (b"\x1f\x8b", "a compressed file"),
)
_CHUNK = Struct(">I4s")
_HEADER = Struct(">IIBBBBB")
# Clause 11.2.2: samples of a pixel by colour type, and the bits that a sample may have.
_SAMPLES = {0: 1, 2: 3, 3: 1, 4: 2, 6: 4}
_BITS = {0: (1, 2, 4, 8, 16), 2: (8, 16), 3: (1, 2, 4, 8), 4: (8, 16), 6: (8, 16)}
# Clause 8.2: start and step across, start and step down, of each of the seven passes.
_PASSES = (
    (0, 8, 0, 8),
    (4, 8, 0, 8),
    (0, 4, 4, 8),
    (2, 4, 0, 4),
    (0, 2, 2, 4),
    (1, 2, 0, 2),
    (0, 1, 1, 2),
)
_KNOWN_CHUNKS = (b"IHDR", b"PLTE", b"IDAT", b"IEND")
_INFLATED_AT_ONCE = 1 << 20
# Annex B, table B.1: frames that browsers decode, and all that begin a frame.
_FRAMES_SHOWN = (0xC0, 0xC1, 0xC2)
_FRAMES = (*range(0xC0, 0xC4), *range(0xC5, 0xC8), *range(0xC9, 0xCC), *range(0xCD, 0xD0))
_RESTARTS = range(0xD0, 0xD8)


class _WrongError(Exception):
    """What was found instead of a good picture."""


def kind_of(data: bytes) -> str:
    """Return what a file holds, by its content, in words such as `a PNG picture`.

    data: content of the file.
    """
    if not data:
        return "an empty file"
    if data.startswith(_PNG):
        return "a PNG picture"
    if data.startswith(_JPEG):
        return "a JPEG picture"
    if data.startswith(b"RIFF") and data[8:12] == b"WEBP":
        return "a WebP picture"
    return next((name for beginning, name in _OTHERS if data.startswith(beginning)), "something else")


def wrong_bitmap(data: bytes) -> str | None:
    """Return what is wrong with a picture as `wanted …; found …`, or None.

    data: begins as a PNG or a JPEG picture does.
    """
    try:
        if data.startswith(_PNG):
            _check_png(data)
        else:
            _check_jpeg(data)
    except _WrongError as wrong:
        return str(wrong)
    return None


def pixels_of(data: bytes) -> tuple[int, int]:
    """Return the width and the height of a picture [px].

    data: of a picture in which `wrong_bitmap` finds nothing wrong.
    """
    if data.startswith(_PNG):
        return int.from_bytes(data[16:20], "big"), int.from_bytes(data[20:24], "big")
    at = len(_JPEG) - 1
    while True:
        at, marker = _marker(data, at)
        length = int.from_bytes(data[at : at + 2], "big")
        if marker in _FRAMES:
            return int.from_bytes(data[at + 5 : at + 7], "big"), int.from_bytes(data[at + 3 : at + 5], "big")
        at += length


def _wrong(wanted: str, found: str) -> _WrongError:
    return _WrongError(f"wanted {wanted}; found {found}")


def _check_size(width: int, height: int) -> None:
    if not width or not height:
        raise _wrong("a picture with a width and a height", f"{width} × {height} pixels")
    if max(width, height) > LONGEST_SIDE_PX or width * height > MOST_PIXELS:
        limit = f"at most {LONGEST_SIDE_PX} pixels a side and {MOST_PIXELS // 1_000_000} million in all"
        raise _wrong(limit, f"{width} × {height} pixels")


def _check_png(data: bytes) -> None:
    inflater = zlib.decompressobj()
    lines: list[int] = []
    inflated = 0
    names: list[bytes] = []
    at = len(_PNG)
    while names[-1:] != [b"IEND"]:
        if at + 12 > len(data):
            raise _wrong("a whole PNG picture", "one that breaks off")
        length, name = _CHUNK.unpack_from(data, at)
        content = data[at + 8 : at + 8 + length]
        end = at + 8 + length
        if end + 4 > len(data):
            raise _wrong("a whole PNG picture", "one that breaks off")
        shown_name = printable(name.decode("latin-1"))
        if zlib.crc32(content, zlib.crc32(name)) != int.from_bytes(data[end : end + 4], "big"):
            raise _wrong("a whole PNG picture", f"a part that was damaged, {shown_name}")
        if (name == b"IHDR") == bool(names):
            raise _wrong("one header at the beginning of a PNG picture", shown_name)
        if name == b"IHDR":
            lines = _png_lines(content)
        elif name == b"IDAT":
            if b"IDAT" in names and names[-1] != b"IDAT":
                raise _wrong("the pixels of a PNG picture in one piece", "them parted")
            inflated += _inflated(inflater, content, sum(lines) - inflated)
        elif name == b"acTL":
            raise _wrong("a picture that stands still", "one that moves")
        elif name not in _KNOWN_CHUNKS and not name[0] & 0x20:
            raise _wrong("a PNG picture without parts that must not be passed over", shown_name)
        names.append(name)
        at = end + 4
    if inflated != sum(lines) or not inflater.eof:
        raise _wrong(f"the {sum(lines)} bytes of pixels that the header tells", f"{inflated}")
    if _HEADER.unpack_from(data, len(_PNG) + 8)[3] == 3 and b"PLTE" not in names:
        raise _wrong("a palette in a PNG picture that uses one", "none")
    if at != len(data):
        raise _wrong("nothing after the end of a PNG picture", f"{len(data) - at} bytes")


def _png_lines(header: bytes) -> list[int]:
    """Return the bytes that the lines of each pass take, with the byte before each that tells its filter."""
    if len(header) != _HEADER.size:
        raise _wrong(f"a header of {_HEADER.size} bytes in a PNG picture", f"{len(header)}")
    width, height, bits, colour, compression, filtering, interlace = _HEADER.unpack(header)
    _check_size(width, height)
    if bits not in _BITS.get(colour, ()) or compression or filtering or interlace > 1:
        raise _wrong("a PNG picture in a form that the standard has", "another")
    bits_a_pixel = bits * _SAMPLES[colour]
    passes = _PASSES if interlace else ((0, 1, 0, 1),)
    found = []
    for left, across, top, down in passes:
        columns, rows = -(-(width - left) // across), -(-(height - top) // down)
        found.append(rows * (1 + -(-columns * bits_a_pixel // 8)) if columns > 0 and rows > 0 else 0)
    return found


# `zlib._Decompress` has no public name.
def _inflated(inflater: "zlib._Decompress", content: bytes, left: int) -> int:
    """Return how many bytes a piece of compressed pixels yields.

    left: how many may still come.
    """
    count = 0
    try:
        while content:
            count += len(inflater.decompress(content, _INFLATED_AT_ONCE))
            content = inflater.unconsumed_tail
            if count > left or inflater.unused_data:
                raise _wrong("as many pixels as the header of a PNG picture tells", "more")
    except zlib.error:
        raise _wrong("a whole PNG picture", "pixels that were damaged") from None
    return count


def _check_jpeg(data: bytes) -> None:
    """Raise for a JPEG file that is not whole; cameras add smaller pictures of the same after the first."""
    at = 0
    while at < len(data):
        if not data.startswith(_JPEG, at):
            raise _wrong("nothing after the end of a JPEG picture", f"{len(data) - at} bytes")
        at = _end_of_jpeg(data, at)
        at = len(data) if not data[at:].strip(b"\0") else at


def _end_of_jpeg(data: bytes, start: int) -> int:
    """Return where a JPEG picture ends."""
    at = start + 2
    blocks = 0
    scan_bytes = 0
    while True:
        at, marker = _marker(data, at)
        if marker == 0xD9:
            break
        if marker == 0x01 or marker in _RESTARTS:
            continue
        length = int.from_bytes(data[at : at + 2], "big")
        if length < 2 or at + length > len(data):
            raise _wrong("a whole JPEG picture", "one that breaks off")
        segment = data[at + 2 : at + length]
        at += length
        if marker in _FRAMES:
            if blocks or marker not in _FRAMES_SHOWN or len(segment) < 6:
                raise _wrong("a baseline or progressive JPEG picture", "one of another form")
            height, width = int.from_bytes(segment[1:3], "big"), int.from_bytes(segment[3:5], "big")
            _check_size(width, height)
            blocks = _blocks(segment, width, height)
        elif marker == 0xDA:
            if not blocks:
                raise _wrong("the header of a JPEG picture before its pixels", "none")
            end = _end_of_scan(data, at)
            scan_bytes += end - at
            at = end
    # Annexes F and G: the first coefficient of each block has a code of its own, which takes a bit at least.
    if not blocks or scan_bytes * 8 < blocks:
        raise _wrong("as many pixels as the header of a JPEG picture tells", "too few")
    return at


def _blocks(frame: bytes, width: int, height: int) -> int:
    """Return into how many blocks of 8 × 8 samples a frame is divided, over its components (A.1.1, A.2.4)."""
    if len(frame) != 6 + 3 * frame[5] or frame[5] not in (1, 3, 4):
        raise _wrong("a JPEG picture of one, three or four components", "another")
    factors = [(both >> 4, both & 15) for both in frame[7::3]]
    if not all(1 <= across <= 4 and 1 <= down <= 4 for across, down in factors):
        raise _wrong("a JPEG picture with one to four samples a unit", "another")
    most_across, most_down = max(across for across, _ in factors), max(down for _, down in factors)
    return sum(
        -(-width * across // (8 * most_across)) * -(-height * down // (8 * most_down))
        for across, down in factors
    )


def _marker(data: bytes, at: int) -> tuple[int, int]:
    """Return where the content of the next marker begins, and its code."""
    if at < len(data) and data[at] != 0xFF:
        raise _wrong("a whole JPEG picture", "a part that was damaged")
    while at < len(data) and data[at] == 0xFF:
        at += 1
    if at >= len(data):
        raise _wrong("a whole JPEG picture", "one that breaks off")
    return at + 1, data[at]


def _end_of_scan(data: bytes, at: int) -> int:
    """Return where the next marker begins that ends a scan."""
    while (at := data.find(b"\xff", at)) >= 0:
        if at + 1 >= len(data):
            break
        if data[at + 1] != 0 and data[at + 1] != 0xFF and data[at + 1] not in _RESTARTS:
            return at
        at += 1
    raise _wrong("a whole JPEG picture", "one that breaks off")
