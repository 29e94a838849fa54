"""What shared/CONTRACT.md says, held to the program."""

from __future__ import annotations

import json
import re
import subprocess
import sys
from pathlib import Path
from typing import get_args

import pytest

from voicelog.domain.slot import SLOTS
from voicelog.export import scalars
from voicelog.export.contract import schema_documents
from voicelog.export.version import CONTRACT

SHARED = Path(__file__).parents[3] / "shared"
VALID = SHARED / "examples" / "valid"
PAGE = (SHARED / "CONTRACT.md").read_text("utf-8")
TAIL, SIGNATURE, SEAL = re.findall(r"```sh\n(.*?)```", PAGE, re.DOTALL)
READER, FOLLOWER, CHAIN = re.findall(r"```python\n(.*?)```", PAGE, re.DOTALL)


def _run(code: str, path: Path) -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-X", "utf8", "-c", code, str(path)]
    return subprocess.run(command, capture_output=True, text=True, check=False)


def test_the_reader_has_ten_lines() -> None:
    """As it says; the empty one does not count."""
    assert len(READER.split("\n\n")) == 2
    assert len([line for line in READER.splitlines() if line]) == 10


def test_the_reader_prints_the_worst_first() -> None:
    """From the answer; the doubtful one is marked."""
    done = _run(READER, VALID / "answer-pickup.json")
    assert done.stderr == ""
    lines = [line.strip() for line in done.stdout.splitlines()]
    assert lines[0] == "e3.1 unsafe control-arm-mount right hole"
    assert "e11.1 repair ? right pitting (doubtful)" in lines
    assert lines[-1] == "do-not-drive repairable"


@pytest.mark.parametrize("path", sorted(VALID.glob("[ai]*.json")), ids=lambda path: path.stem)
def test_the_reader_reads_every_example(path: Path) -> None:
    """Answers and inspections alike."""
    assert _run(READER, path).returncode == 0


def test_the_reader_refuses_a_contract_it_does_not_know() -> None:
    """Rather than misread it."""
    done = _run(READER, SHARED / "examples" / "invalid" / "inspection-contract-newer.json")
    assert done.returncode == 1
    assert "does not know" in done.stderr


def test_the_follower_has_ten_lines() -> None:
    """As it is asked for; the empty one does not count."""
    assert len([line for line in FOLLOWER.splitlines() if line]) == 10


def test_the_follower_prints_what_is_unsafe_as_it_comes(tmp_path: Path) -> None:
    """A line written in two pieces is taken when it is whole; it ends when the log is closed."""
    journal = tmp_path / "journal.jsonl"
    lines = [
        {"type": "opened"},
        _said("e2.1", "left sill, surface rust", "cosmetic"),
        _said("e3.1", "left rear spring hanger, hole", "unsafe"),
        {"type": "revised", "graded": {"e2.1": {"grade": "unsafe", "rules": ["hole"]}}},
        {"type": "closed", "reason": "finished"},
    ]
    written = "".join(json.dumps(line) + "\n" for line in lines)
    journal.write_text(written[:-300], encoding="utf-8")
    command = [sys.executable, "-X", "utf8", "-c", FOLLOWER, str(journal)]
    with subprocess.Popen(command, stdout=subprocess.PIPE, text=True) as follower:
        with journal.open("a", encoding="utf-8") as more:
            for at in range(len(written) - 300, len(written), 50):
                more.write(written[at : at + 50])
                more.flush()
        shown, _ = follower.communicate(timeout=20)
    assert shown == "e3.1 left rear spring hanger, hole\ne2.1 corrected\n"


def _said(entry: str, text: str, grade: str) -> dict[str, object]:
    graded = {entry: {"grade": grade, "rules": ["hole"]}}
    return {"type": "utterance", "reading": {"text": text}, "graded": graded}


def test_the_chain_recipe_accepts_the_example_journal() -> None:
    """Line by line."""
    done = _run(CHAIN, VALID / "journal.jsonl")
    assert (done.returncode, done.stderr) == (0, "")


def test_the_chain_recipe_sets_a_torn_line_aside(tmp_path: Path, journal_bytes: bytes) -> None:
    """What follows the last line feed does not count."""
    (tmp_path / "torn").write_bytes(journal_bytes + b'{"seq":17,"at":"20')
    assert _run(CHAIN, tmp_path / "torn").returncode == 0


