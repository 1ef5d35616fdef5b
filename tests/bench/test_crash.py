"""Crashes by the hundred: ``pytest tests/bench/test_crash.py -s`` prints how many were tried and survived."""

from tests.store.test_crash import crash


def test_hundreds_of_faults_are_survived() -> None:
    tried, failed, said = crash("--most", "12")
    print(said)
    assert failed == 0
    assert tried > 500
