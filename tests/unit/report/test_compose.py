"""Whole reports: of nothing, of very much, of hostile words, and what never stands in one."""

from __future__ import annotations

import re
import time

import pytest
from inspected import at_the_bench, entry, log_of, material, opened, said, texts

from voicelog.config.grammar import Grammar, load_grammar
from voicelog.domain.entry import Add, Kind, Withdraw
from voicelog.domain.photo import Photo
from voicelog.domain.report import Report
from voicelog.report import compose

NEVER = re.compile(r"\b(safe|passed|roadworthy|certified|certifies|certificate)\b|[$€£]", re.I)
"""What no text of our own says."""

HOSTILE = "\x1b[31m<script>alert(1)</script>\u202e\u2066 evil\x00 {{7*7}} </style> \"'& \U0001f600"
MARKS = {"zone": "front-rail", "side": "left", "condition": "surface-rust"}


def _many(number: int) -> list[object]:
    zones = [("front-rail", "left"), ("sill", "right"), ("kick-up", "left"), ("tow-hitch", None)]
    kinds = ("hole", "crack", "surface-rust", "scale", "peeling-coating")
    made = []
    for n in range(number):
        zone, side = zones[n % 4]
        slots = {"zone": zone, "condition": kinds[n % 5], **({"side": side} if side else {})}
        made.append(entry(n + 2, **slots))
    return made


def test_a_report_of_nothing_is_whole(grammar: Grammar) -> None:
    """Opened and never spoken into: everything is open, nothing is found."""
    report = compose(material(grammar, opened()))
    assert report.findings == report.worst == report.clear == report.past == ()
    assert report.unseen
    assert report.plan.startswith("<svg")
    assert [row.label for row in report.vehicle] == ["Vehicle", "Inspected", "Not told"]


def test_a_lone_remark_is_no_finding(grammar: Grammar) -> None:
    """It is told of the past, in quotation marks, and nowhere else."""
    remark = entry(2, Kind.REMARK, text="it stood on grass", tags=("stored-damp",))
    report = compose(material(grammar, *log_of(remark)))
    assert report.findings == ()
    assert report.past == ("stored damp: “it stood on grass”",)


def test_other_remarks_are_counted_and_not_repeated(grammar: Grammar) -> None:
    """Talk stays in the log."""
    report = compose(material(grammar, *log_of(entry(2, Kind.REMARK, text="pass me the kettle"))))
    assert "kettle" not in " ".join(texts(report))
    left = next(row for row in report.chain if row.label.startswith("Left out"))
    assert left.value == "1 remark that is no finding"


def test_three_hundred_findings_are_put_together_quickly(grammar: Grammar) -> None:
    """Every one in full, numbered through, in seconds."""
    made = material(grammar, *log_of(*_many(300)))
    began = time.monotonic()
    report = compose(made)
    assert time.monotonic() - began < 5
    assert [item.number for item in report.findings] == list(range(1, 301))


def test_places_that_the_map_lacks_are_told_and_not_drawn(grammar: Grammar) -> None:
    """A log from elsewhere: its words are shown, and that the map has no such place."""
    report = compose(material(grammar, *log_of(entry(2, zone="moon-roof", condition="hole"))))
    item = report.findings[0]
    assert (item.place, item.carries) == ("Moon roof", "")
    assert "place not on the map" in item.limits
    assert "Not on the drawing, place or side not known: 1" in report.plan


def test_a_finding_whose_side_nobody_said_is_named_below_the_drawing(grammar: Grammar) -> None:
    """It is at one of two places, and shown at neither."""
    report = compose(material(grammar, *log_of(entry(2, zone="sill", condition="hole"))))
    assert "side not said" in report.findings[0].limits
    assert "place or side not known: 1" in report.plan


def test_what_was_withdrawn_is_left_out_and_counted(grammar: Grammar) -> None:
    """It stays in the log, and the report says so."""
    facts = (*log_of(entry(2, **MARKS)), at_the_bench(3, "withdraw", Withdraw("e2.1")))
    report = compose(material(grammar, *facts))
    assert report.findings == ()
    assert any(row.value == "1 withdrawn entry" for row in report.chain)


def test_hostile_words_are_inert_everywhere(grammar: Grammar) -> None:
    """No control character and no mark that turns the reading direction is left in any text."""
    facts = log_of(
        entry(2, **MARKS, text=HOSTILE, doubts=(HOSTILE,), landmark=HOSTILE),
        entry(3, Kind.NOT_SEEN, zone=HOSTILE, reason=HOSTILE),
        entry(4, Kind.REMARK, text=HOSTILE, tags=(HOSTILE,)),
        entry(5, zone=HOSTILE, condition=HOSTILE, size_mm=HOSTILE, probe=HOSTILE, method=HOSTILE),
        subject=HOSTILE, model=HOSTILE, program=HOSTILE,
    )  # fmt: skip
    photo = Photo(
        9, f"photos/{HOSTILE}.jpg", "0" * 64, HOSTILE, ("e2.1",), HOSTILE, 0.4, (HOSTILE,)
    )
    made = material(
        grammar, *facts, photos=(photo,), jpeg=lambda _: b"\xff\xd8", histories={"e2.1": (HOSTILE,)}
    )
    for text in texts(compose(made)):
        assert text.isprintable(), text


