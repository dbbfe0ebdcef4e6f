"""The proof as data: for a section that is not circular the girth tape overestimates the area.

Loads sympy only when a relation is asked for.
"""

from mensura.teaching.proof.roads import ROADS, road
from mensura.teaching.proof.steps import ENOUGH, THEREFORE, Checked, ProofError, Road, Step

__all__ = ["ENOUGH", "ROADS", "THEREFORE", "Checked", "ProofError", "Road", "Step", "road"]
