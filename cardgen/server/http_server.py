"""Speak HTTP: uvicorn with its limits, and an end for whoever neither asks nor listens."""

from __future__ import annotations

import asyncio
import signal
import socket
from collections.abc import Callable
from types import FrameType

import h11
import uvicorn
from starlette.types import ASGIApp
from uvicorn.protocols.http.h11_impl import H11Protocol

from cardgen.server.data_faults import DataFault

# All of these are our choice.
HEADERS_BYTES = 16 * 1024  # before the body
CONNECTIONS = 900  # below the 1,024 files that a process may usually have open
CONNECTIONS_OF_ONE = 64  # of one address, unless it is this machine or a proxy
READ_TIMEOUT_S = 15.0  # for a request to arrive without its body
DRAIN_TIMEOUT_S = 20.0  # in which the rest of a body that nobody reads may still come
WRITE_TIMEOUT_S = 60.0  # in which something of an answer must be taken
KEEP_ALIVE_S = 10  # that a connection stays open for a next request
SHUTDOWN_S = 20  # for those under way when the server stops
LOOPBACK = ("127.0.0.1", "::1")  # this machine


class TimedProtocol(H11Protocol):
    """Ends a connection whose other side leaves a request or an answer half-way.

    Uvicorn has an option for none of these, and what it keeps of a connection is not its public
    interface: pyproject.toml holds its version.
    """

    _reading: asyncio.TimerHandle | None = None
    _draining: asyncio.TimerHandle | None = None
    _writing: asyncio.TimerHandle | None = None

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
            self._draining = self.loop.call_later(DRAIN_TIMEOUT_S, self.transport.abort)

    def connection_lost(self, exc: Exception | None) -> None:
        """Nothing is to be waited for."""
        for timer in (self._reading, self._draining, self._writing):
            if timer is not None:
                timer.cancel()
        super().connection_lost(exc)

    def pause_writing(self) -> None:
        """The other side takes nothing at present."""
        super().pause_writing()
        self._writing = self.loop.call_later(WRITE_TIMEOUT_S, self.transport.abort)

    def resume_writing(self) -> None:
        """It does again."""
        super().resume_writing()
        if self._writing is not None:
            self._writing.cancel()

    def timeout_keep_alive_handler(self) -> None:
        """Close, and do not wait for ever until the rest of an answer is taken."""
        super().timeout_keep_alive_handler()
        self.loop.call_later(WRITE_TIMEOUT_S, self.transport.abort)

    def _has_many(self) -> bool:
        """Whoever opens all connections there are would keep the crews out."""
        own = self.client[0] if self.client else ""
        if own in LOOPBACK or own in str(self.config.forwarded_allow_ips).split(","):
            return False
        others = (other.client for other in self.connections if isinstance(other, TimedProtocol))
        return sum(bool(client and client[0] == own) for client in others) > CONNECTIONS_OF_ONE

    def _is_answered_early(self) -> bool:
        answered = bool(self.cycle) and self.cycle.response_complete
        return answered and self.conn.their_state is h11.SEND_BODY

    def _wait_for_request(self) -> None:
        if self.conn.their_state is not h11.IDLE:
            if self._reading is not None:
                self._reading.cancel()
            self._reading = None
        elif self._reading is None:
            self._reading = self.loop.call_later(READ_TIMEOUT_S, self.transport.abort)


def listening(host: str, port: int) -> socket.socket:
    """A socket that browsers can reach from now on; they wait until a server answers at it.

    Raises:
        DataFault: if there is no such address, or another program has it.
    """
    try:
        family, *_, address = socket.getaddrinfo(host, port, type=socket.SOCK_STREAM)[0]
        # It knows what each system needs: on Windows, reusing a port is sharing it.
        return socket.create_server(address, family=family)
    except OSError as error:
        reason = (error.strerror or str(error)).lower()
        raise DataFault(
            "other",
            f"cannot answer at {host}, port {port}: {reason}",
            "choose another --port or --host",
        ) from error


class TellingServer(uvicorn.Server):
    """Says that it is told to stop as soon as it is; ending takes as long as what is under way."""

    on_stop: Callable[[], None] | None = None

    def handle_exit(self, sig: int, frame: FrameType | None) -> None:
        """A second signal says it once more to uvicorn alone."""
        if self.on_stop is not None and not self.should_exit:
            self.on_stop()
        super().handle_exit(sig, frame)


def server(
    app: ASGIApp, proxies: str = "", *, on_stop: Callable[[], None] | None = None
) -> uvicorn.Server:
    """What answers at a socket.

    Args:
        proxies: addresses whose word about a client and https is taken; empty: nobody's.
        on_stop: called when a signal tells it to stop.
    """
    made = TellingServer(
        uvicorn.Config(
            app,
            http=TimedProtocol,
            ws="none",
            loop="asyncio",
            log_config=None,
            access_log=False,
            server_header=False,
            proxy_headers=bool(proxies),
            forwarded_allow_ips=proxies,
            limit_concurrency=CONNECTIONS,
            timeout_keep_alive=KEEP_ALIVE_S,
            timeout_graceful_shutdown=SHUTDOWN_S,
            h11_max_incomplete_event_size=HEADERS_BYTES,
        )
    )
    made.on_stop = on_stop
    return made


def stops_when_told(answering: uvicorn.Server) -> None:
    """Take a signal to stop as a wish, not as a fault.

    Uvicorn has handlers of its own while it runs, and when all is done raises the signal once more
    for those that were there before.
    """

    def stop(*_: object) -> None:
        answering.should_exit = True

    for wish in (signal.SIGINT, signal.SIGTERM):
        signal.signal(wish, stop)
