"""One page, served to the browsers of this machine alone, which are told when there is a new one.

It answers on the loopback address, to nothing but GET, under an address that holds a secret, and to
no request that names another host: a page of somebody else, open in the same browser, cannot read
it, by a name that is led to this address either (DNS rebinding). Few requests are answered at once,
and none waits for ever.
"""

from __future__ import annotations

import hmac
import json
import secrets
import socketserver
import threading
from contextlib import suppress
from http import HTTPStatus
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from socket import socket
from typing import Any, Final

from wattproof.cli.errors import CallUnusable
from wattproof.reports.page import NUMBER
from wattproof.reports.writing.policy import policy_of

HOST: Final = "127.0.0.1"
AT_ONCE: Final = 32
"""Requests that are answered at once; one more is hung up on."""
WAITS: Final = 20.0
"""Seconds for which a question whether there is a new page is kept waiting."""
_SILENCE: Final = 10.0
"""Seconds after which a silent connection is closed."""
_ALWAYS: Final = {
    "Cache-Control": "no-store",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Referrer-Policy": "no-referrer",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
}
_NOTHING: Final = "default-src 'none'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"


class PageServer:
    """Serves the last page that it was given, in threads of its own.

    port: to listen on; 0 for any that is free. Raises CallUnusable where it cannot be had.
    """

    def __init__(self, port: int = 0, *, waits: float = WAITS) -> None:
        self.token = secrets.token_urlsafe(24)
        self.waits = waits
        self._text = ""
        self._number = 0
        self._policy = _NOTHING
        self._changed = threading.Condition()
        self._ended = False
        try:
            self._server = _Server(self, port)
        except (OSError, OverflowError) as error:
            reason = getattr(error, "strerror", None) or str(error)
            message = f"the port {port} cannot be had: {reason}"
            raise CallUnusable(f"{message}; name another, or leave --port out") from None
        self.port: int = self._server.server_address[1]
        self._thread = threading.Thread(target=self._server.serve_forever, args=(0.1,), daemon=True)
        self._thread.start()

    @property
    def address(self) -> str:
        """Where the page is, with its secret."""
        return f"http://{HOST}:{self.port}/{self.token}/"

    @property
    def hosts(self) -> frozenset[str]:
        """What a request may name as its host."""
        bare = {HOST, "localhost"} if self.port == 80 else set()
        return frozenset({f"{HOST}:{self.port}", f"localhost:{self.port}", *bare})

    def show(self, text: str) -> bool:
        """Serve a page from now on. False where it is the one that is served already."""
        with self._changed:
            if text == self._text:
                return False
            self._text = text
            self._policy = f"{policy_of(text, connects=True)}; frame-ancestors 'none'"
            self._number += 1
            self._changed.notify_all()
            return True

    def page(self) -> tuple[bytes, str]:
        """The page that is served now, and its policy; waits for the first."""
        with self._changed:
            self._changed.wait_for(lambda: self._ended or self._number > 0, timeout=self.waits)
            return self._text.replace(NUMBER, str(self._number), 1).encode(), self._policy

    def number_after(self, number: str) -> int:
        """The number of the last page; waits for a while until it is another one."""
        with self._changed:
            self._changed.wait_for(
                lambda: self._ended or str(self._number) != number, timeout=self.waits
            )
            return self._number

    def close(self) -> None:
        """Stop answering, and give the port back."""
        with self._changed:
            self._ended = True
            self._changed.notify_all()
        self._server.shutdown()
        self._server.server_close()


class _Server(ThreadingHTTPServer):
    daemon_threads = True
    request_queue_size = AT_ONCE

    def __init__(self, pages: PageServer, port: int) -> None:
        self.pages = pages
        self._free = threading.BoundedSemaphore(AT_ONCE)
        super().__init__((HOST, port), _Handler)

    def server_bind(self) -> None:
        """Without asking any name server for this machine's name, as the class above does."""
        socketserver.TCPServer.server_bind(self)
        self.server_name, self.server_port = HOST, self.server_address[1]

    def process_request(self, request: Any, client_address: Any) -> None:
        if not self._free.acquire(blocking=False):
            self.shutdown_request(request)
            return
        super().process_request(request, client_address)

    def process_request_thread(self, request: Any, client_address: Any) -> None:
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._free.release()

    def handle_error(self, request: socket | tuple[bytes, socket], client_address: Any) -> None:
        """A browser that hangs up is nothing to tell."""


class _Handler(BaseHTTPRequestHandler):
    server: _Server
    server_version = "wattproof"
    sys_version = ""
    timeout = _SILENCE

    def do_GET(self) -> None:
        if not self._is_ours():
            return
        pages = self.server.pages
        way, _, query = self.path.partition("?")
        secret, _, rest = way.removeprefix("/").partition("/")
        if not hmac.compare_digest(secret.encode("utf-8", "replace"), pages.token.encode()):
            self.send_error(HTTPStatus.NOT_FOUND)
        elif way == f"/{secret}/" and not query:
            data, policy = pages.page()
            self._answer(HTTPStatus.OK, "text/html", data, policy)
        elif rest == "state":
            data = json.dumps({"page": pages.number_after(query.removeprefix("after="))}).encode()
            self._answer(HTTPStatus.OK, "application/json", data)
        else:
            self.send_error(HTTPStatus.NOT_FOUND)

    def _is_ours(self) -> bool:
        """Whether a request names this machine as its host, and comes from no page of others."""
        hosts = self.headers.get_all("Host") or []
        origins = self.headers.get_all("Origin") or []
        ours = {f"http://{host}" for host in self.server.pages.hosts}
        if len(hosts) == 1 and hosts[0] in self.server.pages.hosts and ours.issuperset(origins):
            return True
        self.send_error(HTTPStatus.MISDIRECTED_REQUEST)
        return False

    def _answer(self, status: int, kind: str, data: bytes, policy: str = _NOTHING) -> None:
        self.send_response(status)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(data)))
        self.send_header("Content-Security-Policy", policy)
        for name, value in _ALWAYS.items():
            self.send_header(name, value)
        if status == HTTPStatus.METHOD_NOT_ALLOWED:
            self.send_header("Allow", "GET")
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(data)

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """Refuse in a few words, which repeat nothing of the request."""
        self.close_connection = True
        if code == HTTPStatus.NOT_IMPLEMENTED:  # what the class above says of any other method
            code = HTTPStatus.METHOD_NOT_ALLOWED
        with suppress(OSError, ValueError):
            self._answer(code, "text/plain", HTTPStatus(code).phrase.encode())

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing is told of requests: their paths hold the secret."""
