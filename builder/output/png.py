"""Greys become a PNG. Knows the file format and nothing of pictures.

PNG Specification (third edition, W3C): signature 5.2, chunks 11.2, filter "Up" 9.2.
"""

import struct
import zlib

import numpy as np
from numpy.typing import NDArray

_SIGNATURE = b"\x89PNG\r\n\x1a\n"
_BITS, _GREYSCALE = 4, 0
_UP = 2
_BAND = 65536  # pixels packed at a time: what fits a processor's cache takes a fraction of the time


def png(greys: NDArray[np.uint8]) -> bytes:
    """Return rows of greys, 0 black to 15 white, as a PNG; no dates, so the same greys give the same bytes."""
    height, width = greys.shape
    band = max(1, _BAND // width)
    packed = np.concatenate([_packed(greys[top : top + band]) for top in range(0, height, band)])
    header = struct.pack(">IIBBBBB", width, height, _BITS, _GREYSCALE, 0, 0, 0)
    chunks = _chunk(b"IHDR", header), _chunk(b"IDAT", _deflated(_filtered(packed))), _chunk(b"IEND", b"")
    return _SIGNATURE + b"".join(chunks)


def _chunk(kind: bytes, data: bytes) -> bytes:
    return struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))


def _packed(greys: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return two greys to a byte, the left one in the upper half."""
    even = np.pad(greys, ((0, 0), (0, 1))) if greys.shape[1] % 2 else greys
    pairs = even.view("<u2")  # the left one is the lower byte
    return (pairs << 4 | pairs >> 8).astype(np.uint8)


def _filtered(rows: NDArray[np.uint8]) -> NDArray[np.uint8]:
    """Return each row less the one above, behind the filter's number: most of a drawing goes on downwards."""
    filtered = np.empty((len(rows), rows.shape[1] + 1), np.uint8)
    filtered[:, 0] = _UP
    filtered[0, 1:] = rows[0]
    np.subtract(rows[1:], rows[:-1], out=filtered[1:, 1:])
    return filtered


def _deflated(rows: NDArray[np.uint8]) -> bytes:
    """Compress runs alone: quick, and unlike its search for repeats all zlibs do that alike, to the byte."""
    packer = zlib.compressobj(1, zlib.DEFLATED, zlib.MAX_WBITS, 9, zlib.Z_RLE)
    return packer.compress(rows.data) + packer.flush()
