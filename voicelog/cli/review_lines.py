"""A log on the bench as lines of text, for screen readers."""

from __future__ import annotations

import shlex
from collections.abc import Iterator
from typing import Any

import click
from rich.text import Text

from voicelog.cli.review_json import entry_json, review_json
from voicelog.cli.show import console
from voicelog.cli.wording import finding_lines
from voicelog.domain.entry import Finding
from voicelog.domain.grade import Grade
from voicelog.domain.heard import Hypothesis
from voicelog.domain.inert import inert
from voicelog.domain.local_time import stamp, zone_of
from voicelog.domain.opinion import in_words
from voicelog.domain.photo import times_shown
from voicelog.domain.revision import Alternative
from voicelog.domain.signing import changed_after, entries_after
from voicelog.domain.utterance import Utterance
from voicelog.export.json_file import json_text
from voicelog.review.order import Order, sorted_by
from voicelog.review.sieve import UNPLACED, Sieve, Sifted, sift
from voicelog.runtime.history_words import steps
from voicelog.runtime.review import Review
from voicelog.tongue import worded, worded_many
from voicelog.tui.review.filter_line import filter_words
from voicelog.tui.review.spoken import WORD_SIGNS, sureness


def print_review(
    review: Review, *, entry: str | None, as_json: bool, order: str, **filters: Any
) -> None:
    """Print the entries that the filters let through, or one entry in full.

    Args:
        review: the log.
        entry: only this one.
        as_json: for a program.
        order: what they are sorted by.
        filters: the options of the command.

    Raises:
        UsageFault: there is no such entry or zone.
    """
    if entry is not None:
        finding = review.finding(entry)
        if as_json:
            click.echo(json_text(entry_json(review, finding)), nl=False)
        else:
            _show(entry_lines(review, finding))
        return
    sieve = _sieve(review, **filters)
    findings = sorted_by(review.inspection().findings, Order(order), review.grammar.zone_map)
    after = entries_after(review.facts)
    sifted = sift(
        findings, sieve, review.grammar.zone_map, rails=review.rails, after=after,
        pictured_in=times_shown(review.photos()),
    )  # fmt: skip
    if as_json:
        click.echo(json_text(review_json(review, sifted)), nl=False)
    else:
        _show(review_lines(review, sifted))


def review_lines(review: Review, sifted: Sifted) -> Iterator[Text]:
    """The log, its entries, what is open, and the commands that go on."""
    yield Text(_log_words(review), style="bold")
    yield Text(filter_words(sifted))
    after = entries_after(review.facts)
    for finding in sifted.shown:
        yield from finding_lines(finding, review.grammar.zone_map)
        if finding.entry.id in after:
            yield Text(("            " + worded("changed after signing")), style="bold")
    points = review.open_points()
    yield Text(worded("Open: {count}", count=len(points) or worded("nothing")), style="bold")
    for point in points:
        yield Text(f"  - {inert(point.text)}")
    log = shlex.quote(str(review.folder))
    if review.read_only:
        yield Text(
            worded("This log can only be read now: {why}", why=inert(review.read_only)),
            style="bold",
        )
        return
    yield Text(worded("One entry in full: voicelog review {log} --plain --entry ID", log=log))
    yield Text(
        worded("To put it right:   voicelog amend {log} --entry ID --set side=right", log=log)
    )
    yield Text(worded("To sign:           voicelog sign {log}", log=log))


def entry_lines(review: Review, finding: Finding) -> Iterator[Text]:
    """One entry in full: what was heard, other readings, rules as sentences, what happened since."""
    zone_map, name = review.grammar.zone_map, finding.entry.id
    zone = zone_of(review.facts[0].body)
    yield from finding_lines(finding, zone_map)
    yield from _heard_lines(review.utterance(name))
    if finding.entry.text:
        yield _line(worded("read as:"), f"“{inert(finding.entry.text)}”")
    for number, other in enumerate(review.alternatives(name), 1):
        yield from _alternative_lines(number, other, review)
    rules = {rule.id: rule.text for rule in review.grammar.rules.rules}
    for rule in finding.rules:
        yield _line(worded("why:"), inert(rules.get(rule, worded("rule {rule}", rule=rule))))
    for step in steps(finding, review.revisions(name), zone_map):
        yield _line(
            worded("since:"), f"{stamp(step.at, zone, seconds=True)} {inert(step.in_words())}"
        )
    if review.after_signing(name):
        yield _line("", worded("changed after signing"))


def _sieve(review: Review, **flags: Any) -> Sieve:
    grade, zone = flags["grade"], flags["zone"]
    return Sieve(
        doubtful=flags["doubtful"], unsafe=flags["unsafe"], no_photo=flags["no_photo"],
        changed_after_signing=flags["changed_after_signing"],
        withdrawn=not flags["no_withdrawn"], remarks=flags["remarks"],
        zone=None if zone is None else _zone(review, zone), side=flags["side"],
        grade=None if grade is None else Grade(grade), text=flags["find"],
    )  # fmt: skip


def _zone(review: Review, text: str) -> str:
    from voicelog.interpret.slot_text import slot_value

    if text == UNPLACED:
        return text
    grammar = review.grammar
    return str(slot_value("zone", text, grammar.zone_map, grammar.vocabulary))


def _log_words(review: Review) -> str:
    findings = review.inspection().findings
    newest = (review.signatures() or (None,))[-1]
    told = worded(
        "{subject}: {count} entries",
        subject=inert(review.subject) or worded("A log"),
        count=len(findings),
    )
    if newest is None:
        return worded("{told}, not signed", told=told)
    changes = len(changed_after(review.facts, newest))
    since = worded_many(", {count} change since", ", {count} changes since", changes)
    return worded(
        "{told}, signed by {by} on {at}{since}",
        told=told,
        by=inert(newest.by),
        at=stamp(newest.at, zone_of(review.facts[0].body)),
        since=since if changes else "",
    )


def _heard_lines(utterance: Utterance) -> Iterator[Text]:
    for number, hypothesis in enumerate(utterance.heard.hypotheses):
        yield _line(worded("heard:") if number == 0 else worded("or heard:"), _marked(hypothesis))
    if utterance.second is not None:
        yield _line(worded("2nd ear:"), in_words(utterance.second))
    kept = worded("typed") if utterance.typed else utterance.lost or worded("no sound kept")
    yield _line(worded("sound:"), kept if utterance.clip is None else utterance.clip.file)


def _marked(hypothesis: Hypothesis) -> str:
    """The words, those that the ear was not sure of with question marks behind them."""
    if not hypothesis.words:
        return inert(hypothesis.text)
    return " ".join(inert(word.text) + WORD_SIGNS[sureness(word)] for word in hypothesis.words)


def _alternative_lines(number: int, other: Alternative, review: Review) -> Iterator[Text]:
    first = next(finding_lines(other.finding, review.grammar.zone_map))
    yield Text.assemble(
        (("      " + worded("or {number}:", number=number) + " "), "bold"), first.plain.strip()
    )
    yield _line(
        "",
        worded(
            "from “{text}”; --runner-up {number} takes it", text=inert(other.text), number=number
        ),
    )


def _line(name: str, text: str) -> Text:
    return Text.assemble(f"      {name:<10}", text)


def _show(lines: Iterator[Text]) -> None:
    out = console()
    for line in lines:
        out.print(line)
