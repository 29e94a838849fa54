"""What waits for the disk: in order, once each, nothing lost."""

from __future__ import annotations

import pytest

from voicelog.errors import StorageFault
from voicelog.runtime.due import RETRY_S, Due, Item


class Disk:
    """Takes items unless it is full."""

    def __init__(self) -> None:
        self.full = False
        self.asked = 0
        self.has: list[Item] = []

    def write(self, item: Item) -> None:
        """Have it, or refuse it."""
        self.asked += 1
        if self.full:
            raise StorageFault("The journal could not be written (full)", "Free some space")
        self.has.append(item)


class Clock:
    """Time that somebody else lets pass."""

    now_s = 100.0

    def __call__(self) -> float:
        """Now."""
        return self.now_s


@pytest.fixture
def told() -> list[str]:
    """What the queue told of the disk."""
    return []


def due_to(disk: Disk, told: list[str], clock: Clock) -> Due:
    """A queue in front of that disk."""
    return Due(disk.write, lambda fault: told.append(str(fault or "again")), clock)


def test_everything_is_written_in_order(told: list[str]) -> None:
    """Nothing to tell while the disk takes it."""
    disk = Disk()
    due = due_to(disk, told, Clock())
    due.put(["one", "two"])
    due.put(["three"])
    due.work()
    assert (disk.has, told, due.waiting, due.refused) == (["one", "two", "three"], [], 0, "")


def test_a_full_disk_makes_all_wait_and_is_told_once(told: list[str]) -> None:
    """Trying again and again says nothing new; the order holds once there is room."""
    disk, clock = Disk(), Clock()
    due = due_to(disk, told, clock)
    disk.full = True
    due.put(["one", "two"])
    for _ in range(3):
        due.work()
        clock.now_s += RETRY_S
    assert (disk.has, due.waiting, len(told)) == ([], 2, 1)
    assert "full" in due.refused
    disk.full = False
    due.put(["three"])
    due.work()
    assert (disk.has, told[1:], due.refused) == (["one", "two", "three"], ["again"], "")


def test_a_refusing_disk_is_not_pestered(told: list[str]) -> None:
    """Between two tries nothing is asked of it, unless the end has come."""
    disk, clock = Disk(), Clock()
    due = due_to(disk, told, clock)
    disk.full = True
    due.put(["one"])
    for _ in range(10):
        due.work()
    assert disk.asked == 1
    due.work(at_once=True)
    assert disk.asked == 2
