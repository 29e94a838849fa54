"""One writer at a time."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

from voicelog.errors import LockedFault
from voicelog.journal.naming import LOCK
from voicelog.journal.storage import PRIVATE_FILE

if TYPE_CHECKING:
    from filelock import BaseFileLock


def take_lock(folder: Path) -> BaseFileLock:
    """Locks a log for writing, or refuses at once; the system frees it if the program dies.

    Raises:
        LockedFault: when somebody else is writing the log.
        OSError: when the lock file cannot be made.
    """
    from filelock import FileLock, Timeout

    # Whichever thread closes the journal frees it, not only the one that opened it.
    lock = FileLock(folder / LOCK, mode=PRIVATE_FILE, thread_local=False)
    try:
        lock.acquire(timeout=0)
    except Timeout:
        raise LockedFault(
            f"The log {folder.name} is being written by another voicelog",
            "Close it there first; until then it can only be read.",
        ) from None
    return lock


def is_locked(folder: Path) -> bool:
    """Whether somebody is writing the log now; False too where that cannot be found out."""
    if not (folder / LOCK).is_file():
        return False
    try:
        take_lock(folder).release()
    except LockedFault:
        return True
    except OSError:
        return False
    return False
