"""A real ``voicelog`` at work, and somebody who works its sound card, its terminal and its signals."""

from __future__ import annotations

import codecs
import fcntl
import os
import pty
import signal
import struct
import subprocess
import sys
import termios
import threading
import time
from collections.abc import Callable, Mapping, Sequence
from contextlib import suppress
from pathlib import Path

from machine_glass import Glass, plain

HOST = Path(__file__).with_name("machine_host.py")
PATIENCE_S = 240.0
"""So long anything is waited for: what hangs is killed, and its case fails."""
QUIET_S = 1.0
"""After the last word that the tool said: its words are a third of a second long here."""
COLUMNS, LINES = 100, 34


class Overdue(AssertionError):
    """What was waited for did not come; tells what came instead."""


class Running:
    """A ``voicelog`` that was started.

    Args:
        folder: for all of its files.
        arguments: of the command line.
        host: flags of ``machine_host.py``.
        screen: it stands in a terminal of its own; else its output is a pipe.
        stdin: ``pipe``, ``null`` or ``closed``; a terminal brings its own.
        more: of its environment.
    """

    def __init__(
        self, folder: Path, arguments: Sequence[str], *, host: Sequence[str] = (),
        screen: bool = False, stdin: str = "pipe", more: Mapping[str, str] | None = None,
    ) -> None:  # fmt: skip
        folder.mkdir(parents=True, exist_ok=True)
        self.folder, self._screen, self.glass = folder, screen, Glass(COLUMNS, LINES)
        self.text, self._guard = "", threading.Lock()
        self._commands = folder / "commands"
        with suppress(FileExistsError):
            os.mkfifo(self._commands)
        (folder / "ears").touch()
        command = [sys.executable, str(HOST), str(folder), *host]
        command += [*(["--terminal"] if screen else []), "--", *arguments]
        self.process = self._begin(command, _environment(folder, more or {}), stdin)
        self._watch = threading.Timer(PATIENCE_S * 1.5, self.process.kill)
        self._watch.daemon = True
        self._watch.start()
        self._reader = threading.Thread(target=self._read, daemon=True)
        self._reader.start()

    def _begin(
        self, command: Sequence[str], environment: Mapping[str, str], stdin: str
    ) -> subprocess.Popen[bytes]:
        if not self._screen:
            read, write = os.pipe()
            self._hands, self._eyes = -1, read
            given = {"pipe": subprocess.PIPE, "null": subprocess.DEVNULL, "closed": None}[stdin]
            if stdin == "closed":
                command = ["sh", "-c", 'exec "$@" <&-', "sh", *command]
            child = subprocess.Popen(
                command, stdin=given, stdout=write, stderr=write, env=environment, process_group=0
            )
            os.close(write)
            self._hands = child.stdin.fileno() if child.stdin is not None else -1
            return child
        master, slave = pty.openpty()
        self._hands = self._eyes = master
        self.resize(COLUMNS, LINES, draw=False)
        child = subprocess.Popen(
            command, stdin=slave, stdout=slave, stderr=slave, env=environment,
            start_new_session=True,
        )  # fmt: skip
        os.close(slave)
        return child

    def _read(self) -> None:
        decoder = codecs.getincrementaldecoder("utf-8")("replace")
        while True:
            try:
                came = os.read(self._eyes, 65_536)
            except OSError:  # a terminal whose last user has left
                return
            if not came:
                return
            with self._guard:
                text = decoder.decode(came)
                self.text += text
                self.glass.write(text)

    # --- what a person does ---------------------------------------------------------------------

    def type(self, text: str) -> None:
        """Keys in a terminal, a line elsewhere."""
        with suppress(OSError):
            os.write(self._hands, text.encode())

    def say(self, name: str) -> None:
        """Play a recording to the microphone, once the tool has said what it had to say: it does not
        listen meanwhile.
        """
        heard, since_s = self.heard, time.monotonic()
        while time.monotonic() - since_s < QUIET_S:
            time.sleep(0.05)
            if self.heard != heard:
                heard, since_s = self.heard, time.monotonic()
        self.card(f"say {name}")

    def card(self, command: str) -> None:
        """Something befalls the sound card."""
        with self._commands.open("w", encoding="utf-8") as pipe:
            pipe.write(f"{command}\n")

    def signal(self, number: int) -> None:
        """A signal to the process."""
        self.process.send_signal(number)

    def stop(self) -> None:
        """Ctrl-Z, and wait until it stands still, as a shell does."""
        self.signal(signal.SIGTSTP)
        os.waitpid(self.process.pid, os.WUNTRACED)

    def resize(self, columns: int, lines: int, *, draw: bool = True) -> None:
        """Drag the window to another size."""
        if draw:
            with self._guard:
                self.glass.resize(columns, lines)
        fcntl.ioctl(self._hands, termios.TIOCSWINSZ, struct.pack("HHHH", lines, columns, 0, 0))

    def hands(self) -> int:
        """The end of the pipe, or of the terminal, that is typed into."""
        return self._hands

    def hang_up(self) -> None:
        """Close the terminal's window."""
        os.close(self._eyes)

    # --- what there is to see and to hear -------------------------------------------------------

    @property
    def seen(self) -> str:
        """What stands on the screen, or has been written."""
        with self._guard:
            return "\n".join(self.glass.rows) if self.glass.alone else plain(self.text)

    @property
    def ever(self) -> str:
        """All that was ever drawn or written, piece after piece."""
        with self._guard:
            return plain(self.text)

    @property
    def heard(self) -> str:
        """Tones and sentences so far, one a line."""
        return (self.folder / "ears").read_text(encoding="utf-8")

    def until(self, what: str, *, ever: bool = False) -> None:
        """Wait until this can be seen.

        Args:
            what: a text.
            ever: it may have been seen and have gone again.
        """
        self._wait(lambda: what in self.seen or (ever and what in self.ever), what)

    def until_gone(self, what: str) -> None:
        """Wait until this can no longer be seen."""
        self._wait(lambda: what not in self.seen, f"the end of {what}")

    def until_heard(self, what: str, times: int = 1) -> None:
        """Wait until this was heard so often."""
        self._wait(lambda: self.heard.count(what) >= times, what)

    def end(self) -> int:
        """Wait for the process to end; gives its exit status, minus the signal that killed it."""
        try:
            code = self.process.wait(PATIENCE_S)
        except subprocess.TimeoutExpired:
            self.kill()
            raise Overdue(f"it did not end\n{self.seen}\n{self.heard}") from None
        self._watch.cancel()
        self._reader.join(2.0)
        return code

    def kill(self) -> None:
        """End it, whatever it does."""
        self._watch.cancel()
        self.process.kill()
        self.process.wait()

    def _wait(self, there: Callable[[], bool], what: str) -> None:
        until_s = time.monotonic() + PATIENCE_S
        while not there():
            if time.monotonic() > until_s or (self.process.poll() is not None and not there()):
                time.sleep(0.2)
                if there():
                    return
                raise Overdue(f"{what!r} did not come\n{self.seen}\n{self.heard}")
            time.sleep(0.02)


def _environment(folder: Path, more: Mapping[str, str]) -> dict[str, str]:
    """Away from the tester's own settings and logs; checked grammars are kept for the next case."""
    kept = {name: value for name, value in os.environ.items() if not name.startswith("VOICELOG_")}
    names = ("HOME", "XDG_CONFIG_HOME", "XDG_DATA_HOME")
    home = {name: str(folder) for name in names}
    home["XDG_CACHE_HOME"] = str(folder.parent / "cache")
    return kept | home | {"TERM": "xterm-256color", "LANG": "C.UTF-8", "NO_COLOR": ""} | more
