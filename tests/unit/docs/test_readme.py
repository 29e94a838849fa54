"""The README says only what the program does: its commands, examples, codes, files and markers."""

from __future__ import annotations

import os
import re
from pathlib import Path

import click
import pytest

from voicelog import errors
from voicelog.announce.drawing import drawing
from voicelog.cli.main import cli
from voicelog.cli.streams import UNREAD
from voicelog.config.grammar import load_grammar
from voicelog.config.settings import Settings, load_settings
from voicelog.domain.entry import Kind
from voicelog.domain.heard import Heard
from voicelog.domain.signal import MEANINGS, Signal
from voicelog.interpret.reader import Reader
from voicelog.runtime.opening import open_reading

ROOT = Path(__file__).parents[3]
README = (ROOT / "README.md").read_text(encoding="utf-8")
DEVELOPERS = (ROOT / "DEVELOPERS.md").read_text(encoding="utf-8")
CHANGELOG = (ROOT / "CHANGELOG.md").read_text(encoding="utf-8")
PAGES = {"README.md": README, "DEVELOPERS.md": DEVELOPERS, "CHANGELOG.md": CHANGELOG}


def blocks(language: str) -> list[str]:
    """The README's code blocks in one language."""
    return re.findall(rf"^```{language}\n(.*?)^```", README, flags=re.DOTALL | re.MULTILINE)


def example(name: str) -> str:
    """The TOML block under a marker such as ``<!-- example:map -->``."""
    (found,) = re.findall(
        rf"<!-- example:{name} -->\n```toml\n(.*?)^```", README, flags=re.DOTALL | re.MULTILINE
    )
    return str(found)


def command(words: list[str]) -> tuple[click.Command, list[str]]:
    """The command that some words name, and the words behind its name."""
    found: click.Command = cli
    while isinstance(found, click.Group) and words:
        inner = found.get_command(click.Context(found), words[0])
        assert inner is not None, f"voicelog has no command {words[0]!r}"
        found, words = inner, words[1:]
    return found, words


def command_lines() -> list[str]:
    """Every call of the program in the README's shell blocks."""
    text = "\n".join(blocks("sh"))
    return re.findall(r"(?<![\w/.-])(?:\.venv/bin/)?voicelog (.+?)(?:\s+#.*)?$", text, flags=re.M)


def test_first_block_is_the_two_commands() -> None:
    """Setting up with the demo, and the tests: one line each, before any other code."""
    assert blocks("sh")[0].splitlines() == [
        "python3 -m venv .venv && .venv/bin/pip install -e '.[ear,test]' && .venv/bin/voicelog demo",
        ".venv/bin/python -m pytest",
    ]


def test_ci_runs_the_test_command_of_the_readme() -> None:
    """What CI runs and what a reader is told to run stay the same."""
    ci = (ROOT / ".ci" / "run").read_text(encoding="utf-8")
    assert blocks("sh")[0].splitlines()[1].removeprefix(".venv/bin/python ") in ci


def test_readme_calls_every_kind_of_command() -> None:
    """The examples cover more than a handful, so that the next test has something to hold."""
    called = {line.split()[0] for line in command_lines()}
    assert {"demo", "hear", "read", "export", "verify", "model"} <= called


@pytest.mark.parametrize("line", command_lines())
def test_examples_name_real_commands_and_flags(line: str) -> None:
    """Each call in a shell block exists, with every flag it uses."""
    found, rest = command(line.split())
    known = {name for option in found.params for name in option.opts}
    for flag in re.findall(r"(?<!\S)--[a-z-]+", " ".join(rest)):
        assert flag in known, f"voicelog {line}: no flag {flag}"


@pytest.mark.parametrize("page", PAGES)
def test_commands_named_in_prose_exist(page: str) -> None:
    """Each command in backquotes exists, such as `voicelog model get`."""
    named = re.findall(r"`voicelog ([a-z][a-z-]*(?: [a-z]+)?)[^`]*`", PAGES[page])
    assert named
    for words in named:
        found, _rest = command(words.split())
        assert not isinstance(found, click.Group), f"voicelog {words} is unfinished"


def test_flags_named_in_prose_exist() -> None:
    """Each flag in backquotes belongs to some command."""
    context = click.Context(cli)
    commands = [cli.get_command(context, name) for name in cli.list_commands(context)]
    known = {name for found in commands if found for option in found.params for name in option.opts}
    named = set(re.findall(r"`(--[a-z-]+)[ `]", README))
    assert named - {"--help"} <= known
    assert "--json" in named


def spoken_rows() -> list[tuple[str, str]]:
    """The rows of "How to speak": what is said, and what becomes of it."""
    part = README[README.index("## How to speak") : README.index("US and UK trade words")]
    return re.findall(r'^\| "(.+?)" \| (.+) \|$', part, flags=re.MULTILINE)


def test_spoken_examples_become_what_the_table_says() -> None:
    """Each row makes or changes an entry, never a remark, with the numbers beside it."""
    rows = spoken_rows()
    assert len(rows) > 5
    with open_reading(Settings(), keep=False) as session:
        for at_s, (said, becomes) in enumerate(rows):
            findings = session.read(said, at_s=at_s).findings
            assert findings, said
            assert Kind.REMARK not in {finding.entry.kind for finding in findings}, said
            held = [
                v for f in findings for v in f.entry.slots.values() if isinstance(v, float | int)
            ]
            for number in map(float, re.findall(r"\d+(?:\.\d+)?", becomes)):
                assert any(abs(value - number) < 0.05 for value in held), (said, number, held)


