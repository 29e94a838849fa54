"""The part of PortAudio that capture uses, as the module ``sounddevice`` offers it."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any, Protocol


class Library(Protocol):
    """As much of the module ``sounddevice`` as is used here; :mod:`.pretend` stands in for it."""

    @property
    def PortAudioError(self) -> type[Exception]:  # noqa: N802  sounddevice's names
        """What it raises."""

    @property
    def InputStream(self) -> Any:  # noqa: N802
        """Opens a microphone."""

    @property
    def OutputStream(self) -> Any:  # noqa: N802
        """Opens a speaker."""

    @property
    def default(self) -> Any:
        """The system's choices; ``default.device`` is a pair of numbers, -1 for none."""

    def query_devices(self) -> Sequence[Mapping[str, Any]]:
        """Every device, in the order of its number."""

    def query_hostapis(self, index: int) -> Mapping[str, Any]:
        """The sound system of that number."""

    def _terminate(self) -> None: ...

    def _initialize(self) -> None: ...
