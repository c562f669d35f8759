# SPDX-License-Identifier: GPL-2.0-or-later
"""The fields that entries on cloths and bodies share: two cloths, a body, and what is to stay the same."""

from crossgrain_words import _


def cloth(dialog):
    """Return the file of the cloth to cut from."""
    return dialog.needed("fabric", _("Choose the file of the cloth you cut from."))


def drafted_for(dialog):
    """Return the file of the cloth the pattern was drafted for."""
    return dialog.needed("drafted_for", _("Choose the file of the cloth the pattern was drafted for."))


def body(dialog):
    """Return the option with the file of the body."""
    return ["--body", dialog.needed("body", _("Choose the file of the body that is to wear it."))]


def levels(dialog):
    """Return the option with the file of the body by whose levels places are found, or nothing without one."""
    return dialog.option("--body", "body")


def match(dialog):
    """Return the options that say what is to stay the same."""
    wanted = dialog.option("--match", "match")
    if dialog.text("match") == "pressure":
        wanted += ["--pressure", dialog.needed("pressure", _("Say which pressure you want, as 1.0 kPa."))]
    return wanted
