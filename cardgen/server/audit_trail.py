"""Note who did what, and from which network; the trail is only ever added to."""

from __future__ import annotations

import sqlite3
from dataclasses import dataclass
from ipaddress import ip_address, ip_network

from cardgen.server.store import Store

OFFICE = "office"  # whoever sits at the server's own command line
# What of an address is kept: enough to tell a crew's network from a stranger's, not one phone from
# another (our choice: what is commonly given to one customer is a /24 to many, or a /48).
_KEPT_BITS = {4: 24, 6: 48}


@dataclass(frozen=True, slots=True, kw_only=True)
class AuditStep:
    """One line of the trail; `at` in seconds since 1970."""

    seq: int
    at: int
    who: str
    what: str
    about: str
    network: str


def network_of(address: str) -> str:
    """The network of an address, `203.0.113.0/24`; what is no address is `local`."""
    try:
        found = ip_address(address)
    except ValueError:
        return "local"
    found = getattr(found, "ipv4_mapped", None) or found
    return str(ip_network(f"{found}/{_KEPT_BITS[found.version]}", strict=False))


def note(
    connection: sqlite3.Connection, now_s: int, who: str, what: str, about: str, network: str
) -> None:
    """Add a line inside the transaction whose doing it tells."""
    connection.execute(
        "INSERT INTO trail (at, who, what, about, network) VALUES (?, ?, ?, ?, ?)",
        (now_s, who, what, about, network),
    )


def trail(store: Store) -> tuple[AuditStep, ...]:
    """All of it, oldest first."""
    with store.reading() as connection:
        rows = connection.execute(
            "SELECT seq, at, who, what, about, network FROM trail ORDER BY seq"
        ).fetchall()
    names = ("seq", "at", "who", "what", "about", "network")
    return tuple(AuditStep(**dict(zip(names, row, strict=True))) for row in rows)