def test_words_example_changes_what_is_understood(tmp_path: Path) -> None:
    """The overlay of the README loads, and its own example sentence is read with it."""
    file = tmp_path / "shop.toml"
    file.write_text(example("words"), encoding="utf-8")
    grammar = load_grammar(overlays=[file])
    reading = Reader(grammar.vocabulary, grammar.zone_map).read(
        Heard.typed("left camel back, cornflakes on the top face")
    )
    slots = reading.statements[0].slots
    assert (slots["zone"], slots["side"], slots["condition"]) == ("kick-up", "left", "scale")
    assert grammar.zone_map["kick-up"].nominal_mm == 2.5
    assert grammar.rules.limits["wall_loss_percent"] == 20


def test_map_example_loads(tmp_path: Path) -> None:
    """The map of the README is a whole map: its places are understood."""
    file = tmp_path / "trailer.toml"
    file.write_text(example("map"), encoding="utf-8")
    grammar = load_grammar(str(file))
    reading = Reader(grammar.vocabulary, grammar.zone_map).read(
        Heard.typed("left side beam, hole, ten millimetres")
    )
    slots = reading.statements[0].slots
    assert (slots["zone"], slots["side"], slots["size_mm"]) == ("side-beam", "left", 10)


def test_settings_example_loads(tmp_path: Path) -> None:
    """The settings of the README are settings."""
    (given,) = [block for block in blocks("toml") if "driver_side" in block]
    file = tmp_path / "settings.toml"
    file.write_text(given, encoding="utf-8")
    settings = load_settings(user_file=file, environ={})
    assert (settings.rails, settings.speech.driver_side) == ("boxed", "left")
    assert [path.name for path in settings.overlays] == ["shop.toml"]


def faults(base: type[errors.VoicelogError]) -> set[int]:
    """The exit codes of all faults below one."""
    codes: set[int] = set()
    for fault in base.__subclasses__():
        codes |= {fault.exit_code} | faults(fault)
    return codes


def test_exit_codes_are_those_of_the_faults() -> None:
    """The table lists success, every code that a fault has, and the ends by a hang-up (128 + 1),
    an interrupt (128 + 2) and an output that nobody reads.
    """
    table = README[README.index("## Exit codes") :].split("\n## ")[0]
    listed = {int(code) for code in re.findall(r"^\| (\d+) \|", table, flags=re.MULTILINE)}
    assert listed == faults(errors.VoicelogError) | {0, 129, 130, UNREAD}


def test_the_tones_of_the_readme_are_those_of_the_program() -> None:
    """Name, rhythm as it is drawn, and meaning (more may be said of it)."""
    rows = re.findall(r"^\| ([a-z-]+) \| `(.+?)` \| (.+) \|$", README, flags=re.MULTILINE)
    assert [name for name, _, _ in rows] == [str(signal) for signal in Signal]
    for name, drawn, meaning in rows:
        assert drawn == drawing(Signal(name)).strip(), name
        assert meaning.startswith(MEANINGS[Signal(name)]), name


@pytest.mark.parametrize("page", PAGES)
def test_links_lead_somewhere(page: str) -> None:
    """Every link to a file of the project finds it."""
    for target in re.findall(r"\]\(([^)#]+)[^)]*\)", PAGES[page]):
        assert target.startswith("https://") or (ROOT / target).exists(), target


def test_measured_figures_have_one_place() -> None:
    """A bench writes between the two markers; each stands once, in order, on its own line."""
    lines = README.splitlines()
    begin, end = "<!-- measured:begin -->", "<!-- measured:end -->"
    assert (lines.count(begin), lines.count(end)) == (1, 1)
    assert lines.index("## Measured") < lines.index(begin) < lines.index(end)


@pytest.mark.parametrize("page", PAGES)
def test_pages_name_no_machine(page: str) -> None:
    """No path of one machine stands in a page."""
    assert not re.findall(r"(?<![\w.~])/(?:tmp|root|home|work|Users)\b", PAGES[page])


def test_developers_map_names_every_room() -> None:
    """Each package has its line, and each file named with its package exists."""
    rooms = {path.parent.name for path in (ROOT / "voicelog").glob("*/__init__.py")}
    assert rooms
    for room in rooms:
        assert f"`voicelog/{room}/`" in DEVELOPERS
    for name in re.findall(r"`((?:[a-z]+/)+[a-z_]+\.py)`", DEVELOPERS):
        assert (ROOT / "voicelog" / name).exists() or (ROOT / name).exists(), name


def test_picture_is_of_this_program_and_fetches_nothing() -> None:
    """The drawing shows the demo, without paths of a machine and without fonts from elsewhere."""
    picture = (ROOT / ".pictures" / "demo.svg").read_text(encoding="utf-8")
    assert "certifies" in picture
    assert "url(http" not in picture.replace("&quot;", "").replace('"', "")
    assert os.sep + "tmp" not in picture
