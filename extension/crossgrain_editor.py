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
import sys

from crossgrain_engine import ask
from crossgrain_selection import Selection
from crossgrain_words import RefusalError, _

OURS = b"Content-Security-Policy"
"""Stands near the beginning of every page of ours."""

PAGES = "crossgrain-page-"
"""With this begin the folders of pages that were opened, where temporary files are."""
A_DAY_S = 86400


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

    def needed(self, field, sentence):
        """Return what a field holds; where it is empty, the sentence says what to do about it.

        Raises:
            RefusalError: it is empty.
        """
        if not self.text(field):
            raise RefusalError(sentence)
        return self.text(field)

    def percent(self, field, sentence=""):
        """Return the percentage in a field, also where its sign is left out: while it is typed, or for good.

        Raises:
            RefusalError: the field is empty, and there is a sentence that says what to do about that.
        """
        text = self.needed(field, sentence) if sentence else self.text(field)
        figure = text.rstrip(",.")
        return f"{figure} %" if figure.replace(",", ".").replace(".", "", 1).lstrip("+-").isdigit() else text

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

    def owners(self):
        """Return the ids of the outlines on which nodes are selected, each once."""
        return list(dict.fromkeys(node.rsplit(":", 2)[0] for node in self.nodes))

    def nodes_of(self, id):
        """Return the numbers of the nodes that are selected on an outline, in rising order."""
        numbers = []
        for node in self.nodes:
            owner, _subpath, number = [*node.rsplit(":", 2), "", ""][:3]
            if owner == id and number.isdigit():
                numbers.append(int(number))
        return sorted(set(numbers))


def run(command, words, one_piece=False, page=None, into="-o", whole=None, opens=True, kind="html"):
    """Do what a menu entry says: the whole of its script.

    Args:
        command: the engine's command, as ``reduce``.
        words: a function from the dialog and the ids of the selected pieces to the options of the command.
        one_piece: whether the command takes exactly one piece.
        page: a function from the dialog, the drawing and the page to be written to the words of the command that
            writes it, or to nothing where the drawing is to be changed.
        into: the option that names the drawing to be written.
        opens: whether that page is opened in the browser, rather than only kept.
        kind: what the page is, by the ending of its file: ``html``, or ``pdf``, which replaces no other.
        whole: a function from the dialog that tells whether all pieces of the drawing are meant, selected or not.
    """
    try:
        dialog = Dialog(sys.argv[1:])
        selection = Selection(dialog.document, dialog.ids)
        pieces = [] if whole is not None and whole(dialog) else selection.pieces(one_piece)
        options = [*(word for id in pieces for word in ("--piece", id)), *words(dialog, pieces)]
        if page is not None and page(dialog, "", ""):
            drawing = shown(lambda *files: [*page(dialog, *files), *options], dialog, selection.name, opens, kind)
        else:
            drawing = changed(command, into, options, dialog, selection.name)
    except RefusalError as refusal:
        sys.stderr.buffer.write((str(refusal) + "\n").encode("utf-8"))
        sys.exit(1)
    sys.stdout.buffer.write(drawing)


def changed(command, into, options, dialog, name):
    """Return the drawing as the engine's command leaves it.

    Args:
        command: the command.
        into: the option that names the drawing to be written.
        options: the other options.
        dialog: the dialog.
        name: what the drawing is called.

    Raises:
        RefusalError: the engine cannot be started or says no.
    """
    # Beside the editor's own copy, which stands where temporary files do, and under the drawing's own name, which the
    # engine's sentences repeat.
    folder = f"{dialog.document}-{os.getpid()}"
    source, target = os.path.join(folder, name), os.path.join(folder, "changed")
    try:
        os.mkdir(folder, mode=0o700)
        try:
            copy(dialog.document, source)
            ask([command, source, into, target, *options], target)
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


def shown(words, dialog, name, opens, kind):
    """Open the page that the engine's command writes, keep it where the dialog says, and return the drawing as it is.

    Args:
        words: a function from the drawing and the page to the words of the command.
        dialog: the dialog.
        name: what the drawing is called.
        opens: whether the page is opened, too.
        kind: the ending of its file.
    """
    import pathlib
    import shutil
    import tempfile
    import webbrowser

    with open(dialog.document, "rb") as file:
        drawing = file.read()
    kept, folder, stays = dialog.text("save"), "", False
    try:
        forget_pages(tempfile.gettempdir())
        # Each page has a folder of its own: two dialogs may be open at once, and a browser shows the one before.
        folder = tempfile.mkdtemp(prefix=PAGES)
        source, page = os.path.join(folder, name), os.path.join(folder, "page." + kind)
        copy(dialog.document, source)
        ask(words(source, page), page)
        os.remove(source)
        if kept:
            keep(page, kept, replaces=opens and kind == "html")
        stays = opens
    except OSError as error:
        raise RefusalError(
            _("The page could not be written: {reason}. See that the disk is not full.").format(
                reason=error.strerror or error
            )
        ) from error
    finally:
        if folder and not stays:
            shutil.rmtree(folder, ignore_errors=True)
    if opens and not webbrowser.open(pathlib.Path(page).as_uri()):
        raise RefusalError(_("No browser could be opened. The page is here: {page}").format(page=kept or page))
    return drawing


def forget_pages(place):
    """Remove the pages that were opened more than a day ago."""
    import shutil
    import time

    own = getattr(os, "getuid", int)()
    with os.scandir(place) as found:
        for entry in found:
            if not entry.name.startswith(PAGES):
                continue
            try:
                about = entry.stat(follow_symlinks=False)
                is_ours = entry.is_dir(follow_symlinks=False) and about.st_uid == own
            except OSError:  # another dialog was quicker
                continue
            if is_ours and about.st_mtime < time.time() - A_DAY_S:
                shutil.rmtree(entry.path, ignore_errors=True)


def keep(page, kept, replaces):
    """Copy a page to where the maker wants it; a page of ours that stands there already may be replaced.

    Raises:
        RefusalError: something else stands there, or anything where nothing may be replaced.
    """
    if os.path.exists(kept) and not replaces:
        raise RefusalError(_("{file} is there already. Choose another name.").format(file=kept))
    if os.path.exists(kept):
        with open(kept, "rb") as file:
            if OURS not in file.read(300):
                raise RefusalError(
                    _("{file} is there already, and is no page of Crossgrain's. Choose another name.").format(file=kept)
                )
    copy(page, kept)
