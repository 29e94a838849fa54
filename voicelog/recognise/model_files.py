"""Files of a model that another project's package carries: there, and the very ones meant."""

from __future__ import annotations

import hashlib
import importlib.util
from collections.abc import Mapping
from dataclasses import dataclass
from pathlib import Path

from voicelog.errors import EarFault
from voicelog.tongue import worded


@dataclass(frozen=True, slots=True)
class ModelFiles:
    """The files of one model.

    Args:
        ear: the ear that needs them, as a sentence begins ("The built-in ear").
        package: the package that carries them, by its import name; it is never imported.
        inside: their folder in it, ``/`` between folders.
        sha256: name to the SHA-256 of its contents, lower-case hexadecimal.
        install: how to install the package, as a hint.
        anew: how to install it anew, as a hint.
    """

    ear: str
    package: str
    inside: str
    sha256: Mapping[str, str]
    install: str
    anew: str

    def folder(self) -> Path:
        """Where they lie, without importing the package.

        Raises:
            EarFault: when it is not installed.
        """
        spec = importlib.util.find_spec(self.package)
        if spec is None or spec.origin is None:
            raise EarFault(
                worded("{ear}'s model is not installed", ear=worded(self.ear)), worded(self.install)
            )
        return Path(spec.origin).parent / self.inside

    def check(self, folder: Path) -> None:
        """See that every file is there and unaltered (about 0.1 s).

        Raises:
            EarFault: naming the first file that is missing or differs.
        """
        for name, wanted in self.sha256.items():
            try:
                with (folder / name).open("rb") as file:
                    found = hashlib.file_digest(file, "sha256").hexdigest()
            except OSError as error:
                raise EarFault(
                    worded(
                        "{ear}'s file {name} cannot be read ({reason})",
                        ear=worded(self.ear),
                        name=name,
                        reason=error.strerror,
                    ),
                    worded(self.install),
                ) from error
            if found != wanted:
                raise EarFault(
                    worded(
                        "{ear}'s file {name} is not the one voicelog was made for",
                        ear=worded(self.ear),
                        name=name,
                    ),
                    worded(self.anew),
                )
