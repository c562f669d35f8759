"""Benchmarks are run by hand, never collected."""

collect_ignore_glob = ["*.py"]
