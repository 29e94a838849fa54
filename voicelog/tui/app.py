"""The live screen as an app: it starts the engine, shows what it says, and hands keys on to it."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from pathlib import Path, PurePath
from time import monotonic
from typing import ClassVar

from textual.app import App
from textual.binding import BindingType
from textual.command import Provider
from textual.timer import Timer
from textual.widgets import Input

from voicelog.config.settings import Settings
from voicelog.runtime.messages import Action, Closed, Engine, Message, StateChanged, Told
from voicelog.tongue import worded
from voicelog.tui.actions import DEEDS, PEDAL, bindings, with_words
from voicelog.tui.help_screen import HelpScreen
from voicelog.tui.live_screen import LiveScreen
from voicelog.tui.looks import STATES
from voicelog.tui.palette import Deeds, open_palette
from voicelog.tui.pedal import Mode, Pedal
from voicelog.tui.pedal_key import checked_key, is_printable
from voicelog.tui.posts import Published
from voicelog.tui.terminal import driver
from voicelog.tui.themes import NAMES, themes
from voicelog.tui.typed_line import TypedLine

TWICE_S = 3.0
"""So soon the key to leave must come again."""
READ_S = 1.0
"""Sooner than that nobody has read what closing the inspection leaves open."""
STOP_S = 10.0
"""So long the engine's last word is waited for."""
LINGER_S = 20.0
"""So long a finished inspection stays on the screen, unless a key is pressed."""


def _sheets() -> list[str | PurePath]:
    """The app's style sheet first, then those beside the widgets."""
    folder = Path(__file__).parent
    rest = sorted(path for path in folder.glob("*.tcss") if path.name != "app.tcss")
    return [folder / "app.tcss", *rest]


