"""Commands that change what is kept, with no server running: a new set-up link, and erasing everything."""

from __future__ import annotations

from app.settings import Settings
from app.store import keeping, people
from app.web.server import Server


def teacher(name: str, at: str, settings: Settings) -> int:
    server = Server(settings=settings)
    token = server.store.write(lambda c: people.put_invite(c, name, server.now()))
    server.close()
    print(f"Set-up link for {name}, good once, for three days:\n  {at.rstrip('/')}/desk/setup/{token}")
    return 0


def erase(sure: bool, settings: Settings) -> int:
    if not sure and input("Erase every period, seat, reply and name on this machine? Type yes: ").strip() != "yes":
        print("Nothing was erased.")
        return 1
    server = Server(settings=settings)
    counts = server.store.write(keeping.erase_everything)
    server.store.scrub()
    server.close()
    print("Erased: " + ", ".join(f"{count} {name}" for name, count in counts.items()))
    return 0
