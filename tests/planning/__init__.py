"""Tests of the planner by the rules of form 2, and of what holds it to an outside truth."""
