"""One writer at a time."""

from __future__ import annotations

import os
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
    """Whether somebody is writing the log now; False too where that cannot be found out.

    Nothing of the log is touched, its lock file neither.
    """
    path = folder / LOCK
    if not path.is_file():
        return False
    try:
        import fcntl
    except ImportError:  # Windows
        return _refused(folder)
    try:
        handle = os.open(path, os.O_RDONLY)
    except OSError:
        return False
    try:
        fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
    except BlockingIOError:
        return True
    except OSError:
        return False
    finally:
        os.close(handle)
    return False


def _refused(folder: Path) -> bool:
    try:
        take_lock(folder).release()
    except LockedFault:
        return True
    except OSError:
        return False
    return False
