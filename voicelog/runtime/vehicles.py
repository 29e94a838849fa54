"""The vehicle of a log that lies there, or of an inspection of which none is kept."""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

from voicelog.domain.entry import Inspection
from voicelog.domain.fact import Fact
from voicelog.domain.vehicle import VEHICLE, Vehicle
from voicelog.findings.vehicle import vehicle_of
from voicelog.journal.reading import read_log


def vehicle_in(folder: Path, inspection: Inspection) -> Vehicle:
    """What a log knows of its vehicle.

    Args:
        folder: the log's.
        inspection: the same log, folded.

    Raises:
        InputFault: there is no log.
        LogFault: it is damaged, or tells of the vehicle what cannot be read.
    """
    return vehicle_of(read_log(folder).facts, inspection)


def vehicle_without_log(told: Mapping[str, Any], subject: str, inspection: Inspection) -> Vehicle:
    """The same where nothing is kept: what flags told, and what was said."""
    opened = Fact(1, "", 0.0, "", "opened", {"subject": subject, VEHICLE: told})
    return vehicle_of([opened], inspection)
