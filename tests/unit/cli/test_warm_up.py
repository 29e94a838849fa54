"""What a person sees of a warm-up, what is remembered, and how to undo it."""

from __future__ import annotations

import io
import json
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from click.testing import CliRunner, Result

from voicelog.cli import warm_up as module
from voicelog.cli.warm_up_lines import advice, tuning_lines
from voicelog.cli.warm_up_screen import Shown
from voicelog.config.machine import machine_file, remember, remembered
from voicelog.errors import InputFault, MicrophoneFault
from voicelog.runtime.warm_up import Learned, Levels
from voicelog.runtime.warm_up_listening import End, Wish
from voicelog.runtime.warm_up_prompts import Prompt
from voicelog.runtime.warm_up_takes import Pair, Take
from voicelog.runtime.warm_up_tuning import Trial, Tuning
from voicelog.runtime.warm_up_words import Confusion, Missed

GOOD = Take(Prompt("left sill, hole", ()), "Left sill, hole.", True, (Pair("sill", "sill"),))
BAD = Take(Prompt("right sill, crack", ()), "Right seal\x1b[2J.", False, (Pair("sill", "seal"),))


def _learned(**changes: Any) -> Learned:
    """What a warm-up of two sentences showed, with a bias that moved."""
    trials = (Trial(0.3, (GOOD, GOOD)), Trial(0.4, (GOOD, BAD)))
    values: dict[str, Any] = {
        "device": "USB headset", "ear": "built-in", "model": "a model", "end": End.DONE,
        "asked": 2, "takes": (GOOD, BAD),
        "confusions": (Confusion("sill", "seal\x1b[2J", 1, ("right [b]sill[/b], crack",), 0),),
        "missed": (Missed("sill", 1, ("rocker",)),),
        "levels": Levels(-25.0, -60.0, 0),
        "tuning": Tuning(trials, 0.4, 0.3, "0.3 gets 2 of 2 sentences right, 0.4 gets 1"),
    }  # fmt: skip
    return Learned(**{**values, **changes})


