"""However the dashboard is ended from outside, the terminal stays usable and nothing is left behind."""

from __future__ import annotations

import os
import select
import signal
import subprocess
import termios
import time
from collections.abc import Callable
from pathlib import Path

import pexpect
import pytest

from tests.pty.demo import NOW, Demo, Keeper
from tests.pty.terminal import PATIENCE, Terminal, environment, installed

LEAVES_ALTERNATE_SCREEN = b"\x1b[?1049l"
SHOWS_CURSOR = b"\x1b[?25h"
NOHUP = """
import fcntl, os, signal, sys, termios
fcntl.ioctl(0, termios.TIOCSCTTY, 0)
signal.signal(signal.SIGHUP, signal.SIG_IGN)
os.execv(sys.argv[1], sys.argv[1:])
"""
"""Takes standard input as the controlling terminal and runs a program that ignores hang-ups."""
SIGNALS = [signal.SIGTERM, signal.SIGQUIT, signal.SIGHUP]


def last_words(terminal: Terminal) -> bytes:
    """All that the program writes until it ends."""
    said, end = b"", time.monotonic() + PATIENCE
    while time.monotonic() < end:
        try:
            said += terminal.read(0.1)
        except pexpect.EOF:
            break
    terminal.child.wait()
    return said


def until(holds: Callable[[], bool], wish: str) -> None:
    end = time.monotonic() + PATIENCE
    while not holds():
        assert time.monotonic() < end, f"never came: {wish}"
        time.sleep(0.05)


@pytest.mark.parametrize("number", SIGNALS, ids=lambda number: number.name)
def test_a_signal_ends_the_dashboard_with_a_usable_terminal_and_every_mark_saved(
    demo: Demo, number: signal.Signals
) -> None:
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        keeper.finish(demo.tanks[0])
        keeper.sees_done(1)
        terminal.child.kill(number)
        said = last_words(terminal)

        assert LEAVES_ALTERNATE_SCREEN in said
        assert SHOWS_CURSOR in said
        assert terminal.child.exitstatus == 128 + number
    assert demo.states()[demo.tanks[0]] == {"given"}


def test_echo_and_line_input_are_on_again_after_sigterm(demo: Demo) -> None:
    primary, secondary = os.openpty()
    before = termios.tcgetattr(secondary)
    program = dashboard(demo, secondary)
    until(lambda: drained(primary) and not termios.tcgetattr(secondary)[3] & termios.ECHO, "the dashboard")
    program.terminate()
    until(lambda: drained(primary) and program.poll() is not None, "the end")

    assert termios.tcgetattr(secondary)[3] == before[3]
    os.close(primary)
    os.close(secondary)


def test_a_dashboard_whose_terminal_is_gone_ends_although_hang_ups_are_ignored(demo: Demo) -> None:
    primary, secondary = os.openpty()
    program = dashboard(demo, secondary)
    os.close(secondary)
    said = b""
    while b"stops done" not in said:
        said += os.read(primary, 65536)
    os.close(primary)

    until(lambda: program.poll() is not None, "the end")
    assert program.returncode == 128 + signal.SIGHUP


def dashboard(demo: Demo, terminal: int) -> subprocess.Popen[bytes]:
    """The dashboard in a terminal that does not control it, as after nohup."""
    words = [installed(), "demo", "--keep", str(demo.folder), "--now", NOW]
    environ = environment(demo.home)
    return subprocess.Popen(
        words, stdin=terminal, stdout=terminal, stderr=terminal, env=environ, start_new_session=True
    )


def drained(primary: int) -> bool:
    """Read what is there, so that the program can go on writing."""
    if select.select([primary], [], [], 0)[0]:
        os.read(primary, 65536)
    return True


@pytest.mark.parametrize("number", SIGNALS, ids=lambda number: number.name)
def test_a_demo_that_is_ended_by_a_signal_leaves_no_folder_behind(tmp_path: Path, number: signal.Signals) -> None:
    temporary = tmp_path / "temporary"
    temporary.mkdir()
    words = ["/usr/bin/env", f"TMPDIR={temporary}", installed(), "demo", "--now", NOW]
    with Terminal(words, tmp_path / "home") as terminal:
        terminal.shows("stops done")
        assert list(temporary.glob("rackround-demo-*"))
        terminal.child.kill(number)
        last_words(terminal)

    assert list(temporary.iterdir()) == []
