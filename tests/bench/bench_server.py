"""Checks a second beside a bare Flask echo, and how long a check takes with 400 live pages open.

    python -m tests.bench.bench_server [--seconds 4] [--streams 400]

Both run on the same server program with the same settings, one after the other in turns, on a machine that
does nothing else. The load comes from other processes: `connections` keep-alive connections, each with one
request under way. "fresh" checks differ from each other in every figure, so that no answer was ever given
before; "class" checks are what a class sends: 35 students on a handful of figures; "new numbers" are
proofs on one figure, each with numbers of its own. Targets of the brief:
class and fresh ≥ 0.5 of the echo's rate; a check in at most 50 ms (99 of 100) with 400 live pages.
"""

from __future__ import annotations

import argparse
import json
import multiprocessing
import os
import random
import signal
import socket
import subprocess
import sys
import tempfile
import threading
import time
from pathlib import Path
from typing import Any

from tests.web.running import Http, Running, events, free_port

ROOT = Path(__file__).resolve().parents[2]


def figure(direction: int, tilt: int, turn: int) -> dict[str, Any]:
    return {
        "lines": {
            "l": {"direction": direction, "through": [0, 3]},
            "m": {"direction": (direction + tilt) % 180, "through": [0, -3]},
            "t": {"direction": (direction + turn) % 180, "through": [0, 0]},
        },
        "number": "standard",
        "transversal": "t",
    }


def pairs_body(chance: random.Random, *, fresh: bool) -> bytes:
    turn = chance.randrange(40, 140)
    drawn = figure(chance.randrange(180), chance.choice([0, 1, 2]), turn) if fresh else figure(10, 0, 60)
    if fresh:
        drawn["lines"]["l"]["through"] = [chance.randrange(-50, 50) / 100, 3 + chance.randrange(100) / 1000]
    return json.dumps({"figure": drawn, "angles": [str(k) for k in chance.sample(range(1, 9), 2)]}).encode()


def proof_body(chance: random.Random, *, fresh: bool) -> bytes:
    drawn = json.loads(pairs_body(chance, fresh=fresh))["figure"]
    a, b, c = chance.choice([("1", "4", "5"), ("4", "1", "8"), ("2", "3", "6"), ("3", "2", "7")])
    rows = [
        {"statement": f"∠{a} ≅ ∠{c}", "reason": "given"},
        {"statement": f"∠{a} ≅ ∠{b}", "reason": "vertical-angles"},
        {"statement": f"∠{b} ≅ ∠{c}", "reason": "transitive", "from": [1, 2]},
        {"statement": "l ∥ m", "reason": "corresponding-angles-converse", "from": [1]},
    ]
    return json.dumps({"figure": drawn, "given": [f"∠{a} ≅ ∠{c}"], "goal": "l ∥ m", "rows": rows}).encode()


def measured_proof_body(chance: random.Random) -> bytes:
    """A proof on the class's one figure, with numbers that no other proof has: the answer is new, the
    figure isn't.
    """
    k = chance.randrange(1000, 179000)
    text = f"{k // 1000}.{k % 1000:03}"
    rows = [
        {"statement": f"m∠1 = {text}", "reason": "given"},
        {"statement": f"m∠5 = {text}", "reason": "given"},
        {"statement": "∠1 ≅ ∠5", "reason": "definition-of-congruent", "from": [1, 2]},
        {"statement": "l ∥ m", "reason": "corresponding-angles-converse", "from": [3]},
    ]
    given = [f"m∠1 = {text}", f"m∠5 = {text}"]
    return json.dumps({"figure": figure(10, 0, 60), "given": given, "goal": "l ∥ m", "rows": rows}).encode()


def request_bytes(path: str, body: bytes) -> bytes:
    head = (
        f"POST {path} HTTP/1.1\r\nHost: bench\r\nContent-Type: application/json\r\nContent-Length: {len(body)}\r\n\r\n"
    )
    return head.encode() + body


def one_connection(
    port: int, requests: list[bytes], until: float, times: list[float], bad: list[bytes], pause: float
) -> None:
    """Ask one after the other over one connection, and note how long each took."""
    with socket.create_connection(("127.0.0.1", port)) as line:
        line.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)
        n = 0
        while time.perf_counter() < until:
            began = time.perf_counter()
            line.sendall(requests[n % len(requests)])
            n += 1
            data = b""
            while b"\r\n\r\n" not in data:
                data += line.recv(65536)
            head, _, body = data.partition(b"\r\n\r\n")
            length = int(head.lower().split(b"content-length:")[1].split(b"\r\n")[0])
            while len(body) < length:
                body += line.recv(65536)
            times.append(time.perf_counter() - began)
            if not head.startswith(b"HTTP/1.1 200"):
                bad.append(head[:40] + body[:200])
            if pause:
                time.sleep(pause * random.uniform(0.5, 1.5))


