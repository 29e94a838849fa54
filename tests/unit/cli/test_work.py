"""``voicelog work`` as a person and as a program sees it."""

from __future__ import annotations

import json
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from click.testing import CliRunner, Result

from voicelog.cli.main import cli
from voicelog.export.contract import validate

SAID = (
    "left front rail, hole, solid metal around it",
    "right sill, surface rust",
    "steering box mount, crack",
    "left kick-up, can't see inside, mud in the way",
)


@pytest.fixture(autouse=True)
def no_settings_of_the_tester(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """Whatever the tester has set plays no part."""
    monkeypatch.setenv("XDG_CONFIG_HOME", str(tmp_path / "none"))


@pytest.fixture(scope="module")
def made(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A folder with one log."""
    into = tmp_path_factory.mktemp("logs")
    runner = CliRunner(env={"XDG_CONFIG_HOME": str(into)})
    result = runner.invoke(cli, ["read", "--into", str(into), *SAID], catch_exceptions=False)
    assert result.exit_code == 0, result.output
    return into


@pytest.fixture
def run(made: Path) -> Callable[..., Result]:
    """The command on the newest log of that folder."""

    def invoke(*options: str, log: str = "last") -> Result:
        arguments = ["work", log, "--into", str(made), *options]
        return CliRunner().invoke(cli, arguments, catch_exceptions=False)

    return invoke


def test_it_prints_the_list_in_the_order_of_urgency(run: Callable[..., Result]) -> None:
    """Under headings, with cautions, numbered steps, and the sentences that stand with every list."""
    out = run().output
    headings = ["Before it is moved", "To be repaired", "To be looked at"]
    assert sorted(headings, key=out.index) == headings
    assert "steering box mount: crack" in out
    assert "! Do not drive or tow this vehicle." in out
    assert "1) Leave the vehicle where it stands" in out
    assert "weld in a plate or section of the same thickness" in out
    assert out.rstrip().splitlines()[-3].startswith("  This is what the trade usually does.")


def test_places_that_need_the_same_are_told_together(run: Callable[..., Result]) -> None:
    """A short log leaves most of the vehicle unseen; that does not make a hundred lines."""
    out = run().output
    assert "front spring hanger, both sides; axle bracket, both sides" in out
    assert len(out.splitlines()) < 90


def test_the_inspectors_reason_is_told(run: Callable[..., Result]) -> None:
    """Why nobody looked matters to whoever is to look."""
    assert "mud" in run().output


def test_a_program_gets_every_item_by_itself(run: Callable[..., Result]) -> None:
    """As an exported log has them, with the sentences of every list."""
    document = json.loads(run("--json").output)
    validate(document, "work")
    assert [item["zone"] for item in document["work"][:2]] == ["steering-box-mount", "front-rail"]
    first = document["work"][0]
    assert set(first) == {
        "urgency", "zone", "entry", "place", "what", "steps", "cautions", "source",
    }  # fmt: skip
    assert (first["urgency"], first["entry"]) == ("now", "e4.1")
    assert any("local law" in sentence for sentence in document["cautions"])
    places = [(item["zone"], item.get("side")) for item in document["work"] if "entry" not in item]
    assert len(places) == len(set(places)) > 20


def test_it_reads_the_logs_own_rules(made: Path, tmp_path: Path) -> None:
    """A log whose copy tells of no work is opened all the same, with a plain sentence for each."""
    from voicelog.cli.work import work_of
    from voicelog.config.grammar import load_grammar
    from voicelog.journal.reading import read_log
    from voicelog.runtime.logs import Opened, open_log

    (folder,) = [path.parent for path in made.glob("*/journal.jsonl")]
    old = tmp_path / "grammar"
    shutil.copytree(folder / "grammar", old)
    rules = old / "rules" / "frame.toml"
    text = rules.read_text(encoding="utf-8")
    before = text[: text.index("# --- What is done about it")]
    kept = before[: before.index("[caution]")] + before[before.index("# --- Marks and coatings") :]
    cautions = kept[kept.index("work_cautions = [") : kept.index("# The shop's own numbers")]
    rules.write_text(kept.replace(cautions, ""), encoding="utf-8")
    grammar = load_grammar(folder=old)
    assert grammar.rules.work == ()
    opened = open_log(folder)
    items = work_of(Opened(read_log(folder), grammar, opened.inspection))
    assert items[0].steps[0].startswith("Have it assessed and repaired")


def test_help_teaches(run: Callable[..., Result]) -> None:
    """What is listed, in which order, and who decides."""
    told = " ".join(CliRunner().invoke(cli, ["work", "--help"]).output.split())
    assert "the most urgent first" in told
    assert "voicelog work last" in told
    assert "local law decide what is done" in told


def test_a_log_that_is_not_there_is_one_clear_error(tmp_path: Path) -> None:
    """With the next step."""
    from voicelog.errors import InputFault

    with pytest.raises(InputFault):
        CliRunner().invoke(cli, ["work", str(tmp_path / "none")], catch_exceptions=False)
