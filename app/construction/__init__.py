"""Compass and straightedge: moves on named objects, their replay, and what of it was constructed."""
