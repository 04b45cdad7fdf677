"""A real morning at a real terminal, on the program as it was installed."""

from __future__ import annotations

from pathlib import Path
from typing import Any, Final

from tests.pty.demo import Demo, Keeper, stops_done

MOST_PRESSES: Final = 60
"""For a room of 48 tanks when nothing is odd, with one skip, one report of leftovers, one undo and one jump."""


def test_a_round_is_walked_skipped_undone_left_killed_and_found_again(tmp_path: Path) -> None:
    demo = Demo(tmp_path / "kept")
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        one, two, three, skipped, undone, sixth, *_ = demo.tanks
        for done, tank in enumerate((one, two, three), 1):
            keeper.finish(tank)
            keeper.sees_done(done)
        keeper.skip(skipped, "2")
        keeper.sees_done(4)
        keeper.finish(undone)
        keeper.undo()
        keeper.sees_done(4)
        keeper.quit()

    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(4)
        keeper.is_at(undone)
        keeper.finish(undone)
        keeper.sees_done(5)
        terminal.kill()

    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(5)
        keeper.is_at(sixth)
        keeper.quit()

    states = demo.states()
    assert [states[tank] for tank in (one, two, three, skipped, undone)] == [{"given"}] * 3 + [{"skipped"}, {"given"}]
    assert all(states[tank] == {"due"} for tank in demo.tanks[5:])


def test_what_the_screen_said_when_the_program_was_killed_is_in_the_ledger(demo: Demo) -> None:
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(0)
        terminal.press(*["space"] * 20)
        terminal.find(r"\b([7-9]|1\d|20) of \d+ stops done")
        terminal.kill()
        said = stops_done(terminal)

    states = demo.states()
    recorded = [tank for tank in demo.tanks if states[tank] == {"given"}]
    assert len(recorded) >= said
    assert recorded == demo.tanks[: len(recorded)]

    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.sees_done(len(recorded))
        keeper.is_at(demo.tanks[len(recorded)])


def test_a_morning_in_48_tanks_takes_at_most_60_key_presses(demo: Demo) -> None:
    tanks = demo.tanks
    held = {stop["tank"] for stop in demo.printed() if is_held(stop)}
    part, far = two_letters_of_one(demo, tanks[9:])
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.finish(tanks[0])
        keeper.report(tanks[1], "2")
        keeper.finish(tanks[1])
        keeper.skip(tanks[2], "1")
        keeper.sees_done(3)
        keeper.finish(tanks[3])
        keeper.undo()
        keeper.jump(part, far)
        at = tanks.index(far)
        for tank in (*tanks[at:], *tanks[3:at]):
            keeper.finish(tank)
        terminal.shows("round is done")
        presses = terminal.presses
        terminal.press("escape")
        keeper.sees_done(len(tanks))
        keeper.quit()

    states = demo.states()
    assert states.pop(tanks[2]) == {"skipped"}
    # What a rule holds back is left out by the same key, at two stops everything.
    assert {tank for tank, found in states.items() if found == {"skipped"}} == held
    assert all(found <= {"given", "skipped"} for found in states.values())
    assert presses <= MOST_PRESSES
    assert presses - len(tanks) <= MOST_PRESSES - 48, "on a day when all 48 tanks are fed it would be too many"


def is_held(stop: dict[str, Any]) -> bool:
    """Whether the printed sheet says of all that is due at a stop that it is to be held back."""
    return not stop["chores"] and all("hold back" in serving["why"] for serving in stop["servings"])


def two_letters_of_one(demo: Demo, tanks: list[str]) -> tuple[str, str]:
    """Two letters that stand in the id and name of just one of the tanks with a stop, and that tank."""
    names = {tank: f"{tank} {demo.names[tank]}".casefold() for tank in demo.tanks}
    for tank in tanks:
        for part in (names[tank][at : at + 2] for at in range(len(names[tank]) - 1)):
            if part.isalnum() and part.isascii() and sum(part in name for name in names.values()) == 1:
                return part, tank
    raise AssertionError("every two letters stand in several names")


def test_a_chore_at_a_stop_is_marked_by_one_key(demo: Demo) -> None:
    """At the first stop whose last line is a chore to wipe the glass."""
    stop = next(each for each in demo.printed() if [one["chore"] for one in each["chores"]] == ["wipe_front"])
    number = len(stop["servings"]) + 1
    with demo.open() as terminal:
        keeper = Keeper(demo, terminal)
        keeper.jump(stop["tank"], stop["tank"])
        before = terminal.presses
        terminal.press(str(number))
        terminal.shows(f"Wipe the front glass done, {stop['tank']}")
        assert terminal.presses - before == 1
        keeper.quit()

    found = next(each for each in demo.printed() if each["tank"] == stop["tank"])
    assert [one["state"] for one in found["chores"]] == ["done"]
