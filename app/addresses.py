"""By which address the others in the room reach this machine."""

from __future__ import annotations

import ipaddress
import socket
from functools import cache


@cache
def lan_address() -> str | None:
    """This machine's address in its own network; None when it has none. Nothing is sent."""
    try:
        with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as probe:
            # Connecting a datagram socket only asks the routing table; 192.0.2.1 is a documentation
            # address.
            probe.connect(("192.0.2.1", 9))
            found = str(probe.getsockname()[0])
    except OSError:
        return None
    return None if found.startswith(("127.", "0.")) else found


def plain(address: str) -> str:
    """An address as it is meant: one of IPv4 that came in through a socket of IPv6 is one of IPv4."""
    try:
        at = ipaddress.ip_address(address)
    except ValueError:
        return address
    return str(getattr(at, "ipv4_mapped", None) or at)


def share(address: str) -> str:
    """By what an address is counted: one of IPv6 by its network, since a single machine there may use any of 2^64."""
    try:
        at = ipaddress.ip_address(plain(address).partition("%")[0])
    except ValueError:
        return address
    if at.version == 4 or at.is_loopback:
        return str(at)
    return str(ipaddress.ip_network((int(at), 64), strict=False).network_address)


def loopback(host: str) -> bool:
    """Whether only this machine itself can reach the address."""
    if host == "localhost":
        return True
    try:
        return ipaddress.ip_address(host).is_loopback
    except ValueError:
        return False
