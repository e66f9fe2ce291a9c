"""What follows: statements, theorems, the exact decision, proof search and the one judge.

Leans on `app.figure` and fractions only. No clock, files, network or chance in here.
"""
