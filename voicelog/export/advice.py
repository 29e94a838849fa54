"""What follows from an inspection as plain JSON: why, what could change it, what to do, the places."""

from __future__ import annotations

from collections.abc import Iterable, Mapping
from typing import Any

from voicelog.domain.advice import Explanation, PlaceState, Swing, WallLoss, WhatIf, WorkItem
from voicelog.domain.entry import Seen
from voicelog.domain.rating import CoatingRating
from voicelog.domain.zone import Zone
from voicelog.export.answer import gap_to_json
from voicelog.export.values import UNPLACED, clean, known, rounded, texts, word_to_json

_ANSWERS = ("drive", "work", "tier")


def explanation_to_json(explanation: Explanation) -> dict[str, Any]:
    """The rules that fired with what each did, what would change the grade, and the wall loss."""
    rules = [
        {"id": clean(rule.id), "text": clean(rule.text), "source": clean(rule.source),
         "did": clean(told)}
        for rule, told in zip(explanation.fired, explanation.told, strict=True)
    ]  # fmt: skip
    document: dict[str, Any] = {"rules": rules}
    if explanation.what_ifs:
        document["what_ifs"] = [_what_if(one) for one in explanation.what_ifs]
    if explanation.loss is not None:
        document["wall_loss"] = _wall_loss(explanation.loss)
    return document


def _what_if(one: WhatIf) -> dict[str, Any]:
    return {
        "said": clean(one.said),
        "grade": str(one.grade),
        "unproven": one.unproven,
        "rules": texts(one.rules),
    }


def _wall_loss(loss: WallLoss) -> dict[str, Any]:
    told: dict[str, Any] = {
        "percent": rounded(loss.percent),
        "low_percent": rounded(loss.low),
        "high_percent": rounded(loss.high),
        "measured_mm": rounded(loss.measured_mm),
        "nominal_mm": rounded(loss.nominal_mm),
        "nominal_from": loss.nominal_from or None,
        "uncertainty_mm": rounded(loss.uncertainty_mm) or None,
        "straddles": texts(loss.straddles) or None,
    }
    return known(told)


def swing_to_json(swing: Swing) -> dict[str, Any]:
    """An open place or entry, and the three answers in the worst and in the best case."""
    return {
        "gap": gap_to_json(swing.gap),
        "supposed": clean(swing.supposed),
        "if_bad": dict(zip(_ANSWERS, swing.if_bad, strict=True)),
        "if_good": dict(zip(_ANSWERS, swing.if_good, strict=True)),
        "text": clean(swing.text),
    }


def work_to_json(item: WorkItem) -> dict[str, Any]:
    """One piece of work."""
    told: dict[str, Any] = {
        "urgency": item.urgency,
        "zone": word_to_json("zone", item.zone) or UNPLACED,
        "side": word_to_json("side", item.side),
        "entry": clean(item.entry) or None,
        "place": clean(item.place),
        "what": clean(item.what),
        "steps": texts(item.steps),
        "cautions": texts(item.cautions) or None,
        "source": clean(item.source),
    }
    return known(told)


def coverage_to_json(
    seen: Mapping[tuple[str, str | None], Seen], places: Iterable[PlaceState]
) -> list[dict[str, Any]]:
    """What was looked at in each place, and all that was found there together."""
    states = {(state.zone, state.side): state for state in places}
    return [_row(*place, one, states.get(place)) for place, one in seen.items()]


def _row(zone: str, side: str | None, seen: Seen, state: PlaceState | None) -> dict[str, Any]:
    row: dict[str, Any] = {"zone": zone, "side": side, "looked": seen.looked}
    row |= {"probed": seen.probed, "inside": seen.inside, "photo": seen.photo}
    if state is not None:
        row |= {
            "grade": None if state.grade is None else str(state.grade),
            "entries": texts(state.entries) or None,
            "unproven": state.unproven or None,
            "refused": state.refused or None,
            "coating": None if state.coating is None else _coating(state.coating),
        }
    return known(row)


def _coating(rating: CoatingRating) -> dict[str, Any]:
    return {
        "astm_d610": rating.d610,
        "iso_4628_3_ri": rating.ri,
        "imo_circ_1330": str(rating.imo),
        "approximate": rating.approximate,
    }


def zone_to_json(zone: Zone) -> dict[str, Any]:
    """A place of the map, so that a reader can name and draw it."""
    told: dict[str, Any] = {
        "id": zone.id,
        "title": clean(zone.title),
        "role": str(zone.role),
        "layout": str(zone.layout),
        "cavity": str(zone.cavity),
        "main": zone.main or None,
        "carries": clean(zone.carries) or None,
        "nominal_mm": rounded(zone.nominal_mm),
        "plan": None if zone.plan is None else [rounded(part) for part in zone.plan],
    }
    return known(told)
