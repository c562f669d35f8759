# SPDX-License-Identifier: GPL-2.0-or-later
"""The engine in a process and an interpreter of its own: start it, and say in the editor's words what it says no to."""

from __future__ import annotations

import os
import subprocess

from crossgrain_words import HERE, RefusalError, _

ENGINE_FILE = os.path.join(HERE, "crossgrain-engine.txt")
"""Holds the path of the interpreter that has the engine; ``crossgrain editor install`` writes it."""
PATIENCE_S = 30
"""A call that takes longer hangs; the window is frozen as long."""
NOT_THE_EDITORS = ("PYTHONPATH", "PYTHONHOME", "PYTHONEXECUTABLE", "__PYVENV_LAUNCHER__", "LD_LIBRARY_PATH")
"""What the editor sets for its own interpreter, and what would lead another one astray."""


def ask(words, target):
    """Call the engine, and see that it wrote the drawing or page.

    Raises:
        RefusalError: it cannot be started, or says no, or dies.
    """
    environment = {name: value for name, value in os.environ.items() if name not in NOT_THE_EDITORS}
    environment["OPENBLAS_NUM_THREADS"] = "1"  # no more threads to start than there is work for
    try:
        done = subprocess.run(
            [*engine(), *words, "--json"],
            stdin=subprocess.DEVNULL,
            capture_output=True,
            env=environment,
            cwd=os.path.dirname(target),
            timeout=PATIENCE_S,
            creationflags=getattr(subprocess, "CREATE_NO_WINDOW", 0),
        )
    except subprocess.TimeoutExpired as error:
        raise RefusalError(
            _(
                "Crossgrain did not answer within {seconds} seconds. Try it on one piece; a line with thousands of "
                "nodes has to be simplified first (Path ▸ Simplify)."
            ).format(seconds=PATIENCE_S)
        ) from error
    except (OSError, ValueError) as error:
        raise RefusalError(
            _("Crossgrain's engine cannot be started ({reason}). {install}").format(
                reason=getattr(error, "strerror", None) or error, install=_install()
            )
        ) from error
    if done.returncode in (0, 1) and os.path.isfile(target):
        return
    raise RefusalError(answer(done.returncode, done.stderr.decode("utf-8", "replace")))


def engine():
    """Return the words that start the engine.

    Raises:
        RefusalError: nothing says where it is.
    """
    try:
        with open(ENGINE_FILE, encoding="utf-8") as file:
            interpreter = file.read().strip()
    except (OSError, ValueError):
        interpreter = ""
    if interpreter:
        return [interpreter, "-P", "-X", "utf8", "-m", "crossgrain.cli"]
    import shutil

    programme = shutil.which("crossgrain")
    if programme:
        return [programme]
    raise RefusalError(_("Crossgrain's menus do not know where its engine is. {install}").format(install=_install()))


def answer(code, said):
    """Return the sentence for a call that failed.

    Args:
        code: the exit code of the engine.
        said: what it wrote to standard error.
    """
    lines = [line for line in said.splitlines() if line.strip()]
    if code in (2, 3) and lines:
        return in_the_editors_words(lines[-1])
    if code == 4 and lines:
        return said.strip()
    if "No module named" in said and "crossgrain" in said:
        return _("Crossgrain's engine is no longer where it was. {install}").format(install=_install())
    stopped = _("Crossgrain's engine stopped without an answer (code {code}).").format(code=code)
    return " ".join((stopped, *lines[-1:], _install()))


def in_the_editors_words(sentence):
    """Return what the command said, where it speaks of its options, as it is said in the editor."""
    import re

    sentence = re.sub("^(Error|Erreur)\\s?: ", "", sentence)
    sentence = re.sub("^Invalid value for '[^']*': ", "", sentence)
    if "--scale" in sentence:
        start = max(sentence.rfind(". ", 0, sentence.index("--scale")), sentence.rfind(") ", 0, sentence.index("--")))
        advice = _("Set the true size of the page in mm and its scale under File ▸ Document Properties.")
        sentence = sentence[: start + 2] + advice if start >= 0 else advice
    sentence = sentence.replace("--accept-pressure", _("“Go on above 3.3 kPa”"))
    # What is left of options is advice for a terminal.
    parts = re.split("(?<=[.)]) +", sentence)
    return " ".join(part for part in parts if not re.search("(^|\\W)--[a-z]", part)) or sentence


def _install():
    return _("In a terminal, run: crossgrain editor install")
