"""The attacks, each with what must be refused and what must be served meanwhile.

An attack is a function of a `Scene`; it says what it saw by `scene.wants(sentence, held)`. Numbers it only prints come by `scene.note`.
The letters before each are rows of the list of what was found (DEVELOPERS.md says what the rows ask for).
"""

from __future__ import annotations

import http.client
import secrets
import socket
import threading
import time
from collections import Counter
from collections.abc import Callable
from dataclasses import dataclass, field
from pathlib import Path
from typing import Any
from urllib.parse import urlencode

from tests.attack.heavy import grid, question
from tests.attack.lesson import OTHER, PASSPHRASE, SCHOOL, STRANGER, Browser, Lesson, as_json, rows, sit
from tests.web.running import Running

Ask = Callable[[int], Any]
ANSWERS = (OSError, http.client.HTTPException, ValueError)


@dataclass
class Scene:
    running: Running
    lesson: Lesson
    teacher: Browser
    code: str
    full: bool
    held: list[tuple[bool, str]] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)
    over: Callable[[], None] = lambda: None  # what comes after isn't the attack any more

    @property
    def port(self) -> int:
        return self.running.port

    def wants(self, what: str, held: bool) -> None:
        self.held.append((bool(held), what))

    def note(self, text: str) -> None:
        self.notes.append(text)

    def size(self, *, quick: int, full: int) -> int:
        return full if self.full else quick


def crowd(count: int, job: Ask, at_once: int, seconds: float) -> list[Any]:
    """`job(0)` to `job(count - 1)`, some at once, none begun after `seconds`; what they answered, or the error's name."""
    answers: list[Any] = []
    lock, todo, end = threading.Lock(), iter(range(count)), time.monotonic() + seconds

    def work() -> None:
        while time.monotonic() < end:
            with lock:
                n = next(todo, None)
            if n is None:
                return
            try:
                answer = job(n)
            except ANSWERS as error:
                answer = type(error).__name__
            with lock:
                answers.append(answer)

    threads = [threading.Thread(target=work) for _ in range(min(at_once, count))]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    return answers


def told(answers: list[Any]) -> str:
    return ", ".join(f"{count} × {answer}" for answer, count in sorted(Counter(map(str, answers)).items()))


def no_fault(answers: list[Any]) -> bool:
    """No answer is a fault of the server; 503 says "busy" and is none."""
    return not any(isinstance(one, int) and one >= 500 and one != 503 for one in answers)


