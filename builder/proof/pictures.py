"""Pictures: whether they can be decoded, are as large as they should be, and show something wholly inside."""

import io
from collections.abc import Iterator, Sequence

THUMBNAIL = 256  # pixels each way
_LARGEST = 64_000_000  # pixels: what claims more is not decoded
_OFF = 10  # pixels: the widths of lines
_INK, _EDGE = 200, 2  # darker than that of 255 is ink; pixels along the edge that stay free of it
_DARK = [255 if value < _INK else 0 for value in range(256)]


def picture_faults(
    content: bytes, size: int | None = None, shapes: Sequence[tuple[float, float]] = ()
) -> Iterator[str]:
    """Yield what is wrong with a PNG: `size` in pixels each way; what it shows lies between some shapes."""
    from PIL import Image  # noqa: PLC0415 - loaded by those who look at pictures

    try:
        with Image.open(io.BytesIO(content), formats=("PNG",)) as image:
            if image.width * image.height > _LARGEST:
                yield f"{image.width} x {image.height} pixels; expected a smaller picture"
                return
            if size is not None and image.size != (size, size):
                yield f"{image.width} x {image.height} pixels; expected {size} x {size}"
            palette = image.getpalette() if image.mode == "P" else None
            # a palette is looked through by itself: much faster than turning the pixels grey
            grey = image if palette or image.mode == "L" else image.convert("L")
            ink = grey.point(_dark(palette) if palette else _DARK)
    except (OSError, ValueError, SyntaxError, Image.DecompressionBombError) as error:
        yield f"cannot be decoded: {' '.join(str(error).split())[:100]}; expected a PNG picture"
        return
    box = ink.getbbox()
    if box is None:
        yield "is blank; expected lines on it"
        return
    left, top, right, bottom = box
    if min(left, top) < _EDGE or right > ink.width - _EDGE or bottom > ink.height - _EDGE:
        yield "runs into the edge; expected a margin all round"
    elif size is not None and shapes:
        yield from _shape_faults((right - left, bottom - top), size, shapes)


def _dark(palette: Sequence[int]) -> list[int]:
    """Return for every colour of a palette whether it is ink: as dark as its mean."""
    means = [sum(palette[n : n + 3]) / 3.0 for n in range(0, len(palette) - 2, 3)]
    return [255 if mean < _INK else 0 for mean in means] + [0] * (256 - len(means))


def _shape_faults(shown: tuple[int, int], size: int, shapes: Sequence[tuple[float, float]]) -> Iterator[str]:
    """Yield where what is shown is small, or its proportions lie outside of those that it may have."""
    if max(shown) < size / 2.0:
        yield f"shows something {shown[0]} x {shown[1]} pixels large; expected it to fill the picture"
        return
    for name, pixels, lengths in zip(("wide", "high"), shown, zip(*shapes, strict=True), strict=True):
        wanted = [n * max(shown) / max(*shape, 1e-9) for n, shape in zip(lengths, shapes, strict=True)]
        if not min(wanted) - _OFF <= pixels <= max(wanted) + _OFF:
            yield f"shows something {pixels} pixels {name}; expected {min(wanted):.0f} to {max(wanted):.0f}"
