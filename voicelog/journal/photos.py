"""Pictures of a log: files beside its lines, on disk before a line tells of them."""

from __future__ import annotations

import hashlib
from pathlib import Path

from voicelog.journal.naming import PHOTOS, free
from voicelog.journal.own_files import holds
from voicelog.journal.storage import have_folder, storing, sync_folder, write_file
from voicelog.tongue import worded


def write_photo(folder: Path, seq: int, data: bytes, ending: str) -> tuple[str, str]:
    """Keeps a picture as ``photos/p<seq>.<ending>``; when this returns, the disk has it.

    Another picture under that number belongs to no line (the program stopped between the picture
    and its line): it becomes ``photos/p<seq>.orphan-<n>.<its ending>``.

    Args:
        folder: the log's.
        seq: the number of the line that will tell of it.
        data: the file.
        ending: of its name, without the dot.

    Returns:
        Its path inside the log's folder, and its SHA-256.

    Raises:
        StorageFault: when the disk refuses; nothing of it is left then.
    """
    photos = folder / PHOTOS
    target = photos / f"p{seq}.{ending}"
    with storing(worded("The picture {name}", name=target.stem)):
        have_folder(photos)
        for other in sorted(photos.glob(f"p{seq}.*")):
            if not (".orphan-" in other.name or (other == target and holds(other, data))):
                other.rename(free(photos, f"p{seq}.orphan-", other.suffix))
                sync_folder(photos)
        write_file(target, data)
    return f"{PHOTOS}/{target.name}", hashlib.sha256(data).hexdigest()