@pytest.fixture
def home(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Path:
    """A configuration folder of the test's own."""
    for name in ("XDG_CONFIG_HOME", "LOCALAPPDATA", "APPDATA"):
        monkeypatch.setenv(name, str(tmp_path))
    return tmp_path


@pytest.fixture
def run(home: Path, monkeypatch: pytest.MonkeyPatch) -> Callable[..., Result]:
    """Runs the command with a warm-up that showed what it is given."""

    def call(learned: Learned, *arguments: str) -> Result:
        monkeypatch.setattr(module, "_learn", lambda *_: learned)
        return CliRunner().invoke(module.warm_up, arguments)

    return call


def test_what_was_learned_is_told(run: Callable[..., Result]) -> None:
    """Confusions, words never heard right with other ways, trials, and how to undo it."""
    shown = run(_learned()).stdout
    assert "2 of 2 sentences heard, 1 of them understood in full by the built-in ear." in shown
    assert "sill (1 of 1 wrong); of words heard well: “rocker”" in shown
    assert "0.30  2 of 2 right" in shown
    assert "The bias 0.3 suits you better than 0.4" in shown
    assert "voicelog warm-up --forget" in shown


def test_what_was_heard_cannot_steer_the_terminal(run: Callable[..., Result]) -> None:
    """Control characters are shown as "?", markup as it is written."""
    shown = run(_learned()).stdout
    assert "\x1b" not in shown
    assert "seal?[2J" in shown
    assert "[b]sill[/b]" in shown


def test_the_bias_is_remembered_with_its_date(run: Callable[..., Result]) -> None:
    """The microphone only when one was chosen."""
    run(_learned())
    assert remembered()["bias"] == 0.3
    assert remembered().keys() == {"bias", "bias_on"}
    run(_learned(), "--microphone", "headset")
    assert remembered()["microphone"] == "headset"


def test_a_microphone_chosen_by_number_is_remembered_by_name(run: Callable[..., Result]) -> None:
    """Numbers and sockets change when something is plugged in."""
    run(_learned(device="USB headset: Audio (hw:2,0)"), "--microphone", "3")
    assert remembered()["microphone"] == "USB headset: Audio"


def test_a_bias_that_stays_is_not_written(run: Callable[..., Result]) -> None:
    """No file appears."""
    tuning = Tuning((), 0.4, 0.4, "no other is better (1 of 2 right)")
    shown = run(_learned(tuning=tuning)).stdout
    assert "The bias stays at 0.4: no other is better" in shown
    assert not machine_file().exists()


def test_a_rehearsal_remembers_nothing(run: Callable[..., Result]) -> None:
    """It was not the person's voice."""
    assert "this was a rehearsal" in run(_learned(), "--rehearse").stdout
    assert not machine_file().exists()


def test_a_setting_of_one_s_own_is_told(run: Callable[..., Result]) -> None:
    """What is written down holds, so the person has to know."""
    machine_file().parent.mkdir()
    machine_file().with_name("settings.toml").write_text("bias = 0.5\n")
    assert "says 0.5, and that holds" in run(_learned()).stdout
    assert remembered()["bias"] == 0.3


def test_a_broken_memory_costs_nothing_else(run: Callable[..., Result]) -> None:
    """Everything is told, and why it was not remembered; the file stays as it is."""
    machine_file().parent.mkdir()
    machine_file().write_text("bias = ")
    result = run(_learned())
    assert result.exit_code == 0
    assert "It could not be remembered." in result.stdout
    assert "delete the file" in result.stdout
    assert machine_file().read_text() == "bias = "


def test_it_can_be_undone(run: Callable[..., Result]) -> None:
    """The microphone stays remembered."""
    remember(microphone="headset")
    run(_learned())
    assert "forgotten" in run(_learned(), "--forget").stdout
    assert remembered() == {"microphone": "headset"}


def test_json_is_one_object_and_nothing_else(run: Callable[..., Result]) -> None:
    """What people read goes to standard error."""
    result = run(_learned(), "--json")
    told = json.loads(result.stdout)
    assert (told["heard"], told["right"], told["end"]) == (2, 1, "done")
    assert told["confusions"][0]["said"] == "sill"
    assert told["never_right"] == [{"word": "sill", "times": 1, "instead": ["rocker"]}]
    assert told["tuning"]["bias"] == 0.3
    assert [trial["right"] for trial in told["tuning"]["trials"]] == [2, 1]
    assert told["remembered"] == str(machine_file())
    assert "understood in full" in result.stderr


def test_nothing_heard_is_a_fault(run: Callable[..., Result]) -> None:
    """With the next step; a person who stopped it knows why."""
    nothing = {"takes": (), "confusions": (), "missed": (), "levels": None, "tuning": None}
    result = run(_learned(**nothing))
    assert isinstance(result.exception, MicrophoneFault)
    assert "doctor --listen" in str(result.exception)
    assert run(_learned(**nothing, end=End.STOPPED)).exit_code == 0


def test_sentences_that_cannot_be_read_are_refused(
    run: Callable[..., Result], tmp_path: Path
) -> None:
    """Before the microphone is opened."""
    (tmp_path / "mine.txt").write_bytes(b"\xff\xfe\xff")
    for file in ("mine.txt", "none.txt"):
        result = run(_learned(), "--phrases", str(tmp_path / file))
        assert isinstance(result.exception, InputFault)


@pytest.mark.parametrize(
    ("levels", "told"),
    [
        (Levels(-48.0, -80.0, 0), "Speech is quiet (-48 dB"),
        (Levels(-20.0, -28.0, 0), "only 8 dB above the noise"),
        (Levels(-8.0, -60.0, 3), "Too loud in 3 sentences"),
    ],
)
def test_levels_give_advice(levels: Levels, told: str) -> None:
    """Each says what to do with the microphone."""
    (first, *_) = advice(_learned(levels=levels))
    assert told in first
    assert not any("microphone" in line for line in advice(_learned()))


def test_an_ear_without_a_bias_says_so() -> None:
    """Rather than showing an empty table."""
    assert list(tuning_lines(None, ear="vosk")) == [
        "The vosk ear has no bias to tune: it is given the words themselves."
    ]


def test_lines_of_text_where_there_is_no_terminal() -> None:
    """Nothing is drawn; the same is told."""
    out = io.StringIO()
    with Shown(out, keys=True) as shown:
        shown.greet("USB headset", 24)
        shown.show(3, 24, Prompt("left sill\x07, hole", ()))
        shown.took(GOOD)
        shown.took(BAD)
        shown.tuning(1, 2)
        shown.tuning(2, 2)
        assert shown.wish() is None
    told = out.getvalue()
    assert "\x07" not in told
    assert "forgotten at the end" in told
    assert "3 of 24  Say: left sill?, hole" in told
    assert "  understood, every word\n" in told
    assert "  not understood, heard as: Right seal?[2J.\n" in told
    assert told.count("Trying other settings") == 1


def test_keys_are_lines_from_a_terminal(monkeypatch: pytest.MonkeyPatch) -> None:
    """An empty line skips, "q" stops."""

    class Terminal(io.StringIO):
        def isatty(self) -> bool:
            return True

    monkeypatch.setattr("sys.stdin", Terminal("\nq\n"))
    with Shown(io.StringIO(), keys=True) as shown:
        wishes = [shown.wish(wait_s=5.0), shown.wish(wait_s=5.0)]
    assert wishes == [Wish.NEXT, Wish.STOP]
