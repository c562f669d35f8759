# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Reduce: narrow the selected pieces for cloth that stretches."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    fields = ("by", "along", "anchor")
    return [*(word for field in fields for word in dialog.option(f"--{field}", field)), *dialog.shown()]


if __name__ == "__main__":
    run("reduce", words)
