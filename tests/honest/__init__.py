"""What the program says follows, held against solvers that we did not write: `python -m tests.honest`.

Written from the contract alone, without a look at the part that decides. Nothing here imports it: questions go in as
JSON bodies, answers come out as JSON, and every figure, statement and verdict is read by the small readers of this folder.
"""
