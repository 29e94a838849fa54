"""Templates of the pages that are one HTML file: every value is escaped, a misspelt name is a fault, and
the page's own policy knows its one style sheet by its hash.
"""

from __future__ import annotations

import base64
import hashlib
from typing import TYPE_CHECKING

from voicelog.tongue import worded

if TYPE_CHECKING:
    from jinja2 import Environment

STYLE = "page.css"


def templates(folder: str) -> Environment:
    """Those of a folder beside this module, with the style sheet in it (``style``) and what their policy
    lets it be known by (``style_hash``); their own texts stand in ``_()``, for the catalogue.
    """
    from jinja2 import Environment, PackageLoader, StrictUndefined
    from markupsafe import Markup

    made = Environment(
        loader=PackageLoader("voicelog.export", folder), autoescape=True,
        undefined=StrictUndefined, trim_blocks=True, lstrip_blocks=True,
    )  # fmt: skip
    style = _style_of(folder)
    made.globals |= {
        "_": worded,
        "style": Markup(style),  # noqa: S704  a file of this package
        "style_hash": _hash_of(style),
    }
    return made


def _style_of(folder: str) -> str:
    """The style sheet that lies beside them."""
    from importlib.resources import files

    return (files("voicelog.export") / folder / STYLE).read_text("utf-8")


def _hash_of(style: str) -> str:
    digest = hashlib.sha256(style.encode()).digest()
    return f"sha256-{base64.b64encode(digest).decode('ascii')}"
