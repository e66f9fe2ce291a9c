"""Lines, meets, rays and angles; pair names; the drawing's layout; the figure in words.

A figure holds what is drawn. Directions are exact fractions of a degree, so "parallel as drawn" is equality.
Places are floats: they decide nothing but order along a line, and where ink goes.
"""
