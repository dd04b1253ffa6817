"""Benchmarks: `python -m tests.bench` prints how rigdsl compares with what it stands on."""
