"""Text that means harm, by what it would do if somebody let it: the corpus of all hostile tests."""

from __future__ import annotations

from collections.abc import Iterator, Mapping

STRINGS: Mapping[str, str] = {
    "colour and clear screen": "\x1b[31mred\x1b[2J\x1b[H",
    "window title": "\x1b]0;owned\x07",
    "clipboard": "\x1b]52;c;cm0gLXJm\x1b\\",
    "link": "\x1b]8;;https://example.invalid\x1b\\click\x1b]8;;\x1b\\",
    "device query": "\x1bP$q\"p\x1b\\\x1b[6n\x1b[c",
    "C1 bytes": "\x9b31m\x9d0;owned\x9c\x90q\x9c\x85",
    "carriage return": "unsafe\rcosmetic",
    "backspaces": "unsafe\b\b\b\b\b\bsound ",
    "line feeds": "one\n\nvoicelog: The log is whole\v\f",
    "line separators": "one\u2028two\u2029three",
    "bell and delete": "\a\x7f",
    "NUL": "before\0after",
    "direction override": "\u202egnp.exe\u202c",
    "direction isolates": "\u2066abc\u2067def\u2068ghi\u2069\u061c\u200e\u200f",
    "zero width": "un\u200bsa\u200cfe\u200d\ufeff\u2060\u00ad",
    "tags and fillers": "\U000e0041\U000e0042\u3164\uffa0",
    "half a character": "\ud800lone\udfff",
    "no characters": "\uffff\U0010ffff\ue000",
    "script": "<script>alert(1)</script>",
    "image": '"><img src=x onerror=alert(1)>',
    "attribute": "' onmouseover='alert(1)' x='",
    "drawing": "</svg><svg onload=alert(1)>",
    "comment": "--><script>alert(1)</script><!-- ]]> <![CDATA[",
    "entity": "&lt;script&gt;&#60;b&#62;",
    "style": "</style><style>*{background:url(https://example.invalid)}",
    "template": "{{ 7*7 }}{% for x in y %}${7*7}#{7*7}",
    "shape": "{0.__class__}{what}%s%n%(x)s",
    "typesetting": '#eval("1+1") #read("/etc/passwd") $ \\ * _ [ ] @ref <label>',
    "terminal markup": "[bold red]x[/][link=https://example.invalid]y[/link] [/nothing]",
    "cue": "00:00:01.000 --> 00:00:02.000\n<v nobody>hi</v> STYLE ::cue{}",
    "formula": "=HYPERLINK(\"https://example.invalid\",\"x\")",
    "formula by plus": "+1+cmd|' /C calc'!A0",
    "formula by minus": "-2+3+cmd|' /C calc'!A0",
    "formula by at": "@SUM(1+1)*cmd|' /C calc'!A0",
    "formula behind a tab": "\t=1+1",
    "formula behind a return": "\r=1+1",
    "formula full width": "\uff1d1+1",
    "formula behind a space": " \u00a0=1+1",
    "formula behind quotes": "\"=1+1\",\"=2",
    "semicolon": "a;=1+1;b",
    "traversal": "../../../../etc/passwd",
    "traversal with strokes back": "..\\..\\windows\\win.ini",
    "absolute path": "/etc/passwd",
    "device of a system": "CON.wav",
    "stream of a file": "x.txt::$DATA",
    "an option": "--output=/tmp/owned",
    "shell": "$(touch owned)`touch owned`;touch owned|touch owned&",
    "stacked marks": "e" + "\u0301" * 400,
    "right to left": "\u05e9\u05dc\u05d5\u05dd \u0645\u0631\u062d\u0628\u0627",
    "nothing but spaces": " \u3000\u00a0 ",
}  # fmt: skip
"""Name to text; short, so that each can stand wherever text can."""

DIRECTIONS = frozenset("\u061c\u200e\u200f\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069")
"""Marks that turn the reading direction round (Unicode Standard Annex 9)."""

UNSEEN = frozenset("\u200b\u200c\u200d\u2060\ufeff\u00ad")
"""Marks that show as nothing and part or join words."""

WHOLE = "|".join(STRINGS.values())
"""All of them in one text."""


def long_text(length: int = 10_000_000) -> str:
    """A name of ten million characters, hostile at both ends."""
    return f"\x1b[31m{'x' * (length - 10)}\u202e"


def encodable(text: str) -> str:
    """The text as a command line or a file name can hold it: no NUL, no half characters."""
    return text.replace("\0", "").encode("utf-8", "replace").decode()


def utterable() -> Iterator[tuple[str, str]]:
    """Each as somebody could have it heard: a finding, and the text in the middle of it."""
    for name, text in STRINGS.items():
        yield name, f"left front rail, crack, {encodable(text)}, metal is soft"
