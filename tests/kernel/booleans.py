"""The kernel's booleans: union, difference, common; flush faces made one; volume."""

from collections.abc import Sequence

from OCP.BRepAlgoAPI import BRepAlgoAPI_BooleanOperation, BRepAlgoAPI_Common, BRepAlgoAPI_Cut, BRepAlgoAPI_Fuse
from OCP.BRepGProp import BRepGProp
from OCP.collections import List_TopoDS_Shape
from OCP.GProp import GProp_GProps
from OCP.ShapeUpgrade import ShapeUpgrade_UnifySameDomain
from OCP.TopoDS import TopoDS_Shape


def fused(shapes: Sequence[TopoDS_Shape]) -> TopoDS_Shape:
    """Return the union."""
    return shapes[0] if len(shapes) == 1 else _operate(BRepAlgoAPI_Fuse(), shapes[:1], shapes[1:])


def cut_from(shape: TopoDS_Shape, cuts: Sequence[TopoDS_Shape]) -> TopoDS_Shape:
    """Return a shape less others."""
    return _operate(BRepAlgoAPI_Cut(), [shape], cuts) if cuts else shape


def common(shape: TopoDS_Shape, others: Sequence[TopoDS_Shape]) -> TopoDS_Shape:
    """Return what a shape has in common with others."""
    return _operate(BRepAlgoAPI_Common(), [shape], others)


def unified(shape: TopoDS_Shape) -> TopoDS_Shape:
    """Return a shape with flush faces and edges made one, so that nothing is drawn where they meet."""
    unify = ShapeUpgrade_UnifySameDomain(shape, True, True, False)
    unify.Build()
    return unify.Shape()


def volume(shape: TopoDS_Shape) -> float:
    """Return the volume."""
    properties = GProp_GProps()
    BRepGProp.VolumeProperties_s(shape, properties, 1e-6)
    return properties.Mass()


def _operate(
    operation: BRepAlgoAPI_BooleanOperation, objects: Sequence[TopoDS_Shape], tools: Sequence[TopoDS_Shape]
) -> TopoDS_Shape:
    operation.SetArguments(_listed(objects))
    operation.SetTools(_listed(tools))
    operation.Build()
    assert operation.IsDone()
    return operation.Shape()


def _listed(shapes: Sequence[TopoDS_Shape]) -> List_TopoDS_Shape:
    listed = List_TopoDS_Shape()
    for shape in shapes:
        listed.Append(shape)
    return listed
