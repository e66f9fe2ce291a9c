"""A swing of the compass with the processor slowed six times: script, style and layout a move, p95 against 10 ms.

    python -m tests.bench.bench_compass
"""

from __future__ import annotations

import sys

import pytest

if __name__ == "__main__":
    raise SystemExit(pytest.main(["-q", "-s", "-m", "bench", "tests/browser/construct/test_paper.py", *sys.argv[1:]]))
