"""What the shipped corrections were trained on: nothing that the speech set keeps out."""

from __future__ import annotations

import ast
import random
import re
import sys
from dataclasses import dataclass, field
from pathlib import Path

import numpy as np
import pytest
from corpus import FOLDER as CORPUS
from yardstick.noises import CONDITIONS, KEPT_OUT, TUNING
from yardstick.speech_set import speech_set
from yardstick.voices import VOICES

from voicelog.recognise.moonshine_model import TOKENIZER, model_folder, read_tokens

SCRIPTS = Path(__file__).parents[2] / "bench" / "adaptation"
sys.path.insert(0, str(SCRIPTS))

import speakers  # noqa: E402
import texts  # noqa: E402
from measures import decimal, size, whole  # noqa: E402
from spelling import Tokens  # noqa: E402

WORDNET = '00001 00 v 01 rest 0 | to be still; "The dog rests on the mat"; "no!"\n'
ONLY_KEPT_OUT = set(KEPT_OUT) - set(TUNING)


@dataclass
class Drawn:
    """The training texts, and what was opened to make them."""

    texts: list[tuple[str, str]] = field(default_factory=list)
    opened: set[Path] = field(default_factory=set)


@pytest.fixture(scope="module")
def drawn(tmp_path_factory: pytest.TempPathFactory) -> Drawn:
    """All texts of the seed that the corrections were made with, but for WordNet's."""
    wordnet = tmp_path_factory.mktemp("wordnet")
    for part in ("verb", "adj", "noun", "adv"):
        (wordnet / f"data.{part}").write_text(WORDNET)
    found, watching = Drawn(), True

    def watch(event: str, arguments: tuple[object, ...]) -> None:
        if watching and event == "open" and isinstance(arguments[0], str | Path):
            found.opened.add(Path(arguments[0]))

    sys.addaudithook(watch)  # one that can never be taken away again
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(texts, "WORDNET", wordnet)
        found.texts = texts.texts(1)
    watching = False
    return found


def test_no_file_of_the_untouched_part_is_opened(drawn: Drawn) -> None:
    """Neither its cases nor its chatter nor its wordings."""
    names = {file.name for file in drawn.opened if CORPUS in file.parents}
    assert {"tuning.jsonl", "tuning-2.jsonl", "chatter-tuning.txt"} <= names
    assert [name for name in names if "untouched" in name] == []


def test_nothing_that_the_kept_out_part_says_was_trained_on(drawn: Drawn) -> None:
    """Not by chance either: two hands may write the same sentence."""
    said = {_bare(spoken.text) for spoken in speech_set("kept out", conditions=CONDITIONS[:1])}
    assert said
    assert not said & {_bare(text) for _, text in drawn.texts}


def _bare(text: str) -> str:
    """Its words in lower case."""
    return " ".join(re.findall(r"[a-z0-9']+", text.casefold()))


def test_every_kind_of_text_is_there(drawn: Drawn) -> None:
    """As the model writes: a capital first, a stop last, no longer than a breath."""
    assert {kind for kind, _ in drawn.texts} == set(texts.SHARES)
    assert all(text[-1] in ".?!" and len(text.split()) <= 30 for _, text in drawn.texts)
    assert not [text for _, text in drawn.texts if text[0].islower()]


def test_a_source_without_texts_is_told(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A loop over nothing would never end."""
    monkeypatch.setattr(texts, "CORPUS", tmp_path)
    with pytest.raises(SystemExit, match="Nothing to say"):
        next(texts.people(random.Random(1)))


def test_no_kept_out_voice_speaks() -> None:
    """Their engines are none of those that speak the training texts."""
    kept_out = {voice.engine for voice in VOICES if voice.kept_out}
    assert kept_out
    assert not kept_out & set(speakers.ENGINES)


def test_no_kept_out_noise_is_made() -> None:
    """Read without importing it, for that takes torch."""
    tree = ast.parse((SCRIPTS / "noise_kinds.py").read_text("utf-8"))
    makers = {node.name for node in tree.body if isinstance(node, ast.FunctionDef)}
    (kinds,) = (node.value for node in tree.body if isinstance(node, ast.AnnAssign))
    assert isinstance(kinds, ast.Tuple)
    assert {ast.unparse(kind) for kind in kinds.elts} == makers
    assert ONLY_KEPT_OUT
    assert not makers & ONLY_KEPT_OUT


def test_no_script_takes_sound_from_the_speech_set() -> None:
    """Nor from the recordings that are bundled: they have speech, rooms and noises of their own."""
    for script in SCRIPTS.glob("*.py"):
        nodes = list(ast.walk(ast.parse(script.read_text("utf-8"))))
        names = {alias.name for n in nodes if isinstance(n, ast.Import) for alias in n.names}
        names |= {node.module or "" for node in nodes if isinstance(node, ast.ImportFrom)}
        assert not {name for name in names if name.split(".")[0] in ("yardstick", "make")}, script


def test_tokens_spell_the_text_again() -> None:
    """Else the model would be taught other words than are spoken."""
    raw = read_tokens(model_folder() / TOKENIZER)
    text = "Left front rail, 3.5 millimetres; it's soft!"
    spelled = b"".join(raw[token] for token in Tokens(raw).of(text)).decode()
    assert spelled.replace("\N{LOWER ONE EIGHTH BLOCK}", " ").strip() == text


def test_numbers_are_words() -> None:
    """The model writes what it hears; digits are the reader's work."""
    rng = random.Random(2)
    made = [say(rng) for say in (whole, decimal, size) for _ in range(200)]
    assert all(text == text.strip() and text.replace(" ", "").isalpha() for text in made)
    assert len(set(made)) > 200


def test_speech_is_cut_to_one_level() -> None:
    """Silence around it goes, and where somebody speaks it lies at -24 dBFS."""
    from speech import trimmed

    tone = 0.3 * np.sin(np.arange(16_000) * 0.2).astype(np.float32)
    made = trimmed(np.concatenate([np.zeros(8000, np.float32), tone, np.zeros(8000, np.float32)]))
    assert 16_000 <= len(made) <= 16_000 + 6 * 320
    assert 20 * np.log10(np.sqrt(np.mean(made[1000:-2000] ** 2))) == pytest.approx(-24, abs=0.2)
