"""Tests of going away: the leave plan, its cost, its papers, the return."""
