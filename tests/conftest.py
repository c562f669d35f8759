"""What all tests share: how long an example may take, and that nothing is skipped where it must run."""

from __future__ import annotations

import os

import pytest
from hypothesis import Phase, settings

IN_CI = os.environ.get("CI") == "true"

# Two busy cores make any example slow now and then; how fast the engine is, the benchmarks say.
settings.register_profile("house", deadline=None, print_blob=True)
# There the same examples are tried on every run, and a failing one is shown as it is: to find a plainer one can take
# longer than all the rest.
settings.register_profile(
    "ci",
    parent=settings.get_profile("house"),
    derandomize=True,
    phases=(Phase.explicit, Phase.generate),
    max_examples=50,
)
settings.load_profile("ci" if IN_CI else "house")


def fail_if_skipped(report):
    if IN_CI and report.skipped and not hasattr(report, "wasxfail"):
        reason = report.longrepr[2] if isinstance(report.longrepr, tuple) else report.longrepr
        report.outcome = "failed"
        report.longrepr = f"{report.nodeid} was skipped, and this machine must run every test: {reason}"
    return report


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(item, call):
    return fail_if_skipped((yield))


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(collector):
    return fail_if_skipped((yield))