class LiveApp(App[Closed | None], inherit_bindings=False):
    """Runs an engine and shows it; its result is the engine's last word, None where none came.

    Args:
        engine: the inspection; started when the screen is up.
        settings: what the pedal does and which key it sends, how much is said aloud, the colours.
        clock: seconds that only run forward.
        linger_s: so long a finished inspection stays on the screen.

    Raises:
        UsageFault: the pedal's key is none, or does something else.
    """

    CSS_PATH = _sheets()
    TITLE = "voicelog"
    COMMANDS: ClassVar[set[type[Provider] | Callable[[], type[Provider]]]] = {Deeds}
    BINDINGS: ClassVar[list[BindingType]] = list(bindings())

    def __init__(
        self,
        engine: Engine,
        settings: Settings,
        *,
        clock: Callable[[], float] = monotonic,
        linger_s: float = LINGER_S,
    ) -> None:
        self._pedal_key = checked_key(settings.pedal)
        super().__init__(driver_class=driver())
        self._engine, self._clock, self._linger_s = engine, clock, linger_s
        self._pedal = Pedal(Mode(settings.push_to_talk))
        self._watch: Timer | None = None
        self._asked_to_leave_s = self._finishing_s = float("-inf")
        self._last_word: Closed | None = None
        self._live = LiveScreen(settings.talk, clock)
        for made in themes():
            self.register_theme(made)
        self.theme = NAMES[settings.theme]
        self.set_keymap({PEDAL: self._pedal_key})

    def get_default_screen(self) -> LiveScreen:
        """The live screen lies under everything else."""
        return self._live

    def on_ready(self) -> None:
        """Start the engine once there is a screen to show it on; it answers from its own thread."""
        self._engine.start(self._receive)

    def _receive(self, message: Message) -> None:
        """Called on the engine's thread: the queue keeps the order."""
        self.post_message(Published(message))

    def on_published(self, event: Published) -> None:
        """Show what the engine says; what needs an answer or an eye uncovers the screen."""
        message = event.message
        self._live.show(message)
        if _needs_eyes(message):
            self._uncover()
        if isinstance(message, Closed):
            self._take_leave(message)

    def on_typed_line_said(self, event: TypedLine.Said) -> None:
        """Typed words are taken like spoken ones."""
        self._engine.type(event.text)

    def action_deed(self, name: str) -> None:
        """Do what a key or the palette asks for.

        Args:
            name: id of a deed.
        """
        deed = next(deed for deed in DEEDS if deed.id == name)
        if deed.action is None:
            _OWN[name](self)
        elif not self._is_a_slip(deed.action):
            self._engine.act(deed.action)

    def _is_a_slip(self, action: Action) -> bool:
        """A sentence typed without its line: "front rail" holds f and a, which would close for good."""
        if action is Action.FINISH:
            self._finishing_s = self._clock()
        slip = action is Action.AFFIRM and self._clock() - self._finishing_s < READ_S
        if slip:
            self._live.notice(
                worded("Too soon to have read what is open. Press a again, or t to type a sentence")
            )
        return slip

    def check_action(self, action: str, parameters: tuple[object, ...]) -> bool | None:
        """Everything can be done at any time; but a character that is typed is no pedal."""
        typing = isinstance(self.focused, Input) and is_printable(self._pedal_key)
        return not (action == "deed" and parameters == (PEDAL,) and typing)

    def action_command_palette(self) -> None:
        """The palette, in the language of whoever opens it."""
        open_palette(self)

    def _uncover(self) -> None:
        while self.screen is not self._live:
            self.pop_screen()

    def _press_pedal(self) -> None:
        self._act(self._pedal.press(self._clock()))
        if self._pedal.watching and self._watch is None:
            self._watch = self.set_interval(0.05, self._wait_for_pedal)

    def _wait_for_pedal(self) -> None:
        self._act(self._pedal.wait(self._clock()))
        if not self._pedal.watching and self._watch is not None:
            self._watch.stop()
            self._watch = None

    def _act(self, actions: tuple[Action, ...]) -> None:
        for action in actions:
            self._engine.act(action)

    def _type(self) -> None:
        self._uncover()
        self._live.query_one(TypedLine).open()

    def _plan(self) -> None:
        self._uncover()
        self._live.toggle_plan()

    def _colours(self) -> None:
        self.theme = NAMES["light" if self.theme == NAMES["dark"] else "dark"]

    def _help(self) -> None:
        shown = isinstance(self.screen, HelpScreen)
        self._uncover()
        if not shown:
            self.push_screen(HelpScreen(with_words(self._live.spoken)))

    def _leave(self) -> None:
        """Leave when asked twice; a finished inspection needs asking once."""
        if self._last_word is not None:
            self.exit(self._last_word)
        elif self._clock() - self._asked_to_leave_s <= TWICE_S:
            self._stop()
        else:
            self._asked_to_leave_s = self._clock()
            self._uncover()
            self._live.answer(
                worded(
                    "Press the same key again within {seconds} s to stop; it can be gone on with",
                    seconds=f"{TWICE_S:.0f}",
                )
            )

    def _stop(self) -> None:
        self._live.show_leaving()
        self._engine.stop()
        self.set_timer(STOP_S, lambda: self.exit(self._last_word))

    def _take_leave(self, closed: Closed) -> None:
        """Leave with the engine's last word; what was finished by voice stays to be read."""
        self._last_word = closed
        if closed.finished and self._linger_s > 0:
            self._live.notice(worded("The inspection is closed. Press q to leave the screen"))
            self.set_timer(self._linger_s, lambda: self.exit(closed))
        else:
            self.exit(closed)


def _needs_eyes(message: Message) -> bool:
    """True for a question, an alarm, the cautions and the end."""
    if isinstance(message, StateChanged):
        return STATES[message.state].tone in ("alarm", "ask")
    return isinstance(message, Closed) or (isinstance(message, Told) and message.question)


_OWN: Mapping[str, Callable[[LiveApp], None]] = {
    PEDAL: LiveApp._press_pedal,
    "type": LiveApp._type,
    "plan": LiveApp._plan,
    "colours": LiveApp._colours,
    "help": LiveApp._help,
    "leave": LiveApp._leave,
}
"""The deeds that the screen does by itself."""
