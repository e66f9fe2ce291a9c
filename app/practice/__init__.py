"""Exercises without end: families of items, answers read and judged, mistakes known by name."""