def heavy_questions(scene: Scene) -> None:
    """F9-01: the heaviest questions, thirty at once from one address, by somebody who doesn't wait for the answers; and the
    same from a neighbor behind the school's own address, while students there ask heavy ones too.
    """

    def ask(n: int) -> int:
        path, body = question(n)
        browser = Browser(scene.port, STRANGER, timeout=2)
        try:
            return browser.ask("POST", f"/api/reasoning/{path}", as_json(body), Content_Type="application/json")[0]
        finally:
            browser.close()

    answers = crowd(scene.size(quick=40, full=200), ask, 30, scene.size(quick=3, full=20))
    scene.note("heavy questions: " + told(answers))
    scene.wants("what can't be worked on is refused, and not waited for", answers.count(429) > len(answers) // 2)
    students = scene.size(quick=6, full=35)
    results: list[Any] = []
    # Five lines each, and none like another: heavy by their size, as one of a class may be.
    class_ = threading.Thread(
        target=lambda: results.extend(
            crowd(
                students,
                lambda n: stay(scene, f"/api/reasoning/{('follows', 'prove')[n % 2]}", grid(3, 2, turn=1000 + n)),
                students,
                20,
            )
        )
    )
    class_.start()
    near = crowd(
        scene.size(quick=40, full=200), lambda n: hurry(scene, *question(500 + n)), 20, scene.size(quick=3, full=6)
    )
    class_.join()
    scene.note(f"a neighbor's questions: {told(near)}; the students': {told(results)}")
    # On a machine that is busy otherwise some are told that it takes too long just now; none is kept out by the neighbor.
    scene.wants(
        "each student behind the neighbor's address has a turn", len(results) == students and set(results) <= {200, 503}
    )
    answers += near
    scene.wants("a heavy question is answered or told to wait, never a fault", no_fault(answers))
    time.sleep(1)
    before, began = cpu_of(scene.running), time.monotonic()
    time.sleep(2)
    share = (cpu_of(scene.running) - before) / (time.monotonic() - began)
    scene.note(f"after they hung up the server used {100 * share:.0f} % of a core (the class goes on)")
    # Left alone, the old server computed on for minutes, with every core it had.
    light = {
        "figure": {"lines": {"l": {"direction": 10, "through": [0, 1]}, "m": {"direction": 10, "through": [0, 4]}}},
        "given": [],
        "claim": "l ∥ m",
    }
    answers = crowd(
        6,
        lambda n: _retry(
            lambda: Browser(scene.port, SCHOOL).ask(
                "POST",
                "/api/reasoning/follows",
                as_json(light | {"given": ["l ∥ m"] * n}),
                Content_Type="application/json",
            )[0]
        ),
        2,
        6,
    )
    scene.wants(f"a small question from the school is answered ({told(answers)})", 200 in answers)


def stay(scene: Scene, path: str, body: dict) -> Any:
    """A student's browser at school that has seen the front page, and goes where it is sent on to."""
    browser = Browser(scene.port, SCHOOL, timeout=20)
    try:
        browser.ask("GET", "/", Accept="text/html")
        status, headers, _ = browser.ask("POST", path, as_json(body), Content_Type="application/json")
        while status == 303:
            status, headers, _ = browser.ask("GET", headers["location"])
        return status
    finally:
        browser.close()


def hurry(scene: Scene, path: str, body: dict) -> Any:
    """A neighbor behind the school's address, who keeps no cookie and goes nowhere."""
    browser = Browser(scene.port, SCHOOL, timeout=2)
    try:
        return browser.ask("POST", f"/api/reasoning/{path}", as_json(body), Content_Type="application/json")[0]
    finally:
        browser.close()


def _retry(ask: Callable[[], int], times: int = 10) -> int:
    status = 0
    for _ in range(times):
        status = ask()
        if status not in (429, 503):
            break
        time.sleep(0.3)
    return status


def dripping_bodies(scene: Scene) -> None:
    """F9-02: bodies sent a byte at a time, 64 from one address and 40 from another."""
    sockets: list[socket.socket] = []
    for n in range(104):
        one = socket.create_connection(("127.0.0.1", scene.port), timeout=5)
        address = STRANGER if n < 64 else OTHER
        path = ("/enter", "/api/reasoning/follows", "/desk/signin")[n % 3]
        one.sendall(
            f"POST {path} HTTP/1.1\r\nHost: 127.0.0.1:{scene.port}\r\nX-Forwarded-For: {address}\r\n"
            "Content-Type: application/x-www-form-urlencoded\r\nContent-Length: 60000\r\n\r\nx".encode()
        )
        one.setblocking(False)
        sockets.append(one)
    time.sleep(0.5)
    statuses: list[Any] = []
    end = time.monotonic() + scene.size(quick=4, full=9)
    open_ = list(sockets)
    while time.monotonic() < end:
        for one in list(open_):
            try:
                one.send(b"x")
                if one.recv(1) == b"":
                    open_.remove(one)
            except BlockingIOError:
                pass
            except OSError:
                open_.remove(one)
        if len(statuses) < 6:
            base = f"/desk/period/{scene.lesson.period}"
            try:
                statuses.append(scene.teacher.json("POST", f"{base}/freeze", {"on": False}, scene.lesson.desk[1])[0])
            except ANSWERS as error:
                statuses.append(type(error).__name__)
        time.sleep(0.5)
    scene.note(f"of 104 dripping bodies the server let go of {104 - len(open_)}")
    newcomer = _try(lambda: sit(scene.port, scene.code, number="36"))
    for one in sockets:
        one.close()
    scene.wants(f"Pencils down works meanwhile ({told(statuses)})", statuses and set(statuses) == {200})
    scene.wants("a student still comes in", newcomer)
    if scene.full:
        scene.wants("slow bodies are let go of within 9 s", len(open_) < 52)


def _try(work: Callable[[], Any]) -> bool:
    try:
        work()
    except (*ANSWERS, AssertionError):
        return False
    return True


def all_the_seats(scene: Scene) -> None:
    """F9-04: one browser takes every seat number, then hundreds of names."""
    browser = Browser(scene.port, SCHOOL)
    assert browser.form("/enter", code=scene.code) == 303
    kept, token = dict(browser.cookies), browser.token("/")
    size = len(_desk_state(scene))

    def take(**name: str) -> Any:
        one = Browser(scene.port, SCHOOL)
        one.cookies = dict(kept)
        try:
            body = urlencode({"token": token, **name}).encode()
            return one.ask(
                "POST", "/enter/name", body, Content_Type="application/x-www-form-urlencoded", Accept="text/html"
            )[0]
        finally:
            one.close()

    numbers = crowd(99, lambda n: take(number=str(n + 1)), 4, scene.size(quick=3, full=5))
    names = crowd(
        scene.size(quick=60, full=600), lambda n: take(typed=f"name {n} of a browser"), 4, scene.size(quick=3, full=6)
    )
    scene.note(f"numbers: {told(numbers)}; names: {told(names)}")
    scene.note(f"the Desk's state grew from {size:,} to {len(_desk_state(scene)):,} bytes")
    taken = Counter(numbers)[303] + Counter(names)[303]
    scene.wants(f"one browser takes four seats, however many it asks for at once ({taken})", taken == 4)
    scene.wants("the next student finds a seat number free", _try(lambda: sit(scene.port, scene.code, number="52")))
    crowd(scene.size(quick=12, full=60), lambda n: _come(scene, str(99 - n)), 8, scene.size(quick=4, full=8))
    seats = rows(scene.running.folder, "SELECT count(*) FROM seat WHERE NOT removed")[0][0]
    scene.wants(f"a class has no more seats than places, however many come at once ({seats})", seats == 40)
    scene.wants("no fault", no_fault(numbers + names))


def _come(scene: Scene, number: str) -> None:
    """One more browser that asks for a place, and is content with any answer."""
    one = Browser(scene.port, OTHER)
    try:
        one.form("/enter", code=scene.code)
        one.form("/enter/name", number=number)
    finally:
        one.close()


def _desk_state(scene: Scene) -> bytes:
    return scene.teacher.ask("GET", f"/desk/period/{scene.lesson.period}/state")[2]


def guesses(scene: Scene) -> None:
    """F9-06: hundreds of wrong passphrases in a queue; wrong codes from behind the school's own address."""
    done = threading.Event()
    results: dict[str, Any] = {}

    def wrong(_: int) -> int:
        browser = Browser(scene.port, STRANGER, timeout=20)
        try:
            return browser.form("/desk/signin", passphrase=secrets.token_urlsafe(12))
        finally:
            browser.close()

    def flood() -> None:
        results["signin"] = crowd(
            scene.size(quick=40, full=1200), wrong, scene.size(quick=30, full=100), scene.size(quick=3, full=20)
        )
        done.set()

    thread = threading.Thread(target=flood)
    thread.start()
    time.sleep(0.6)
    known = Browser(scene.port, SCHOOL, timeout=30)
    known.cookies = {name: value for name, value in scene.teacher.cookies.items() if "desk" not in name}
    began = time.monotonic()
    try:
        status: Any = known.form("/desk/signin", passphrase=PASSPHRASE)
    except ANSWERS as error:
        status = type(error).__name__
    scene.note(f"the teacher's sign-in took {time.monotonic() - began:.1f} s amid the guesses")
    thread.join()
    scene.note("wrong passphrases: " + told(results["signin"]))
    scene.wants(f"the teacher's known browser signs in meanwhile ({status})", status == 303)
    scene.wants("no fault", no_fault(results["signin"]))

    guesser = Browser(scene.port, SCHOOL)
    token = guesser.token("/")
    kept = dict(guesser.cookies)

    def wrong_code(n: int) -> int:
        # Codes are of six symbols; these have the right shape and are nobody's.
        guess = "".join("ABCDEFGHJK"[int(digit)] for digit in f"{n:06}")
        one = Browser(scene.port, SCHOOL)
        one.cookies = dict(kept)
        try:
            body = urlencode({"token": token, "code": guess}).encode()
            return one.ask(
                "POST", "/enter", body, Content_Type="application/x-www-form-urlencoded", Accept="text/html"
            )[0]
        finally:
            one.close()

    codes = crowd(1520, wrong_code, 6, scene.size(quick=5, full=9))
    scene.over()
    scene.note("wrong codes from the school's address: " + told(codes))
    scene.wants("the guesser is told to wait", codes and codes[-1] == 429)
    scene.wants("a classmate behind the same address comes in", _try(lambda: sit(scene.port, scene.code, number="37")))
    easy = _set_up_with(scene, "mathclass")
    scene.wants(f"a guessable passphrase is refused ({easy})", easy == 422)


def visits(scene: Scene) -> None:
    """As many browsers as in F9-06, as many at once and for as long, that only look at the front page. What a class feels of
    these is what the machine gives when so much is asked of it, and no fault of how guesses are taken.
    """

    def look(address: str, times: int) -> int:
        browser, status = Browser(scene.port, address, timeout=20), 0
        try:
            for _ in range(times):
                status = browser.ask("GET", "/", Accept="text/html")[0]
        finally:
            browser.close()
        return status

    first = crowd(
        scene.size(quick=40, full=1200),
        lambda _: look(STRANGER, 2),
        scene.size(quick=30, full=100),
        scene.size(quick=3, full=20),
    )
    then = crowd(1520, lambda _: look(SCHOOL, 1), 6, scene.size(quick=5, full=9))
    scene.note(f"visits to the front page instead: {told(first)}; {told(then)}")


def _set_up_with(scene: Scene, passphrase: str) -> Any:
    """A second teacher's set-up link, made as the command makes it, and a passphrase."""
    import subprocess
    import sys

    from tests.web.running import ROOT

    made = subprocess.run(
        [sys.executable, "-m", "app", "teacher", "second", "--data", str(scene.running.folder / "data"),
         "--at", f"http://127.0.0.1:{scene.port}"],
        cwd=ROOT, capture_output=True, text=True, timeout=30,
    )  # fmt: skip
    path = made.stdout[made.stdout.find("/desk/setup/") :].split()[0]
    return Browser(scene.port, SCHOOL).form(path, at=path, passphrase=passphrase, again=passphrase)


def filling_up(scene: Scene) -> None:
    """F9-07: work saved under a fresh cookie each time; a figure with a key that nobody reads."""
    browser = Browser(scene.port, STRANGER)
    browser.token("/")
    token = browser.token("/alone/small/")
    kept = dict(browser.cookies)
    name = next((one for one in kept if "alone" in one), "ea-alone")
    before = _file(scene.running.folder)
    ballast = secrets.token_urlsafe(45_000)

    def save(n: int, cookie: str | None = None) -> int:
        one = Browser(scene.port, STRANGER)
        one.cookies = kept | {name: cookie or secrets.token_urlsafe(32)}
        try:
            return one.ask(
                "PUT",
                "/alone/small/work/first",
                as_json({"n": n + 1, "work": {"text": ballast[:-8] + f"{n:08}"}}),
                Content_Type="application/json",
                X_Seat_Token=token,
            )[0]
        finally:
            one.close()

    answers = crowd(scene.size(quick=120, full=1000), save, 6, scene.size(quick=3, full=9))
    grown = _file(scene.running.folder) - before
    scene.note(f"saved alone under fresh cookies: {told(answers)}; the file grew by {grown / 1e6:.1f} MB")
    scene.wants("no fault", no_fault(answers))
    if scene.full:
        scene.wants(f"what strangers leave is bounded ({grown / 1e6:.0f} MB)", grown < 36e6)
    alone = Browser(scene.port, SCHOOL)
    mine = alone.token("/alone/small/")
    status = _retry(lambda: alone.json("PUT", "/alone/small/work/first", {"n": 1, "work": {"text": "mine"}}, mine)[0])
    scene.wants(f"somebody at school still saves work alone ({status})", status == 200)

    seat = Browser(scene.port, SCHOOL)
    seat.cookies, page = dict(scene.lesson.seats[0][0]), scene.lesson.seats[0][1]
    figure = {
        "lines": {"l": {"direction": 10, "through": [0, 3]}, "t": {"direction": 65, "through": [0, 0]}},
        "nobody": ballast[:50_000],
    }
    status, _ = seat.json("PUT", "/seat/work/first", {"n": 10**6, "work": {}, "figure": figure}, page)
    scene.note(f"a figure with 50 KB under an unknown key: {status}")
    scene.wants("an unknown key isn't sent on to the Desk", ballast[:200].encode() not in _desk_state(scene))


def _file(folder: Path) -> int:
    return sum(path.stat().st_size for path in (folder / "data").glob("eight-angles.db*"))


class Stream:
    """A live page that is held open and not read."""

    def __init__(self, port: int, path: str, cookies: dict[str, str], address: str) -> None:
        self.socket = socket.create_connection(("127.0.0.1", port), timeout=5)
        held = "; ".join(f"{name}={value}" for name, value in cookies.items())
        self.socket.sendall(
            f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{port}\r\nX-Forwarded-For: {address}\r\nCookie: {held}\r\n"
            "Accept: text/event-stream\r\n\r\n".encode()
        )
        try:
            head = self.socket.recv(64).decode("latin-1")
            self.status = int(head.split()[1])
        except (OSError, IndexError, ValueError):
            self.status = 0

    def close(self) -> None:
        self.socket.close()


def streams(scene: Scene) -> None:
    """F9-10: one address with nothing but cookies, one student with many seats: each wants all the live pages."""
    other, _ = scene.running.period(scene.teacher)
    held: list[Stream] = []
    lock = threading.Lock()

    def alone(_: int) -> int:
        stream = Stream(scene.port, "/alone/small/live", {"ea-alone": secrets.token_urlsafe(32)}, STRANGER)
        with lock:
            held.append(stream)
        return stream.status

    answers = crowd(450, alone, 10, scene.size(quick=4, full=8))
    scene.note("live pages of bare cookies: " + told(answers))
    desk = Stream(scene.port, f"/desk/period/{other}/live", scene.teacher.cookies, SCHOOL)
    scene.wants(f"another period's Desk has its live page meanwhile ({desk.status})", desk.status == 200)
    seats = [
        Stream(scene.port, "/seat/live", cookies, STRANGER) for cookies, _ in scene.lesson.seats[:25] for _ in range(2)
    ]
    rest = [Stream(scene.port, "/seat/live", cookies, SCHOOL) for cookies, _ in scene.lesson.seats[25:]]
    scene.note(f"two live pages for 25 seats: {told([one.status for one in seats])}")
    scene.wants(
        f"the other students of the period have theirs ({told([one.status for one in rest])})",
        all(one.status == 200 for one in rest),
    )
    for stream in [*held, *seats, *rest, desk]:
        stream.close()


def old_links(scene: Scene) -> None:
    """F9-11: links that should have ended, pencils that should be down, names that aren't this machine's."""
    base = f"/desk/period/{scene.lesson.period}"
    teacher, token = scene.teacher, scene.lesson.desk[1]
    first = sit(scene.port, scene.code, number="38")
    link = first.json("GET", "/seat/return")[1]["link"].split("/", 3)[3]
    sid = rows(scene.running.folder, "SELECT id FROM seat WHERE name = '38' OR folded = '38' ORDER BY rowid DESC")[0][0]
    assert teacher.json("POST", f"{base}/seat/{sid}/release", {}, token)[0] == 200
    late = Browser(scene.port, STRANGER)
    gone = late.ask("GET", f"/{link}", Accept="text/html")[0]
    again = late.form(f"/{link}", at="/") if gone == 200 else gone
    scene.wants(f"the link of a released seat is void ({gone}, {again})", again in (404, 410))

    second, _ = scene.running.period(teacher)
    code = teacher.json("POST", f"/desk/period/{second}/door", {"open": True}, token)[1]["code"]
    student = sit(scene.port, code, number="1")
    page = student.token("/")
    sent = {"id": "frozen-reply-1", "task": "first", "reply": {"answer": 0}}
    assert teacher.json("POST", f"/desk/period/{second}/freeze", {"on": True}, token)[0] == 200
    down, _ = student.json("POST", "/seat/reply", sent, page)
    assert teacher.json("POST", f"/desk/period/{second}/freeze", {"on": False}, token)[0] == 200
    up = _retry(lambda: student.json("POST", "/seat/reply", sent, page)[0])
    scene.wants(
        f"a reply with pencils down isn't taken, and is when they are up ({down}, {up})",
        400 <= down < 500 and up == 200,
    )

    board = teacher.json("GET", f"/desk/period/{second}/state")[1]["period"]
    path = next((value for value in map(str, board.values()) if "/board/" in value), "")
    path = path[path.index("/board/") :].rstrip("/")
    now = Browser(scene.port, STRANGER).ask("GET", f"{path}/state")[0]
    assert teacher.json("POST", f"/desk/period/{second}/end", {}, token)[0] == 200
    ended = Browser(scene.port, STRANGER).ask("GET", f"{path}/state")[0]
    scene.wants(f"the Board's link ends with the period ({now}, {ended})", now == 200 and ended in (401, 403, 404, 410))

    status = {
        name: Browser(scene.port, SCHOOL).ask("GET", "/", Host=name, Accept="text/html")[0]
        for name in (
            f"127.0.0.1:{scene.port}",
            f"localhost:{scene.port}",
            "rebound.example",
            f"rebound.example:{scene.port}",
        )
    }
    scene.note(f"by Host: {status}")
    scene.wants("this machine's own names are served", all(status[name] == 200 for name in list(status)[:2]))
    scene.wants("a stranger's name for it is refused", all(400 <= status[name] < 500 for name in list(status)[2:]))


def cpu_of(running: Running) -> float:
    """Seconds of CPU that the server's processes have used (Linux; 0 elsewhere)."""
    import os

    total, group = 0.0, running.process.pid
    for stat in Path("/proc").glob("[0-9]*/stat"):
        try:
            fields = stat.read_text().rpartition(")")[2].split()
        except OSError:
            continue
        if int(fields[2]) == group:
            total += (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")
    return total


ATTACKS: dict[str, tuple[str, Callable[[Scene], None]]] = {
    "F9-01": ("the heaviest questions", heavy_questions),
    "F9-02": ("bodies a byte at a time", dripping_bodies),
    "F9-04": ("one browser takes all seats", all_the_seats),
    "F9-06": ("guesses", guesses),
    "F9-07": ("filling up", filling_up),
    "F9-10": ("live pages", streams),
    "F9-11": ("links, pencils, names", old_links),
}
# Beside which load that harms nobody the class's time is looked at, where the attack is many small requests.
HARMLESS: dict[str, Callable[[Scene], None]] = {"F9-06": visits}
