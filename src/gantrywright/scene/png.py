"""Pixels as a PNG file (ISO/IEC 15948), without an imaging library."""

import struct
import zlib

import numpy as np
from numpy.typing import NDArray

SIGNATURE = b"\x89PNG\r\n\x1a\n"
LEVEL = 6
"""Of compression."""
TRUE_COLOUR = 2
SUB = 1
"""Filter that was found best for flat tints: each byte as its difference from the pixel before."""


def png(colours: NDArray[np.uint8]) -> bytes:
    """A picture as the bytes of a PNG file.

    Args:
        colours: Red, green, blue; shape (height, width, 3).
    """
    high, wide = colours.shape[:2]
    before = np.zeros_like(colours)
    before[:, 1:] = colours[:, :-1]
    lines = np.empty((high, 1 + 3 * wide), dtype=np.uint8)
    lines[:, 0] = SUB
    lines[:, 1:] = (colours - before).reshape(high, 3 * wide)
    head = struct.pack(">IIBBBBB", wide, high, 8, TRUE_COLOUR, 0, 0, 0)
    return SIGNATURE + _chunk(b"IHDR", head) + _chunk(b"IDAT", zlib.compress(lines.tobytes(), LEVEL)) + _chunk(b"IEND", b"")


def _chunk(name: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + name + data + struct.pack(">I", zlib.crc32(name + data))
