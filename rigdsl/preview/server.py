"""The page on loopback: nothing is read from the disk, and no other machine or foreign page can ask."""

from __future__ import annotations

import json
import os
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from threading import Condition
from typing import Any
from urllib.parse import parse_qs, urlsplit

from rigdsl.preview.state import Made

__all__ = ["LOOPBACK", "Preview"]

LOOPBACK = "127.0.0.1"
POLL_S = 25.0  # how long a question for changes waits for an answer
HEADERS = {
    "Cache-Control": "no-store",
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Resource-Policy": "same-origin",
}


class Preview(ThreadingHTTPServer):
    """Serves the newest page. `show` gives it the next one, and whoever waits for it hears of it."""

    daemon_threads = True
    allow_reuse_address = os.name == "posix"  # a port left a moment ago is free; elsewhere it would take a live one

    def __init__(self, port: int, first: Made) -> None:
        super().__init__((LOOPBACK, port), _Handler)
        self.now = first
        self.changed = Condition()
        self.ended = False

    @property
    def address(self) -> str:
        """Where to look."""
        return f"http://{LOOPBACK}:{self.server_port}/"

    @property
    def names(self) -> frozenset[str]:
        """What a browser of this machine calls it: anything else is a page from elsewhere that asks through it."""
        return frozenset(f"{name}:{self.server_port}" for name in (LOOPBACK, "localhost"))

    def show(self, made: Made) -> None:
        """Turn to the next page."""
        with self.changed:
            self.now = made
            self.changed.notify_all()

    def newer(self, seen: int) -> int:
        """The number of the page as soon as it is another one than `seen`, or the same after a while."""
        with self.changed:
            self.changed.wait_for(lambda: self.ended or self.now.number != seen, POLL_S)
            return self.now.number

    def shutdown(self) -> None:
        """End, and let those go who wait."""
        with self.changed:
            self.ended = True
            self.changed.notify_all()
        super().shutdown()

    def handle_error(self, request: Any, client_address: Any) -> None:
        """A reader who has gone is nobody's trouble."""


class _Handler(BaseHTTPRequestHandler):
    server: Preview
    server_version = "rigdsl"
    sys_version = ""

    def do_GET(self) -> None:
        if self.headers.get("Host", "") not in self.server.names:
            self._answer(403, b"this preview is for this machine only\n", "text/plain")
            return
        asked = urlsplit(self.path)
        if asked.path == "/":
            self._answer(200, self.server.now.page, "text/html")
        elif asked.path == "/changes":
            seen = parse_qs(asked.query).get("seen", [""])[0][:20]
            number = self.server.newer(int(seen) if seen.isascii() and seen.isdigit() else 0)
            self._answer(200, json.dumps(number).encode(), "application/json")
        else:
            self._answer(404, b"there is nothing here: the page is at /\n", "text/plain")

    def _answer(self, status: int, body: bytes, kind: str) -> None:
        self.send_response(status)
        for name, value in HEADERS.items():
            self.send_header(name, value)
        self.send_header("Content-Type", f"{kind}; charset=utf-8")
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def log_message(self, format: str, *args: Any) -> None:
        """The terminal is for what changes in the rig."""
