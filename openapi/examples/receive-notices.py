"""Receives the notices that the service sends when a kept trial comes to a verdict, and prints each once.

    WEBHOOK_SECRET=... python receive-notices.py 8090

It needs Python alone. The secret is the service's AERIAL_ASSAY_WEBHOOK_SECRET. Put a proxy that speaks TLS in
front of it; the service's AERIAL_ASSAY_WEBHOOK is then https://YOUR.NAME/. A notice is believed only if its
signature is right (RFC 9421), its body is the one signed (RFC 9530), it is no older than it says, and its
nonce was never seen. The same notice may come again under a new nonce, when an answer of ours was lost: its
delivery id tells, and it is answered as before and printed no more.
"""

import base64
import hashlib
import hmac
import json
import os
import re
import sqlite3
import sys
import time
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

SECRET = os.environ["WEBHOOK_SECRET"].encode("ascii")
MEMORY = os.environ.get("WEBHOOK_MEMORY", "notices.sqlite3")  # what was seen, also after a restart
LONGEST_BODY = 64 * 1024
CLOCKS_DIFFER = 60  # seconds by which the sender's clock may be ahead of ours


def refusal(request, body):
    """Why a request is not believed, or None; its nonce, and until when that must be remembered."""
    stated = re.fullmatch(r"notice=(\(([^()]*)\)(;.*))", request.headers.get("Signature-Input", ""))
    signature = re.fullmatch(r"notice=:([A-Za-z0-9+/]+=*):", request.headers.get("Signature", ""))
    if stated is None or signature is None:
        return "it is not signed", None, 0
    path, _, query = request.path.partition("?")
    signed = {  # each line of what is signed, made of what we received; nothing may be missing
        "@method": request.command,
        "@authority": request.headers.get("Host", "").lower(),
        "@path": path,
        "@query": f"?{query}",
        "content-type": request.headers.get("Content-Type", ""),
        "content-digest": request.headers.get("Content-Digest", ""),
    }
    if stated[2] != " ".join(f'"{name}"' for name in signed):
        return "other parts are signed than should be", None, 0
    lines = [f'"{name}": {value}' for name, value in signed.items()]
    base = "\n".join([*lines, f'"@signature-params": {stated[1]}'])
    right = base64.b64encode(hmac.digest(SECRET, base.encode("latin-1"), "sha256")).decode()
    if not hmac.compare_digest(right, signature[1]):
        return "the signature is wrong", None, 0
    digest = base64.b64encode(hashlib.sha256(body).digest()).decode()
    if signed["content-digest"] != f"sha-256=:{digest}:":
        return "the body is not the one that was signed", None, 0
    told = dict(re.findall(r';(\w+)="?([^";]*)"?', stated[3]))
    until = int(told["expires"])
    if not int(told["created"]) - CLOCKS_DIFFER <= time.time() <= until:
        return "it is too old, or the clocks differ", None, 0
    return None, told["nonce"], until


def handle(notice):
    """What is done about a verdict: here, it is printed."""
    print(f"{notice['outcome']}: {notice['statement']} ({notice['report']})", flush=True)


def taken(body, nonce, until):
    """Handle a notice unless its delivery was handled before; False where its nonce was seen."""
    with sqlite3.connect(MEMORY, timeout=30, isolation_level="IMMEDIATE") as memory:  # all of it, or nothing
        memory.execute("CREATE TABLE IF NOT EXISTS seen (word TEXT PRIMARY KEY, until INTEGER)")
        memory.execute("DELETE FROM seen WHERE until < ?", (int(time.time()),))
        new = "INSERT OR IGNORE INTO seen VALUES (?, ?)"
        if memory.execute(new, (nonce, until)).rowcount == 0:
            return False
        notice = json.loads(body)
        if memory.execute(new, (notice["delivery"], None)).rowcount == 1:
            handle(notice)
    return True


class Receiver(BaseHTTPRequestHandler):
    """Answers 204 to what is believed, 401 to anything else."""

    timeout = 10

    def do_POST(self):
        """Take a notice."""
        length = int(self.headers.get("Content-Length", 0))
        if length > LONGEST_BODY:
            return self.answer(413, "it is too long")
        body = self.rfile.read(length)
        why, nonce, until = refusal(self, body)
        if why is None and not taken(body, nonce, until):
            why = "its nonce was seen before"
        return self.answer(204 if why is None else 401, why or "")

    def answer(self, status, why):
        """Say whether it was taken, and why not."""
        self.send_response(status)
        if status != 204:
            self.send_header("Content-Length", str(len(why)))
        self.end_headers()
        self.wfile.write(why.encode())

    def log_message(self, form, *arguments):
        """Log a request; nothing that a caller chose goes there but its first line."""
        print(f"{self.client_address[0]} {form % arguments!r}", file=sys.stderr, flush=True)


if __name__ == "__main__":
    server = ThreadingHTTPServer(("127.0.0.1", int(sys.argv[1])), Receiver)
    print(f"Listening on http://127.0.0.1:{server.server_port}/", flush=True)
    server.serve_forever()
