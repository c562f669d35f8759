# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Cut Pieces: the pieces laid out beside the drawing, or the cut list in the browser."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    out = [] if on_page(dialog) else ["--beside"]
    out += ["--all"] if dialog.ticked("all_copies") else []
    out += ["--open-folds"] if dialog.ticked("open_folds") else []
    for field in ("width_of_cloth", "width_of_stabiliser", "gap", "garment", "size", "cloth", "opening"):
        out += dialog.option("--" + field.replace("_", "-"), field)
    out += dialog.options("--tape", "tape")
    return [*out, "--efficiency", dialog.percent("efficiency")] if dialog.text("efficiency") else out


def on_page(dialog):
    """Tell whether the list is wanted."""
    return dialog.text("into") == "page"


def page(dialog, drawing, target):
    """Return the command that writes the list, if it is wanted; the field “save” says where to keep it."""
    return ["cut", drawing, "--list", target] if on_page(dialog) else []


if __name__ == "__main__":
    run("cut", words, page=page, whole=lambda dialog: dialog.ticked("whole"))
