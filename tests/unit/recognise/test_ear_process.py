"""An ear in another process: what goes there and back, and what its crash leaves."""

from __future__ import annotations

import io
import json
import struct
import sys
from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest

from voicelog.domain.heard import Heard, Hypothesis, Word, heard_from_json
from voicelog.domain.sound import Clip
from voicelog.errors import EarFault
from voicelog.recognise.ear_process import EarProcess
from voicelog.recognise.ear_worker import serve

CLIP = Clip(b"\1\0" * 1600, 0.0, 0.1)
READY = 'import sys; i = sys.stdin.buffer; o = i.readline(); print(\'{"engine": "second", "model": "m"}\', flush=True); '
ECHO = READY + (
    "import json, struct\n"
    "while len(head := i.read(8)) == 8:\n"
    "    n = len(i.read(struct.unpack('>Q', head)[0]))\n"
    "    print(json.dumps({'heard': {'engine': 'second', 'model': 'm', 'hypotheses': "
    "[{'text': str(n), 'score': 0.0, 'words': []}]}}), flush=True)\n"
)


def _ear(script: str, **more: Any) -> EarProcess:
    return EarProcess(["left sill"], command=(sys.executable, "-c", script), **more)


class Echo:
    """Hears how many bytes there were."""

    engine, model = "second", "m"

    def __init__(self) -> None:
        self._pcm = b""

    def feed(self, pcm: bytes) -> None:
        """Sound."""
        self._pcm += pcm

    def finish(self) -> Heard:
        """Its length."""
        text, self._pcm = str(len(self._pcm)), b""
        return Heard((Hypothesis(text, -1.0, (Word(text, 0.5),)),), "second", "m")


def test_sound_goes_there_and_words_come_back() -> None:
    """Several utterances through one process, which knows its name."""
    ear = _ear(ECHO)
    assert ear.hear(CLIP).text == "3200"
    assert ear.hear(Clip(b"", 0.0, 0.0)).text == "0"
    assert (ear.engine, ear.model) == ("second", "m")
    ear.close()


@pytest.mark.parametrize(
    ("script", "told"),
    [
        ("raise SystemExit(3)", "crashed"),
        (READY + "i.read(8); sys.exit(1)", "crashed"),
        (READY + "i.read(8); print('no json', flush=True); i.read()", "crashed"),
        (READY + "i.read(8); print('7', flush=True); i.read()", "crashed"),
        (READY + "i.read(8); print('{}', flush=True); i.read()", "nobody can read"),
        ('print(\'{"fault": "altered", "hint": "anew"}\', flush=True)', "altered"),
    ],
)
def test_a_crash_is_a_fault_and_no_more(script: str, told: str) -> None:
    """Whatever the other process does, this one goes on."""
    ear = _ear(script)
    with pytest.raises(EarFault, match=told):
        ear.hear(CLIP)
    ear.close()


def test_one_that_hangs_is_ended() -> None:
    """It is not waited for longer than an answer could take."""
    ear = _ear(READY + "import time; time.sleep(60)", hangs_s=0.2)
    with pytest.raises(EarFault, match="does not answer"):
        ear.hear(CLIP)


def test_one_that_cannot_be_started_is_a_fault(tmp_path: Path) -> None:
    """No interpreter, no memory."""
    ear = EarProcess([], command=(str(tmp_path / "nothing"),))
    with pytest.raises(EarFault, match="cannot be started"):
        ear.start()


def test_it_serves_until_there_is_nothing_to_hear() -> None:
    """The order first, then one line of JSON for each utterance."""
    seen: list[Mapping[str, Any]] = []

    def opened(order: Mapping[str, Any]) -> Any:
        seen.append(order)
        return Echo()

    orders = io.BytesIO(b'{"phrases": ["a"]}\n' + 2 * (struct.pack(">Q", 4) + b"abcd"))
    answers = io.StringIO()
    serve(orders, answers, opened)
    ready, *told = map(json.loads, answers.getvalue().splitlines())
    assert seen == [{"phrases": ["a"]}]
    assert ready == {"engine": "second", "model": "m"}
    assert [heard_from_json(one["heard"]).text for one in told] == ["4", "4"]


def test_a_fault_crosses_with_its_hint() -> None:
    """So that it reads as if the ear had been opened here."""

    def opened(_order: Mapping[str, Any]) -> Any:
        raise EarFault("It is altered", "Install it anew")

    answers = io.StringIO()
    serve(io.BytesIO(b"{}\n"), answers, opened)
    told = json.loads(answers.getvalue())
    assert [told["fault"][0], told["hint"][0]] == ["It is altered", "Install it anew"]


def test_what_was_closed_is_never_begun_again() -> None:
    """The thread that uses it may come to it only afterwards: nobody would end that process."""
    ear = _ear(ECHO)
    ear.close()
    with pytest.raises(EarFault, match="has ended"):
        ear.hear(CLIP)
