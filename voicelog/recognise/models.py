"""Models that can be had: what is there, and fetching the small English one when asked."""

from __future__ import annotations

import contextlib
import errno
import io
import socket
import tempfile
import zipfile
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from voicelog.errors import EarFault, StorageFault, UsageFault
from voicelog.recognise.moonshine_model import MODEL, model_folder
from voicelog.recognise.vosk_engine import vosk_library
from voicelog.recognise.vosk_models import cache_folder, english_models, is_model
from voicelog.recognise.whisper_model import FILES as SECOND_FILES
from voicelog.recognise.whisper_model import MODEL as SECOND_MODEL
from voicelog.tongue import worded

SMALL_ENGLISH = "vosk-model-small-en-us-0.15"

FETCHABLE = {SMALL_ENGLISH: 40}
"""Models that ``voicelog model get`` fetches, with their rough size in megabytes."""

TIMEOUT_S = 30.0
"""Silence on the line after which a download is given up."""

Progress = Callable[[int, int | None], None]
"""Called with the bytes fetched so far and the bytes there are, None where that is unknown."""

_DISK = {errno.ENOSPC, errno.EDQUOT, errno.EROFS, errno.EACCES, errno.EPERM}


@dataclass(frozen=True, slots=True)
class ModelStatus:
    """A model and whether it is there.

    Args:
        name: what ``voicelog model get`` and the log call it.
        ear: the ear that uses it.
        folder: where it lies; None when it is not installed.
        hint: how to get it; empty when it is there.
    """

    name: str
    ear: str
    folder: Path | None
    hint: str = ""


def list_models() -> tuple[ModelStatus, ...]:
    """What is installed and what could be; asks nobody outside this machine."""
    built_in = _carried(MODEL, "built-in", model_folder)
    second = _carried(SECOND_MODEL, "second", SECOND_FILES.folder)
    there = tuple(ModelStatus(path.name, "vosk", path) for path in english_models())
    missing = tuple(
        ModelStatus(name, "vosk", None, f"voicelog model get {name} (about {size} MB)")
        for name, size in FETCHABLE.items()
        if name not in {status.name for status in there}
    )
    return (built_in, second, *there, *missing)


def _carried(name: str, ear: str, folder: Callable[[], Path]) -> ModelStatus:
    """A model that a package carries."""
    try:
        return ModelStatus(name, ear, folder())
    except EarFault as fault:
        return ModelStatus(name, ear, None, fault.hint)


def get_model(
    name: str = SMALL_ENGLISH,
    progress: Progress | None = None,
    *,
    library: Any = None,
    cache: Path | None = None,
) -> Path:
    """Fetch a model with Vosk's own downloader, check it, and put it in the user's cache.

    Nothing is fetched when it is there already. It is unpacked beside its place and moved there
    last, so that an interrupted download leaves nothing behind.

    Args:
        name: one of :data:`FETCHABLE`.
        progress: told how far it is.
        library: what offers Vosk's Python interface; the installed package when left out.
        cache: where to put it; Vosk's cache when left out.

    Raises:
        UsageFault: when there is no such model.
        EarFault: when it cannot be fetched, or what came is not a model.
        StorageFault: when the disk has no room.
    """
    if name not in FETCHABLE:
        raise UsageFault(
            worded("There is no model {name} to get", name=name),
            worded("Get {names}", names=", ".join(FETCHABLE)),
        )
    home = cache or cache_folder()
    if is_model(home / name):
        return home / name
    with _plain_faults(name):
        home.mkdir(parents=True, exist_ok=True)
        with tempfile.TemporaryDirectory(prefix=".fetching-", dir=home) as folder:
            _fetch(library or vosk_library(), Path(folder) / name, progress)
            if not is_model(Path(folder) / name):
                raise EarFault(
                    worded("What came as {name} is not a Vosk model", name=name),
                    worded("Try again later"),
                )
            if (home / name).exists():  # half a model from elsewhere: it goes with the folder
                (home / name).rename(Path(folder) / "before")
            (Path(folder) / name).rename(home / name)
    return home / name


def _fetch(library: Any, place: Path, progress: Progress | None) -> None:
    """Run Vosk's downloader without a model of its own, and with our progress for its bar."""
    before = socket.getdefaulttimeout()
    socket.setdefaulttimeout(TIMEOUT_S)
    try:
        with contextlib.ExitStack() as muted:
            muted.enter_context(contextlib.redirect_stderr(io.StringIO()))
            library.Model.download_model(_Downloader(progress, muted.close), place)
    finally:
        socket.setdefaulttimeout(before)


class _Downloader:
    """Stands in for the model object that Vosk's ``download_model`` is a method of.

    Args:
        progress: told how far it is.
        unmute: gives standard error back once Vosk's own bar has been made without it.
    """

    def __init__(self, progress: Progress | None, unmute: Callable[[], None]) -> None:
        self._progress = progress
        self._unmute = unmute

    def download_progress_hook(self, bar: object) -> Callable[[int, int, int | None], None]:
        """What Vosk asks for to follow the download, in the form ``urlretrieve`` calls it."""
        self._unmute()
        self._bar = bar  # kept alive: it would print itself when let go

        def follow(blocks: int = 1, block_bytes: int = 1, total: int | None = None) -> None:
            if self._progress:
                whole = total if total and total > 0 else None
                done = blocks * block_bytes
                self._progress(min(done, whole) if whole else done, whole)

        return follow


def _reason(error: OSError) -> str:
    """Why it could not be fetched, without the system's numbers."""
    inner = getattr(error, "reason", error)  # what urllib wraps
    return str(getattr(inner, "strerror", None) or inner)


@contextlib.contextmanager
def _plain_faults(name: str) -> Iterator[None]:
    """Turn what can go wrong with a download into faults with a next step."""
    try:
        yield
    except zipfile.BadZipFile as error:
        raise EarFault(
            worded("{name} arrived damaged ({error})", name=name, error=error), worded("Try again")
        ) from error
    except OSError as error:
        if error.errno in _DISK:
            raise StorageFault(
                worded("{name} cannot be stored ({reason})", name=name, reason=error.strerror),
                worded("Free some disk space"),
            ) from error
        raise EarFault(
            worded(
                "{name} cannot be fetched ({reason})",
                name=name,
                reason=_reason(error),
            ),
            worded(
                "Check the network and try again, or unpack the model from elsewhere and give --model"
            ),
        ) from error
