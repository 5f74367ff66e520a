"""Speak HTTP: uvicorn with its limits, and patience for nobody who neither asks nor listens."""

from __future__ import annotations

import asyncio
import socket
from collections.abc import Callable
from types import FrameType

import h11
import uvicorn
from uvicorn.protocols.http.h11_impl import H11Protocol

from cardgen.server.faults import DataFault
from cardgen.server.gate import Gate

# All of these are our choice.
HEADERS = 16 * 1024  # bytes before the body at most
CONNECTIONS = 900  # below the 1,024 files that a process may usually have open
OF_ONE = 64  # connections of one address, unless it is this machine or a proxy
ASKING = 15.0  # seconds for a request to arrive without its body
DRAINING = 20.0  # seconds in which the rest of a body that nobody reads may still come
LISTENING = 60.0  # seconds in which something of an answer must be taken
TRUSTED = ("127.0.0.1", "::1")  # this machine
KEPT = 10  # seconds that a connection stays open for a next request
LEAVING = 20  # seconds for those under way when the server stops


class Patient(H11Protocol):
    """Ends a connection whose other side leaves a request or an answer half-way."""

    _asking: asyncio.TimerHandle | None = None
    _draining: asyncio.TimerHandle | None = None
    _listening: asyncio.TimerHandle | None = None

    def connection_made(self, transport: asyncio.Transport) -> None:  # type: ignore[override]
        """Begin to wait for the first request, unless its sender has many others open."""
        super().connection_made(transport)
        if self._has_many():
            transport.abort()
            return
        self._wait_for_request()

    def data_received(self, data: bytes) -> None:
        """Wait on while a request has only begun, or its body goes on after the answer."""
        super().data_received(data)
        self._wait_for_request()
        if self._draining is None and self._is_answered_early():
            self._draining = self.loop.call_later(DRAINING, self.transport.abort)

    def connection_lost(self, exc: Exception | None) -> None:
        """Nothing is to be waited for."""
        for timer in (self._asking, self._draining, self._listening):
            if timer is not None:
                timer.cancel()
        super().connection_lost(exc)

    def pause_writing(self) -> None:
        """The other side takes nothing at present."""
        super().pause_writing()
        self._listening = self.loop.call_later(LISTENING, self.transport.abort)

    def resume_writing(self) -> None:
        """It does again."""
        super().resume_writing()
        if self._listening is not None:
            self._listening.cancel()

    def timeout_keep_alive_handler(self) -> None:
        """Close, and do not wait for ever until the rest of an answer is taken."""
        super().timeout_keep_alive_handler()
        self.loop.call_later(LISTENING, self.transport.abort)

    def _has_many(self) -> bool:
        """Whoever opens all connections there are would keep the crews out."""
        own = self.client[0] if self.client else ""
        if own in TRUSTED or own in str(self.config.forwarded_allow_ips).split(","):
            return False
        others = (other.client for other in self.connections if isinstance(other, Patient))
        return sum(bool(client and client[0] == own) for client in others) > OF_ONE

    def _is_answered_early(self) -> bool:
        answered = bool(self.cycle) and self.cycle.response_complete
        return answered and self.conn.their_state is h11.SEND_BODY

    def _wait_for_request(self) -> None:
        if self.conn.their_state is not h11.IDLE:
            if self._asking is not None:
                self._asking.cancel()
            self._asking = None
        elif self._asking is None:
            self._asking = self.loop.call_later(ASKING, self.transport.abort)


def listening(host: str, port: int) -> socket.socket:
    """A socket of that address, before anything else is begun.

    Raises:
        DataFault: if there is no such address, or another program has it.
    """
    try:
        found = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        made = socket.socket(*found[:3])
        try:
            made.setsockopt(socket.SOL_SOCKET, socket.SO_REUSEADDR, 1)
            made.bind(found[4])
        except OSError:
            made.close()
            raise
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise DataFault(
            "other",
            f"cannot answer at {host}, port {port}: {reason}",
            "choose another --port or --host",
        ) from error
    return made


class Server(uvicorn.Server):
    """Says when it answers, and takes a signal to stop as a wish, not as a fault."""

    def __init__(self, gate: Gate, ready: Callable[[], None], proxies: str = "") -> None:
        """`proxies`: addresses whose word about a client and https is taken; empty: nobody's."""
        super().__init__(
            uvicorn.Config(
                gate,
                http=Patient,
                ws="none",
                loop="asyncio",
                log_config=None,
                access_log=False,
                server_header=False,
                proxy_headers=bool(proxies),
                forwarded_allow_ips=proxies,
                limit_concurrency=CONNECTIONS,
                timeout_keep_alive=KEPT,
                timeout_graceful_shutdown=LEAVING,
                h11_max_incomplete_event_size=HEADERS,
            )
        )
        self._ready = ready

    async def startup(self, sockets: list[socket.socket] | None = None) -> None:
        """Listen, then say so."""
        await super().startup(sockets)
        self._ready()

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """Stop; the signal is not raised once more when all is done."""
        super().handle_exit(sig, frame)
        self._captured_signals.clear()
