"""The whole log as a plain JSON object; :mod:`voicelog.export.contract` describes it, and tests hold
the two together.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from typing import Any

from voicelog.domain.advice import Advice
from voicelog.domain.entry import Finding, Inspection
from voicelog.domain.fact import Fact
from voicelog.domain.photo import Photo
from voicelog.domain.vehicle import Vehicle
from voicelog.domain.zone import Zone
from voicelog.export.advice import (
    coverage_to_json,
    explanation_to_json,
    swing_to_json,
    work_to_json,
    zone_to_json,
)
from voicelog.export.answer import entry_document, gap_to_json, state_document, verdict_to_json
from voicelog.export.bench import bench_notes
from voicelog.export.header import header
from voicelog.export.values import texts
from voicelog.export.vehicle import photo_to_json, vehicle_to_json
from voicelog.export.version import CONTRACT

NOTICE = (
    "voicelog grades what was said, by rules that can be read; it vouches for nothing, and a place "
    "that nobody looked at stays unknown."
)

STANDING_CAUTIONS = (
    "Check the lift points for rot before the vehicle goes up; a jack alone holds nobody's weight, "
    "use stands.",
    "Wear eye and dust protection when scraping, brushing or tapping.",
    "Ask the owner before you scrape or probe.",
    "Never pick at a pressurised pipe or at a tank.",
    "Structural welding is work for a qualified welder, by the maker's instructions and local law.",
)
"""Shown with every log; the shop's own, from its rules, may take their place."""

_NO_ADVICE, _NO_VEHICLE = Advice(), Vehicle()


def log_document(
    facts: Sequence[Fact],
    inspection: Inspection,
    *,
    zones: Iterable[Zone] = (),
    cautions: Iterable[str] = STANDING_CAUTIONS,
    advice: Advice = _NO_ADVICE,
    vehicle: Vehicle = _NO_VEHICLE,
    photos: Iterable[Photo] = (),
) -> dict[str, Any]:
    """What ``export --to json`` writes: everything :func:`answer` holds, and the log around it.

    Args:
        facts: the log's facts in order, the one that opened it among them.
        inspection: the same facts, folded.
        zones: the places of the map, in its order.
        cautions: sentences that go with every log.
        advice: what follows from the inspection.
        vehicle: what the log knows of it.
        photos: pictures that lie beside the log.

    Returns:
        Plain JSON values; the document fits ``shared/schema/inspection.schema.json``.

    Raises:
        LogFault: no fact says that the log was opened, or one of the bench cannot be read.
    """
    notes, found = bench_notes(facts), inspection.findings
    whys = {name: explanation_to_json(why) for name, why in advice.explanations.items()}
    return {
        "contract": CONTRACT,
        "log": header(facts),
        "vehicle": vehicle_to_json(vehicle),
        "zones": [zone_to_json(zone) for zone in zones],
        "entries": [_logged(finding, notes, whys) for finding in inspection.live],
        "withdrawn": [_logged(finding, notes, {}) for finding in found if finding.withdrawn],
        "photos": [photo_to_json(photo) for photo in photos],
        "coverage": coverage_to_json(inspection.coverage, advice.places),
        "gaps": [gap_to_json(gap) for gap in inspection.gaps],
        "verdict": verdict_to_json(inspection.verdict)
        | {
            "because": texts(inspection.verdict.because),
            "provisional": inspection.verdict.provisional,
            "swings": [swing_to_json(swing) for swing in advice.swings],
        },
        "work_list": [work_to_json(item) for item in advice.work],
        "cautions": texts(cautions),
        "notice": NOTICE,
    }


def _logged(
    finding: Finding, notes: Mapping[str, dict[str, Any]], whys: Mapping[str, dict[str, Any]]
) -> dict[str, Any]:
    """An entry with why it is graded so, what was said of it at the time, every earlier state, and
    its corrections.
    """
    document = entry_document(finding)
    if finding.entry.id in whys:
        document["explanation"] = whys[finding.entry.id]
    if finding.cautions:
        document["cautions"] = texts(finding.cautions)
    document["history"] = [state_document(state, {}) for state in finding.history]
    return document | notes.get(finding.entry.id, {})
