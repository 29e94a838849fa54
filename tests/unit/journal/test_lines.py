"""One line: what is written, what is taken back, what is refused."""

from __future__ import annotations

import json
from typing import Any

import pytest

from voicelog.domain.fact import FORMAT, Fact
from voicelog.errors import InputFault, LogFault
from voicelog.journal import lines
from voicelog.journal.lines import NewerLog, decode, digest, encode

AT = "2026-03-14T09:05:30.250Z"


def _fact(**body: Any) -> Fact:
    return Fact(7, AT, 1.5, "a" * 64, "utterance", body)


def _line(**changed: Any) -> bytes:
    """A good line with some keys changed."""
    return json.dumps(json.loads(encode(_fact(utterance="u7"))) | changed).encode()


def test_a_line_is_compact_with_the_envelope_first() -> None:
    """Keys in their fixed order, no blanks, the body after the envelope."""
    assert encode(_fact(utterance="u7", n=[1, 2])) == (
        b'{"seq":7,"at":"2026-03-14T09:05:30.250Z","offset_s":1.5,"prev":"' + b"a" * 64 + b'",'
        b'"type":"utterance","v":1,"utterance":"u7","n":[1,2]}'
    )


def test_nothing_in_a_line_can_steer_a_terminal() -> None:
    """Control, direction and stray surrogate characters are escaped, and come back as they were."""
    text = "\x1b[2J \x00 \x7f \x9b \u202e \u2028 \r\n \udcff ü 錆"
    line = encode(_fact(text=text))
    assert all(32 <= byte < 127 for byte in line)
    assert decode(line, 7).body == {"text": text}


def test_the_format_is_that_of_the_domain() -> None:
    """A format that the program writes is one that it reads."""
    assert json.loads(encode(_fact()))["v"] == FORMAT
    assert max(lines.READERS) == FORMAT


def test_digest_is_sha256() -> None:
    """The published value for "abc" (FIPS 180-2, appendix B.1)."""
    known = "ba7816bf8f01cfea414140de5dae2223b00361a396177a9cb410ff61f20015ad"
    assert digest(b"abc") == known


@pytest.mark.parametrize("key", lines.ENVELOPE)
def test_a_body_cannot_hold_a_key_of_the_envelope(key: str) -> None:
    """It would replace what the journal says of itself."""
    with pytest.raises(ValueError, match=key):
        encode(_fact(**{key: 1}))


@pytest.mark.parametrize("value", [float("nan"), float("inf"), -float("inf")])
def test_numbers_that_are_not_json_are_refused(value: float) -> None:
    """NaN and infinities are not JSON."""
    with pytest.raises(ValueError, match="Out of range"):
        encode(_fact(score=value))


def test_what_is_not_json_is_refused() -> None:
    """A set is no JSON value."""
    with pytest.raises(TypeError):
        encode(_fact(words={"a"}))


def test_a_line_longer_than_a_reader_takes_is_refused(monkeypatch: pytest.MonkeyPatch) -> None:
    """A person can meet this by pasting a book, so it says what to do."""
    monkeypatch.setattr(lines, "LONGEST_LINE", 300)
    with pytest.raises(InputFault, match=r"too long.*several pieces"):
        encode(_fact(text="x" * 300))


def test_a_line_as_long_as_a_reader_takes_is_written(monkeypatch: pytest.MonkeyPatch) -> None:
    """One byte more is not."""
    line = encode(_fact(text="x" * 100))
    monkeypatch.setattr(lines, "LONGEST_LINE", len(line))
    assert encode(_fact(text="x" * 100)) == line
    with pytest.raises(InputFault, match="too long"):
        encode(_fact(text="x" * 101))


@pytest.mark.parametrize(
    "line",
    [
        b"",
        b"{",
        b"nothing",
        b"\x00\x00\x00",
        b"\xff",
        b'\xef\xbb\xbf{"v":0}',
        b'{"v":NaN}',
        b'{"v":1e999}',
        b"[" * 100_000,
        b"9" * 5000,
    ],
)
def test_what_is_not_json_is_damage(line: bytes) -> None:
    """Empty, cut, zeroed, wrongly encoded, not JSON, endlessly nested: one clear sentence each."""
    with pytest.raises(LogFault, match=r"Line 3 of the journal is damaged: it is not JSON"):
        decode(line, 3)


