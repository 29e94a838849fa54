"""The corpus: cases are read as they are written, and misheard alike every time."""

from __future__ import annotations

import json
from pathlib import Path

import pytest
from corpus import FOLDER, Case, Hearing, case_of, from_file, hear, load, utter


def test_a_case_keeps_what_its_line_says(tmp_path: Path) -> None:
    """Utterances come three seconds apart unless the line gives times."""
    line = {"id": "t1", "topic": "late", "say": ["sill, rust", "soft"], "want": [], "tags": ["a"]}
    file = tmp_path / "cases.jsonl"
    file.write_text(json.dumps(line) + "\n\n" + json.dumps({**line, "at": [0, 60]}) + "\n")
    first, second = from_file(file, "tuning")
    assert first == Case("t1", "tuning", "hand", "late", ("sill, rust", "soft"), (0, 3), (), ("a",))
    assert second.at_s == (0, 60)


def test_times_must_be_as_many_as_utterances() -> None:
    """A line that says otherwise is refused with its name."""
    line = {"id": "t9", "say": ["sill, rust"], "at": [0, 3], "want": []}
    with pytest.raises(SystemExit, match="t9: 1 utterances, 2 times"):
        case_of(line, "tuning", "hand")


def test_a_missing_file_is_named() -> None:
    """The corpus does not shrink silently."""
    with pytest.raises(SystemExit, match=r"nowhere\.jsonl"):
        load("nowhere/hand")


@pytest.mark.parametrize("part", ["tuning", "untouched"])
def test_every_hand_is_read(part: str) -> None:
    """All files of a part, each case once and under a name of its own."""
    files = [FOLDER / f"{part}.jsonl", *FOLDER.glob(f"{part}-*.jsonl")]
    lines = [line for file in files for line in file.read_text("utf-8").splitlines() if line]
    cases = load(f"{part}/hand")
    assert len({case.id for case in cases}) == len(cases) == len(lines)
    assert {case.part for case in cases} == {part}


@pytest.mark.parametrize("part", ["tuning", "untouched"])
def test_all_chatter_is_read(part: str) -> None:
    """The first hand's lines come first, so that more of them change no mishearing of the others."""
    files = [FOLDER / f"chatter-{part}.txt", *FOLDER.glob(f"chatter-{part}-*.txt")]
    lines = [line for file in files for line in file.read_text("utf-8").splitlines() if line]
    cases = load(f"{part}/chatter")
    assert len({case.id for case in cases}) == len(cases) == len(lines)
    assert [case.say for case in cases[:3]] == [(line,) for line in lines[:3]]


def test_what_the_rules_left_open_is_not_measured() -> None:
    """Cases set aside are in no part."""
    aside = {case.id for case in from_file(FOLDER / "open-cases.jsonl", "open")}
    assert aside
    assert not aside & {
        case.id for part in ("tuning", "untouched") for case in load(f"{part}/hand")
    }


@pytest.mark.parametrize("origin", ["hand", "generated", "chatter", "chatter-after"])
def test_every_part_can_be_loaded(origin: str) -> None:
    """The two parts share no utterance."""
    parts = [{text for case in load(f"{part}/{origin}") for text in case.say}
             for part in ("tuning", "untouched")]  # fmt: skip
    shared = parts[0] & parts[1]
    assert parts[0]
    assert parts[1]
    assert len(shared) <= (1 if origin == "chatter-after" else len(parts[1]) // 10)


def test_typed_text_is_heard_as_it_is() -> None:
    """No model of mishearing is asked."""
    (heard,) = hear("left sill, rust", Hearing(), "x")
    assert (heard.text, heard.engine) == ("left sill, rust", "typed")


def test_mishearing_is_the_same_every_time() -> None:
    """The name of the utterance settles it, and each ear hears for itself."""
    text, hearing = "left front rail, surface rust, screwdriver goes through", Hearing(0.4, 4, 2)
    assert hear(text, hearing, "x") == hear(text, hearing, "x")
    one, other = hear(text, hearing, "x")
    assert one != other
    assert len(one.hypotheses) == len(other.hypotheses) == 4


def test_the_first_of_several_hypotheses_is_the_one_alone() -> None:
    """So that reading several can be compared with reading one."""
    text = "left front rail, surface rust, screwdriver goes through"
    alone, several = (hear(text, Hearing(0.4, count), "x")[0].text for count in (1, 4))
    assert alone == several


def test_the_finding_before_chatter_is_never_misheard() -> None:
    """What follows it is."""
    case = case_of({"id": "c1", "say": ["left front rail, surface rust", "pass me the big hammer"],
                    "want": []}, "tuning", "chatter-after")  # fmt: skip
    heard = [utterance.text for utterance in utter(case, Hearing(0.9))]
    assert heard[0] == case.say[0]
    assert heard[1] != case.say[1]
