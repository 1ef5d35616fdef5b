"""Faults on purpose: a program killed, a write torn, a disk full or broken, the power cut, each while the logbook works."""
