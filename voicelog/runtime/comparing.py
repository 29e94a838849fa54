"""Two logs compared: both are read, folded by their own rules, and set side by side."""

from __future__ import annotations

from pathlib import Path

from voicelog.domain.comparison import Comparison, Inspected
from voicelog.domain.local_time import told_in, zone_of
from voicelog.findings.ledger import fold
from voicelog.findings.over_time.compare import compare
from voicelog.findings.over_time.rate import years_between
from voicelog.findings.over_time.warnings import same_rules
from voicelog.findings.vehicle import vehicle_of
from voicelog.runtime.going_on import rails_then
from voicelog.runtime.logs import Opened, open_log


def compared(old_folder: Path, new_folder: Path) -> Comparison:
    """What changed from one log to another; reading needs no lock, and nothing is written.

    Raises:
        InputFault: one of them is not there.
        LogFault: one of them is damaged or newer than this program.
    """
    older, newer = open_log(old_folder), open_log(new_folder)
    return compare(inspected(older, newer), inspected(newer))


def inspected(opened: Opened, newer: Opened | None = None) -> Inspected:
    """A log as it is compared.

    Args:
        opened: the log.
        newer: the log it is compared with, where that grades by rules of its own: the facts are
            graded by those as well, so that no grade differs for the rule's sake alone.
    """
    facts, grammar = opened.log.facts, opened.grammar
    rails, vehicle = rails_then(facts[0].body), vehicle_of(facts, opened.inspection)
    regraded = None
    if newer is not None and not same_rules(grammar.rules, newer.grammar.rules):
        regraded = fold(facts, grammar.zone_map, newer.grammar.rules, rails)
    return Inspected(
        id=str(facts[0].body.get("log_id", "")),
        at=_began(opened),
        inspection=opened.inspection,
        zone_map=grammar.zone_map,
        rules=grammar.rules,
        rails=rails,
        subject=vehicle.described or str(facts[0].body.get("subject", "")),
        vin=vehicle.vin,
        regraded=regraded,
    )


def _began(opened: Opened) -> str:
    """When the log was opened, or what it heard was recorded, whichever is earlier; RFC 3339."""
    first = opened.log.facts[0]
    at = str(first.body.get("created") or first.at)
    said = (finding.entry.at for finding in opened.inspection.findings[:1])
    began = next((earlier for earlier in said if (years_between(at, earlier) or 0) < 0), at)
    return told_in(began, zone_of(first.body))
