"""The coating of each place on the published scales, from the rusted shares that were said.

A rating says nothing of the steel under the coating: it is never shown beside a verdict.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import replace

from voicelog.domain.entry import Finding, Inspection, Kind
from voicelog.domain.rating import CoatingRating, coating_rating, imo_condition
from voicelog.domain.zone import ZoneMap
from voicelog.findings.coverage import Place
from voicelog.findings.facts_of import number
from voicelog.findings.place_findings import at_places

RUST = frozenset(
    ("surface-rust", "rust-weep", "scale", "pitting", "delamination", "pack-rust")
)  # fmt: skip
"""Conditions whose area is one of rust. Blistering and peeling are no rust yet, a stain is none of its
own, and thin or missing metal is no coating."""

HARD_SCALE = frozenset(("scale", "delamination"))
"""Of these the ones that the IMO table counts as hard rust scale."""

EDGES = frozenset(("edge", "weld", "seam"))
"""Parts whose rust the IMO table counts by length, apart from the surface."""

_Patch = tuple[str, str]
"""Face and condition: what is told again of both is the same rust."""


def coatings(inspection: Inspection, zone_map: ZoneMap) -> Mapping[Place, CoatingRating]:
    """The coating of every place of which a rusted share of the surface was said.

    Ours, because the scales say nothing of remarks that come one by one: the same condition on the
    same face is told again of the same rust, so the largest share counts; different conditions on one
    face lie beside each other, so their shares add up, to 100 at most; of several faces the worst
    counts. Rust on edges, welds and seams goes into the IMO condition alone, the worst of it. A place
    of which only that was said has no rating: its surface may be whole.

    Args:
        inspection: a folded log; what was withdrawn has no say.
        zone_map: the log's own map.
    """
    told: dict[Place, list[Finding]] = {}
    for place, finding in at_places(inspection.live, zone_map):
        if _share(finding) is not None:
            told.setdefault(place, []).append(finding)
    rated = {place: _rating(findings) for place, findings in told.items()}
    return {place: rating for place, rating in rated.items() if rating is not None}


def _share(finding: Finding) -> float | None:
    """The rusted share of a finding, in percent; None where it tells none."""
    slots = finding.entry.slots
    if finding.entry.kind is not Kind.FINDING or slots.get("condition") not in RUST:
        return None
    share = number(slots, "area_percent")
    return share if share is not None and 0 <= share <= 100 else None


def _rating(findings: list[Finding]) -> CoatingRating | None:
    edges = max((_share(finding) or 0.0 for finding in findings if _on_edge(finding)), default=0.0)
    patches: dict[_Patch, float] = {}
    for finding in findings:
        if not _on_edge(finding):
            slots = finding.entry.slots
            patch = (str(slots.get("face", "")), str(slots["condition"]))
            patches[patch] = max(patches.get(patch, 0.0), _share(finding) or 0.0)
    if not patches:
        return None
    rusted = _worst_face(patches)
    scale = _worst_face({patch: s for patch, s in patches.items() if patch[1] in HARD_SCALE})
    imo = imo_condition(rusted, scale_percent=scale, edges_percent=edges)
    return replace(coating_rating(rusted), imo=imo)


def _on_edge(finding: Finding) -> bool:
    return finding.entry.slots.get("part") in EDGES


def _worst_face(patches: Mapping[_Patch, float]) -> float:
    """The largest sum of one face, in percent."""
    faces: dict[str, float] = {}
    for (face, _), share in patches.items():
        faces[face] = min(100.0, faces.get(face, 0.0) + share)
    return max(faces.values(), default=0.0)
