"""Keep two runs out of one folder of outputs.

What keeps the second out is a lock of the operating system on an open file: it goes with the process that holds it,
however that ends, and so a run that was killed never stands in the way of the next one.
"""

from __future__ import annotations

import errno
import os
import sys
import time
from collections.abc import Iterator
from contextlib import ExitStack, contextmanager
from pathlib import Path
from typing import IO, Final

from crossgrain.batch.record import FOLDER
from crossgrain.errors import DocumentError
from crossgrain.files import why_not_written
from crossgrain.language import _

NAME: Final = ".at-work"
"""The file that is locked, in the folder of records. It is empty, and that it stands there means nothing."""

_LOOK_EVERY: Final = 0.5
"""Seconds."""
_NO_LOCKS: Final = frozenset({errno.ENOLCK, errno.ENOSYS, errno.ENOTSUP, errno.EOPNOTSUPP})
"""What disks say that know no locks, as some in a network; on them nothing keeps two runs apart."""


class BusyError(DocumentError):
    """Another run is at work in a folder."""


@contextmanager
def held(outputs: Path, *, patient: bool = False) -> Iterator[None]:
    """Hold a folder of outputs, which is made where it is not there, so that no other run writes into it.

    Args:
        outputs: the folder.
        patient: whether to wait until another run has ended, rather than to refuse.

    Raises:
        BusyError: another run is at work in it.
        DocumentError: it cannot be made or written to.

    >>> import tempfile
    >>> with tempfile.TemporaryDirectory() as folder, held(Path(folder)):
    ...     with held(Path(folder)):
    ...         pass
    Traceback (most recent call last):
    ...
    crossgrain.batch.hold.BusyError: Another run is at work in ...
    """
    path = outputs / FOLDER / NAME
    with ExitStack() as stack:
        try:
            path.parent.mkdir(parents=True, exist_ok=True)
            file = stack.enter_context(path.open("ab"))
            while not _locked(file):
                if not patient:
                    raise BusyError(
                        _("Another run is at work in {folder}.").format(folder=outputs),
                        advice=_("Let it end, or stop it, or name another folder with -o."),
                    )
                time.sleep(_LOOK_EVERY)
        except OSError as error:
            reason = _("it is a file") if os.path.isfile(outputs) else why_not_written(error)
            raise DocumentError(
                _("Results cannot be written into {folder}: {reason}.").format(folder=outputs, reason=reason),
                advice=_("Name another folder for them with -o."),
            ) from error
        yield


if sys.platform == "win32":
    import msvcrt

    def _locked(file: IO[bytes]) -> bool:
        """Lock a file until it is closed; tell whether nobody else had."""
        try:
            file.seek(0)
            msvcrt.locking(file.fileno(), msvcrt.LK_NBLCK, 1)
        except OSError:
            return False
        return True
else:
    import fcntl

    def _locked(file: IO[bytes]) -> bool:
        """Lock a file until it is closed; tell whether nobody else had."""
        try:
            fcntl.flock(file, fcntl.LOCK_EX | fcntl.LOCK_NB)
        except BlockingIOError:
            return False
        except OSError as error:
            if error.errno not in _NO_LOCKS:
                raise
        return True
