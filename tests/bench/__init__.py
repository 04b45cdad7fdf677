"""Measurements: run by hand or by `make bench`, never part of the tests."""
