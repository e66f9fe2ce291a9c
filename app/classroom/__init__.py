"""Periods, seats, replies and standing: the rules of a class meeting, pure (no clock, network, files or
chance).
"""