def load(port: int, requests: list[bytes], seconds: float, connections: int, pause: float, out: Any) -> None:
    times: list[float] = []
    bad: list[bytes] = []
    until = time.perf_counter() + seconds
    threads = [
        threading.Thread(
            target=one_connection, args=(port, requests[k::connections] or requests, until, times, bad, pause)
        )
        for k in range(connections)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    out.put((times, bad[:3]))


def measure(port: int, requests: list[bytes], seconds: float, connections: int, pause: float = 0) -> dict[str, float]:
    """Rate and times of one kind of request, sent from another process."""
    out: Any = multiprocessing.Queue()
    worker = multiprocessing.Process(target=load, args=(port, requests, seconds, connections, pause, out))
    worker.start()
    times, bad = out.get(timeout=seconds + 60)
    worker.join()
    assert not bad, bad
    times.sort()
    return {
        "per_second": round(len(times) / seconds, 1),
        "p50_ms": round(1000 * times[len(times) // 2], 2),
        "p99_ms": round(1000 * times[int(len(times) * 0.99)], 2),
    }


class Echo:
    """The bare echo on the same server program."""

    def __init__(self) -> None:
        self.port = free_port()
        code = (
            "from granian import Granian; from granian.constants import Interfaces\n"
            f"Granian('tests.bench.echo_app:build', factory=True, address='127.0.0.1', port={self.port}, "
            "interface=Interfaces.WSGI, workers=1, blocking_threads=480, backpressure=1920, backlog=1024, "
            "websockets=False, workers_kill_timeout=3, log_enabled=False).serve()\n"
        )
        self.process = subprocess.Popen([sys.executable, "-c", code], cwd=ROOT, start_new_session=True)
        for _ in range(200):
            try:
                socket.create_connection(("127.0.0.1", self.port)).close()
                return
            except OSError:
                time.sleep(0.05)
        raise AssertionError("no echo")

    def stop(self) -> None:
        os.killpg(self.process.pid, 9)
        self.process.wait()


def open_streams(running: Running, count: int) -> list[Http]:
    """`count` live pages in classes of forty; each has had its first message."""
    teacher = running.teacher()
    kept: list[Http] = []
    code = ""
    for k in range(count):
        if k % 40 == 0:
            _, code = running.period(teacher)
        student = running.seat(code, k % 40 + 1)
        assert next(events(student, "/seat/live"))[0] == "state"
        kept.append(student)
    return kept


def bench(seconds: float, streams: int, connections: int = 32) -> dict[str, Any]:
    """Every figure as one table of numbers."""
    chance = random.Random(5)
    kinds = {
        "pairs, fresh": ("/api/figure/pairs", [pairs_body(chance, fresh=True) for _ in range(20_000)]),
        "pairs, class": ("/api/figure/pairs", [pairs_body(chance, fresh=False) for _ in range(400)]),
        "proof, fresh": ("/api/reasoning/check", [proof_body(chance, fresh=True) for _ in range(20_000)]),
        "proof, new numbers": ("/api/reasoning/check", [measured_proof_body(chance) for _ in range(20_000)]),
        "proof, class": ("/api/reasoning/check", [proof_body(chance, fresh=False) for _ in range(400)]),
    }
    found: dict[str, Any] = {}
    with tempfile.TemporaryDirectory() as folder:
        echo, running = Echo(), Running(Path(folder))
        try:
            for name, (path, bodies) in kinds.items():
                asked = [request_bytes(path, body) for body in bodies]
                echoed = [request_bytes("/echo", body) for body in bodies]
                measure(running.port, asked[:64], 0.5, 4)
                # In turns, so that a slow moment of the machine meets both.
                plain = [measure(echo.port, echoed, seconds / 2, connections) for _ in range(2)]
                rest = asked[64:] or asked
                ours = [measure(running.port, rest[k::2], seconds / 2, connections) for k in range(2)]
                rate = sum(one["per_second"] for one in ours) / sum(one["per_second"] for one in plain)
                found[name] = {"echo": plain, "ours": ours, "of_echo": round(rate, 2)}
            pages = open_streams(running, streams)
            for name, (path, bodies) in kinds.items():
                asked = [request_bytes(path, body) for body in bodies[len(bodies) // 2 :]]
                # 400 pupils with a check every few seconds: forty connections, each a check about every
                # 0.4 s.
                found[f"{name}, {streams} live pages, 100 a second"] = measure(running.port, asked, seconds, 40, 0.4)
            assert all(page.connection.sock for page in pages)
        finally:
            echo.stop()
            running.stop()
    return found


def main() -> None:
    options = argparse.ArgumentParser(description=__doc__.split("\n")[0] if __doc__ else "")
    options.add_argument("--seconds", type=float, default=4)
    options.add_argument("--streams", type=int, default=400)
    args = options.parse_args()
    # Asked to end, it still takes its servers along.
    signal.signal(signal.SIGTERM, lambda *_: sys.exit(1))
    for name, numbers in bench(args.seconds, args.streams).items():
        print(f"{name}: {json.dumps(numbers)}")


if __name__ == "__main__":
    main()
