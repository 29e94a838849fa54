"""Whatever follows from an inspection, and whatever was typed of the vehicle, fits the contract."""

from __future__ import annotations

import json
from pathlib import Path
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st
from jsonschema import Draft202012Validator

from voicelog.domain.advice import (
    Advice,
    Explanation,
    PlaceState,
    Swing,
    WallLoss,
    WhatIf,
    WorkItem,
)
from voicelog.domain.entry import Entry, Finding, Inspection, Kind, Seen
from voicelog.domain.fact import Fact
from voicelog.domain.grade import Gap, Grade, Rule, Verdict
from voicelog.domain.photo import Photo
from voicelog.domain.rating import coating_rating
from voicelog.domain.vehicle import Odometer, Refusal, Vehicle
from voicelog.domain.zone import Cavity, Layout, Role, Zone
from voicelog.export.contract import faults
from voicelog.export.document import log_document
from voicelog.export.json_file import json_text

SCHEMA = Path(__file__).parents[3] / "shared" / "schema" / "inspection.schema.json"
SECOND = Draft202012Validator(json.loads(SCHEMA.read_text("utf-8")))

texts = st.one_of(
    st.text(max_size=12),
    st.sampled_from(("\x1b]0;owned\x07", "\u202eabc", "\0", "\ud800", "</script>", "=1+1")),
)
some_texts = st.lists(texts, max_size=2).map(tuple)
names = st.from_regex(r"[a-z]+(-[a-z]+)*", fullmatch=True)
sides = st.sampled_from((None, "left", "right"))
grades = st.sampled_from(Grade)
shares = st.floats(-50, 100)
lengths = st.floats(0, 15)
ids = st.sampled_from(("e2.1", "e3.1"))
answers = st.tuples(
    st.sampled_from(("do-not-drive", "no-danger-found-where-examined", "not-enough-seen")),
    st.sampled_from(("none", "surface", "local", "major", "replacement-or-specialist")),
    st.sampled_from(("sound", "fair", "repairable", "beyond-repair", "unknown")),
)
gaps = st.builds(
    Gap, names, st.sampled_from(("not-seen", "cavity-not-seen", "unproven", "not-probed")), sides
)
rules = st.builds(Rule, texts, texts, texts)
losses = st.builds(
    WallLoss, shares, shares, shares, lengths, lengths, st.sampled_from(("said", "map", "")),
    st.floats(0, 1), some_texts,
)  # fmt: skip


@st.composite
def explanations(draw: st.DrawFn) -> Explanation:
    """As many sentences as rules."""
    fired = tuple(draw(st.lists(rules, max_size=3)))
    told = tuple(draw(texts) for _ in fired)
    ifs = draw(st.lists(st.builds(WhatIf, texts, grades, st.booleans(), some_texts), max_size=2))
    return Explanation("e2.1", fired, told, tuple(ifs), draw(st.none() | losses))


seen = st.builds(Seen, st.booleans(), st.booleans(), st.none() | st.booleans(), st.booleans())
places = st.builds(
    PlaceState, st.just("sill"), st.just("left"), seen, st.none() | grades,
    st.lists(ids, max_size=2).map(tuple), st.booleans(), st.booleans(),
    st.none() | st.builds(coating_rating, st.floats(0, 100)),
)  # fmt: skip
works = st.builds(
    WorkItem, st.sampled_from(("now", "repair", "treat", "look")), texts, texts, some_texts, texts,
    st.just("") | ids, names, sides, some_texts,
)  # fmt: skip
swings = st.builds(Swing, gaps, texts, answers, answers, texts)
advice = st.builds(
    Advice, st.lists(places, max_size=1).map(tuple),
    st.dictionaries(st.just("e2.1"), explanations(), max_size=1),
    st.lists(swings, max_size=2).map(tuple), st.lists(works, max_size=2).map(tuple),
)  # fmt: skip
vehicles = st.builds(
    Vehicle, texts, texts, texts, texts, texts,
    st.none() | st.builds(Odometer, st.floats(0, 9_999_999), st.sampled_from(("km", "mi"))),
    st.just("2026-03-14T10:05:15+01:00"), texts, st.sampled_from(("", "lift", "floor")),
    st.lists(st.sampled_from(("dirty", "wet")), max_size=2).map(tuple),
    st.lists(st.builds(Refusal, names, texts), max_size=2).map(tuple), some_texts,
)  # fmt: skip
photos = st.builds(
    Photo, st.integers(1, 99), texts, st.just("0" * 64), texts, st.lists(ids, max_size=2).map(tuple),
    st.sampled_from(("", "2026-03-14T10:05:15+01:00")), st.floats(0, 1), some_texts,
    st.sampled_from(("none", "stripped", "kept")), texts,
)  # fmt: skip
zones = st.builds(
    Zone, names, texts, st.sampled_from(Role), st.sampled_from(Layout), st.sampled_from(Cavity),
    st.none() | st.floats(0.5, 15), main=st.booleans(), carries=texts,
    plan=st.none() | st.just((1.0, 2.0, 3.0, 4.0)),
)  # fmt: skip


@given(advice, vehicles, st.lists(photos, max_size=2), st.lists(zones, max_size=2))
@settings(max_examples=60)
def test_everything_beside_the_entries_fits_the_contract(
    follows: Advice, vehicle: Vehicle, pictures: list[Photo], map_zones: list[Zone]
) -> None:
    """Random advice, hostile text: it survives JSON, and both implementations accept it."""
    body: dict[str, Any] = {"log_id": "3f0c7a52-9d4e-4a41-8a53-6a0f0b7f2c11"}
    facts = (Fact(1, "2026-03-14T09:05:15Z", 0.0, "0" * 64, "opened", body),)
    entry = Entry("e2.1", "u2", "2026-03-14T09:05:15Z", Kind.FINDING, {"zone": "sill"})
    found = Finding(entry, grade=Grade.TREAT, computed_grade=Grade.TREAT, rules=("scale",))
    looked = {("sill", "left"): Seen(True, False, None, False)}
    verdict = Verdict("not-enough-seen", "surface", "unknown")
    document = log_document(
        facts, Inspection((found,), looked, (), verdict), zones=map_zones, advice=follows,
        vehicle=vehicle, photos=pictures,
    )  # fmt: skip
    assert json.loads(json_text(document)) == document
    assert faults(document, "inspection") == ()
    assert [error.message for error in SECOND.iter_errors(document)] == []
