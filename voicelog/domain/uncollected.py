"""Making very many objects at once, without Python looking through all of them over and over."""

from __future__ import annotations

import gc
from collections.abc import Iterator
from contextlib import contextmanager

MANY = 100_000
"""Objects; a log of a day makes fewer. Whatever waits to be collected just then never is, so that this
must not happen often."""


@contextmanager
def uncollected() -> Iterator[None]:
    """Pause the search for objects that only hold each other: what a log is made of never does.

    With 100,000 facts that search takes two thirds of the time. Where very many objects were made
    meanwhile, they are left out of later searches too. Within another pause it does nothing.
    """
    searching = gc.isenabled()
    gc.disable()
    try:
        yield
    finally:
        if searching:
            if gc.get_count()[0] > MANY:
                gc.freeze()
            gc.enable()
