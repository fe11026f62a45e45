"""Reading a closed mesh from the bytes of a file: unit asked, surface checked, nothing repaired.

A general mesh library reads the formats; every check and every sum is this package's own.
"""

from __future__ import annotations

import io

import numpy as np

from oakum.ground.solids.bodies import check_bodies
from oakum.ground.solids.dims import FloatArray, IntArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.mesh import Mesh

FILETYPES = ("stl", "ply", "obj", "glb", "off")
METRES = {"m": 1.0, "cm": 0.01, "mm": 0.001, "ft": 0.3048, "in": 0.0254}  # foot and inch by definition
LARGEST_BYTES = 200_000_000
LARGEST_TRIANGLES = 5_000_000
LONGEST_M = 50.0
SHORTEST_M = 0.005
_MERGE = 1e-7  # vertices closer than this share of the longest side are one


def read_mesh(data: bytes, filetype: str, unit: str | None, *, turned: bool = False) -> Mesh:
    """Return the closed mesh in a file, in metres, in the file's own frame.

    A glTF file has its y axis up: place it with `turn_x_deg=90`.

    `filetype` is one of `FILETYPES`; `unit` is what one unit of the file's coordinates means and has no
    default. `turned=True` reverses every triangle of a file that is inside out. Vertices at the same place
    are merged, triangles without area left out. Raises `SolidError` for an open surface, a mixed or inward
    winding, a body inside another counted twice, a size that no find has, coordinates that are no numbers, a
    file that is empty, too large or no mesh. Self-intersection within one body is not looked for.
    """
    kind = filetype.lower().lstrip(".")
    if kind not in FILETYPES:
        raise SolidError(
            f"mesh file: {filetype!r} is not read; save the mesh as one of {', '.join(FILETYPES)}."
        )
    _check_size(data)
    metres = _unit_m(unit, kind)
    vertices, faces = _merged(*_loaded(data, kind))
    vertices = vertices * metres
    _check_extent(vertices, str(unit))
    mesh = Mesh(vertices, faces[:, ::-1] if turned else faces)
    check_bodies(mesh)
    return mesh


def _check_size(data: bytes) -> None:
    if not data:
        raise SolidError("mesh file: the file is empty.")
    if len(data) > LARGEST_BYTES:
        raise SolidError(
            f"mesh file: {len(data) / 1e6:,.0f} MB is more than the {LARGEST_BYTES / 1e6:,.0f} MB taken. "
            "Thin the mesh: 100,000 triangles weigh a find as well as ten million."
        )


def _unit_m(unit: str | None, kind: str) -> float:
    if unit is None:
        hint = ' A glTF file should be in metres: if it is, write unit "m".' if kind == "glb" else ""
        raise SolidError(
            "mesh file: the file does not say what its numbers mean. "
            f"Write the unit of its coordinates, one of {', '.join(METRES)}.{hint}"
        )
    if unit not in METRES:
        raise SolidError(f"mesh file: unit {unit!r} is not known; write one of {', '.join(METRES)}.")
    return METRES[unit]


def _loaded(data: bytes, kind: str) -> tuple[FloatArray, IntArray]:
    """Return vertices (n, 3) in the file's unit and triangles (m, 3), a scene's objects in their places."""
    import trimesh

    try:
        scene = trimesh.load_scene(io.BytesIO(data), file_type=kind, process=False)
        read = scene.to_mesh()
        vertices = np.array(read.vertices, dtype=np.float64).reshape(-1, 3)
        faces = np.array(read.faces, dtype=np.int64).reshape(-1, 3)
    except Exception as error:  # whatever a reader makes of a broken file, the user's answer is the same
        raise SolidError(
            f"mesh file: this is not a readable {kind} file ({type(error).__name__}). "
            "Check its type, or save it again from the program it came from."
        ) from error
    if not len(faces):
        raise SolidError(
            f"mesh file: no triangles found when read as {kind}. "
            "Check the file's type; a point cloud must be made into a surface first."
        )
    if len(faces) > LARGEST_TRIANGLES:
        raise SolidError(
            f"mesh file: {len(faces):,} triangles are more than {LARGEST_TRIANGLES:,}. Thin the mesh."
        )
    if not np.isfinite(vertices).all():
        count = int((~np.isfinite(vertices)).any(axis=1).sum())
        raise SolidError(
            f"mesh file: {count:,} vertices have coordinates that are not numbers. Save the mesh again."
        )
    if faces.min() < 0 or faces.max() >= len(vertices):
        raise SolidError(
            "mesh file: a triangle names a vertex that the file does not hold. Save the mesh again."
        )
    return vertices, faces


def _merged(vertices: FloatArray, faces: IntArray) -> tuple[FloatArray, IntArray]:
    """Return the mesh with vertices at one place made one, triangles without three corners left out."""
    low = vertices.min(axis=0)
    extent = float((vertices.max(axis=0) - low).max())
    if extent == 0:
        raise SolidError("mesh file: all its points lie in one place.")
    grid = np.rint((vertices - low) / (extent * _MERGE)).astype(np.int64)
    # Two columns at a time: whole numbers sort far faster than rows do.
    span = int(grid.max()) + 1
    _, plan = np.unique(grid[:, 0] * span + grid[:, 1], return_inverse=True)
    _, first, name = np.unique(plan * span + grid[:, 2], return_index=True, return_inverse=True)
    joined = name[faces]
    a, b, c = joined.T
    return vertices[first], joined[(a != b) & (b != c) & (c != a)]


def _check_extent(vertices: FloatArray, unit: str) -> None:
    longest = float(np.ptp(vertices, axis=0).max())
    if SHORTEST_M <= longest <= LONGEST_M:
        return
    raw = longest / METRES[unit]
    fitting = [other for other, metres in METRES.items() if SHORTEST_M <= raw * metres <= LONGEST_M]
    if unit == "m" and longest > LONGEST_M and "mm" in fitting:
        advice = 'It looks like millimetres read as metres: if so, write unit "mm".'
    elif unit == "mm" and longest < SHORTEST_M and "m" in fitting:
        advice = 'It looks like metres read as millimetres: if so, write unit "m".'
    elif fitting:
        advice = f"No find is that size; with one of these units it would be plausible: {', '.join(fitting)}."
    else:
        advice = "No find is that size, whatever the unit: check the file's scale."
    raise SolidError(f"mesh file: with unit {unit} its longest side would be {longest:,.4g} m. {advice}")
