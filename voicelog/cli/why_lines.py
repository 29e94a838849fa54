"""Grades and verdicts explained, line by line: each can be understood by itself, for screen readers."""

from __future__ import annotations

from collections.abc import Iterator, Sequence
from dataclasses import asdict
from typing import Any

import click
from rich.text import Text

from voicelog.cli.show import VERDICT, console
from voicelog.cli.wording import finding_lines
from voicelog.domain.advice import Explanation, Pointer, Swing
from voicelog.domain.entry import Finding, Kind
from voicelog.domain.grade import REGIONS
from voicelog.domain.inert import inert
from voicelog.domain.zone import ZoneMap
from voicelog.errors import UsageFault
from voicelog.export.advice import explanation_to_json, swing_to_json
from voicelog.export.answer import answer, entry_document
from voicelog.export.json_file import json_text
from voicelog.findings.pointers import Pointing
from voicelog.findings.thickness import loss_in_words
from voicelog.findings.what_if.explaining import Explainer
from voicelog.findings.what_if.sensitivity import alike, place_of, swings
from voicelog.findings.wording import what_if_in_words
from voicelog.runtime.going_on import rails_then
from voicelog.runtime.logs import Opened
from voicelog.tongue import worded

MOST = 12
"""Open places told without ``--all``."""


class Why:
    """What can be explained of a log.

    Args:
        opened: the log.
        regions: whose public rules are pointed at.
    """

    def __init__(self, opened: Opened, regions: Sequence[str] = ()) -> None:
        self.opened = opened
        grammar = opened.grammar
        self.limits = grammar.rules.limits
        self._explainer = Explainer(grammar.zone_map, grammar.rules)
        self._regions = tuple(regions)
        self._pointing: Pointing | None = None

    def finding(self, name: str) -> Finding:
        """The entry of that id.

        Raises:
            UsageFault: there is none.
        """
        for finding in self.opened.inspection.findings:
            if finding.entry.id == name:
                return finding
        raise UsageFault(
            worded("The log has no entry {name}", name=repr(inert(name, 40))),
            worded("voicelog review --plain lists them"),
        )

    def explain(self, finding: Finding) -> Explanation:
        """Why it has its grade."""
        return self._explainer.explain(finding)

    def pointers(self, finding: Finding) -> tuple[Pointer, ...]:
        """The public rules of the regions asked for."""
        if not self._regions:
            return ()
        if self._pointing is None:
            from voicelog.config.pointers import with_pointers  # pydantic starts slowly

            grammar = self.opened.grammar
            rules = with_pointers(grammar.rules, self._regions)
            self._pointing = Pointing(grammar.zone_map, rules, self._regions)
        return self._pointing.at(finding)

    def swings(self) -> tuple[Swing, ...]:
        """What could change the verdict."""
        opened, grammar = self.opened, self.opened.grammar
        rails = rails_then(opened.log.facts[0].body)
        return swings(opened.inspection, grammar.zone_map, grammar.rules, rails)


def print_entries(why: Why, findings: Sequence[Finding], *, as_json: bool) -> None:
    """Print why these entries have their grades."""
    if as_json:
        click.echo(json_text({"entries": [_entry_json(why, one) for one in findings]}), nl=False)
        return
    out = console()
    for finding in findings:
        for line in entry_lines(why, finding):
            out.print(line)


def print_verdict(why: Why, *, everything: bool, as_json: bool) -> None:
    """Print why the verdict is as it is, and what could change it."""
    if as_json:
        click.echo(json_text({"verdict": _verdict_json(why)}), nl=False)
        return
    out = console()
    for line in verdict_lines(why, everything=everything):
        out.print(line)


