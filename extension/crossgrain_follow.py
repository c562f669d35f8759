# SPDX-License-Identifier: GPL-2.0-or-later
"""Extensions ▸ Crossgrain ▸ Bring Up to Date What Follows: waistbands and other pieces that depend on others."""

from crossgrain_editor import run


def words(dialog, pieces):
    """Return the options of the command for what the dialog holds."""
    return dialog.shown()


if __name__ == "__main__":
    run("follow", words, whole=lambda dialog: dialog.ticked("whole"))
