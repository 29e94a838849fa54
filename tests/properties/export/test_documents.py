"""Whatever was said, the documents are JSON and fit the contract."""

from __future__ import annotations

import copy
import json
from datetime import datetime, timedelta, timezone
from functools import cache
from pathlib import Path
from typing import Any, get_args

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from voicelog.domain.entry import Entry, Finding, Inspection, Kind, Question, Seen
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Gap, Grade, Verdict
from voicelog.domain.slot import CONDITIONS, FACES, SIDES, SLOTS, Spec
from voicelog.export import scalars
from voicelog.export.answer import answer
from voicelog.export.contract import faults
from voicelog.export.document import log_document
from voicelog.export.json_file import json_text, write_json
from voicelog.export.values import slots_to_json

SCHEMAS = Path(__file__).parents[3] / "shared" / "schema"

HOSTILE = ("\x1b]0;owned\x07", "\u202eabc", "\0", "\ud800", "\udfff\ud800", "</script>", "\u2028")
"""Control sequences, reading direction turned round, NUL, half characters, markup."""

texts = st.one_of(
    st.text(max_size=20),
    st.sampled_from(HOSTILE),
    st.text(st.characters(categories=("Cs", "Cc", "Cf")), max_size=6),
)
names = st.one_of(st.sampled_from(CONDITIONS), st.from_regex(r"[a-z]+(-[a-z]+)*", fullmatch=True))
numbers = st.one_of(
    st.floats(allow_nan=True, allow_infinity=True),
    st.floats(0, 3000),
    st.integers(-(10**400), 10**400),
    st.integers(0, 12),
)
anything = st.one_of(texts, numbers, names, st.booleans())


@st.composite
def times(draw: st.DrawFn) -> str:
    """RFC 3339, in any zone."""
    minutes = draw(st.integers(-14 * 60, 14 * 60))
    zone = timezone(timedelta(minutes=minutes))
    return draw(st.datetimes(min_value=datetime(1000, 1, 1))).replace(tzinfo=zone).isoformat()


def _value(spec: Spec) -> st.SearchStrategy[Any]:
    """A value of the right sort, or anything at all."""
    right = {"word": st.sampled_from(spec.choices or ("",)), "name": names, "text": texts}
    return st.one_of(right.get(spec.kind, numbers), anything)


slots = st.one_of(
    st.fixed_dictionaries({}, optional={name: _value(spec) for name, spec in SLOTS.items()}),
    st.dictionaries(texts, anything, max_size=4),
)
ranges = st.dictionaries(
    st.one_of(texts, st.sampled_from(list(SLOTS))), st.tuples(numbers, numbers), max_size=3
)
numbered = st.integers(0, 10**6)


@st.composite
def entries(draw: st.DrawFn, kind: Kind | None = None) -> Entry:
    """An entry as a program of ours makes it, with anything said in its text."""
    seq, n = draw(numbered), draw(numbered)
    questions = st.builds(Question, texts, st.lists(texts, max_size=3).map(tuple))
    some_texts = st.lists(texts, max_size=3).map(tuple)
    return Entry(
        id=f"e{seq}.{n}",
        utterance=f"u{seq}",
        at=draw(times()),
        kind=kind or draw(st.sampled_from(Kind)),
        slots=draw(slots),
        text=draw(texts),
        doubts=draw(some_texts),
        reason=draw(texts),
        questions=draw(st.lists(questions, max_size=2).map(tuple)),
        absent=draw(st.lists(names, max_size=3).map(tuple)),
        unplaced=draw(st.booleans()),
        place_assumed=draw(st.booleans()),
        tags=draw(some_texts),
        runner_up=draw(slots),
        ranges=draw(ranges),
    )


@st.composite
def findings(draw: st.DrawFn) -> Finding:
    """An entry with grades; every finding is graded."""
    grades = st.sampled_from(Grade)
    return Finding(
        entry=draw(entries()),
        history=draw(st.lists(entries(), max_size=2).map(tuple)),
        grade=draw(grades),
        computed_grade=draw(grades),
        spoken_grade=draw(st.none() | grades),
        rules=draw(st.lists(texts, max_size=3).map(tuple)),
        unproven=draw(st.booleans()),
        cautions=draw(st.lists(texts, max_size=2).map(tuple)),
        withdrawn=draw(st.booleans()),
    )


