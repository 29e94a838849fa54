"""TOML made to hurt whoever reads it: what a settings file or a grammar file could be."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from hostile_strings import STRINGS, long_text

_DIGITS = 10_000_000
_KEYS = 1_000_000
_DEEP = 100_000
_MOST = 1024 * 1024


def _filled(row: Callable[[int], bytes], spare: int = 0) -> bytes:
    """Rows until a file is as large as one may be."""
    rows, size, n = [], spare, 0
    while True:
        more = row(n)
        size, n = size + len(more), n + 1
        if size > _MOST:
            return b"".join(rows)
        rows.append(more)


def _letters(number: int) -> bytes:
    """A number in letters."""
    return bytes(97 + int(digit) for digit in str(number))


def _quoted(text: str) -> str:
    """A TOML string, escaped; what cannot be written so is left out."""
    plain = text.encode("utf-8", "ignore").decode()
    return '"' + "".join(f"\\U{ord(c):08X}" for c in plain) + '"'


BOMBS: Mapping[str, Callable[[], bytes]] = {
    "arrays in arrays": lambda: b"x = " + b"[" * _DEEP + b"]" * _DEEP,
    "tables in tables": lambda: b"x = " + b"{a=" * _DEEP + b"1" + b"}" * _DEEP,
    "a key of many parts": lambda: b".".join([b"a"] * _DEEP) + b" = 1",
    "a header of many parts": lambda: b"[" + b".".join([b"a"] * _DEEP) + b"]",
    "headers that go deeper": lambda: b"\n".join(b"[" + b".".join([b"a"] * n) + b"]" for n in range(1, 2000)),
    "many digits": lambda: b"x = " + b"9" * _DIGITS,
    "an integer beyond the limit": lambda: b"beam = " + b"9" * 5000,
    "a hexadecimal integer of a million digits": lambda: b"beam = 0x" + b"f" * 1_000_000,
    "an endless exponent": lambda: b"bias = 1e999999",
    "no number": lambda: b"bias = nan\ncarry_s = inf",
    "an exponent of many digits": lambda: b"bias = 1e" + b"9" * 100_000,
    "a decimal of many digits": lambda: b"bias = 0." + b"1" * 1_000_000,
    "a day of no calendar": lambda: b"map = 2026-02-30\nbias = 0000-00-00T99:99:99Z",
    "a million keys": lambda: b"\n".join(b"k%d = 1" % n for n in range(_KEYS)),
    "a million tables": lambda: b"[[zone]]\n" * _KEYS,
    "faulty rows by the thousand": lambda: b"[[meaning]]\nslott = 1\n" * 20_000,
    "the same key twice": lambda: b'map = "ladder-frame"\nmap = "unibody"',
    "as many keys as fit": lambda: _filled(lambda n: b"k%x=1\n" % n),
    "as many tables as fit": lambda: _filled(lambda _: b"[[zone]]\n"),
    "as many faulty rows as fit": lambda: _filled(lambda _: b"[[meaning]]\nslott=1\n"),
    "as many rows as fit": lambda: b"zone=[" + _filled(lambda _: b"{},", 20) + b"]",
    "as many headers as fit": lambda: _filled(lambda n: b"[" + b".".join([b"a"] * 30) + b".k%x]\n" % n),
    "as many phrases as fit": lambda: b'[[meaning]]\nslot = "condition"\nvalue = "hole"\nsay = [\n' + _filled(lambda n: b'"word %s",\n' % _letters(n), 200) + b"]\n",
    "as many places as fit": lambda: _filled(lambda n: b'[[zone]]\nid = "z%s"\ntitle = "z"\nrole = "panel"\nlayout = "pair"\ncavity = "never"\nsay = ["zone %s"]\n' % (_letters(n), _letters(n))),
    "a name as long as fits": lambda: b'map = "' + b"x" * (_MOST - 50) + b'"\n',
    "a word as long as fits": lambda: b'[[meaning]]\nslot = "condition"\nvalue = "hole"\nsay = ["' + b"x" * (_MOST - 200) + b'"]\n',
    "a sentence as long as fits": lambda: b'[[meaning]]\nslot = "condition"\nvalue = "hole"\nsay = ["' + b"x y " * (_MOST // 4 - 60) + b'"]\n',
    "a table twice": lambda: b"[a]\n[a]\n",
    "a million brackets that close nothing": lambda: b"]" * 1_000_000,
    "quotes without an end": lambda: b'x = """' + b'\\"' * 500_000,
    "strings that nearly end": lambda: b"x = '''" + b"''x" * 300_000,
    "a byte order mark": lambda: b"\xef\xbb\xbfbias = 0.4",
    "UTF-16": lambda: 'bias = 0.4\n'.encode("utf-16"),
    "UTF-32": lambda: 'bias = 0.4\n'.encode("utf-32"),
    "bytes that are no text": lambda: bytes(range(256)) * 64,
    "NUL": lambda: b"\0" * 100_000,
    "control characters": lambda: b"inspector = \"\x1b[2J\x07\"",
    "overlong UTF-8": lambda: b"map = \"\xc0\xaf\xc0\xaf\"",
    "half characters": lambda: b"map = \"\xed\xa0\x80\"\ninspector = \"\\uD800\"",
    "a name of ten million characters": lambda: f"map = {_quoted('a')[:-1]}{long_text()[6:-1]}\"".encode(),
    "nothing": lambda: b"",
    "an archive": lambda: b"PK\x03\x04" + bytes(1000),
    **{f"a map called {name}": (lambda text=text: f"map = {_quoted(text)}\ninspector = {_quoted(text)}".encode()) for name, text in STRINGS.items()},
}  # fmt: skip
"""Name to what makes the file; the largest have ten megabytes."""
