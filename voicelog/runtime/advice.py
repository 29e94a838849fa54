"""What follows from a whole inspection: why, what could change it, what to do; from several packages."""

from __future__ import annotations

from voicelog.config.grammar import Grammar
from voicelog.domain.advice import Advice
from voicelog.domain.entry import Inspection, Kind
from voicelog.domain.zone import Rails
from voicelog.findings.place_states import place_states
from voicelog.findings.what_if.explaining import Explainer
from voicelog.findings.what_if.sensitivity import swings
from voicelog.findings.work_list import work_list


def advice_of(inspection: Inspection, grammar: Grammar, rails: Rails) -> Advice:
    """Everything that is worked out from an inspection and not said in it.

    Args:
        inspection: as it stands.
        grammar: the log's own.
        rails: how the vehicle's rails are made.
    """
    zone_map, rules = grammar.zone_map, grammar.rules
    explainer = Explainer(zone_map, rules)
    return Advice(
        places=place_states(inspection, zone_map),
        explanations={
            finding.entry.id: explainer.explain(finding)
            for finding in inspection.live
            if finding.entry.kind is Kind.FINDING
        },
        swings=swings(inspection, zone_map, rules, rails),
        work=work_list(inspection, zone_map, rules, rails),
    )
