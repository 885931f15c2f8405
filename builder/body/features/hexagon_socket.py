"""A hexagon socket, sunk into a head or into the end of a screw."""

from builder.body.drives import SOCKET, socket
from builder.body.feature import Lowered, Parameter, Values, require_positive
from builder.body.polygons import regular
from builder.body.statement import Statement
from builder.body.statement import regular as stated_faces
from builder.body.statement import socket as stated_socket

KIND = "hexagon_socket"
DOC = "A hexagon socket, from the face that it opens in to its floor."
THREADED = False
PARAMETERS = (Parameter("across_flats", "Width across flats."), *SOCKET)


def lower(values: Values) -> Lowered:
    """Lower to the socket's prism, the drilled floor in the circle that it holds, and the mouth."""
    require_positive(values, "across_flats")
    return socket(values, regular(6, values["across_flats"]), values["across_flats"] / 2.0)


def stated(values: Values) -> tuple[Statement, ...]:
    """State the faces."""
    return stated_faces(values, 6, values["from"], values["to"], void=True), *stated_socket(
        values, values["across_flats"]
    )
