"""A road of the proof, recorded: each line with the picture that it needs."""

from __future__ import annotations

from typing import Any

from mensura.views.kit.recording import Recording, record_panel
from mensura.views.proof.panel import new_picture, picture_key, proof_panel


def record_road(road_name: str = "classroom", **told: Any) -> Recording:
    """A road as a recording.

    road_name: one of ROADS; told: state, positions and the rest as record_panel takes them.
    """
    return record_panel(
        proof_panel(road_name),
        picture_of=lambda shown: (picture_key(shown), lambda: new_picture(shown)),
        **told,
    )
