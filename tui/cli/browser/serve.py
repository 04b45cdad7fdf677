"""`rackround serve`: the dashboard in a browser, on this machine or in the room's network."""

from __future__ import annotations

import socket
import ssl
import sys
from argparse import Namespace
from collections.abc import Sequence
from ipaddress import ip_address
from typing import Final

from schedules.room_file import load_room
from tui.acts import BY_ID, key_text
from tui.cli.browser.extra import needs_browser
from tui.cli.fault import OK, CommandFault
from tui.cli.options import Options
from tui.cli.out import finish_printing, say, warn
from tui.cli.session import keeper
from tui.preferences import load_preferences

LOOPBACK: Final = frozenset(("localhost", "127.0.0.1", "::1"))
BUTTONS: Final = (
    "finish",
    "skip",
    "amount",
    "leftovers",
    "came",
    "undo",
    "show_lookback",
    "show_round",
    "back",
    "keys",
)
"""Acts that have a button below the dashboard."""
PLAIN: Final = (*((str(digit), str(digit)) for digit in range(1, 7)), ("↑", "\x1b[A"), ("↓", "\x1b[B"), ("enter", "\r"))
TYPED: Final = {"space": " ", "enter": "\r", "escape": "\x1b", "left": "\x1b[D", "right": "\x1b[C", "slash": "/"}
FUNCTION: Final = ("\x1bOP", "\x1bOQ", "\x1bOR", "\x1bOS", "\x1b[15~", "\x1b[17~", "\x1b[18~", "\x1b[19~", "\x1b[20~")
"""F1 to F9 as a terminal sends them."""
ELSEWHERE: Final = "192.0.2.1"
"""An address for documentation (RFC 5737): asking the way there says which of our addresses the network sees."""


def serve(options: Options, asked: Namespace) -> int:
    """Serve the dashboard until Ctrl+C."""
    room = load_room(options.room_file)
    with needs_browser():
        import segno
        from aiohttp import web

        from tui.serve.gate import Gate
        from tui.serve.passcodes import PasscodesFault, passcodes_path, read_passcodes
        from tui.serve.server import Pages
    try:
        hashes = read_passcodes(passcodes_path(options.room_file))
    except PasscodesFault as fault:
        raise CommandFault(str(fault)) from None
    names = [each.name for each in room.keepers]
    hashes = {name: hashes[name] for name in names if name in hashes}
    if asked.host not in LOOPBACK and not hashes:
        raise CommandFault(
            f"{asked.host} can be reached by others, and no keeper has a passcode; "
            "`rackround passcode ROOM.toml KEEPER` gives one"
        )
    context = _tls(asked)
    shown = _address(asked.host)
    hosts = frozenset(name.lower() for name in (*LOOPBACK, shown, asked.host, *asked.name, *_own_names()))
    gate = Gate(hosts, hashes, keeper(options.by, room), secure=context is not None, say=_log)
    pages = Pages(gate, room.name, lambda name: _command(options, name), _buttons(options))
    listening = _listen(asked)
    port = listening.getsockname()[1]
    url = f"{'https' if context else 'http'}://{f'[{shown}]' if ':' in shown else shown}:{port}/"
    _announce(url, asked.host, secure=context is not None, code=segno.make(url, error="m"))
    web.run_app(pages.application(), sock=listening, ssl_context=context, print=None, access_log=None)
    return OK


def _listen(asked: Namespace) -> socket.socket:
    """Take the port before anything is announced; 0 takes any that is free."""
    family = socket.AF_INET6 if ":" in asked.host else socket.AF_INET
    try:
        return socket.create_server((asked.host, asked.port), family=family)
    except OSError as fault:
        raise CommandFault(f"cannot serve at {asked.host}, port {asked.port}: {fault.strerror or fault}") from None


def _tls(asked: Namespace) -> ssl.SSLContext | None:
    if asked.cert is None and asked.key is None:
        return None
    if asked.cert is None:
        raise CommandFault("--key needs --cert")
    context = ssl.create_default_context(ssl.Purpose.CLIENT_AUTH)
    try:
        context.load_cert_chain(asked.cert, asked.key)
    except (OSError, ssl.SSLError) as fault:
        raise CommandFault(f"the certificate cannot be used: {fault}") from None
    return context


def _address(host: str) -> str:
    """The address to open: the host itself, or for all of them the one that the network sees."""
    try:
        every = ip_address(host).is_unspecified
    except ValueError:
        return host
    if not every:
        return host
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as asking:
        try:
            asking.connect((ELSEWHERE, 9))  # of a datagram: nothing is sent
            return str(asking.getsockname()[0])
        except OSError:
            return "localhost"


def _own_names() -> tuple[str, ...]:
    name = socket.gethostname()
    return (name, f"{name}.local")


def _command(options: Options, name: str) -> Sequence[str]:
    """The dashboard for one keeper, as a list of words: no shell reads them."""
    words = [sys.executable, "-P", "-m", "tui", "open", str(options.room_file.absolute()), "--by", name, "--only-me"]
    if options.ledger is not None:
        words += ["--ledger", str(options.ledger)]
    if options.now is not None:
        words += ["--now", options.now.isoformat()]
    if options.keys is not None:
        words += ["--keys", str(options.keys.absolute())]
    return words


def _buttons(options: Options) -> list[tuple[str, str]]:
    """The buttons below the dashboard, with the keys as the keeper has them."""
    own = load_preferences(options.keys).keys
    acts = [BY_ID[name] for name in BUTTONS]
    keys = [(act.label, own.get(act.id, act.key).split(",")[0].strip()) for act in acts]
    made = [(f"{label} ({key_text(key)})", typed) for label, key in keys if (typed := _typed(key)) is not None]
    return [made[0], *PLAIN, *made[1:]]


def _typed(key: str) -> str | None:
    """What a terminal sends for a key; None for one that no button can type."""
    if len(key) == 1:
        return key
    if key[0] == "f" and key[1:].isdigit() and int(key[1:]) <= len(FUNCTION):
        return FUNCTION[int(key[1:]) - 1]
    return TYPED.get(key)


def _announce(url: str, host: str, *, secure: bool, code: object) -> None:
    if sys.stdout.isatty():
        code.terminal(compact=True)  # type: ignore[attr-defined]
    say(f"The round is at {url} until Ctrl+C.")
    if host not in LOOPBACK and not secure:
        say("Without --cert what is typed there, passcodes too, can be read by anyone in the same network.")
    finish_printing()


def _log(text: str) -> None:
    warn(f"rackround: {text}")