def entry_lines(why: Why, finding: Finding) -> Iterator[Text]:
    """One entry: what it is, each rule with its source, the wall, what would change it."""
    yield from finding_lines(finding, why.opened.grammar.zone_map)
    if finding.words or finding.entry.text:
        yield Text("        " + worded("Heard: “{text}”", text=inert(finding.entry.text)))
    told = why.explain(finding)
    if finding.entry.kind is not Kind.FINDING:
        yield Text("        " + worded("It has no grade: only findings are graded."))
    for number, (rule, did) in enumerate(zip(told.fired, told.told, strict=True), 1):
        yield Text(
            "        "
            + worded(
                "Rule {number}, {rule}: {text}",
                number=number,
                rule=inert(rule.id),
                text=inert(rule.text),
            )
        )
        yield Text(
            "          "
            + worded("{did} Source: {source}.", did=inert(did), source=inert(rule.source))
        )
    if finding.spoken_grade is not None:
        yield Text(f"        {_overruled(finding)}")
    if told.loss is not None:
        yield Text("        " + worded("Wall: {wall}", wall=loss_in_words(told.loss, why.limits)))
    for one in told.what_ifs:
        yield Text("        " + worded("It would be {what_if}.", what_if=what_if_in_words(one)))
    if told.fired and not told.what_ifs:
        yield Text("        " + worded("No single further thing would have changed it."))
    for pointer in why.pointers(finding):
        yield Text(f"        {_pointer(pointer)}")


def _overruled(finding: Finding) -> str:
    said, counts = finding.spoken_grade, finding.grade
    if said is finding.computed_grade:
        return worded("The inspector called it {said} as well.", said=said)
    kept = (
        ""
        if counts is said
        else (
            " "
            + worded("{counts} counts: it is never called less.", counts=str(counts).capitalize())
        )
    )
    return worded(
        "The inspector called it {said}, the rules give {computed_grade}.{kept}",
        said=said,
        computed_grade=finding.computed_grade,
        kept=kept,
    )


def _pointer(pointer: Pointer) -> str:
    region = REGIONS.get(pointer.region, pointer.region)
    where = f" {pointer.where}" if pointer.where else ""
    return inert(
        worded(
            "To look up ({region}): {document}, {item}: {about}{where}",
            region=region,
            document=pointer.document,
            item=pointer.item,
            about=pointer.about,
            where=where,
        )
    )


def verdict_lines(why: Why, *, everything: bool) -> Iterator[Text]:
    """The three answers, their reasons, and what could change them one at a time."""
    verdict = why.opened.inspection.verdict
    for name, question in VERDICT.items():
        yield Text(f"  {worded(question)} {getattr(verdict, name).replace('-', ' ')}")
    yield from (Text(f"   - {inert(reason)}") for reason in verdict.because)
    found = why.swings()
    if not found:
        yield Text("  " + worded("No single open place or entry could change it."))
        return
    yield Text(
        "  "
        + worded(
            "What could change it, one thing at a time ({count}), the gravest first:",
            count=len(found),
        )
    )
    groups = alike(found)
    shown = groups if everything else groups[:MOST]
    for number, group in enumerate(shown, 1):
        yield Text(f"   {number}. {_swing(group, why.opened.grammar.zone_map)}")
    if (left := sum(map(len, groups[len(shown) :]))) > 0:
        yield Text("   " + worded("… and {left} more: --all", left=left))


def _swing(group: Sequence[Swing], zone_map: ZoneMap) -> str:
    """One sentence for all that could change it alike."""
    places = [place_of(swing.gap, zone_map) for swing in group]
    rest = group[0].text.removeprefix(places[0])
    return inert("; ".join(places) + rest)


def _entry_json(why: Why, finding: Finding) -> dict[str, Any]:
    told = entry_document(finding) | {"explanation": explanation_to_json(why.explain(finding))}
    pointers = [asdict(pointer) for pointer in why.pointers(finding)]
    return told | ({"pointers": pointers} if pointers else {})


def _verdict_json(why: Why) -> dict[str, Any]:
    inspection = why.opened.inspection
    told: dict[str, Any] = answer(inspection)["verdict"]
    return told | {
        "provisional": inspection.verdict.provisional,
        "because": [inert(reason) for reason in inspection.verdict.because],
        "swings": [swing_to_json(swing) for swing in why.swings()],
    }
