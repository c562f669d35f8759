"""Where the sample drawings lie."""

from __future__ import annotations

from pathlib import Path

import crossgrain
from crossgrain.errors import DocumentError
from crossgrain.language import _


def sample(name: str) -> Path:
    """Find a sample drawing: in the installed package, or beside the engine in a checkout.

    Args:
        name: the file's name.

    Raises:
        DocumentError: it is in neither place.
    """
    package = Path(crossgrain.__file__).parent
    for folder in (package / "samples", package.parent.parent / "samples"):
        if (folder / name).is_file():
            return folder / name
    raise DocumentError(
        _("The sample drawing {name} is not there.").format(name=name), advice=_("Install Crossgrain again.")
    )