@pytest.mark.parametrize("name", ["ladder-frame", "unibody", "backbone"])
def test_our_own_words_never_vouch_for_anything(name: str) -> None:
    """On no map, for no condition, with no answer: neither a promise nor a price."""
    from voicelog.config.pointers import with_pointers
    from voicelog.domain.slot import CONDITIONS
    from voicelog.findings.pointers import Pointing

    grammar = load_grammar(name)
    zones = list(grammar.zone_map.zones.values())
    made = [
        entry(n + 2, zone=zones[n % len(zones)].id, side="left", condition=condition)
        for n, condition in enumerate(CONDITIONS)
    ]
    whole = material(grammar, *log_of(*made))
    pointing = Pointing(
        grammar.zone_map, with_pointers(grammar.rules), ("uk", "us", "nz", "au", "ca")
    )
    pointers = {f.entry.id: pointing.at(f) for f in whole.inspection.live}
    report = compose(material(grammar, *log_of(*made), pointers=pointers))
    assert not [text for text in texts(report) if NEVER.search(text)]


def test_what_the_inspector_said_is_quoted_whatever_it_says(grammar: Grammar) -> None:
    """Their words stay theirs: shown as said, and only where they are quoted."""
    report = compose(
        material(grammar, *log_of(entry(2, **MARKS, text="that is safe, surface rust")))
    )
    assert report.findings[0].said == "that is safe, surface rust"
    assert not [text for text in texts(report, but=("said",)) if NEVER.search(text)]


def test_coating_and_pointers_stay_off_page_one(grammar: Grammar) -> None:
    """They rate the paint and point at law; beside the verdict they would be taken for it."""
    rust = entry(2, zone="sill", side="left", condition="surface-rust", area_percent=12)
    report = compose(material(grammar, *log_of(rust)))
    assert report.coating[0].place == "Left sill"
    assert report.coating[0].rusted == "12 %, told by eye"
    first = (
        report.headline, report.under, report.counted, report.answers, report.next_step,
        report.basis, report.vehicle, report.conditions,
    )  # fmt: skip
    assert not re.search(r"D610|4628|1330|\bRi\b", " ".join(texts(first)))


def test_a_signature_tells_what_was_changed_after_it(grammar: Grammar) -> None:
    """Who, over how many lines, and what came later."""
    from voicelog.domain.fact import Fact

    body = {"by": "Sam", "lines": 2, "sha256": "cd" * 32, "open": ["a hole"], "why": "sold today"}
    facts = (
        *log_of(entry(2, **MARKS)),
        Fact(3, "2026-03-14T09:00:00Z", 3.0, "0" * 64, "signed", body),
        at_the_bench(4, "withdraw", Withdraw("e2.1")),
    )
    signed = compose(material(grammar, *facts)).signatures[0]
    assert (signed.by, signed.lines, signed.why) == ("Sam", 2, "sold today")
    assert signed.at == "14 March 2026, 10:00:00 (UTC+01:00)"
    assert signed.later == "1 change came after it, in line 4 of the log"


def test_the_hashes_are_explained_as_proof_against_change_only(grammar: Grammar) -> None:
    """Somebody who takes them for a promise is told otherwise."""
    report = compose(material(grammar, opened()))
    told = {row.label: row.value for row in report.chain}
    assert told["Hash of the last line"] == "ab" * 32
    assert "vouches for nothing else" in told["What they are not"]


def test_what_happened_to_an_entry_is_told(grammar: Grammar) -> None:
    """The history comes with the material, and stands at its finding."""
    histories = {"e2.1": ("Sam corrected it: side: right → left. Why: heard again",)}
    report = compose(material(grammar, *log_of(entry(2, **MARKS)), histories=histories))
    assert report.findings[0].history == histories["e2.1"]


def test_reports_are_the_same_each_time(grammar: Grammar) -> None:
    """Nothing in one comes from a clock or from the order of a set."""
    facts = log_of(*_many(30))
    first, second = (compose(material(grammar, *facts)) for _ in range(2))
    assert isinstance(first, Report)
    assert first == second


def test_the_title_is_what_the_vehicle_was_called(grammar: Grammar) -> None:
    """Unless somebody described it later."""
    assert compose(material(grammar, opened())).title == "Frame inspection: pickup 12"
    assert compose(material(grammar, opened(subject=""))).title == "Frame inspection"


def test_a_pair_said_on_both_sides_is_drawn_on_both(grammar: Grammar) -> None:
    """One finding, one number, two callouts."""
    both = entry(2, zone="sill", side="both", condition="hole")
    report = compose(material(grammar, opened(), said(2, Add(both))))
    assert report.plan.count(": repair; findings 1") == 2
