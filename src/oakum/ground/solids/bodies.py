"""Several closed bodies in one mesh: which triangles hang together, and is no volume counted wrongly?"""

from __future__ import annotations

import numpy as np
from scipy.sparse import coo_array
from scipy.sparse.csgraph import connected_components

from oakum.ground.solids.dims import IntArray
from oakum.ground.solids.errors import SolidError
from oakum.ground.solids.inside import windings
from oakum.ground.solids.mesh import Mesh

MOST_BODIES = 200


def body_numbers(mesh: Mesh) -> IntArray:
    """Return for every triangle the number of the connected body it belongs to (m,), from 0."""
    a, b = mesh.faces.ravel(), np.roll(mesh.faces, -1, axis=1).ravel()
    count = len(mesh.vertices)
    graph = coo_array((np.ones(len(a), dtype=np.int8), (a, b)), shape=(count, count))
    _, label = connected_components(graph, directed=False)
    return np.asarray(np.unique(label[mesh.faces[:, 0]], return_inverse=True)[1], dtype=np.int64)


def check_bodies(mesh: Mesh) -> None:
    """Refuse bodies turned inside out, and bodies within another that would count twice.

    A body turned inward is right only as an enclosed hollow. Judged at one corner of each body; the bodies'
    surfaces are taken not to cross.
    """
    number = body_numbers(mesh)
    count = int(number.max()) + 1
    if count == 1:
        return
    if count > MOST_BODIES:
        raise SolidError(
            f"the mesh is {count:,} separate pieces: more than {MOST_BODIES}, which looks like "
            "scanning noise. Keep the large pieces only."
        )
    corners = [mesh.vertices[mesh.faces[number == body]] for body in range(count)]
    boxes = [(c.min(axis=(0, 1)), c.max(axis=(0, 1))) for c in corners]
    for body, own in enumerate(corners):
        point = own[0, 0]
        near = [
            k
            for k, (low, high) in enumerate(boxes)
            if k != body and (low < point).all() and (point < high).all()
        ]
        around = sum(int(windings(corners[k], point[None])[0]) for k in near)
        centred = own - point
        volume = np.einsum("ij,ij->", centred[:, 0], np.cross(centred[:, 1], centred[:, 2])) / 6
        x, y, z = point
        where = f"piece {body + 1} of {count} (at x {x:.3g}, y {y:.3g}, z {z:.3g} m)"
        if volume < 0 and around < 1:
            raise SolidError(
                f"{where} is turned inside out and would be taken away instead of added. "
                "Turn that piece in the program it came from."
            )
        if volume > 0 and around > 0:
            raise SolidError(f"{where} lies inside another and would be counted twice. Join or remove it.")
