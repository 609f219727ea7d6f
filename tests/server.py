"""A server for browser tests that a page's many requests at once do not overrun."""

from __future__ import annotations

from http.server import ThreadingHTTPServer


class PatientServer(ThreadingHTTPServer):
    """Keeps 128 connections waiting; the usual 5 are reset by a busy machine when a page asks for all its files."""

    request_queue_size = 128
