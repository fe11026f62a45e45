"""The rig in space as plain data for a page: places in metres to a tenth of a millimetre, and words."""

from __future__ import annotations

import hashlib
from typing import Any

import numpy as np

from oakum.draw.rig_pose import Array, Point3
from oakum.draw.scale import length_words
from oakum.draw.scene import Piece, RigScene, SpaceState


def pieces_mark(pieces: tuple[Piece, ...]) -> str:
    """Return a mark of the pieces, so that a page that has them need not be sent them again."""
    digest = hashlib.sha256()
    for piece in pieces:
        digest.update(f"{piece.name}|{piece.role}|{piece.tone}|".encode())
        digest.update(piece.vertices.tobytes())
        digest.update(np.ascontiguousarray(piece.faces).tobytes())
    return digest.hexdigest()[:16]


def scene_dict(scene: RigScene, *, have: str = "") -> dict[str, Any]:
    """Return the scene for JSON; pieces are None where `have` is their mark already."""
    mark = pieces_mark(scene.pieces)
    return {
        "title": scene.title,
        "unit": "m",
        "bar_m": scene.bar_m,
        "bar": length_words(scene.bar_m),
        "wave_m": scene.wave_m,
        "wave": "" if scene.wave_m is None else f"Hs {length_words(scene.wave_m)}, crest to trough",
        "coarse": list(scene.coarse),
        "mark": mark,
        "pieces": None if have == mark else [_piece(piece) for piece in scene.pieces],
        "states": [_state(state) for state in scene.states],
        "levels": [
            {
                "name": level.name,
                "state": level.state,
                "height_m": _m(level.height_m),
                "surface_m": _m(level.surface_m),
                "words": level.words,
            }
            for level in scene.levels
        ],
    }


def _piece(piece: Piece) -> dict[str, Any]:
    return {
        "name": piece.name,
        "label": _label(piece),
        "role": piece.role,
        "tone": piece.tone,
        "vertices": _flat(piece.vertices),
        "faces": [int(i) for i in piece.faces.reshape(-1)],
    }


def _label(piece: Piece) -> str:
    """Return what is written beside a piece: a coat has no name of its own, members of a frame have one together."""
    if piece.role == "concretion" and piece.name.endswith(", concretion"):
        return ""
    return "frame" if piece.name.startswith("frame: ") else piece.name


def _state(state: SpaceState) -> dict[str, Any]:
    return {
        "state": state.state,
        "words": state.words,
        "turn": [round(v, 9) for row in state.turn for v in row],
        "hook_m": _at(state.hook_m),
        "legs": [
            {"name": leg.name, "label": leg.label, "top_m": _at(leg.top_m), "at_m": _at(leg.at_m)}
            for leg in state.legs
        ],
        "beam_m": None if state.beam_m is None else [_at(end) for end in state.beam_m],
        "bags": [
            {
                "name": bag.name,
                "mouth_m": _at(bag.mouth_m),
                "foot_m": None if bag.foot_m is None else _at(bag.foot_m),
                "diameter_m": _m(bag.diameter_m),
            }
            for bag in state.bags
        ],
        "points": [
            {
                "tag": point.tag,
                "name": point.name,
                "at_m": _at(point.at_m),
                "middle_m": _at(point.middle_m),
                "half_m": _at(point.half_m),
            }
            for point in state.points
        ],
        "low_m": _at(state.low_m),
        "high_m": _at(state.high_m),
    }


def _m(value: float) -> float:
    return round(float(value), 4) + 0.0


def _at(point: Point3) -> list[float]:
    return [_m(v) for v in point]


def _flat(points: Array) -> list[float]:
    return [_m(v) for v in points.reshape(-1)]
