"""What a log begins with: a folder of its own, and the first fact."""

from __future__ import annotations

import uuid
from contextlib import suppress
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from voicelog import __version__
from voicelog.domain.fact import FORMAT
from voicelog.journal.naming import folder_names
from voicelog.journal.storage import PRIVATE_FOLDER, make_folder


def new_folder(parent: Path, moment: datetime, subject: str) -> Path:
    """Makes a folder that nobody has had before, named after the time and the subject.

    Args:
        parent: where it goes; made if need be.
        moment: when the log is opened.
        subject: what is inspected, in any words; may be empty.

    Raises:
        OSError: when the disk refuses it.
    """
    parent.mkdir(mode=PRIVATE_FOLDER, parents=True, exist_ok=True)
    for name in folder_names(moment, subject):
        with suppress(FileExistsError):
            make_folder(parent / name)
            break
    return parent / name


def known(moment: datetime, subject: str) -> dict[str, Any]:
    """What the journal knows itself of a log opened at ``moment``, for the first fact."""
    local = moment.astimezone()
    offset = local.utcoffset() or timedelta()
    named = {"subject": subject} if subject else {}
    return named | {
        "log_id": str(uuid.uuid4()),
        "program": f"voicelog {__version__}",
        "format": FORMAT,
        "created": local.isoformat(timespec="milliseconds"),
        "utc_offset_min": round(offset.total_seconds() / 60),
    }
