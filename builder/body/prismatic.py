"""Any outline carried straight through space: what prisms add and pockets cut away."""

from builder.body.extruded import Extruded
from builder.body.feature import Parameter, ParameterKind, Values, require_stretch
from builder.body.outlined import loop_of
from builder.body.vectors import Place

PROFILED = (
    Parameter(
        "profile",
        "Outline as a view shows it, to the right and up: `end`, `plan` or `side`, as `along` says.",
        kind=ParameterKind.PROFILE,
    ),
    Parameter("from", "Place where it starts, along the axis, upward or across."),
    Parameter("to", "Place where it ends; greater than `from`."),
    Parameter(
        "along",
        "axis: along it, the outline seen from the end; up: seen in plan; across: away from the viewer of the side.",
        required=False,
        default="axis",
        kind=ParameterKind.CHOICE,
        choices=("axis", "up", "across"),
    ),
)
_ACROSS = (0.0, 0.0, -1.0)  # away from the viewer of the side view: right at the end, up in plan
_PLACES = {
    "axis": Place(x=(1.0, 0.0, 0.0), y=_ACROSS),
    "up": Place(x=(0.0, 1.0, 0.0), y=(1.0, 0.0, 0.0)),
    "across": Place(x=(0.0, 0.0, 1.0), y=(1.0, 0.0, 0.0)),
}


def extruded(values: Values) -> Extruded:
    """Return the outline carried along the axis, upward or across."""
    require_stretch(values)
    along, start, end = values.choices["along"], values["from"], values["to"]
    if along == "across":
        start, end = -end, -start  # its place looks toward the viewer of the side
    return Extruded(loop_of(values.profiles["profile"]), start, end, _PLACES[along])
