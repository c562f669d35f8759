"""The one place through which every sentence for a person passes.

Messages are written in English with named fields, ``_("Piece {piece} has no grain.")``, and filled
with :meth:`str.format` afterwards, so that a translator sees the whole sentence.
"""

from __future__ import annotations


def _(message: str) -> str:
    """Return ``message`` in the reader's language.

    Args:
        message: an English sentence, with fields in braces left unfilled.

    Returns:
        The sentence, its fields still unfilled. No catalogue is installed yet, so this is English.

    >>> _("Piece {piece} has no grain.").format(piece="front")
    'Piece front has no grain.'
    """
    return message
