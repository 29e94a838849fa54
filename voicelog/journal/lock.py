"""One writer at a time, on every file system.

The system's own lock frees itself when the program dies. A file system without locks (some network
shares) is stood in for by a lock file of this user on this machine: two programs here are still told
apart; a program on another machine is not noticed, and whoever opens the log is told so.
"""

from __future__ import annotations

import errno
import hashlib
import os
import sys
import tempfile
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path

from voicelog.errors import LockedFault
from voicelog.journal.naming import LOCK
from voicelog.journal.storage import PRIVATE_FILE
from voicelog.tongue import to_word, worded

WITHOUT_LOCKS = to_word(
    "The log lies on a file system without locks: a second voicelog on this machine is refused, but"
    " one on another machine would not be noticed"
)
_NONE_HERE = frozenset({errno.ENOSYS, errno.ENOLCK, errno.ENOTSUP, errno.EOPNOTSUPP})
"""What a file system without locks answers; the last two differ on some systems."""


@dataclass(frozen=True, slots=True)
class Lock:
    """A lock that is held.

    Args:
        release: lets somebody else write; from any thread, once.
        told: what a person should know of it, in a sentence; else empty.
    """

    release: Callable[[], None]
    told: str = ""


def take_lock(folder: Path) -> Lock:
    """Locks a log for writing, or refuses at once; the system frees it if the program dies.

    Raises:
        LockedFault: when somebody else is writing the log.
        OSError: when the lock file cannot be made.
    """
    try:
        return _taken(folder)
    except BlockingIOError:
        raise LockedFault(
            worded("The log {folder} is being written by another voicelog", folder=folder.name),
            worded("Close it there first; until then it can only be read."),
        ) from None


def _taken(folder: Path) -> Lock:
    try:
        return Lock(_take(folder / LOCK))
    except OSError as refusal:
        if refusal.errno not in _NONE_HERE:
            raise
    return Lock(_take(stand_in(folder)), worded(WITHOUT_LOCKS))


def stand_in(folder: Path) -> Path:
    """The lock file, on this machine, of a log whose own file system has no locks."""
    named = hashlib.sha256(os.fsencode(folder.resolve())).hexdigest()[:32]
    return stand_in_folder() / f"{_of_this_user()}{named}.lock"


def stand_in_folder() -> Path:
    """Where such lock files lie."""
    return Path(os.environ.get("XDG_RUNTIME_DIR") or tempfile.gettempdir())


def stand_ins() -> list[Path]:
    """All of this user's lock files of that kind; they stay, and are empty."""
    return sorted(stand_in_folder().glob(f"{_of_this_user()}*.lock"))


def is_locked(folder: Path) -> bool:
    """Whether somebody is writing the log now; False too where that cannot be found out.

    Nothing of the log is touched, its lock file neither.
    """
    try:
        return _is_held(folder / LOCK)
    except OSError as refusal:
        if refusal.errno not in _NONE_HERE:
            return False
    try:
        return _is_held(stand_in(folder))
    except OSError:
        return False


if sys.platform == "win32":

    def _of_this_user() -> str:
        return "voicelog-0-"  # the folder is this user's

    def _take(path: Path) -> Callable[[], None]:
        """Locks a file.

        Raises:
            BlockingIOError: when somebody else has.
            OSError: when it cannot be made.
        """
        from filelock import FileLock, Timeout

        # Whichever thread closes the journal frees it, not only the one that opened it.
        lock = FileLock(path, mode=PRIVATE_FILE, thread_local=False)
        try:
            lock.acquire(timeout=0)
        except Timeout:
            raise BlockingIOError(errno.EAGAIN, os.strerror(errno.EAGAIN)) from None
        return lock.release

    def _is_held(path: Path) -> bool:
        if not path.is_file():
            return False
        try:
            _take(path)()
        except BlockingIOError:
            return True
        return False

else:
    import fcntl

    def _of_this_user() -> str:
        return f"voicelog-{os.getuid()}-"

    def _take(path: Path) -> Callable[[], None]:
        """Locks a file.

        Raises:
            BlockingIOError: when somebody else has.
            OSError: when it cannot be made, or its file system has no locks.
        """
        handle = os.open(path, os.O_RDWR | os.O_CREAT | os.O_NOFOLLOW, PRIVATE_FILE)
        try:
            fcntl.flock(handle, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BaseException:
            os.close(handle)
            raise
        return lambda: os.close(handle)  # nobody else has it: no program is started with it

    def _is_held(path: Path) -> bool:
        """Raises FileNotFoundError where nobody ever took it."""
        handle = os.open(path, os.O_RDONLY | os.O_NOFOLLOW | os.O_NONBLOCK)  # nor wait for a pipe
        try:
            fcntl.flock(handle, fcntl.LOCK_SH | fcntl.LOCK_NB)
        except BlockingIOError:
            return True
        finally:
            os.close(handle)
        return False