gaps = st.builds(
    Gap,
    zone=names,
    why=st.sampled_from(get_args(scalars.GapReason)),
    side=st.none() | st.sampled_from(SIDES),
    face=st.none() | st.sampled_from(FACES),
    entry=st.none() | st.from_regex(r"e[0-9]+\.[0-9]+", fullmatch=True),
    reason=st.none() | texts,
)
verdicts = st.builds(
    Verdict,
    drive=st.sampled_from(get_args(scalars.Drive)),
    work=st.sampled_from(get_args(scalars.Work)),
    tier=st.sampled_from(get_args(scalars.Tier)),
    could_change=st.lists(gaps, max_size=3).map(tuple),
    because=st.lists(texts, max_size=3).map(tuple),
)
inspections = st.builds(
    Inspection,
    findings=st.lists(findings(), max_size=4).map(tuple),
    coverage=st.dictionaries(
        st.tuples(names, st.none() | st.sampled_from(SIDES)),
        st.builds(Seen, st.booleans(), st.booleans(), st.none() | st.booleans(), st.booleans()),
        max_size=3,
    ),
    gaps=st.lists(gaps, max_size=3).map(tuple),
    verdict=verdicts,
)
loose = st.recursive(
    st.one_of(st.none(), st.booleans(), texts, st.floats(), st.integers(-(2**53), 2**53)),
    lambda inner: st.lists(inner, max_size=2) | st.dictionaries(texts, inner, max_size=2),
    max_leaves=6,
)
opened_bodies = st.fixed_dictionaries(
    {"log_id": st.uuids(version=4).map(str)},
    optional={
        "subject": texts,
        "program": texts,
        "map": st.just("ladder-frame"),
        "rails": st.sampled_from(get_args(scalars.Rails)),
        "ear": texts,
        "created": times(),
        "settings": st.dictionaries(texts, loose, max_size=3),
        "grammar": st.dictionaries(texts, st.just("0" * 64), max_size=2),
        "unheard-of": loose,
    },
)


@cache
def _second(schema: str) -> Draft202012Validator:
    """The second implementation, on the published schema."""
    document = json.loads((SCHEMAS / f"{schema}.schema.json").read_text("utf-8"))
    return Draft202012Validator(document, format_checker=Draft202012Validator.FORMAT_CHECKER)


def _sound(document: dict[str, Any], schema: str) -> None:
    """It survives JSON and UTF-8, and both implementations accept it."""
    assert json.loads(json_text(document)) == document
    json.dumps(document, ensure_ascii=False, allow_nan=False).encode()
    assert faults(document, schema) == ()
    assert [error.message for error in _second(schema).iter_errors(document)] == []


@given(inspections)
@settings(max_examples=50, deadline=None)
def test_every_answer_fits_the_contract(inspection: Inspection) -> None:
    """Random slots, numbers and hostile text."""
    _sound(answer(inspection), "answer")


@given(inspections, opened_bodies, times(), st.lists(texts, max_size=2))
@settings(max_examples=30, deadline=None)
def test_every_log_document_fits_the_contract(
    inspection: Inspection, body: dict[str, Any], at: str, cautions: list[str]
) -> None:
    """Random logs, opened with random settings."""
    facts = (
        Fact(1, at, 0.0, "0" * 64, "opened", body),
        Fact(2, at, 1.5, "1" * 64, "utterance", {}),
    )
    _sound(log_document(facts, inspection, cautions=cautions), "inspection")


@given(inspections, opened_bodies, times(), texts, st.data())
@settings(max_examples=30, deadline=None)
def test_whatever_is_typed_at_the_bench_fits_the_contract(
    inspection: Inspection, body: dict[str, Any], at: str, text: str, data: st.DataObject
) -> None:
    """Names, deeds and reasons are anybody's; a correction comes after the signature as well."""
    utc = "2026-03-14T09:05:30.250Z"
    ids = [finding.entry.id for finding in inspection.findings] or ["e1.1"]
    changes = [{"do": "withdraw", "entry": data.draw(st.sampled_from(ids))}]
    revised = {"did": text, "by": text, "why": text, "changes": changes}
    signed = {"by": f"x{text}", "lines": 2, "sha256": "0" * 64, "open": [text], "why": text}
    facts = (
        Fact(1, at, 0.0, "0" * 64, "opened", body),
        Fact(2, utc, 1.5, "1" * 64, "revised", revised),
        Fact(3, utc, 2.5, "2" * 64, "signed", signed),
        Fact(4, utc, 3.5, "3" * 64, "revised", revised),
    )
    document = log_document(facts, inspection)
    _sound(document, "inspection")
    assert document["log"]["signatures"][0]["changed_after"] == [4]


