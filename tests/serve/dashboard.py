"""A stand-in for the dashboard: speaks as Textual's driver for browsers does, and repeats what it was sent.

Run as a program: prints its words and its size, then `[…]` for all that is typed, until it is asked to quit.
"""

from __future__ import annotations

import json
import os
import sys


def packet(kind: bytes, payload: bytes) -> None:
    """One packet to the server."""
    sys.stdout.buffer.write(kind + len(payload).to_bytes(4, "big") + payload)
    sys.stdout.buffer.flush()


def main() -> None:
    """Answer until asked to quit, or until `bye` is typed."""
    sys.stdout.buffer.write(b"__GANGLION__\n")
    size = f"{os.environ['COLUMNS']}x{os.environ['ROWS']}"
    packet(b"D", json.dumps({"words": sys.argv[1:], "size": size, "id": os.getpid()}).encode())
    packet(b"M", json.dumps({"type": "open_url", "url": "https://example.org", "new_tab": True}).encode())
    source = sys.stdin.buffer
    while head := source.read(5):
        payload = source.read(int.from_bytes(head[1:], "big"))
        if head[:1] == b"D":
            packet(b"D", b"[" + payload + b"]")
            if payload == b"bye":
                break
            continue
        message = json.loads(payload)
        if message["type"] == "resize":
            packet(b"D", f"{message['width']}x{message['height']}".encode())
        if message["type"] == "quit":
            break
    packet(b"M", json.dumps({"type": "exit"}).encode())


if __name__ == "__main__":
    main()
