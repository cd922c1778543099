# SPDX-License-Identifier: Apache-2.0
"""Pictures of drawings, made by a renderer that has nothing from this program (CairoSVG), and pictures compared by the
means of their blocks, so that a rounding of an edge is no difference and a line in another place is one."""
import io
import struct
import xml.etree.ElementTree as xml
import zlib
from collections import namedtuple

import cairocffi
import cairosvg

SVG = "http://www.w3.org/2000/svg"
LEVELS = 16  # of grey in a picture that is kept

# rows: bytes, n channels a pixel
Picture = namedtuple("Picture", "width height n rows")


def colours(png):
    """A picture in colour: four channels, blue first; the fourth says nothing, since drawings have a ground."""
    surface = cairocffi.ImageSurface.create_from_png(io.BytesIO(png))
    width, height, stride = surface.get_width(), surface.get_height(), surface.get_stride()
    data = bytes(surface.get_data())
    return Picture(width, height, 4, [data[y * stride:y * stride + 4 * width] for y in range(height)])


def grey(picture):
    """The same in LEVELS steps of grey, one channel; weights of ITU-R BT.601, as printers' drivers have it (common practice)."""
    step = 255 / (LEVELS - 1)
    table = [round(step * round(value / step)) for value in range(256)]
    return Picture(picture.width, picture.height, 1, [
        bytes(table[(114 * b + 587 * g + 299 * r + 500) // 1000] for b, g, r in zip(row[::4], row[1::4], row[2::4]))
        for row in picture.rows])


def without_text(svg):
    """The drawing's shapes alone: CairoSVG knows no paint-order (SVG 2) and paints the halo of a text over it."""
    root = xml.fromstring(svg)
    for parent in list(root.iter()):
        for text in parent.findall(f"{{{SVG}}}text"):
            parent.remove(text)
    xml.register_namespace("", SVG)
    return xml.tostring(root)


def shapes(svg, scale):
    """The picture of a drawing's shapes, so many pixels a unit."""
    return colours(cairosvg.svg2png(bytestring=without_text(svg), scale=scale))


def sketch(svg):
    """The shapes in grey, a pixel a unit: the picture that is kept."""
    return grey(shapes(svg, 1))


def blanked(picture, boxes):
    """The picture with nothing in these boxes (left, top, right, bottom; pixels)."""
    rows, n = [bytearray(row) for row in picture.rows], picture.n
    for left, top, right, bottom in boxes:
        left, top = max(0, int(left)), max(0, int(top))
        right, bottom = min(picture.width, int(right) + 1), min(picture.height, int(bottom) + 1)
        for row in rows[top:bottom]:
            row[n * left:n * right] = bytes(n * max(0, right - left))
    return picture._replace(rows=[bytes(row) for row in rows])


def differing(one, other, size, step, near):
    """[(x, y, by how much)] of the blocks whose mean differs by more than `near` of 255 in a channel: squares of `size`
    pixels, one each `step`, as long as they lie in both pictures."""
    n, found = one.n, []
    for y in range(0, min(one.height, other.height) - size + 1, step):
        bands = [(a, b) for a, b in zip(one.rows[y:y + size], other.rows[y:y + size]) if a != b]
        for x in range(0, min(one.width, other.width) - size + 1 if bands else 0, step):
            left, right = n * x, n * (x + size)
            by = max(abs(sum(sum(a[left + c:right:n]) - sum(b[left + c:right:n]) for a, b in bands)) for c in range(n))
            if by > near * size ** 2:
                found.append((x, y, by / size ** 2))
    return found


def extended(picture, height):
    """The picture with white below it down to a height."""
    more = [b"\xff" * (picture.n * picture.width)] * max(0, height - picture.height)
    return picture._replace(height=max(height, picture.height), rows=picture.rows + more)


def _chunk(kind, data):
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def png_of(picture):
    """A grey picture of LEVELS steps as PNG of four bits a pixel (ISO/IEC 15948)."""
    lines = b""
    for row in picture.rows:
        levels = [value * (LEVELS - 1) // 255 for value in row + bytes(len(row) % 2)]
        lines += b"\0" + bytes(16 * a + b for a, b in zip(levels[::2], levels[1::2]))
    head = struct.pack(">IIBBBBB", picture.width, picture.height, 4, 0, 0, 0, 0)
    return b"\x89PNG\r\n\x1a\n" + _chunk(b"IHDR", head) + _chunk(b"IDAT", zlib.compress(lines, 9)) + _chunk(b"IEND", b"")