@pytest.mark.parametrize("line", [b"[]", b"7", b'"text"', b"null", b' {"v":0}', b'{"v":0}\t'])
def test_json_that_is_no_object_is_damage(line: bytes) -> None:
    """A line is an object, with no blanks around it."""
    with pytest.raises(LogFault, match=r"Line 3 .* not a JSON object"):
        decode(line, 3)


def test_a_carriage_return_is_damage() -> None:
    """JSON would let it pass; the hash of the next line would not."""
    with pytest.raises(LogFault, match=r"Line 7 .* carriage return"):
        decode(_line() + b"\r", 7)


@pytest.mark.parametrize("key", lines.ENVELOPE)
def test_a_missing_key_is_named(key: str) -> None:
    """The line number and the key are told."""
    document = json.loads(_line())
    del document[key]
    with pytest.raises(LogFault, match=f"Line 7 .*'{key}' is missing or wrong"):
        decode(json.dumps(document).encode(), 7)


@pytest.mark.parametrize(
    ("key", "value"),
    [
        ("seq", "7"),
        ("seq", True),
        ("seq", 7.0),
        ("seq", 0),
        ("at", "2026-03-14 09:05:30Z"),
        ("at", "2026-03-14T09:05:30+01:00"),
        ("at", "2026-02-30T09:05:30Z"),
        ("at", 7),
        ("offset_s", -0.1),
        ("offset_s", "1"),
        ("offset_s", False),
        ("offset_s", 10**400),
        ("offset_s", 1e12),
        ("prev", "A" * 64),
        ("prev", "a" * 63),
        ("prev", None),
        ("type", ""),
        ("type", []),
        ("v", "0"),
        ("v", False),
        ("v", -1),
        ("v", [0]),
        ("v", None),
    ],
)
def test_a_wrong_key_is_named(key: str, value: object) -> None:
    """Every key of the envelope is checked for its kind and range."""
    with pytest.raises(LogFault, match=f"Line 7 .*'{key}' is missing or wrong"):
        decode(_line(**{key: value}), 7)


@pytest.mark.parametrize(
    ("key", "value"), [("seq", 1), ("offset_s", 0), ("offset_s", 999_999_999_999.5)]
)
def test_the_first_and_the_last_that_fits_is_read(key: str, value: float) -> None:
    """A log begins with line 1 at second 0; no inspection lasts for 30,000 years."""
    assert getattr(decode(_line(**{key: value}), 7), key) == value


def test_a_newer_line_says_what_to_do() -> None:
    """Even when a newer format has none of today's keys."""
    with pytest.raises(NewerLog, match=r"Line 2 .*format 12.*up to format 1.*Install") as caught:
        decode(b'{"v":12,"something":"else"}', 2)
    assert caught.value.exit_code == 5


def test_lines_of_the_first_programs_are_read_as_they_were() -> None:
    """Format 0 has the keys of format 1."""
    assert decode(_line(v=0), 7) == decode(_line(), 7)


def test_old_formats_keep_their_reader(monkeypatch: pytest.MonkeyPatch) -> None:
    """A program with format 2 reads lines of format 1 as before, and those of format 2 anew."""

    def read_2(document: dict[str, Any], number: int) -> Fact:
        """A format that gave the type another name."""
        return lines.READERS[1](document | {"type": document["kind"]}, number)

    monkeypatch.setitem(lines.READERS, 2, read_2)
    assert decode(_line(), 7) == decode(encode(_fact(utterance="u7")), 7)
    assert decode(_line(v=2, kind="gap"), 7).type == "gap"
    with pytest.raises(NewerLog, match=r"format 3.*up to format 2"):
        decode(_line(v=3), 7)


def test_types_of_later_versions_are_kept() -> None:
    """A reader keeps facts whose type it does not know."""
    fact = decode(_line(type="weather", sky="grey"), 7)
    assert (fact.type, fact.body) == ("weather", {"utterance": "u7", "sky": "grey"})


def test_what_is_wrong_with_bytes_that_are_no_json_is_told_apart() -> None:
    """Zero bytes only where there are any."""
    for line, told in (
        (b"{", "it is not JSON"),
        (b'{"a\x00":1', "it is not JSON: zero bytes stand in it"),
    ):
        with pytest.raises(LogFault) as caught:
            decode(line, 3)
        assert caught.value.message == f"Line 3 of the journal is damaged: {told}"
