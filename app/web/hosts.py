"""By which names this server answers, and whose word about the sender is taken (F9-11).

A page of somebody else's can point a name of its own at this machine's address, and would then be one origin with
it. So a request must name the machine as it can be known: by an address, which no such page can, by the machine's
own name, or by a name that was declared. Its own name is known with the domains that routers of homes and schools put
behind it: those that no public DNS ever answers for, and what this machine's network says its domain is. Only its own
name: `.local` (RFC 6762) is answered by whoever is near, and the domains of some routers can be bought.

And `X-Forwarded-…` headers are believed only from a proxy, which is on this machine or in its own network; anybody
else who sends them is answered as if there were none.
"""

from __future__ import annotations

import os
import socket
from collections.abc import Callable, Iterable
from contextlib import suppress
from ipaddress import ip_address, ip_network
from pathlib import Path
from wsgiref.types import StartResponse, WSGIApplication, WSGIEnvironment

from app.addresses import plain

__all__ = ["Forwarded", "Hosts", "known_host", "near"]

App = WSGIApplication
# Loopback, link-local, and the private networks of RFC 1918 and RFC 4193.
_PRIVATE = ("10.0.0.0/8", "172.16.0.0/12", "192.168.0.0/16", "fc00::/7")
NEAR = [ip_network(one) for one in ("127.0.0.0/8", "::1/128", "169.254.0.0/16", "fe80::/10", *_PRIVATE)]


def known_host(host: str, names: frozenset[str]) -> bool:
    """Whether a Host header names this machine. Any address will do: they change, and none can be made up for it."""
    bare = host.strip().lower()
    if bare.startswith("["):
        bare = bare[1:].partition("]")[0]
    elif bare.count(":") == 1:
        bare = bare.partition(":")[0]
    bare = bare.rstrip(".")
    if not bare or bare in names:
        return True  # HTTP/1.0 names no host
    try:
        ip_address(bare.partition("%")[0])
    except ValueError:
        return False
    return True


# Multicast DNS (RFC 6762), homes (RFC 8375), private use (withheld by ICANN in 2024), and those of many routers, which
# are in no public root either (home, corp and mail by ICANN in 2018).
DOMAINS = ("local", "home.arpa", "internal", "lan", "home", "localdomain", "corp", "intranet", "private")


def own_domains(told: Path = Path("/etc/resolv.conf")) -> frozenset[str]:
    """The domains of the network that this machine is in, as the network told it (by DHCP, mostly)."""
    found = {os.environ.get("USERDNSDOMAIN", "")}  # Windows
    with suppress(OSError, ValueError):
        for line in told.read_text(encoding="utf-8").splitlines():
            first, *names = line.split() or [""]
            if first in ("search", "domain"):
                found.update(names)
    return frozenset(name.lower().strip(".") for name in found if name.strip("."))


def own_names(declared: Iterable[str] = (), domains: Iterable[str] | None = None) -> frozenset[str]:
    """localhost, the machine's own name with and without its domains, and those declared."""
    own = socket.gethostname().lower().rstrip(".")
    short = own.partition(".")[0]
    found = {"localhost", own, short}
    found.update(f"{short}.{domain}" for domain in (*DOMAINS, *(own_domains() if domains is None else domains)))
    return frozenset(name for name in (*found, *(one.strip().lower() for one in declared)) if name)


def near(address: str) -> bool:
    """Whether an address is this machine's or its own network's, where a proxy in front of it would be."""
    try:
        at = ip_address(address)
    except ValueError:
        return False
    return any(at in network for network in NEAR if network.version == at.version)


class Hosts:
    """Around the application: a request for a name that isn't this machine's gets one sentence.

    `names` None: any name will do.
    """

    def __init__(self, inner: App, names: frozenset[str] | None, sentence: Callable[[], str]) -> None:
        self.inner, self.names, self.sentence = inner, names, sentence

    def __call__(self, environ: WSGIEnvironment, start: StartResponse, /) -> Iterable[bytes]:
        if self.names is None or known_host(environ.get("HTTP_HOST", ""), self.names):
            return self.inner(environ, start)
        body = self.sentence().encode()
        kind = ("Content-Type", "text/plain; charset=utf-8")
        start("421 Misdirected Request", [kind, ("Content-Length", str(len(body)))])
        return [body]


class Forwarded:
    """Around what believes a proxy: forwarded headers from anywhere else are dropped."""

    def __init__(self, inner: App) -> None:
        self.inner = inner

    def __call__(self, environ: WSGIEnvironment, start: StartResponse, /) -> Iterable[bytes]:
        environ["REMOTE_ADDR"] = plain(environ.get("REMOTE_ADDR", ""))
        if not near(environ["REMOTE_ADDR"]):
            for name in [key for key in environ if key.startswith("HTTP_X_FORWARDED_") or key == "HTTP_FORWARDED"]:
                del environ[name]
        return self.inner(environ, start)