@pytest.mark.parametrize("change", ["altered", "lost", "swapped"])
def test_the_chain_recipe_finds_damage(tmp_path: Path, journal_bytes: bytes, change: str) -> None:
    """A digit changed, a line lost, two lines swapped."""
    lines = journal_bytes.splitlines(keepends=True)
    if change == "altered":
        lines[3] = lines[3].replace(b"1.9", b"2.4")
    elif change == "lost":
        del lines[3]
    else:
        lines[3], lines[4] = lines[4], lines[3]
    (tmp_path / change).write_bytes(b"".join(lines))
    done = _run(CHAIN, tmp_path / change)
    assert done.returncode == 1
    assert "does not follow" in done.stderr


def _shell(code: str, folder: Path) -> str:
    """The first word that a shell prints."""
    done = subprocess.run(
        ["sh", "-c", code], cwd=folder, capture_output=True, text=True, check=True
    )
    return done.stdout.split()[0]


def test_the_signature_recipe_prints_the_hash_that_was_signed() -> None:
    """By tools that know nothing of this program, on the line the page names."""
    lines = (VALID / "journal.jsonl").read_bytes().splitlines()
    signed = json.loads(lines[26])
    assert (signed["type"], signed["lines"]) == ("signed", 26)
    assert _shell(SIGNATURE, VALID) == signed["sha256"]


def test_the_signature_recipe_finds_a_changed_line(tmp_path: Path, journal_bytes: bytes) -> None:
    """Even where the chain was written anew, the signature would have to be as well."""
    (tmp_path / "journal.jsonl").write_bytes(journal_bytes.replace(b"tow hitch", b"tow hatch"))
    signed = json.loads(journal_bytes.splitlines()[26])
    assert _shell(SIGNATURE, tmp_path) != signed["sha256"]


def test_the_seal_recipe_prints_what_the_next_line_holds() -> None:
    """The line after the signature carries the same hash as its ``prev``."""
    after = json.loads((VALID / "journal.jsonl").read_bytes().splitlines()[27])
    assert _shell(SEAL, VALID) == after["prev"]


def test_the_page_names_every_key_of_the_bench() -> None:
    """Of the lines that a review writes."""
    models = schema_documents()["fact.schema.json"]["$defs"]
    lines = ("Revised", "Listened", "Learned", "Signed", "Restore", "Replace", "VehicleTold")
    lines = (*lines, "PhotoTaken")
    keys = {key for name in lines for key in models[name]["properties"]}
    assert sorted(key for key in keys if f"`{key}`" not in PAGE and key != "do") == []
    assert all(f"`{do}`" in PAGE for do in ("add", "amend", "withdraw", "restore", "replace"))


def test_the_page_names_every_key_of_the_documents() -> None:
    """A key that is not explained cannot be relied on."""
    names = ("answer", "inspection", "comparison")
    documents = [schema_documents()[f"{name}.schema.json"] for name in names]
    objects = [part for one in documents for part in (*one["$defs"].values(), one)]
    keys = {key for part in objects for key in part.get("properties", ())}
    assert keys >= set(SLOTS)
    assert sorted(key for key in keys if f"`{key}`" not in PAGE) == []


def test_the_page_names_every_word_of_the_closed_lists() -> None:
    """As they are written in the documents."""
    lists = (scalars.Kind, scalars.Grade, scalars.Side, scalars.Face, scalars.Layer, scalars.Part)
    more = (scalars.Probe, scalars.Method, scalars.Surround, scalars.Certainty, scalars.Drive)
    rest = (scalars.Work, scalars.Tier, scalars.GapReason, scalars.Urgency, scalars.Role)
    words = {word for listed in (*lists, *more, *rest) for word in get_args(listed)}
    assert sorted(word for word in words if f"`{word}`" not in PAGE) == []


def test_the_page_names_the_version_in_force() -> None:
    """And the files it points at are there."""
    assert f"Version **{CONTRACT}**" in PAGE
    headings = {title.lower().replace(" ", "-") for title in re.findall("^## (.+)$", PAGE, re.M)}
    for target in re.findall(r"\]\(([^)]+)\)", PAGE):
        if target.startswith("#"):
            assert target[1:] in headings, target
        else:
            assert (SHARED / target).exists(), target
