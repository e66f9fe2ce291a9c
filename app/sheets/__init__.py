"""Anything printed: exercise sheets, exit tickets, proof sheets, their keys, construction strips."""
