"""Tests of the round."""
