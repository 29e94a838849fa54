"""What is to be taken and written, in order; a disk that refuses makes it wait and loses nothing."""

from __future__ import annotations

from collections import deque
from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from voicelog.errors import StorageFault
from voicelog.runtime.hearing import Uttered
from voicelog.runtime.second_ear import Answered

RETRY_S = 2.0
"""How often a disk that refused is tried again."""


@dataclass(frozen=True, slots=True)
class Note:
    """A fact that is no utterance: lost sound, cautions affirmed, a stop."""

    type: str
    body: Mapping[str, Any]


Item = Uttered | Answered | Note | str
"""An utterance of sound, what a second ear made of one, a fact, or typed words."""


class Due:
    """A queue in front of the disk.

    Args:
        write: takes an item and has it on disk when it returns; asked again for the same item
            after it raised :class:`~voicelog.errors.StorageFault`.
        told: called with the fault when the disk begins to refuse, and with None when everything
            that waited is on it.
        clock: seconds that only go up.
    """

    def __init__(
        self,
        write: Callable[[Item], None],
        told: Callable[[StorageFault | None], None],
        clock: Callable[[], float],
    ) -> None:
        self._write, self._told, self._clock = write, told, clock
        self._items: deque[Item] = deque()
        self._fault: StorageFault | None = None
        self._retry_at_s = 0.0

    @property
    def refused(self) -> str:
        """Why the disk refuses at the moment; empty when it does not."""
        return str(self._fault) if self._fault else ""

    @property
    def waiting(self) -> int:
        """How many items are not on disk yet."""
        return len(self._items)

    def put(self, items: Iterable[Item]) -> None:
        """Have these written in their turn."""
        self._items.extend(items)

    def put_next(self, item: Item) -> None:
        """Have this written right after what is being written now."""
        self._items.insert(1, item)

    def work(self, *, at_once: bool = False) -> None:
        """Write what waits; while the disk refuses, try every so often, or now if asked to.

        Raises:
            Exception: an item cannot be taken at all, for a reason that is not the disk's; it is let
                go, so that it does not keep the others from the disk.
        """
        if self._fault and not at_once and self._clock() < self._retry_at_s:
            return
        while self._items:
            try:
                self._write(self._items[0])
            except StorageFault as fault:
                self._refuse(fault)
                return
            except Exception:  # not even a defect keeps the others from the disk
                self._items.popleft()
                raise
            self._items.popleft()
        if self._fault:
            self._fault = None
            self._told(None)

    def _refuse(self, fault: StorageFault) -> None:
        self._retry_at_s = self._clock() + RETRY_S
        begun = self._fault is None
        self._fault = fault
        if begun:
            self._told(fault)
