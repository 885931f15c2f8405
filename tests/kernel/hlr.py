"""The kernel's exact views: solids along a direction of sight become strokes, seen and hidden."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

import numpy as np
from OCP.BRepAdaptor import BRepAdaptor_Curve
from OCP.BRepAlgoAPI import BRepAlgoAPI_Cut
from OCP.BRepLib import BRepLib
from OCP.BRepPrimAPI import BRepPrimAPI_MakeBox
from OCP.GeomAbs import GeomAbs_CurveType
from OCP.gp import gp_Ax2, gp_Dir, gp_Pnt
from OCP.HLRAlgo import HLRAlgo_Projector
from OCP.HLRBRep import HLRBRep_Algo, HLRBRep_HLRToShape, HLRBRep_TypeOfResultingEdge
from OCP.TopAbs import TopAbs_ShapeEnum
from OCP.TopExp import TopExp_Explorer
from OCP.TopoDS import TopoDS, TopoDS_Shape

from kernel.shapes import Vector
from kernel.strokes import Array, Nature, Stroke, thinned

_PER_CURVE = 160  # chords of a curve: of a full circle they stay within 2e-4 of its radius

# Seams of a face with itself are among the lines of higher order, which are left out.
_KINDS = (
    (HLRBRep_TypeOfResultingEdge.HLRBRep_Sharp, Nature.SHARP),
    (HLRBRep_TypeOfResultingEdge.HLRBRep_OutLine, Nature.OUTLINE),
    (HLRBRep_TypeOfResultingEdge.HLRBRep_Rg1Line, Nature.SMOOTH),
)


@dataclass(frozen=True, slots=True)
class Sight:
    """A direction of sight: unit vectors right, up and toward the viewer."""

    right: Vector
    up: Vector
    toward: Vector


def cut_away(solid: TopoDS_Shape, sight: Sight, reach: float, half: bool = False) -> TopoDS_Shape:
    """Return what a full section leaves of a solid within `reach`: the far half; of a half section three quarters."""
    low = 0.0 if half else -reach
    start = gp_Pnt(*(-reach * r + low * u for r, u in zip(sight.right, sight.up, strict=True)))
    corner = gp_Ax2(start, gp_Dir(*sight.toward), gp_Dir(*sight.right))
    block = BRepPrimAPI_MakeBox(corner, 2.0 * reach, reach - low, reach).Shape()
    return BRepAlgoAPI_Cut(solid, block).Shape()


def strokes_of(solids: Sequence[TopoDS_Shape], sight: Sight, hidden: bool = True) -> list[Stroke]:
    """Return what is seen, and what is hidden if wanted, of all solids in one scene."""
    algorithm = HLRBRep_Algo()
    for solid in solids:
        BRepLib.EncodeRegularity_s(solid, 1e-4)
        algorithm.Add(solid)
    algorithm.Projector(HLRAlgo_Projector(gp_Ax2(gp_Pnt(), gp_Dir(*sight.toward), gp_Dir(*sight.right))))
    algorithm.Update()
    algorithm.Hide()
    found = HLRBRep_HLRToShape(algorithm)
    return [
        stroke
        for visible in ((True, False) if hidden else (True,))
        for kind, nature in _KINDS
        for stroke in _strokes(found.CompoundOfEdges(kind, visible, True), sight, visible, nature)
    ]


def _strokes(compound: TopoDS_Shape | None, sight: Sight, visible: bool, nature: Nature) -> Iterator[Stroke]:
    """Return the stretches of curves in space, projected: flat, the kernel gives polygons of 15 points for most."""
    if compound is None or compound.IsNull():
        return
    BRepLib.BuildCurves3d_s(compound)
    axes = np.array((sight.right, sight.up)).T
    explorer = TopExp_Explorer(compound, TopAbs_ShapeEnum.TopAbs_EDGE)
    while explorer.More():
        points = _points(BRepAdaptor_Curve(TopoDS.Edge(explorer.Current()))) @ axes
        if not _is_point(points):
            yield Stroke(thinned(points), visible, nature)
        explorer.Next()


def _points(curve: BRepAdaptor_Curve) -> Array:
    straight = curve.GetType() == GeomAbs_CurveType.GeomAbs_Line
    places = np.linspace(curve.FirstParameter(), curve.LastParameter(), 2 if straight else _PER_CURVE + 1)
    return np.array([(p.X(), p.Y(), p.Z()) for p in map(curve.Value, places.tolist())])


def _is_point(points: Array) -> bool:
    """Tell a line seen along itself."""
    return bool(np.ptp(points, axis=0).max() < 1e-9)
