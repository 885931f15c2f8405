"""What a line is for. A shop standard turns each role into a layer, colour, line type and width."""

from enum import StrEnum


class Role(StrEnum):
    """The purpose of a shape on a drawing, in the drafting standards' own terms."""

    OUTLINE = "outline"
    THREAD = "thread"
    HIDDEN = "hidden"
    AXIS = "axis"
    HATCHING = "hatching"
    TEXT = "text"
    NARROW = "narrow"  # narrow continuous: diagonals of flats, break lines
