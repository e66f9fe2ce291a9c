"""Ports for servers that tests start."""

from __future__ import annotations

import os
import socket
from itertools import count

# Below those that the system gives to connections that go out: such a one could take a port between this look and the start.
FIRST, PORTS = 12_000, 20_000
_asked = count()


def free_port() -> int:
    """A port of this machine that nobody listens on; every process begins to look somewhere else."""
    while True:
        port = FIRST + (os.getpid() * 61 + next(_asked)) % PORTS
        with socket.socket() as probe:
            probe.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)  # as the servers do
            try:
                probe.bind(("127.0.0.1", port))
            except OSError:
                continue
        return port
