"""Write a page for the browser: whole or not at all."""

from __future__ import annotations

import contextlib
import os
from pathlib import Path

from crossgrain.errors import DocumentError
from crossgrain.language import _


def write_page(path: Path, text: str) -> None:
    """Write a page, over one that is there already: it is made anew each time and holds nothing of the maker's.

    Args:
        path: the file.
        text: a whole HTML document.

    Raises:
        DocumentError: it cannot be written there.
    """
    part = path.with_name(f".{path.name}.part")
    try:
        part.write_text(text, encoding="utf-8")
        os.replace(part, path)
    except (OSError, ValueError) as error:
        raise DocumentError(
            _("{path} cannot be written: {reason}.").format(
                path=path, reason=getattr(error, "strerror", None) or error
            ),
            advice=_("Choose another place."),
        ) from error
    finally:
        with contextlib.suppress(OSError, ValueError):
            part.unlink(missing_ok=True)
