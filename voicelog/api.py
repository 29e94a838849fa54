"""What other Python programs may rely on: all names of this module, and nothing else.

Everything else may change with any version. Programs that only read need none of it: they take the
published documents, as ``shared/CONTRACT.md`` tells.

    from voicelog.api import document_of, open_log

    document = document_of(open_log(Path("logs/20260314T080530Z-pickup")))
"""

from __future__ import annotations

from voicelog import __version__
from voicelog.errors import VoicelogError
from voicelog.export.contract import validate
from voicelog.export.version import CONTRACT
from voicelog.runtime.logs import Opened, document_of, open_log

__all__ = [
    "CONTRACT",
    "Opened",
    "VoicelogError",
    "__version__",
    "document_of",
    "open_log",
    "validate",
]
