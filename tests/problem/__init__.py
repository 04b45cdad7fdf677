"""Tests of the problem."""
