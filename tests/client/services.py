"""Services at an address of their own: one that answers by an application, and one that never does."""

import socket
import threading
from collections.abc import Iterator
from contextlib import contextmanager

from flask import Flask
from werkzeug.serving import make_server


@contextmanager
def served(app: Flask, port: int = 0) -> Iterator[str]:
    """The address at which the application answers, at a free port by default."""
    server = make_server("127.0.0.1", port, app, threaded=True)
    thread = threading.Thread(target=lambda: server.serve_forever(poll_interval=0.02), daemon=True)
    thread.start()
    try:
        yield f"http://127.0.0.1:{server.server_port}"
    finally:
        server.shutdown()
        thread.join()
        server.server_close()


@contextmanager
def silent() -> Iterator[str]:
    """An address at which one request is taken and never answered."""
    taken = []
    with socket.create_server(("127.0.0.1", 0)) as listener:
        threading.Thread(target=lambda: taken.append(listener.accept()), daemon=True).start()
        yield f"http://127.0.0.1:{listener.getsockname()[1]}"
    for connection, _ in taken:
        connection.close()
