"""Tests of missed servings."""
