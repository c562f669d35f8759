# SPDX-License-Identifier: GPL-2.0-or-later
"""What every Crossgrain menu entry shares: take the editor's arguments, ask the engine, give the drawing back.

The editor writes the drawing to a file, starts the script of a menu entry with what its dialog holds, and takes what
the script prints as the drawing's new content, in one undo step. The script passes the file through the command line
programme ``crossgrain`` in a process and an interpreter of its own, so that what the menu does and what the command
does are the same to the byte. Nothing is printed on success but the drawing; anything that stands in the way is one
sentence on standard error and exit code 1, and the editor leaves the drawing as it was.

Only the standard library is used: the editor's interpreter has none of what the engine needs, and loading the editor's
own library takes longer than the engine's work.
"""

from __future__ import annotations

import os
import subprocess
import sys

HERE = os.path.dirname(os.path.abspath(__file__))
ENGINE_FILE = os.path.join(HERE, "crossgrain-engine.txt")
"""Holds the path of the interpreter that has the engine; ``crossgrain editor install`` writes it."""
DOMAIN = "crossgrain-menus"
PATIENCE_S = 120
"""A call that takes longer hangs; the window is frozen as long."""
NOT_THE_EDITORS = ("PYTHONPATH", "PYTHONHOME", "PYTHONEXECUTABLE", "__PYVENV_LAUNCHER__", "LD_LIBRARY_PATH")
"""What the editor sets for its own interpreter, and what would lead another one astray."""


class RefusalError(Exception):
    """One sentence that says what stands in the way and what to do next; the drawing stays as it was."""


def _(message):
    """Return a sentence in the reader's language."""
    import gettext

    return gettext.translation(DOMAIN, os.path.join(HERE, "locale"), fallback=True).gettext(message)


class Dialog:
    """What the editor passed: the dialog's fields, the selection, the drawing.

    Arguments that are not known are left alone, and a field that is not there is empty: another version of the editor
    or of the dialog is no reason to fail.
    """

    def __init__(self, arguments):
        self.fields, self.ids, self.nodes, self.document = {}, [], [], ""
        for argument in arguments:
            name, given, value = argument.partition("=")
            if not argument.startswith("--"):
                self.document = argument
            elif not given:
                continue
            elif name == "--id":
                self.ids.append(value)
            elif name == "--selected-nodes":
                self.nodes.append(value)
            else:
                self.fields[name[2:]] = value.strip()

    def text(self, field):
        """Return what a field holds, without white space around it."""
        return self.fields.get(field, "")

    def option(self, option, field):
        """Return an option of the command and the text of a field, or nothing where the field is empty."""
        return [option, self.text(field)] if self.text(field) else []

    def options(self, option, field):
        """Return an option of the command once for each text in a field, parted by semicolons."""
        return [word for text in self.text(field).split(";") if text.strip() for word in (option, text.strip())]

    def ticked(self, field):
        """Tell whether a box is ticked."""
        return self.text(field) == "true"

    def shown(self):
        """Return what to draw beside the pieces: what to look at always, the rest as ticked."""
        wanted = ["notes", *(name for name in ("labels", "before") if self.ticked(name))]
        return [word for name in wanted for word in ("--show", name)]

    def nodes_of(self, id):
        """Return the numbers of the nodes that are selected on an outline, in rising order."""
        numbers = []
        for node in self.nodes:
            owner, _subpath, number = [*node.rsplit(":", 2), "", ""][:3]
            if owner == id and number.isdigit():
                numbers.append(int(number))
        return sorted(set(numbers))


def run(command, words, one_piece=False, page=None):
    """Do what a menu entry says: the whole of its script.

    Args:
        command: the engine's command, as ``reduce``.
        words: a function from the dialog and the ids of the selected pieces to the options of the command.
        one_piece: whether the command takes exactly one piece.
        page: a function from the dialog to whether the command writes a page for the browser instead of a drawing.
    """
    try:
        dialog = Dialog(sys.argv[1:])
        if page is not None and page(dialog):
            drawing = shown(command, words, dialog)
        else:
            drawing = changed(command, words, dialog, one_piece)
    except RefusalError as refusal:
        sys.stderr.buffer.write((str(refusal) + "\n").encode("utf-8"))
        sys.exit(1)
    sys.stdout.buffer.write(drawing)