@given(inspections)
@settings(max_examples=30, deadline=None)
def test_the_answer_is_the_same_each_time_and_changes_nothing(inspection: Inspection) -> None:
    """Data in, data out."""
    before = copy.deepcopy(inspection)
    assert answer(inspection) == answer(inspection)
    assert repr(inspection) == repr(before)


@given(slots)
@settings(max_examples=150, deadline=None)
def test_every_slot_is_printed_or_named_as_lost(said: dict[str, Any]) -> None:
    """Nothing said goes missing without a word, and printing twice changes nothing.

    A loss that was said but cannot be carried is not replaced by one that was worked out: only
    then does a second printing know more, since it no longer sees that a loss was said.
    """
    printed, lost = slots_to_json(said)
    given_names = [name for name, value in said.items() if value != ""]
    assert len(lost) + len(set(printed) & set(given_names)) == len(given_names)
    again, lost_again = slots_to_json(printed)
    if "loss_percent" in lost:
        again.pop("loss_percent", None)
    assert (again, lost_again) == (printed, ())


def test_a_loss_that_cannot_be_carried_is_not_replaced() -> None:
    """Both thicknesses are known, yet what was said of the loss is named as lost."""
    said = {"thickness_mm": 0.0, "nominal_mm": 1.0, "loss_percent": 1_000_001.0}
    assert slots_to_json(said) == ({"thickness_mm": 0.0, "nominal_mm": 1.0}, ("loss_percent",))


@pytest.mark.parametrize("text", HOSTILE[:4])
def test_ten_megabytes_of_hostile_text_do_no_harm(text: str, tmp_path: Path) -> None:
    """In every field that holds text at once, through the file."""
    huge = text * (10_000_000 // len(text))
    at = "2026-03-14T09:05:30Z"
    entry = Entry("e2.1", "u2", at, Kind.REMARK, {"landmark": huge}, huge, reason=huge)
    verdict = Verdict("not-enough-seen", "none", "fair")
    document = answer(Inspection((Finding(entry),), {}, (), verdict))
    write_json(document, tmp_path / "answer.json")
    assert json.loads((tmp_path / "answer.json").read_text("utf-8")) == document
    assert faults(document, "answer") == ()
    assert _second("answer").is_valid(document)


def _places(document: Any) -> list[tuple[Any, Any]]:
    """Every (container, key) of a document."""
    items = document.items() if isinstance(document, dict) else enumerate(document)
    found: list[tuple[Any, Any]] = []
    for key, value in items:
        found.append((document, key))
        found += _places(value) if isinstance(value, dict | list) else []
    return found


EXAMPLES = sorted((SCHEMAS.parent / "examples" / "valid").glob("*.json"))


@pytest.mark.parametrize("path", EXAMPLES, ids=lambda path: path.stem)
@given(data=st.data())
@settings(max_examples=60, deadline=None)
def test_both_implementations_judge_a_damaged_document_alike(
    path: Path, data: st.DataObject
) -> None:
    """One value of an example replaced, dropped or doubled under another key."""
    document, schema = json.loads(path.read_text("utf-8")), path.name.split("-")[0]
    place, key = data.draw(st.sampled_from(_places(document)))
    other, other_key = data.draw(st.sampled_from(_places(document)))
    match data.draw(st.sampled_from(["junk", "drop", "swap", "add"])):
        case "junk":
            place[key] = data.draw(st.none() | st.booleans() | st.integers(-3, 3) | st.just([]))
        case "drop":
            del place[key]
        case "swap":
            place[key] = copy.deepcopy(other[other_key])
        case _ if isinstance(place, dict):
            place["unheard-of"] = copy.deepcopy(other[other_key])
        case _:
            place.append(copy.deepcopy(other[other_key]))
    assert (faults(document, schema) == ()) is _second(schema).is_valid(document)