def changed(command, words, dialog, one_piece=False):
    """Return the drawing as the engine's command leaves it.

    Raises:
        RefusalError: the selection is not what the command works on, or the engine cannot be started or says no.
    """
    from crossgrain_selection import Selection

    selection = Selection(dialog.document, dialog.ids)
    pieces = selection.pieces(one_piece)
    with_pieces = [word for id in pieces for word in ("--piece", id)]
    # Beside the editor's own copy, which stands where temporary files do, and under the drawing's own name, which the
    # engine's sentences repeat.
    folder = f"{dialog.document}-{os.getpid()}"
    source, target = os.path.join(folder, selection.name), os.path.join(folder, "changed")
    try:
        os.mkdir(folder, mode=0o700)
        try:
            copy(dialog.document, source)
            ask([command, source, "-o", target, *with_pieces, *words(dialog, pieces)], target)
            with open(target, "rb") as file:
                return file.read()
        finally:
            for left in os.listdir(folder):
                os.remove(os.path.join(folder, left))
            os.rmdir(folder)
    except OSError as error:
        raise RefusalError(
            _("The drawing could not be handed to Crossgrain: {reason}. See that the disk is not full.").format(
                reason=error.strerror or error
            )
        ) from error


def copy(source, target):
    """Copy a file."""
    with open(source, "rb") as file:
        data = file.read()
    with open(target, "wb") as file:
        file.write(data)


def shown(command, words, dialog):
    """Open the page that the engine's command writes, and return the drawing as it is."""
    import pathlib
    import tempfile
    import webbrowser

    from crossgrain_selection import Selection

    selection = Selection(dialog.document, dialog.ids)
    with_pieces = [word for id in selection.pieces() for word in ("--piece", id)]
    with open(dialog.document, "rb") as file:
        drawing = file.read()
    # It stays there for the browser, and the next page replaces it.
    folder = os.path.join(tempfile.gettempdir(), f"crossgrain-page-{getattr(os, 'getuid', int)()}")
    try:
        os.makedirs(folder, mode=0o700, exist_ok=True)
        source, page = os.path.join(folder, selection.name), os.path.join(folder, "page.html")
        copy(dialog.document, source)
        if os.path.exists(page):
            os.remove(page)
        ask([command, source, "--page", page, *with_pieces, *words(dialog, with_pieces)], page)
        os.remove(source)
    except OSError as error:
        raise RefusalError(
            _("The page could not be written: {reason}. See that the disk is not full.").format(
                reason=error.strerror or error
            )
        ) from error
    webbrowser.open(pathlib.Path(page).as_uri())
    return drawing


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
            _("Crossgrain did not answer within {seconds} seconds. Try it on one piece.").format(seconds=PATIENCE_S)
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
    if code == 3 and lines:
        return in_the_editors_words(lines[-1])
    if code == 2 and lines:
        return in_the_editors_words(lines[-1])
    if code == 4 and lines:
        return said.strip()
    if "No module named" in said and "crossgrain" in said:
        return _("Crossgrain's engine is no longer where it was. {install}").format(install=_install())
    return _("Crossgrain's engine stopped without an answer (code {code}). {last} {install}").format(
        code=code, last=lines[-1] if lines else "", install=_install()
    )


def in_the_editors_words(sentence):
    """Return what the command said, where it speaks of its options, as it is said in the editor."""
    for head in ("Error: ", "Erreur : ", "Erreur\u00a0: "):
        if sentence.startswith(head):
            sentence = sentence[len(head) :]
    if "--scale" in sentence:
        start = max(sentence.rfind(". ", 0, sentence.index("--scale")), sentence.rfind(") ", 0, sentence.index("--")))
        advice = _("Set the true size of the page in mm and its scale under File ▸ Document Properties.")
        sentence = sentence[: start + 2] + advice if start >= 0 else advice
    return sentence


def _install():
    return _("In a terminal, run: crossgrain editor install")
